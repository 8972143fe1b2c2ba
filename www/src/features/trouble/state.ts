// From a sign, or from the maker's own words, to its cause.

import type { Bench } from "../../bench.js";
import type { Sign, Symptom } from "../../contract.js";
import { EngineError, Superseded } from "../../engine.js";
import { untouched } from "../../state.js";
import { say } from "../../words.js";
import { wholeBatch } from "../make/state.js";

/** Fewer lines with an amount are no recipe, but figures in what is told. */
const LEAST_LINES = 2;

export class Trouble {
  sign: Sign | "" = "";
  words = "";
  told: Symptom | null = null;
  failure: string | null = null;
  /** How many lines of a recipe stand in the words. */
  recipeLines = 0;
  /** How hot it got, °C, and how much of it there is, g, where the maker said so. */
  hottest_c: number | null = null;
  grams: number | null = null;

  constructor(readonly bench: Bench) {
    bench.follow(() => (this.sign || this.words.trim()) && this.#diagnose());
  }

  /** Whether the answer is about the worked example, which is nobody's batch. */
  get ofExample(): boolean {
    return untouched(this.bench.state);
  }

  /** The storage to ask a rework for. */
  get storage_c(): Symptom["rework_storage_c"] {
    const asked = this.told?.rework_storage_c ?? this.bench.state.storage_c;
    const hottest = this.hottest_c ?? asked.hottest;
    return { coldest: Math.min(asked.coldest, hottest), hottest };
  }

  get made() {
    const whole = wholeBatch(this.bench);
    return { ...whole, grams: this.grams ?? whole.grams };
  }

  seen(sign: Sign | ""): void {
    [this.sign, this.words, this.recipeLines] = [sign, "", 0];
    void this.#diagnose();
  }

  said(words: string): void {
    [this.sign, this.words] = ["", words];
    void this.#diagnose();
    this.#findRecipe().catch((reason) => this.bench.report(reason));
  }

  /** What is asked for, where the maker says otherwise than the sign. */
  set(part: Partial<Pick<Trouble, "hottest_c" | "grams">>): void {
    Object.assign(this, part);
    this.bench.refresh();
  }

  /** Whoever tells of a batch tells what was in it, too. */
  async #findRecipe(): Promise<void> {
    const { bench, words } = this;
    if (!/\d/.test(words)) {
      this.recipeLines = 0;
      bench.quick.drop("told recipe");
      return;
    }
    const { lines } = await bench.quick.ask("read", { text: words, corrections: [] }, "told recipe");
    const found = lines.filter(({ id, problems }) => id && !problems.length).length;
    this.recipeLines = found >= LEAST_LINES ? found : 0;
    bench.refresh();
  }

  async #diagnose(): Promise<void> {
    const { bench, sign, words } = this;
    if (!sign && !words.trim()) {
      bench.forget("symptom");
      bench.quick.drop("symptom");
      this.told = null;
      this.failure = null;
      bench.refresh();
      return;
    }
    try {
      const asked = { ...bench.wishes(bench.state), ...(sign ? { sign } : { words }) };
      const told = await bench.anew("symptom", bench.quick, asked);
      if (told) this.told = told;
      this.failure = null;
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.told = null;
      const unclear = reason instanceof EngineError && reason.failure.at === "words";
      this.failure = unclear ? say("words-unclear") : bench.inWords(reason);
    }
    bench.refresh();
  }
}
