/** The first visit: what stands on the screen before the engine is there. */

import { verdict } from "./bench.js";
import { expect, test } from "./support.js";

test("the worked example's verdict is there before the engine, and its own", async ({ page }) => {
  let arrive = () => {};
  const arrived = new Promise<void>((resolve) => {
    arrive = resolve;
  });
  await page.route("**/*.wasm", async (route) => {
    await arrived;
    await route.continue();
  });
  await page.goto("./");
  await expect(verdict(page)).toContainText("°C");
  const before = await verdict(page).textContent();
  await expect(page.locator(".picture-frame .curve")).toHaveCount(1);

  arrive();
  // A key is answered by the engine; back again, so is the worked example.
  const shea = page.locator("#percent-0");
  await shea.fill("60");
  await expect(verdict(page)).not.toHaveText(before ?? "");
  await shea.fill("50");
  await expect(verdict(page)).toHaveText(before ?? "");
});
