// What is typed key by key, as people type: a number that cannot be leaves nothing of itself behind.

import { box, open, PHONE, verdict } from "./bench.js";
import { expect, test } from "./support.js";

test.use(PHONE);

for (const [name, typed, kept] of [
  ["Hottest", "86", "30"],
  ["Hottest", "205", "30"],
  ["Coldest", "-25", "18"],
] as const) {
  test(`${typed} typed into ${name} is told, and what was there before stands`, async ({ page }) => {
    await open(page);
    const before = await verdict(page).textContent();
    const field = box(page, name);
    const was = await field.inputValue();
    await field.focus();
    await page.keyboard.press("ControlOrMeta+a");
    await page.keyboard.type(typed, { delay: 120 });
    await expect(field).toHaveValue(typed);
    await expect(field).toHaveAttribute("aria-invalid", "true");
    await expect(verdict(page)).toHaveText(before ?? "");
    await page.reload();
    await expect(field).toHaveValue(was);
    expect(was).toBe(kept);
  });
}

test("a percentage above the whole leaves nothing of itself behind, and what follows it counts", async ({
  page,
}) => {
  await open(page);
  const field = page.locator(".line .number input").first();
  const was = await field.inputValue();
  await field.focus();
  await page.keyboard.press("ControlOrMeta+a");
  await page.keyboard.type("500", { delay: 120 });
  await expect(field).toHaveAttribute("aria-invalid", "true");
  await page.keyboard.press("Backspace", { delay: 120 });
  await expect(field).toHaveValue("50");
  await expect(field).toHaveAttribute("aria-invalid", "false");
  await page.keyboard.type("0", { delay: 120 });
  await page.reload();
  await expect(field).toHaveValue(was);
});

// It was taken, shown as 0 once the box was left, and 0 after a reload, without a word.
for (const typed of ["0,00001", "0.0004"]) {
  test(`${typed} is told to be less than is kept, and what was there before stands`, async ({ page }) => {
    await open(page);
    const field = page.locator(".line .number input").first();
    const was = await field.inputValue();
    await field.focus();
    await page.keyboard.press("ControlOrMeta+a");
    await page.keyboard.type(typed, { delay: 60 });
    await field.blur();
    await expect(field).toHaveValue(typed);
    await expect(field).toHaveAttribute("aria-invalid", "true");
    await expect(page.locator("#page")).toContainText("The least that is kept is 0.001");
    await page.reload();
    await expect(field).toHaveValue(was);
  });
}

test("a number is read past what does not show and was pasted along", async ({ page }) => {
  await open(page);
  const field = page.locator(".line .number input").first();
  for (const pasted of ["48\u200b", "\ufeff47.5\u00a0%"]) {
    await field.fill(pasted);
    await expect(field).not.toHaveAttribute("aria-invalid", "true");
  }
});

// Typed over and back before the engine has answered: the answer to what is gone was shown, and stayed.
test("a verdict is of what stands in the boxes, however fast one types there and back", async ({ page }) => {
  await open(page);
  const before = await verdict(page).textContent();
  const field = box(page, "Hottest");
  for (const gone of ["17", "29", "19"]) {
    await field.evaluate(
      (input: HTMLInputElement, [gone, back]) => {
        for (const text of [gone, back]) {
          input.value = text;
          input.dispatchEvent(new InputEvent("input", { bubbles: true }));
        }
      },
      [gone, "30"] as const,
    );
    // What is gone has been answered by now, if it was asked.
    await page.waitForTimeout(700);
    await expect(verdict(page)).toHaveText(before ?? "");
  }
});
