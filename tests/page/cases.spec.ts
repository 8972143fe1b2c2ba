/** All of `tests/cases/`, asked of the worker of the built page: the replies must be the program's, to the last bit. */

import { readFileSync } from "node:fs";
import { askWorker, spyOnWorker } from "./engine.js";
import { expect, fileOf, SINGLE_FILE, test } from "./support.js";

const lines = (name: string) =>
  readFileSync(fileOf(`../cases/${name}`), "utf8")
    .trimEnd()
    .split("\n");
const cases = lines("recipes.jsonl").map((line) => JSON.parse(line) as { case: string; request: unknown });
const replies = lines("recipes.replies.jsonl");

for (const [name, url] of [
  ["the hosted page", "./"],
  ["the single file", SINGLE_FILE],
] as const) {
  test(`${name} replies as the program does`, async ({ page }) => {
    expect(cases.length).toBeGreaterThan(0);
    expect(replies).toHaveLength(cases.length);
    await spyOnWorker(page);
    await page.goto(url);
    for (const [index, { case: title, request }] of cases.entries()) {
      const recorded = JSON.stringify(JSON.parse(replies[index] ?? ""));
      expect(await askWorker(page, request), title).toBe(recorded);
    }
  });
}
