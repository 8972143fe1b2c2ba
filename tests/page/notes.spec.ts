/** The notebook's whole way where nothing helps: by keyboard alone, offline, from one file, in the dark, and on paper. */

import type { Page } from "@playwright/test";
import { accessible, choose, go, keptOffline, look, open, PHONE, verdict } from "./bench.js";
import { expect, SINGLE_FILE, test } from "./support.js";

const SLACK = "#v1&name=Week&recipe=shea-butter:70,cocoa-butter:25,sunflower-oil:5&as=pot&store=16~30";

const form = (page: Page) => page.getByRole("form", { name: "Write down what you saw" });
const lots = (page: Page) => page.locator(".lot");
const entries = (page: Page) => page.locator(".entry");

/** Writes down where the recipe slips, or one butter alone. */
async function slip(page: Page, at_c: string, what: "recipe" | "butter" = "recipe"): Promise<void> {
  await page.getByRole("button", { name: "Write down what you saw" }).click();
  await form(page).getByLabel("What did it do?").selectOption({ label: "Moved up in a thin tube" });
  await form(page).getByLabel("How warm was it, °C").fill(at_c);
  if (what === "butter") {
    await form(page).locator(".usual > summary").click();
    await choose(page, "One alone");
  }
  await form(page).getByRole("button", { name: "Keep it", exact: true }).click();
  await expect(form(page)).toHaveCount(0);
}

/** Which pot next, once the engine has tried them. */
async function plan(page: Page): Promise<void> {
  const card = page.locator("#next-pot");
  if (!(await card.getAttribute("open"))) await card.locator(":scope > summary").click();
  await page.getByRole("button", { name: "Which pot next?" }).click();
  await expect(page.getByText("Make this one")).toBeVisible({ timeout: 60_000 });
}

/** Keeps the page from the printer. */
const noPrinter = (page: Page) =>
  page.addInitScript(() => {
    window.print = () => {};
  });

const pagesOf = (pdf: Buffer): number => pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;

/** What goes to paper, and how many sheets it takes; the page is on the screen again after it. */
async function onPaper(page: Page, name: string): Promise<{ text: string; sheets: number }> {
  await page.emulateMedia({ media: "print" });
  const sheet = page.locator(".note-sheet");
  await expect(sheet).toBeVisible();
  const text = (await sheet.textContent()) ?? "";
  await look(page, name, { fullPage: true });
  // What has been printed is put away.
  const sheets = pagesOf(await page.pdf({ format: "A4", preferCSSPageSize: true }));
  await page.emulateMedia({ media: "screen" });
  await page.evaluate(() => dispatchEvent(new Event("afterprint")));
  return { text, sheets };
}

