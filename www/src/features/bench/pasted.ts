// A pasted text as the engine understood it, and what the reader corrected of its lines.

import type { Bench } from "../../bench.js";
import type { Item, LineCorrection, Reading } from "../../contract.js";
import { device } from "../../device.js";
import { Superseded } from "../../engine.js";
import { FINE_PERCENT } from "../../recipe.js";

export class Pasted {
  text = "";
  reading: Reading | null = null;
  /** Where the reader left a line out and the others make less than 100 %: the recipe brought to it. */
  scaled: Item[] | null = null;
  failure: string | null = null;
  /** By the number of the line. */
  corrections = new Map<number, LineCorrection>();
  /** The lines that the reader has open. */
  readonly unfolded = new Set<number>();
  /** What was typed for an amount and is none. */
  readonly odd = new Map<number, string>();

  /** A text that was not put on the bench is there after a reload of this tab. */
  constructor(readonly bench: Bench) {
    this.text = device.noted("pasted") ?? "";
  }

  /** What was left in the box is understood anew, if it is not yet. */
  async open(): Promise<void> {
    if (this.text && !this.reading) await this.read(this.text);
  }

  /** Understands a text, for the preview. */
  read(text: string): Promise<void> {
    this.text = text;
    device.note("pasted", text);
    this.reading = null;
    this.scaled = null;
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
      const reading = await this.bench.quick.ask("read", { text, corrections });
      this.scaled = await this.#whole(reading);
      this.reading = reading;
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.failure = this.bench.inWords(reason);
    }
    this.bench.refresh();
  }

  /** Percentages of which the reader left some out, in proportion to 100 %. */
  async #whole({ recipe, open, remarks }: Reading): Promise<Item[] | null> {
    const left = [...this.corrections.values()].some((one) => one.left_out);
    const off = remarks.some(({ kind }) => kind === "total-not-hundred");
    if (!left || !off || open || !recipe.length) return null;
    return (await this.bench.quick.ask("scale", { recipe, step_percent: FINE_PERCENT }, "read")).recipe;
  }
}
