/**
 * How long a person waits. Not a test: `MEASURE=1 npx playwright test measure` prints the table of tests/bench/README.md.
 * Slow 4G as Lighthouse has it: 1.6 Mbit/s down, 750 kbit/s up, 150 ms there and back.
 */

import type { CDPSession, Page } from "@playwright/test";
import { PHONE, verdict } from "./bench.js";
import { expect, test } from "./support.js";

test.skip(!process.env.MEASURE, "measures only when asked to");
test.use(PHONE);
test.setTimeout(180_000);

const SLOW_4G = { offline: false, latency: 150, downloadThroughput: 204_800, uploadThroughput: 93_750 };

/** Milliseconds from navigation until the verdict stands on the screen. */
async function untilVerdict(page: Page): Promise<number> {
  await page.goto("./");
  await expect(verdict(page)).toContainText("°C", { timeout: 60_000 });
  return page.evaluate(() => (window as unknown as { verdictAt: number }).verdictAt);
}

async function noteVerdict(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const look = () => {
      if (document.querySelector(".verdict-text")?.textContent?.includes("°C")) {
        (window as unknown as { verdictAt: number }).verdictAt = Math.round(performance.now());
      } else requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  });
}

/** Milliseconds from a key to the new curve, the middle of 30. */
async function untilCurve(page: Page): Promise<number> {
  return page.evaluate(async () => {
    const input = document.querySelector("#percent-0") as HTMLInputElement;
    const other = document.querySelector("#percent-2") as HTMLInputElement;
    const curve = () => document.querySelector(".picture-frame .curve")?.getAttribute("d");
    const type = (box: HTMLInputElement, value: number) => {
      box.value = String(value);
      box.dispatchEvent(new Event("input", { bubbles: true }));
    };
    const times: number[] = [];
    for (let i = 0; i < 30; i++) {
      const shea = 51 + (i % 10);
      const before = curve();
      type(input, shea);
      const began = performance.now();
      type(other, 80 - shea);
      while (curve() === before) await new Promise((resolve) => setTimeout(resolve, 0));
      times.push(performance.now() - began);
      await new Promise((resolve) => setTimeout(resolve, 120));
    }
    times.sort((a, b) => a - b);
    return Math.round((times[15] ?? 0) * 10) / 10;
  });
}

test("waiting times", async ({ page, context }) => {
  const session: CDPSession = await context.newCDPSession(page);
  await noteVerdict(page);
  await session.send("Network.enable");
  await session.send("Network.emulateNetworkConditions", SLOW_4G);
  await session.send("Emulation.setCPUThrottlingRate", { rate: 4 });
  const first = await untilVerdict(page);
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.waitForTimeout(3000);
  await context.setOffline(true);
  const offline = await untilVerdict(page);
  const throttled = await untilCurve(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate: 1 });
  const free = await untilCurve(page);
  await context.setOffline(false);
  console.log(`verdict, first visit, slow 4G, 4 x slower CPU   ${first} ms`);
  console.log(`verdict, offline, 4 x slower CPU                ${offline} ms`);
  console.log(`key to new curve, 4 x slower CPU (median)       ${throttled} ms`);
  console.log(`key to new curve (median)                       ${free} ms`);
});
