/** `cargo verify` serves `dist/` and says where in PAGE_URL; run by hand, this serves what was built last. */

import { defineConfig, devices } from "@playwright/test";

const given = process.env.PAGE_URL;
const url = given ?? "http://127.0.0.1:8643/some/folder/";

export default defineConfig({
  testDir: ".",
  outputDir: "../../target/page/test-results",
  forbidOnly: true,
  retries: 0,
  // Each test has a page of its own, and most of its time waits for one process.
  workers: 2,
  // Ends what hangs, and measures nothing: the slowest takes a third of it here, beside another.
  timeout: 90_000,
  expect: { timeout: 15_000 },
  reporter: [["list"]],
  use: {
    baseURL: url,
    // Where warmth is in °C and weights are in grams, unless a test says otherwise.
    locale: "en-GB",
    trace: "retain-on-failure",
    launchOptions: {
      executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
      args: [
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--disable-dev-shm-usage",
      ],
    },
  },
  projects: [{ name: "desktop", use: { ...devices["Desktop Chrome"] } }],
  ...(given
    ? {}
    : {
        webServer: {
          command: "cargo page serve --port 8643 --under /some/folder/",
          cwd: "../..",
          url,
          reuseExistingServer: false,
        },
      }),
});
