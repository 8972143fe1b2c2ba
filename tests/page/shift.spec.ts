/** Nothing moves under the hand: the layout shifts that typing and dragging bring about, counted as the browser does, and a curve a frame. */

import type { Page } from "@playwright/test";
import { DESKTOP, line, open, PHONE } from "./bench.js";
import { expect, test } from "./support.js";

/** Notes every shift from now on, that of a hand's own doing too, with what moved. */
async function watch(page: Page): Promise<() => Promise<string[]>> {
  await page.evaluate(() => {
    const moved: string[] = [];
    type Shift = PerformanceEntry & {
      value: number;
      sources: { node: Node | null; previousRect: DOMRectReadOnly; currentRect: DOMRectReadOnly }[];
    };
    const named = (node: Node | null) =>
      node instanceof Element ? `${node.localName}.${node.getAttribute("class")}` : String(node?.nodeName);
    new PerformanceObserver((list) => {
      for (const { value, sources } of list.getEntries() as Shift[]) {
        // What moves by less than a pixel is the rounding of letters.
        const far = sources.filter(
          ({ previousRect: a, currentRect: b }) => Math.abs(a.top - b.top) + Math.abs(a.left - b.left) >= 1,
        );
        if (far.length || !sources.length)
          moved.push(
            `${value.toFixed(4)} ${sources.length} ${far.map(({ node, previousRect: a, currentRect: b }) => `${named(node)} ${a.top} > ${b.top}`)}`,
          );
      }
    }).observe({ type: "layout-shift" });
    Object.assign(window, { moved });
  });
  return () =>
    page.evaluate(async () => {
      // The observer is told of a frame after it.
      await new Promise((resolve) => setTimeout(resolve, 700));
      return (window as unknown as { moved: string[] }).moved.splice(0);
    });
}

const link = (recipe: string, store: string, more = "") => `./#v1&recipe=${recipe}&store=${store}${more}`;
const RECIPES: Record<string, string> = {
  example: "./",
  pot: link("shea-butter:60,sunflower-oil:40", "18~31", "&as=pot&feel=scoopable"),
  bar: link("cocoa-butter:70,olive-oil:30", "18~31", "&as=bar"),
  waxy: link("shea-butter:60,sunflower-oil:30,beeswax:10", "18~30", "&as=pot"),
  oily: link("castor-oil:100", "18~30", "&as=pot"),
};

/** Types digit by digit over what a box holds. */
async function type(page: Page, label: string, text: string): Promise<void> {
  await line(page, label).focus();
  await page.keyboard.press("Control+a");
  await page.keyboard.type(text, { delay: 120 });
}

for (const [device, use] of [
  ["phone", PHONE],
  ["desktop", DESKTOP],
] as const) {
  test.describe(`on a ${device}`, () => {
    test.use(use);

    for (const [name, address] of Object.entries(RECIPES)) {
      test(`nothing moves while a percentage or a name is typed, or an end is dragged: ${name}`, async ({
        page,
      }) => {
        await page.goto(address);
        await expect(page).toHaveURL(/#v2_/);
        const first = await page.locator(".line-title").first().textContent();
        await line(page, first?.trim() ?? "").scrollIntoViewIfNeeded();
        const moved = await watch(page);
        await type(page, first?.trim() ?? "", "47.5");
        expect(await moved(), "a percentage").toEqual([]);
        await page.getByLabel("Name of the recipe").click();
        await page.keyboard.type("A butter for the hottest week of the whole year, and then some");
        expect(await moved(), "a name").toEqual([]);
        await type(page, first?.trim() ?? "", name === "oily" ? "100" : "60");
        await moved();
        for (const end of ["Hottest storage", "Coldest storage"]) {
          const handle = page.getByRole("slider", { name: end });
          await handle.scrollIntoViewIfNeeded();
          await moved();
          const place = await handle.locator(".thumb-face").boundingBox();
          if (!place) throw new Error("no handle to drag");
          const [x, y] = [place.x + place.width / 2, place.y + place.height / 2];
          await page.mouse.move(x, y);
          await page.mouse.down();
          for (const by of [6, 20, 45, -10, -40, 0]) {
            await page.mouse.move(x + by, y, { steps: 2 });
            await page.waitForTimeout(150);
          }
          await page.mouse.up();
          expect(await moved(), end).toEqual([]);
        }
      });
    }
  });
}

test("what the engine answers is in the next frame", async ({ page }) => {
  await page.addInitScript(() => {
    const drawn: boolean[] = [];
    const curve = () => document.querySelector(".picture-frame .curve")?.getAttribute("d");
    Object.assign(window, { drawn });
    Object.defineProperty(Worker.prototype, "onmessage", {
      set(this: Worker, hear: (event: MessageEvent) => void) {
        this.addEventListener("message", (event) => {
          const before = curve();
          hear.call(this, event);
          // It is drawn before the browser draws; so it is there already where the next frame begins.
          if (event.data.reply?.answer?.curve) requestAnimationFrame(() => drawn.push(curve() !== before));
        });
      },
    });
  });
  await open(page);
  const drawn = () => page.evaluate(() => (window as unknown as { drawn: boolean[] }).drawn.splice(0));
  await drawn();
  for (let half = 0; half < 10; half++) {
    await line(page, "Shea butter").fill(String(51 + half));
    await line(page, "Sweet almond oil").fill(String(29 - half));
    await expect
      .poll(() => page.evaluate(() => (window as unknown as { drawn: boolean[] }).drawn.length))
      .toBe(half + 1);
  }
  expect(await drawn()).toEqual(Array(10).fill(true));
});
