/** A class: from the page to the moving picture in two taps, readable from the last row, on screen and on paper. */

import type { Locator } from "@playwright/test";

import { accessible, collisions, DESKTOP, go, look, open, PHONE } from "./bench.js";
import { expect, test } from "./support.js";

/** Every text of a picture that a line of it runs through; what is said of a line lies beside it. */
function onLines(picture: Locator): Promise<string[]> {
  return picture.evaluate((svg) => {
    const lines = [...svg.querySelectorAll<SVGGeometryElement>(".dose-line, .dose-thread")];
    const points = lines.flatMap((line) => {
      const frame = line.getScreenCTM() as DOMMatrix;
      const long = line.getTotalLength();
      // Its ends touch what they lead to.
      return Array.from({ length: 300 }, (_, i) =>
        line.getPointAtLength((long * (i + 1)) / 301).matrixTransform(frame),
      );
    });
    return [...svg.querySelectorAll(".dose-why, .hold-label, .dose-caption, .dose-name, .dose-figure")]
      .filter((text) => {
        const { left, right, top, bottom } = text.getBoundingClientRect();
        const air = 0.2 * (bottom - top);
        return points.some(({ x, y }) => x > left + 1 && x < right - 1 && y > top + air && y < bottom - air);
      })
      .map((text) => text.textContent ?? "");
  });
}

/** What lies under the knob of the dose, or over it. */
function covered(picture: Locator): Promise<string[]> {
  return picture.evaluate((svg) => {
    const knob = svg.querySelector(".dose-knob rect")?.getBoundingClientRect();
    if (!knob) return ["no knob"];
    return [...svg.querySelectorAll(":is(.dose-name, .dose-figure, .dose-caption, .dose-code)")]
      .filter((one) => {
        const { left, right, top, bottom } = one.getBoundingClientRect();
        return left < knob.right && right > knob.left && top < knob.bottom && bottom > knob.top;
      })
      .map((one) => one.textContent ?? "");
  });
}

/** Words that the line of the dose runs through: those it crosses with no ground between. */
function struckThrough(picture: Locator): Promise<(string | null)[]> {
  return picture.evaluate((svg) => {
    const line = svg.querySelector(".cursor-line") as SVGElement;
    const at = (line.getBoundingClientRect().left + line.getBoundingClientRect().right) / 2;
    const after = (one: Element, other: Element) =>
      (one.compareDocumentPosition(other) & Node.DOCUMENT_POSITION_FOLLOWING) !== 0;
    return [...svg.querySelectorAll(".dose-why, .hold-label")]
      .filter((words) => {
        const { left, right, top, bottom } = words.getBoundingClientRect();
        if (at < left || at > right) return false;
        return ![...svg.querySelectorAll(".dose-ground")].some((ground) => {
          const box = ground.getBoundingClientRect();
          const under = box.left <= at && box.right >= at && box.top < bottom - 3 && box.bottom > top + 3;
          return under && after(line, ground) && after(ground, words);
        });
      })
      .map((words) => words.textContent);
  });
}

/** The levels of the hottest jar and of its label. */
const apart = (picture: Locator): Promise<number> =>
  picture.evaluate((svg) => {
    const line = svg.querySelector(".hold-line")?.getBoundingClientRect();
    const label = svg.querySelector(".hold-label")?.getBoundingClientRect();
    if (!line || !label) return Number.POSITIVE_INFINITY;
    return Math.max(line.top - label.bottom, label.top - line.bottom) / label.height;
  });

const FOUR =
  "./#v1&recipe=shea-butter:70,olive-oil:30&as=pot&store=18~30&picture=cocoa-butter,stearic-acid,beeswax,cetyl-alcohol&dose=8";

