/** The notebook of own lots, as a maker uses it on the phone: what was seen, what it taught, what to make next. */

import type { Page } from "@playwright/test";
import {
  accessible,
  address,
  choose,
  DESKTOP,
  go,
  keepOnDevice,
  look,
  open,
  PHONE,
  saved,
  verdict,
} from "./bench.js";
import { expect, test } from "./support.js";

const SLACK = "./#v1&name=Week&recipe=shea-butter:70,cocoa-butter:25,sunflower-oil:5&as=pot&store=16~29";

const form = (page: Page) => page.getByRole("form", { name: "Write down what you saw" });
const keep = (page: Page) => form(page).getByRole("button", { name: "Keep it", exact: true });
const lots = (page: Page) => page.locator(".lot");
const entries = (page: Page) => page.locator(".entry");
const begin = (page: Page) => page.getByRole("button", { name: "Write down what you saw" }).click();

const unfold = (page: Page) => form(page).locator(".usual > summary").click();

/** Writes down where one butter alone, or the recipe, slips in a tube. */
async function slip(page: Page, at_c: string, what: "butter" | "recipe" = "butter"): Promise<void> {
  await begin(page);
  await form(page).getByLabel("What did it do?").selectOption({ label: "Moved up in a thin tube" });
  await form(page).getByLabel("How warm was it, °C").fill(at_c);
  await unfold(page);
  if (what === "butter") await choose(page, "One alone");
  await form(page).getByLabel("Read with").selectOption({ label: "a probe" });
  await keep(page).click();
  await expect(form(page)).toHaveCount(0);
}

