/** Rough weather: no network, no storage, no server, a hostile link, an odd file. */

import {
  accessible,
  address,
  choose,
  denyStorage,
  figures,
  find,
  line,
  look,
  open,
  verdict,
} from "./bench.js";
import { expect, SINGLE_FILE, test } from "./support.js";

test("the job goes on offline, and what was done is there after a reload", async ({ page, context }) => {
  await open(page);
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    if (!navigator.serviceWorker.controller) {
      await new Promise((resolve) => navigator.serviceWorker.addEventListener("controllerchange", resolve));
    }
  });
  await context.setOffline(true);
  await line(page, "Shea butter").fill("55");
  await line(page, "Sweet almond oil").fill("25");
  await find(page).click();
  await expect(page.locator(".proposal").first()).toBeVisible();
  const link = await address(page, /shea-butter~55/);
  await page.goto("about:blank");
  await open(page, link);
  await expect(line(page, "Shea butter")).toHaveValue("55");
  await context.setOffline(false);
});

test("a reload loses nothing, not even what was typed a moment before", async ({ page }) => {
  await open(page);
  await address(page, /shea-butter~50/);
  await line(page, "Shea butter").fill("61");
  await page.reload();
  await expect(line(page, "Shea butter")).toHaveValue("61");
});

test("the single file does the job from disk", async ({ page }) => {
  await open(page, SINGLE_FILE);
  await find(page).click();
  await page.locator(".proposal").first().getByRole("button", { name: "Use this" }).click();
  await expect(page.locator(".verdict")).not.toHaveClass(/bad/);
  const link = await address(page);
  const shown = await figures(page);
  await page.goto("about:blank");
  await open(page, link);
  await expect.poll(() => figures(page)).toEqual(shown);
});

test("with storage denied it works, and says what is not kept", async ({ page }) => {
  await denyStorage(page);
  await open(page);
  await page.getByRole("button", { name: "More: Shea butter, percent" }).click();
  await expect(line(page, "Shea butter")).toHaveValue("50.5");
  await expect(page.locator("#page")).toContainText("keeps nothing for the page");
});

test("names in a link are text, never markup", async ({ page }) => {
  const name = "<img src=x onerror=alert(1)>";
  await open(
    page,
    `./#v1&name=${encodeURIComponent(name)}&recipe=shea-butter!${encodeURIComponent(name)}:100&as=pot&store=18~25`,
  );
  await expect(page.getByLabel("Name of the recipe")).toHaveValue(name);
  await expect(page.locator(".line-title").first()).toHaveText(name);
  expect(await page.locator("#page img").count()).toBe(0);
});

for (const [what, fragment, says] of [
  ["a broken amount", "#v1&recipe=shea-butter:NaN", "not a number"],
  ["a batch that is no number", "#v1&recipe=shea-butter:100&made=many~0", "not a number"],
  ["half a season", "#v1&recipe=shea-butter:100&other=5", "two numbers"],
  ["an odd aim", "#v1&recipe=shea-butter:100&aim=moon", "is not `now`"],
  ["a later version", "#v9&x=1", "later version"],
  ["a huge link", `#v1&name=${"a".repeat(30_000)}`, "longer than"],
  ["text of another kind", "#<script>alert(1)</script>", "begin with its version"],
] as const) {
  test(`a link with ${what} is refused in words, and the bench is left alone`, async ({ page }) => {
    await open(page, `./${fragment}`);
    await expect(page.locator(".notice.problem, .notice")).toContainText(says);
    await expect(line(page, "Shea butter")).toHaveValue("50");
  });
}

test("an ingredient that this catalogue does not know is carried along and named", async ({ page }) => {
  await page.goto("./#v1&recipe=shea-butter:60,a-later-butter:40&as=pot&store=18~25");
  await expect(page.locator(".line")).toHaveCount(2);
  await expect(page.locator(".line").nth(1)).toContainText("a-later-butter");
  await expect(page.locator("#percent-1-problem")).toContainText("a-later-butter");
});

test("a pasted recipe is understood with a preview", async ({ page }) => {
  await open(page);
  await page.locator("summary", { hasText: "Shelf and files" }).click();
  await page.getByRole("button", { name: "Paste a recipe" }).click();
  await page.locator("#paste-text").fill("60 shea buter, 12,5 % coconut oil\n27.5 sunflower");
  await expect(page.locator(".read-line")).toHaveCount(3);
  await look(page, "paste");
  await page.getByRole("button", { name: "Put 3 lines on the bench" }).click();
  await expect(line(page, "Coconut oil")).toHaveValue("12.5");
  await expect(line(page, "Sunflower oil")).toHaveValue("27.5");
  await page.locator(".notice").getByRole("button", { name: "Undo" }).click();
  await expect(line(page, "Coconut oil")).toHaveValue("20");
});

