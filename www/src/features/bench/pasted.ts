// A pasted text as the engine understood it, and what the reader corrected of its lines.

import type { Bench } from "../../bench.js";
import type { LineCorrection, Reading } from "../../contract.js";
import { Superseded } from "../../engine.js";

export class Pasted {
  text = "";
  reading: Reading | null = null;
  failure: string | null = null;
  /** By the number of the line. */
  corrections = new Map<number, LineCorrection>();
  /** The lines that the reader has open. */
  readonly unfolded = new Set<number>();
  /** What was typed for an amount and is none. */
  readonly odd = new Map<number, string>();

  constructor(readonly bench: Bench) {}

  /** Understands a text, for the preview. */
  read(text: string): Promise<void> {
    this.text = text;
    this.reading = null;
    this.corrections = new Map();
    this.unfolded.clear();
    this.odd.clear();
    return this.#ask();
  }

  /** Understands it with a line put right. */
  correct(line: number, part: Partial<LineCorrection>): Promise<void> {
    const nothing = { line, id: null, amount: null, unit: null, left_out: false };
    this.corrections.set(line, { ...nothing, ...this.corrections.get(line), ...part });
    return this.#ask();
  }

  async #ask(): Promise<void> {
    this.failure = null;
    this.bench.refresh();
    const { text } = this;
    if (!text.trim()) return this.bench.quick.drop("read");
    try {
      const corrections = [...this.corrections.values()];
      this.reading = await this.bench.quick.ask("read", { text, corrections });
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.failure = this.bench.inWords(reason);
    }
    this.bench.refresh();
  }
}
