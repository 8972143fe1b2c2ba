/** What is pasted where something else was expected, and the ends of what is moved by keys. */

import { accessible, line, look, open, PHONE } from "./bench.js";
import { expect, test } from "./support.js";

test.use(PHONE);

const BENCH = "./#v1&recipe=shea-butter:60,olive-oil:40&as=pot&store=18~25";
const openPaste = (page: import("@playwright/test").Page) =>
  page.getByRole("button", { name: "Paste a recipe" }).first().click();

// It was read as a recipe of stearic acid and three that nobody knows.
test("a certificate in the box for recipes goes into the form for own lots by one tap", async ({ page }) => {
  await open(page, BENCH);
  await openPaste(page);
  await page
    .locator("#paste-text")
    .fill(
      "Certificate of Analysis\nProduct: Refined Shea Butter\nFFA (as oleic) 0.12 %\nC16:0 4.1\nC18:0 42.3\nC18:1 46.0\nC18:2 6.4",
    );
  await expect(page.locator("#paste")).toContainText(
    "a certificate of shea butter, not as a recipe: 4 fatty",
  );
  await expect(page.locator(".read-line, .read-put")).toHaveCount(0);
  await look(page, "paste-certificate");
  await accessible(page);
  await page.getByRole("button", { name: "Take it as my own lot" }).click();
  await expect(page.getByRole("textbox", { name: "stearic, percent" })).toHaveValue("42.3");
  await expect(page.getByRole("textbox", { name: "oleic, percent", exact: true })).toHaveValue("46");
  await look(page, "own-from-paste");
  await page.getByRole("button", { name: "Put it in the place of Shea butter, 60 %" }).click();
  await expect(line(page, "Shea butter, my lot")).toHaveValue("60");
  // The box for recipes is empty again.
  await openPaste(page);
  await expect(page.locator("#paste-text")).toHaveValue("");
  // What could be either is read as a recipe too.
  await page.locator("#paste-text").fill("stearic acid 50 %\npalmitic acid 50 %");
  await expect(page.getByRole("button", { name: "Take it as my own lot" })).toBeVisible();
  await expect(page.getByRole("button", { name: "Put 2 lines on the bench" })).toBeVisible();
});

// Every line of it was "not understood".
test("a recipe in the box for certificates is said to be one, and read by one tap", async ({ page }) => {
  await open(page, BENCH);
  await page.getByRole("button", { name: "Shea butter", exact: false }).first().click();
  await page.getByRole("button", { name: "My own lot of it" }).click();
  await page.locator("#own-certificate").fill("70 % cocoa butter\n5 % stearic acid\n25 % olive oil");
  await expect(page.locator("#own")).toContainText("This reads as a recipe, not as a certificate");
  await expect(page.getByRole("textbox", { name: "stearic, percent" })).toHaveValue("");
  await look(page, "own-recipe");
  await page.getByRole("button", { name: "Read it as a recipe" }).click();
  await page.getByRole("button", { name: "Put 3 lines on the bench" }).click();
  await expect(line(page, "Cocoa butter")).toHaveValue("70");
});

// It was said to hold no ingredient.
test("a link in the box for recipes is opened as a link, and what was on the bench is kept", async ({
  page,
}) => {
  await open(page, BENCH);
  await openPaste(page);
  await page
    .locator("#paste-text")
    .fill(
      "Look what I made! https://butter.example/a/#v1&name=Hers&recipe=mango-butter:80,jojoba-oil:20&as=pot.",
    );
  await expect(page.locator("#paste")).toContainText("There is a link of this page in it");
  await look(page, "paste-link");
  await page.getByRole("button", { name: "Open the link" }).click();
  await expect(line(page, "Mango butter")).toHaveValue("80");
  await expect(page.locator(".notice")).toContainText("What was on the bench is on the shelf");
  await page.locator(".notice").getByRole("button", { name: "Undo" }).click();
  await expect(line(page, "Shea butter")).toHaveValue("60");
  // What the checks refuse is refused.
  await openPaste(page);
  await page.locator("#paste-text").fill("#v1&recipe=shea-butter:NaN");
  await page.getByRole("button", { name: "Open the link" }).click();
  await expect(page.locator(".notice")).toContainText("not a number");
  await expect(line(page, "Shea butter")).toHaveValue("60");
});

