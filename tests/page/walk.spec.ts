/** What a maker stumbled over on a walk through the page, each once. */

import { box, choose, go, line, look, open, PHONE, percents, verdict } from "./bench.js";
import { expect, test } from "./support.js";

const notice = ".notice";
const bar = "navigation";

test("what is too much is taken from one line, what is missing is given to one, and a small line stays", async ({
  page,
}) => {
  await open(
    page,
    "./#v1&recipe=shea-butter:50,sweet-almond-oil:29.8,coconut-oil:20,beeswax:0.2&as=pot&store=18~30",
  );
  await line(page, "Coconut oil").fill("24.5");
  // The oil first; under the verdict with one tap.
  await page
    .getByRole("region", { name: "Verdict" })
    .getByRole("button", { name: "Take it from Sweet almond oil" })
    .click();
  expect(await percents(page)).toEqual(["50", "25.3", "24.5", "0.2"]);
  await line(page, "Shea butter").fill("45");
  await page.getByLabel("Give it to").selectOption({ label: "Coconut oil, then 29.5 %" });
  await page.getByRole("button", { name: "Make it 100 %" }).click();
  expect(await percents(page)).toEqual(["45", "25.3", "29.5", "0.2"]);
  await line(page, "Shea butter").fill("55");
  await page.getByLabel("Take it from").selectOption({ label: "All, in proportion" });
  await page.getByRole("button", { name: "Make it 100 %" }).click();
  await expect(page.locator(".total-figure")).toHaveText("100 %");
  await expect(line(page, "Beeswax")).toHaveValue("0.18");
});

test("undo and redo say what they took back, by key too, and a notice undoes only what it tells of", async ({
  page,
}) => {
  await open(page);
  await line(page, "Shea butter").fill("52");
  await line(page, "Sweet almond oil").fill("28");
  await page.locator(notice).waitFor({ state: "detached" });
  await page.keyboard.press("Control+z");
  await expect(page.locator(notice)).toContainText("Taken back: Sweet almond oil 30 → 28 %.");
  await page.keyboard.press("Control+z");
  await expect(page.locator(notice)).toContainText("Taken back: Shea butter 50 → 52 %.");
  await expect(line(page, "Shea butter")).toHaveValue("50");
  await page.keyboard.press("Control+Shift+z");
  await expect(page.locator(notice)).toContainText("Done again: Shea butter 50 → 52 %.");
  await page.keyboard.press("Control+y");
  await expect(line(page, "Sweet almond oil")).toHaveValue("28");
  // In a text the keys are the text's.
  await page.getByLabel("Name of the recipe").fill("Week");
  await page.keyboard.press("Control+z");
  await expect(line(page, "Sweet almond oil")).toHaveValue("28");

  await page.getByRole("button", { name: "Coconut oil", exact: false }).first().click();
  await page.getByRole("button", { name: "Remove Coconut oil" }).click();
  await expect(page.locator(notice)).toContainText("Coconut oil is off the recipe");
  await expect(page.locator(notice).getByRole("button", { name: "Undo" })).toBeVisible();
  await box(page, "Hottest").fill("27");
  await expect(page.locator(notice)).toHaveCount(0);
  await page.getByRole(bar).getByRole("button", { name: "Undo" }).click();
  await expect(page.locator(notice)).toContainText("Taken back: hottest 30 → 27 °C.");
  await page.getByRole(bar).getByRole("button", { name: "Undo" }).click();
  await expect(line(page, "Coconut oil")).toHaveValue("20");
});

test("a line left out of a pasted recipe brings the others to 100 %, and a reload keeps the text", async ({
  page,
}) => {
  await open(page);
  await page.getByRole("button", { name: "Paste a recipe" }).click();
  const text = "60 % shea butter\n30 % sunflower oil\n10 % beeswax";
  await page.locator("#paste-text").fill(text);
  await expect(page.locator(".read-line")).toHaveCount(3);
  await page.reload();
  await expect(verdict(page)).toContainText("°C");
  await page.getByRole("button", { name: "Paste a recipe" }).click();
  await expect(page.locator("#paste-text")).toHaveValue(text);
  await page.getByRole("button", { name: "Change beeswax" }).click();
  await page.getByRole("button", { name: "Leave out beeswax" }).click();
  await expect(page.locator(".read-percent").first()).toHaveText("66.67 %");
  await expect(page.locator("#paste")).toContainText("brought to 100 % in proportion");
  await page.getByRole("button", { name: "Put 2 lines on the bench" }).click();
  expect(await percents(page)).toEqual(["66.67", "33.33"]);
  await page.getByRole("button", { name: "Paste a recipe" }).click();
  await expect(page.locator("#paste-text")).toHaveValue("");
  await page.locator("#paste-text").fill("60 % shea butter");
  await page.getByRole("button", { name: "Change shea butter" }).click();
  await page.getByRole("button", { name: "Leave out shea butter" }).click();
  await expect(page.getByRole("button", { name: "Nothing for the bench yet" })).toBeDisabled();
});