test.describe("on a phone", () => {
  test.use(PHONE);

  test("what went slack is kept, teaches of the jars, and serves recipe, rework and next pot", async ({
    page,
    browser,
    baseURL,
  }) => {
    test.slow();
    await page.addInitScript(() => {
      window.print = () => {};
    });
    await open(page, SLACK);
    const before = await verdict(page).textContent();
    await go(page, "Trouble");
    await page.getByLabel("The last batch").selectOption({ label: "Turns to oil" });
    await page.getByRole("button", { name: "Keep it in the notebook" }).click();
    await expect(form(page).getByLabel("What did it do?")).toHaveValue("slumped");
    await accessible(page);

    // What only the maker knows is asked for, and nothing that was typed is lost.
    await unfold(page);
    await form(page).getByLabel("How old it was, days").fill("20");
    await keep(page).click();
    await expect(form(page)).toContainText("How warm it was is not said");
    await form(page).getByLabel("How warm was it, °C").fill("thirty");
    await page.reload();
    await go(page, "Notes");
    await expect(form(page).getByLabel("How warm was it, °C")).toHaveValue("thirty");
    await expect(form(page).getByLabel("How old it was, days")).toHaveValue("20");
    await keep(page).click();
    await expect(form(page)).toContainText("thirty");
    await form(page).getByLabel("How warm was it, °C").fill("30");
    await look(page, "notebook-form");
    await keep(page).click();
    await expect(entries(page)).toHaveCount(1);
    await expect(lots(page)).toHaveCount(2);

    await slip(page, "30.5");
    await slip(page, "31");
    await expect(entries(page)).toHaveCount(3);
    const shea = lots(page).first();
    await expect(shea).toContainText("Learned from 3 entries");
    const told = /it melts ([\d.]+)\s°C lower than typical; unsure by ±([\d.]+)\s°C instead of ±([\d.]+)\s°C/;
    await expect(shea).toContainText(told);
    const [, moved_k, now_k, before_k] = told.exec((await shea.textContent()) ?? "") ?? [];
    expect(Number(moved_k)).toBeGreaterThan(1);
    expect(Number(now_k)).toBeLessThan(Number(before_k));
    await accessible(page);
    await look(page, "notebook-taught");

    await page.getByRole("button", { name: "Show both curves" }).click();
    await expect(page.locator(".both-curves svg")).toBeVisible();
    await page.getByRole("button", { name: "Compare the reworks" }).click();
    // It holds either way.
    await expect(page.getByText("Neither needs a rework.")).toBeVisible({ timeout: 60_000 });
    await page.locator(".both-curves").scrollIntoViewIfNeeded();
    await look(page, "notebook-compared");

    // One button for all jars, where the notebook begins; and it is said whether the verdict goes by them.
    const headline = page.getByRole("region", { name: "Notebook" });
    await expect(headline).toContainText("still go by typical jars");
    await headline.getByRole("button", { name: "Use my jars in this recipe" }).click();
    await expect(headline).toContainText(/Verdict, picture and reworks go by your jars: shea.*; cocoa/i);
    for (const jar of await lots(page).all()) await expect(jar).toContainText("In this recipe");
    await expect(verdict(page)).not.toHaveText(before ?? "");
    await page.locator(".notice").getByRole("button", { name: "Undo" }).click();
    await expect(verdict(page)).toHaveText(before ?? "");
    await headline.getByRole("button", { name: "Use my jars in this recipe" }).click();
    await go(page, "Bench");
    await expect(page.locator(".line").first()).toContainText("my lot");
    const shared = await address(page, /lot/);

    await go(page, "Notes");
    await page.locator("#next-pot > summary").click();
    await page.locator("#next-measured").selectOption({ label: "a probe" });
    await page.getByRole("button", { name: "Which pot next?" }).click();
    await expect(page.getByText("Make this one")).toBeVisible({ timeout: 60_000 });
    await expect(page.locator(".planned .weights tr").first()).toContainText("g");
    await page.locator(".planned").scrollIntoViewIfNeeded();
    await look(page, "notebook-next");
    await accessible(page);
    await page.getByRole("button", { name: "Print its sheet" }).click();
    await page.emulateMedia({ media: "print" });
    const sheet = page.locator(".note-sheet");
    await expect(sheet).toBeVisible();
    await expect(sheet.locator("svg.code path")).toHaveCount(1);
    await expect(sheet.locator(".blanks tbody tr")).toHaveCount(8);
    // Each caution stands there once.
    const cautions = (await sheet.locator("ul li").allTextContents()).join("\n");
    expect(cautions.match(/never over a flame/g)).toHaveLength(1);
    expect(cautions.match(/Hot fat sticks/g)).toHaveLength(1);
    await look(page, "notebook-sheet", { fullPage: true });
    const planned = /https?:\/\/\S+/.exec((await sheet.locator("footer").textContent()) ?? "")?.[0] ?? "";
    await page.emulateMedia({ media: "screen" });
    await page.evaluate(() => dispatchEvent(new Event("afterprint")));

    // What the pot did is typed in.
    await page.getByRole("button", { name: "Write down what it did" }).click();
    await form(page).getByLabel("How warm was it, °C").fill("29");
    await keep(page).click();
    await expect(entries(page)).toHaveCount(4);
    await expect(page.getByRole("button", { name: "Use what is known now" }).first()).toBeVisible();

    // Elsewhere the sheet's code opens the notebook, and the shared link brings what is known of the lot.
    const context = await browser.newContext(baseURL ? { baseURL, ...PHONE } : PHONE);
    const elsewhere = await context.newPage();
    await elsewhere.goto(planned);
    await expect(form(elsewhere)).toBeVisible();
    await expect(form(elsewhere).locator(".note-line").first()).toContainText("from the link");
    await form(elsewhere).getByLabel("How warm was it, °C").fill("30");
    await keep(elsewhere).click();
    await expect(entries(elsewhere)).toHaveCount(1);
    await elsewhere.goto("about:blank");
    await open(elsewhere, shared);
    await expect(elsewhere.locator(".line").first()).toContainText("my lot");
    await context.close();

    const friends = await browser.newContext(baseURL ? { baseURL, ...PHONE } : PHONE);
    const friend = await friends.newPage();
    await open(friend, shared);
    await expect(friend.locator(".notice")).toContainText("somebody’s own lots: shea butter");
    await friend.locator(".notice").getByRole("button", { name: "Keep it in my notebook" }).click();
    await go(friend, "Notes");
    await expect(lots(friend)).toHaveCount(2);
    for (const jar of await lots(friend).all()) {
      await expect(jar).toContainText("Taken as the link told of it");
      await expect(jar).toContainText("In this recipe");
    }
    await friends.close();
  });

  test("an entry that does not fit is told, left out, changed, thrown away and put back", async ({
    page,
  }) => {
    await open(page, SLACK);
    await go(page, "Notes");
    for (const at_c of ["31", "31.5", "45"]) await slip(page, at_c);
    const doubted = page.locator(".entry.doubted");
    await expect(doubted).toHaveCount(1);
    await expect(doubted).toContainText(/45\s°C/);
    await expect(doubted).toContainText("Does not fit the rest");
    await look(page, "notebook-doubted");
    await doubted.getByRole("button", { name: "Leave it out" }).click();
    await expect(entries(page).nth(2)).toContainText("You left it out");
    await entries(page).nth(2).getByText("Change it").click();
    await entries(page).nth(2).getByRole("button", { name: "Change", exact: true }).click();
    await form(page).getByLabel("How warm was it, °C").fill("31.2");
    await form(page).getByRole("button", { name: "Keep the change" }).click();
    await expect(entries(page).nth(2)).toContainText(/31\.2\s°C/);
    await entries(page).nth(2).getByRole("button", { name: "Throw it away" }).click();
    await expect(entries(page)).toHaveCount(2);
    await page.locator(".notice").getByRole("button", { name: "Undo" }).click();
    await expect(entries(page)).toHaveCount(3);
  });

  test("entries that cannot be reconciled teach nothing, and say so", async ({ page }) => {
    await open(page, SLACK);
    await go(page, "Notes");
    for (const at_c of ["33", "20", "45"]) await slip(page, at_c, "recipe");
    await expect(page.locator(".entry.doubted")).toHaveCount(3);
    await expect(entries(page).first()).toContainText("It disagrees with others");
    await expect(lots(page).first()).toContainText(
      "The 3 entries of it disagree: nothing is learned from them",
    );
    await expect(page.getByRole("button", { name: "Use my jars in this recipe" })).toHaveCount(0);
    await accessible(page);
    await look(page, "notebook-disputed");
    // Left out, the other two are still open; one alone is what it is.
    await entries(page).nth(1).getByRole("button", { name: "Leave it out" }).click();
    await expect(entries(page).nth(1)).toContainText("You left it out");
    await entries(page).nth(2).getByText("Change it").click();
    await entries(page).nth(2).getByRole("button", { name: "Throw it away" }).click();
    await expect(entries(page)).toHaveCount(2);
    await expect(entries(page).first()).toContainText("As such jars are. There is no other entry yet");
    await expect(lots(page).first()).toContainText("Learned from one entry");
  });

  test("what lots never are is not told as known, and what taught nothing is told so", async ({ page }) => {
    await open(page, SLACK);
    await go(page, "Notes");
    for (const at_c of ["48", "48.2", "48.1"]) await slip(page, at_c);
    await expect(lots(page).first()).toContainText("Jars never differ so much, so do not go by it");
    await expect(page.getByRole("button", { name: "Use my jars in this recipe" })).toHaveCount(0);

    await open(page, "./#v1&name=Nut&recipe=coconut-oil:60,cocoa-butter:40&as=pot&store=16~30");
    await go(page, "Notes");
    await begin(page);
    await form(page).getByLabel("What did it do?").selectOption({ label: "Held overnight" });
    await form(page).getByLabel("How warm was it, °C").fill("5");
    await keep(page).click();
    for (const name of ["coconut oil", "cocoa butter"]) {
      const jar = lots(page).filter({ has: page.getByRole("heading", { name: new RegExp(name, "i") }) });
      await expect(jar).toContainText(/next to nothing: it is still unsure by ±[\d.]+/);
    }
  });

  test("the form asks two things, the rest is a tap away, and the focus follows", async ({ page }) => {
    await open(page, SLACK);
    await go(page, "Notes");
    await begin(page);
    await expect(form(page).getByLabel("What did it do?")).toBeFocused();
    await expect(form(page).getByLabel("What was it made of?")).toBeHidden();
    await expect(form(page).getByLabel("How old it was, days")).toBeHidden();
    await expect(form(page)).toContainText(
      "the recipe on the bench, settled for days, a kitchen thermometer",
    );
    await look(page, "notebook-form-begun");
    // What is wrong is led to; what it taught, once it is kept.
    await keep(page).click();
    await expect(page.locator("#note-seen-problem")).toBeFocused();
    await form(page).getByLabel("What did it do?").selectOption({ label: "Held overnight" });
    await form(page).getByLabel("How warm was it, °C").fill("27");
    await keep(page).click();
    await expect(page.getByRole("heading", { name: "What it taught" })).toBeFocused();
    await begin(page);
    await form(page).getByRole("button", { name: "Do not keep it" }).click();
    await expect(page.getByRole("button", { name: "Write down what you saw" })).toBeFocused();
  });

  test("an own ingredient is told apart where the pot is chosen", async ({ page }) => {
    await open(
      page,
      "./#v1&name=Own&recipe=shea-butter:70,cocoa-butter:20,!my oil!olive-oil:10&as=pot&store=16~30",
    );
    await go(page, "Notes");
    await begin(page);
    await expect(form(page)).toContainText("The notebook cannot learn from");
  });

  test("where no pot tells more, none is recommended", async ({ page }) => {
    test.slow();
    await open(page, "./#v1&name=Cocoa&recipe=cocoa-butter:100&as=bar&store=16~30");
    await go(page, "Notes");
    for (const at_c of ["33", "33.1", "32.9"]) await slip(page, at_c, "recipe");
    await page.locator("#next-pot > summary").click();
    await page.locator("#next-measured").selectOption({ label: "a guess" });
    await page.getByRole("button", { name: "Which pot next?" }).click();
    await expect(page.getByText("Another pot will not tell more")).toBeVisible({ timeout: 60_000 });
    await expect(page.getByText("Make this one")).toHaveCount(0);
  });

  test("a class gets the doses of a ratio series, and a sheet to fill in", async ({ page }) => {
    test.slow();
    await page.addInitScript(() => {
      window.print = () => {};
    });
    await open(page, SLACK);
    await go(page, "Teach");
    await page.getByRole("link", { name: "Which doses should a class make?" }).click();
    const card = page.locator("#series");
    await expect(card.getByRole("button", { name: "Which doses?" })).toBeVisible();
    await card.getByRole("button", { name: "Which doses?" }).click();
    await expect(card.getByRole("heading", { name: "Make these" })).toBeVisible({ timeout: 60_000 });
    const rows = card.locator("tbody tr");
    await expect(rows).toHaveCount(5);
    const doses = await rows.locator("th").allTextContents();
    const percents = doses.map((text) => Number.parseFloat(text));
    expect(percents).toEqual(percents.toSorted((one, other) => one - other));
    expect(percents.at(-1)).toBeLessThanOrEqual(20);
    for (const [at, percent] of percents.entries()) {
      const cells = await rows.nth(at).locator("td").allTextContents();
      expect(Number.parseFloat(cells[1] ?? "")).toBeCloseTo(0.2 * percent, 5);
      expect(cells[2]).toMatch(/^\s*[\d.]+ ± [\d.]+\s*$/);
    }
    expect(doses.filter((text) => text.includes("*"))).toHaveLength(1);
    await accessible(page);
    await card.getByRole("heading", { name: "Make these" }).scrollIntoViewIfNeeded();
    await look(page, "series");
    await card.getByRole("button", { name: "Print its sheet" }).click();
    await page.emulateMedia({ media: "print" });
    const sheet = page.locator(".note-sheet");
    await expect(sheet).toBeVisible();
    await expect(sheet.locator("tbody tr")).toHaveCount(5);
    await expect(sheet.locator("tbody .blank")).toHaveCount(20);
    await expect(sheet).toContainText("never over a flame");
    await look(page, "series-sheet", { fullPage: true });
  });

  test("a notebook that is odd breaks nothing: what is good of it stays, the rest is set aside", async ({
    page,
  }) => {
    const good = { at: 5, day: "2026-05-03", lot: { name: "sack of May", id: "shea-butter", lot: null } };
    const seen = { recipe: [{ lot: "sack of May", percent: 100 }], seen: "slipped", at_c: 31 };
    const notebook = {
      version: 2,
      lots: [
        good,
        5,
        { ...good, at: 6, lot: { name: "__proto__", id: "constructor", lot: null } },
        { ...good, at: 7, day: "yesterday" },
        { ...good, at: 8, lot: { name: "<b>x</b>\u202e", id: "shea-butter", lot: { shift_k: "far" } } },
      ],
      looks: [
        { at: 9, day: "2026-05-04", look: seen },
        { at: 10, day: "2026-05-04", look: { ...seen, at_c: 1e9 } },
        { at: 11, day: "2026-05-04", look: { ...seen, recipe: [{ lot: "gone", percent: 100 }] } },
        null,
      ],
    };
    await keepOnDevice(page, {
      "meltmargin/notebook": JSON.stringify(notebook),
      "meltmargin/notebook-draft":
        '{"version":2,"lines":[{"id":"constructor","percent":"x","from":{"sent":"y","lot":{}}}],"at":{}}',
    });
    await open(page);
    await go(page, "Notes");
    await expect(lots(page)).toHaveCount(1);
    await expect(lots(page)).toContainText("sack of May");
    await expect(entries(page)).toHaveCount(1);
    await page.locator("summary", { hasText: "Shelf and files" }).click();
    await expect(page.locator("#shelf")).toContainText("Set aside");
    await form(page).getByRole("button", { name: "Do not keep it" }).click();
    await slip(page, "32");
    await expect(entries(page)).toHaveCount(2);
  });

  for (const text of ["{", "[]", "null", '{"version":99,"lots":{},"looks":"x"}'])
    test(`a notebook that reads ${text} is set aside`, async ({ page }) => {
      await keepOnDevice(page, { "meltmargin/notebook": text });
      await open(page);
      await go(page, "Notes");
      await expect(lots(page)).toHaveCount(0);
      await page.locator("summary", { hasText: "Shelf and files" }).click();
      await expect(
        page.getByRole("button", {
          name: /^Save it as a file: A part of the notebook/,
        }),
      ).toHaveCount(1);
      await slip(page, "32");
      await expect(entries(page)).toHaveCount(1);
    });
});

