/** Rework by dragging: while the hottest storage is moved, by finger or by key, the smallest change that holds there comes along. */

import type { Page } from "@playwright/test";
import { accessible, choose, DEVICES, find, go, look, open, PHONE, percents, verdict } from "./bench.js";
import { expect, test } from "./support.js";

const handle = (page: Page) => page.getByRole("slider", { name: "Hottest storage" });
const held = (page: Page) => page.getByRole("group", { name: "What would hold" });
/** What a reader of the screen is told of it. */
const heard = (page: Page) => page.locator(".look > .visually-hidden[role=status]");
const use = (page: Page) => held(page).getByRole("button", { name: "Use this" });

/** The changes that a list shows, as in "Shea butter 50 → 46 %". */
const changes = async (page: Page, list: string): Promise<string[]> => {
  const lines = await page.locator(list).allTextContents();
  return lines.map((text) => (/^(.*?\d) %/.exec(text.replace(/\s+/g, " ").trim()) ?? ["", ""])[1] ?? "");
};

/** Notes every text that the strip shows, and every one that is told of it. */
async function follow(page: Page): Promise<() => Promise<{ shown: string[]; told: string[] }>> {
  await page.evaluate(() => {
    const noted = { shown: [] as string[], told: [] as string[] };
    const note = (list: string[], selector: string) => {
      const text = (document.querySelector(selector)?.textContent ?? "").replace(/\s+/g, " ").trim();
      if (text && text !== list.at(-1)) list.push(text);
    };
    new MutationObserver(() => {
      note(noted.shown, ".held");
      note(noted.told, ".look > .visually-hidden[role=status]");
    }).observe(document.body, { subtree: true, childList: true, characterData: true });
    Object.assign(window, { noted });
  });
  return () =>
    page.evaluate(() => (window as unknown as { noted: { shown: string[]; told: string[] } }).noted);
}

/** Takes hold of the handle, and gives what drags it on by so many half degrees, one after the other. */
async function grip(page: Page): Promise<(halves: number, pause: number) => Promise<void>> {
  const before = await handle(page).getAttribute("aria-valuenow");
  await handle(page).scrollIntoViewIfNeeded();
  const axis = await page.locator(".picture-frame .plot-touch").evaluate((plot) => {
    const { left, width } = plot.getBoundingClientRect();
    const [low, high] = ["aria-valuemin", "aria-valuemax"].map((name) => Number(plot.getAttribute(name)));
    return { left, width, low: low ?? 0, high: high ?? 0 };
  });
  const box = await handle(page).locator(".thumb-face").boundingBox();
  if (!box) throw new Error("no handle to drag");
  const y = box.y + box.height / 2;
  let at = Number(before);
  const x = () => axis.left + ((at - axis.low) / (axis.high - axis.low)) * axis.width;
  await page.mouse.move(x(), y);
  await page.mouse.down();
  return async (halves, pause) => {
    for (let step = 0; step < Math.abs(halves); step++) {
      at += Math.sign(halves) / 2;
      await page.mouse.move(x(), y);
      await page.waitForTimeout(pause);
    }
  };
}

for (const [name, device] of DEVICES) {
  test.describe(`on a ${name}`, () => {
    test.use(device);

    test("while it is dragged percentages move; at rest they are what is found when asked", async ({
      page,
    }) => {
      await open(page);
      await expect(held(page)).toHaveCount(0);
      const noted = await follow(page);
      const drag = await grip(page);
      await drag(6, 250);
      const moved = (await noted()).shown.filter((text) => text.includes("→"));
      // Under the finger, more than one answer; each says of what temperature it is.
      expect(new Set(moved.map((text) => /→ ([\d.]+)/.exec(text)?.[1])).size).toBeGreaterThan(1);
      for (const text of moved) expect(text).toMatch(/^To hold at 3[0-3](\.5)?\s°C About \d in \d+ holds?\./);
      await look(page, `${name}-dragging`);
      await page.mouse.up();
      await expect(handle(page)).toHaveAttribute("aria-valuenow", "33");
      await expect(held(page)).toContainText(/To hold at 33\s°C/);
      await expect(use(page)).toBeEnabled();
      // The dragging itself is what it was: the verdict is of the new climate, and one undo takes it back.
      await expect(verdict(page)).toContainText("33\u00a0°C");
      await accessible(page);
      const proposed = await changes(page, ".held-changes li");
      expect(proposed.length).toBeGreaterThan(0);
      await held(page).getByRole("button", { name: "Close" }).click();
      await expect(held(page)).toHaveCount(0);
      await find(page).click();
      await expect(page.locator(".proposal").first()).toBeVisible();
      expect(await changes(page, ".proposal:first-child .change")).toEqual(proposed);
    });

    test("Use this leads to the verdict, the others stay, and undo goes back", async ({ page }) => {
      await open(page);
      const before = await percents(page);
      const drag = await grip(page);
      await drag(2, 30);
      await page.mouse.up();
      await expect(held(page)).toContainText(/To hold at 31\s°C/);
      await use(page).click();
      await expect(held(page)).toHaveCount(0);
      await expect(page.locator(".verdict")).toBeInViewport({ ratio: 1 });
      await expect(verdict(page)).toContainText(/^Once settled it keeps its whip to 3/);
      await expect(page.locator(".turns")).toContainText("→");
      await expect(page.locator(".notice")).toContainText(/^Now on the bench: .*→ \d/);
      const after = await percents(page);
      expect(after).not.toEqual(before);
      await go(page, "Rework");
      await expect(page.locator(".proposal").first()).toContainText("On the bench");
      await go(page, "Bench");
      const undo = page.getByRole("navigation").getByRole("button", { name: "Undo" });
      await undo.click();
      expect(await percents(page)).toEqual(before);
      await expect(handle(page)).toHaveAttribute("aria-valuenow", "31");
      // What was undone is no longer told to be on the bench.
      await go(page, "Rework");
      await expect(page.locator(".proposal").first()).not.toContainText("On the bench");
      await go(page, "Bench");
      await undo.click();
      await expect(handle(page)).toHaveAttribute("aria-valuenow", "30");
      await expect(undo).toBeDisabled();
    });
  });
}

