// What stands around the bench: weighing, a pasted recipe, the printed code, the hardener picture, a hot journey, and what
// went wrong.

import type { App } from "./app.js";
import type {
  Answers,
  Batch,
  Curve,
  Hardener,
  HardenerPicture,
  Item,
  Journey,
  Question,
  Reading,
  Symptom,
  Way,
} from "./contract.js";
import type { Engine } from "./engine.js";
import { Superseded } from "./engine.js";
import { OwnForm } from "./features/bench/own/state.js";
import { keyOf } from "./state.js";

const told = (reason: unknown) => (reason instanceof Error ? reason.message : String(reason));

/** What a person notices as waiting, ms. */
const NOTICED = 300;

export class Tools {
  /** What to weigh. */
  batch: Batch | null = null;
  /** The pasted text as the engine understood it, and what the reader chose for lines that were not clear. */
  paste: { text: string; reading: Reading | null; failure: string | null; chosen: Map<number, string> } = {
    text: "",
    reading: null,
    failure: null,
    chosen: new Map(),
  };
  hardeners: { told: Hardener[]; failure: string | null } = { told: [], failure: null };
  /** The link as a code, for the printed sheet. */
  code: { size: number; path: string; address: string } | null = null;
  /** How the butter fares on its way. */
  journey = { told: null as Journey | null, failure: null as string | null };
  symptom = { sign: "", words: "", told: null as Symptom | null, failure: null as string | null };
  /** The curve before the crystals settle, if it is to be shown. */
  fresh: Curve | null = null;
  showsFresh = false;
  readonly own: OwnForm;
  /** Questions that a person is kept waiting for. */
  readonly slow = new Set<Question>();
  #answered = new Map<Question, string>();

  constructor(private readonly app: App) {
    this.own = new OwnForm(app);
  }

