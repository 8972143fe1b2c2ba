/** Every notice, light and dark: what it says can be read, it covers nothing that it speaks of, and axe finds nothing wrong. */

import type { BrowserContext, Page } from "@playwright/test";
import { accessible, choose, denyStorage, find, go, line, open, PHONE, verdict } from "./bench.js";
import { type Host, serveAtRoot } from "./server.js";
import { expect, test } from "./support.js";

/** What makes it a newer version to the browser. */
let newer = "";
let host: Host;
test.beforeAll(async () => {
  host = await serveAtRoot((path, body) =>
    path === "/service-worker.js" ? Buffer.concat([body, Buffer.from(newer)]) : body,
  );
});
test.afterAll(() => host.close());

const WEEK =
  "v1&name=Week&recipe=shea-butter:61,coconut-oil:19,sweet-almond-oil:20&as=pot&store=17~29&feel=soft";
const FRIEND = "v1&name=Friend&recipe=mango-butter:70,olive-oil:30&as=pot&store=18~30";
const notice = (page: Page) => page.locator(".notice");
const undo = (page: Page) => page.getByRole("navigation").getByRole("button", { name: "Undo" });

/** How a notice comes up, and what of the page it speaks of. */
interface Raised {
  raise(page: Page, context: BrowserContext): Promise<void>;
  says: RegExp;
  of?: string;
}

const change = async (page: Page) => {
  await line(page, "Shea butter").fill("54");
  await line(page, "Sweet almond oil").fill("26");
};

const NOTICES: Record<string, Raised> = {
  "a line is gone": {
    raise: async (page) => {
      await page.getByRole("button", { name: "Coconut oil", exact: false }).first().click();
      await page.getByRole("button", { name: "Remove Coconut oil" }).click();
    },
    says: /off the recipe/,
    of: ".recipe .total",
  },
  "taken back": {
    raise: async (page) => {
      await change(page);
      await undo(page).click();
    },
    says: /Taken back/,
  },
  "done again": {
    raise: async (page) => {
      await change(page);
      await undo(page).click();
      await page.getByRole("navigation").getByRole("button", { name: "Redo" }).click();
    },
    says: /Done again/,
  },
  "a rework is used": {
    raise: async (page) => {
      await find(page).click();
      await page.locator(".proposal").first().getByRole("button", { name: "Use this" }).click();
    },
    says: /Now on the bench/,
    of: ".verdict",
  },
  "a rescue raises the hottest": {
    raise: async (page) => {
      await go(page, "Trouble");
      await page.getByLabel("Or in your own words").fill("it melted in the delivery van");
      await page.getByRole("button", { name: /^Rescue the batch for/ }).click();
      await expect(page.locator("#reworks .proposal").first()).toBeVisible();
    },
    says: /hottest days are now/,
  },
  "a link is opened over work": {
    raise: async (page) => {
      await change(page);
      await page.evaluate((link) => {
        location.hash = link;
      }, FRIEND);
    },
    says: /on the shelf as/,
    of: ".verdict-text",
  },
  "a link that is none": {
    raise: async (page) => {
      await page.evaluate(() => {
        location.hash = "v9&nothing";
      });
    },
    says: /./,
  },
  "a link is copied": {
    raise: async (page, context) => {
      await context.grantPermissions(["clipboard-read", "clipboard-write"]);
      await page.getByRole("button", { name: "Share", exact: true }).click();
    },
    says: /link is copied/,
  },
  "another tab": {
    raise: async (page, context) => {
      const other = await context.newPage();
      await open(other, `./#${WEEK}`);
      await expect(notice(page)).toBeVisible();
      await other.close();
    },
    says: /put something else on the bench/,
  },
  "two tabs, which one": {
    raise: async (page, context) => {
      const other = await context.newPage();
      await open(other, `./#${WEEK}`);
      await expect(notice(page)).toBeVisible();
      await line(page, "Shea butter").fill("59");
      await expect(notice(page)).toContainText("Which one stays there?");
      await other.close();
    },
    says: /Which one stays there/,
  },
  "nothing is kept": {
    raise: async (page) => {
      await denyStorage(page);
      await page.goto("about:blank");
      await open(page);
      await change(page);
    },
    says: /does not keep what you change/,
  },
  "the engine is away": {
    raise: async (page) => {
      await page.evaluate(() => {
        Worker.prototype.postMessage = () => {
          throw new DOMException("gone", "DataCloneError");
        };
      });
      await line(page, "Shea butter").fill("54");
    },
    says: /./,
  },
  "something went wrong": {
    raise: async (page) => {
      await page.evaluate(() => dispatchEvent(new ErrorEvent("error", { message: "thrown by a test" })));
    },
    says: /went wrong/i,
  },
  "both seasons are kept": {
    raise: async (page) => {
      await go(page, "Rework");
      await choose(page, "Two seasons");
      // So cold that one recipe does not serve both.
      await page.getByRole("textbox", { name: "Coldest then" }).fill("-5");
      await page.getByRole("textbox", { name: "Hottest then" }).fill("4");
      await page.getByRole("button", { name: "Find both" }).filter({ visible: true }).first().click();
      await page.getByRole("button", { name: "Keep both on the shelf" }).click();
    },
    says: /on the shelf, by name/,
  },
  "a newer version": {
    raise: async (page) => {
      newer = "";
      await open(page, host.url);
      await page.evaluate(async () => {
        await navigator.serviceWorker.ready;
        if (!navigator.serviceWorker.controller)
          await new Promise((resolve) =>
            navigator.serviceWorker.addEventListener("controllerchange", resolve),
          );
      });
      newer = "\n// newer\n";
      await page.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.update());
    },
    says: /newer version/,
  },
};

