/**
 * How things are said: asked of the page's own module, without the page. What is said of the recorded cases, and of every finding
 * with figures of its kind, is recorded in `tests/cases/`; `MINT=1` records it anew.
 */

import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import type { Page } from "@playwright/test";
import { expect, fileOf, test } from "./support.js";

type Finding = { kind: string };
type Words = {
  say(id: string, given?: object): string;
  sayFinding(subject: string, finding: Finding): string;
  sayTo(reader: object): void;
};
type Reader = { temperature: "C" | "F"; mass: "g" | "oz" };

const script = execFileSync(
  fileOf("../../www/node_modules/.bin/esbuild"),
  ["--bundle", "--format=iife", "--global-name=words", "--loader:.ftl=text", "--log-level=warning"],
  { cwd: fileOf("../../www"), input: `export * from "./src/words.js";`, encoding: "utf8" },
);
const text = (name: string) => readFileSync(fileOf(name), "utf8");

const CELSIUS: Reader = { temperature: "C", mass: "g" };
const FAHRENHEIT: Reader = { temperature: "F", mass: "oz" };

/** Says findings to a reader, in the browser that it would be said in. */
async function said(page: Page, reader: Reader, findings: [string, Finding][]): Promise<string[]> {
  await page.goto("about:blank");
  await page.addScriptTag({ content: script });
  return page.evaluate(
    ({ reader, findings }) => {
      const { sayFinding, sayTo } = (window as unknown as { words: Words }).words;
      sayTo({ ...reader, nameOf: (id: string) => id.replaceAll("-", " ") });
      return findings.map(([subject, finding]) => sayFinding(subject, finding));
    },
    { reader, findings },
  );
}

/** Compares with what was recorded. */
function recorded(name: string, lines: string[]): void {
  const file = fileOf(`../cases/${name}`);
  const now = `${lines.join("\n").replaceAll("\u00a0", " ")}\n`;
  if (process.env.MINT) writeFileSync(file, now);
  expect(now, "if that is meant: MINT=1 npx playwright test words").toBe(readFileSync(file, "utf8"));
}

/** What there is to say, by subject and kind. */
const list: Record<string, Record<string, string[]>> = JSON.parse(text("../../www/words/findings.json"));

/** Of what subject the findings in a field of a reply are, where the field is not called so; with what it is in where that decides. */
const SUBJECTS: Record<string, string> = {
  findings: "rework",
  "verdict.findings": "verdict",
  "seasons.findings": "seasons",
  remarks: "remark",
  "read.remarks": "text-remark",
  "open-link.remarks": "link-remark",
  misses: "miss",
  holds: "verdict",
  steps: "step",
  cautions: "caution",
  melts: "dab",
  causes: "cause",
  remedies: "remedy",
  readings: "reading",
  reason: "no-butter",
  dose_notes: "dose-note",
  notes: "batch-note",
  "label.notes": "label-note",
};

/** The findings of a part of a reply, in the order in which they stand; of the whole, the field is the question. */
function found(part: unknown, field: string, within = ""): [string, Finding][] {
  if (Array.isArray(part)) return part.flatMap((one) => found(one, field, within));
  if (typeof part !== "object" || !part) return [];
  // What is wrong with an entry is said in the engine's own words.
  if ("kind" in part && "message" in part) return [];
  if ("kind" in part) {
    const subject = SUBJECTS[`${within}.${field}`] ?? SUBJECTS[field] ?? field;
    expect(list, `what ${field} is about`).toHaveProperty(subject);
    return [[subject, part as Finding]];
  }
  return Object.entries(part).flatMap(([name, value]) => found(value, name, field));
}

for (const [reader, name, locale] of [
  [CELSIUS, "words.celsius.txt", "en-GB"],
  [FAHRENHEIT, "words.fahrenheit.txt", "en-US"],
] as const) {
  test.describe(locale, () => {
    test.use({ locale });
    test(`what is said of the recorded cases in °${reader.temperature}`, async ({ page }) => {
      const cases = text("../cases/recipes.jsonl").trimEnd().split("\n");
      const replies = text("../cases/recipes.replies.jsonl").trimEnd().split("\n");
      const lines: string[] = [];
      for (const [at, line] of cases.entries()) {
        const { case: name, request } = JSON.parse(line);
        const findings = found(JSON.parse(replies[at] ?? "{}").answer, request.ask);
        if (!findings.length) continue;
        lines.push(`# ${name}`);
        const words = await said(page, reader, findings);
        for (const one of words) expect(one, name).not.toMatch(reader.temperature === "F" ? /°C/ : /°F/);
        lines.push(...words.map((one, i) => `${findings[i]?.[0]}: ${one}`), "");
      }
      recorded(name, lines);
    });
  });
}

