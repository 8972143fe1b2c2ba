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

  constructor(readonly bench: Bench) {
    bench.follow(() => this.#travel());
  }

  /** The state opens and folds it, not the browser: a link must be able to, and undo. */
  toggle(): void {
    const { journey } = this.bench.state;
    if (journey) this.#last = journey;
    this.bench.store.change({ journey: journey ? null : this.#last });
  }

  /** In the searcher's worker: it may take a while. */
  async #travel(): Promise<void> {
    const { bench } = this;
    const { recipe, format, skin_c, pack, journey } = bench.state;
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
