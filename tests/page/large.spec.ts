// Letters twice as large: nothing lies beside the screen, and the names of the stations lie side by side.

import { DEVICES, go, open, STATIONS } from "./bench.js";
import { expect, test } from "./support.js";

for (const [name, device] of DEVICES) {
  test.describe(`on a ${name}`, () => {
    test.use(device);

    test("letters twice as large fit the screen in every station", async ({ page }) => {
      await open(page);
      const width = device.viewport.width;
      await page.evaluate(() => {
        document.documentElement.style.fontSize = "200%";
      });
      for (const station of STATIONS) {
        await go(page, station);
        await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBe(width);
      }
      const names = page.locator(".bar .bar-button span");
      const boxes = await names.evaluateAll((all) => all.map((one) => one.getBoundingClientRect().toJSON()));
      for (const [at, one] of boxes.entries()) {
        const next = boxes[at + 1];
        // On a wide screen they may stand in two rows.
        if (next && next.top === one.top) expect(one.right).toBeLessThanOrEqual(next.left + 0.5);
        expect(one.right).toBeLessThanOrEqual(width);
      }
    });
  });
}
