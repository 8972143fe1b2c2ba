/** What a friend receives: a title that says it, a card to send along, and a link that says where it works. */

import { writeFileSync } from "node:fs";
import type { Page } from "@playwright/test";
import { box, find, look, open, PHONE, verdict } from "./bench.js";
import { expect, fileOf, SINGLE_FILE, test } from "./support.js";

/** What is put on the clipboard. */
async function copied(page: Page): Promise<() => Promise<string>> {
  await page.addInitScript(() => {
    const told = window as unknown as { copied: string };
    const writeText = async (text: string) => {
      told.copied = text;
    };
    Object.defineProperty(navigator, "clipboard", { value: { writeText } });
  });
  return () => page.evaluate(() => (window as unknown as { copied: string }).copied);
}

/** The size of a PNG, as its first chunk has it. */
const sizeOf = (png: Buffer) => [png.readUInt32BE(16), png.readUInt32BE(20)];

test("the title says which butter, to what it holds, and where", async ({ page }) => {
  await open(page);
  await expect(page).toHaveTitle("Whipped shea holds to 27.5\u00a0°C, hottest 30\u00a0°C · Meltmargin");
  await box(page, "Hottest").fill("27");
  await expect(page).toHaveTitle(/hottest 27/);
  await page.goto("about:blank");
  await page.goto("./#v1&recipe=castor-oil:100&as=pot&store=18~30");
  await expect(page).toHaveTitle(/never holds its shape/);
});

test("a card of the verdict, before and after, is saved as a picture", async ({ page }) => {
  await copied(page);
  // The card is drawn from a text that is never on the page.
  await page.addInitScript(() => {
    const write = XMLSerializer.prototype.serializeToString;
    XMLSerializer.prototype.serializeToString = function (node) {
      const text = write.call(this, node);
      Object.assign(window, { drawn: text });
      return text;
    };
  });
  await open(page);
  await find(page).click();
  await page.locator(".proposal").first().getByRole("button", { name: "Use this" }).click();
  await expect(page.locator(".verdict")).not.toHaveClass(/bad/);
  await page.getByRole("navigation").getByRole("button", { name: "Share" }).click();
  const download = page.waitForEvent("download");
  await page.locator(".notice").getByRole("button", { name: "Save a card of it" }).click();
  const stream = await (await download).createReadStream();
  const chunks: Buffer[] = [];
  for await (const chunk of stream) chunks.push(chunk as Buffer);
  const png = Buffer.concat(chunks);
  expect(png.subarray(1, 4).toString()).toBe("PNG");
  expect(sizeOf(png)).toEqual([1200, 630]);
  expect(png.length).toBeGreaterThan(20_000);
  // No row of it runs into another, and the name at the foot is on a row of its own.
  const drawn = await page.evaluate(() => (window as unknown as { drawn: string }).drawn);
  const rows = [...drawn.matchAll(/<text x="48" y="([\d.]+)" [^>]*?font-size="([\d.]+)"[^>]*>([^<]*)</g)].map(
    ([, y, px, text]) => ({ y: Number(y), px: Number(px), text }),
  );
  expect(rows.length).toBeGreaterThan(4);
  expect(rows.at(-1)?.text).toBe("Meltmargin");
  for (const [i, row] of rows.entries())
    if (i > 0) expect(row.y - (rows[i - 1]?.y ?? 0), row.text ?? "").toBeGreaterThanOrEqual(row.px);
  await look(page, "shared");
  writeFileSync(fileOf("../../target/page/screens/card.png"), png);
});

test.describe("on a phone", () => {
  test.use(PHONE);

  test("the card goes along with the link", async ({ page }) => {
    await page.addInitScript(() => {
      const told = window as unknown as { shared: ShareData };
      Object.assign(navigator, {
        canShare: () => true,
        share: async (data: ShareData) => {
          told.shared = data;
        },
      });
    });
    await open(page);
    await page.getByRole("navigation").getByRole("button", { name: "Share" }).click();
    const shared = () =>
      page.evaluate(() => {
        const { shared } = window as unknown as { shared?: ShareData };
        return shared && { title: shared.title, url: shared.url, type: shared.files?.[0]?.type };
      });
    await expect.poll(shared).toBeTruthy();
    const { title, url, type } = (await shared()) ?? {};
    expect(title).toMatch(/^Whipped shea holds to/);
    expect(url).toContain("#v2_");
    expect(type).toBe("image/png");
  });
});

test("from a file the link says that it works only here, and offers the file", async ({ page }) => {
  const link = await copied(page);
  await page.goto(SINGLE_FILE);
  await expect(verdict(page)).toContainText("°C");
  await page.getByRole("navigation").getByRole("button", { name: "Share" }).click();
  await expect(page.locator(".notice")).toContainText("works only here");
  expect(await link()).toMatch(/^file:.*#v2_/);
  const download = page.waitForEvent("download");
  await page.locator(".notice").getByRole("button", { name: "Save it as a file" }).click();
  expect((await download).suggestedFilename()).toBe("Whipped-shea.json");
});
