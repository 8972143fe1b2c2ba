/**
 * What the page may find on the device: whatever it is, the page is there, and nothing of it is thrown away.
 *
 * The states marked `BLANK` threw in a draw of 3214e57: most left its page empty, with no way out but to clear the browser's data.
 */

import { isDeepStrictEqual } from "node:util";
import { keepOnDevice, saved, verdict } from "./bench.js";
import { deliveries, type Host, serveAtRoot } from "./server.js";
import { expect, test } from "./support.js";

// Fifty pages a test: to record them takes most of the time.
test.use({ trace: "off" });

let host: Host;
test.beforeAll(async () => {
  host = await serveAtRoot();
});
test.afterAll(() => host.close());

/** A week's work, as a link. */
const WEEK =
  "v1&name=Week&recipe=shea-butter:61,coconut-oil:19,sweet-almond-oil:20&as=pot&store=17~29&feel=soft";

const GOOD = {
  name: "Week",
  recipe: [
    { id: "shea-butter", percent: 61 },
    { id: "coconut-oil", percent: 39 },
  ],
  format: "pot",
  storage_c: { coldest: 17, hottest: 29 },
  skin_c: 32.5,
};
const first = (state: unknown, more: object = {}) => ({
  "meltmargin.bench": JSON.stringify({
    version: 1,
    state,
    preferences: {},
    ...more,
  }),
});
const second = (place: string, value: unknown) => ({
  [`meltmargin/${place}`]: typeof value === "string" ? value : JSON.stringify(value),
});
const withLimits = (limits: unknown) => first({ ...GOOD, limits });

const BLANK = "blank on 3214e57";

/** What the page may find on a device, and whether it is opened as it is or set aside (`aside`), as far as it cannot be read. */
const FOUND: [string, Record<string, string>, "opened" | "aside", string?][] = [
  // As 3214e57 kept it.
  ["what it kept", first(GOOD), "opened"],
  ["an empty text", { "meltmargin.bench": "" }, "aside"],
  ["half a text", { "meltmargin.bench": first(GOOD)["meltmargin.bench"].slice(0, 60) }, "aside"],
  ["a number", { "meltmargin.bench": "5" }, "aside"],
  ["a list", { "meltmargin.bench": "[]" }, "aside"],
  ["no state", { "meltmargin.bench": '{"version":1}' }, "aside"],
  ["no state but null", first(null), "aside"],
  ["another version", { "meltmargin.bench": JSON.stringify({ version: 7, state: GOOD }) }, "aside"],
  ["a recipe that is no list", first({ ...GOOD, recipe: { length: 2 } }), "aside"],
  ["an empty recipe", first({ ...GOOD, recipe: [] }), "opened"],
  ["a line that is null", first({ ...GOOD, recipe: [null] }), "aside", BLANK],
  ["a line without percent", first({ ...GOOD, recipe: [{ id: "shea-butter" }] }), "aside", BLANK],
  [
    "a percent that was no number",
    first({ ...GOOD, recipe: [{ id: "shea-butter", percent: null }] }),
    "aside",
  ],
  ["a percent as text", first({ ...GOOD, recipe: [{ id: "shea-butter", percent: "61" }] }), "aside", BLANK],
  ["an endless percent", first({ ...GOOD, recipe: [{ id: "shea-butter", percent: 1e308 }] }), "aside", BLANK],
  ["an id that is a number", first({ ...GOOD, recipe: [{ id: 7, percent: 100 }] }), "aside", BLANK],
  ["no storage", first({ ...GOOD, storage_c: null }), "aside", BLANK],
  ["a storage of one end", first({ ...GOOD, storage_c: { coldest: 18 } }), "aside", BLANK],
  ["a temperature as text", first({ ...GOOD, storage_c: { coldest: 18, hottest: "hot" } }), "aside", BLANK],
  ["limits that are null", withLimits(null), "aside"],
  ["bounds that are a list", withLimits({ bounds: [1, 2] }), "aside"],
  ["a bound that is one number", withLimits({ bounds: { "shea-butter": 5 } }), "aside"],
  ["locks that are null", withLimits({ locked: null }), "aside", BLANK],
  ["a pantry that is a number", withLimits({ pantry: 7 }), "aside", BLANK],
  ["refusals that are a text", withLimits({ refuse: "bee" }), "aside", BLANK],
  ["prices that are words", first({ ...GOOD, prices: { "shea-butter": "dear" } }), "aside", BLANK],
  // The engine knows what stands for what is left out of it.
  ["an empty picture", first({ ...GOOD, picture: {} }), "opened", BLANK],
  ["a picture that is a list", first({ ...GOOD, picture: [] }), "aside"],
  ["an empty journey", first({ ...GOOD, journey: {} }), "aside", BLANK],
  ["a batch without weight", first({ ...GOOD, made: {} }), "aside"],
  ["a format that is none", first({ ...GOOD, format: "moon" }), "aside"],
  ["a name that is none", first({ ...GOOD, name: { first: "Week" } }), "aside"],
  [
    "an ingredient called constructor, with a price",
    first({
      ...GOOD,
      recipe: [{ name: "constructor", like: "shea-butter", percent: 100 }],
      prices: { constructor: 5 },
    }),
    "opened",
  ],
  ["preferences that are null", first(GOOD, { preferences: null }), "opened"],
  ["a unit that is none", first(GOOD, { preferences: { temperature: "K" } }), "aside"],
  ["a batch that is text", first(GOOD, { preferences: { batch: "lots" } }), "aside"],
  ["prices that are a list", first(GOOD, { preferences: { prices: [1] } }), "aside"],
  ["a shelf that is no list", { "meltmargin.shelf": "{}" }, "aside"],
  [
    "a recipe on the shelf without lines",
    {
      "meltmargin.shelf": JSON.stringify([
        { name: "Odd", state: { recipe: [null] } },
        { name: "Good", state: GOOD },
      ]),
    },
    "aside",
  ],
  ["an own ingredient of nothing", { "meltmargin.own": '[null,{"name":"Lot"}]' }, "aside"],
  [
    "a draft of numbers",
    { "meltmargin.own-draft": '{"acids":5,"solids":{},"way":"moon","name":7}' },
    "opened",
  ],
  // As it is kept now.
  ["a link", second("bench", { version: 2, link: WEEK }), "opened"],
  ["the worked example", second("bench", { version: 2, example: true, link: "garbage" }), "opened"],
  ["a link that cannot be read", second("bench", { version: 2, link: "v1&recipe=shea-butter:NaN" }), "aside"],
  [
    "a state that cannot, beside a link that can",
    second("bench", { version: 2, link: WEEK, state: { recipe: 5 } }),
    "aside",
  ],
  ["half of a text", second("bench", '{"version":2,"li'), "aside"],
  ["what a later version keeps", second("bench", { version: 3, link: WEEK }), "aside"],
  [
    "a shelf of numbers",
    second("shelf", { version: 2, recipes: [1, { name: "Week", link: WEEK }] }),
    "aside",
  ],
  ["a shelf without its list", second("shelf", { version: 2 }), "aside"],
  ["own ingredients that are text", second("own", { version: 2, ingredients: "all" }), "aside"],
  [
    "preferences of another kind",
    second("preferences", { version: 2, overrun: "much", prices: { a: -1 } }),
    "aside",
  ],
  ["garbled preferences", second("preferences", "%"), "aside"],
  ["a garbled draft", second("own-draft", "%"), "aside"],
  ["what was set aside, garbled", second("aside", "%"), "aside"],
];

