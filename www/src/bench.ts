// The bench: the store with its recipe, the catalogue, what is asked of the engine, and what is told. The features stand on
// it, each with its state and its view; it knows none of them. Every decision about butters is the engine's.

import { type ChangedLine, changedLines, changesTold } from "./changes.js";
import type {
  Answers,
  Asked,
  Behaviour,
  Bounds,
  Failure,
  Ingredient,
  Item,
  Question,
  State as SentState,
  Wishes,
} from "./contract.js";
import { Away, type Engine, EngineError, Superseded } from "./engine.js";
import type { Work } from "./kept.js";
import { EXAMPLE, held, keyed, keyOf, type Limits, type State, sent, untouched } from "./state.js";
import type { Store } from "./store.js";
import { harmless, say, sayTo } from "./words.js";
import workedExample from "./worked-example.json" with { type: "json" };

export interface Action {
  label: string;
  run(): void;
}

/** A recipe that came in through the engine. */
export interface Opened {
  state: State;
  link: string;
  /** It was kept by a later version, with more in it than this one knows. */
  newer: boolean;
}

export interface Notice {
  text: string;
  tone: "plain" | "problem";
  stays?: boolean;
  /** Whether a glance is enough. */
  glance?: boolean;
  actions?: Action[];
}

/** Why there is no engine, in words. */
const AWAY = {
  "not-fetched": "engine-not-fetched",
  "not-here": "engine-not-here",
  stopped: "engine-stopped",
} as const;

/** How long a verdict may be one of before, ms: then it is marked as such. */
const LATE = 1000;
/** What a person notices as waiting, ms. */
const NOTICED = 300;
/** So long a notice stands at least, ms. */
const HEARD = 800;
/** How long what needs no answer is told, ms. */
const TOLD = 12_000;
const GLANCED = 5000;
/** The step of percentages that are worked out rather than chosen. */
export const FINE_PERCENT = 0.01;
/** How long after a verdict the address is written, ms. */
const WRITE_AFTER = 400;

export class Bench {
  catalogue = new Map<string, Ingredient>();
  behaviour: Behaviour | null = null;
  failure: Failure | null = null;
  /** Whether what is shown was worked out for something else than what is on the bench, and nothing newer is in sight. */
  late = false;
  /** Whether the engine could not be had when it was asked last. */
  away = false;
  /** What the curve is compared with: the recipe before the rework that was applied last. */
  before: Behaviour | null = null;
  /** The lines that it changed, until the bench is turned to something else. */
  turned: ChangedLine[] | null = null;
  /** What a feature has to put on the bench, while the reader looks at it. */
  preview: () => Behaviour | null = () => null;
  /** Sends the bench to somebody, or what it would be with another recipe. */
  share: (other?: Partial<State>) => Promise<void> = async () => {};
  notice: Notice | null = null;
  /** Whether what was kept is still on its way in through the engine: until then there is nothing to change. */
  opening = true;
  /** Goes on with that, where it failed. */
  goOn: () => unknown = () => {};
  /** Text that is typed and is not (yet) what its box takes, by box. */
  readonly drafts = new Map<string, string>();
  /** What a box held before that, and whether a part of what is typed was taken since. */
  readonly entries = new Map<string, { before: number; taken: boolean }>();
  /** The line of the recipe that is unfolded. */
  unfolded = -1;
  /** The sheet that lies over the page, and what it is about. */
  sheet: { id: string; about: string } | null = null;
  /** Questions that a person is kept waiting for. */
  readonly slow = new Set<Question>();
  readonly #followers: (() => unknown)[] = [];
  readonly #answered = new Map<Question, string>();
  #frame = 0;
  /** What was asked for the last verdict of the engine, and for the one that is shown. */
  #predicted = "";
  #shown = "";
  #listing: Promise<void> | null = null;
  #keepBefore = false;
  #linkTimer = 0;
  /** The state whose change the notice tells of, with a way back. */
  #toldOf: State | null = null;
  #noticeTimer = 0;
  #saidAt = 0;