test("recipes are kept by name, saved as files and opened again", async ({ page }) => {
  await open(page);
  await page.locator("summary", { hasText: "Shelf and files" }).click();
  await page.getByRole("button", { name: "Keep this recipe by its name" }).click();
  await line(page, "Shea butter").fill("60");
  await line(page, "Sweet almond oil").fill("20");
  await expect(verdict(page)).toContainText("°C");
  const file = page.waitForEvent("download");
  await page.getByRole("button", { name: "Recipe (JSON)" }).click();
  const saved = await (await file).path();
  for (const kind of ["Curve (CSV)", "Picture (SVG)", "Picture (PNG)"]) {
    const download = page.waitForEvent("download");
    await page.getByRole("button", { name: kind }).click();
    const stream = await (await download).createReadStream();
    const chunks: Buffer[] = [];
    for await (const chunk of stream) chunks.push(chunk as Buffer);
    expect(Buffer.concat(chunks).length, kind).toBeGreaterThan(500);
  }
  await page.getByRole("button", { name: /^Whipped shea/ }).click();
  await expect(line(page, "Shea butter")).toHaveValue("50");
  await page.getByLabel("Open a recipe or a backup").setInputFiles(saved);
  await expect(line(page, "Shea butter")).toHaveValue("60");
  await page.getByLabel("Open a recipe or a backup").setInputFiles({
    name: "odd.json",
    mimeType: "application/json",
    buffer: Buffer.from('{"meltmargin":1,"state":{"recipe":"all of it"}}'),
  });
  await expect(page.locator(".notice")).toContainText("its list of ingredients is not what it should be");
  await expect(line(page, "Shea butter")).toHaveValue("60");
});

// 30 MB were read and looked through for 14 s before they were refused; and the refusal went on standing.
test("a file that is too large is refused unread, and the refusal goes with the next file", async ({
  page,
}) => {
  await open(page);
  await page.locator("summary", { hasText: "Shelf and files" }).click();
  await page.evaluate(() => {
    const told = window as unknown as { read: number };
    told.read = 0;
    const text = File.prototype.text;
    File.prototype.text = function (this: File) {
      told.read++;
      return text.call(this);
    };
  });
  const file = (text: string) => ({
    name: "all.json",
    mimeType: "application/json",
    buffer: Buffer.from(text),
  });
  const input = page.getByLabel("Open a recipe or a backup");
  await input.setInputFiles(file(`{"meltmargin":2,"shelf":"${"x".repeat(8_400_000)}"}`));
  await expect(page.locator(".notice")).toContainText("is 8.4 MB large");
  await expect(page.locator(".notice")).toContainText("larger than 8 MB");
  expect(await page.evaluate(() => (window as unknown as { read: number }).read)).toBe(0);
  await input.setInputFiles(file('{"meltmargin":2,"shelf":[]}'));
  await expect(page.getByRole("heading", { name: "Read a backup" })).toBeVisible();
  await expect(page.locator(".notice")).toHaveCount(0);
});

test("the bench sheet is one page of paper", async ({ page }) => {
  await page.addInitScript(() => {
    window.print = () => {};
  });
  await open(page);
  await page.getByRole("button", { name: "Print the bench sheet" }).click();
  await expect(page.locator(".bench-sheet .code path")).toHaveCount(1);
  for (const format of ["A4", "Letter"]) {
    const pdf = (await page.pdf({ format })).toString("latin1");
    expect(pdf.match(/\/Type\s*\/Page\b/g), format).toHaveLength(1);
  }
  await page.emulateMedia({ media: "print" });
  await expect(page.locator(".bench-sheet")).toBeVisible();
  await expect(page.locator(".bench-sheet")).toContainText("#v2_");
  await look(page, "bench-sheet");
});

test("the hardener picture has its own link, and is one page of paper", async ({ page, browser }) => {
  await page.addInitScript(() => {
    window.print = () => {};
  });
  await open(page);
  await page.locator("summary", { hasText: "How a hardener moves" }).click();
  await expect(page.locator(".dose-line")).toHaveCount(3);
  await choose(page, "Everything");
  await page.locator(".dose input").fill("12");
  const link = await address(page, /swap~all_dose~12/);
  const elsewhere = await browser.newContext();
  const other = await elsewhere.newPage();
  await open(other, link);
  await expect(other.locator(".dose-line")).toHaveCount(3);
  await expect(other.locator("#hardeners .figures > summary")).toContainText("12 %");
  await page.locator("#hardeners").getByRole("button", { name: "Print it" }).click();
  await page.emulateMedia({ media: "print" });
  const sheet = page.locator(".class-sheet");
  await expect(sheet.locator("svg.doses")).toBeVisible();
  // The recipe, the doses, a code to follow, and room for what is measured.
  await expect(sheet).toContainText(/Shea butter\s*50/);
  await expect(sheet.locator("caption").first()).toContainText("Softens");
  for (const dose of ["0 %", "12 %", "20 %"]) await expect(sheet.locator("thead").nth(1)).toContainText(dose);
  await expect(sheet.locator(".code path")).toHaveCount(1);
  await expect(sheet).toContainText("_dose~12");
  expect(await sheet.locator("tr.empty").count()).toBeGreaterThan(5);
  await expect(page.locator("#page button:visible, .bench-sheet:visible")).toHaveCount(0);
  await expect(page.getByRole("heading", { name: "Recipe" })).toBeHidden();
  await look(page, "hardeners-print");
  const pdf = (await page.pdf({ format: "A4" })).toString("latin1");
  expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
  await elsewhere.close();
});

