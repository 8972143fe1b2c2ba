/** The first visit: what stands on the screen before the engine is there. */

import { go, line, open, PHONE, verdict } from "./bench.js";
import { expect, test } from "./support.js";

test("the worked example's verdict is there before the engine, and its own", async ({ page }) => {
  let arrive = () => {};
  const arrived = new Promise<void>((resolve) => {
    arrive = resolve;
  });
  await page.route("**/*.wasm", async (route) => {
    await arrived;
    await route.continue();
  });
  await page.goto("./");
  await expect(verdict(page)).toContainText("°C");
  const before = await verdict(page).textContent();
  await expect(page.locator(".picture-frame .curve")).toHaveCount(1);

  arrive();
  // A key is answered by the engine; back again, so is the worked example.
  const shea = page.locator("#percent-0");
  await shea.fill("60");
  await expect(verdict(page)).not.toHaveText(before ?? "");
  await shea.fill("50");
  await expect(verdict(page)).toHaveText(before ?? "");
});

test.describe("on a phone", () => {
  test.use(PHONE);

  test("what the page is for stands there, and the doors lead on after the first", async ({ page }) => {
    await open(page);
    await expect(page.locator(".promise")).toBeInViewport({ ratio: 1 });
    const door = (name: string) => page.locator(".doors").getByRole("button", { name, exact: true });
    for (const name of ["My recipe", "My batch melted", "Show a class"])
      await expect(door(name)).toBeInViewport({ ratio: 1 });
    await door("My recipe").click();
    await page.locator("#paste-text").fill("75 shea butter\n25 sunflower oil");
    await page.getByRole("button", { name: "Put 2 lines on the bench" }).click();
    await expect(line(page, "Sunflower oil")).toHaveValue("25");
    // A batch may still have melted, and what holds is made.
    await expect(door("My batch melted")).toBeVisible();
    await door("Make it").click();
    await expect(page.getByRole("heading", { name: "Weigh it" })).toBeInViewport();
  });

  test("what was said in passing does not follow to another station, nor cover what was touched", async ({
    page,
  }) => {
    await open(page);
    const notice = page.locator(".notice");
    await page.getByRole("button", { name: "Coconut oil", exact: false }).first().click();
    const remove = page.getByRole("button", { name: "Remove Coconut oil" });
    // Low on the screen, just above the bar.
    await remove.evaluate((one) => one.scrollIntoView({ block: "end" }));
    await page.mouse.wheel(0, 90);
    const place = await remove.boundingBox();
    expect(place?.y).toBeGreaterThan(370);
    await remove.click();
    await expect(notice).toContainText("off the recipe");
    const told = await notice.boundingBox();
    expect((told?.y ?? 0) + (told?.height ?? 999)).toBeLessThan(place?.y ?? 0);
    await page.waitForTimeout(900);
    await go(page, "Make");
    await expect(notice).toHaveCount(0);
  });

  test("a verdict that holds is never red for how it feels", async ({ page }) => {
    // Far harder than wished, and it holds well.
    await open(page, "./#v1&recipe=cocoa-butter:90,olive-oil:10&as=pot&store=18~26&feel=soft");
    await expect(page.locator(".verdict")).toHaveClass(/doubtful/);
    await expect(page.locator(".verdict")).toContainText("harder than you want");
  });
});
