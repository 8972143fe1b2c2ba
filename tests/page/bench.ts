/** What the tests of the page's work share: how a person finds things on it. */

import { mkdirSync, readFileSync } from "node:fs";
import { AxeBuilder } from "@axe-core/playwright";
import type { Locator, Page } from "@playwright/test";
import { expect, fileOf } from "./support.js";

export const PHONE = {
  viewport: { width: 360, height: 740 },
  hasTouch: true,
  isMobile: true,
  deviceScaleFactor: 2,
};
export const DESKTOP = { viewport: { width: 1280, height: 800 } };
/** What a test of the page's work runs on, by name. */
export const DEVICES = [
  ["phone", PHONE],
  ["desktop", DESKTOP],
] as const;

/** Pictures of the main states, for people to look at; the folder is not part of the project. */
export async function look(page: Page, name: string, options: { fullPage?: boolean } = {}): Promise<void> {
  const folder = fileOf("../../target/page/screens/");
  mkdirSync(folder, { recursive: true });
  await page.screenshot({ path: `${folder}${name}.png`, ...options });
}

/** No violation that axe knows of, in the state the page is in; of the dark, where the light was looked at whole, only of colours. */
export async function accessible(page: Page, of: "all" | "colours" = "all"): Promise<void> {
  // A colour that is on its way to another has no contrast of its own.
  await page.evaluate(() =>
    Promise.allSettled(
      document
        .getAnimations()
        .filter((one) => one.effect?.getComputedTiming().endTime !== Number.POSITIVE_INFINITY)
        .map((one) => one.finished),
    ),
  );
  const axe = new AxeBuilder({ page }).options({ resultTypes: ["violations"] });
  if (of === "colours") axe.withRules(["color-contrast", "link-in-text-block"]);
  const { violations } = await axe.analyze();
  const told = violations.map(
    ({ id, nodes }) => `${id}: ${nodes.map((node) => node.target.join(" ")).join(", ")}`,
  );
  expect(told).toEqual([]);
}

export const verdict = (page: Page): Locator => page.locator(".verdict-text");
export const line = (page: Page, name: string): Locator =>
  page.getByRole("textbox", { name: `${name}, percent`, exact: true });
export const box = (page: Page, name: string): Locator => page.getByRole("textbox", { name, exact: true });
/** Picks one of a few, as a finger does: by its face. */
export async function choose(page: Page, face: string): Promise<void> {
  const chip = page.locator(".chip").filter({ hasText: face });
  const folded = page.locator("#settings:not([open])").filter({ has: chip });
  if (await folded.count()) await folded.locator("> summary").click();
  await chip.click();
}
/** What asks for a rework, a rescue or two seasons: in the head, or on a phone under the verdict and in the card. */
export const asking = (page: Page, words: string): Locator =>
  page.getByRole("button", { name: words, exact: true }).filter({ visible: true }).first();
export const find = (page: Page): Locator => asking(page, "Find a rework");
export const STATIONS = ["Bench", "Rework", "Make", "Heat", "Trouble", "Notes", "Teach"] as const;
/** Goes to a station, which a phone shows alone. */
export const go = (page: Page, station: (typeof STATIONS)[number]): Promise<void> =>
  page
    .getByRole("navigation", { name: "Stations" })
    .getByRole("link", { name: station, exact: true })
    .click();

/** As a browser that keeps nothing for a page. */
export async function denyStorage(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const deny = () => {
      throw new DOMException("denied", "SecurityError");
    };
    Object.defineProperty(window, "localStorage", { get: deny });
  });
}