test("the whole way by keyboard alone", async ({ page }) => {
  test.slow();
  await open(page, `./${SLACK}`);
  const now = () =>
    page.evaluate(() => {
      const at = document.activeElement as HTMLElement | null;
      return `${at?.getAttribute("aria-label") ?? at?.textContent ?? ""}`.replace(/\s+/g, " ").trim();
    });
  /** Goes on with Tab, and tells on what it stood. */
  const reach = async (name: RegExp) => {
    for (let presses = 0; presses < 200; presses++) {
      await page.keyboard.press("Tab");
      if (name.test(await now())) {
        const shown = await page.evaluate(() => {
          const at = document.activeElement as HTMLElement;
          const { top, bottom } = at.getBoundingClientRect();
          return getComputedStyle(at).outlineStyle !== "none" && bottom > 0 && top < innerHeight;
        });
        expect(shown, `focus shows on ${name}`).toBe(true);
        return;
      }
    }
    throw new Error(`Tab never reached ${name}`);
  };
  const before = await verdict(page).textContent();
  await reach(/^Notes$/);
  await page.keyboard.press("Enter");
  await reach(/^Write down what you saw$/);
  await page.keyboard.press("Enter");
  // The form leads: what it did, how warm it was.
  await expect(form(page).getByLabel("What did it do?")).toBeFocused();
  await page.keyboard.type("Moved");
  await page.keyboard.press("Tab");
  await page.keyboard.type("31");
  await reach(/^Keep it$/);
  await page.keyboard.press("Enter");
  await expect(page.getByRole("heading", { name: "What it taught" })).toBeFocused();
  await expect(entries(page)).toHaveCount(1);

  // A second look that is in the way of nothing, written down wrong at first.
  await page.locator("#write-down").focus();
  await page.keyboard.press("Enter");
  await page.keyboard.type("Held");
  await page.keyboard.press("Tab");
  await page.keyboard.type("warm");
  await page.keyboard.press("Enter");
  await expect(form(page).getByLabel("How warm was it, °C")).toBeFocused();
  await page.keyboard.press("ControlOrMeta+a");
  await page.keyboard.type("27");
  await page.keyboard.press("Enter");
  await expect(entries(page)).toHaveCount(2);
  await expect(page.getByRole("heading", { name: "What it taught" })).toBeFocused();

  await page.locator("#notebook-title").evaluate((title) => {
    title.setAttribute("tabindex", "-1");
    (title as HTMLElement).focus();
  });
  await reach(/^Use my jars in this recipe$/);
  await page.keyboard.press("Enter");
  await expect(verdict(page)).not.toHaveText(before ?? "");
  await reach(/^Show both curves$/);
  await page.keyboard.press("Enter");
  await expect(page.locator(".both-curves svg")).toBeVisible();
  await reach(/^The next test pot/);
  await page.keyboard.press("Enter");
  await reach(/^Which pot next\?$/);
  await page.keyboard.press("Enter");
  await expect(page.getByText("Make this one")).toBeVisible({ timeout: 60_000 });
  await reach(/^Write down what it did$/);
  await page.keyboard.press("Enter");
  await expect(form(page).getByLabel("What did it do?")).toBeFocused();
  await reach(/^Do not keep it$/);
  await page.keyboard.press("Enter");
  await expect(page.getByRole("button", { name: "Write down what you saw" })).toBeFocused();
  await reach(/^Change it$/);
  await page.keyboard.press("Enter");
  await reach(/^Throw it away$/);
  await page.keyboard.press("Enter");
  await expect(entries(page)).toHaveCount(1);
  await expect(page.getByRole("heading", { name: "What it taught" })).toBeFocused();
});

test("offline it is written, learned from and planned with", async ({ page, context }) => {
  test.slow();
  await open(page, `./${SLACK}`);
  await keptOffline(page);
  await context.setOffline(true);
  await page.reload();
  await go(page, "Notes");
  await slip(page, "31");
  await expect(entries(page)).toHaveCount(1);
  await expect(lots(page).first()).toContainText("Learned from one entry");
  await plan(page);
  await page.reload();
  await go(page, "Notes");
  await expect(entries(page)).toHaveCount(1);
  await context.setOffline(false);
});

test("from one file it is written, learned from, planned with, and printed", async ({ page }) => {
  test.slow();
  await noPrinter(page);
  await page.goto(`${SINGLE_FILE}${SLACK}`);
  await expect(verdict(page)).toContainText("°C");
  await go(page, "Notes");
  await slip(page, "31");
  await expect(lots(page).first()).toContainText("Learned from one entry");
  await plan(page);
  await page.getByRole("button", { name: "Print its sheet" }).click();
  const { text, sheets } = await onPaper(page, "notebook-file-sheet");
  expect(text).toContain("Write down what you see");
  expect(sheets).toBe(1);
  // Nobody else can open a file on this device.
  expect(text).not.toContain("file:");
  await page.reload();
  await go(page, "Notes");
  await expect(entries(page)).toHaveCount(1);
});

