/** What stands around the bench: what went wrong, the way in the heat, jars and prices, where a figure comes from. */

import {
  accessible,
  address,
  asking,
  box,
  choose,
  DESKTOP,
  figures,
  find,
  holdProofs,
  holdQuestions,
  line,
  look,
  open,
} from "./bench.js";
import { askWorker, spyOnWorker } from "./engine.js";
import { expect, test } from "./support.js";

// A wide screen shows all stations; stations.spec.ts walks through them on a phone.
test.use({ ...DESKTOP, colorScheme: "dark" });

test("of a recipe that does not add up nothing is weighed or printed, until it does", async ({ page }) => {
  await page.addInitScript(() => {
    window.print = () => document.documentElement.setAttribute("data-printed", "");
  });
  await open(page);
  const make = page.locator("#make");
  await expect(make.locator(".weights")).toContainText("Sweet almond oil");
  await page.getByRole("button", { name: "Paste a recipe" }).first().click();
  await page.locator("#paste-text").fill("70 % shea butter\n5 % lemon juice\n25 % peanut oil");
  await page.getByRole("button", { name: "Put 2 lines on the bench" }).click();
  await expect(make).toContainText("The recipe adds up to 95 %.");
  // No weight, no label and no step of what was there before.
  await expect(make).not.toContainText("Sweet almond oil");
  await expect(make.locator(".weights, .steps")).toHaveCount(0);
  await expect(make).not.toContainText("List for the label");
  await expect(make.getByRole("button", { name: "Print the bench sheet" })).toHaveCount(0);
  await accessible(page);
  await look(page, "make-waits");
  // Nor on paper, whoever prints it.
  const paper = page.locator(".bench-sheet");
  await page.emulateMedia({ media: "print" });
  await expect(paper).toContainText("waits on the bench");
  await expect(paper.locator("table, ol")).toHaveCount(0);
  await page.emulateMedia({ media: "screen" });
  await make.getByRole("button", { name: /^Give it to/ }).click();
  await expect(make.locator(".weights")).toContainText("Peanut oil");
  await make.getByRole("button", { name: "Print the bench sheet" }).click();
  await expect(page.locator("html")).toHaveAttribute("data-printed", "");
  await expect(paper.locator("table").first()).toContainText("Peanut oil");
  await expect(paper).not.toContainText("almond");
});

test("from a symptom in the maker's words to its cause, and on to a rework or a rescue", async ({ page }) => {
  await open(page);
  const card = page.locator("#trouble");
  await card.getByLabel("Or in your own words").fill("it went grainy after a hot week");
  await expect(card.getByRole("heading", { name: "Grainy" })).toBeVisible();
  await expect(card).toContainText("It starts above");
  await card.getByLabel("Or in your own words").fill("it sings");
  await expect(card.locator(".problem")).toContainText("Say it in other words");
  await expect(card.getByLabel("Or in your own words")).toHaveValue("it sings");
  await card.getByLabel("The last batch").selectOption("soft-top");
  await expect(card.getByRole("heading", { name: "Soft, wet top" })).toBeVisible();
  await accessible(page);
  await look(page, "trouble");
  await card.getByRole("button", { name: /^Next batch, for/ }).click();
  await expect(page.locator("#reworks .proposal").first()).toBeVisible();
  await card.getByRole("button", { name: "Rescue the batch" }).click();
  await expect(page.locator("#reworks .proposal").first()).toContainText("Melt first");
});

test("what went wrong is taken back, and the same words are answered again", async ({ page }) => {
  await open(page);
  const card = page.locator("#trouble");
  const words = card.getByLabel("Or in your own words");
  await words.fill("it went grainy after a hot week");
  await expect(card.locator("h3")).toHaveText("Grainy");
  await words.fill("");
  await expect(card.locator("h3")).toHaveCount(0);
  await words.fill("it went grainy after a hot week");
  await expect(card.locator("h3")).toHaveText("Grainy");
  await card.getByLabel("The last batch").selectOption("soft-top");
  await expect(card.locator("h3")).toHaveText("Soft, wet top");
  await card.getByLabel("The last batch").selectOption("");
  await expect(card.locator("h3")).toHaveCount(0);
  await expect(card.getByLabel("The last batch")).toHaveValue("");
});