test.describe("on a phone", () => {
  test.use(PHONE);

  test("two taps lead to the picture on the whole screen", async ({ page }) => {
    await open(page);
    const before = page.url();
    await go(page, "Teach");
    await expect(page.locator("#hardeners svg.doses")).toBeInViewport({ ratio: 0.9 });
    await page.getByRole("button", { name: "Fill the screen" }).click();
    await expect(page.locator("#stage svg.doses")).toBeInViewport({ ratio: 0.95 });
    await page.keyboard.press("Escape");
    await expect(page.locator("#stage")).toBeHidden();
    // Who only looked has changed nothing, and is where they were.
    expect(page.url()).toBe(before);
    await expect(page.getByRole("button", { name: "Fill the screen" })).toBeFocused();
  });

  test("the way back from the whole screen leads to where one was", async ({ page }) => {
    await open(page, FOUR);
    const fill = page.getByRole("button", { name: "Fill the screen" });
    await page.evaluate(() => scrollTo(0, 300));
    const was = await page.evaluate(() => scrollY);
    expect(was).toBeGreaterThan(100);
    for (const leave of [
      () => page.keyboard.press("Escape"),
      () => page.locator("#stage").getByRole("button", { name: "Close" }).click(),
    ]) {
      await fill.click();
      await expect(page.locator("#stage svg.doses")).toBeVisible();
      await leave();
      await expect(page.locator("#stage")).toBeHidden();
      await expect(fill).toBeFocused();
      await expect.poll(() => page.evaluate(() => scrollY)).toBe(was);
    }
  });

  test("the table shows every figure of four hardeners without being scrolled", async ({ page }) => {
    await open(page, FOUR);
    const table = page.locator("#hardeners table.at-dose");
    await page.locator("#hardeners summary", { hasText: "All figures at" }).click();
    await expect(table.locator("tbody")).toHaveCount(4);
    for (const body of await table.locator("tbody").all()) await expect(body.locator("td")).toHaveCount(6);
    const cut = await table.evaluate((table) =>
      [...table.querySelectorAll("th, td")]
        .filter((cell) => {
          const { left, right } = cell.getBoundingClientRect();
          return cell.scrollWidth > cell.clientWidth + 1 || left < 0 || right > innerWidth;
        })
        .map((cell) => cell.textContent),
    );
    expect(cut).toEqual([]);
  });

  test("hardeners that were taken out stay out when another recipe is pasted", async ({ page }) => {
    await open(page);
    await go(page, "Teach");
    const picked = page.locator("#hardeners .picked-one");
    await expect(picked).toHaveCount(3);
    await page.getByRole("button", { name: "Leave out Stearic acid" }).click();
    await expect(picked).toHaveCount(2);
    await go(page, "Bench");
    await page.getByRole("button", { name: "Paste a recipe" }).click();
    await page.locator("#paste-text").fill("60 mango butter\n40 olive oil");
    await page.getByRole("button", { name: "Put 2 lines on the bench" }).click();
    await go(page, "Teach");
    await expect(picked).toHaveCount(2);
    await expect(picked.filter({ hasText: "Stearic" })).toHaveCount(0);
  });

  test("what makers have at hand is offered first", async ({ page }) => {
    await open(page);
    await go(page, "Teach");
    const offered = await page.locator("#add-hardener option").allTextContents();
    const at = (name: string) => offered.findIndex((one) => one.startsWith(name));
    expect(at("Candelilla wax")).toBeGreaterThan(0);
    for (const rare of ["Illip", "Sal ", "Rice bran wax"])
      if (at(rare) > 0) expect(at("Candelilla wax"), rare).toBeLessThan(at(rare));
  });

  test("where the oil ends, so does the picture, and it is said", async ({ page }) => {
    await open(page, FOUR.replace("shea-butter:70,olive-oil:30", "shea-butter:85,olive-oil:15"));
    const card = page.locator("#hardeners");
    await expect(card.locator("svg.doses")).toContainText(/15\s% the oil ends|15\s%: the oil ends/);
    await expect(card.getByRole("slider", { name: "Dose: 8" })).toHaveAttribute("max", "15");
    // Each line runs to the edge, where its name is.
    const short = await card.locator("svg.doses").evaluate((svg) => {
      const right = (one: Element) => one.getBoundingClientRect().right;
      const edge = Math.max(...[...svg.querySelectorAll(".grid")].map(right));
      return [...svg.querySelectorAll(".dose-line")].filter((one) => right(one) < edge - 4).length;
    });
    expect(short).toBe(0);
    await open(page, FOUR.replace("shea-butter:70,olive-oil:30", "shea-butter:100"));
    // Without any oil everything gives way by itself, and it is said.
    await expect(card).toContainText("No oil in it to give way: everything does");
    await expect(card.locator("svg.doses .dose-line")).toHaveCount(4);
    await expect(card.getByRole("radio", { name: "Everything" })).toBeChecked();
    await page.getByRole("button", { name: "Fill the screen" }).click();
    await expect(page.locator("#stage svg.doses")).toContainText(/instead of\s*everything/);
  });

  test("a link opens at the picture, with its lines named", async ({ page }) => {
    await open(page, FOUR);
    const picture = page.locator("#hardeners svg.doses");
    await expect(picture).toBeInViewport({ ratio: 0.9 });
    for (const name of ["Cocoa butter", "Stearic acid", "Beeswax", "Cetyl"])
      await expect(picture).toContainText(name);
    expect(await collisions(page, "#hardeners svg.doses")).toEqual([]);
    await look(page, "class-phone");
  });
});

