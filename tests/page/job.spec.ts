/** The whole job as a new user does it: a recipe and a climate in, a rework out, shared and reopened. */

import {
  accessible,
  address,
  asking,
  box,
  choose,
  DEVICES,
  figures,
  find,
  go,
  holdProofs,
  holdQuestions,
  line,
  look,
  open,
  percents,
  STATIONS,
  verdict,
} from "./bench.js";
import { expect, test } from "./support.js";

for (const [name, device] of DEVICES) {
  test.describe(`on a ${name}`, () => {
    test.use(device);

    test("from a worked example to a rework that is applied, undone and shared", async ({
      page,
      browser,
    }) => {
      await open(page);
      await look(page, `${name}-first-visit`);
      await expect(page.getByRole("heading", { level: 1 })).toBeVisible();
      await expect(line(page, "Shea butter")).toHaveValue("50");
      const atFirst = await figures(page);

      // A recipe: step, type with a comma, see the total, bring it to 100.
      await page.getByRole("button", { name: "More: Shea butter, percent" }).click();
      await expect(line(page, "Shea butter")).toHaveValue("50.5");
      await line(page, "Coconut oil").fill("34,5");
      await expect(page.locator(".total")).toContainText("15 % too much");
      await expect(page.getByLabel("Take it from")).toHaveValue("2");
      await page.locator(".total").getByRole("button", { name: "Make it 100 %" }).click();
      await expect(page.locator(".total-figure")).toHaveText("100 %");
      await expect(line(page, "Sweet almond oil")).toHaveValue("15");
      await page.getByRole("button", { name: "Sweet almond oil liquid oil" }).click();
      await page.getByRole("button", { name: "Remove Sweet almond oil" }).click();
      await page.getByRole("button", { name: "Add an ingredient" }).click();
      await page.getByRole("searchbox", { name: "Search by name or INCI name" }).fill("sunflow high");
      await page.getByRole("button", { name: /^Sunflower oil, high oleic/ }).click();
      await expect(page.locator(".total-figure")).toHaveText("100 %");
      await expect.poll(() => figures(page)).not.toEqual(atFirst);

      // A climate and a feel.
      await box(page, "Hottest").fill("31");
      await choose(page, "Pot");
      await go(page, "Rework");
      await choose(page, "Scoopable");
      await expect(verdict(page)).toContainText("31");
      await go(page, "Bench");

      // A rework: compare, apply, undo, redo.
      const was = (await verdict(page).textContent()) ?? "";
      await find(page).click();
      const proposals = page.locator(".proposal");
      await expect(proposals.first()).toBeVisible();
      await expect(proposals.first()).toContainText("Meets every wish");
      await look(page, `${name}-reworks`);
      const count = await page.locator(".line").count();
      const before = await percents(page);
      await proposals.first().getByRole("button", { name: "Use this" }).click();
      await expect(page.locator(".verdict")).not.toHaveClass(/bad/);
      const after = await percents(page);
      expect(after).not.toEqual(before);
      await page.getByRole("navigation").getByRole("button", { name: "Undo" }).click();
      await expect(page.locator(".line")).toHaveCount(count);
      expect(await percents(page)).toEqual(before);
      // The verdict is of what is on the bench again, not of what was taken back.
      await expect(verdict(page)).toHaveText(was);
      await page.getByRole("navigation").getByRole("button", { name: "Redo" }).click();
      expect(await percents(page)).toEqual(after);

      // The link reopens it all somewhere else.
      const link = await address(page, /store~18~31/);
      const elsewhere = await browser.newContext();
      const other = await elsewhere.newPage();
      await open(other, link);
      await expect(other.locator(".line > .number input").first()).toHaveValue(after[0] ?? "");
      await expect.poll(() => figures(other)).toEqual(await figures(page));
      await elsewhere.close();

      // And it is still here after the page was closed.
      await open(page, "./");
      expect(await percents(page)).toEqual(after);
    });

    for (const colorScheme of ["light", "dark"] as const) {
      test(`nothing bars the way, ${colorScheme}`, async ({ page }) => {
        // Four passes of axe over everything unfolded.
        test.slow();
        await page.emulateMedia({ colorScheme });
        const seen = colorScheme === "light" ? "all" : "colours";
        await open(page);
        await accessible(page, seen);
        await find(page).click();
        await expect(page.locator(".proposal").first()).toBeVisible();
        for (const station of STATIONS) {
          await go(page, station);
          const shut = page.locator(":is(.twin, details.card, .limits):not([open]) > summary:visible");
          while (await shut.count()) await shut.first().click();
          if (station === "Teach") await expect(page.locator(".dose-line").first()).toBeVisible();
          if (station === "Heat") await expect(page.locator("svg.journey")).toBeVisible();
          if (name === "phone") {
            await accessible(page, seen);
            await look(page, `phone-${station}-${colorScheme}`, { fullPage: true });
          }
        }
        await accessible(page, seen);
        if (name === "desktop") await look(page, `desktop-all-open-${colorScheme}`, { fullPage: true });
        await go(page, "Bench");
        await page.getByRole("button", { name: "Add an ingredient" }).click();
        await accessible(page, seen);
        await look(page, `${name}-add-${colorScheme}`);
        await page.keyboard.press("Escape");
        await line(page, "Shea butter").fill("abc");
        await accessible(page, seen);
      });
    }

    test("every target is as large as a thumb, in every state", async ({ page }) => {
      test.slow();
      const small = () =>
        page
          .locator(
            "button:visible, .bar a:visible, summary:visible, .chip:visible, .check:visible, select:visible, .text:visible, .thumb-reach:visible",
          )
          .evaluateAll((all) =>
            all
              .map((one) => ({
                text: one.getAttribute("aria-label") ?? one.textContent?.trim().slice(0, 30),
                box: one.getBoundingClientRect(),
              }))
              .filter(({ box }) => box.height < 47.5 || box.width < 47.5)
              .map(({ text, box }) => `${text}: ${box.width} × ${box.height}`),
          );
      await open(page);
      expect(await small()).toEqual([]);
      await go(page, "Rework");
      await choose(page, "Rescue a batch");
      await asking(page, "Find a rescue").click();
      await expect(page.locator(".proposal").first()).toBeVisible();
      await page.locator(".licences summary").click();
      for (const station of STATIONS) {
        await go(page, station);
        const shut = page.locator(":is(.twin, details.card, .limits):not([open]) > summary:visible");
        while (await shut.count()) await shut.first().click();
        if (station === "Make") await page.locator("summary", { hasText: "Jars, air and prices" }).click();
        if (station === "Teach") await expect(page.locator(".dose-line").first()).toBeVisible();
        expect(await small(), station).toEqual([]);
      }
      await go(page, "Bench");
      await page.getByRole("button", { name: "Add an ingredient" }).click();
      await page.getByRole("button", { name: /^Describe your own/ }).click();
      for (const way of ["Fatty acids", "Solid fat", "Molecules"]) {
        await page.locator("#own .chip").filter({ hasText: way }).click();
        expect(await small()).toEqual([]);
      }
    });

    test("nothing moves under the finger while it loads", async ({ page }) => {
      await page.addInitScript(() => {
        const told = window as unknown as { shift: number };
        told.shift = 0;
        new PerformanceObserver((list) => {
          for (const entry of list.getEntries())
            told.shift += (entry as PerformanceEntry & { value: number }).value;
        }).observe({ type: "layout-shift", buffered: true });
      });
      await open(page);
      await page.waitForTimeout(500);
      expect(await page.evaluate(() => (window as unknown as { shift: number }).shift)).toBe(0);
    });

    test("it fits at 200 % zoom and from right to left", async ({ page }) => {
      await page.setViewportSize({
        width: Math.max(320, device.viewport.width / 2),
        height: device.viewport.height / 2,
      });
      await open(page);
      const wide = () =>
        page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      expect(await wide()).toBeLessThanOrEqual(0);
      await page.evaluate(() => document.documentElement.setAttribute("dir", "rtl"));
      expect(await wide()).toBeLessThanOrEqual(0);
      await look(page, `${name}-zoomed-rtl`);
      for (const station of STATIONS) {
        await go(page, station);
        expect(await wide(), station).toBeLessThanOrEqual(0);
      }
    });
  });
}