test("so many jars are so many, with what stays in the bowl", async ({ page }) => {
  await open(page);
  const card = page.locator("section", { has: page.getByRole("heading", { name: "Weigh it" }) });
  await choose(page, "By jars");
  await expect(card).toContainText("Fills 20 jars of 120 mL");
  const total = async () => Number((await card.locator("tfoot td").last().textContent())?.replace(/\s/g, ""));
  const without = await total();
  await box(page, "Stays in the bowl").fill("3");
  await expect(card).toContainText("stays in the bowl.");
  await expect(card).toContainText("Fills 20 jars of 120 mL");
  // To the step of the scale, which is rounded up.
  await expect.poll(async () => Math.abs((await total()) - without / 0.97)).toBeLessThan(0.2);
  // In ounces they are as many.
  await choose(page, "ounces");
  await expect(card).toContainText("Fills 20 jars of 4.1 fl oz");
  await choose(page, "grams");
  // What else asks how much there is means these.
  await choose(page, "Rescue a batch");
  await expect
    .poll(async () => Math.abs(Number(await box(page, "What was made").inputValue()) - (await total())))
    .toBeLessThan(0.01);
  await page.reload();
  await expect(card).toContainText("Fills 20 jars of 120 mL");
});

test("a rescue from a sign says what it asks for, and one undo takes all of it back", async ({ page }) => {
  await open(page);
  await page.getByLabel("Or in your own words").fill("it melted in the delivery van");
  await page.getByRole("button", { name: /^Rescue the batch for/ }).click();
  const hottest = await box(page, "Hottest").inputValue();
  expect(Number(hottest)).toBeGreaterThan(30);
  await expect(page.locator(notice)).toContainText(
    `Your hottest days are now ${hottest}\u00a0°C, before 30\u00a0°C`,
  );
  const first = page.locator("#reworks .proposal").first();
  await expect(first).toBeVisible();
  await first.getByRole("button", { name: "Use this" }).click();
  await expect(page.getByRole("radio", { name: "Next batch" })).toBeChecked();
  await expect(page.getByText("Your batch, and what to melt into it:")).toBeVisible();
  await page.getByRole(bar).getByRole("button", { name: "Undo" }).click();
  await expect(box(page, "Hottest")).toHaveValue("30");
  await expect(box(page, "Batch")).toHaveValue("500");
  expect(await percents(page)).toEqual(["50", "20", "30"]);
  await page.getByRole(bar).getByRole("button", { name: "Redo" }).click();
  await expect(box(page, "Hottest")).toHaveValue(hottest);
  await expect(page.getByText("Your batch, and what to melt into it:")).toBeVisible();
});

test("a miss is not told by the figure that is wanted, and no band reaches below nothing", async ({
  page,
}) => {
  // Of the worked example's shape, a hair short: 11.97 % where 12 % are wanted.
  await page.addInitScript(() => {
    Object.defineProperty(Worker.prototype, "onmessage", {
      set(this: Worker, hear: (event: MessageEvent) => void) {
        this.addEventListener("message", (event) => {
          const { misses } = event.data.reply?.answer ?? {};
          for (const miss of misses ?? []) {
            if (miss.kind === "softer" && miss.low_percent === 12) miss.found_percent = 11.97;
          }
          hear.call(this, event);
        });
      },
    });
  });
  await open(page);
  await page.locator(".remarks summary").click();
  await expect(page.locator(".remarks")).toContainText(/strength 11\.9\s%, needs 12\s%/);
  await expect(page.locator(".place.skin")).toContainText(/at most \d+\s% solid/);
  await expect(page.locator(".places")).not.toContainText(/\b[0-5] ± 6/);
});