test("on its way in the heat: presets with their source, own temperatures, foam and cold packs", async ({
  page,
  browser,
}) => {
  await open(page);
  await page.locator("summary", { hasText: "On its way in the heat" }).click();
  const card = page.locator("details", {
    has: page.getByRole("heading", { name: "On its way in the heat" }),
  });
  await expect(card).toContainText("It starts to slump after");
  await expect(card).toContainText("abstract");
  await expect(card.locator("caption")).toContainText("better packed");
  await look(page, "heat");
  await card.locator(".chip").filter({ hasText: "50 mm" }).click();
  await card.locator(".chip").filter({ hasText: "800 g" }).click();
  await expect(card.locator(".meets")).toHaveClass(/good/);
  await card.getByLabel("Where", { exact: true }).selectOption("constant");
  await card.getByRole("textbox", { name: "Air" }).fill("20");
  await expect(card.locator(".meets")).toHaveClass(/good/);
  await card.getByLabel("Where", { exact: true }).selectOption("list");
  await expect(card.getByLabel(/^An hour and its/)).toHaveValue("0 20\n6 38\n12 24");
  await card.getByLabel(/^An hour and its/).fill("0 20");
  await expect(card.locator(".problem")).toContainText("at least two");
  await card.getByLabel(/^An hour and its/).fill("0 20\n0 38");
  await expect(card.locator(".problem")).toContainText("must rise");
  await card.getByLabel(/^An hour and its/).fill("0 20\n6 hot");
  await expect(card.locator(".problem")).toContainText("“6 hot” is not an hour and a temperature");
  await card.getByLabel(/^An hour and its/).fill("0 20\n6 38,5\n12 24");
  await expect(card.locator(".problem")).toHaveCount(0);
  await expect(card.locator("svg.journey")).toBeVisible();
  await accessible(page);

  // The link carries the way, the parcel and the pack; undo takes them back.
  await card.getByLabel("Packed in").selectOption("tin");
  const link = await address(page, /_pack~tin_.*_course~0~20~6~38\.5~12~24_foam~50_cold~800_/);
  await page.getByRole("navigation").getByRole("button", { name: "Undo" }).click();
  await expect(card.getByLabel("Packed in")).toHaveValue("");
  const elsewhere = await browser.newContext();
  const other = await elsewhere.newPage();
  await open(other, link);
  const there = other.locator("#journey");
  await expect(there.getByLabel(/^An hour and its/)).toHaveValue("0 20\n6 38.5\n12 24");
  await expect(there.getByRole("radio", { name: "800 g" })).toBeChecked();
  await expect(there.locator("svg.journey")).toBeVisible();
  await expect(other.getByLabel("Packed in").first()).toHaveValue("tin");
  await elsewhere.close();
});

