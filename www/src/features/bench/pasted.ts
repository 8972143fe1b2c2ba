// A pasted text as the engine understood it, and what the reader chose for lines that were not clear.

import type { Bench } from "../../bench.js";
import type { Reading } from "../../contract.js";
import { Superseded } from "../../engine.js";

export class Pasted {
  text = "";
  reading: Reading | null = null;
  failure: string | null = null;
  chosen = new Map<number, string>();

  constructor(readonly bench: Bench) {}

  /** Understands a text, for the preview. */
  async read(text: string): Promise<void> {
    this.text = text;
    this.reading = null;
    this.failure = null;
    this.chosen = new Map();
    this.bench.refresh();
    if (!text.trim()) return;
    try {
      this.reading = await this.bench.quick.ask("read", { text });
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.failure = this.bench.inWords(reason);
    }
    this.bench.refresh();
  }
}