test("keys move them too, and what comes of it is told once the hand rests, not at each step", async ({
  page,
}) => {
  await open(page);
  const noted = await follow(page);
  await handle(page).focus();
  const early = await page.evaluate(async (quiet) => {
    const told = () => document.querySelector(".look > .visually-hidden[role=status]")?.textContent?.trim();
    const early: (string | undefined)[] = [];
    for (let press = 0; press < 12; press++) {
      const key = press < 9 ? "ArrowRight" : "ArrowLeft";
      document.activeElement?.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true }));
      const pressed = performance.now();
      await new Promise((resolve) => setTimeout(resolve, 100));
      // What the page was too busy for in time is no sign of anything.
      if (performance.now() - pressed < quiet) early.push(told());
    }
    return early;
  }, 350);
  expect(early.length).toBeGreaterThan(6);
  expect(early.filter(Boolean)).toEqual([]);
  await expect(heard(page)).toHaveText(/^To hold at 33\s°C: .*→ .*in \d+ hold\.$/);
  const { shown } = await noted();
  expect(shown.filter((text) => text.includes("→")).length).toBeGreaterThan(1);
  await use(page).focus();
  await page.keyboard.press("Enter");
  await expect(page.locator("#bench")).toBeFocused();
  await expect(page.locator(".turns")).toContainText("→");
});

/** Answers to this question come so late, ms; and it counts how often it is asked. */
async function slow(page: Page, ask: string, late: number): Promise<() => Promise<number>> {
  await page.addInitScript(
    ({ ask, late }) => {
      const counted = window as unknown as { asked: number };
      counted.asked = 0;
      const send = Worker.prototype.postMessage;
      Worker.prototype.postMessage = function (this: Worker, message: { request?: { ask: string } }) {
        if (message.request?.ask !== ask) send.call(this, message);
        else {
          counted.asked++;
          setTimeout(() => send.call(this, message), late);
        }
      };
    },
    { ask, late },
  );
  return () => page.evaluate(() => (window as unknown as { asked: number }).asked);
}

test("what takes long is told to be on its way, answers at rest, and holds up nothing", async ({ page }) => {
  const asked = await slow(page, "rework", 700);
  await open(page);
  const drag = await grip(page);
  await drag(3, 20);
  await expect(held(page)).toContainText("…");
  await expect(held(page)).toContainText(/To hold at 31\.5\s°C/);
  // The plain dragging does not wait for it.
  await expect(verdict(page)).toContainText("31.5\u00a0°C");
  await page.mouse.up();
  await expect(held(page).locator(".held-changes")).toBeVisible();
  await expect(held(page)).not.toContainText("…");
  // Of many steps in a moment not each is asked about, and what is told in the end is of the last.
  const before = await asked();
  await handle(page).evaluate(async (handle) => {
    for (let press = 0; press < 40; press++) {
      const key = press < 23 ? "ArrowRight" : "ArrowLeft";
      handle.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true }));
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
  });
  await expect(held(page)).toContainText(/To hold at 34\.5\s°C/);
  await expect(held(page).locator(".held-changes")).toBeVisible();
  await expect(held(page)).not.toContainText("…");
  expect((await asked()) - before).toBeLessThan(20);
  // What is waved away is worked out no further.
  const again = await grip(page);
  await again(-2, 20);
  await page.mouse.up();
  await held(page).getByRole("button", { name: "Close" }).click();
  await expect(held(page)).toHaveCount(0);
  await page.waitForTimeout(1000);
  await expect(held(page)).toHaveCount(0);
});

test("where nothing needs to change it says so, and where nothing helps what comes nearest", async ({
  page,
}) => {
  await open(page);
  await handle(page).focus();
  for (let press = 0; press < 2; press++) await page.keyboard.press("PageDown");
  await expect(held(page)).toContainText(/At 20\s°C nothing needs to change\./);
  await expect(use(page)).toHaveCount(0);
  for (let press = 0; press < 5; press++) await page.keyboard.press("PageUp");
  await expect(held(page)).toContainText(/^\s*Nearest at 45\s°C/);
  // A hand takes longer than this from the handle to a box; until it rests, what changes is of the drag.
  await page.waitForTimeout(500);
  // What else changes makes it moot, and so does a question of another kind.
  await page.getByRole("textbox", { name: "Coldest", exact: true }).fill("17");
  await expect(held(page)).toHaveCount(0);
  await choose(page, "Rescue a batch");
  await handle(page).focus();
  await page.keyboard.press("ArrowLeft");
  await page.waitForTimeout(600);
  await expect(held(page)).toHaveCount(0);
});

test.describe("on a phone in the dark", () => {
  test.use({ ...PHONE, colorScheme: "dark" });

  test("it stays in sight above the picture, however that is scrolled", async ({ page }) => {
    await open(page);
    const drag = await grip(page);
    await drag(4, 30);
    await page.mouse.up();
    await expect(use(page)).toBeEnabled();
    await expect(held(page)).toBeInViewport({ ratio: 1 });
    await accessible(page);
    await look(page, "phone-dark-dragged");
  });
});
