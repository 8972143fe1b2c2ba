// Which hardeners are compared, and what the engine says of each dose.

import type { Bench } from "../../bench.js";
import type { Hardener, HardenerPicture } from "../../contract.js";
import { Superseded } from "../../engine.js";
import { USUAL_PICTURE } from "../../forms.js";

const START: HardenerPicture = {
  ...USUAL_PICTURE,
  hardeners: ["cocoa-butter", "stearic-acid", "beeswax"],
};

export type Figure = "clear" | "slip" | "hot" | "structure" | "skin";

export class Teach {
  told: Hardener[] = [];
  failure: string | null = null;
  figure: Figure = "clear";
  readonly fillsScreen = document.fullscreenEnabled;

  constructor(readonly bench: Bench) {
    bench.follow(() => this.#harden());
  }

  /** The state opens and folds it, not the browser: a link must be able to, and undo. */
  toggle(): void {
    this.bench.store.change({ picture: this.bench.state.picture ? null : START });
  }

  show(figure: Figure): void {
    this.figure = figure;
    this.bench.refresh();
  }

  /** The picture alone, on paper. */
  print(): void {
    document.documentElement.dataset.print = "hardeners";
    addEventListener("afterprint", () => delete document.documentElement.dataset.print, { once: true });
    window.print();
  }

  async #harden(): Promise<void> {
    const { bench } = this;
    const { picture } = bench.state;
    if (!picture?.hardeners.length) return;
    try {
      const answer = await bench.anew("harden", bench.searcher, {
        ...bench.wishes(bench.state),
        hardeners: picture.hardeners,
        swap: picture.swap,
      });
      if (answer) this.told = answer.hardeners;
      this.failure = null;
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.told = [];
      this.failure = bench.inWords(reason);
    }
    bench.refresh();
  }
}
