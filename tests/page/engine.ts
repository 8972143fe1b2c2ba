/** Asks the page's own worker, beside what the page itself asks it. */

import type { Page } from "@playwright/test";

type Spied = { engineWorker?: Worker };

/** To be called before the page is opened: notes the worker once the page has handed it the engine. */
export async function spyOnWorker(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const send = Worker.prototype.postMessage as (this: Worker, ...all: unknown[]) => void;
    Worker.prototype.postMessage = function (this: Worker, ...all: unknown[]) {
      send.apply(this, all);
      const message = all[0];
      if (typeof message === "object" && message && "module" in message) {
        (window as unknown as Spied).engineWorker = this;
      }
    };
  });
}

/** The worker's reply to one request, by the page's own protocol (`www/src/worker.ts`), as JSON text. */
export async function askWorker(page: Page, request: unknown): Promise<string> {
  await page.waitForFunction(() => (window as unknown as Spied).engineWorker !== undefined);
  return page.evaluate(
    (request) =>
      new Promise<string>((resolve) => {
        const worker = (window as unknown as Spied).engineWorker as Worker;
        const ticket = -1;
        const listen = ({ data }: MessageEvent) => {
          if (data.ticket !== ticket) return;
          worker.removeEventListener("message", listen);
          resolve(JSON.stringify(data.reply));
        };
        worker.addEventListener("message", listen);
        worker.postMessage({ ticket, request });
      }),
    request,
  );
}
