/** What went wrong: about which recipe, in whose words, and what is asked for then. */

import { accessible, box, go, look, open, PHONE, percents } from "./bench.js";
import { expect, test } from "./support.js";

test.use(PHONE);

const WORDS = "Or in your own words";
/** With wax a whipped butter loses its shape long before all of it is oil. */
const WAXY =
  "#v1&recipe=shea-butter:60,sunflower-oil:30,beeswax:10&as=whipped&store=18~29&feel=scoopable,melts";

test("what a maker says of skin and smell is understood, and nothing is told in codes", async ({ page }) => {
  await open(page, WAXY);
  await go(page, "Trouble");
  const card = page.locator("#trouble");
  for (const [words, sign] of [
    ["it drags on skin", "Waxy, drags on skin"],
    ["too draggy", "Waxy, drags on skin"],
    ["so greasy", "Greasy on skin"],
    ["smells off", "Smells off, or mouldy"],
  ] as const) {
    await card.getByLabel(WORDS).fill(words);
    await expect(card.locator("h3"), words).toHaveText(sign);
  }
  // A smell is mended by no recipe.
  await expect(card).toContainText("throw it away");
  await expect(card.getByRole("button", { name: /^Rescue the batch/ })).toHaveCount(0);
  await card.getByLabel(WORDS).fill("waxy");
  await expect(card).toContainText("Less wax");
  await card.getByLabel(WORDS).fill("it sings");
  await expect(card.locator(".problem")).toContainText("Say it in other words");
  await expect(card.locator(".problem")).not.toContainText(/[a-z]-[a-z]+-|`/);
  await accessible(page);
});

test("trouble does not contradict the verdict, and asks for no more than a butter can bear", async ({
  page,
}) => {
  await open(page, WAXY);
  const holds = (await page.locator(".verdict-text").textContent())?.match(/to ([\d.]+\s°C)/)?.[1] ?? "?";
  await go(page, "Trouble");
  const card = page.locator("#trouble");
  await card.getByLabel("The last batch").selectOption("turns-to-oil");
  await expect(card).toContainText(`it keeps its whip only to ${holds}`);
  await expect(card).toContainText("No butter that melts on skin holds in such heat");
  await expect(box(page, "To hold up to")).toHaveValue("31");
  await look(page, "trouble-waxy", { fullPage: true });
  // Who knows how hot it got says so.
  await box(page, "To hold up to").fill("30.5");
  await card.getByRole("button", { name: "Rescue the batch for 18 to 30.5\u00a0°C" }).click();
  await expect(box(page, "What was made")).toHaveValue("500");
  await go(page, "Bench");
  await expect(box(page, "Hottest")).toHaveValue("30.5");
});

test("words that hold a recipe, or a way, lead to either", async ({ page }) => {
  await open(page);
  await go(page, "Trouble");
  const card = page.locator("#trouble");
  await card
    .getByLabel(WORDS)
    .fill("60 % shea butter\n30 % sunflower oil\n10 % coconut oil\nall of it melted in a hot van");
  await expect(card.locator("h3")).toHaveText("Turns to oil");
  await expect(card).toContainText("This is about a worked example, not your butter.");
  await card.getByRole("button", { name: "Take them as the recipe" }).click();
  await page.getByRole("button", { name: "Put 3 lines on the bench" }).click();
  await expect.poll(() => percents(page)).toEqual(["60", "30", "10"]);
  await expect(card).toContainText("About Shea butter 60 %, Sunflower oil 30 %, Coconut oil 10 %.");
  await card.getByRole("button", { name: "See how it fares in a van" }).click();
  await expect(page.getByLabel("Where", { exact: true })).toHaveValue("delivery-van");
});
