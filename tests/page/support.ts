/** What every test of the page shares: any error that the browser reports fails the test. */

import { fileURLToPath } from "node:url";
import { test as base, expect, type Page } from "@playwright/test";

/** The single file, opened from disk. */
export const SINGLE_FILE = new URL("../../dist/meltmargin.html", import.meta.url).href;

export const fileOf = (relative: string): string => fileURLToPath(new URL(relative, import.meta.url));

function watch(page: Page, faults: string[]): void {
  page.on("pageerror", (error) => faults.push(`uncaught: ${error.message}`));
  page.on("console", (message) => {
    if (message.type() === "error") faults.push(`console: ${message.text()}`);
  });
  page.on("request", (request) => {
    const { protocol, host } = new URL(request.url());
    const own = host === new URL(page.url()).host || ["blob:", "data:", "about:"].includes(protocol);
    if (!own && !request.isNavigationRequest()) faults.push(`a request to a third party: ${request.url()}`);
  });
}

export const test = base.extend<{ faults: string[] }>({
  faults: [
    async ({ context }, use) => {
      const faults: string[] = [];
      context.on("page", (page) => watch(page, faults));
      await use(faults);
      expect(faults, "what the browser complained of").toEqual([]);
    },
    { auto: true },
  ],
});

export { expect };
