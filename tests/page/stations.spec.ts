/** The stations: one at a time over the bar on a phone, side by side on a wide screen. */

import {
  accessible,
  collisions,
  DESKTOP,
  find,
  go,
  line,
  look,
  open,
  PHONE,
  STATIONS,
  verdict,
} from "./bench.js";
import { expect, test } from "./support.js";

/** A card of each station. */
const CARDS = {
  Bench: "Recipe",
  Rework: "What it should be",
  Make: "Weigh it",
  Heat: "On its way in the heat",
  Trouble: "What went wrong?",
  Notes: "Notebook",
  Teach: "How a hardener moves the melting point",
} as const;

test.describe("on a phone", () => {
  test.use(PHONE);

  test("one station is shown at a time, with the verdict in reach", async ({ page }) => {
    await open(page);
    const heading = (name: string) => page.getByRole("heading", { name, exact: true });
    for (const station of STATIONS) {
      await go(page, station);
      const link = page.getByRole("navigation", { name: "Stations" }).getByRole("link", { name: station });
      await expect(link).toHaveAttribute("aria-current", "true");
      for (const [other, card] of Object.entries(CARDS)) {
        await expect(heading(card), `${card} at ${station}`).toBeVisible({ visible: other === station });
      }
      expect(await page.evaluate(() => scrollY), station).toBe(0);
      const brief = page.getByRole("link", { name: /^Verdict: Holds to 27\.5\s°C, hottest 30\s°C/ });
      await expect(brief).toBeVisible({ visible: station !== "Bench" });
      if (station !== "Bench") {
        await brief.click();
        await expect(verdict(page)).toBeInViewport();
      }
    }
  });

  test("what leads elsewhere goes there: a rework, its use, a link, the printed sheet", async ({ page }) => {
    await page.addInitScript(() => {
      window.print = () => {};
    });
    await open(page);
    await find(page).click();
    await expect(page.locator(".proposal").first()).toBeInViewport();
    await page.locator(".proposal").first().getByRole("button", { name: "Use this" }).click();
    await expect(page.locator(".verdict-brief")).not.toHaveClass(/bad/);
    await go(page, "Make");
    await page.getByRole("button", { name: "Show it fresh in the picture" }).click();
    await expect(page.locator(".curve.fresh")).toBeVisible();
    await go(page, "Make");
    await page.getByRole("button", { name: "Print the bench sheet" }).click();
    await page.emulateMedia({ media: "print" });
    await expect(page.locator(".bench-sheet")).toBeVisible();
    await page.emulateMedia({ media: "screen" });
    await page.locator(".origin:visible").first().click();
    await page.getByRole("button", { name: "All figures and sources" }).click();
    await expect(page.locator("#sources dt").first()).toBeInViewport();
    await page.goto("about:blank");
    await open(page, "./#v1&recipe=shea-butter:70,olive-oil:30&as=pot&store=18~30&picture=beeswax&dose=8");
    await expect(page.locator(".dose-line")).toBeVisible();
    await page.goto("about:blank");
    await open(page, "./#v1&recipe=shea-butter:70,olive-oil:30&as=pot&store=18~30&way=mailbox");
    await expect(page.locator("svg.journey")).toBeVisible();
    await look(page, "phone-linked-heat");
  });

  test("a station has an address, and the recipe keeps its own", async ({ page }) => {
    await open(page, "./#make");
    await expect(page.getByRole("heading", { name: "Weigh it" })).toBeVisible();
    await expect(page).toHaveURL(/#v2_/);
    const before = page.url();
    await page.evaluate(() => {
      location.hash = "heat";
    });
    await expect(page.getByRole("heading", { name: "On its way in the heat" })).toBeVisible();
    await expect(page).toHaveURL(before);
    await expect(page.locator(".notice")).toHaveCount(0);
  });

  test("stations are reached by keyboard", async ({ page }) => {
    await open(page);
    const link = page.getByRole("navigation", { name: "Stations" }).getByRole("link", { name: "Trouble" });
    await link.focus();
    await page.keyboard.press("Enter");
    await expect(page.locator("#trouble")).toBeFocused();
    await page.keyboard.press("Tab");
    await expect(page.getByRole("button", { name: "Paste your recipe" })).toBeFocused();
    await page.keyboard.press("Tab");
    await expect(page.getByLabel("The last batch")).toBeFocused();
  });

  test("no station of the worked example is longer than three screens and a fifth", async ({ page }) => {
    await open(page);
    await find(page).click();
    await expect(page.locator(".proposal").first()).toBeVisible();
    for (const station of STATIONS) {
      await go(page, station);
      if (station === "Heat") {
        await expect(page.locator("svg.journey")).toBeVisible();
      }
      const screens = await page.evaluate(
        () => (document.querySelector("main")?.getBoundingClientRect().height ?? 1e9) / innerHeight,
      );
      expect(screens, station).toBeLessThan(3.2);
    }
  });
});

test.describe("a phone zoomed to twice its size", () => {
  test.use({ viewport: { width: 180, height: 370 }, hasTouch: true });

  test("every station is reached, and nothing lies beside the screen", async ({ page }) => {
    await open(page);
    for (const station of STATIONS) {
      await go(page, station);
      await expect(page.locator(`.station.at`).first()).toBeVisible();
      if (station === "Heat") await expect(page.locator("svg.journey")).toBeVisible();
      expect(await page.evaluate(() => document.documentElement.scrollWidth), station).toBe(180);
    }
    await go(page, "Bench");
    const handle = page.getByRole("slider", { name: "Hottest storage" }).locator(".thumb-face");
    await handle.scrollIntoViewIfNeeded();
    const place = await handle.boundingBox();
    expect((place?.x ?? 999) + (place?.width ?? 0)).toBeLessThanOrEqual(180);
    expect(await collisions(page, ".picture-frame svg.picture")).toEqual([]);
    await accessible(page);
  });
});

test.describe("letters of twice the size on a phone", () => {
  test.use(PHONE);

  test("no name is broken between its letters", async ({ page }) => {
    await open(page);
    await page.evaluate(() => {
      document.documentElement.style.fontSize = "200%";
    });
    const broken = await page.evaluate(() =>
      [
        ...document.querySelectorAll(
          ".line-title, .climate .label, .doors .button, .add-row .button, .place strong",
        ),
      ]
        .filter((one) => one.checkVisibility())
        .filter((one) => {
          const words = (one.textContent ?? "").trim().split(/[\s-]+/);
          const range = document.createRange();
          range.selectNodeContents(one);
          const rows = new Set([...range.getClientRects()].map(({ bottom }) => Math.round(bottom / 8)));
          return one.scrollWidth > one.clientWidth + 1 || rows.size > words.length;
        })
        .map((one) => one.textContent?.trim()),
    );
    expect(broken).toEqual([]);
    for (const station of STATIONS) {
      await go(page, station);
      expect(await page.evaluate(() => document.documentElement.scrollWidth), station).toBe(360);
    }
  });
});

test.describe("on a desktop", () => {
  test.use(DESKTOP);

  test("nothing of the head is cut off on the narrowest of wide screens", async ({ page }) => {
    await page.setViewportSize({ width: 900, height: 700 });
    await open(page);
    const share = await page.getByRole("button", { name: "Share", exact: true }).boundingBox();
    expect((share?.x ?? 1e9) + (share?.width ?? 0)).toBeLessThanOrEqual(900);
    await expect(page.getByRole("link", { name: "Teach" })).toBeInViewport({ ratio: 1 });
  });

  test("all stations lie side by side, and their links lead to them", async ({ page }) => {
    await open(page);
    for (const station of STATIONS) {
      await go(page, station);
      await expect(page.getByRole("heading", { name: CARDS[station], exact: true })).toBeInViewport();
    }
    await expect(line(page, "Shea butter")).toHaveValue("50");
    for (const card of Object.values(CARDS)) {
      await expect(page.getByRole("heading", { name: card, exact: true })).toBeVisible();
    }
  });
});
