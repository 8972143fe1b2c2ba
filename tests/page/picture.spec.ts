/**
 * The picture that the README shows: the page at its heart, after a rework. Not a test: `MINT=1 npx playwright test picture`
 * takes it anew, into `picture.png` beside this file.
 */

import { DESKTOP, find, open } from "./bench.js";
import { expect, fileOf, test } from "./support.js";

test.skip(!process.env.MINT, "taken only when asked to");
test.use({ ...DESKTOP, colorScheme: "light" });

/** A forge shows it to everyone who comes by, bytes. */
const MOST = 150_000;

test("the picture of the README", async ({ page }) => {
  await open(page);
  await find(page).click();
  await page.locator(".proposal").first().getByRole("button", { name: "Use this" }).click();
  await expect(page.locator(".verdict")).toHaveClass(/good|doubtful/);
  await page.locator(".notice").getByRole("button", { name: "Close" }).click();
  await page.evaluate(() => {
    scrollTo(0, 0);
    // What is to be opened says nothing in a picture.
    for (const fold of document.querySelectorAll<HTMLElement>("#bench details")) fold.style.display = "none";
  });
  const png = await page
    .locator("#bench")
    .screenshot({ path: fileOf("picture.png"), animations: "disabled" });
  expect(png.length).toBeLessThan(MOST);
});
