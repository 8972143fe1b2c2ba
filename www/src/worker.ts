/** The engine's worker: it is handed the compiled engine first, then answers one request a message. */

import { ask, initSync } from "../generated/meltmargin.js";

export type ToWorker = { module: WebAssembly.Module } | { ticket: number; request: unknown };
export type FromWorker = { ticket: number; reply: unknown };

self.addEventListener("message", ({ data }: MessageEvent<ToWorker>) => {
  if ("module" in data) {
    initSync({ module: data.module });
  } else {
    self.postMessage({ ticket: data.ticket, reply: ask(data.request) } satisfies FromWorker);
  }
});