test("the sheet of a test pot is one sheet of paper, with its code and each caution once", async ({
  page,
}) => {
  test.slow();
  await noPrinter(page);
  await open(page, `./${SLACK}`);
  await go(page, "Notes");
  await slip(page, "31");
  await plan(page);
  await page.getByRole("button", { name: "Print its sheet" }).click();
  const sheet = page.locator(".note-sheet");
  await expect(sheet.locator("svg.code path")).toHaveCount(1);
  const mind = await sheet.locator("ul li").allTextContents();
  expect(new Set(mind).size).toBe(mind.length);
  // What is told of the same danger is told once.
  for (const danger of [/water bath/, /sticks/, /scalds/])
    expect(
      mind.filter((one) => danger.test(one)),
      String(danger),
    ).toHaveLength(1);
  const { sheets } = await onPaper(page, "notebook-pot-sheet");
  expect(sheets).toBe(1);
});

test.describe("in the dark", () => {
  test.use({ ...PHONE, colorScheme: "dark" });

  test("nothing bars the way, empty, begun, taught, doubted or planned", async ({ page }) => {
    test.slow();
    await open(page, `./${SLACK}`);
    await go(page, "Notes");
    await accessible(page);
    await page.getByRole("button", { name: "Write down what you saw" }).click();
    await form(page).locator(".usual > summary").click();
    await form(page).getByRole("button", { name: "Keep it", exact: true }).click();
    await expect(form(page).locator(".problem").first()).toBeVisible();
    await accessible(page);
    await look(page, "notebook-dark-form", { fullPage: true });
    await form(page).getByRole("button", { name: "Do not keep it" }).click();
    for (const at_c of ["31", "31.5", "45"]) await slip(page, at_c, "butter");
    await expect(page.locator(".entry.doubted")).toHaveCount(1);
    await page.getByRole("button", { name: "Show both curves" }).click();
    await expect(page.locator(".both-curves svg")).toBeVisible();
    await plan(page);
    await page.locator("#protocols > summary").click();
    for (const one of await page.locator("#protocols details > summary").all()) await one.click();
    await accessible(page);
    await look(page, "notebook-dark", { fullPage: true });
  });
});

