// What to weigh, and what goes on paper.

import type { Bench } from "../../bench.js";
import type { Batch, Item } from "../../contract.js";
import { Superseded } from "../../engine.js";
import { addressOf } from "../../links.js";
import { pricesOf } from "../../prices.js";
import type { State } from "../../state.js";
import { rescued, together } from "./melting.js";

/** What a batch fills, once what stays in the bowl is off. */
export interface Filled {
  jars: number;
  left_g: number;
  lost_g: number;
}

/** The batch that is there: what was weighed last, all of it. */
export function wholeBatch(bench: Bench): NonNullable<State["made"]> {
  const rescue = rescued(bench);
  return { grams: rescue ? together(rescue) : bench.store.preferences.batch, used_grams: 0 };
}

export class Make {
  batch: Batch | null = null;
  /** What that was weighed of. */
  #of: Item[] | null = null;
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

  /** Whether there is anything to print: what is told and weighed is of the recipe on the bench. */
  get ready(): boolean {
    return !this.bench.waits && this.#of === this.bench.state.recipe;
  }

  filled({ total_g, jars: { jar_g } }: Batch): Filled {
    const lost_g = (total_g * this.bench.store.preferences.lost) / 100;
    const jars = Math.floor((total_g - lost_g) / jar_g + 1e-6);
    return { jars, lost_g, left_g: Math.max(0, total_g - lost_g - jars * jar_g) };
  }

  async #weigh(): Promise<void> {
    const { bench } = this;
    const { recipe } = bench.state;
    try {
      const { by, jars, lost } = bench.store.preferences;
      const { batch_g, ...asked } = bench.batchOf(recipe);
      const rescue = rescued(bench);
      const batch = await bench.anew("batch", bench.quick, {
        ...asked,
        // What stays in the bowl fills no jar.
        ...(rescue
          ? { batch_g: together(rescue) }
          : by === "jars"
            ? { jars: jars / (1 - lost / 100) }
            : { batch_g: batch_g ?? null }),
        price_per_kg: Object.fromEntries(pricesOf(bench.store, recipe)),
      });
      this.#of = recipe;
      if (batch) {
        this.batch = batch;
        // Whatever else asks how large a batch is means this one.
        if (by === "jars" && !rescue) bench.store.prefer({ batch: batch.total_g });
      }
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.batch = null;
    }
    bench.refresh();
  }

  /** The bench sheet, with the address as text and as a code. */
  async print(): Promise<void> {
    const { bench } = this;
    if (!this.ready) return;
    try {
      const address = await addressOf(bench.quick, bench.state);
      this.code = { ...(await bench.quick.ask("qr", { text: address })), address };
    } catch (reason) {
      this.code = null;
      bench.report(reason);
    }
    bench.refresh();
    requestAnimationFrame(() => window.print());
  }
}