test.describe("on a desktop", () => {
  test.use(DESKTOP);

  test("of a jar that melts higher, the rework is smaller", async ({ page }) => {
    await open(page, SLACK.replace("16~29", "16~35"));
    await go(page, "Notes");
    await slip(page, "37");
    await page.getByRole("button", { name: "Compare the reworks" }).click();
    const smaller = /With your jars it is smaller: ([\d.]+)\s% of the recipe moves, instead of ([\d.]+)\s%/;
    const told = page.getByText(smaller);
    await expect(told).toBeVisible({ timeout: 60_000 });
    const [, own_percent, any_percent] = smaller.exec((await told.textContent()) ?? "") ?? [];
    expect(Number(own_percent)).toBeLessThan(Number(any_percent));
    await look(page, "notebook-smaller");
  });

  test("the backup takes the notebook along", async ({ page, browser, baseURL }) => {
    await open(page, SLACK);
    await go(page, "Notes");
    await slip(page, "31");
    await accessible(page);
    await look(page, "notebook-desktop");
    await page.locator("summary", { hasText: "Shelf and files" }).click();
    const file = await saved(page, () => page.getByRole("button", { name: "Everything (backup)" }).click());
    const backup = { name: "all.json", mimeType: "application/json", buffer: Buffer.from(file) };
    const context = await browser.newContext(baseURL ? { baseURL } : {});
    const elsewhere = await context.newPage();
    await open(elsewhere);
    await elsewhere.locator("summary", { hasText: "Shelf and files" }).click();
    for (const how of ["Add what is not here", "Add what is not here", "Replace everything here"]) {
      await elsewhere.getByLabel("Open a recipe or a backup").setInputFiles(backup);
      const sheet = elsewhere.getByRole("dialog", { name: "Read a backup" });
      await expect(sheet).toContainText("the notebook: 1 entry of 1 lot");
      await sheet.getByRole("button", { name: how }).click();
      await expect(lots(elsewhere)).toHaveCount(1);
      await expect(entries(elsewhere)).toHaveCount(1);
    }
    await context.close();
  });
});