test("what is typed is never lost, and the complaint stands beside it", async ({ page }) => {
  await open(page);
  await line(page, "Shea butter").fill("5o");
  await expect(page.locator("#percent-0-problem")).toContainText("not a number");
  await expect(line(page, "Shea butter")).toHaveValue("5o");
  await line(page, "Shea butter").fill("150");
  await expect(page.locator("#percent-0-problem")).toContainText("from 0 to 100");
  await box(page, "Coldest").fill("35");
  await expect(page.locator(".climate")).toContainText("above the hottest");
  await expect(box(page, "Coldest")).toHaveValue("35");
});

test("a rework under way can be cancelled, and the next one answers", async ({ page }) => {
  await open(page);
  const letGo = await holdQuestions(page, ["rework"]);
  await find(page).click();
  await expect(page.getByRole("progressbar", { name: "Searching" })).toBeVisible();
  await page.getByRole("button", { name: "Cancel" }).click();
  await expect(page.getByRole("progressbar")).toHaveCount(0);
  await letGo();
  await find(page).click();
  await expect(page.locator(".proposal").first()).toBeVisible();
});

test("a recipe that would do is told before the proof is done, and may be taken", async ({ page }) => {
  await holdProofs(page, 300);
  await open(page);
  await box(page, "Hottest").fill("33");
  await find(page).click();
  const running = page.locator(".running");
  await expect(running).toContainText("This would do");
  // Read and pressed in one go: one that does it in less may take its place at any time.
  const changes = await running.evaluate((shown) => {
    const changes = [...shown.querySelectorAll(".change")].map((one) => one.textContent);
    const take = [...shown.querySelectorAll("button")].find(
      (one) => one.textContent === "Stop, and take this",
    );
    take?.click();
    return changes;
  });
  expect(changes.length).toBeGreaterThan(1);
  await expect(running).toHaveCount(0);
  await expect(page.locator(".proposal")).toHaveCount(1);
  expect(await page.locator(".proposal .change").allTextContents()).toEqual(changes);
  await expect(page.locator(".proposal .meets")).toContainText("Meets every wish");
  await expect(page.locator("#reworks [role=status]")).toContainText(
    "Stopped early: a smaller change may do.",
  );
  // What it is like is told of it too.
  await expect(page.locator(".proposal .mini dd").first()).not.toContainText("…");
});

