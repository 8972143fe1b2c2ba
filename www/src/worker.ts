/** The engine's worker: it is handed the engine first, then answers one request a message. */

import { ask, ask_with_progress, initSync } from "../generated/meltmargin.js";
import type { Progress } from "./contract.js";

export type ToWorker =
  | { module: WebAssembly.Module }
  | { ticket: number; request: unknown; reporting?: boolean };
export type FromWorker = { ticket: number; reply: unknown } | { ticket: number; progress: unknown };

/** Between two reports, ms: an eye sees no more. */
const REPORT_EVERY = 100;

self.addEventListener("message", ({ data }: MessageEvent<ToWorker>) => {
  if ("module" in data) {
    initSync({ module: data.module });
  } else if (data.reporting) {
    const { ticket } = data;
    let last = performance.now();
    const reply = ask_with_progress(data.request, (progress: Progress) => {
      const now = performance.now();
      if (now - last < REPORT_EVERY && !progress.best) return;
      last = now;
      self.postMessage({ ticket, progress } satisfies FromWorker);
    });
    self.postMessage({ ticket, reply } satisfies FromWorker);
  } else {
    self.postMessage({ ticket: data.ticket, reply: ask(data.request) } satisfies FromWorker);
  }
});
