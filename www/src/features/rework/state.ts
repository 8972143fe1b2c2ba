// What is asked of the search, and its answers: the smallest rework of the next batch, what to melt into one
// that is made, or two versions for two seasons.

import type { Bench } from "../../bench.js";
import type {
  Added,
  Addition,
  AtMost,
  Behaviour,
  Change,
  Cost,
  DoseNote,
  Failure,
  Format,
  GivenUp,
  Gives,
  Progress,
  Proposal,
  Storage,
} from "../../contract.js";
import { EngineError, Superseded } from "../../engine.js";
import { knownPrices, pricesOf } from "../../prices.js";
import { keyOf, type Limits, left, type State, sentLimits, USUAL_PANTRY } from "../../state.js";
import { say, sayFindings } from "../../words.js";
import { type Lifted, lift } from "./lifted.js";
import type { Ladder } from "./surety.js";

export type Aim = "rework" | "rescue" | "seasons";

/** What a state asks for: it says so itself, so that a link does too. */
export function aimOf(state: State): Aim {
  return state.made ? "rescue" : state.other_storage_c ? "seasons" : "rework";
}

/** One answer, whatever was asked. */
export interface Answer extends Omit<Proposal, "shift_percent" | "effort" | "slip_c" | "clear_c"> {
  /** Where its jar lives. */
  storage_c: Storage;
  /** Of a rescue: what to melt in, and how much there is then. */
  add: Added[] | null;
  grams: number;
  /** Of two seasons: which. */
  season: "summer" | "winter" | null;
  /** Of what is in the way: the wishes that would have to give, together. */
  gives: Gives[] | null;
  /** Of what is in the way: the limit that would have to be lifted. */
  lifts: Lifted | null;
  /** Of what can be had instead: what cannot be had where its jar is kept cooler. */
  cooler: GivenUp[] | null;
  /** Of what can be had instead: in which other format. */
  format: Format | null;
  behaviour: Behaviour | null;
  cost: Cost | null;
}

/** What something does when nothing else is melted in, and why it does no more. */
export interface Alone {
  found: Addition | null;
  notes: DoseNote[];
}

export interface Answers {
  status: "idle" | "running" | "done" | "failed";
  aim: Aim;
  list: Answer[];
  /** Of two seasons: in which lines they differ. */
  differ: Change[];
  words: string;
  progress: Progress | null;
  /** While a smaller change is looked for: a recipe that would do. */
  best: Answer | null;
  /** Where nothing does all that is asked: the most heat that can be had. */
  atMost: AtMost | null;
  chosen: number;
  examined: number;
  failure: Failure | null;
  /** The state that they are for: once the bench differs, they are stale. */
  asked: State | null;
  /** Which of what was put on the bench as a whole that state came from. */
  origin: number;
  /** Of a rescue: what something of the pantry does alone, by id. */
  alone: Map<string, Alone>;
  /** Which of them was put on the bench, and what stood there then: until that is changed, the others may take its place. */
  used: { at: number; state: State } | null;
}

const NONE: Answers = {
  status: "idle",
  aim: "rework",
  list: [],
  differ: [],
  words: "",
  progress: null,
  best: null,
  atMost: null,
  chosen: 0,
  examined: 0,
  failure: null,
  asked: null,
  origin: 0,
  alone: new Map(),
  used: null,
};

/** What an answer has that nothing was said of. */
export const plainAnswer = (storage_c: Storage) => ({
  storage_c,
  add: null,
  grams: 0,
  season: null,
  gives: null,
  lifts: null,
  cooler: null,
  format: null,
  behaviour: null,
  cost: null,
});

/** The wishes that an answer is for, where they are others than were asked. */
function wishesOf({ format, cooler }: Answer): Partial<Pick<State, "format" | "firmness" | "on_skin">> {
  return {
    ...(format ? { format } : {}),
    ...(cooler?.includes("firmness") ? { firmness: null } : {}),
    ...(cooler?.includes("on-skin") ? { on_skin: null } : {}),
  };
}

/** What is over sooner is not told of on the way, ms. */
const BLINK = 100;

/** How many of a kind may stand in for what must go: the catalogue names the most usual first. */
const OF_A_KIND = 8;

/** Whether to come as near as can be to how it is now; that is only asked where something must go. */
export function asNow({ aim, limits }: State): boolean {
  return aim === "as-now" && limits.refuse.length > 0;
}