/** Opens the page and waits until the engine has spoken. */
export async function open(page: Page, address = "./"): Promise<void> {
  await page.goto(address);
  await expect(verdict(page)).toContainText("°C");
  // That of the worked example comes with the page; the address is the engine's.
  await expect(page).toHaveURL(/#v2_/);
}

/** The figures that decide, as the page shows them. */
export async function figures(page: Page): Promise<string[]> {
  const texts = await page.locator(".places dd").allTextContents();
  return texts.map((text) => text.replace(/\s+/g, " ").trim());
}

/** The percentages in the boxes. */
export async function percents(page: Page): Promise<string[]> {
  return page
    .locator(".line > .number input")
    .evaluateAll((all) => all.map((one) => (one as HTMLInputElement).value));
}

/** The address once it holds the present recipe, and what else is asked. */
export async function address(page: Page, holds = /#v2_/): Promise<string> {
  const written = () =>
    [...page.url().matchAll(/_of~([^_]*)/g)].flatMap((of) =>
      (of[1] ?? "").split("~").filter((_, at) => at % 2 === 1),
    );
  await expect.poll(written).toEqual(await percents(page));
  await expect(page).toHaveURL(holds);
  return page.url();
}

/** Keeps these questions from the worker, so that there is something to cancel, until later ones are let through by what this gives. */
export async function holdQuestions(page: Page, asks: string[]): Promise<() => Promise<void>> {
  await page.evaluate((asks) => {
    const send = Worker.prototype.postMessage;
    Worker.prototype.postMessage = function (this: Worker, message: { request?: { ask: string } }) {
      if (asks.includes(message.request?.ask ?? "")) return;
      send.call(this, message);
    };
    (window as unknown as { letGo(): void }).letGo = () => {
      Worker.prototype.postMessage = send;
    };
  }, asks);
  return () => page.evaluate(() => (window as unknown as { letGo(): void }).letGo());
}

/** Keeps what a worker has proven from the page, until it is let go by what this gives, and what it tells on the way for so long, ms. */
export async function holdProofs(page: Page, late = 0): Promise<() => Promise<void>> {
  await page.addInitScript((late) => {
    const held = window as unknown as { letGo?: boolean };
    Object.defineProperty(Worker.prototype, "onmessage", {
      set(this: Worker, hear: (event: MessageEvent) => void) {
        this.addEventListener("message", (event) => {
          const { progress, reply } = event.data;
          if (progress) setTimeout(() => hear.call(this, event), late);
          else if (held.letGo || !reply?.answer?.proof) hear.call(this, event);
        });
      },
    });
  }, late);
  return () =>
    page.evaluate(() => {
      (window as unknown as { letGo?: boolean }).letGo = true;
    });
}

/** Every two texts of a picture that lie on each other. */
export async function collisions(page: Page, selector: string): Promise<string[]> {
  return page.locator(selector).evaluate((picture) => {
    const texts = [...picture.querySelectorAll("text")].filter((text) => text.textContent?.trim());
    const boxes = texts.map((text) => {
      const { left, right, top, bottom } = text.getBoundingClientRect();
      // A line's box is higher than its letters.
      const air = 0.14 * (bottom - top);
      return { text: text.textContent, left, right, top: top + air, bottom: bottom - air };
    });
    return boxes.flatMap((a, i) =>
      boxes
        .slice(i + 1)
        .filter((b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom)
        .map((b) => `${a.text} / ${b.text}`),
    );
  });
}

/** What is on the device before the page is first opened. */
export async function keepOnDevice(page: Page, texts: Record<string, string>): Promise<void> {
  await page.addInitScript((texts) => {
    if (sessionStorage.getItem("kept")) return;
    sessionStorage.setItem("kept", "yes");
    for (const [key, text] of Object.entries(texts)) localStorage.setItem(key, text);
  }, texts);
}

/** Presses what saves a file, and reads it. */
export async function saved(page: Page, press: () => Promise<void>): Promise<string> {
  const download = page.waitForEvent("download");
  await press();
  return readFileSync(await (await download).path(), "utf8");
}

/** Waits until the page is kept for when there is no signal. */
export const keptOffline = (page: Page): Promise<void> =>
  page.evaluate(async () => {
    const { active } = await navigator.serviceWorker.ready;
    if (active?.state === "activated") return;
    await new Promise<void>((resolve) =>
      active?.addEventListener("statechange", () => active.state === "activated" && resolve()),
    );
  });
