// What a rework may go up to: the boxes show what stands for a cap that was not set, and keep what was.

import { accessible, address, box, find, go, look, open, PHONE, verdict } from "./bench.js";
import { expect, test } from "./support.js";

test.use(PHONE);

/** Shea in olive oil that stays as it is, in a warm pot. */
const LOCKED =
  "#v2_of~shea-butter~40~olive-oil~60_store~18~31_feel~scoopable_wax~0_acid~0_keep~olive-oil_pantry~kokum-butter~beeswax_7b6";

const BAR = "#v2_of~cocoa-butter~50~shea-butter~30~beeswax~20_as~bar_store~20~30";

test("a bar's cap of wax is what the engine takes it to be, and one that is typed stays", async ({
  page,
}) => {
  await open(page, `${BAR}_967`);
  await go(page, "Rework");
  await page.getByText("What may change").click();
  const wax = box(page, "Most wax");
  await expect(wax).toHaveValue("25");
  // Three is what a pot may use unless said otherwise; of a bar it is a maker's own word.
  await wax.fill("3");
  await expect.poll(() => address(page)).toContain("_wax~3");
  await page.reload();
  await go(page, "Rework");
  await page.getByText("What may change").click();
  await expect(box(page, "Most wax")).toHaveValue("3");
});

test("a link with more wax than a butter's opens with its box in order", async ({ page }) => {
  await open(page, `${BAR}_wax~30_wvd`);
  await go(page, "Rework");
  await page.getByText("What may change").click();
  const wax = box(page, "Most wax");
  await expect(wax).toHaveValue("30");
  await expect(wax).toHaveAttribute("aria-invalid", "false");
});

test("a limit in the way is named, with what there is without it, and using that lifts it", async ({
  page,
}) => {
  await open(page, LOCKED);
  await find(page).click();
  const lifted = page.locator("#reworks .way").filter({ hasText: "If olive oil may change" });
  await expect(lifted).toContainText("Meets every wish");
  await expect(page.locator("#reworks .way").filter({ hasText: "With 8 % wax" })).toBeVisible();
  await lifted.locator("summary").first().click();
  await accessible(page);
  await look(page, "limit-in-the-way");
  await lifted.getByRole("button", { name: "Use this" }).click();
  await expect.poll(() => address(page)).not.toContain("_keep~olive-oil");
  await expect(verdict(page)).toContainText(/to 3[12]/);
});
