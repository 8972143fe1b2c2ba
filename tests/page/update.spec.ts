/** A newer version of the page waits until the reader agrees, and loses nothing of what is on the bench. */

import { address, line, open } from "./bench.js";
import { type Host, serveAtRoot } from "./server.js";
import { expect, test } from "./support.js";

let host: Host;
let newer = "";

test.beforeAll(async () => {
  // One byte of difference makes it a newer version to the browser.
  host = await serveAtRoot((path, body) =>
    path === "/service-worker.js" ? Buffer.concat([body, Buffer.from(newer)]) : body,
  );
});

test.afterAll(() => host.close());

/** A version that takes its time to take over: the old page works on while the reload waits for it. */
const SLOW = "\naddEventListener('activate', (a) => a.waitUntil(new Promise((r) => setTimeout(r, 1500))));\n";

for (const [how, version] of [
  ["at once", "\n// newer\n"],
  // Then the reload went to the address of before, which was taken for somebody's link: the work was on the
  // shelf only.
  ["slowly", SLOW],
] as const) {
  test(`after an update, with consent, that comes ${how}`, async ({ page }) => {
    newer = "";
    await open(page, host.url);
    await page.evaluate(async () => {
      await navigator.serviceWorker.ready;
      if (!navigator.serviceWorker.controller) {
        await new Promise((resolve) => navigator.serviceWorker.addEventListener("controllerchange", resolve));
      }
    });
    newer = version;
    await page.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.update());
    const notice = page.locator(".notice");
    await expect(notice).toContainText("newer version");
    const again = page.waitForEvent("load");
    await line(page, "Shea butter").fill("52");
    await line(page, "Sweet almond oil").fill("28");
    await notice.getByRole("button", { name: "Update" }).click();
    await again;
    await expect(line(page, "Shea butter")).toHaveValue("52");
    await expect(line(page, "Sweet almond oil")).toHaveValue("28");
    await address(page);
    await expect(line(page, "Shea butter")).toHaveValue("52");
    await expect(page.locator(".notice")).toHaveCount(0);
    await expect(page.locator("#shelf li")).toHaveCount(0);
    const waiting = await page.evaluate(
      async () => (await navigator.serviceWorker.getRegistration())?.waiting ?? null,
    );
    expect(waiting).toBeNull();
  });
}

test("a reload that is slow opens no older address than that of what is on the bench", async ({
  browser,
}) => {
  const context = await browser.newContext({ serviceWorkers: "block" });
  const page = await context.newPage();
  await open(page, host.url);
  await page.route(
    (url) => url.pathname === "/",
    async (route) => {
      await new Promise((later) => setTimeout(later, 1500));
      await route.continue();
    },
  );
  await line(page, "Shea butter").fill("52");
  await line(page, "Sweet almond oil").fill("28");
  const again = page.waitForEvent("load");
  await page.evaluate(() => location.reload());
  await again;
  await address(page);
  await expect(line(page, "Shea butter")).toHaveValue("52");
  await expect(line(page, "Sweet almond oil")).toHaveValue("28");
  await expect(page.locator(".notice")).toHaveCount(0);
  await context.close();
});

test("a link in place of the page's own address is opened by a reload too", async ({ browser }) => {
  const context = await browser.newContext({ serviceWorkers: "block" });
  const page = await context.newPage();
  await open(page, host.url);
  await line(page, "Shea butter").fill("52");
  await line(page, "Sweet almond oil").fill("28");
  await address(page);
  // As from an address bar whose load is broken off before the page has seen the link.
  await page.evaluate(() => {
    history.replaceState(null, "", "#v1&name=Friend&recipe=mango-butter:70,olive-oil:30&as=pot&store=18~30");
    location.reload();
  });
  await expect(line(page, "Mango butter")).toHaveValue("70");
  await expect(page.locator(".notice")).toContainText("on the shelf as “Whipped shea”");
  await context.close();
});