/** A figure of a kind, by what its name ends in. */
const FIGURES: Record<string, unknown> = {
  c: 29.4,
  k: 2.4,
  percent: 12.4,
  g: 300,
  h: 2.71,
  s: 35.2,
  min: 15,
  mm: 30,
  id: "shea-butter",
  ids: ["shea-butter", "beeswax"],
  lines: 2,
  acids: 4,
  fragment: "v1&recipe=shea-butter:100",
  batches: 3,
  some: 4,
  sum: 1234.5,
};
/** What is no figure. */
const WORDS: Record<string, unknown> = {
  of: "clear",
  carrier: "fat-crystals",
  key: "mood",
  air: { kind: "mailbox" },
  packing: { kind: "foam-and-cold", foam_mm: 30, cold_g: 300 },
  feel: "lingers",
  class: "soft",
  from: "soft",
  to: "firm",
  softest: "slack",
  hardest: "firm",
  format: "whipped",
  unit: "grams",
  line: "Total 100",
  name: "my shea",
  wish: "on-skin",
  on_skin: "melts",
  pack: "tin",
  holds: true,
};

test("every finding can be said", async ({ page }) => {
  const findings: [string, Finding][] = [];
  for (const [subject, kinds] of Object.entries(list)) {
    for (const [kind, figures] of Object.entries(kinds)) {
      const given = figures.map((figure) => {
        const value = WORDS[figure] ?? FIGURES[figure.split("_").at(-1) ?? ""];
        expect(value, `what ${subject}-${kind} is given as ${figure}`).toBeDefined();
        return [figure, value];
      });
      findings.push([subject, { kind, ...Object.fromEntries(given) }]);
    }
  }
  const words = await said(page, CELSIUS, findings);
  const heads = findings.map(([subject, { kind }]) => `${subject}-${kind}`);
  for (const [at, one] of words.entries()) {
    expect(one, heads[at]).not.toMatch(/[{}]|undefined|NaN|null/);
  }
  recorded(
    "words.every.txt",
    words.map((one, at) => `${heads[at]}: ${one}`),
  );
});

for (const [locale, sum] of [
  ["en-GB", "98.25"],
  ["de-DE", "98,25"],
  ["ar-EG", "٩٨٫٢٥"],
] as const) {
  test.describe(locale, () => {
    test.use({ locale });
    test(`figures are written as in ${locale}`, async ({ page }) => {
      await page.addScriptTag({ content: script });
      const said = await page.evaluate(() => {
        const { say } = (window as unknown as { words: Words }).words;
        return say("verdict-sum", { sum_percent: 98.25 });
      });
      expect(said).toBe(`The recipe adds up to ${sum}\u00a0%. Bring it to 100 %, and it is predicted again.`);
    });
  });
}

test("the catalogue's names begin small within a sentence, the reader's own stay as they are", async ({
  page,
}) => {
  await page.addScriptTag({ content: script });
  const said = await page.evaluate(() => {
    const { sayFinding, sayTo } = (window as unknown as { words: Words }).words;
    const names = new Map([
      ["shea-butter", "Shea butter"],
      ["japan-wax", "Japan wax"],
      ["vitamin-e", "Vitamin E"],
    ]);
    sayTo({ nameOf: (id: string) => names.get(id) ?? id });
    const finding = { kind: "moves", shift_percent: 3, from_ids: ["My Shea"], to_ids: [...names.keys()] };
    return sayFinding("rework", finding);
  });
  expect(said).toBe("3\u00a0% moves from My Shea to shea butter, Japan wax, and vitamin E.");
});

test("a name from right to left does not turn what stands beside it", async ({ page }) => {
  const name = "שמן שקדים";
  const findings: [string, Finding][] = [
    ["label-note", { kind: "own-names", ids: [name, "my shea"] } as Finding],
    ["text-remark", { kind: "added", name } as Finding],
  ];
  const words = await said(page, CELSIUS, findings);
  expect(words[0]).toBe(`These are your own names, not INCI: \u2068${name}\u2069 and my shea.`);
  expect(words[1]).toBe(`“\u2068${name}\u2069” is there twice; the amounts were added.`);
});
