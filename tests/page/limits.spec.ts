// What a rework may go up to: the boxes show what stands for a cap that was not set, and keep what was.

import { address, box, go, open, PHONE } from "./bench.js";
import { expect, test } from "./support.js";

test.use(PHONE);

const BAR = "#v2_of~cocoa-butter~50~shea-butter~30~beeswax~20_as~bar_store~20~30";

test("a bar's cap of wax is what the engine takes it to be, and one that is typed stays", async ({ page }) => {
  await open(page, `${BAR}_967`);
  await go(page, "Rework");
  await page.getByText("What a rework may do").click();
  const wax = box(page, "Most wax");
  await expect(wax).toHaveValue("25");
  // Three is what a pot may use unless said otherwise; of a bar it is a maker's own word.
  await wax.fill("3");
  await expect.poll(() => address(page)).toContain("_wax~3");
  await page.reload();
  await go(page, "Rework");
  await page.getByText("What a rework may do").click();
  await expect(box(page, "Most wax")).toHaveValue("3");
});

test("a link with more wax than a butter's opens with its box in order", async ({ page }) => {
  await open(page, `${BAR}_wax~30_wvd`);
  await go(page, "Rework");
  await page.getByText("What a rework may do").click();
  const wax = box(page, "Most wax");
  await expect(wax).toHaveValue("30");
  await expect(wax).toHaveAttribute("aria-invalid", "false");
});