test("jars, air whipped in, prices: the batch and each rework say what they cost", async ({
  page,
  browser,
}) => {
  await open(page);
  await page.locator("summary", { hasText: "Jars, air and prices" }).click();
  const card = page.locator("section", { has: page.getByRole("heading", { name: "Weigh it" }) });
  await expect(card).toContainText(/Fills \d+ jars of 120\smL/);
  await box(page, "Jar").fill("60");
  await expect(card).toContainText("jars of 60 mL");
  const prices = card.locator(".cells input");
  await prices.nth(0).fill("12,50");
  await expect(card).toContainText("without what has no price yet");
  await prices.nth(1).fill("1o");
  await expect(card.locator(".problem")).toContainText("Write a price");
  await expect(prices.nth(1)).toHaveValue("1o");
  await prices.nth(1).fill("8");
  await prices.nth(2).fill("10");
  // 50 % at 12.50, 20 % at 8 and 30 % at 10 make 10.85 a kilogram.
  await expect(card).toContainText(/Costs 5.4[23]: 10.85 a kilogram/);
  // Whoever weighs in ounces buys by the pound, and what was typed is the same price.
  await choose(page, "ounces");
  await expect(card).toContainText(/Costs [\d.]+: 4.92 a pound/);
  await expect(prices.nth(1)).toHaveValue("3.629");
  await prices.nth(1).fill("4");
  await choose(page, "grams");
  await expect(prices.nth(1)).toHaveValue("8.818");
  await prices.nth(1).fill("8");
  await find(page).click();
  await expect(page.locator("#reworks .proposal").first()).toContainText(/Costs [\d.]+ a kilogram/);
  await accessible(page);
  const link = await address(page, /_price~coconut-oil~8~shea-butter~12\.5~sweet-almond-oil~10_/);
  await page.reload();
  await page.locator("summary", { hasText: "Jars, air and prices" }).click();
  await expect(prices.nth(0)).toHaveValue("12.5");

  // Whoever opens the link sees the same costs.
  const elsewhere = await browser.newContext();
  const other = await elsewhere.newPage();
  await open(other, link);
  await expect(other.locator("#page")).toContainText(/Costs 5.4[23]: 10.85 a kilogram/);
  await elsewhere.close();

  // A price goes, comes back with undo, and is there when its ingredient comes back.
  await prices.nth(2).fill("");
  await address(page, /_price~coconut-oil~8~shea-butter~12\.5_/);
  await page.getByRole("navigation").getByRole("button", { name: "Undo" }).click();
  await address(page, /_price~coconut-oil~8~shea-butter~12\.5~sweet-almond-oil~10_/);
  await page.getByRole("button", { name: "Shea butter soft butter" }).click();
  await page.getByRole("button", { name: "Remove Shea butter" }).click();
  await page.getByRole("button", { name: "Add an ingredient" }).click();
  await page.getByRole("searchbox", { name: "Search by name or INCI name" }).fill("shea butter");
  await page.getByRole("button", { name: /^Shea butter Butyrospermum/ }).click();
  await address(page, /_of~coconut-oil~.*_price~coconut-oil~8~shea-butter~12\.5~sweet-almond-oil~10_/);
});

test("caps of fatty alcohol and powder are asked for, and the link carries them", async ({ page }) => {
  await open(page);
  await page.locator("summary", { hasText: "What may change" }).click();
  await box(page, "Most fatty alcohol").fill("4");
  await box(page, "Most powder").fill("2,5");
  const link = await address(page, /_alcohol~4_powder~2\.5_/);
  await page.goto("about:blank");
  await open(page, link);
  await page.locator("summary", { hasText: "What may change" }).click();
  await expect(box(page, "Most fatty alcohol")).toHaveValue("4");
  await find(page).click();
  await expect(page.locator("#reworks .proposal").first()).toBeVisible();
});

test("what an earlier version kept of prices and the pack is not lost", async ({ page }) => {
  await page.addInitScript(() => {
    const kept = {
      version: 1,
      state: {
        name: "Old",
        recipe: [{ id: "shea-butter", percent: 100 }],
        format: "pot",
        storage_c: { coldest: 18, hottest: 30 },
        skin_c: 32.5,
      },
      preferences: { pack: "tin", prices: { "shea-butter": 12.5 } },
    };
    localStorage.setItem("meltmargin.bench", JSON.stringify(kept));
  });
  await open(page);
  await expect(page.getByLabel("Packed in").first()).toHaveValue("tin");
  await address(page, /_of~shea-butter~100_price~shea-butter~12\.5_pack~tin_/);
});

