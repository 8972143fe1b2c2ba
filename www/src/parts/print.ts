// A sheet on its way to paper.

import type { Bench } from "../bench.js";

/** Prints only the sheets of a kind, which the style sheet knows by it; afterwards they are drawn no more. */
export function printSheets(bench: Bench, kind: "class" | "notes", done: () => void): void {
  document.documentElement.dataset.print = kind;
  addEventListener(
    "afterprint",
    () => {
      done();
      delete document.documentElement.dataset.print;
      bench.refresh();
    },
    { once: true },
  );
  bench.drawNow();
  window.print();
}
