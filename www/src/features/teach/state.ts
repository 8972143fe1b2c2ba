// Which hardeners are compared, and what the engine says of each dose.

import type { Bench } from "../../bench.js";
import type { Hardener, HardenerPicture, Swap } from "../../contract.js";
import { Superseded } from "../../engine.js";
import { USUAL_PICTURE } from "../../forms.js";
import { addressOf } from "../../links.js";
import { printSheets } from "../../parts/print.js";

const START: HardenerPicture = {
  ...USUAL_PICTURE,
  hardeners: ["cocoa-butter", "stearic-acid", "beeswax"],
};

export type Figure = "softens" | "clear" | "slip" | "hot" | "structure" | "skin";

/** The doses that are asked about go so far, by whole percents: `doses` in `src/contract/harden.rs`. */
export const MOST_PERCENT = 20;

/** So long a dose is not moved before it counts as resting, ms. */
const RESTS = 150;

/** A link as a code to point a camera at. */
export interface Code {
  size: number;
  path: string;
  address: string;
}

export class Teach {
  told: Hardener[] = [];
  failure: string | null = null;
  figure: Figure = "softens";
  /** Whether it is unfolded because somebody came to see it; what is changed in it goes into the state. */
  unfolded = false;
  /** How large the stage is, where the picture is shown to a room, in CSS pixels. */
  stage: { width: number; height: number } | null = null;
  /** Whether the sheet for a class is on its way to paper. */
  onPaper = false;
  code: Code | null = null;
  /** What was chosen last: another recipe on the bench brings no picture of its own, and is looked at with the same hardeners. */
  #chosen = START;
  #encoding = 0;
  /** The recipe that the engine found no oil in to give way, with its hardeners. */
  #oilless = "";
  /** Where the page was, and what opened the stage. */
  #from: { x: number; y: number; opener: Element | null } | null = null;

  constructor(readonly bench: Bench) {
    bench.follow(() => this.#harden());
    bench.store.listen(() => this.#recode());
    addEventListener("resize", () => this.stage && this.#fit());
    document.addEventListener("fullscreenchange", () => {
      if (!document.fullscreenElement && this.stage) void this.leave();
    });
  }

  /** What is looked at: that of the state, or the usual one where the card is only open. */
  get picture(): HardenerPicture | null {
    const { picture } = this.bench.state;
    if (picture) this.#chosen = picture;
    return picture ?? (this.unfolded ? this.#chosen : null);
  }

  /** A link must be able to open and fold it, and undo: what is opened by hand goes into the state. */
  toggle(): void {
    const open = this.picture !== null;
    this.unfolded = false;
    if (open && !this.bench.state.picture) this.bench.refresh();
    else this.bench.store.change({ picture: open ? null : this.#chosen });
  }

  /** Who comes to this station comes for the picture; only looking at it changes nothing. */
  unfold(): void {
    if (this.picture) return;
    this.unfolded = true;
    void this.#harden();
  }

  /** What gives way: everything where the recipe has no oil, so that there is always a picture. */
  get swap(): Swap {
    const { picture } = this;
    if (!picture) return "oil";
    return this.#oilless === this.#asked(picture) ? "all" : picture.swap;
  }

  #asked({ hardeners }: HardenerPicture): string {
    return JSON.stringify([this.bench.state.recipe, hardeners]);
  }

  set(part: Partial<HardenerPicture>, tag = ""): void {
    const now = this.picture;
    if (now) this.bench.store.change({ picture: { ...now, ...part } }, tag);
  }

  /** The hardeners that are looked at, as far as the engine has answered. */
  get fitting(): Hardener[] {
    return this.told.filter((one) => this.picture?.hardeners.includes(one.id));
  }

  /** The largest dose that there is room for, percent: where the oil ends, so does the picture. */
  get most(): number {
    const ends = this.fitting.map((one) => one.dose_percent.at(-1) ?? 0);
    return ends.length ? Math.max(...ends) : MOST_PERCENT;
  }

  /** A link may say any dose; those asked about are whole. */
  get dose(): number {
    return Math.min(this.most, Math.round(this.picture?.dose_percent ?? 0));
  }

  setDose(percent: number): void {
    const dose_percent = Math.min(this.most, Math.max(0, Math.round(percent)));
    if (dose_percent !== this.dose) this.set({ dose_percent }, "dose");
  }

  show(figure: Figure): void {
    this.figure = figure;
    this.bench.refresh();
  }

  share(): Promise<void> {
    return this.bench.share({ picture: this.picture });
  }

  /** The picture with what it is of, as large as the screen. */
  async present(): Promise<void> {
    this.#from = { x: scrollX, y: scrollY, opener: document.activeElement };
    this.#fit();
    document.querySelector<HTMLDialogElement>("#stage")?.showModal();
    document.querySelector<SVGElement>("#stage [role=slider]")?.focus();
    // Where a browser fills no screen, its window must do.
    await document
      .querySelector("#stage .stage")
      ?.requestFullscreen?.()
      .catch(() => {});
    await this.#encode();
    this.bench.refresh();
  }

  async leave(): Promise<void> {
    const from = this.#from;
    this.#from = null;
    this.stage = null;
    // The window has its own size again before the page goes back to where it was.
    if (document.fullscreenElement) await document.exitFullscreen().catch(() => {});
    document.querySelector<HTMLDialogElement>("#stage")?.close();
    this.bench.drawNow();
    if (!from) return;
    const back = () => {
      if (from.opener instanceof HTMLElement) from.opener.focus({ preventScroll: true });
      scrollTo({ left: from.x, top: from.y, behavior: "instant" });
    };
    back();
    requestAnimationFrame(back);
  }

  #fit(): void {
    this.stage = { width: innerWidth, height: innerHeight };
    this.bench.drawNow();
  }

  /** What follows on a phone is what is shown now, once the dose rests. */
  #recode(): void {
    if (!this.stage) return;
    clearTimeout(this.#encoding);
    this.#encoding = window.setTimeout(async () => {
      await this.#encode();
      this.bench.refresh();
    }, RESTS);
  }

  /** The sheet for a class, on paper. */
  async print(): Promise<void> {
    await this.#encode();
    this.onPaper = true;
    printSheets(this.bench, "class", () => {
      this.onPaper = false;
    });
  }

  /** The link as a code, where others can follow it. */
  async #encode(): Promise<void> {
    const { bench } = this;
    try {
      const address = await addressOf(bench.quick, { ...bench.state, picture: this.picture });
      this.code = address.startsWith("file:")
        ? null
        : { ...(await bench.quick.ask("qr", { text: address })), address };
    } catch (reason) {
      this.code = null;
      bench.report(reason);
    }
  }

  async #harden(): Promise<void> {
    const { bench, picture } = this;
    if (!picture?.hardeners.length) return;
    const key = this.#asked(picture);
    const ask = () =>
      bench.anew("harden", bench.searcher, {
        ...bench.wishes(bench.state),
        hardeners: picture.hardeners,
        swap: this.#oilless === key ? "all" : picture.swap,
      });
    try {
      let answer = await ask();
      if (picture.swap === "oil" && answer?.hardeners.every((one) => one.dose_percent.length < 2)) {
        this.#oilless = key;
        answer = await ask();
      }
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