test("a file's text in the box for recipes is opened as a file", async ({ page }) => {
  await open(page, BENCH);
  await openPaste(page);
  const state = { recipe: [{ id: "kokum-butter", percent: 100 }] };
  await page.locator("#paste-text").fill(JSON.stringify({ meltmargin: 1, state }));
  await expect(page.locator("#paste")).toContainText("It belongs to “Open a recipe or a backup”");
  await page.getByRole("button", { name: "Open it as a file" }).click();
  await expect(line(page, "Kokum butter")).toHaveValue("100");
  await openPaste(page);
  await page
    .locator("#paste-text")
    .fill(JSON.stringify({ meltmargin: 2, shelf: [], filler: "x".repeat(30_000) }));
  await page.getByRole("button", { name: "Open it as a file" }).click();
  await expect(page.getByRole("heading", { name: "Read a backup" })).toBeVisible();
});

// The message named no way but the long list.
test("a name that nobody knows can be one of the nearest, left out, or described", async ({ page }) => {
  await open(page, BENCH);
  await openPaste(page);
  await page.locator("#paste-text").fill("50 % shea butter\n40 % zorblax butter of the moon\n10 % beeswaks");
  const row = (at: number) => page.locator(".read-line").nth(at);
  await expect(row(1)).toContainText("describe it as an ingredient of your own, or leave the line out");
  await look(page, "paste-unknown");
  await accessible(page);
  await row(2).getByRole("button", { name: "Beeswax" }).click();
  await expect(page.locator(".read-sum")).toHaveText("2 of 3 lines; 1 needs you");
  await row(1)
    .getByRole("button", { name: /^Describe it myself/ })
    .click();
  await expect(page.getByRole("textbox", { name: "Its name" })).toHaveValue("zorblax butter of the moon");
  await expect(page.locator("#own")).toContainText("It takes the place of the pasted line");
  await look(page, "own-for-line");
  await page.getByRole("button", { name: "Put it in the recipe" }).click();
  await expect(page.locator(".read-sum")).toHaveText("3 of 3 lines");
  await look(page, "paste-described");
  await page.getByRole("button", { name: "Put 3 lines on the bench" }).click();
  await expect(line(page, "zorblax butter of the moon")).toHaveValue("40");
  await expect(line(page, "Beeswax")).toHaveValue("10");
});

test("Home and End go to the ends of what the arrow keys move", async ({ page }) => {
  await open(page, BENCH);
  const thumb = (name: RegExp) =>
    page
      .locator(".thumb")
      .filter({ has: page.locator("circle") })
      .and(page.getByRole("slider", { name }));
  const hottest = thumb(/hottest/i);
  await hottest.focus();
  // As far as the picture goes then: with the storage it grows.
  const most = (await hottest.getAttribute("aria-valuemax")) ?? "";
  await page.keyboard.press("End");
  await expect(hottest).toHaveAttribute("aria-valuenow", most);
  // The hottest is never below the coldest.
  await page.keyboard.press("Home");
  await expect(hottest).toHaveAttribute("aria-valuenow", "18");
  const coldest = thumb(/coldest/i);
  await coldest.focus();
  const least = (await coldest.getAttribute("aria-valuemin")) ?? "";
  await page.keyboard.press("Home");
  await expect(coldest).toHaveAttribute("aria-valuenow", least);
  const curve = page.locator(".plot-touch");
  await curve.focus();
  for (const [key, end] of [
    ["End", "aria-valuemax"],
    ["Home", "aria-valuemin"],
  ] as const) {
    const there = (await curve.getAttribute(end)) ?? "";
    await page.keyboard.press(key);
    await expect(curve).toHaveAttribute("aria-valuenow", there);
  }
});
