// What to weigh, and what goes on paper.

import type { Bench } from "../../bench.js";
import type { Batch } from "../../contract.js";
import { Superseded } from "../../engine.js";

export class Make {
  batch: Batch | null = null;
  /** The link as a code, for the printed sheet. */
  code: { size: number; path: string; address: string } | null = null;
  /** Whether the page is being printed. */
  onPaper = false;

  constructor(readonly bench: Bench) {
    bench.store.listen(() => {
      this.code = null;
    });
    bench.follow(() => this.#weigh());
  }

  async #weigh(): Promise<void> {
    const { bench } = this;
    const { recipe } = bench.state;
    try {
      const batch = await bench.anew("batch", bench.quick, {
        ...bench.batchOf(recipe),
        price_per_kg: Object.fromEntries(bench.pricesOf(recipe)),
      });
      if (batch) this.batch = batch;
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.batch = null;
    }
    bench.refresh();
  }

  /** The bench sheet, with the address as text and as a code. */
  async print(): Promise<void> {
    const { bench } = this;
    try {
      const address = await bench.address();
      this.code = { ...(await bench.quick.ask("qr", { text: address })), address };
    } catch (reason) {
      this.code = null;
      bench.report(reason);
    }
    bench.refresh();
    requestAnimationFrame(() => window.print());
  }
}
