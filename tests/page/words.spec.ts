/** How things are said to readers of several places: asked of the page's own module, without the page. */

import { execFileSync } from "node:child_process";
import { expect, fileOf, test } from "./support.js";

type Said = [id: string, given?: Record<string, unknown>];
type Words = { say(...said: Said): string; sayTo(reader: object): void };

const script = execFileSync(
  fileOf("../../www/node_modules/.bin/esbuild"),
  ["--bundle", "--format=iife", "--global-name=words", "--loader:.ftl=text", "--log-level=warning"],
  { cwd: fileOf("../../www"), input: `export * from "./src/words.js";`, encoding: "utf8" },
);

for (const [locale, sum] of [
  ["en-GB", "The recipe adds up to 98.25\u00a0%. At 100 % the prediction goes on."],
  ["de-DE", "The recipe adds up to 98,25\u00a0%. At 100 % the prediction goes on."],
  ["ar-EG", "The recipe adds up to 98.25\u00a0%. At 100 % the prediction goes on."],
] as const) {
  test.describe(locale, () => {
    test.use({ locale });
    test(`figures are written as in ${locale}, in digits that can be typed`, async ({ page }) => {
      await page.addScriptTag({ content: script });
      const said = await page.evaluate(() => {
        const { say } = (window as unknown as { words: Words }).words;
        return say("verdict-sum", { sum_percent: 98.25 });
      });
      expect(said).toBe(sum);
    });
  });
}
