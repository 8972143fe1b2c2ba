/** The margin in the picture: its arrow, its jar, what is drawn from what decides, and labels that never collide. */

import type { Page } from "@playwright/test";
import { box, collisions, DESKTOP, go, look, open, PHONE, verdict } from "./bench.js";
import { expect, test } from "./support.js";

const PICTURE = ".picture-frame svg.picture";
const link = (recipe: string, store: string, more = "") => `./#v1&recipe=${recipe}&store=${store}${more}`;
const WAXY = link("shea-butter:60,sunflower-oil:30,beeswax:10", "18~30", "&as=pot");
const OIL = link("castor-oil:100", "18~30", "&as=pot");

/** The temperature at a place of the picture, from the ends of its axis; °C. */
async function celsiusAt(page: Page, selector: string, attribute: string): Promise<number> {
  return page.locator(PICTURE).evaluate(
    (picture, { selector, attribute }) => {
      const plot = picture.querySelector(".plot-touch") as SVGRectElement;
      const [low, high] = ["aria-valuemin", "aria-valuemax"].map((name) => Number(plot.getAttribute(name)));
      const [left, width] = [Number(plot.getAttribute("x")), Number(plot.getAttribute("width"))];
      const at = Number(picture.querySelector(selector)?.getAttribute(attribute));
      return (low ?? 0) + ((at - left) / width) * ((high ?? 0) - (low ?? 0));
    },
    { selector, attribute },
  );
}

/** How dense the strip is at a temperature, 0 to 1. */
async function density(page: Page, celsius: number): Promise<number> {
  return page.locator(PICTURE).evaluate((picture, celsius) => {
    const plot = picture.querySelector(".plot-touch") as SVGRectElement;
    const [low, high] = ["aria-valuemin", "aria-valuemax"].map((name) => Number(plot.getAttribute(name)));
    const share = (celsius - (low ?? 0)) / ((high ?? 0) - (low ?? 0));
    const stops = [...picture.querySelectorAll("#melting stop")].map((stop) => ({
      at: Number(stop.getAttribute("offset")),
      dense: Number(stop.getAttribute("stop-opacity")),
    }));
    return stops.filter((stop) => stop.at <= share).at(-1)?.dense ?? -1;
  }, celsius);
}

test("the arrow reaches from the hottest jar to where the butter lets go, with its length", async ({
  page,
}) => {
  await open(page);
  const margin = page.locator(`${PICTURE} g.margin`);
  await expect(margin).toHaveClass(/short/);
  // "to 27.5 °C", hottest 30 °C.
  await expect(verdict(page)).toContainText("27.5");
  await expect(margin.locator(".margin-length")).toHaveText("2.5\u00a0°C short");
  expect(await celsiusAt(page, ".margin-start", "x1")).toBeCloseTo(30, 5);
  const head = await page.locator(`${PICTURE} .margin-head`).getAttribute("d");
  const tip = Number(/^M([\d.]+)/.exec(head ?? "")?.[1]);
  const softens = await celsiusAt(page, ".margin .mark", "x1");
  expect(Number(await page.locator(`${PICTURE} .margin .mark`).first().getAttribute("x1"))).toBeCloseTo(
    tip,
    5,
  );
  expect(Math.abs(softens - 27.5)).toBeLessThanOrEqual(0.25);
  await expect(page.locator(`${PICTURE} .soft-end`)).toHaveCount(1);

  await box(page, "Hottest").fill("25");
  await expect(margin).toHaveClass(/room/);
  await expect(margin.locator(".margin-length")).toHaveText("2.5\u00a0°C to spare");
  await page.goto(OIL);
  await expect(margin.locator(".margin-length")).toHaveText("never holds its shape");
  await expect(page.locator(`${PICTURE} .margin-shaft`)).toHaveCount(0);
});

