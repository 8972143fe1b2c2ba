/** From a recipe to its better one before the eyes: what answered is in sight, and what changed is said. */

import type { Page } from "@playwright/test";
import { DEVICES, find, go, look, open, percents, verdict } from "./bench.js";
import { expect, test } from "./support.js";

/** A pot that is a little soft for its days, with several ways out. */
const SOFT = "#v1&recipe=shea-butter:60,sunflower-oil:40&as=pot&store=18~30&feel=scoopable";
const NOTICE = ".notice";
const card = (page: Page, at: number) => page.locator("#reworks .proposal").nth(at);
const use = (page: Page, at: number) => card(page, at).getByRole("button", { name: "Use this" });

/** Whether two things on the page lie on each other. */
async function overlap(page: Page, one: string, other: string): Promise<boolean> {
  const [a, b] = await Promise.all([one, other].map((which) => page.locator(which).boundingBox()));
  if (!a || !b) throw new Error(`${one} or ${other} has no place`);
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

for (const [name, device] of DEVICES) {
  test.describe(`on a ${name}`, () => {
    test.use(device);

    test("Use this leads to the new verdict, with what changed, and the other answers stay", async ({
      page,
    }) => {
      await open(page, SOFT);
      const was = (await verdict(page).textContent()) ?? "";
      await find(page).click();
      await expect(card(page, 1)).toBeVisible();
      // What is only looked at is said as such.
      const headline = name === "phone" ? page.locator(".brief-text") : verdict(page);
      await expect(headline).toContainText(/^With this: (It |Once settled it )?holds (its shape )?to 3/i);
      const promised = (await verdict(page).textContent())?.replace("With this: ", "") ?? "";
      const before = await percents(page);
      await use(page, 0).click();
      await expect(verdict(page)).toHaveText(promised);
      // Both are in sight with no scroll by the maker, and what is said in passing covers neither.
      await expect(page.locator(".verdict")).toBeInViewport({ ratio: 1 });
      await expect(page.locator(NOTICE)).toContainText(/^Now on the bench: .*→ \d/);
      await look(page, `${name}-used`);
      expect(await overlap(page, NOTICE, ".verdict-text")).toBe(false);
      expect(await overlap(page, NOTICE, ".turns")).toBe(false);
      await expect(page.locator("#bench")).toBeFocused();
      // The old turns into the new.
      await expect(page.locator(".verdict-was")).toContainText(was.slice(0, 25));
      await expect(page.locator(".turns")).toContainText(`${before[0]} →`);

      // Another takes its place, and undo goes back step by step.
      const after = await percents(page);
      await page.getByRole("button", { name: "Other answers" }).click();
      await expect(card(page, 0)).toContainText("On the bench");
      await use(page, 1).click();
      await expect(page.locator(".verdict")).toBeInViewport({ ratio: 1 });
      await expect.poll(() => percents(page)).not.toEqual(after);
      const undo = page.getByRole("navigation").getByRole("button", { name: "Undo" });
      await undo.click();
      expect(await percents(page)).toEqual(after);
      await undo.click();
      expect(await percents(page)).toEqual(before);
      // And what was found is still there.
      await go(page, "Rework");
      await expect(use(page, 0)).toBeEnabled();
    });
  });
}

test("with less motion the new is there at once, and the old is not drawn", async ({ page }) => {
  await page.emulateMedia({ reducedMotion: "reduce" });
  await open(page);
  await find(page).click();
  await use(page, 0).click();
  await expect(page.locator(".verdict.turned")).toBeVisible();
  await expect(page.locator(".verdict-was")).toBeHidden();
  const animations = await page.evaluate(() => document.getAnimations().length);
  expect(animations).toBe(0);
});