/** What a rework may add: what the maker chose; else the usual, and where something must go, others of its kind. */
export function pantryOf(bench: Bench, { recipe, limits }: State): string[] {
  if (limits.pantry) return limits.pantry;
  const refused = (id: string | undefined) => {
    const known = bench.catalogue.get(id ?? "");
    return known && limits.refuse.some((word) => word === known.id || known.allergens.includes(word));
  };
  const kinds = new Set(
    recipe.filter((item) => refused(item.id)).map((item) => bench.catalogue.get(item.id ?? "")?.class),
  );
  const others = [...kinds].flatMap((kind) =>
    [...bench.catalogue.values()].filter((one) => one.class === kind && !refused(one.id)).slice(0, OF_A_KIND),
  );
  return [...new Set([...USUAL_PANTRY, ...others.map((one) => one.id)])];
}

/** What of the limits still is of something; the engine refuses what is not, and a line that left has no box to undo it with. */
function standing(bench: Bench, { recipe, limits }: State, pantry: string[]): Partial<Limits> {
  const lines = recipe.map(keyOf);
  const all = [...bench.catalogue.values()];
  const known = new Set([...lines, ...all.flatMap((one) => [one.id, one.class, ...one.allergens])]);
  const bounds = [...limits.bounds].filter(([key]) => lines.includes(key) || pantry.includes(key));
  return {
    locked: limits.locked.filter((key) => lines.includes(key)),
    bounds: new Map(bounds),
    // Before the catalogue is here, nothing is known to be no allergen.
    refuse: all.length ? limits.refuse.filter((word) => known.has(word)) : limits.refuse,
  };
}

/** How a batch is weighed once this is melted into it. */
function rescuedBy(add: Added[], made: NonNullable<State["made"]>): State["rescued"] {
  return { batch_grams: left(made), added: Object.fromEntries(add.map(({ id, grams }) => [id, grams])) };
}

export class Search {
  now: Answers = NONE;
  ladder: Ladder | null = null;
  /** What has been in sight as something that may be added. */
  readonly shelf = new Set<string>();
  /** What the bench held when it was last looked at. */
  #held: State;

