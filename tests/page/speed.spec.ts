/**
 * How long the engine takes in the browser, as it is shipped: what `dist/` holds, asked on the page's own thread, so that no message
 * is timed along. Not a test: `MEASURE=1 npx playwright test speed` prints the table of tests/bench/README.md. The requests
 * are those of `tests/bench/`.
 */

import { readdirSync, readFileSync } from "node:fs";
import type { Page } from "@playwright/test";
import { expect, fileOf, test } from "./support.js";

test.skip(!process.env.MEASURE, "measures only when asked to");
test.setTimeout(900_000);

type Engine = {
  initSync: (start: { module: WebAssembly.Module }) => unknown;
  ask: (request: unknown) => { answer: unknown };
};
type Holder = { engine: Engine };

const recipe = (parts: Record<string, number>) =>
  Object.entries(parts).map(([id, percent]) => ({ id, percent }));
const FIVE = recipe({
  "shea-butter": 50,
  "cocoa-butter": 15,
  "coconut-oil": 15,
  "sweet-almond-oil": 17,
  beeswax: 3,
});
const THREE = recipe({ "shea-butter": 60, "coconut-oil": 15, "sweet-almond-oil": 25 });
const TWELVE = recipe({
  "shea-butter": 30,
  "cocoa-butter": 12,
  "mango-butter": 10,
  "coconut-oil": 10,
  "kokum-butter": 5,
  "sweet-almond-oil": 10,
  "olive-oil": 8,
  "jojoba-oil": 5,
  "avocado-oil": 4,
  "stearic-acid": 3,
  "cetyl-alcohol": 1.5,
  beeswax: 1.5,
});
const climate = { storage_c: { coldest: 16, hottest: 30 }, firmness: "scoopable", on_skin: "melts" };
const ASKED: [string, object][] = [
  [
    "melt, 12 ingredients, 161 °C",
    { ask: "melt", recipe: TWELVE, at_c: Array.from({ length: 161 }, (_, at) => at / 2) },
  ],
  ["behave, 5 ingredients", { ask: "behave", recipe: FIVE, format: "whipped", ...climate }],
  ["behave, 12 ingredients", { ask: "behave", recipe: TWELVE, format: "pot", ...climate }],
  ["expose, a day", { ask: "expose", recipe: THREE, format: "pot", air: { preset: "mailbox" } }],
  [
    "expose, a day, boxed",
    {
      ask: "expose",
      recipe: THREE,
      format: "pot",
      air: { preset: "parked-car-sun" },
      parcel: { insulation_mm: 30, cold_pack_g: 300 },
    },
  ],
  ["batch", { ask: "batch", recipe: THREE, batch_g: 1234 }],
];

/** The shipped engine, and the script that wasm-bindgen wrote for it, as one plain script. */
function engine(): { script: string; wasm: string } {
  const assets = fileOf("../../dist/assets/");
  const name = readdirSync(assets).find((name) => name.endsWith(".wasm"));
  const glue = readFileSync(fileOf("../../www/generated/meltmargin.js"), "utf8")
    .replace(/^export \{[^}]*\};?$/m, "globalThis.engine = { ask, initSync };")
    .replace(/^export /gm, "")
    .replaceAll("import.meta.url", "''");
  return {
    script: `(() => {\n${glue}\n})();`,
    wasm: readFileSync(`${assets}${name}`).toString("base64"),
  };
}

/** Loads the engine into an empty page. */
async function start(page: Page): Promise<void> {
  const { script, wasm } = engine();
  await page.goto("about:blank");
  await page.addScriptTag({ content: script });
  await page.evaluate((wasm) => {
    const bytes = Uint8Array.from(atob(wasm), (letter) => letter.charCodeAt(0));
    (window as unknown as Holder).engine.initSync({ module: new WebAssembly.Module(bytes) });
  }, wasm);
}

test("the engine's times", async ({ page, browser }) => {
  await start(page);
  console.log(`Chromium ${browser.version()}, ms: least, median of 300 after 300`);
  for (const [name, request] of ASKED) {
    const times = await page.evaluate((request) => {
      const { engine } = window as unknown as Holder;
      if (!engine.ask(request).answer) return [];
      const times: number[] = [];
      for (let i = 0; i < 600; i++) {
        const began = performance.now();
        engine.ask(request);
        times.push(performance.now() - began);
      }
      return times.slice(300).sort((a, b) => a - b);
    }, request);
    expect(times.length, `${name} is refused`).toBe(300);
    console.log(`${name.padEnd(32)} ${times[0]?.toFixed(2)} ${times[150]?.toFixed(2)}`);
  }
});

/** The large questions of `tests/rework/`. Throttling reaches the page's own thread, not a worker, so they are asked there. */
test("the search's times", async ({ page, context, browser }) => {
  const questions: { name: string; request: object }[] = readFileSync(fileOf("../rework/large.jsonl"), "utf8")
    .trim()
    .split("\n")
    .map((line) => JSON.parse(line));
  await start(page);
  const session = await context.newCDPSession(page);
  console.log(`Chromium ${browser.version()}, ms: least, median of 9; the same with a 4 x slower CPU`);
  for (const { name, request } of questions) {
    const figures: string[] = [];
    for (const rate of [1, 4]) {
      await session.send("Emulation.setCPUThrottlingRate", { rate });
      const times = await page.evaluate((request) => {
        const { engine } = window as unknown as Holder;
        const times: number[] = [];
        for (let i = 0; i < 10; i++) {
          const began = performance.now();
          if (!engine.ask(request).answer) return [];
          times.push(performance.now() - began);
        }
        return times.slice(1).sort((a, b) => a - b);
      }, request);
      expect(times.length, `${name} is refused`).toBe(9);
      figures.push(`${times[0]?.toFixed(0)} ${times[4]?.toFixed(0)}`);
    }
    console.log(`${name.padEnd(24)} ${figures.join("; ")}`);
  }
});
