/** What cannot be is one sentence, with what would help; and that nothing needs to change is the whole answer. */

import { accessible, address, box, DEVICES, find, go, look, open, PHONE, verdict } from "./bench.js";
import { expect, test } from "./support.js";

/** More heat than this butter can bear and still scoop and melt on skin. */
const TOO_HOT = "#v1&recipe=shea-butter:70,sunflower-oil:30&as=pot&store=18~36&feel=scoopable,melts";
/** A whipped butter that no recipe holds at 42 °C. */
const HOPELESS =
  "#v1&recipe=shea-butter:60,coconut-oil:20,sunflower-oil:20&as=whipped&store=25~42&feel=soft,melts";
/** As it should be. */
const FINE = "#v1&recipe=shea-butter:70,sunflower-oil:30&as=pot&store=16~22";

for (const [name, device] of [
  ...DEVICES,
  ["dark phone", { ...PHONE, colorScheme: "dark" as const }],
] as const) {
  test.describe(`on a ${name}`, () => {
    test.use(device);

    test("what cannot be is led by how much can, and cooler storage leads there", async ({ page }) => {
      await open(page, TOO_HOT);
      await find(page).click();
      const headline = page.locator("#reworks .headline");
      await expect(headline).toContainText(
        /The most it can hold and still scoop and melt on skin is [\d.]+\s°C\.$/,
      );
      await expect(headline).toBeInViewport();
      await expect(page.locator("#reworks")).toContainText("That is in 3 batches of 4");
      const most = /is ([\d.]+)/.exec((await headline.textContent()) ?? "")?.[1] ?? "";
      expect(Number(most)).toBeGreaterThan(20);
      expect(Number(most)).toBeLessThan(36);
      // Nothing that does not do what is asked is shown as if it did.
      await expect(verdict(page)).not.toContainText("With this");
      await accessible(page);
      await look(page, `${name}-cannot-be`);

      const cooler = page
        .locator(".way")
        .filter({ hasText: new RegExp(`Keep it at ${most}\\s°C or cooler`) });
      await cooler.locator("summary").first().click();
      await expect(cooler).toContainText("Meets every wish");
      await look(page, `${name}-cannot-be-cooler`);
      await cooler.getByRole("button", { name: "Use this" }).click();
      await expect(page.locator(".verdict")).toHaveClass(/good|doubtful/);
      await expect(verdict(page)).toContainText(/holds its shape to/);
      await go(page, "Bench");
      await expect(box(page, "Hottest")).toHaveValue(most);
    });

    test("nothing needs to change is the headline, with the odds and the room", async ({ page }) => {
      await open(page, FINE);
      await find(page).click();
      await expect(page.locator("#reworks .headline")).toHaveText("Nothing needs to change");
      await expect(page.locator("#reworks .proposal")).toContainText(/batch.*It has [\d.]+\s°C to spare\./s);
      await expect(page.locator("#reworks details.way")).toHaveCount(0);
      await look(page, `${name}-nothing-to-change`);
    });
  });
}

test.describe("on a phone", () => {
  test.use(PHONE);

  test("a hopeless question proposes no worse butter", async ({ page }) => {
    await open(page, HOPELESS);
    await find(page).click();
    await expect(page.locator("#reworks .headline")).toBeVisible();
    await expect(page.getByRole("heading", { name: "The nearest to it" })).toHaveCount(0);
    await look(page, "hopeless");
    await look(page, "hopeless-whole", { fullPage: true });
  });

  test("each answer says what it does to the feel", async ({ page }) => {
    await open(page, "#v1&recipe=shea-butter:60,sunflower-oil:40&as=pot&store=18~31&feel=scoopable");
    await find(page).click();
    await expect(page.locator("#reworks .feel").first()).toContainText(/^Feels .+\.$/);
    await look(page, "feel", { fullPage: true });
  });

  test("a rescue is steps with weights", async ({ page }) => {
    await open(page, "#v1&recipe=shea-butter:50,sunflower-oil:50&as=pot&store=18~31&made=300~0");
    await find(page)
      .or(page.getByRole("button", { name: "Find a rescue" }).first())
      .first()
      .click();
    const steps = page.locator("#reworks .melt-in").first().locator("> li");
    await expect(steps).toHaveCount(3);
    await expect(steps.nth(0)).toContainText(/Melt first, in a water bath:.*\d g/s);
    await expect(steps.nth(1)).toContainText("Then add the batch, 300 g");
    await expect(steps.nth(2)).toContainText(/Together they weigh \d+(\.\d+)? g/);
    await accessible(page);
    await look(page, "rescue-steps", { fullPage: true });
  });

  test("a rescue says why it does without the rest of the pantry", async ({ page }) => {
    await open(
      page,
      "#v1&recipe=shea-butter:50,sunflower-oil:50&as=whipped&store=18~31&feel=scoopable,melts&made=500~0&pantry=cocoa-butter,stearic-acid,kokum-butter",
    );
    await go(page, "Rework");
    await page.locator("#reworks").getByRole("button", { name: "Find a rescue" }).click();
    await expect(page.locator("#reworks .melt-in").first()).toContainText("Kokum butter");
    await page.getByText("Why not the rest of the pantry?").click();
    const told = page.locator("#reworks details", { hasText: "Why not the rest" }).locator("li");
    await expect(told).toHaveCount(2);
    await expect(told.nth(0)).toContainText(/^Cocoa butter: alone it falls short, even with \d+.g\./);
    await expect(told.nth(1)).toContainText(/Stearic acid.*: no amount of it alone .* Why: .* dissolves/);
    await look(page, "rescue-why-not", { fullPage: true });
  });

  test("the pantry takes a most of each, which the question and its link carry", async ({ page }) => {
    await open(page, FINE);
    await go(page, "Rework");
    await page.getByText(/^Pantry:/).click();
    const most = page.getByRole("textbox", { name: /^At most, %, of Beeswax$/i });
    await most.fill("2.5");
    await address(page, /within~beeswax~0~2\.5/);
    await most.fill("400");
    await expect(page.locator(".at-most .problem")).toContainText("100");
    await most.fill("");
    await expect.poll(() => address(page)).not.toContain("within~");
    await page.locator(".pantry").scrollIntoViewIfNeeded();
    await accessible(page);
    await look(page, "pantry");
  });
});