test("a dose of a link that is not a whole percent is shown at the nearest that is", async ({ page }) => {
  const link = "./#v1&recipe=shea-butter:94.5,olive-oil:5.5&as=pot&store=18~30&picture=beeswax&dose=";
  const row = page.locator("#hardeners tbody");
  await open(page, `${link}4.6`);
  await expect(page.locator("#hardeners .figures > summary")).toHaveText("All figures at 5 %");
  await expect(row).toHaveText(/Beeswax\s*\d/);
  // The picture ends where there is no more oil to replace.
  await expect(page.locator(".dose input")).toHaveAttribute("max", "5");
  await page.goto("about:blank");
  await open(page, `${link}20.4&swap=all`);
  await expect(page.locator("#hardeners .figures > summary")).toHaveText("All figures at 20 %");
  await expect(row).toHaveText(/Beeswax\s*\d/);
});

/** Ten lines and everything that can be said of them. */
const TEN =
  "./#v1&name=Ten+lines&recipe=shea-butter:20,cocoa-butter:10,mango-butter:10,coconut-oil:10,sweet-almond-oil:10," +
  "high-oleic-sunflower-oil:10,apricot-kernel-oil:10,jojoba-oil:10,stearic-acid:5,beeswax:5" +
  "&price=10,10,10,10,10,10,10,10,10,10&as=whipped&pack=tin&store=16.5~31.5&skin=33.5&feel=scoopable,lingers&way=mailbox";

test("ten lines, and four hardeners, print on one page of A4 and of Letter", async ({ page }) => {
  await page.addInitScript(() => {
    window.print = () => {};
  });
  const pages = async (format: string) => {
    const paper = (await page.pdf({ format })).toString("latin1");
    return paper.match(/\/Type\s*\/Page[^s]/g)?.length;
  };
  await open(page, TEN);
  await expect(page.locator(".weights tbody tr")).toHaveCount(10);
  await page.getByRole("button", { name: "Print the bench sheet" }).click();
  await expect(page.locator(".bench-sheet .code path")).toHaveCount(1);
  for (const format of ["A4", "Letter"]) expect(await pages(format), format).toBe(1);
  await page.goto("about:blank");
  await open(
    page,
    "./#v1&recipe=shea-butter:70,olive-oil:30&as=pot&store=18~30&picture=cocoa-butter,stearic-acid,beeswax,cetyl-alcohol&dose=8",
  );
  await expect(page.locator("#hardeners .dose-line")).toHaveCount(4);
  await page.locator("#hardeners").getByRole("button", { name: "Print it" }).click();
  await expect(page.locator(".class-sheet .code path")).toHaveCount(1);
  for (const format of ["A4", "Letter"]) expect(await pages(format), format).toBe(1);
});

test("an answer is shared as it would be, without being used", async ({ page }) => {
  await page.addInitScript(() => {
    const told = window as unknown as { copied: string };
    Object.defineProperty(navigator, "clipboard", {
      value: {
        writeText: async (text: string) => {
          told.copied = text;
        },
      },
    });
  });
  await open(page);
  await find(page).click();
  // The button beside it was read out too: “One answer. ?”
  const found = page.locator("#reworks [role=status]");
  await expect(found).toContainText("answer");
  await expect(found).not.toContainText("?");
  await page.getByRole("button", { name: "Share answer 1" }).click();
  await expect(page.locator(".notice")).toContainText("The link is copied");
  const link = await page.evaluate(() => (window as unknown as { copied: string }).copied);
  await expect(line(page, "Sweet almond oil")).toHaveValue("30");
  const amounts = await page.locator(".proposal").first().locator(".change strong").allInnerTexts();
  await page.goto("about:blank");
  await open(page, link);
  const boxes = await page
    .locator(".line > .number input")
    .evaluateAll((all) => all.map((one) => `${(one as HTMLInputElement).value} %`));
  for (const amount of amounts) expect(boxes).toContain(amount.replace(/\s/g, " "));
});

test("a link can be copied by hand where the page may not", async ({ page }) => {
  await page.addInitScript(() => {
    const writeText = async () => {
      throw new DOMException("denied", "NotAllowedError");
    };
    Object.defineProperty(navigator, "clipboard", { value: { writeText } });
  });
  await open(page);
  await page.getByRole("button", { name: "Share", exact: true }).click();
  const field = page.getByRole("textbox", { name: "Link" });
  await expect(field).toBeFocused();
  await expect(field).toHaveValue(page.url());
  // All of it is marked, ready for the hand.
  const marked = await field.evaluate((one) => {
    const { selectionStart, selectionEnd, value } = one as HTMLTextAreaElement;
    return value.slice(selectionStart, selectionEnd);
  });
  expect(marked).toBe(page.url());
  await accessible(page);
});
