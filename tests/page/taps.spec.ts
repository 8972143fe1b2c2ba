/**
 * How many taps what people come for takes on a phone. A tap is any touch, or Enter; typing and pasting are free, and so is scrolling,
 * but between "Use this" and the new verdict.
 */

import type { Page } from "@playwright/test";
import { box, open, PHONE, percents, verdict } from "./bench.js";
import { expect, test } from "./support.js";

test.use(PHONE);

/** Counts from the first moment on, and notes every scroll. */
test.beforeEach(async ({ page }) => {
  await page.addInitScript(() => {
    const counted = { taps: 0, scrolls: 0 };
    Object.assign(window, { counted });
    const tap = (event: Event) => {
      if (event.isTrusted) counted.taps++;
    };
    addEventListener("pointerdown", tap, true);
    addEventListener("keydown", (event) => event.key === "Enter" && tap(event), true);
    addEventListener("wheel", () => counted.scrolls++, true);
    addEventListener("touchmove", () => counted.scrolls++, true);
  });
});

const taps = (page: Page) =>
  page.evaluate(() => (window as unknown as { counted: { taps: number } }).counted.taps);
const button = (page: Page, name: string | RegExp) =>
  page.getByRole("button", { name, exact: true }).filter({ visible: true }).first();

test("my recipe is pasted, made to hold at 31 °C, used and shared in six taps", async ({ page, context }) => {
  await context.grantPermissions(["clipboard-read", "clipboard-write"]);
  await open(page);
  await button(page, "My recipe").tap();
  await page.locator("#paste-text").fill("60 % shea butter\n30 % sunflower oil\n10 % coconut oil");
  await button(page, "Put 3 lines on the bench").tap();
  await expect.poll(() => percents(page)).toEqual(["60", "30", "10"]);
  await box(page, "Hottest").tap();
  await box(page, "Hottest").fill("31");
  await button(page, "Find a rework").tap();
  await expect(page.locator(".proposal").first()).toBeVisible();
  await button(page, "Use this").tap();
  // What came of it is before the eyes.
  await expect(page.locator(".verdict")).toBeInViewport({ ratio: 1 });
  await expect(verdict(page)).toContainText(/to 3[12](\.5)?\s°C/);
  await expect(page.locator(".verdict")).not.toHaveClass(/bad/);
  await button(page, "Share").tap();
  await expect(page.locator(".notice")).toContainText(/link is copied/);
  const held = await page.evaluate(() => navigator.clipboard.readText());
  await expect(page).toHaveURL(held);
  const count = await taps(page);
  console.log(`pasted, held, used, shared: ${count} taps`);
  expect(count).toBeLessThanOrEqual(6);
});

test("the same by dragging takes no more", async ({ page }) => {
  await open(page);
  await button(page, "My recipe").tap();
  await page.locator("#paste-text").fill("60 % shea butter\n30 % sunflower oil\n10 % coconut oil");
  await button(page, "Put 3 lines on the bench").tap();
  await expect.poll(() => percents(page)).toEqual(["60", "30", "10"]);
  const handle = page.getByRole("slider", { name: "Hottest storage" });
  await handle.scrollIntoViewIfNeeded();
  const place = await handle.locator(".thumb-face").boundingBox();
  if (!place) throw new Error("no handle");
  const [x, y] = [place.x + place.width / 2, place.y + place.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 6, y, { steps: 3 });
  await page.mouse.up();
  await expect(handle).toHaveAttribute("aria-valuenow", "31");
  const held = page.getByRole("group", { name: "What would hold" });
  await held.getByRole("button", { name: "Use this" }).tap();
  await expect(page.locator(".verdict")).toBeInViewport({ ratio: 1 });
  await expect(page.locator(".verdict")).not.toHaveClass(/bad/);
  await button(page, "Share").tap();
  const count = await taps(page);
  console.log(`pasted, dragged, used, shared: ${count} taps`);
  expect(count).toBeLessThanOrEqual(5);
});

test("a batch that melted is rescued in six taps, of the maker's own recipe", async ({ page }) => {
  await open(page);
  await button(page, "My batch melted").tap();
  // Whose recipe it is about is asked first.
  await page.locator("#paste-text").fill("60 % shea butter\n30 % sunflower oil\n10 % coconut oil");
  await button(page, "Put 3 lines on the bench").tap();
  await expect(page.locator("#trouble .asks")).toContainText("Shea butter 60");
  await expect(page.getByRole("heading", { name: "Turns to oil" })).toBeVisible();
  await box(page, "How much there is").tap();
  await box(page, "How much there is").fill("800");
  await button(page, /^Rescue the batch for/).tap();
  const first = page.locator(".proposal").first();
  await expect(first).toContainText("Melt first");
  await expect(first).toContainText("Then add the batch, 800\u00a0g");
  const shown = await taps(page);
  console.log(`melted, rescue shown: ${shown} taps`);
  expect(shown).toBeLessThanOrEqual(5);
  await button(page, "Use this").tap();
  await expect(page.locator(".verdict")).toBeInViewport({ ratio: 1 });
  await expect(page.locator(".verdict")).not.toHaveClass(/bad/);
  expect(await percents(page)).toHaveLength(4);
  const count = await taps(page);
  console.log(`melted, rescued: ${count} taps`);
  expect(count).toBeLessThanOrEqual(6);
});

test("a class has the moving picture on the whole screen in two taps", async ({ page }) => {
  await open(page);
  await button(page, "Show a class").tap();
  await button(page, "Fill the screen").tap();
  await expect(page.locator("#stage svg.doses")).toBeInViewport({ ratio: 0.95 });
  const count = await taps(page);
  console.log(`a class: ${count} taps`);
  expect(count).toBe(2);
});