test("the small jar holds, slumps and runs as its heat is moved", async ({ page }) => {
  await open(page);
  const jar = page.locator(`${PICTURE} g.jar`);
  await expect(jar).toHaveClass(/slumps/);
  const at = async () => Number(/translate\(([\d.]+)/.exec((await jar.getAttribute("transform")) ?? "")?.[1]);
  const before = await at();
  const handle = page.getByRole("slider", { name: "Hottest storage" });
  await handle.focus();
  for (let presses = 0; presses < 2; presses++) await page.keyboard.press("PageDown");
  await expect(jar).toHaveClass(/holds/);
  expect(await at()).toBeLessThan(before);
  for (let presses = 0; presses < 4; presses++) await page.keyboard.press("PageUp");
  await expect(jar).toHaveClass(/runs/);
  // By finger too, and while it is still down.
  const face = await handle.locator(".thumb-face").boundingBox();
  if (!face) throw new Error("no handle");
  await page.mouse.move(face.x + face.width / 2, face.y + face.height / 2);
  await page.mouse.down();
  await page.mouse.move(face.x - 190, face.y + 10, { steps: 8 });
  await expect(jar).toHaveClass(/holds/);
  await page.mouse.up();
});

test("strip and curve are drawn from what decides, and percent solid is a tap away", async ({ page }) => {
  await open(page, WAXY);
  const holdsTo = Number(/to ([\d.]+)\s°C/.exec((await verdict(page).textContent()) ?? "")?.[1]);
  expect(holdsTo).toBeGreaterThan(40);
  expect(await density(page, holdsTo - 1)).toBeGreaterThan(0.6);
  expect(await density(page, holdsTo + 1)).toBeLessThan(0.27);
  const picture = page.locator(PICTURE);
  await expect(picture).toContainText("holds above this");
  // Where the curve meets the line is where the arrow points.
  const meets = await picture.evaluate((picture) => {
    const level = Number(picture.querySelector(".hold-line")?.getAttribute("y1"));
    const curve = picture.querySelector(".curve") as SVGPathElement;
    let [from, to] = [0, curve.getTotalLength()];
    for (let i = 0; i < 40; i++) {
      const middle = (from + to) / 2;
      if (curve.getPointAtLength(middle).y < level) from = middle;
      else to = middle;
    }
    return (
      curve.getPointAtLength(from).x - Number(picture.querySelector(".margin .mark")?.getAttribute("x1"))
    );
  });
  expect(Math.abs(meets)).toBeLessThan(3);
  const decides = await picture.locator(".curve").getAttribute("d");
  const solid = page.getByRole("button", { name: "% solid", exact: true });
  await solid.click();
  await expect(solid).toHaveAttribute("aria-pressed", "true");
  await expect(picture.locator(".hold-line")).toHaveCount(0);
  await expect(picture).toContainText("% solid");
  expect(await picture.locator(".curve").getAttribute("d")).not.toBe(decides);
});

/** Butters whose figures lie close together, far apart, off the axis and nowhere. */
const AWKWARD: Record<string, string> = {
  example: "./",
  waxy: WAXY,
  oil: OIL,
  "all at one place": link("coconut-oil:100", "24~25", "&as=pot&skin=25"),
  "a hot shed": link("cocoa-butter:70,olive-oil:30", "31~45", "&as=bar"),
  "a cold cellar": link("shea-butter:40,olive-oil:60", "-10~4", "&as=whipped"),
  "a stick at skin": link("candelilla-wax:14,coconut-oil:40,castor-oil:46", "20~32.5", "&as=stick"),
};

for (const [device, use] of [
  ["phone", { ...PHONE, locale: "en-GB" }],
  ["desktop", { ...DESKTOP, locale: "en-US" }],
] as const) {
  test.describe(device, () => {
    test.use(use);
    test("no label lies on another", async ({ page }) => {
      test.slow();
      for (const [name, address] of Object.entries(AWKWARD)) {
        await page.goto("about:blank");
        await page.goto(address);
        await expect(page).toHaveURL(/#v2_/);
        await expect(page.locator(`${PICTURE} .margin-length`)).toHaveCount(1);
        expect(await collisions(page, PICTURE), name).toEqual([]);
        await page.getByRole("button", { name: "% solid", exact: true }).click();
        expect(await collisions(page, PICTURE), `${name}, solid`).toEqual([]);
        await page.getByRole("button", { name: "% solid", exact: true }).click();
        await look(page, `margin-${device}-${name.replaceAll(" ", "-")}`);
        await go(page, "Bench");
        const handle = page.getByRole("slider", { name: "Hottest storage" });
        await handle.focus();
        for (let presses = 0; presses < 6; presses++) {
          await page.keyboard.press("PageDown");
          if (presses % 2) expect(await collisions(page, PICTURE), `${name}, moved`).toEqual([]);
        }
      }
    });
  });
}