/** How much its letters stand out from their ground, by the rule of WCAG. */
const contrast = (page: Page) =>
  notice(page).evaluate((notice) => {
    const light = (colour: string) => {
      const [r = 0, g = 0, b = 0] = (colour.match(/[\d.]+/g) ?? []).map((part) => {
        const share = Number(part) / 255;
        return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
      });
      return 0.2126 * r + 0.7152 * g + 0.0722 * b;
    };
    const ground = light(getComputedStyle(notice).backgroundColor);
    const all = [...notice.querySelectorAll("p, button")].map((part) => {
      const letters = light(getComputedStyle(part).color);
      return (Math.max(letters, ground) + 0.05) / (Math.min(letters, ground) + 0.05);
    });
    return Math.min(...all);
  });

for (const colorScheme of ["light", "dark"] as const) {
  test.describe(colorScheme, () => {
    test.use({ ...PHONE, colorScheme });
    const seen = colorScheme === "light" ? "all" : "colours";

    for (const [name, { raise, says, of }] of Object.entries(NOTICES)) {
      test(`${colorScheme}: ${name}`, async ({ page, context }) => {
        await open(page);
        await raise(page, context);
        await expect(notice(page)).toContainText(says);
        expect(await contrast(page)).toBeGreaterThanOrEqual(4.5);
        // Neither a bar nor a screen's edge cuts it off.
        await expect(notice(page)).toBeInViewport({ ratio: 1 });
        if (of) {
          const [told, subject] = await Promise.all([
            notice(page).boundingBox(),
            page.locator(of).boundingBox(),
          ]);
          if (!told || !subject) throw new Error("no place");
          expect(told.y >= subject.y + subject.height || told.y + told.height <= subject.y).toBe(true);
        }
        await accessible(page, seen);
      });
    }

    test(`${colorScheme}: a verdict that is late, and one that has no engine`, async ({ page }) => {
      await open(page);
      await page.evaluate(() => {
        Worker.prototype.postMessage = () => {};
      });
      await line(page, "Shea butter").fill("54");
      await expect(page.locator(".verdict")).toHaveClass(/late/);
      await expect(verdict(page)).toBeVisible();
      await accessible(page, seen);
    });
  });
}