/** Every part of a value, the whole first. */
function* parts(value: unknown): Generator<unknown> {
  yield value;
  if (typeof value === "object" && value !== null) for (const one of Object.values(value)) yield* parts(one);
}

const parsed = (text: string): unknown => {
  try {
    return JSON.parse(text);
  } catch {
    return text;
  }
};

/** Whether what was set aside is what was found, or a part of it with nothing missing. */
function isPart(aside: string, found: string): boolean {
  if (aside === found) return true;
  const value = parsed(aside);
  return [...parts(parsed(found))].some((part) => {
    if (isDeepStrictEqual(part, value) || part === aside) return true;
    if (typeof part !== "object" || part === null || typeof value !== "object" || value === null)
      return false;
    const [has, needs] = [new Map(Object.entries(value)), Object.entries(part)];
    return needs.length > 0 && needs.every(([key, one]) => isDeepStrictEqual(has.get(key), one));
  });
}

for (const [delivery, url] of deliveries(() => host)) {
  test(`${delivery}: whatever is found on the device, the page is there, and nothing is thrown away`, async ({
    browser,
    baseURL,
  }) => {
    test.setTimeout(300_000);
    // One host keeps as another does: at its root, only what was worst.
    const found = delivery === "hosted" ? FOUND.filter((one) => one[3]) : FOUND;
    for (const [what, texts, outcome] of found) {
      await test.step(what, async () => {
        const context = await browser.newContext(baseURL ? { baseURL } : {});
        const page = await context.newPage();
        const faults: string[] = [];
        page.on("pageerror", (error) => faults.push(error.message));
        await keepOnDevice(page, texts);
        await page.goto(url());
        await expect(page.getByRole("heading", { level: 1 }), what).toBeVisible();
        await expect(verdict(page), what).toContainText(/°C|Add an ingredient/);
        const notice = page.locator(".notice");
        if (outcome === "opened") await expect(page.locator("#shelf"), what).not.toContainText("Set aside");
        else {
          await expect(notice, what).toContainText("could not be read");
          const file = await saved(page, () =>
            notice.getByRole("button", { name: "Save it as a file" }).click(),
          );
          const list = parsed(file);
          const asides = Array.isArray(list) && list[0]?.why ? list.map((one) => one.text as string) : [file];
          for (const aside of asides) {
            const from = Object.values(texts).some((found) => isPart(aside, found));
            expect(from, `${what}: ${aside}`).toBe(true);
          }
        }
        expect(faults, what).toEqual([]);
        await context.close();
      });
    }
  });
}