test("figures say where they come from, with their band, beside the figure", async ({ page }) => {
  await open(page);
  await page.locator(".figure").first().click();
  const sheet = page.getByRole("dialog", { name: "Where does this come from?" });
  await expect(sheet).toContainText(/Solid fat content: [\d.]+ ± [\d.]+\s% at 18\s°C/);
  await expect(sheet).toContainText("Nine of ten measured figures");
  await accessible(page);
  await look(page, "origin");
  await page.keyboard.press("Escape");
  await page.locator(".twin summary").click();
  for (const summary of ["On its way in the heat", "How a hardener moves"]) {
    await page.locator("summary", { hasText: summary }).click();
  }
  await expect(page.locator(".dose-line").first()).toBeVisible();
  await expect(page.locator("svg.journey")).toBeVisible();
  await find(page).click();
  await expect(page.locator("#reworks .proposal").first()).toBeVisible();
  const asks = page.locator(".origin:visible, .figure:visible");
  expect(await asks.count()).toBeGreaterThan(10);
  for (const ask of await asks.all()) {
    await ask.click();
    await expect(sheet.locator("h3").first()).toBeVisible();
    expect((await sheet.locator("p").first().textContent())?.length).toBeGreaterThan(40);
    await page.keyboard.press("Escape");
  }
  await asks.first().click();
  await sheet.getByRole("button", { name: "All figures and sources" }).click();
  await expect(page.locator("#sources dt").first()).toBeVisible();
});

test("what is said of a fresh cocoa butter is what the engine says", async ({ page }) => {
  await spyOnWorker(page);
  await open(page);
  await page.locator("#sources summary").click();
  const recipe = [{ id: "cocoa-butter", percent: 100 }];
  const told = JSON.parse(await askWorker(page, { ask: "melt", recipe, at_c: [20], state: "fresh" }));
  const { slip_c, clear_c } = told.answer;
  const said = `slips at ${Number(slip_c.toFixed(1))} °C and is clear at ${Number(clear_c.toFixed(1))} °C`;
  await expect(page.locator("#sources")).toContainText(said);
});

test("fresh beside settled", async ({ page }) => {
  await open(page);
  const toggle = page.getByRole("button", { name: "Show it fresh in the picture" });
  await toggle.click();
  const fresh = page.locator(".picture-frame .curve.fresh");
  await expect(fresh).toHaveCount(1);
  const before = await fresh.getAttribute("d");
  await line(page, "Shea butter").fill("60");
  await line(page, "Sweet almond oil").fill("20");
  await expect.poll(() => fresh.getAttribute("d")).not.toBe(before);
  await look(page, "fresh");
  await toggle.click();
  await expect(fresh).toHaveCount(0);
});

test("a fresh curve that cannot be had is told, and what is weighed stands", async ({ page }) => {
  await open(page);
  const toggle = page.getByRole("button", { name: "Show it fresh in the picture" });
  await toggle.click();
  await expect(page.locator(".curve.fresh")).toHaveCount(1);
  await page.evaluate(() => {
    const send = Worker.prototype.postMessage;
    type Message = { request?: { ask: string; recipe: unknown } };
    Worker.prototype.postMessage = function (this: Worker, message: Message) {
      if (message.request?.ask === "melt") message.request.recipe = [];
      send.call(this, message);
    };
  });
  await line(page, "Shea butter").fill("60");
  await line(page, "Sweet almond oil").fill("20");
  await expect(page.locator(".notice.problem")).toBeVisible();
  await expect(toggle).toHaveAttribute("aria-pressed", "false");
  await expect(page.locator(".curve.fresh")).toHaveCount(0);
  await expect(page.locator(".weights tbody tr").first()).toContainText("60");
});

/** Nothing meets these wishes, and it takes seconds to be sure: a firm bar of ten fats that keeps its shape at 38 °C. */
const LONG =
  "./#v1&recipe=shea-butter:10,coconut-oil:10,sweet-almond-oil:10,mango-butter:10,olive-oil:10,jojoba-oil:10,cupuacu-butter:10," +
  "castor-oil:10,babassu-oil:10,argan-oil:10&as=bar&store=5~38&feel=firm,melts&wax=0&step=0.1&pantry=cocoa-butter,kokum-butter," +
  "sal-butter,illipe-butter,murumuru-butter,palm-oil,palm-stearin,stearic-acid,palmitic-acid,cetyl-alcohol,cetearyl-alcohol," +
  "sunflower-oil,high-oleic-sunflower-oil,grapeseed-oil,apricot-kernel-oil,avocado-oil,rice-bran-oil,squalane,tucuma-butter," +
  "bacuri-butter,kpangnan-butter,shea-stearin,shea-olein,mango-stearin,palm-mid-fraction,palm-olein,dhupa-butter,mowrah-butter," +
  "phulwara-butter,ucuuba-butter,tallow,avocado-butter,almond-butter,olive-butter,hemp-butter,macadamia-butter,jojoba-butter";