test("a search ends with the recipe that it is of: Back shows that of the other, and no answer to it", async ({
  page,
}) => {
  await holdProofs(page, 300);
  await open(page);
  await open(page, "./#v1&recipe=shea-butter:60,sunflower-oil:40&store=18~33&as=pot");
  await expect(page.getByRole("textbox", { name: "Sunflower oil, percent", exact: true })).toBeVisible();
  await find(page).click();
  const running = page.locator(".running");
  await expect(running).toContainText("This would do");
  await page.goBack();
  await expect(page.getByRole("textbox", { name: "Sweet almond oil, percent", exact: true })).toBeVisible();
  await expect(running).toHaveCount(0);
  await expect(page.locator("#reworks .proposal")).toHaveCount(0);
  await expect(page.locator("#reworks")).not.toContainText("has changed since");
  // What was asked of it can be asked of this one.
  await expect(page.locator("#reworks").getByRole("button", { name: "Find a rework" })).toBeVisible();
});

test("answers to another recipe do not stand beside the one that came; Undo brings them back", async ({
  page,
}) => {
  await open(page);
  await find(page).click();
  await expect(page.locator("#reworks .proposal").first()).toBeVisible();
  await page.getByRole("button", { name: "Paste a recipe" }).click();
  await page.locator("#paste-text").fill("60 shea butter\n40 sunflower oil");
  await page.getByRole("button", { name: "Put 2 lines on the bench" }).click();
  await expect(page.locator("#reworks .proposal")).toHaveCount(0);
  await expect(page.locator("#reworks")).not.toContainText("has changed since");
  await page.getByRole("button", { name: "Undo" }).first().click();
  await expect(page.locator("#reworks .proposal").first()).toBeVisible();
  // A line that is changed leaves them, as what they are.
  await line(page, "Coconut oil").fill("19");
  await expect(page.locator("#reworks")).toContainText("The bench has changed since");
});

