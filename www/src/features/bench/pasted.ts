// A pasted text as the engine understood it, and what the reader corrected of its lines.

import type { Bench } from "../../bench.js";
import type { Item, LineCorrection, Reading } from "../../contract.js";
import { device } from "../../device.js";
import { Superseded } from "../../engine.js";
import { FINE_PERCENT } from "../../recipe.js";
import type { OwnForm } from "./own/state.js";

/** How far numbers without a unit may sum from 100 and still be meant as percent, as people round or miscount: asked, not assumed. */
const ABOUT = 15;

export class Pasted {
  text = "";
  reading: Reading | null = null;
  /** Where the reader left a line out and the others make less than 100 %: the recipe brought to it. */
  scaled: Item[] | null = null;
  failure: string | null = null;
  /** Whether it is of a batch that melted: then it says what that is for. */
  melted = false;
  /** By the number of the line. */
  corrections = new Map<number, LineCorrection>();
  /** What the reader described of a line that the catalogue lacks. */
  readonly ownLines = new Map<number, Omit<Item, "percent">>();
  /** The lines that the reader has open. */
  readonly unfolded = new Set<number>();
  /** The lines of a text that was put on the bench without them, until they are completed or let go. */
  waiting: string[] = [];
  /** The line whose ingredient is being chosen, of a text so long that not every line lists all of them. */
  choosing: number | null = null;
  /** What was typed for an amount and is none. */
  readonly odd = new Map<number, string>();

  /** A text that was not put on the bench is there after a reload of this tab. */
  constructor(
    readonly bench: Bench,
    readonly own: OwnForm,
  ) {
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
    this.waiting = [];
    this.corrections = new Map();
    this.ownLines.clear();
    this.unfolded.clear();
    this.odd.clear();
    return this.#ask();
  }

  /** Understands it with a line put right. */
  correct(line: number, part: Partial<LineCorrection>): Promise<void> {
    if (part.id) this.ownLines.delete(line);
    this.#note(line, part);
    return this.#ask();
  }

  /** Takes what the reader described for a line. */
  describe(line: number, item: Omit<Item, "percent">): void {
    this.ownLines.set(line, item);
    this.bench.refresh();
  }

  /** Whether nothing is missing of a line any more, since its reader described what it is. */
  isDescribed(at: number): boolean {
    const line = this.reading?.lines[at];
    const others = line?.problems.some(({ kind }) => kind !== "unknown" && kind !== "ambiguous");
    return this.ownLines.has(at) && line?.percent !== null && !others;
  }

  /** Such lines, as they go on the bench. */
  get described(): Item[] {
    const lines = this.reading?.lines ?? [];
    return [...this.ownLines].flatMap(([at, item]) => {
      const line = lines[at];
      return line && !line.left_out && this.isDescribed(at) ? [{ ...item, percent: line.percent ?? 0 }] : [];
    });
  }

  /** The lines whose numbers have no unit, where they may be percent: together they make about 100. */
  get maybePercent(): number[] {
    const { unit = "percent", lines = [] } = this.reading ?? {};
    if (unit === "percent") return [];
    const bare = lines
      .map((line, at) => ({ line, at }))
      .filter(({ line }) => !line.left_out && line.amount !== null && (line.unit ?? "parts") === "parts");
    const sum = bare.reduce((sum, { line }) => sum + (line.amount ?? 0), 0);
    return Math.abs(sum - 100) <= ABOUT ? bare.map(({ at }) => at) : [];
  }

  /** Takes them all for percent. */
  allPercent(): Promise<void> {
    for (const at of this.maybePercent)
      this.#note(at, { amount: this.reading?.lines[at]?.amount ?? null, unit: "percent" });
    return this.#ask();
  }

  #note(line: number, part: Partial<LineCorrection>): void {
    const nothing = { line, id: null, amount: null, unit: null, left_out: false };
    this.corrections.set(line, { ...nothing, ...this.corrections.get(line), ...part });
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
