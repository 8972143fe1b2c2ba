// How the butter fares on its way.

import type { Bench } from "../../bench.js";
import type { Journey, Way } from "../../contract.js";
import { Superseded } from "../../engine.js";
import { USUAL_WAY } from "../../forms.js";

const START: Way = { ...USUAL_WAY, preset: "mailbox" };

export class Heat {
  told: Journey | null = null;
  failure: string | null = null;
  /** What was looked at before the card was folded. */
  #last = START;
  /** Whether it is unfolded because somebody came to see it; what is changed in it goes into the state. */
  unfolded = false;

  constructor(readonly bench: Bench) {
    bench.follow(() => this.#travel());
  }

  /** The journey that is looked at: that of the state, or the last one where the card is only open. */
  get journey(): Way | null {
    return this.bench.state.journey ?? (this.unfolded ? this.#last : null);
  }

  /** A link must be able to open and fold it, and undo: what is opened by hand goes into the state. */
  toggle(): void {
    const { journey } = this.bench.state;
    const open = this.journey !== null;
    this.unfolded = false;
    if (journey) this.#last = journey;
    if (open && !journey) this.bench.refresh();
    else this.bench.store.change({ journey: open ? null : this.#last });
  }

  /** Who comes to this station comes for the journey; only looking at it changes nothing. */
  unfold(): void {
    if (this.journey) return;
    this.unfolded = true;
    void this.#travel();
  }

  /** In the searcher's worker: it may take a while. */
  async #travel(): Promise<void> {
    const { bench } = this;
    const { recipe, format, skin_c, pack } = bench.state;
    const { journey } = this;
    if (!journey) return;
    const { volume_ml, insulation_mm, cold_pack_g, ...air } = journey;
    try {
      const told = await bench.anew("expose", bench.searcher, {
        recipe,
        format,
        skin_c,
        air,
        parcel: { ...(pack ? { pack } : {}), volume_ml, insulation_mm, cold_pack_g },
      });
      if (told) this.told = told;
      this.failure = null;
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.told = null;
      this.failure = bench.inWords(reason);
    }
    bench.refresh();
  }
}