test.describe("on a phone", () => {
  test.use(PHONE);

  test("three doors lead from the worked example, which stands behind none of them", async ({ page }) => {
    await open(page);
    await expect(page.locator(".picture-frame")).toBeInViewport();
    const door = (name: string) => page.getByRole("button", { name, exact: true });
    await door("My recipe").click();
    await expect(page.locator("#paste-text")).toBeFocused();
    await page.keyboard.press("Escape");
    await door("My batch melted").click();
    // Of whose batch, is asked first; who does not say reads of what is spoken.
    await expect(page.locator("#paste-text")).toBeFocused();
    await expect(page.getByRole("dialog")).toContainText("you are told why it melted");
    await page.keyboard.press("Escape");
    await expect(page.locator("#trouble")).toContainText("about a worked example, not your butter");
    await expect(page.getByRole("heading", { name: "Turns to oil" })).toBeVisible();
    await expect(page.getByRole("button", { name: /^Rescue the batch for/ })).toBeVisible();
    await go(page, "Bench");
    await door("Show a class").click();
    await expect(page.locator(".dose-line").first()).toBeVisible();
    await go(page, "Bench");
    // With something of one's own on the bench it is made next; the class is in the bar.
    await line(page, "Shea butter").fill("51");
    await expect(door("Show a class")).toHaveCount(0);
    await expect(door("Make it")).toBeVisible();
  });

  test("the verdict over another station is whole, and what is said in passing goes with the next touch", async ({
    page,
  }) => {
    await open(page);
    await go(page, "Make");
    const brief = page.locator(".brief-text");
    await expect(brief).toHaveText(/^Holds to 27\.5\s°C, hottest 30\s°C$/);
    expect(await brief.evaluate((one) => one.scrollHeight - one.clientHeight)).toBeLessThanOrEqual(1);
    await choose(page, "By jars");
    await go(page, "Bench");
    await line(page, "Shea butter").fill("51");
    await page.getByRole(bar).getByRole("button", { name: "Undo" }).click();
    await expect(page.locator(notice)).toContainText("Taken back");
    await page.waitForTimeout(1000);
    await page.getByRole("heading", { name: "Recipe" }).click();
    await expect(page.locator(notice)).toHaveCount(0);
  });

  test("figures stand whole before their unit", async ({ page }) => {
    await open(page);
    await line(page, "Shea butter").fill("100");
    await line(page, "Sweet almond oil").fill("29.75");
    await go(page, "Rework");
    await choose(page, "Rescue a batch");
    await box(page, "What was made").fill("12345.5");
    for (const station of ["Bench", "Rework"] as const) {
      await go(page, station);
      const cut = await page
        .locator(".field:visible input")
        .evaluateAll((all) =>
          all.filter((one) => one.scrollWidth > one.clientWidth + 1).map((one) => one.id),
        );
      expect(cut, station).toEqual([]);
    }
  });
});

test.describe("on a phone that lies on its side", () => {
  test.use({ viewport: { width: 740, height: 360 } });

  test("verdict and picture share the first screen", async ({ page }) => {
    await open(page);
    await expect(verdict(page)).toBeInViewport();
    // The whole picture with its handles, above the bar.
    const foot = async (of: string) =>
      (await page
        .locator(of)
        .last()
        .boundingBox()
        .then((box) => box && box.y + box.height)) ?? Number.NaN;
    const bar = (await page.locator(".bar").boundingBox())?.y ?? Number.NaN;
    expect(await foot(".picture-frame svg.picture")).toBeLessThanOrEqual(bar);
    expect(await foot(".picture .thumb-face")).toBeLessThan(bar);
    await look(page, "on-its-side");
  });
});

test.describe("where people measure in °F and ounces", () => {
  test.use({ locale: "en-US" });

  test("the page does so from the first visit, in every form", async ({ page }) => {
    await page.goto("./");
    await expect(verdict(page)).toContainText("°F");
    await expect(page.locator(".weights thead")).toContainText("oz");
    await expect(box(page, "Batch")).toHaveValue("16");
    await expect(page.locator("#page")).toContainText(/jars of 4\sfl\soz/);
    await page.locator("summary", { hasText: "On its way in the heat" }).click();
    await expect(box(page, "Each holds")).toHaveValue("4.06");
    await expect(page.locator("#journey .chip").filter({ hasText: "10.6 oz" })).toBeVisible();
    await expect(page.locator("#journey .chip").filter({ hasText: /^\s*1\.2\sin/ })).toBeVisible();
    await expect(page.locator("#journey table", { hasText: "better packed" })).toContainText(
      /in 2\sin of foam/,
    );
    await expect(page.locator(".cells legend", { hasText: "Price of a pound" })).toHaveCount(1);
    // Nowhere a figure in another unit, folded away or not, but where a publication is quoted; the sheets on paper are drawn when
    // they are printed.
    const others = await page.locator("#page").evaluate((all) => {
      const text = all.cloneNode(true) as Element;
      for (const quoted of text.querySelectorAll("#journey .help")) quoted.remove();
      return text.textContent?.match(/.{20}\d\s(?:mm|mL|g|kg|°C)\b.{9}|.{20}kilogram/gu);
    });
    expect(others).toBe(null);
    await page.getByRole("button", { name: "Add an ingredient" }).click();
    await page.getByRole("button", { name: /^Describe your own/ }).click();
    const form = page.getByRole("dialog", { name: "An ingredient of your own" });
    await form.getByLabel("Melts at, °F").fill("97.7");
    await expect(form.locator(".own-told")).toContainText("Slips at 97.7 °F");
    await page.keyboard.press("Escape");
    // What was typed goes along to another unit.
    await choose(page, "°C");
    await page.getByRole("button", { name: "Add an ingredient" }).click();
    await page.getByRole("button", { name: /^Describe your own/ }).click();
    await expect(form.getByLabel("Melts at, °C")).toHaveValue("36.5");
    await form.locator(".chip").filter({ hasText: "Solid fat" }).click();
    await expect(form.getByLabel("Temperature 1, °C")).toHaveValue("10");
  });
});