test("degrees Fahrenheit and ounces, everywhere", async ({ page }) => {
  await open(page);
  await choose(page, "°F");
  await choose(page, "ounces");
  await expect(verdict(page)).toContainText("86 °F");
  await page.locator(".remarks summary").click();
  // A difference of 2.5 °C is one of 4.5 °F, not 36.5.
  await expect(page.locator(".remarks")).toContainText("5 °F below skin");
  await expect(box(page, "Hottest")).toHaveValue("86");
  await expect(page.locator("#page")).not.toContainText("°C,");
  await expect(page.locator(".weights thead")).toContainText("oz");
  await page.getByRole("slider", { name: "Hottest storage" }).press("ArrowRight");
  await expect(box(page, "Hottest")).toHaveValue("87");
});

test("the climate is dragged on the axis, undone in one step, and chosen from ready ranges", async ({
  page,
}) => {
  await open(page);
  const thumb = page.getByRole("slider", { name: "Hottest storage" });
  const place = await thumb.locator("circle").boundingBox();
  if (!place) throw new Error("the thumb has no place");
  const [x, y] = [place.x + place.width / 2, place.y + place.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let step = 1; step <= 4; step++) await page.mouse.move(x + step * 8, y);
  // A finger that rests on its way is still the same drag.
  await page.waitForTimeout(1500);
  for (let step = 5; step <= 8; step++) await page.mouse.move(x + step * 8, y);
  await page.mouse.up();
  const dragged = Number(await box(page, "Hottest").inputValue());
  expect(dragged).toBeGreaterThan(31);
  await expect(verdict(page)).toContainText(String(dragged));
  await page.getByRole("navigation").getByRole("button", { name: "Undo" }).click();
  await expect(box(page, "Hottest")).toHaveValue("30");
  await page.getByRole("button", { name: /^12–20/ }).click();
  await expect(box(page, "Coldest")).toHaveValue("12");
  await expect(box(page, "Hottest")).toHaveValue("20");
});

test("a rework keeps to what is locked and bounded", async ({ page }) => {
  await open(page);
  await page.getByRole("button", { name: "Sweet almond oil liquid oil" }).click();
  await page.getByRole("checkbox", { name: "A rework keeps it as it is" }).check();
  await page.getByRole("button", { name: "Shea butter soft butter" }).click();
  await box(page, "In a rework, at most").fill("50");
  await find(page).click();
  await expect(page.locator(".proposal").first()).toBeVisible();
  const changes = await page.locator(".change").allInnerTexts();
  expect(changes.length).toBeGreaterThan(0);
  expect(changes.filter((change) => change.startsWith("Sweet almond oil"))).toEqual([]);
  expect(changes.filter((change) => change.startsWith("Shea butter") && change.includes("+"))).toEqual([]);
  await address(page, /keep~sweet-almond-oil_within~shea-butter~0~50/);
});

test("a finger on the curve reads it", async ({ page }) => {
  await open(page);
  const plot = page.getByRole("slider", { name: "Read the curve at a temperature" });
  await plot.click({ position: { x: 200, y: 60 } });
  await expect(page.locator(".reading")).toContainText(
    /°C: (pours like an oil|slack, weeps oil|soft, spreads at a touch|scoops and spreads|firm, needs pressing|hard, must be scraped or rubbed|brittle, snaps); strength \d+\s%, needs 12\s%/,
  );
  await expect(plot).toHaveAttribute("aria-valuetext", /strength \d/);
  await page.getByRole("button", { name: "% solid", exact: true }).click();
  await expect(page.locator(".reading")).toContainText(/; \d+\s% solid/);
  await expect(plot).toHaveAttribute("aria-valuetext", /% solid/);
});
