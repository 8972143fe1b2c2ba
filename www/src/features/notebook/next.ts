// Which pot to make next: with what the maker has to keep one warm, and what each is expected to tell.

import type { Answers, Measured, PlannedPot } from "../../contract.js";
import { Superseded } from "../../engine.js";
import type { Noted } from "./noted.js";

/** Where a pot can be kept overnight, °C. */
export interface Spot {
  has: boolean;
  at_c: number;
}

export const SPOTS = ["fridge", "room", "warm"] as const;

export class NextPot {
  readonly spots: Record<(typeof SPOTS)[number], Spot> = {
    fridge: { has: true, at_c: 6 },
    room: { has: true, at_c: 21 },
    warm: { has: true, at_c: 28 },
  };
  bath = true;
  grams = 20;
  measured: Measured = "kitchen";
  told: Answers["plan"] | null = null;
  failure: string | null = null;
  #asked = "";

  constructor(private readonly notebook: Noted) {}

  /** Whether what is told is for what the bench and the notebook hold now. */
  get isNow(): boolean {
    return this.told !== null && this.#asked === JSON.stringify(this.#request());
  }

  change(change: () => void): void {
    change();
    this.notebook.bench.refresh();
  }

  #request() {
    const { notebook, bath, measured, grams } = this;
    return {
      ...notebook.asked,
      recipe: notebook.benchPot ?? [],
      format: notebook.bench.state.format,
      at_c: SPOTS.filter((spot) => this.spots[spot].has).map((spot) => this.spots[spot].at_c),
      water_bath: bath,
      measured,
      grams,
      most: 2,
    };
  }

  async plan(): Promise<void> {
    const { bench } = this.notebook;
    const request = this.#request();
    this.told = null;
    this.failure = null;
    try {
      const told = await bench.anew("plan", bench.searcher, request);
      if (told) this.told = told;
      bench.forget("plan");
      this.#asked = JSON.stringify(request);
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.failure = bench.inWords(reason);
    }
    bench.refresh();
  }

  /** Writes down what a planned pot did. */
  write(pot: PlannedPot): void {
    this.notebook.writing.beginPlanned(pot.recipe, pot.seen, pot.at_c, this.measured);
  }
}
