// What the page knows and does. The views draw it; every decision about butters is the engine's.

import { Search } from "./answers.js";
import {
  type Behaviour,
  type Bounds,
  type Failure,
  type Ingredient,
  type Item,
  keyOf,
  type Limits,
  type Request,
  type State,
} from "./contract.js";
import { type Engine, EngineError, Superseded } from "./engine.js";
import { EXAMPLE, type Store } from "./store.js";
import { Tools } from "./tools.js";
import type { OriginKey } from "./view/sources.js";
import { sayTo } from "./words.js";

export interface Notice {
  text: string;
  tone: "plain" | "problem";
  stays?: boolean;
  action?: { label: string; run(): void };
}

export class App {
  catalogue = new Map<string, Ingredient>();
  behaviour: Behaviour | null = null;
  failure: Failure | null = null;
  /** What the curve is compared with: the recipe before the rework that was applied last. */
  before: Behaviour | null = null;
  notice: Notice | null = null;
  /** Text typed into a number box that is not (yet) a number, by box. */
  drafts = new Map<string, string>();
  /** The temperature read off the curve, °C. */
  cursor: number | null = null;
  /** The figure whose origin was asked for. */
  origin: OriginKey | null = null;
  /** The line of the recipe that is unfolded. */
  unfolded = -1;
  catalogueSearch = "";
  pantrySearch = "";
  /** Offers to install the page, where the browser can. */
  install: (() => void) | null = null;
  readonly tools: Tools;
  readonly search: Search;
  #frame = 0;
  #predicted = "";
  #linkTimer = 0;
  #noticeTimer = 0;