  /** What is not in the verdict may come a moment later, and only what changed. */
  async follow(): Promise<void> {
    const { state } = this.app;
    try {
      const batch = await this.#anew("batch", this.app.quick, {
        ...this.batchOf(state.recipe),
        price_per_kg: Object.fromEntries(this.pricesOf(state.recipe)),
      });
      if (batch) this.batch = batch;
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.batch = null;
    }
    this.app.refresh();
    // Each of these says itself what it lacks.
    if (this.showsFresh) await this.#freshen();
    if (state.picture?.hardeners.length) await this.#harden(state.picture);
    if (state.journey) await this.travel(state.journey);
    if (this.symptom.sign || this.symptom.words) await this.diagnose({});
  }

  async toggleFresh(): Promise<void> {
    this.showsFresh = !this.showsFresh;
    this.fresh = null;
    this.#answered.delete("melt");
    this.app.refresh();
    if (this.showsFresh) await this.#freshen();
  }

  async #freshen(): Promise<void> {
    const settled = this.app.behaviour?.curve;
    if (!settled) return;
    const { recipe } = this.app.state;
    try {
      const melt = await this.#anew("melt", this.app.quick, { recipe, at_c: settled.at_c, state: "fresh" });
      if (melt && this.showsFresh) this.fresh = { ...settled, solid_percent: melt.solid_percent };
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.showsFresh = false;
      this.fresh = null;
      this.app.report(reason);
    }
    this.app.refresh();
  }

  /** What a batch of a recipe is asked with. */
  batchOf(recipe: Item[]): { recipe: Item[] } & Record<string, unknown> {
    const { batch, mass, overrun, jar_ml } = this.app.store.preferences;
    const { format } = this.app.state;
    return {
      recipe: recipe.filter((item) => item.percent > 0),
      format,
      unit: mass,
      batch_g: batch,
      overrun_percent: format === "whipped" ? overrun : 0,
      jar_ml,
    };
  }

  /** Every price that is known: those of this recipe, and others typed on this device. */
  get known(): Map<string, number> {
    return new Map([...this.app.store.preferences.prices, ...this.app.state.prices]);
  }

  /** The prices that are known of a recipe, of a kilogram. */
  pricesOf(recipe: Item[]): Map<string, number> {
    const { state } = this.app;
    const here = new Set(state.recipe.map(keyOf));
    const keys = recipe.filter((item) => item.percent > 0 || here.has(keyOf(item))).map(keyOf);
    return new Map(
      keys.flatMap((key): [string, number][] => {
        // What is on the bench without a price has none.
        const price = here.has(key) ? state.prices.get(key) : this.known.get(key);
        return price === undefined ? [] : [[key, price]];
      }),
    );
  }

  /** Asks, unless that is what was answered last: then `null`. */
  async #anew<Q extends Question>(ask: Q, engine: Engine, request: object): Promise<Answers[Q] | null> {
    const key = JSON.stringify(request);
    if (this.#answered.get(ask) === key) return null;
    this.#answered.delete(ask);
    const timer = window.setTimeout(() => {
      this.slow.add(ask);
      this.app.refresh();
    }, NOTICED);
    try {
      const answer = await engine.ask(ask, request);
      this.#answered.set(ask, key);
      return answer;
    } finally {
      clearTimeout(timer);
      this.slow.delete(ask);
    }
  }

  /** Stops what keeps a person waiting; a search goes on. */
  stop(ask: Question): void {
    this.app.searcher.cancel(ask);
    this.app.refresh();
  }

  async #harden(picture: HardenerPicture): Promise<void> {
    try {
      const answer = await this.#anew("harden", this.app.searcher, {
        ...this.app.wishes(this.app.state),
        hardeners: picture.hardeners,
        swap: picture.swap,
      });
      if (answer) this.hardeners = { told: answer.hardeners, failure: null };
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.hardeners = { told: [], failure: told(reason) };
    }
    this.app.refresh();
  }

  /** Understands a pasted text, for the preview. */
  async read(text: string): Promise<void> {
    this.paste = { text, reading: null, failure: null, chosen: new Map() };
    this.app.refresh();
    if (!text.trim()) return;
    try {
      const reading = await this.app.quick.ask("read", { text });
      this.paste = { ...this.paste, reading };
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.paste = { ...this.paste, failure: told(reason) };
    }
    this.app.refresh();
  }

  /** The bench sheet, with its code. */
  async print(): Promise<void> {
    await this.makeCode();
    requestAnimationFrame(() => window.print());
  }

  /** One card of the page alone, by its id. */
  printCard(id: string): void {
    document.documentElement.dataset.print = id;
    addEventListener("afterprint", () => delete document.documentElement.dataset.print, { once: true });
    window.print();
  }

  /** The address as text and as a code, for paper. */
  async makeCode(): Promise<void> {
    try {
      const address = await this.app.address();
      this.code = { ...(await this.app.quick.ask("qr", { text: address })), address };
    } catch (reason) {
      this.code = null;
      this.app.report(reason);
    }
    this.app.refresh();
  }

  /** How the butter fares on its way, in the searcher's worker: it may take a while. */
  async travel({ volume_ml, insulation_mm, cold_pack_g, ...air }: Way): Promise<void> {
    const { recipe, format, skin_c, pack } = this.app.state;
    try {
      const journey = await this.#anew("expose", this.app.searcher, {
        recipe,
        format,
        skin_c,
        air,
        parcel: { ...(pack ? { pack } : {}), volume_ml, insulation_mm, cold_pack_g },
      });
      if (journey) this.journey.told = journey;
      this.journey.failure = null;
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.journey = { told: null, failure: told(reason) };
    }
    this.app.refresh();
  }

  /** From a sign, or from the maker's own words, to its cause. */
  async diagnose(seen: { sign?: string; words?: string }): Promise<void> {
    if (seen.sign !== undefined) this.symptom = { ...this.symptom, sign: seen.sign, words: "" };
    if (seen.words !== undefined) this.symptom = { ...this.symptom, sign: "", words: seen.words };
    const { sign, words } = this.symptom;
    if (!sign && !words.trim()) {
      this.#answered.delete("symptom");
      this.app.quick.drop("symptom");
      this.symptom = { ...this.symptom, told: null, failure: null };
      this.app.refresh();
      return;
    }
    try {
      const answer = await this.#anew("symptom", this.app.quick, {
        ...this.app.wishes(this.app.state),
        ...(sign ? { sign } : { words }),
      });
      if (answer) this.symptom = { ...this.symptom, told: answer };
      this.symptom.failure = null;
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.symptom = { ...this.symptom, told: null, failure: told(reason) };
    }
    this.app.refresh();
  }
}
