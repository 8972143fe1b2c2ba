// What is looked for in the catalogue, and what the engine found.

import type { Bench } from "../../bench.js";
import type { Found } from "../../contract.js";

export class Sought {
  text = "";
  found: Found | null = null;
  /** What was found for the text that was typed last. */
  latest: Promise<Found | null> = Promise.resolve(null);

  constructor(readonly bench: Bench) {}

  look(text: string): void {
    this.text = text;
    this.latest = text.trim() ? this.#ask(text) : Promise.resolve(null);
    if (!text.trim()) this.found = null;
    this.bench.refresh();
  }

  async #ask(text: string): Promise<Found | null> {
    try {
      const found = await this.bench.quick.ask("search", { text });
      if (this.text !== text) return null;
      this.found = found;
      this.bench.refresh();
      return found;
    } catch (reason) {
      this.bench.report(reason);
      return null;
    }
  }
}