  constructor(
    readonly store: Store,
    readonly quick: Engine,
    readonly searcher: Engine,
    private readonly draw: () => void,
  ) {
    this.tools = new Tools(this);
    this.search = new Search(this);
    store.listen(() => this.#changed());
    store.onsaved = () => this.refresh();
  }

  get state(): State {
    return this.store.state;
  }

  /** Draws once in the next frame, however often it is asked. */
  refresh(): void {
    if (this.#frame) return;
    this.#frame = requestAnimationFrame(() => this.drawNow());
  }

  /** Draws at once: a new curve does not wait for the next frame, it is to be in it. */
  drawNow(): void {
    cancelAnimationFrame(this.#frame);
    this.#frame = 0;
    const { temperature, mass } = this.store.preferences;
    sayTo({ temperature, mass, nameOf: (id) => this.nameOf(id) });
    this.draw();
  }

  async begin(fragment: string): Promise<void> {
    this.refresh();
    // What the visitor came for first: the catalogue can wait for the verdict.
    const foreign = fragment.length > 1 && !this.store.wrote(fragment.slice(1));
    const opened = foreign && (await this.openLink(fragment));
    const predicted = opened ? undefined : this.#predict();
    const listed = this.quick.ask("ingredients").then((list) => {
      this.catalogue = new Map(list.map((one) => [one.id, one]));
      this.refresh();
    });
    await Promise.all([listed, predicted]).catch((reason) => this.report(reason));
  }

  name(item: { id?: string | undefined; name?: string | undefined }): string {
    return item.name ?? this.nameOf(item.id ?? "");
  }

  /** Finds what a change of a proposal or a lock refers to. */
  nameOf(id: string): string {
    const known = this.catalogue.get(id)?.name;
    if (known) return known;
    // Before the catalogue is here, so that nothing moves when it comes.
    return this.catalogue.size ? id : id.charAt(0).toUpperCase() + id.slice(1).replaceAll("-", " ");
  }

  total(): number {
    const sum = this.state.recipe.reduce((total, item) => total + item.percent, 0);
    return Math.round(sum * 1000) / 1000;
  }

  /** The complaint of the engine about one part of the request. */
  complaint(...places: string[]): string | null {
    const failure = this.failure;
    if (!failure) return null;
    const hit = places.some((place) => failure.at === place || failure.at.startsWith(`${place}.`));
    return hit ? failure.message : null;
  }

  // The recipe

  setPercent(at: number, percent: number, tag: string): void {
    const recipe = this.state.recipe.map((item, i) => (i === at ? { ...item, percent } : item));
    this.store.change({ recipe }, tag);
  }

  add(item: Item): void {
    const room = Math.max(0, Math.round((100 - this.total()) * 1000) / 1000);
    const recipe = [...this.state.recipe, { ...item, percent: room }];
    this.store.change({ recipe, prices: this.tools.pricesOf(recipe) });
  }

  /** The price of a kilogram; the device keeps it for other recipes too. */
  setPrice(key: string, price: number | null): void {
    const priced = ({ [key]: _, ...others }: Record<string, number>) =>
      price === null ? others : { ...others, [key]: price };
    const { preferences } = this.store;
    this.store.preferences = { ...preferences, prices: priced(preferences.prices) };
    this.store.change({ prices: priced(this.state.prices) }, `price ${key}`);
  }

  /** Another make-up for a line; what refers to it by name follows. */
  exchange(at: number, own: Omit<Item, "percent">): void {
    const old = this.state.recipe[at];
    if (!old) return;
    const key = keyOf(old);
    const { locked, bounds, refuse } = this.state.limits;
    const { prices } = this.state;
    const renamed = (name: string) => (name === key ? (own.name ?? name) : name);
    this.store.change({
      recipe: this.state.recipe.map((item, i) => (i === at ? { ...own, percent: item.percent } : item)),
      limits: {
        ...this.state.limits,
        locked: locked.map(renamed),
        refuse: refuse.map(renamed),
        bounds: Object.fromEntries(Object.entries(bounds).map(([name, two]) => [renamed(name), two])),
      },
      prices: Object.fromEntries(Object.entries(prices).map(([name, price]) => [renamed(name), price])),
    });
  }

  remove(at: number): void {
    const gone = this.state.recipe[at];
    if (!gone) return;
    const recipe = this.state.recipe.filter((_, i) => i !== at);
    this.unfolded = -1;
    this.drafts.clear();
    this.say({ text: `${this.name(gone)} is off the recipe.`, tone: "plain", action: this.#undoAction });
    this.store.change({ recipe, limits: this.limitsOf(recipe) });
  }

  /** The limits for another recipe: what is said of a line goes with it, as there is no box left to take it back with. */
  limitsOf(recipe: Item[]): Limits {
    const { limits } = this.state;
    const there = new Set(recipe.map(keyOf));
    const gone = this.state.recipe.map(keyOf).filter((key) => !there.has(key));
    const stays = (key: string) => !gone.includes(key);
    return {
      ...limits,
      bounds: Object.fromEntries(Object.entries(limits.bounds).filter(([key]) => stays(key))),
      locked: limits.locked.filter(stays),
      refuse: limits.refuse.filter(stays),
    };
  }

  async scale(): Promise<void> {
    try {
      const { recipe, limits } = this.state;
      const scaled = await this.quick.ask("scale", { recipe, step_percent: limits.step_percent });
      this.drafts.clear();
      this.store.change({ recipe: scaled.recipe });
    } catch (reason) {
      this.report(reason);
    }
  }

  toggleLock(id: string): void {
    const { locked } = this.state.limits;
    this.setLimits({ locked: locked.includes(id) ? locked.filter((one) => one !== id) : [...locked, id] });
  }

  /** The least and the most of one line that a rework may set, percent. */
  setBounds(key: string, bounds: Bounds): void {
    const { [key]: _, ...others } = this.state.limits.bounds;
    const free = bounds.min <= 0 && bounds.max >= 100;
    this.setLimits({ bounds: free ? others : { ...others, [key]: bounds } }, `bounds ${key}`);
  }

  setLimits(part: Partial<Limits>, tag = ""): void {
    this.store.change({ limits: { ...this.state.limits, ...part } }, tag);
  }

  startOver(): void {
    this.drafts.clear();
    this.say({ text: "The worked example is back on the bench.", tone: "plain", action: this.#undoAction });
    this.store.change(EXAMPLE);
  }

  readonly #undoAction = { label: "Undo", run: () => this.undo() };

  /** Puts another state on the bench; what was there comes back with undo. */
  replace(state: State, text: string): void {
    this.drafts.clear();
    this.before = null;
    this.unfolded = -1;
    this.say({ text, tone: "plain", action: this.#undoAction });
    this.store.change(state);
  }

  undo(): void {
    this.drafts.clear();
    this.notice = null;
    this.before = null;
    this.store.undo();
  }

  redo(): void {
    this.drafts.clear();
    this.before = null;
    this.store.redo();
  }

  /** Puts an answer of the search on the bench; the picture shows what it was before. */
  put(part: Partial<State>, text: string): void {
    this.before = this.behaviour;
    this.search.clear();
    this.drafts.clear();
    this.say({ text, tone: "plain", action: this.#undoAction });
    this.#keepBefore = true;
    this.store.change(part.recipe ? { ...part, prices: this.tools.pricesOf(part.recipe) } : part);
  }
  #keepBefore = false;

  /** The curve to show against the present one: the chosen rework, or the present one against what it was. */
  get pair(): { before: Behaviour | null; after: Behaviour | null } {
    const answer = this.search.chosen;
    const differs = answer && (answer.changes.length > 0 || answer.add?.length);
    const preview = differs ? answer.behaviour : null;
    return preview
      ? { before: this.behaviour, after: preview }
      : { before: this.before, after: this.behaviour };
  }

  // Links

  /** The address that reopens all this; asks the engine, so that a link holds only what was checked. */
  async address(other: Partial<State> = {}): Promise<string> {
    const { fragment } = await this.quick.ask("link", { state: { ...this.state, ...other } }, "share");
    const here = new URL(location.href);
    here.hash = fragment;
    return here.href;
  }

  /** The bench, or what it would be with another recipe. */
  async share(other: Partial<State> = {}): Promise<void> {
    try {
      const url = await this.address(other);
      const data = { title: document.title, text: this.state.name ?? "", url };
      if (navigator.share && matchMedia("(pointer: coarse)").matches) {
        await navigator.share(data);
        return;
      }
      await navigator.clipboard.writeText(url);
      this.say({
        text: "The link is copied. It reopens this recipe, its climate and what you asked.",
        tone: "plain",
      });
    } catch (reason) {
      if (reason instanceof DOMException && reason.name === "AbortError") return;
      if (reason instanceof EngineError) this.report(reason);
      else this.say({ text: "Copy the address of this page: it holds the whole recipe.", tone: "plain" });
    }
  }

  /** Whether the link could be opened. */
  async openLink(fragment: string): Promise<boolean> {
    try {
      const { state, remarks } = await this.quick.ask("open-link", { fragment });
      this.before = null;
      this.drafts.clear();
      this.store.change(state);
      if (remarks.length) this.say({ text: remarks.join(" "), tone: "problem" });
      return true;
    } catch (reason) {
      this.report(reason);
      return false;
    }
  }

  /** Says something in passing. What needs no answer goes by itself; its undo is also in the bar. */
  say(notice: Notice | null): void {
    this.notice = notice;
    clearTimeout(this.#noticeTimer);
    if (notice?.tone === "plain" && !notice.stays) {
      this.#noticeTimer = window.setTimeout(() => this.say(null), 12_000);
    }
    this.refresh();
  }

  // Keeping up with the state

  /** The part of the state that a question about a butter needs. */
  wishes(state: State): Omit<Request, "ask"> {
    const { recipe, format, storage_c, skin_c, firmness, on_skin } = state;
    return { recipe, format, storage_c, skin_c, firmness, on_skin };
  }

  #changed(): void {
    this.tools.code = null;
    if (!this.#keepBefore) this.before = null;
    this.#keepBefore = false;
    if (this.search.now.status === "running" && this.search.now.asked !== this.state) {
      // Whatever its worker was asked was for what the bench held.
      this.searcher.cancel();
      this.search.cancel();
    }
    this.refresh();
    void this.#predict();
  }

  async #predict(): Promise<void> {
    clearTimeout(this.#linkTimer);
    try {
      const state = this.state;
      const request = { ...this.wishes(state), pack: state.pack };
      const key = JSON.stringify(request);
      if (key !== this.#predicted) {
        this.behaviour = await this.quick.ask("behave", request);
        this.#predicted = key;
      } else if (this.failure) {
        // What was asked last is moot: the bench is back at what was answered before.
        this.quick.drop("behave");
      }
      this.failure = null;
      this.drawNow();
      void this.tools.follow();
      this.#linkTimer = window.setTimeout(() => void this.#writeAddress(state), 400);
    } catch (reason) {
      if (reason instanceof Superseded) return;
      if (reason instanceof EngineError) this.failure = reason.failure;
      else this.report(reason);
    }
    this.refresh();
  }

  /** Only a state that computed: an address should not hold a slip of the finger. */
  async #writeAddress(state: State): Promise<void> {
    try {
      const { fragment } = await this.quick.ask("link", { state });
      history.replaceState(null, "", `#${fragment}`);
      this.store.note(fragment);
    } catch {
      // The address keeps the last state that could be written; sharing says why.
    }
  }

  report(reason: unknown): void {
    if (reason instanceof Superseded) return;
    this.say({ text: reason instanceof Error ? reason.message : String(reason), tone: "problem" });
  }
}
