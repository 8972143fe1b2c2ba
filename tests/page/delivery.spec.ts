/** How the page is delivered: its policy, its work offline, its one-file form. */

import { expect, SINGLE_FILE, test } from "./support.js";

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
  await page.evaluate(async () => {
    const { active } = await navigator.serviceWorker.ready;
    if (active?.state === "activated") return;
    await new Promise<void>((resolve) =>
      active?.addEventListener("statechange", () => active.state === "activated" && resolve()),
    );
  });
  await context.setOffline(true);
  const answered = page.waitForEvent("worker");
  await page.reload();
  await answered;
  await expect(page.getByRole("heading", { level: 1 })).toBeVisible();
  await context.setOffline(false);
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
