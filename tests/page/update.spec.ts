/** A newer version of the page waits until the reader agrees, and loses nothing of what is on the bench. */

import { line, open } from "./bench.js";
import { type Host, serveAtRoot } from "./server.js";
import { expect, test } from "./support.js";

let host: Host;
let newer = false;

test.beforeAll(async () => {
  // One byte of difference makes it a newer version to the browser.
  host = await serveAtRoot((path, body) =>
    newer && path === "/service-worker.js" ? Buffer.concat([body, Buffer.from("\n// newer\n")]) : body,
  );
});

test.afterAll(() => host.close());

test("after an update, with consent", async ({ page }) => {
  newer = false;
  await open(page, host.url);
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    if (!navigator.serviceWorker.controller) {
      await new Promise((resolve) => navigator.serviceWorker.addEventListener("controllerchange", resolve));
    }
  });
  newer = true;
  await line(page, "Shea butter").fill("52");
  await line(page, "Sweet almond oil").fill("28");
  await page.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.update());
  const notice = page.locator(".notice");
  await expect(notice).toContainText("newer version");
  await expect(line(page, "Shea butter")).toHaveValue("52");
  const again = page.waitForEvent("load");
  await notice.getByRole("button", { name: "Update" }).click();
  await again;
  await expect(line(page, "Shea butter")).toHaveValue("52");
  await expect(page.locator(".notice")).toHaveCount(0);
  const waiting = await page.evaluate(
    async () => (await navigator.serviceWorker.getRegistration())?.waiting ?? null,
  );
  expect(waiting).toBeNull();
});
