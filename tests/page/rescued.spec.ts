/** What is weighed once a rescue is used: the batch that is there and what is melted into it, until the recipe is another. */

import type { Locator, Page } from "@playwright/test";
import { accessible, address, asking, box, choose, DEVICES, go, line, look, open } from "./bench.js";
import { expect, test } from "./support.js";

/** Of a kitchen with a batch of 500 g that melted. */
const MELTED = "#v1&recipe=shea-butter:60,sunflower-oil:40&as=pot&store=18~31&feel=scoopable&made=500~0";

const weighed = (page: Page) => page.locator("section", { has: page.locator("#weigh-title") });
/** The texts of what stands side by side, a row each. */
const told = (of: Locator) =>
  of.evaluateAll((all) =>
    all.map((row) =>
      [...row.children].map((one) => (one.textContent ?? "").replace(/\s+/g, " ").trim()).join(" "),
    ),
  );
const rows = (page: Page) => told(weighed(page).locator("table.weights tbody tr"));
/** A weight as it is told, g. */
const grams = (text: string | undefined) => Number(text?.match(/([\d.]+)\sg/)?.[1] ?? Number.NaN);

/** Asks for the rescue and uses the first; gives what is melted in. */
async function use(page: Page): Promise<string[]> {
  await go(page, "Rework");
  await asking(page, "Find a rescue").click();
  const first = page.locator("#reworks .proposal").first();
  await expect(first).toContainText("Melt first");
  const added = await told(first.locator(".melt-in .change"));
  await first.getByRole("button", { name: "Use this" }).click();
  return added;
}

for (const [name, device] of DEVICES) {
  test.describe(`on a ${name}`, () => {
    test.use(device);

    test("the rescue is weighed: the batch, what is melted in, and the whole", async ({ page }) => {
      await open(page, MELTED);
      const added = await use(page);
      await go(page, "Make");
      expect(await rows(page)).toEqual([...added, "Your batch 500 g"]);
      const whole = added.reduce((sum, row) => sum + grams(row), 500);
      await expect(weighed(page).locator("tfoot")).toContainText(`${whole} g`);
      await expect(weighed(page).getByRole("radio", { name: "By jars" })).toHaveCount(0);
      // How it is made begins with what is new, and the batch comes into that.
      const steps = page.locator("section", { has: page.locator("#making-title") }).locator(".steps > li");
      await expect(steps.nth(0)).toContainText("Melt first");
      await expect(steps.nth(1)).toContainText("Then add the batch, 500 g");
      await expect(steps.nth(2)).toContainText("Warm all of it to");
      await accessible(page);
      await look(page, `${name}-rescued`, { fullPage: true });
    });
  });
}

test("what was stirred into the batch is not stirred in again, on the page and on paper", async ({
  page,
}) => {
  await page.addInitScript(() => {
    window.print = () => {};
  });
  await open(
    page,
    "#v1&recipe=shea-butter:60,sunflower-oil:34,tapioca-starch:5,vitamin-e:1&as=pot&store=18~31&feel=scoopable&made=500~0",
  );
  await go(page, "Make");
  const steps = page.locator("section", { has: page.locator("#making-title") }).locator(".steps");
  await expect(steps).toContainText("stir in: Tapioca starch, Vitamin E");
  await use(page);
  await go(page, "Make");
  await expect(steps).not.toContainText("stir in:");
  await expect(steps).toContainText("In the batch already, so add no more of it: Tapioca starch, Vitamin E");
  await page.getByRole("button", { name: "Print the bench sheet" }).click();
  await expect(page.locator(".bench-sheet")).toContainText("In the batch already");
  await expect(page.locator(".bench-sheet")).not.toContainText("stir in:");
});

test("it survives a reload, travels in the link, and ends with another recipe", async ({ page, browser }) => {
  await open(page, MELTED);
  const weights = [...(await use(page)), "Your batch 500 g"];
  const link = await address(page, /_batch~500_added~/);
  await page.reload();
  await expect(page).toHaveURL(link);
  await go(page, "Make");
  await expect.poll(() => rows(page)).toEqual(weights);
  const elsewhere = await browser.newContext();
  const other = await elsewhere.newPage();
  await open(other, link);
  await go(other, "Make");
  await expect.poll(() => rows(other)).toEqual(weights);
  await elsewhere.close();

  // Another climate weighs the same; another recipe does not.
  await go(page, "Bench");
  await box(page, "Hottest").fill("30");
  await go(page, "Make");
  expect(await rows(page)).toEqual(weights);
  await go(page, "Bench");
  await line(page, "Shea butter").fill("50");
  await go(page, "Make");
  await expect(weighed(page)).toContainText("The recipe adds up to");
  await expect(weighed(page)).not.toContainText("Your batch");
  await weighed(page).getByRole("button").first().click();
  await expect(weighed(page).getByRole("radio", { name: "By jars" })).toHaveCount(1);
  await expect(weighed(page)).not.toContainText("Your batch");
  const undo = page.getByRole("navigation", { name: "Actions" }).getByRole("button", { name: "Undo" });
  await undo.click();
  await undo.click();
  await expect.poll(() => rows(page)).toEqual(weights);
});

test("a new batch can be weighed instead, and that can be taken back", async ({ page }) => {
  await open(page, MELTED);
  const weights = [...(await use(page)), "Your batch 500 g"];
  await go(page, "Make");
  await weighed(page).getByRole("button", { name: "Weigh a new batch instead" }).click();
  await expect(box(page, "Batch")).toHaveValue("500");
  await expect(weighed(page).locator("tfoot")).toContainText("100");
  await page.getByRole("navigation", { name: "Actions" }).getByRole("button", { name: "Undo" }).click();
  await expect(page.locator(".notice")).toContainText("what is weighed");
  await expect.poll(() => rows(page)).toEqual(weights);
  // What is to be rescued next is all of it.
  const whole = weights.reduce((sum, row) => sum + grams(row), 0);
  await go(page, "Rework");
  await choose(page, "Rescue a batch");
  await expect(box(page, "What was made")).toHaveValue(String(whole));
});

test("on paper the additions melt first, then the batch", async ({ page }) => {
  await page.addInitScript(() => {
    window.print = () => {};
  });
  await open(page, MELTED);
  const added = await use(page);
  await go(page, "Make");
  await page.getByRole("button", { name: "Print the bench sheet" }).click();
  const sheet = page.locator(".bench-sheet");
  await expect(sheet.locator(".code path")).toHaveCount(1);
  const first = await sheet
    .locator("table")
    .first()
    .locator("tbody th")
    .evaluateAll((all) => all.map((one) => one.textContent));
  expect(first).toHaveLength(added.length + 1);
  expect(first.at(-1)).toBe("the batch that is there");
  await expect(sheet.locator("ol > li").nth(0)).toContainText("Melt first");
  await expect(sheet.locator("ol > li").nth(1)).toContainText("Then add the batch, 500 g");
  // What is in the batch already is not weighed and melted once more.
  await expect(sheet).not.toContainText("in this order:");
  await page.emulateMedia({ media: "print" });
  await page.setViewportSize({ width: 794, height: 1123 });
  await look(page, "rescue-sheet");
});
