// What the page knows and does. The views draw it; every decision about butters is the engine's.

import type { Behaviour, Bounds, Failure, Ingredient, Item, Request } from "./contract.js";
import { type Engine, EngineError, Superseded } from "./engine.js";
import type { OriginKey } from "./features/bench/sources.js";
import { Search } from "./features/rework/state.js";
import type { Backup } from "./features/shelf/backup.js";
import { asideFile } from "./files.js";
import { freeName, type Shelved, type Work } from "./kept.js";
import { EXAMPLE, held, keyed, keyOf, type Limits, type State, sent, untouched } from "./state.js";
import type { Store } from "./store.js";
import { Tools } from "./tools.js";
import { sayTo } from "./words.js";

export interface Notice {
  text: string;
  tone: "plain" | "problem";
  stays?: boolean;
  actions?: { label: string; run(): void }[];
}

export class App {
  catalogue = new Map<string, Ingredient>();
  behaviour: Behaviour | null = null;
  failure: Failure | null = null;
  /** What the curve is compared with: the recipe before the rework that was applied last. */
  before: Behaviour | null = null;
  notice: Notice | null = null;
  /** Whether what was kept is still on its way in through the engine: until then there is nothing to change. */
  opening = true;
  /** Text typed into a number box that is not (yet) a number, by box. */
  drafts = new Map<string, string>();
  /** The temperature read off the curve, °C. */
  cursor: number | null = null;
  /** The figure whose origin was asked for. */
  origin: OriginKey | null = null;
  /** The line of the recipe that is unfolded. */
  unfolded = -1;
  /** A backup that was read, until the reader says what is to become of what is here. */
  backup: Backup | null = null;
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
  /** By what name this tab's recipe is kept on the shelf, while another tab's is the one that is on the bench. */
  #refuge: string | null = null;

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
    store.onconflict = (work) => void this.#askWhich(work);
    store.kept.onheard = (place) => this.#heard(place);
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
    try {
      const opened = await this.#comeIn(fragment.replace(/^#/, ""));
      // What the visitor came for first: the catalogue can wait for the verdict.
      const predicted = opened ? undefined : this.#predict();
      const listed = this.quick.ask("ingredients").then((list) => {
        this.catalogue = new Map(list.map((one) => [one.id, one]));
        this.refresh();
      });
      await Promise.all([listed, predicted]);
      await this.#settle();
    } catch (reason) {
      this.report(reason);
    }
  }

  /** Puts what was kept on the bench, or a link that somebody sent; says whether it was a link. */
  async #comeIn(fragment: string): Promise<boolean> {
    const { kept } = this.store;
    const { bench } = kept;
    if (!bench || bench.example) this.store.begin(null);
    else {
      const work = await this.#openKept("bench", bench);
      this.store.begin(work?.state ?? null, work?.link);
    }
    this.opening = false;
    // The page's own address of last time has nothing in it that is not on the bench already.
    const opened = fragment !== "" && fragment !== bench?.link && (await this.openLink(fragment));
    this.#tellOdd();
    return opened;
  }

  /** Opens what is kept, newest first. What the engine refuses is set aside. */
  async #openKept(place: string, { link, state }: Work): Promise<{ state: State; link: string } | null> {
    const { kept } = this.store;
    if (state !== undefined) {
      try {
        return await this.open({ state }, place);
      } catch (reason) {
        if (!(reason instanceof EngineError)) throw reason;
        kept.setAside(place, JSON.stringify(state), reason.message);
      }
    }
    if (link === undefined) return null;
    try {
      return await this.open({ link }, place);
    } catch (reason) {
      if (!(reason instanceof EngineError)) throw reason;
      kept.setAside(place, link, reason.message);
      return null;
    }
  }

  /** A recipe through the engine's checks. */
  async open({ link, state }: Work, channel = "open"): Promise<{ state: State; link: string }> {
    const fragment =
      state === undefined ? (link ?? "") : (await this.quick.ask("link", { state }, channel)).fragment;
    const opened = await this.quick.ask("open-link", { fragment }, channel);
    return { state: held(opened.state), link: fragment };
  }

  /** What was kept as a state, since no link of it was written, is kept as its link from now on. */
  async #settle(): Promise<void> {
    const { kept } = this.store;
    for (const place of ["shelf", "own"] as const) {
      if (!kept[place].some((one) => one.state !== undefined)) continue;
      const settled: Shelved[] = [];
      for (const one of kept[place]) {
        const work = one.state === undefined ? one : await this.#openKept(place, one);
        if (work)
          settled.push({
            name: one.name,
            at: one.at,
            ...(work.link === undefined ? {} : { link: work.link }),
          });
      }
      kept.replace(place, settled);
    }
    this.#tellOdd();
  }

  /** Tells once what of the kept could not be read. */
  #tellOdd(): void {
    const { kept } = this.store;
    if (!kept.odd.length) return;
    const odd = [...new Set(kept.odd)];
    kept.odd = [];
    const rest = odd.length > 1 ? ` So it is with ${odd.length - 1} more.` : "";
    const { text = "", actions = [] } = this.notice ?? {};
    this.say({
      text: `${text} ${odd[0]}${rest} What was kept is set aside, not lost: see “Shelf and files”.`.trim(),
      tone: "problem",
      actions: [...actions, { label: "Save it as a file", run: () => asideFile(kept.aside) }],
    });
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
    const { kept } = this.store;
    kept.prefer({ prices: keyed(kept.preferences.prices, key, price) });
    this.store.change({ prices: keyed(this.state.prices, key, price) }, `price ${key}`);
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
        bounds: new Map([...bounds].map(([name, two]) => [renamed(name), two])),
      },
      prices: new Map([...prices].map(([name, price]) => [renamed(name), price])),
    });
  }

  remove(at: number): void {
    const gone = this.state.recipe[at];
    if (!gone) return;
    const recipe = this.state.recipe.filter((_, i) => i !== at);
    this.unfolded = -1;
    this.drafts.clear();
    this.say({ text: `${this.name(gone)} is off the recipe.`, tone: "plain", actions: this.#undoAction });
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
      bounds: new Map([...limits.bounds].filter(([key]) => stays(key))),
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
    const free = bounds.min <= 0 && bounds.max >= 100;
    this.setLimits({ bounds: keyed(this.state.limits.bounds, key, free ? null : bounds) }, `bounds ${key}`);
  }

  setLimits(part: Partial<Limits>, tag = ""): void {
    this.store.change({ limits: { ...this.state.limits, ...part } }, tag);
  }

  startOver(): void {
    this.drafts.clear();
    this.say({ text: "The worked example is back on the bench.", tone: "plain", actions: this.#undoAction });
    this.store.replace(EXAMPLE);
  }

  readonly #undoAction = [{ label: "Undo", run: () => this.undo() }];

  /** Puts another state on the bench; what was there comes back with undo. */
  replace(state: State, text: string): void {
    this.drafts.clear();
    this.before = null;
    this.unfolded = -1;
    this.say({ text, tone: "plain", actions: this.#undoAction });
    this.store.replace(state);
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
    this.say({ text, tone: "plain", actions: this.#undoAction });
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
    const { fragment } = await this.quick.ask("link", { state: sent({ ...this.state, ...other }) }, "share");
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

  /** Whether what the link holds was put on the bench: it could be opened, and is not there already. */
  async openLink(fragment: string): Promise<boolean> {
    try {
      const { state, remarks } = await this.quick.ask("open-link", { fragment });
      const { fragment: link } = await this.quick.ask("link", { state }, "open-link");
      if (link === this.store.link) return false;
      const shelved = await this.#makeRoom();
      this.before = null;
      this.drafts.clear();
      this.unfolded = -1;
      this.store.replace(held(state));
      const told = [...(shelved ? [shelved.words] : []), ...remarks];
      if (told.length) {
        this.say({
          text: told.join(" "),
          tone: remarks.length || shelved?.lost ? "problem" : "plain",
          stays: true,
          ...(shelved ? { actions: this.#undoAction } : {}),
        });
      }
      return true;
    } catch (reason) {
      this.report(reason);
      return false;
    }
  }

  /** Puts what is on the bench on the shelf, before something else takes its place; `null` where nothing is of the maker's making. */
  async #makeRoom(): Promise<{ words: string; lost: boolean } | null> {
    const { state } = this;
    if (untouched(state)) return null;
    let { work } = this.store;
    if (work.link === undefined) {
      try {
        work = { link: (await this.quick.ask("link", { state: sent(state) }, "make room")).fragment };
      } catch (reason) {
        if (!(reason instanceof EngineError)) throw reason;
      }
    }
    const name = this.store.kept.shelve(state.name ?? "Unnamed", work);
    return name === null
      ? {
          words:
            "The link is open. This browser keeps nothing for the page: Undo brings back what was on the bench.",
          lost: true,
        }
      : { words: `The link is open. What was on the bench is on the shelf as “${name}”.`, lost: false };
  }

  // Other tabs

  #heard(place: string): void {
    this.refresh();
    if (place === "preferences") this.store.prefer({});
    if (place !== "bench" || this.opening || !this.store.kept.elsewhere) return;
    this.say({
      text: "Another tab of this page has put something else on the bench. This tab still shows its own.",
      tone: "plain",
      stays: true,
      actions: [{ label: "Show the other", run: () => void this.#takeOther() }],
    });
  }

  /** Two tabs have each changed the bench: the reader says which recipe stays on it. Until then this one is kept on the shelf. */
  async #askWhich(work: Work): Promise<void> {
    const { kept } = this.store;
    const asked = this.#refuge !== null;
    this.#refuge ??= freeName(this.state.name ?? "Unnamed", kept.shelf);
    kept.keep(this.#refuge, work);
    if (asked) return;
    this.say({
      text: "Another tab of this page has put something else on the bench. Which one stays there? The other is kept on the shelf.",
      tone: "problem",
      stays: true,
      actions: [
        { label: "This one", run: () => void this.#keepThis() },
        { label: "The other", run: () => void this.#takeOther() },
      ],
    });
  }

  async #keepThis(): Promise<void> {
    const { kept } = this.store;
    try {
      const theirs = kept.elsewhere;
      const opened = theirs && !theirs.example ? await this.#openKept("bench", theirs) : null;
      if (this.#refuge !== null) kept.drop(this.#refuge);
      this.#refuge = null;
      const name = opened && kept.shelve(opened.state.name ?? "Unnamed", { link: opened.link });
      this.store.save(true);
      this.say({
        text: name ? `This one stays. The other is on the shelf as “${name}”.` : "This one stays.",
        tone: "plain",
      });
      this.#tellOdd();
    } catch (reason) {
      this.report(reason);
    }
  }

  async #takeOther(): Promise<void> {
    const { kept } = this.store;
    try {
      const theirs = kept.elsewhere;
      const opened = theirs && !theirs.example ? await this.#openKept("bench", theirs) : null;
      if (!opened && !theirs?.example) {
        await this.#keepThis();
        return;
      }
      const name = this.#refuge;
      if (name !== null) kept.keep(name, this.store.work);
      this.#refuge = null;
      kept.follow();
      this.replace(
        opened?.state ?? EXAMPLE,
        name === null
          ? "The other tab’s recipe is on the bench here too."
          : `The other is on the bench. This one is on the shelf as “${name}”.`,
      );
      this.#tellOdd();
    } catch (reason) {
      this.report(reason);
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
      const { fragment } = await this.quick.ask("link", { state: sent(state) });
      history.replaceState(null, "", `#${fragment}`);
      this.store.note(state, fragment);
    } catch {
      // The address keeps the last state that could be written; sharing says why.
    }
  }

  report(reason: unknown): void {
    if (reason instanceof Superseded) return;
    this.say({ text: reason instanceof Error ? reason.message : String(reason), tone: "problem" });
  }
}