  constructor(readonly bench: Bench) {
    this.#held = bench.state;
    bench.preview = () => {
      const answer = this.chosen;
      return answer && (answer.changes.length > 0 || answer.add?.length) ? answer.behaviour : null;
    };
    bench.store.listen(() => this.#changed());
  }

  /** The answer that the picture shows beside the bench. */
  get chosen(): Answer | null {
    const { status, list, chosen } = this.now;
    return status === "done" && !this.stale && chosen !== this.used?.at ? (list[chosen] ?? null) : null;
  }

  /** How many answers may take the place of the one on the bench. */
  get others(): number {
    return this.used ? this.now.list.length - 1 : 0;
  }

  /** The answer that is on the bench; none once it was undone or changed. */
  get used(): { at: number } | null {
    const { used } = this.now;
    return used?.state === this.bench.state ? used : null;
  }

  /** Whether the bench holds neither what was asked about nor an answer to it. */
  get stale(): boolean {
    const { asked, used } = this.now;
    const { state } = this.bench;
    return asked !== null && asked !== state && used?.state !== state;
  }

  /** Whether something else altogether was put on the bench since. */
  get left(): boolean {
    return this.stale && this.now.origin !== this.bench.store.origin;
  }

  /** Whatever its worker was asked was for what the bench held. */
  #changed(): void {
    const was = this.#held;
    this.#held = this.bench.state;
    // Whoever takes an answer back does not look at it any more: the bench is judged as it is.
    if (was !== this.#held && this.now.status === "done" && this.now.asked === this.#held)
      this.now = { ...this.now, chosen: -1 };
    if (this.now.status !== "running" || this.now.asked === this.bench.state) return;
    // What was found by then is of the recipe that has left.
    if (this.left) this.clear();
    else {
      this.bench.searcher.cancel();
      this.cancel();
    }
  }

  async find(): Promise<void> {
    const asked = this.bench.state;
    const aim = aimOf(asked);
    const { origin } = this.bench.store;
    this.now = { ...NONE, status: "running", aim, asked, origin };
    this.bench.refresh();
    try {
      const found = await this.#ask(aim, asked);
      this.now = { ...NONE, ...found, aim, status: "done", asked, origin };
      this.bench.refresh();
      await this.#foreseeAll(asked);
    } catch (reason) {
      if (reason instanceof Superseded) return;
      if (reason instanceof EngineError) {
        this.now = { ...NONE, aim, status: "failed", failure: reason.failure, asked, origin };
      } else {
        this.now = NONE;
        this.bench.report(reason);
      }
    }
    this.bench.refresh();
  }

  /** What is asked of a state, such as the one on the bench, whatever for. */
  request(asked: State) {
    const pantry = pantryOf(this.bench, asked);
    return {
      ...this.bench.wishes(asked),
      limits: sentLimits({
        ...asked.limits,
        ...standing(this.bench, asked, pantry),
        pantry,
        prices: knownPrices(this.bench.store),
      }),
    };
  }

  /** What each of some would do if nothing else could be melted in: the batch's own lines neither. */
  async tryAlone(ids: string[]): Promise<void> {
    const { asked } = this.now;
    if (!asked?.made) return;
    const request = this.request(asked);
    for (const id of ids) {
      if (this.now.asked !== asked || this.now.alone.has(id)) continue;
      const limits = { ...request.limits, pantry: [id], locked: asked.recipe.map(keyOf) };
      try {
        const { proposals } = await this.bench.searcher.ask(
          "rescue",
          { ...request, limits, made: asked.made },
          "alone",
        );
        const { hardeners } = await this.bench.searcher.ask(
          "harden",
          { ...this.bench.wishes(asked), hardeners: [id], swap: "all" },
          "alone",
        );
        if (this.now.asked !== asked) return;
        const told = { found: proposals[0] ?? null, notes: hardeners[0]?.dose_notes ?? [] };
        this.now = { ...this.now, alone: new Map(this.now.alone).set(id, told) };
      } catch (reason) {
        if (reason instanceof Superseded || this.now.asked !== asked) return;
        // What cannot be asked about has no reason to tell.
        if (!(reason instanceof EngineError)) return this.bench.report(reason);
        this.now = { ...this.now, alone: new Map(this.now.alone).set(id, { found: null, notes: [] }) };
      }
      this.bench.refresh();
    }
  }

  /** Asks what surety costs. */
  async climb(): Promise<void> {
    const asked = this.bench.state;
    this.ladder = { asked, rungs: null };
    this.bench.refresh();
    try {
      const { rungs } = await this.bench.searcher.ask("ladder", this.request(asked), "ladder");
      if (this.ladder?.asked === asked) this.ladder = { asked, rungs };
    } catch (reason) {
      this.ladder = null;
      if (!(reason instanceof Superseded)) this.bench.report(reason);
    }
    this.bench.refresh();
  }

  /** Puts what reaches a rung on the bench, which asks for that rung from then on. */
  take(at: number): void {
    const rung = this.ladder?.asked === this.bench.state ? this.ladder.rungs?.[at] : null;
    if (!rung) return;
    const { limits } = this.bench.state;
    const surety = rung.surety ?? limits.surety;
    this.clear();
    this.bench.put({ recipe: rung.proposal.recipe, limits: { ...limits, surety } }, (what) =>
      say("rework-on-bench", { what }),
    );
  }

  async #ask(aim: Aim, asked: State): Promise<Partial<Answers>> {
    const { searcher } = this.bench;
    const { storage_c } = asked;
    const request = this.request(asked);
    const plain = plainAnswer(storage_c);
    const begun = performance.now();
    const told = (progress: Progress) => {
      if (this.now.asked !== asked) return;
      const best = progress.best?.meets_all ? { ...plain, ...progress.best } : this.now.best;
      this.now = { ...this.now, progress, best };
      // What is over in a blink is not told of.
      if (performance.now() - begun > BLINK) this.bench.refresh();
    };
    if (aim === "rescue" && asked.made) {
      const found = await searcher.ask("rescue", { ...request, made: asked.made }, "rescue", told);
      const list = found.proposals.map(
        (one): Answer => ({ ...plain, ...one, changes: [], storage_c, add: one.add, grams: one.grams }),
      );
      return { list, examined: found.examined };
    }
    if (aim === "seasons" && asked.other_storage_c) {
      const [winter = storage_c, summer = storage_c] = [storage_c, asked.other_storage_c].sort(
        (a, b) => a.hottest - b.hottest,
      );
      const { recipe, ...wishes } = this.bench.wishes(asked);
      const both = {
        recipe,
        limits: request.limits,
        summer: { ...wishes, storage_c: summer },
        winter: { ...wishes, storage_c: winter },
      };
      const found = await searcher.ask("seasons", both, "seasons", told);
      const list = [
        { ...plain, ...found.summer, storage_c: summer, season: "summer" as const },
        { ...plain, ...found.winter, storage_c: winter, season: "winter" as const },
      ];
      return { list, differ: found.differ, words: sayFindings("seasons", found.findings) };
    }
    const aimed = asNow(asked) ? { aim: asked.aim } : {};
    const found = await searcher.ask("rework", { ...request, ...aimed, why_not: true }, "rework", told);
    const { cannot_be: instead } = found;
    const list: Answer[] = [];
    if (instead?.cooler) {
      const { hottest_c: hottest, given_up, proposal } = instead.cooler;
      list.push({ ...plain, ...proposal, storage_c: { ...storage_c, hottest }, cooler: given_up });
    }
    for (const { format, proposal } of instead?.formats ?? []) list.push({ ...plain, ...proposal, format });
    for (const { proposal, ...lifts } of found.limits_in_the_way ?? []) {
      list.push({ ...plain, ...proposal, lifts });
    }
    for (const { with: others = [], proposal, ...first } of found.why_not ?? []) {
      list.push({ ...plain, ...proposal, gives: [first, ...others] });
    }
    // What comes nearest stands below what would help, and only where anyone would feel that it is nearer.
    if (!instead || instead.nearest_is_felt) {
      list.push(...found.proposals.map((one): Answer => ({ ...plain, ...one })));
    }
    // None of them is what was asked for, so none is shown as if it were.
    return { list, examined: found.examined, ...(instead ? { atMost: instead.at_most, chosen: -1 } : {}) };
  }