test("a long search says how far it is, can be cancelled, and the next one answers", async ({ page }) => {
  // On a fast machine it is over before a button can be pressed: what it finds is held back until then.
  const letGo = await holdProofs(page);
  await open(page, LONG);
  await find(page).click();
  const bar = page.getByRole("progressbar", { name: "Searching" });
  await expect(bar).toHaveAttribute("value", /^0\.\d+|^1$/);
  await expect(page.locator(".running")).toContainText("%…");
  await page.getByRole("button", { name: "Cancel" }).click();
  await expect(bar).toHaveCount(0);
  await letGo();
  await page.locator(".climate .chip").filter({ hasText: "Pot" }).click();
  await box(page, "Hottest").fill("20");
  await find(page).click();
  await expect(page.locator("#reworks .proposal").first()).toBeVisible();
});

test("a slow picture is cancelled, and the search behind it goes on", async ({ page }) => {
  await open(page);
  const letGo = await holdQuestions(page, ["harden", "rework"]);
  await page.locator("summary", { hasText: "How a hardener moves" }).click();
  const waiting = page.locator("#hardeners .running");
  await expect(waiting).toContainText("Working out every dose");
  await find(page).click();
  await expect(page.getByRole("progressbar", { name: "Searching" })).toBeVisible();
  await letGo();
  await waiting.getByRole("button", { name: "Cancel" }).click();
  await expect(waiting).toHaveCount(0);
  await expect(page.locator("#reworks .proposal").first()).toBeVisible();
});

test("a batch of 50 kg is rescued too, by what one weighs of so much", async ({ page }) => {
  await open(page);
  await choose(page, "Rescue a batch");
  await box(page, "What was made").fill("50000");
  await asking(page, "Find a rescue").click();
  const first = page.locator("#reworks .proposal").first();
  await expect(first).toContainText("Meets every wish");
  // By thousands, with a narrow space that does not break.
  await expect(first).toContainText("Then add the batch, 50\u202f000 g");
  const weight = await first.locator(".change strong").first().textContent();
  expect(Number(weight?.replace(/[^\d.]/g, "")) % 50).toBe(0);
});

/** As long: what to melt into ten kilograms, and two versions of such a butter. */
const LONG_TOO = {
  "Find a rescue": LONG.replace("store=5~38", "store=5~28&made=10000~0"),
  "Find both": LONG.replace("as=bar&store=5~38&feel=firm", "as=pot&store=0~10&other=12~24&feel=soft"),
};

for (const [button, address] of Object.entries(LONG_TOO)) {
  test(`"${button}" says how far it is, can be cancelled, and answers`, async ({ page }) => {
    // As above: it may be over sooner than a button is pressed.
    const letGo = await holdProofs(page);
    await open(page, address);
    const ask = asking(page, button);
    const bar = page.getByRole("progressbar", { name: "Searching" });
    await ask.click();
    await expect(bar).toHaveAttribute("value", /^0\.\d+|^1$/);
    await expect(page.locator(".running")).toContainText("%…");
    await page.getByRole("button", { name: "Cancel" }).click();
    await expect(bar).toHaveCount(0);
    await expect(page.locator("#reworks .proposal")).toHaveCount(0);
    await letGo();
    await ask.click();
    await expect(page.locator("#reworks .proposal").first()).toBeVisible({ timeout: 20_000 });
  });
}

test("a search holds up no key: a change ends it, and is answered at once", async ({ page }) => {
  // It is never over by itself: whatever is answered has not waited for it.
  await holdProofs(page);
  await open(page, LONG);
  await find(page).click();
  await expect(page.getByRole("progressbar")).toBeVisible();
  const before = await figures(page);
  await box(page, "Hottest").fill("25");
  await expect.poll(() => figures(page), { intervals: [50] }).not.toEqual(before);
  await expect(page.getByRole("progressbar")).toHaveCount(0);
  await address(page, /store~5~25/);
});