for (const [width, height] of [
  [1280, 800],
  [1920, 1080],
] as const) {
  test.describe(`a projector of ${width}x${height}`, () => {
    test.use({ viewport: { width, height } });

    test("why the lines of other points begin flat is said on the picture too", async ({ page }) => {
      await open(page, FOUR);
      await page.getByRole("button", { name: "Fill the screen" }).click();
      const picture = page.locator("#stage svg.doses");
      // Of a view only what its own line does: falling at first, or flat.
      for (const [figure, why] of [
        ["Clear", /Stearic acid: falls up to \d+\s% *: there it dissolves/],
        ["Slip", /Beeswax: up to \d+\s% too little of it stays solid to move the slip point/],
      ] as const) {
        await page.locator("#stage").getByRole("button", { name: figure, exact: true }).click();
        await expect
          .poll(async () => (await picture.locator(".dose-why").allTextContents()).join(" "))
          .toMatch(why);
        const listed = (await page.locator("#hardeners .whys li").allTextContents()).filter(
          (one) => !/no longer|,\sfrom/.test(one),
        );
        expect(
          listed.filter((one) => one.startsWith("Stearic acid")),
          figure,
        ).toHaveLength(1);
        expect(await collisions(page, "#stage svg.doses")).toEqual([]);
        expect(await onLines(picture)).toEqual([]);
      }
    });

    test("the picture fills it, is read from the last row, and is moved by finger and keys", async ({
      page,
    }) => {
      await open(page, FOUR);
      await page.getByRole("button", { name: "Fill the screen" }).click();
      const picture = page.locator("#stage svg.doses");
      const frame = await picture.boundingBox();
      expect(frame?.width).toBeGreaterThanOrEqual(width - 1);
      expect((frame?.y ?? 0) + (frame?.height ?? 0)).toBeGreaterThanOrEqual(height - 1);
      expect(frame?.height).toBeGreaterThanOrEqual(0.92 * height);
      // Nothing else is on it but what is shown, and the way out.
      expect(await page.locator("#stage :is(p, h1, h2, table, input, select)").count()).toBe(0);
      await expect(page.locator("#stage button")).toHaveCount(7);
      await expect(picture).toContainText(/70\s% Shea butter, 30\s% Olive oil/);
      const smallest = await picture.evaluate((svg) =>
        Math.min(
          ...[...svg.querySelectorAll("text"), ...document.querySelectorAll("#stage [aria-pressed]")].map(
            (text) => Number.parseFloat(getComputedStyle(text).fontSize),
          ),
        ),
      );
      expect(smallest / height).toBeGreaterThan(1 / 30);
      expect(await collisions(page, "#stage svg.doses")).toEqual([]);
      // What a class asks is said where it happens.
      const said = (await picture.locator(".dose-why").allTextContents()).join(" ").replaceAll("\u00a0", " ");
      expect(said).toContain("Cocoa butter: hardly moves: it melts about where the butter does");
      expect(said).toMatch(
        /Stearic acid: falls up to \d+ %: there it dissolves, and with it the rest melts sooner/,
      );
      expect(said).toMatch(/Cetyl alcohol: falls too, up to \d+ %/);
      expect(said).toMatch(/Beeswax: no longer a butter from \d+ %/);
      expect(await onLines(picture)).toEqual([]);
      expect(await apart(picture)).toBeLessThan(0.3);
      // The figure at a line's end says of which dose it is.
      await expect(picture.locator(".dose-figure").first()).toHaveText(/^at 8\s%: [\d.]+\s°C$/);
      // A code to follow on a phone, with its caption, of the dose that is shown.
      const code = picture.locator(".dose-code path");
      await expect(code).toHaveCount(1);
      await expect(picture.locator(".dose-caption").first()).toBeVisible();
      const drawn = await code.getAttribute("d");
      await look(page, `class-${width}`);

      const dose = page.getByRole("slider", { name: "Dose of the hardener" }).last();
      await expect(dose).toBeFocused();
      await expect(dose).toHaveAttribute("aria-valuenow", "8");
      await page.keyboard.press("ArrowRight");
      await expect(dose).toHaveAttribute("aria-valuenow", "9");
      await page.keyboard.press("ArrowLeft");
      await page.keyboard.press("ArrowLeft");
      await expect(dose).toHaveAttribute("aria-valuenow", "7");
      const box = await dose.boundingBox();
      if (!box) throw new Error("nothing to drag on");
      await page.mouse.move(box.x + 0.3 * box.width, box.y + box.height / 2);
      await page.mouse.down();
      await page.mouse.move(box.x + 0.8 * box.width, box.y + box.height / 2, { steps: 6 });
      const moved = Number(await dose.getAttribute("aria-valuenow"));
      expect(moved).toBeGreaterThan(12);
      await expect(picture.locator(".dose-knob")).toContainText(`${moved}\u00a0%`);
      await page.mouse.up();
      await expect(code).not.toHaveAttribute("d", drawn ?? "");
      for (const figure of ["Clear", "Slip", "Firm", "Hot", "Skin", "Softens"]) {
        const button = page.locator("#stage").getByRole("button", { name: figure, exact: true });
        await button.click();
        await expect(button).toHaveAttribute("aria-pressed", "true");
        expect(await collisions(page, "#stage svg.doses"), figure).toEqual([]);
        expect(await onLines(picture), figure).toEqual([]);
      }
      // The largest dose is read whole, beside the names and under the code.
      await dose.press("End");
      for (const figure of ["Clear", "Slip", "Firm", "Hot", "Skin", "Softens"]) {
        await page.locator("#stage").getByRole("button", { name: figure, exact: true }).click();
        await expect(picture.locator(".dose-knob")).toContainText("20\u00a0%");
        expect(await covered(picture), figure).toEqual([]);
      }
      await accessible(page);
      await page.locator("#stage").getByRole("button", { name: "Close" }).click();
      await expect(page.locator("#stage")).toBeHidden();
    });
  });
}