  /** Takes over reworks of the bench as it is that were found without being asked for here. */
  adopt(asked: State, list: Answer[], examined: number): void {
    this.clear();
    this.now = { ...NONE, status: "done", asked, origin: this.bench.store.origin, list, examined };
    this.#foreseeAll(asked).catch((reason) => this.bench.report(reason));
  }

  async #foreseeAll(asked: State): Promise<void> {
    await Promise.all(this.now.list.map((answer, at) => this.#foresee(answer, at, asked)));
  }

  async #foresee(answer: Answer, at: number, asked: State): Promise<void> {
    const { quick } = this.bench;
    const wishes = {
      ...this.bench.wishes(asked),
      recipe: answer.recipe,
      storage_c: answer.storage_c,
      ...wishesOf(answer),
    };
    const behaviour = await quick.ask("behave", wishes, `answer ${at}`);
    const prices = pricesOf(this.bench.store, answer.recipe);
    const cost = prices.size
      ? (
          await quick.ask(
            "batch",
            {
              ...this.bench.batchOf(answer.recipe),
              ...(answer.add ? { batch_g: answer.grams } : {}),
              price_per_kg: Object.fromEntries(prices),
            },
            `cost ${at}`,
          )
        ).cost
      : null;
    if (this.now.asked !== asked) return;
    const list = this.now.list.map((one, i) => (i === at ? { ...one, behaviour, cost } : one));
    this.now = { ...this.now, list };
    this.bench.refresh();
  }

  /** Stops; what was found by then is the answer. */
  cancel(): void {
    const { aim, asked, origin, best, progress } = this.now;
    this.bench.searcher.cancel(aim);
    this.now = NONE;
    if (best && asked) {
      const words = say("stopped-early");
      this.now = {
        ...NONE,
        aim,
        asked,
        origin,
        status: "done",
        list: [best],
        examined: progress?.decided ?? 0,
        words,
      };
      this.#foresee(best, 0, asked).catch((reason) => {
        if (!(reason instanceof Superseded)) this.bench.report(reason);
      });
    }
    this.bench.refresh();
  }

  /** Nothing is asked any more. */
  clear(): void {
    if (this.now.status === "running") this.bench.searcher.cancel();
    this.now = NONE;
  }

  choose(at: number): void {
    this.now = { ...this.now, chosen: at };
    this.bench.refresh();
  }

  /** What is melted in, in words. */
  addedTold(add: Added[]): string {
    return add.map(({ id, grams }) => say("amount-of-it", { amount_g: grams, id })).join(say("and-joins"));
  }

  /** Puts an answer on the bench; the others stay. */
  apply(at: number): void {
    const answer = this.now.list[at];
    if (!answer) return;
    const { recipe, storage_c, season, add, lifts, cooler } = answer;
    // Another answer may take the place of the one on the bench, where nothing is asked about the batch any
    // more.
    const made = this.now.asked?.made;
    const other = this.now.list[1 - at]?.storage_c ?? null;
    const told = (what: string) => {
      if (season) return say(season === "winter" ? "winter-on-bench" : "summer-on-bench");
      return add ? say("rescue-on-bench", { what: this.addedTold(add) }) : say("rework-on-bench", { what });
    };
    this.bench.put(
      {
        recipe,
        ...wishesOf(answer),
        ...(cooler ? { storage_c } : {}),
        ...(lifts ? { limits: lift(this.bench.state.limits, lifts) } : {}),
        ...(season ? { storage_c, other_storage_c: other } : {}),
        // A batch that was rescued is one like any other: the next question is of the next.
        ...(add && made ? { made: null, rescued: rescuedBy(add, made) } : {}),
      },
      told,
    );
    this.now = { ...this.now, chosen: at, used: { at, state: this.bench.state } };
    this.bench.refresh();
  }
}
