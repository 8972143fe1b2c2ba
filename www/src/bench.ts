// The bench: the store with its recipe, the catalogue, what is asked of the engine, and what is told. The
// features stand on it, each with its state and its view; it knows none of them. Every decision about butters
// is the engine's.

import { type ChangedLine, changedLines, changesTold } from "./changes.js";
import type { Answers, Asked, Behaviour, Failure, Ingredient, Item, Question, Wishes } from "./contract.js";
import { Away, type Engine, EngineError, Superseded } from "./engine.js";
import { pricesOf } from "./prices.js";
import { EXAMPLE, keyOf, type State, sent, untouched } from "./state.js";
import type { Store } from "./store.js";
import { harmless, say, sayTo } from "./words.js";
import workedExample from "./worked-example.json" with { type: "json" };

export interface Action {
  label: string;
  run(): void;
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

/** How long an old verdict may stand unmarked, ms. */
const LATE = 1000;
/** What a person notices as waiting, ms. */
const NOTICED = 300;
/** So long a notice stands at least, ms. */
const HEARD = 800;
/** How long what needs no answer is told, ms. */
const TOLD = 12_000;
const GLANCED = 5000;
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
  /** Opens a file, as if it had been chosen. */
  openFile: (file: File) => Promise<void> = async () => {};
  notice: Notice | null = null;
  /** Whether what the hand touched last is low on the screen: then what is said of it stands above. */
  tappedLow = false;
  /** Whether what was kept is still on its way in through the engine: until then there is nothing to change. */
  opening = true;
  /** Tries the opening again, where it failed. */
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
  /** Where the hand touched last, px from the top of the screen. */
  #touched = 0;

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

  /** Whether what is told is of another recipe than the one on the bench: that one cannot be worked out as it is, or not yet. */
  get waits(): boolean {
    return this.failure !== null || this.late;
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

  // Something else on the bench, and back

  readonly undoing: Action = { label: say("undo"), run: () => this.undo() };

  /** Puts another state on the bench; what was there comes back with undo. */
  replace(state: State, text: string): void {
    this.drafts.clear();
    this.before = null;
    this.turned = null;
    this.unfolded = -1;
    this.store.replace(state);
    // The new verdict is what there is to see.
    this.touch(0);
    this.say({ text, tone: "plain", actions: [this.undoing] });
  }

  startOver(): void {
    this.replace(EXAMPLE, say("example-is-back"));
  }

  /** Changes the recipe to what was proposed, and says how; the picture shows what it was before. */
  put(part: Partial<State>, told: (what: string) => string): void {
    const was = this.state;
    this.before = this.behaviour;
    this.drafts.clear();
    this.#keepBefore = true;
    this.store.change({
      ...part,
      ...(part.recipe ? { prices: pricesOf(this.store, part.recipe) } : {}),
    });
    this.turned = changedLines(was.recipe, this.state.recipe);
    this.touch(0);
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

  // Telling

  /** Says something in passing. What needs no answer goes by itself; its undo is also in the bar. */
  say(notice: Notice | null): void {
    this.notice = notice;
    this.tappedLow = this.#touched > innerHeight / 2;
    this.#toldOf = notice?.actions?.includes(this.undoing) ? this.state : null;
    this.#saidAt = performance.now();
    clearTimeout(this.#noticeTimer);
    if (notice?.tone === "plain" && !notice.stays) {
      this.#noticeTimer = window.setTimeout(() => this.say(null), notice.glance ? GLANCED : TOLD);
    }
    this.refresh();
  }

  /** The hand touches the page here. */
  touch(y: number): void {
    this.#touched = y;
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
      } else {
        // What was asked last is moot, answered or not: the bench is back at what was answered before.
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
