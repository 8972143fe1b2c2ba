// What of the bench is being looked at.

import type { Bench } from "../../bench.js";
import type { Curve } from "../../contract.js";
import { Superseded } from "../../engine.js";
import type { View } from "../../parts/curve.js";
import { OwnForm } from "./own/state.js";
import { Pasted } from "./pasted.js";
import { Sought } from "./sought.js";

/** How large the picture is drawn, in CSS pixels. */
export interface Frame {
  width: number;
  height: number;
}

/** Hears of a hand that moves the hottest storage. */
export interface Hand {
  begin(): void;
  move(): void;
  rest(): void;
}

export class Look {
  /** Who works out what would hold there. */
  hand: Hand | null = null;
  /** The temperature read off the curve, °C. */
  cursor: number | null = null;
  /** The ends of the picture's axis while a finger drags on it, °C. */
  held: [number, number] | null = null;
  frame: Frame = { width: 328, height: 356 };
  /** Which of its two curves the picture shows. */
  view: View = "holding";
  /** Whether all sources are unfolded. */
  sourcesOpen = false;
  /** The curve before the crystals settle, if it is to be shown. */
  fresh: Curve | null = null;
  showsFresh = false;
  /** The line that gives or takes what is not 100 % in the sum, by its number, or "all"; `null`: the most likely. */
  giver: string | null = null;
  readonly own: OwnForm;
  readonly pasted: Pasted;
  readonly sought: Sought;
  readonly #watch = new ResizeObserver(([entry]) => entry && this.#resized(entry.contentRect));
  #watched: Element | null = null;

  constructor(readonly bench: Bench) {
    this.own = new OwnForm(bench);
    this.pasted = new Pasted(bench, this.own);
    this.sought = new Sought(bench);
    bench.follow(() => this.#freshen());
  }

  /** The picture is drawn as large as this element is. */
  readonly fit = (frame: Element | undefined): void => {
    if (this.#watched === (frame ?? null)) return;
    this.#watch.disconnect();
    this.#watched = frame ?? null;
    if (frame) this.#watch.observe(frame);
  };

  #resized({ width, height }: Frame): void {
    // What is not shown has no size.
    if (!width || !height || (width === this.frame.width && height === this.frame.height)) return;
    this.frame = { width, height };
    this.bench.drawNow();
  }

  show(view: View): void {
    this.view = view;
    this.bench.refresh();
  }

  async toggleFresh(): Promise<void> {
    this.showsFresh = !this.showsFresh;
    this.fresh = null;
    this.bench.forget("melt");
    this.bench.refresh();
    await this.#freshen();
  }

  async #freshen(): Promise<void> {
    const { bench } = this;
    const settled = bench.behaviour?.curve;
    if (!settled || !this.showsFresh) return;
    const { recipe } = bench.state;
    try {
      const melt = await bench.anew("melt", bench.quick, { recipe, at_c: settled.at_c, state: "fresh" });
      if (melt && this.showsFresh) {
        const { solid_percent, structure_percent, crystals_percent } = melt;
        this.fresh = { ...settled, solid_percent, structure_percent, crystals_percent };
      }
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.showsFresh = false;
      this.fresh = null;
      bench.report(reason);
    }
    bench.refresh();
  }
}
