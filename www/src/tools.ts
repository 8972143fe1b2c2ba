// What stands around the bench: weighing, a pasted recipe, the printed code, the hardener picture, a hot journey, and what
// went wrong.

import type { App } from "./app.js";
import type { Batch, Hardener, HardenerPicture, Journey, Reading, Symptom } from "./contract.js";
import { EngineError, Superseded } from "./engine.js";

const told = (reason: unknown) => (reason instanceof Error ? reason.message : String(reason));

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
  /** Whether the card is unfolded, what was chosen, and how the butter fares. */
  journey = {
    open: false,
    preset: "mailbox",
    pack: "",
    insulation_mm: 0,
    told: null as Journey | null,
    failure: null as string | null,
  };
  symptom = { sign: "", told: null as Symptom | null, failure: null as string | null };

  constructor(private readonly app: App) {}

  /** What is not in the verdict may come a moment later. */
  async follow(): Promise<void> {
    const { store, state, quick } = this.app;
    const { batch, mass } = store.preferences;
    const { recipe, format, picture } = state;
    try {
      this.batch = await quick.ask("batch", {
        recipe: recipe.filter((item) => item.percent > 0),
        format,
        unit: mass,
        batch_g: batch,
        overrun_percent: format === "whipped" ? 60 : 0,
      });
      if (picture?.hardeners.length) await this.#harden(picture);
      if (this.journey.open) await this.travel();
      if (this.symptom.sign) await this.diagnose(this.symptom.sign);
    } catch (reason) {
      if (!(reason instanceof Superseded)) this.batch = null;
    }
    this.app.refresh();
  }

  async #harden(picture: HardenerPicture): Promise<void> {
    try {
      const request = {
        ...this.app.wishes(this.app.state),
        hardeners: picture.hardeners,
        swap: picture.swap,
      };
      const { hardeners } = await this.app.quick.ask("harden", request);
      this.hardeners = { told: hardeners, failure: null };
    } catch (reason) {
      if (reason instanceof EngineError) this.hardeners = { told: [], failure: reason.message };
    }
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
  async travel(): Promise<void> {
    const { preset, pack, insulation_mm } = this.journey;
    const { recipe, format, skin_c } = this.app.state;
    try {
      const parcel = pack ? { pack, insulation_mm } : { insulation_mm };
      const journey = await this.app.searcher.ask("expose", {
        recipe,
        format,
        skin_c,
        air: { preset },
        parcel,
      });
      this.journey = { ...this.journey, told: journey, failure: null };
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.journey = { ...this.journey, told: null, failure: told(reason) };
    }
    this.app.refresh();
  }

  async diagnose(sign: string): Promise<void> {
    this.symptom = { ...this.symptom, sign };
    try {
      const symptom = await this.app.quick.ask("symptom", { ...this.app.wishes(this.app.state), sign });
      this.symptom = { sign, told: symptom, failure: null };
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.symptom = { sign, told: null, failure: told(reason) };
    }
    this.app.refresh();
  }
}