test.describe("on a desktop", () => {
  test.use(DESKTOP);

  test("a link opens at the picture", async ({ page }) => {
    await open(page, FOUR);
    await expect(page.locator("#hardeners svg.doses")).toBeInViewport({ ratio: 0.9 });
  });

  test("the line of the dose runs through no words, and the way to the doses looks like the others", async ({
    page,
  }) => {
    await open(page, FOUR);
    const picture = page.locator("#hardeners svg.doses");
    const dose = page.locator("#hardeners").getByRole("slider", { name: /Dose: / });
    let crossed = 0;
    for (const percent of ["2", "5", "8", "10", "14"]) {
      await dose.fill(percent);
      await expect(picture.locator(".dose-knob")).toContainText(`${percent}\u00a0%`);
      expect(await struckThrough(picture), percent).toEqual([]);
      crossed += await picture.evaluate((svg) => {
        const at = svg.querySelector(".cursor-line")?.getBoundingClientRect().left ?? 0;
        return [...svg.querySelectorAll(".dose-why, .hold-label")].filter((words) => {
          const { left, right } = words.getBoundingClientRect();
          return left < at && at < right;
        }).length;
      });
    }
    // It does go under some.
    expect(crossed).toBeGreaterThan(0);
    const way = page.getByRole("link", { name: /Which doses should a class/ });
    const ink = await page
      .getByRole("button", { name: "Print it" })
      .evaluate((b) => getComputedStyle(b).color);
    await expect(way).toHaveCSS("color", ink);
    expect((await way.boundingBox())?.height).toBeGreaterThanOrEqual(44);
  });

  test("softens comes first among the figures, in the picture and in the table", async ({ page }) => {
    await open(page, FOUR);
    const card = page.locator("#hardeners");
    await expect(card.getByRole("radio", { name: "Softens" })).toBeChecked();
    await expect(card.locator(".at-dose thead th").first()).toHaveText(/Softens/);
    await expect(card.locator("svg.doses .hold-line")).toHaveCount(1);
    expect(await collisions(page, "#hardeners svg.doses")).toEqual([]);
    for (const figure of ["Clear", "Slip", "Firm", "Hot", "Skin"]) {
      await card.locator(".chip").filter({ hasText: figure }).click();
      expect(await collisions(page, "#hardeners svg.doses"), figure).toEqual([]);
    }
  });

  test("of a whipped butter the picture speaks of its whip, and of what it says by name", async ({
    page,
  }) => {
    await open(page, FOUR.replace("as=pot", "as=whipped"));
    const picture = page.locator("#hardeners svg.doses");
    await expect(picture.locator(".dose-title")).toHaveText(/the whip is kept up to here/);
    for (const said of await picture.locator(".dose-why").allTextContents()) expect(said).not.toBe("");
    expect(await onLines(picture)).toEqual([]);
  });

  test("a recipe of ten lines has its code on the whole screen, and what it is already no dose is blamed for", async ({
    page,
  }) => {
    const ten =
      "shea-butter:30,mango-butter:15,cocoa-butter:15,coconut-oil:10,olive-oil:8,sunflower-oil:6,jojoba-oil:5,castor-oil:4,beeswax:4,stearic-acid:3";
    const four = "hydrogenated-vegetable-oil,candelilla-wax,beeswax,kokum-butter";
    await open(page, `./#v1&name=Winter&recipe=${ten}&as=pot&store=16~33&picture=${four}&dose=6`);
    await page.getByRole("button", { name: "Fill the screen" }).click();
    const picture = page.locator("#stage svg.doses");
    await expect(picture.locator(".dose-code path")).toHaveCount(1);
    await expect(picture).toContainText("Winter: ");
    expect(await collisions(page, "#stage svg.doses")).toEqual([]);
    await page.keyboard.press("Escape");
    // Cocoa butter alone snaps before anything is added; of it there is no more to take than what is not it.
    await open(
      page,
      "./#v1&recipe=cocoa-butter:90,olive-oil:10&as=bar&store=18~26&picture=cocoa-butter,beeswax&dose=4&swap=all",
    );
    const card = page.locator("#hardeners");
    await expect(card.locator("svg.doses .dose-line")).toHaveCount(2);
    await expect(card.locator("svg.doses .dose-end")).toHaveCount(1);
    await expect(card).not.toContainText("from 0");
  });

  test("the verdict and the class say the same temperature", async ({ page }) => {
    await open(page, FOUR.replace("dose=8", "dose=0"));
    const verdictC = /to ([\d.]+)\s°C/.exec((await page.locator(".verdict-text").textContent()) ?? "")?.[1];
    const cells = page.locator("#hardeners table.at-dose tbody").first().locator("td");
    await expect(cells.first()).toHaveText(verdictC ?? "no figure in the verdict");
    await expect(page.locator("#hardeners .dose-figure").first()).toHaveText(
      new RegExp(`^at 0\\s%: ${verdictC}\\s°C$`),
    );
  });

  test("on paper each pot of 100 g is weighed, the base and the dose making the whole", async ({ page }) => {
    await page.addInitScript(() => {
      window.print = () => {};
    });
    await open(page, FOUR);
    await page.getByRole("button", { name: "Print it" }).click();
    await page.emulateMedia({ media: "print" });
    const weights = page.locator(".class-sheet .pot-weights");
    await expect(weights).toHaveCount(1);
    await expect(weights.locator("caption")).toHaveText(/100 g/);
    const rows = await weights
      .locator("tbody tr")
      .evaluateAll((all) =>
        all.map((row) => [...row.querySelectorAll("td")].slice(1).map((cell) => Number(cell.textContent))),
      );
    expect(rows).toHaveLength(3);
    const doses = rows[2] ?? [];
    expect(doses).toEqual([0, 5, 8, 10, 15, 20]);
    for (const at of doses.keys()) {
      const whole = rows.reduce((sum, row) => sum + (row[at] ?? Number.NaN), 0);
      expect(whole).toBeCloseTo(100, 5);
    }
    expect(rows[0]).toEqual(doses.map(() => 70));
    await expect(page.locator(".class-sheet svg.code path")).toHaveCount(1);
    await look(page, "class-sheet", { fullPage: true });
    // It is one page.
    const pdf = await page.pdf({ format: "A4", preferCSSPageSize: true });
    expect(pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
  });
});
