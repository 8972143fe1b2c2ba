/** A class: from the page to the moving picture in two taps, readable from the last row, on screen and on paper. */

import { accessible, collisions, DESKTOP, go, look, open, PHONE } from "./bench.js";
import { expect, test } from "./support.js";

const FOUR =
  "./#v1&recipe=shea-butter:70,olive-oil:30&as=pot&store=18~30&picture=cocoa-butter,stearic-acid,beeswax,cetyl-alcohol&dose=8";

test.describe("on a phone", () => {
  test.use(PHONE);

  test("two taps lead to the picture on the whole screen", async ({ page }) => {
    await open(page);
    const before = page.url();
    await go(page, "Teach");
    await expect(page.locator("#hardeners svg.doses")).toBeInViewport({ ratio: 0.9 });
    await page.getByRole("button", { name: "Fill the screen" }).click();
    await expect(page.locator("#stage svg.doses")).toBeInViewport({ ratio: 0.95 });
    await page.keyboard.press("Escape");
    await expect(page.locator("#stage")).toBeHidden();
    // Who only looked has changed nothing.
    expect(page.url()).toBe(before);
  });

  test("a link opens at the picture, with its lines named", async ({ page }) => {
    await open(page, FOUR);
    const picture = page.locator("#hardeners svg.doses");
    await expect(picture).toBeInViewport({ ratio: 0.9 });
    for (const name of ["Cocoa butter", "Stearic acid", "Beeswax", "Cetyl"])
      await expect(picture).toContainText(name);
    expect(await collisions(page, "#hardeners svg.doses")).toEqual([]);
    await look(page, "class-phone");
  });
});

for (const [width, height] of [
  [1280, 800],
  [1920, 1080],
] as const) {
  test.describe(`a projector of ${width}x${height}`, () => {
    test.use({ viewport: { width, height } });

    test("the picture fills it, is read from the last row, and is moved by finger and keys", async ({
      page,
    }) => {
      await open(page, FOUR);
      await page.getByRole("button", { name: "Fill the screen" }).click();
      const picture = page.locator("#stage svg.doses");
      const frame = await picture.boundingBox();
      expect(frame?.width).toBeGreaterThanOrEqual(width - 1);
      expect(frame?.height).toBeGreaterThanOrEqual(height - 1);
      // Nothing else is on it but the way out.
      expect(await page.locator("#stage :is(p, h1, h2, table, input, select)").count()).toBe(0);
      await expect(page.locator("#stage button")).toHaveCount(1);
      const smallest = await picture.evaluate((svg) =>
        Math.min(
          ...[...svg.querySelectorAll("text")].map((text) =>
            Number.parseFloat(getComputedStyle(text).fontSize),
          ),
        ),
      );
      expect(smallest / height).toBeGreaterThan(1 / 30);
      expect(await collisions(page, "#stage svg.doses")).toEqual([]);
      // What a class asks is said where it happens.
      await expect(picture).toContainText(/flat:\s*it\s*melts\s*here/);
      await expect(picture).toContainText(/up to \d+\s%\s*it\s*dissolves/);
      // A code to follow on a phone.
      await expect(picture.locator(".dose-code path")).toHaveCount(1);
      await look(page, `class-${width}`);

      const dose = page.getByRole("slider", { name: "Dose of the hardener" }).last();
      await expect(dose).toBeFocused();
      await expect(dose).toHaveAttribute("aria-valuenow", "8");
      await page.keyboard.press("ArrowRight");
      await expect(dose).toHaveAttribute("aria-valuenow", "9");
      await page.keyboard.press("ArrowLeft");
      await page.keyboard.press("ArrowLeft");
      await expect(dose).toHaveAttribute("aria-valuenow", "7");
      const box = await dose.boundingBox();
      if (!box) throw new Error("nothing to drag on");
      await page.mouse.move(box.x + 0.3 * box.width, box.y + box.height / 2);
      await page.mouse.down();
      await page.mouse.move(box.x + 0.8 * box.width, box.y + box.height / 2, { steps: 6 });
      const moved = Number(await dose.getAttribute("aria-valuenow"));
      expect(moved).toBeGreaterThan(12);
      await expect(picture.locator(".dose-knob")).toContainText(`${moved}\u00a0%`);
      await page.mouse.up();
      await accessible(page);
      await page.getByRole("button", { name: "Close" }).last().click();
      await expect(page.locator("#stage")).toBeHidden();
    });
  });
}

test.describe("on a desktop", () => {
  test.use(DESKTOP);

  test("a link opens at the picture", async ({ page }) => {
    await open(page, FOUR);
    await expect(page.locator("#hardeners svg.doses")).toBeInViewport({ ratio: 0.9 });
  });

  test("softens comes first among the figures, in the picture and in the table", async ({ page }) => {
    await open(page, FOUR);
    const card = page.locator("#hardeners");
    await expect(card.getByRole("radio", { name: "Softens" })).toBeChecked();
    await expect(card.locator("thead th").nth(1)).toHaveText(/Softens/);
    await expect(card.locator("svg.doses .hold-line")).toHaveCount(1);
    expect(await collisions(page, "#hardeners svg.doses")).toEqual([]);
    for (const figure of ["Clear", "Slip", "Firm", "Hot", "Skin"]) {
      await card.locator(".chip").filter({ hasText: figure }).click();
      expect(await collisions(page, "#hardeners svg.doses"), figure).toEqual([]);
    }
  });
});
