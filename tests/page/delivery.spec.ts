/** How the page is delivered: its policy, its work offline, its one-file form. */

import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { address, find, keptOffline, line, open } from "./bench.js";
import { expect, fileOf, SINGLE_FILE, test } from "./support.js";

for (const [name, url] of [
  ["hosted page", "./"],
  ["single file", SINGLE_FILE],
] as const) {
  test(`the ${name}'s policy stops a foreign script`, async ({ page, faults }) => {
    await page.goto(url);
    const ran = await page.evaluate(async () => {
      const script = document.createElement("script");
      let refused = false;
      try {
        script.textContent = "window.foreignScriptRan = true";
        document.head.append(script);
      } catch {
        refused = true;
      }
      await new Promise((resolve) => setTimeout(resolve, 50));
      return { refused, ran: "foreignScriptRan" in window };
    });
    expect(ran).toEqual({ refused: true, ran: false });
    // The browser says so on its console, which is right here.
    expect(faults.splice(0).join()).toContain("TrustedScript");
  });
}

test("the page and its engine work offline after the first visit", async ({ page, context }) => {
  await page.goto("./");
  await keptOffline(page);
  await context.setOffline(true);
  const answered = page.waitForEvent("worker");
  await page.reload();
  await answered;
  await expect(page.getByRole("heading", { level: 1 })).toBeVisible();
  await context.setOffline(false);
});

test.describe("the engine", () => {
  // What a service worker fetches cannot be held up from here.
  test.use({ serviceWorkers: "block" });

  test("is fetched once, and compiled once for both workers", async ({ page }) => {
    let fetched = 0;
    page.on("request", (request) => {
      fetched += Number(request.url().endsWith(".wasm"));
    });
    const workers = page.waitForEvent("worker");
    await open(page);
    await workers;
    await find(page).click();
    await expect(page.locator(".proposal").first()).toBeVisible();
    expect(page.workers()).toHaveLength(2);
    expect(fetched).toBe(1);
  });

  test("is told where it cannot be fetched, and fetched when something is asked again", async ({
    page,
    faults,
  }) => {
    let away = true;
    await page.route(/\/meltmargin\.\w+\.wasm$/, (route) => (away ? route.abort() : route.continue()));
    await page.goto("./");
    await expect(page.locator(".notice")).toContainText("could not be fetched");
    away = false;
    await line(page, "Shea butter").fill("52");
    await line(page, "Sweet almond oil").fill("28");
    await address(page, /shea-butter~52/);
    // The browser says so on its console, which is right here.
    expect(faults.splice(0).join()).toContain("ERR_FAILED");
  });
});

test("every file of the site is named by its content or is checked for a newer one", async ({ request }) => {
  const page = await request.get("./");
  expect(page.headers()["cache-control"]).toBe("no-cache");
  const html = await page.text();
  const assets = [...html.matchAll(/(?:src|href)="(assets\/[^"]+)"/g)].map((match) => match[1] ?? "");
  expect(assets.length).toBeGreaterThan(2);
  for (const asset of assets) {
    const response = await request.get(asset);
    expect(response.status(), asset).toBe(200);
    expect(response.headers()["cache-control"], asset).toContain("immutable");
    expect(asset).toMatch(/\.[0-9A-Za-z]{8,}\.\w+$/);
  }
});

for (const [name, url] of [
  ["hosted page", "./"],
  ["single file", SINGLE_FILE],
] as const) {
  test(`the ${name} names every library in it, with its licence`, async ({ page }) => {
    const npm = JSON.parse(readFileSync(fileOf("../../www/package-lock.json"), "utf8")) as {
      packages: Record<string, { dev?: boolean; license?: string }>;
    };
    const bundled = Object.entries(npm.packages).flatMap(([path, { dev }]) => {
      const library = path.replace("node_modules/", "");
      // Of lit, only lit-html is drawn in; the types are no code.
      const absent = /^$|^@|^lit-element$/.test(library);
      return dev || absent ? [] : [library];
    });
    const tree = [
      "tree",
      "--locked",
      "--edges=normal,no-proc-macro",
      "--target=wasm32-unknown-unknown",
      "--prefix=none",
      "--package=meltmargin",
    ];
    const crates = execFileSync("cargo", tree, { cwd: fileOf("../.."), encoding: "utf8" })
      .split("\n")
      .map(
        (line) =>
          line
            .split(" ")[0]
            ?.replace(/^futures-.*/, "futures")
            .replace(/^serde_core$|^serde_derive$/, "serde") ?? "",
      )
      .map((one) => one.replace(/^wasm-bindgen-.*/, "wasm-bindgen"))
      .filter(Boolean);
    expect(bundled).toContain("lit-html");
    expect(crates).toContain("wasm-bindgen");
    await page.goto(url);
    await page.locator(".licences summary").click();
    const told = (await page.locator(".licences").textContent())?.toLowerCase() ?? "";
    const missing = [...bundled, ...crates].filter((library) => !told.includes(library.toLowerCase()));
    expect(missing).toEqual([]);
    for (const words of [
      "Permission is hereby granted",
      "Permission to use, copy",
      "Redistributions of source code",
    ]) {
      expect(told).toContain(words.toLowerCase());
    }
  });
}

test("it can be installed: icons of the sizes that browsers ask for", async ({ page, request }) => {
  const manifest = await (await request.get("manifest.webmanifest")).json();
  expect(manifest).toMatchObject({ display: "standalone", start_url: "./", scope: "./" });
  await page.goto("./");
  const real = await page.evaluate(
    async (icons: { src: string }[]) =>
      Promise.all(
        icons.map(async ({ src }) => {
          const image = await createImageBitmap(await (await fetch(src)).blob());
          return `${image.width}x${image.height}`;
        }),
      ),
    manifest.icons.filter((icon: { type: string }) => icon.type === "image/png"),
  );
  const claimed = manifest.icons.filter((icon: { type: string }) => icon.type === "image/png");
  expect(real).toEqual(claimed.map((icon: { sizes: string }) => icon.sizes));
  expect(real).toEqual(expect.arrayContaining(["192x192", "512x512"]));
  expect(claimed.some((icon: { purpose?: string }) => icon.purpose === "maskable")).toBe(true);
  const session = await page.context().newCDPSession(page);
  const { errors } = await session.send("Page.getAppManifest");
  expect(errors).toEqual([]);
});
