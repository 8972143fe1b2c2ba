/** A newer version of the page waits until the reader agrees, and loses nothing of what is on the bench. */

import { readFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { extname } from "node:path";
import { line, open } from "./bench.js";
import { expect, fileOf, test } from "./support.js";

const TYPES: Record<string, string> = {
  ".html": "text/html",
  ".js": "text/javascript",
  ".css": "text/css",
  ".wasm": "application/wasm",
  ".svg": "image/svg+xml",
  ".webmanifest": "application/manifest+json",
};

let server: Server;
let newer = false;

test.beforeAll(async () => {
  server = createServer((request, response) => {
    const path = new URL(request.url ?? "/", "http://page").pathname.replace(/\/$/, "/index.html");
    try {
      let body = readFileSync(fileOf(`../../dist${path}`));
      // One byte of difference makes it a newer version to the browser.
      if (newer && path === "/service-worker.js") body = Buffer.concat([body, Buffer.from("\n// newer\n")]);
      response
        .writeHead(200, { "content-type": TYPES[extname(path)] ?? "application/octet-stream" })
        .end(body);
    } catch {
      response.writeHead(404).end();
    }
  }).listen(0, "127.0.0.1");
  await new Promise((resolve) => server.once("listening", resolve));
});

test.afterAll(() => server.close());

test("after an update, with consent", async ({ page }) => {
  const url = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
  newer = false;
  await open(page, url);
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
