/** Without a mouse and without a finger. */

import { line, open, verdict } from "./bench.js";
import { expect, test } from "./support.js";

test("the whole job by keyboard", async ({ page }) => {
  await open(page);
  const reach = async (name: RegExp) => {
    for (let presses = 0; presses < 120; presses++) {
      await page.keyboard.press("Tab");
      const label = await page.evaluate(() => {
        const now = document.activeElement as HTMLElement | null;
        return `${now?.getAttribute("aria-label") ?? now?.closest("label")?.textContent ?? now?.textContent ?? ""} #${now?.id}`;
      });
      if (name.test(label)) {
        const ring = await page.evaluate(() => {
          const now = document.activeElement as Element;
          const shows = (one: Element | null) =>
            one !== null && getComputedStyle(one).outlineStyle !== "none";
          return (
            shows(now) ||
            shows(now.nextElementSibling) ||
            now.closest(".stepper") !== null ||
            now.id === "recipe-name"
          );
        });
        expect(ring, `focus shows on ${label}`).toBe(true);
        return;
      }
    }
    throw new Error(`Tab never reached ${name}`);
  };

  await reach(/Read the curve/);
  await page.keyboard.press("ArrowLeft");
  await expect(page.locator(".reading")).toContainText("strength");
  await reach(/Hottest storage/);
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("ArrowRight");
  await expect(page.getByRole("slider", { name: "Hottest storage" })).toHaveAttribute(
    "aria-valuetext",
    /31 °C/,
  );
  await reach(/#percent-0/);
  await page.keyboard.press("ArrowUp");
  await expect(line(page, "Shea butter")).toHaveValue("50.5");
  await page.keyboard.press("ArrowDown");
  await reach(/Add an ingredient/);
  await page.keyboard.press("Enter");
  await expect(page.getByRole("dialog", { name: "Add an ingredient" })).toBeVisible();
  await page.keyboard.type("kokum");
  await page.keyboard.press("Enter");
  await expect(line(page, "Kokum butter")).toHaveValue("0");
  await reach(/Find a rework/);
  await page.keyboard.press("Enter");
  await expect(page.locator(".proposal").first()).toBeVisible();
  await reach(/Use this/);
  await page.keyboard.press("Enter");
  await expect(page.locator(".verdict")).not.toHaveClass(/bad/);
  await expect(verdict(page)).toContainText(/(keeps its whip|holds its shape) to \d/);
});

test("a rescue by keyboard", async ({ page }) => {
  await open(page);
  await page.getByRole("radio", { name: "Next batch" }).focus();
  await page.keyboard.press("ArrowRight");
  await expect(page.getByRole("radio", { name: "Rescue a batch" })).toBeFocused();
  for (let presses = 0; presses < 2; presses++) await page.keyboard.press("Tab");
  await expect(page.getByRole("textbox", { name: "What was made" })).toBeFocused();
  await page.keyboard.type("740");
  const ask = page.locator("#reworks").getByRole("button", { name: "Find a rescue" });
  for (
    let presses = 0;
    presses < 12 && !(await ask.evaluate((one) => one === document.activeElement));
    presses++
  )
    await page.keyboard.press("Tab");
  await page.keyboard.press("Enter");
  await expect(page.locator(".proposal").first()).toContainText("Then add the batch, 740 g");
});

test("less motion and forced colours are kept to", async ({ page }) => {
  await page.emulateMedia({ reducedMotion: "reduce", forcedColors: "active" });
  await open(page);
  const moving = await page.evaluate(
    () =>
      [...document.querySelectorAll("*")].filter((one) => getComputedStyle(one).transitionDuration !== "0s")
        .length,
  );
  expect(moving).toBe(0);
});

test("a button that is held steps on until it is let go", async ({ page }) => {
  await open(page);
  const more = page.getByRole("button", { name: "More: Shea butter, percent" });
  const value = async () => Number(await line(page, "Shea butter").inputValue());
  await more.hover();
  await page.mouse.down();
  await expect.poll(value).toBeGreaterThan(52);
  await page.mouse.up();
  const reached = await value();
  await page.waitForTimeout(300);
  expect(await value()).toBe(reached);
  // One hold is one step back, and a key afterwards is one step on.
  await page.getByRole("navigation").getByRole("button", { name: "Undo" }).click();
  await expect(line(page, "Shea butter")).toHaveValue("50");
  await more.press("Enter");
  await expect(line(page, "Shea butter")).toHaveValue("50.5");
});
