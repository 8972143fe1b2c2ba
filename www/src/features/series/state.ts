// A ratio series for a class: one butter with ever more of one hardener, and which doses are worth making.

import type { Bench } from "../../bench.js";
import type { Answers, Measured } from "../../contract.js";
import { Superseded } from "../../engine.js";
import { printSheets } from "../../parts/print.js";
import { isOwn } from "../../state.js";
import type { Noted } from "../notebook/noted.js";

const BUTTERS: ReadonlySet<string> = new Set(["soft-butter", "hard-butter"]);
const HARDENERS: ReadonlySet<string> = new Set(["hard-butter", "wax", "fatty-acid", "fatty-alcohol"]);

export class Series {
  most_percent = 20;
  doses = 5;
  grams = 20;
  measured: Measured = "kitchen";
  told: Answers["plan"]["series"] = null;
  failure: string | null = null;
  seeking = false;
  /** Whether its sheet is on its way to paper. */
  onPaper = false;
  /** Whether somebody came to see it. */
  unfolded = false;
  #butter: string | null = null;
  #hardener = "stearic-acid";
  #asked = "";

  constructor(
    readonly bench: Bench,
    private readonly notebook: Pick<Noted, "asked" | "lotsOf">,
  ) {}

  /** The butter that was chosen, or else the largest of the recipe. */
  get butter(): string {
    if (this.#butter) return this.#butter;
    const here = this.bench.state.recipe.filter(
      (item) => item.id && !isOwn(item) && BUTTERS.has(this.bench.catalogue.get(item.id)?.class ?? ""),
    );
    return here.toSorted((one, other) => other.percent - one.percent)[0]?.id ?? "shea-butter";
  }

  get hardener(): string {
    return this.#hardener === this.butter ? "beeswax" : this.#hardener;
  }

  get butters() {
    return [...this.bench.catalogue.values()].filter((one) => BUTTERS.has(one.class));
  }

  get hardeners() {
    return [...this.bench.catalogue.values()].filter(
      (one) => HARDENERS.has(one.class) && one.id !== this.butter,
    );
  }

  setButter(id: string): void {
    this.#butter = id;
    this.bench.refresh();
  }

  setHardener(id: string): void {
    this.#hardener = id;
    this.bench.refresh();
  }

  change(change: () => void): void {
    change();
    this.bench.refresh();
  }

  /** What an ingredient is from: the jar that was noted last, where there is one. */
  jarOf(id: string): string | null {
    return this.notebook.lotsOf(id).at(-1)?.lot.name ?? null;
  }

  #request() {
    const [butter, hardener] = [this.butter, this.hardener].map((id) => this.jarOf(id) ?? id) as [
      string,
      string,
    ];
    const { most_percent, doses, grams, measured } = this;
    const jar = this.jarOf(this.butter);
    return {
      ...this.notebook.asked,
      // The plan of a single pot is not what is asked for here, but a question has one.
      recipe: [jar ? { lot: jar, percent: 100 } : { id: this.butter, percent: 100 }],
      water_bath: true,
      most: 1,
      measured,
      grams,
      series: { butter, hardener, most_percent, doses },
    };
  }

  /** Whether what is told is for what is chosen now. */
  get isNow(): boolean {
    return this.told !== null && this.#asked === JSON.stringify(this.#request());
  }

  async plan(): Promise<void> {
    const { bench } = this;
    const request = this.#request();
    this.told = null;
    this.failure = null;
    this.seeking = true;
    bench.refresh();
    try {
      const { series } = await bench.searcher.ask("plan", request, "series");
      // As a class makes them: from the least to the most.
      this.told = series && {
        ...series,
        doses: series.doses.toSorted((one, other) => one.percent - other.percent),
      };
      this.#asked = JSON.stringify(request);
    } catch (reason) {
      if (!(reason instanceof Superseded)) this.failure = bench.inWords(reason);
    }
    this.seeking = false;
    bench.refresh();
  }

  print(): void {
    this.onPaper = true;
    printSheets(this.bench, "notes", () => {
      this.onPaper = false;
    });
  }
}