  constructor(
    readonly store: Store,
    readonly quick: Engine,
    readonly searcher: Engine,
    private readonly draw: () => void,
  ) {
    store.listen(() => this.#changed());
  }

  get state(): State {
    return this.store.state;
  }

  // Drawing

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

  // The catalogue and its names

  /** Asks for the catalogue, if it is not here. */
  async list(): Promise<void> {
    if (this.catalogue.size) return;
    this.#listing ??= this.quick
      .ask("ingredients", {})
      .then((list) => {
        this.catalogue = new Map(list.map((one) => [one.id, one]));
        this.refresh();
      })
      .finally(() => {
        this.#listing = null;
      });
    await this.#listing;
  }

  /** What a line is called: its own name before its id. */
  name(item: Pick<Item, "id" | "name">): string {
    return item.name ? harmless(item.name) : this.nameOf(item.id ?? "");
  }

  /** Finds what a change of a proposal or a lock refers to. */
  nameOf(id: string): string {
    const named = this.state.recipe.find((item) => item.name && keyOf(item) === id);
    const known = named?.name ? harmless(named.name) : this.catalogue.get(id)?.name;
    if (known) return known;
    // Before the catalogue is here, so that nothing moves when it comes.
    return this.catalogue.size ? harmless(id) : id.charAt(0).toUpperCase() + id.slice(1).replaceAll("-", " ");
  }

  // The recipe

  total(): number {
    const sum = this.state.recipe.reduce((total, item) => total + item.percent, 0);
    return Math.round(sum * 1000) / 1000;
  }

  setPercent(at: number, percent: number, tag: string): void {
    const recipe = this.state.recipe.map((item, i) => (i === at ? { ...item, percent } : item));
    this.store.change({ recipe }, tag);
  }

  add(item: Item): void {
    const room = Math.max(0, Math.round((100 - this.total()) * 1000) / 1000);
    const recipe = [...this.state.recipe, { ...item, percent: room }];
    this.store.change({ recipe, prices: this.pricesOf(recipe) });
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
    this.store.change({ recipe, limits: this.limitsOf(recipe) });
    this.say({
      text: say("line-removed", { name: this.name(gone) }),
      tone: "plain",
      actions: [this.undoing],
    });
  }

  /** The lines that can give what is too much, or take what is missing: oils first, the largest first. */
  get givers(): { at: number; item: Item; percent: number }[] {
    const missing = 100 - this.total();
    const isOil = ({ id }: Item) => this.catalogue.get(id ?? "")?.class === "liquid-oil";
    return this.state.recipe
      .map((item, at) => ({ at, item, percent: Math.round((item.percent + missing) * 1000) / 1000 }))
      .filter(({ percent }) => percent >= 0 && percent <= 100)
      .sort((a, b) => Number(isOil(b.item)) - Number(isOil(a.item)) || b.item.percent - a.item.percent);
  }

  /** Brings the sum to 100 % by one line. */
  even(at: number): void {
    const giver = this.givers.find((one) => one.at === at);
    if (!giver) return;
    this.drafts.clear();
    this.setPercent(at, giver.percent, "");
  }

  /** Brings the sum to 100 % by all lines, to the hundredth: a small one keeps its decimals. */
  async scale(): Promise<void> {
    try {
      const { recipe } = this.state;
      const scaled = await this.quick.ask("scale", { recipe, step_percent: FINE_PERCENT });
      this.drafts.clear();
      this.store.change({ recipe: scaled.recipe });
    } catch (reason) {
      this.report(reason);
    }
  }

  // Limits and prices

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

  setLimits(part: Partial<Limits>, tag = ""): void {
    this.store.change({ limits: { ...this.state.limits, ...part } }, tag);
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

  /** The price of a kilogram; the device keeps it for other recipes too. */
  setPrice(key: string, price: number | null): void {
    const { kept } = this.store;
    kept.prefer({ prices: keyed(kept.preferences.prices, key, price) });
    this.store.change({ prices: keyed(this.state.prices, key, price) }, `price ${key}`);
  }

  /** Every price that is known: those of this recipe, and others typed on this device. */
  get knownPrices(): Map<string, number> {
    return new Map([...this.store.preferences.prices, ...this.state.prices]);
  }

  /** The prices that are known of a recipe, of a kilogram. */
  pricesOf(recipe: Item[]): Map<string, number> {
    const here = new Set(this.state.recipe.map(keyOf));
    const keys = recipe.filter((item) => item.percent > 0 || here.has(keyOf(item))).map(keyOf);
    return new Map(
      keys.flatMap((key): [string, number][] => {
        // What is on the bench without a price has none.
        const price = here.has(key) ? this.state.prices.get(key) : this.knownPrices.get(key);
        return price === undefined ? [] : [[key, price]];
      }),
    );
  }

  // Something else on the bench, and back

  readonly undoing: Action = { label: say("undo"), run: () => this.undo() };

  /** Puts another state on the bench; what was there comes back with undo. */
  replace(state: State, text: string): void {
    this.drafts.clear();
    this.before = null;
    this.turned = null;
    this.unfolded = -1;
    this.store.replace(state);
    this.say({ text, tone: "plain", actions: [this.undoing] });
  }

  startOver(): void {
    this.replace(EXAMPLE, say("example-is-back"));
  }

  /** Changes the recipe to what was proposed, and says how; the picture shows what it was before. */
  put({ made, ...part }: Partial<State>, told: (what: string) => string): void {
    const was = this.state;
    this.before = this.behaviour;
    this.drafts.clear();
    this.#keepBefore = true;
    // A batch that was rescued is one like any other: what it weighs now is weighed, and the next question is of the next.
    const weighs = made ? ({ by: "weight", batch: made.grams } as const) : undefined;
    this.store.change(
      {
        ...part,
        ...(part.recipe ? { prices: this.pricesOf(part.recipe) } : {}),
        ...(made === undefined ? {} : { made: null }),
      },
      "",
      weighs,
    );
    this.turned = changedLines(was.recipe, this.state.recipe);
    this.say({ text: told(changesTold(this, was, this.state)), tone: "plain", actions: [this.undoing] });
  }

  undo(): void {
    const was = this.state;
    this.#turn(() => this.store.undo());
    if (this.state !== was)
      this.say({
        text: say("undone", { what: changesTold(this, this.state, was) }),
        tone: "plain",
        glance: true,
      });
  }

  redo(): void {
    const was = this.state;
    this.#turn(() => this.store.redo());
    if (this.state !== was)
      this.say({
        text: say("redone", { what: changesTold(this, was, this.state) }),
        tone: "plain",
        glance: true,
      });
  }

  #turn(go: () => void): void {
    this.drafts.clear();
    this.notice = null;
    this.before = null;
    this.turned = null;
    go();
  }

  /** The curve to show, and the one that it is compared with. */
  get pair(): { before: Behaviour | null; after: Behaviour | null } {
    const preview = this.preview();
    return preview
      ? { before: this.behaviour, after: preview }
      : { before: this.before, after: this.behaviour };
  }

  // Links

  /** A recipe through the engine's checks: whatever was kept as a state, the engine says whether it is one, as far as it knows it. */
  async open({ link, state }: Work, channel = "open"): Promise<Opened> {
    const { fragment, newer } =
      state === undefined
        ? { fragment: link ?? "", newer: false }
        : await this.quick.ask("link", { state: state as SentState, may_be_newer: true }, channel);
    const opened = await this.quick.ask("open-link", { fragment }, channel);
    return { state: held(opened.state), link: fragment, newer };
  }

  /** The address that reopens all this; asks the engine, so that a link holds only what was checked. */
  async address(other: Partial<State> = {}): Promise<string> {
    const { fragment } = await this.quick.ask("link", { state: sent({ ...this.state, ...other }) }, "share");
    // Nobody else has this file: where the page is hosted too, the link leads there.
    const here = new URL(location.protocol === "file:" && HOSTED_AT ? HOSTED_AT : location.href);
    here.hash = fragment;
    return here.href;
  }

  // Telling

  /** Says something in passing. What needs no answer goes by itself; its undo is also in the bar. */
  say(notice: Notice | null): void {
    this.notice = notice;
    this.#toldOf = notice?.actions?.includes(this.undoing) ? this.state : null;
    this.#saidAt = performance.now();
    clearTimeout(this.#noticeTimer);
    if (notice?.tone === "plain" && !notice.stays) {
      this.#noticeTimer = window.setTimeout(() => this.say(null), notice.glance ? GLANCED : TOLD);
    }
    this.refresh();
  }

  /** Whoever goes on with something else has heard what was said in passing. */
  goneOn(): void {
    const { notice } = this;
    const passing = notice?.tone === "plain" && !notice.stays;
    // What this very touch brought up is to be heard first.
    if (passing && performance.now() - this.#saidAt > HEARD) this.say(null);
  }

  report(reason: unknown): void {
    if (reason instanceof Superseded) return;
    if (reason instanceof Away) this.away = true;
    const again = { label: say("try-again"), run: () => this.again() };
    this.say({
      text: this.inWords(reason),
      tone: "problem",
      ...(reason instanceof Away ? { actions: [again] } : {}),
    });
  }

  /** What went wrong, in words that were written for the reader: never the browser's own. */
  inWords(reason: unknown): string {
    if (reason instanceof EngineError) return reason.message;
    if (reason instanceof Away) return say(AWAY[reason.why]);
    // Whoever mends it looks there.
    console.error(reason);
    return say("went-wrong");
  }

  /** Asks anew for what could not be had. */
  again(): void {
    this.say(null);
    this.away = false;
    if (this.opening) this.goOn();
    else void this.predict();
  }

  /** The complaint of the engine about one part of the request. */
  complaint(...places: string[]): string | null {
    const failure = this.failure;
    if (!failure) return null;
    const hit = places.some((place) => failure.at === place || failure.at.startsWith(`${place}.`));
    return hit ? failure.message : null;
  }

  // Asking

  /** The part of the state that a question about a butter needs. */
  wishes(state: State): Wishes & { recipe: Item[] } {
    const { recipe, format, storage_c, skin_c, firmness, on_skin } = state;
    return { recipe, format, storage_c, skin_c, firmness, on_skin };
  }

  /** What a batch of a recipe is asked with. */
  batchOf(recipe: Item[]): Asked<"batch"> {
    const { batch, mass, overrun, jar_ml } = this.store.preferences;
    const { format } = this.state;
    return {
      recipe: recipe.filter((item) => item.percent > 0),
      format,
      unit: mass,
      batch_g: batch,
      overrun_percent: format === "whipped" ? overrun : 0,
      jar_ml,
    };
  }

  /** Asks, unless that is what was answered last: then `null`. */
  async anew<Q extends Question>(ask: Q, engine: Engine, request: Asked<Q>): Promise<Answers[Q] | null> {
    const key = JSON.stringify(request);
    if (this.#answered.get(ask) === key) return null;
    this.#answered.delete(ask);
    const timer = window.setTimeout(() => {
      this.slow.add(ask);
      this.refresh();
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

  /** What was answered is asked again. */
  forget(ask: Question): void {
    this.#answered.delete(ask);
  }

  /** Stops what keeps a person waiting; a search goes on. */
  stop(ask: Question): void {
    this.searcher.cancel(ask);
    this.refresh();
  }

  /** After each verdict: what is not in it may come a moment later, and only what changed. */
  follow(follower: () => unknown): void {
    this.#followers.push(follower);
  }

  #changed(): void {
    if (!this.#keepBefore) this.before = null;
    this.#keepBefore = false;
    // Its Undo would take back something else by now.
    if (this.#toldOf && this.#toldOf !== this.state) this.say(null);
    this.refresh();
    void this.predict();
  }

  async predict(): Promise<void> {
    clearTimeout(this.#linkTimer);
    const { state } = this;
    const request = { ...this.wishes(state), pack: state.pack };
    const key = JSON.stringify(request);
    const late = window.setTimeout(() => this.#isLate(key), LATE);
    try {
      if (key !== this.#predicted) {
        if (!this.behaviour && untouched(state)) this.#foresee(key);
        this.behaviour = await this.quick.ask("behave", request);
        this.#predicted = key;
        this.#shown = key;
      } else if (this.failure) {
        // What was asked last is moot: the bench is back at what was answered before.
        this.quick.drop("behave");
      }
      this.failure = null;
      this.late = false;
      this.away = false;
      this.drawNow();
      this.list().catch((reason) => this.report(reason));
      for (const follower of this.#followers) follower();
      this.#addressSoon(state);
    } catch (reason) {
      if (reason instanceof Superseded) return;
      if (reason instanceof EngineError) {
        this.failure = reason.failure;
        this.late = false;
        // A recipe that does not sum to 100 yet is work too, and the address may be all that holds it.
        this.#addressSoon(state);
      } else {
        this.#isLate(key);
        this.report(reason);
      }
    } finally {
      clearTimeout(late);
    }
    this.refresh();
  }

  #isLate(key: string): void {
    this.late = this.#shown !== key;
    this.refresh();
  }

  /** A first visitor does not wait for the engine to see its verdict on the worked example: it came with the page. */
  #foresee(key: string): void {
    this.behaviour = workedExample.answer as unknown as Behaviour;
    this.#shown = key;
    this.drawNow();
  }

  #addressSoon(state: State): void {
    clearTimeout(this.#linkTimer);
    this.#linkTimer = window.setTimeout(() => void this.#writeAddress(state), WRITE_AFTER);
  }

  async #writeAddress(state: State): Promise<void> {
    try {
      const { fragment } = await this.quick.ask("link", { state: sent(state) });
      this.store.kept.noteAddress(fragment);
      history.replaceState(null, "", `#${fragment}`);
      this.store.note(state, fragment);
    } catch {
      // The address keeps the last state that could be written; sharing says why.
    }
  }
}