test.describe("on a phone", () => {
  test.use(PHONE);

  test("each page of how to look is one sheet of paper, with room for what is seen", async ({ page }) => {
    await noPrinter(page);
    await open(page);
    await go(page, "Notes");
    await page.locator("#protocols > summary").click();
    const folds = page.locator("#protocols details");
    await expect(folds).toHaveCount(3);
    for (const [at, name] of ["tube", "overnight", "clear"].entries()) {
      const fold = folds.nth(at);
      const title = ((await fold.locator("summary").textContent()) ?? "").trim();
      await fold.locator("summary").click();
      const steps = await fold.locator("ol li").allTextContents();
      await fold.getByRole("button", { name: "Print this page" }).click();
      const sheet = page.locator(".note-sheet");
      await expect(sheet.locator("h1")).toHaveText(title);
      expect(await sheet.locator("ol li").allTextContents()).toEqual(steps);
      await expect(sheet.locator(".blanks tbody tr")).toHaveCount(8);
      const mind = await sheet.locator("ul").last().locator("li").allTextContents();
      expect(mind.length).toBeGreaterThan(2);
      expect(new Set(mind).size).toBe(mind.length);
      const { sheets } = await onPaper(page, `notebook-page-${name}`);
      expect(sheets, name).toBe(1);
    }
  });

  test("an entry alone is compared with such jars, and with no rest", async ({ page }) => {
    await open(page, `./${SLACK}`);
    await go(page, "Notes");
    // As usual, unusual, and what no such jar is.
    for (const [at_c, said] of [
      ["33", "As such jars are."],
      ["26", /Unusual, but possible|Too far off/],
      ["48", "Too far off to learn from"],
    ] as const) {
      await slip(page, at_c, "butter");
      await expect(entries(page).first()).toContainText(said);
      await expect(entries(page).first()).not.toContainText("the rest");
      await entries(page).first().getByText("Change it").click();
      await entries(page).first().getByRole("button", { name: "Throw it away" }).click();
      await expect(entries(page)).toHaveCount(0);
    }
  });

  test("both curves are drawn as far as something is asked of the butter, and no farther", async ({
    page,
  }) => {
    await open(page, `./${SLACK}`);
    await go(page, "Notes");
    await slip(page, "31");
    await page.getByRole("button", { name: "Show both curves" }).click();
    const ticks = await page
      .locator(".both-curves .tick")
      .evaluateAll((all) =>
        all.flatMap(({ textContent }) =>
          textContent?.endsWith("°") ? [Number.parseFloat(textContent)] : [],
        ),
      );
    expect(ticks.length).toBeGreaterThan(3);
    expect(Math.max(...ticks)).toBeLessThanOrEqual(45);
    expect(Math.min(...ticks)).toBeGreaterThanOrEqual(5);
  });

  test("the notebook with two entries is no longer than three screens, and says once what the verdict goes by", async ({
    page,
  }) => {
    await open(page, `./${SLACK}`);
    await go(page, "Notes");
    for (const at_c of ["31", "31.5"]) await slip(page, at_c);
    await expect(entries(page)).toHaveCount(2);
    await expect(page.getByText("still go by typical jars")).toHaveCount(1);
    await expect(page.getByRole("button", { name: "Use my jars in this recipe" })).toHaveCount(1);
    const high = await page.evaluate(() => {
      const [first, last] = [".notebook, [aria-labelledby=notebook-title]", "#protocols"].map((one) =>
        document.querySelector(one)?.getBoundingClientRect(),
      );
      return (last?.bottom ?? Number.POSITIVE_INFINITY) - (first?.top ?? 0);
    });
    expect(high / 740).toBeLessThan(3);
  });

  test("the notebook and the verdict say where the recipe softens alike", async ({ page }) => {
    await open(page, `./${SLACK}`);
    const to = /to ([\d.]+)\s°C/.exec((await verdict(page).textContent()) ?? "")?.[1];
    await go(page, "Notes");
    await slip(page, "31");
    await expect(page.locator(".compared dd").first()).toContainText(new RegExp(`softens at ${to}\\s°C`));
  });

  test("what taught next to nothing is not called surer, by any figure that is shown", async ({ page }) => {
    await open(page, `./${SLACK}`);
    await go(page, "Notes");
    for (const unit of ["°C", "°F"] as const) {
      await choose(page, unit);
      await page.getByRole("button", { name: "Write down what you saw" }).click();
      await form(page).getByLabel("What did it do?").selectOption({ label: "Held overnight" });
      await form(page)
        .getByLabel(`How warm was it, ${unit}`)
        .fill(unit === "°C" ? "22" : "72");
      await form(page).getByRole("button", { name: "Keep it", exact: true }).click();
      await expect(form(page)).toHaveCount(0);
      for (const jar of await lots(page).all()) {
        await expect(jar).toContainText("Learned from");
        const [, now, was] =
          /unsure by ±([\d.]+\s°.) instead of ±([\d.]+\s°.)/.exec((await jar.textContent()) ?? "") ?? [];
        if (now) expect(now).not.toBe(was);
      }
    }
  });
});

test.describe("on a phone", () => {
  test.use(PHONE);

  test("with jars of one's own the notes are three screens at most", async ({ page }) => {
    await open(page, `./${SLACK}`);
    await go(page, "Notes");
    for (const at_c of ["31", "33"]) await slip(page, at_c, "butter");
    await page.getByRole("button", { name: "Use my jars in this recipe" }).click();
    await expect(page.getByText("go by your jars").first()).toBeVisible();
    await expect(entries(page)).toHaveCount(2);
    await expect(lots(page)).toHaveCount(1);
    await expect(page.getByText("With your jars")).toBeVisible();
    const screens = () =>
      page.evaluate(
        () => (document.querySelector("main")?.getBoundingClientRect().height ?? 1e9) / innerHeight,
      );
    await page.locator(".notice").getByRole("button", { name: "Close" }).click();
    expect(await screens()).toBeLessThan(3);
    await accessible(page);
  });
});
