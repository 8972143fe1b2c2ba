// The notebook: what the maker saw, what it taught of the lots, and how that is used on the bench.

import type { Bench } from "../../bench.js";
import type {
  Answers,
  Behaviour,
  Failure,
  Item,
  ItemLot,
  PotLine,
  Proposal,
  State as SentState,
} from "../../contract.js";
import { inWords, Superseded } from "../../engine.js";
import { freeName } from "../../kept-entries.js";
import {
  freeTime,
  type Lot,
  NO_NOTES,
  type NotedLook,
  type NotedLot,
  type Notes,
  today,
} from "../../notes.js";
import { addsUp } from "../../recipe.js";
import { isOwn, type State } from "../../state.js";
import { say } from "../../words.js";
import { lead, Writing } from "./draft.js";
import { NextPot } from "./next.js";
import type { Noted } from "./noted.js";
import { Paper } from "./paper.js";

/** After a change of the bench that long before it is asked what the lots make of it, ms. */
const PAUSE = 600;

/** The bench's recipe of any lots, and of the maker's own. */
export interface Compared<T> {
  any: T;
  own: T;
}

/** What the smallest rework of the bench's recipe is; `null`: there is none that does all that is asked. */
export type Rework = Pick<Proposal, "effort" | "shift_percent" | "changes" | "meets_all"> | null;

export class Notebook implements Noted {
  /** What is kept, as far as the engine takes it; `null` until it has said so. */
  notes: Notes | null = null;
  learned: Answers["learn"] | null = null;
  failure: string | null = null;
  curves: Compared<Behaviour> | null = null;
  reworks: Compared<Rework> | null = null;
  /** Whether a rework is being looked for. */
  seeking = false;
  readonly writing: Writing;
  readonly next: NextPot;
  readonly paper: Paper;
  #checked = "";
  #asked = "";
  #timer = 0;
  /** The state that the curves and the reworks are of. */
  #compared: State | null = null;

  constructor(
    readonly bench: Bench,
    /** What a rework of a state is asked with. */
    private readonly reworkOf: (state: State) => object,
  ) {
    this.writing = new Writing(this);
    this.next = new NextPot(this);
    this.paper = new Paper(this);
    bench.follow(() => this.#later());
    // Such as by a backup.
    bench.store.kept.onnotes = () => this.#later();
    bench.store.listen(() => {
      if (this.#compared === this.bench.state) return;
      this.curves = null;
      this.reworks = null;
    });
  }

  // What is kept

  /** Has the engine look at what is kept; what it refuses is set aside. */
  async settle(): Promise<void> {
    const { kept } = this.bench.store;
    const text = JSON.stringify(kept.notebook);
    if (text !== this.#checked || !this.notes) {
      const { good, odd } = await this.sift(kept.notebook);
      for (const [one, why] of odd) kept.setAside("notebook", JSON.stringify(one), why);
      if (odd.length) {
        const gone = new Set(odd.map(([one]) => one.at));
        const stays = (one: { at: number }) => !gone.has(one.at);
        kept.changeNotes(({ lots, looks }) => ({ lots: lots.filter(stays), looks: looks.filter(stays) }));
      }
      this.#checked = JSON.stringify(kept.notebook);
      this.notes = good;
      this.bench.refresh();
    }
    await this.learn();
  }

  /** What of a notebook is good, and what is wrong with the rest. */
  async sift(notes: Notes): Promise<{ good: Notes; odd: [NotedLot | NotedLook, string][] }> {
    if (!notes.lots.length && !notes.looks.length) return { good: NO_NOTES, odd: [] };
    const told = await this.bench.quick.ask(
      "notebook",
      { lots: notes.lots.map(({ lot }) => lot), observations: notes.looks.map(({ look }) => look) },
      "sift",
    );
    const odd: [NotedLot | NotedLook, string][] = [];
    const good = <T extends NotedLot | NotedLook>(all: T[], faults: (Failure | null)[]) =>
      all.filter((one, at) => {
        const fault = faults[at];
        if (fault) odd.push([one, inWords(fault)]);
        return !fault;
      });
    return { good: { lots: good(notes.lots, told.lots), looks: good(notes.looks, told.observations) }, odd };
  }

  /** Changes what is kept, and learns anew; says whether the device keeps it. */
  async change(change: (notes: Notes) => Notes): Promise<boolean> {
    const kept = this.bench.store.kept.changeNotes(change);
    await this.settle();
    if (!kept) this.bench.say({ text: say("notebook-not-kept"), tone: "problem" });
    return kept;
  }

  /** Changes it, and tells so with a way back. */
  async changeTold(change: (notes: Notes) => Notes, text: string): Promise<void> {
    try {
      const before = this.bench.store.kept.notebook;
      if (!(await this.change(change))) return;
      const after = this.bench.store.kept.notebook;
      this.bench.say({
        text,
        tone: "plain",
        actions: [{ label: say("undo"), run: () => void this.#back(before, after) }],
      });
    } catch (reason) {
      this.bench.report(reason);
    }
  }

  /** As it was before a change; what was written since by another tab stays. */
  async #back(before: Notes, after: Notes): Promise<void> {
    const known = new Set(
      [...before.lots, ...before.looks, ...after.lots, ...after.looks].map(({ at }) => at),
    );
    const since = (one: { at: number }) => !known.has(one.at);
    try {
      await this.change((now) => ({
        lots: [...before.lots, ...now.lots.filter(since)],
        looks: [...before.looks, ...now.looks.filter(since)],
      }));
    } catch (reason) {
      this.bench.report(reason);
    }
  }

  setLook(at: number, part: Partial<NotedLook["look"]>, text: string): void {
    void this.changeTold(
      ({ lots, looks }) => ({
        lots,
        looks: looks.map((one) => (one.at === at ? { ...one, look: { ...one.look, ...part } } : one)),
      }),
      text,
    );
  }

  async dropLook(at: number): Promise<void> {
    await this.changeTold(
      ({ lots, looks }) => ({ lots, looks: looks.filter((one) => one.at !== at) }),
      say("look-dropped"),
    );
    this.bench.drawNow();
    lead("taught-title", "write-down");
  }

  /** A lot goes with all that was seen of it. */
  dropLot(name: string): void {
    const of = ({ look }: NotedLook) => look.recipe.some((line) => line.lot === name);
    const count = this.notes?.looks.filter(of).length ?? 0;
    void this.changeTold(
      ({ lots, looks }) => ({
        lots: lots.filter(({ lot }) => lot.name !== name),
        looks: looks.filter((one) => !of(one)),
      }),
      say("lot-dropped", { name, count }),
    );
  }

  /** Another name for a lot, wherever it is named. */
  rename(from: string, to: string): void {
    const line = (one: PotLine) => (one.lot === from ? { ...one, lot: to } : one);
    void this.changeTold(
      ({ lots, looks }) => ({
        lots: lots.map((one) => (one.lot.name === from ? { ...one, lot: { ...one.lot, name: to } } : one)),
        looks: looks.map((one) => ({ ...one, look: { ...one.look, recipe: one.look.recipe.map(line) } })),
      }),
      say("lot-renamed", { name: to }),
    );
  }

  setDay(name: string, day: string): void {
    void this.changeTold(
      ({ lots, looks }) => ({
        lots: lots.map((one) => (one.lot.name === name ? { ...one, day } : one)),
        looks,
      }),
      say("lot-dated", { name }),
    );
  }

  // Lots

  lotsOf(id: string): NotedLot[] {
    return this.notes?.lots.filter(({ lot }) => lot.id === id) ?? [];
  }

  /** What a new lot is called until the maker says otherwise. */
  nameFor(id: string, others: { name: string }[] = []): string {
    const name = say("lot-of-day", {
      name: this.bench.catalogue.get(id)?.name ?? id,
      day: dayShown(today()),
    });
    return freeName(name, [...(this.notes?.lots.map(({ lot }) => lot) ?? []), ...others]);
  }

  /** Whether a line of a recipe is of a lot that is in the notebook. */
  isNoted({ id, name, lot }: Item, notes: Notes = this.bench.store.kept.notebook): boolean {
    return lot !== undefined && notes.lots.some((one) => one.lot.id === id && one.lot.name === name);
  }

  /** Lots that came with a link, and are not in the notebook. */
  get strangers(): Item[] {
    return this.bench.state.recipe.filter(
      (item) => item.lot && item.id && !isOwn(item) && !this.isNoted(item),
    );
  }

  /** Keeps those lots, with what is known of them. */
  async keepStrangers(): Promise<void> {
    const names: string[] = [];
    const renamed = new Map<Item, string>();
    await this.changeTold((notes) => {
      const lots = [...notes.lots];
      for (const item of this.strangers) {
        const { id = "", lot = null } = item;
        const name = freeName(
          item.name ?? this.nameFor(id),
          lots.map((one) => one.lot),
        );
        lots.push({ at: freeTime({ ...notes, lots }), day: today(), lot: { name, id, lot } });
        names.push(name);
        if (name !== item.name) renamed.set(item, name);
      }
      return { ...notes, lots };
    }, say("lots-kept"));
    if (!renamed.size) return;
    const recipe = this.bench.state.recipe.map((item) => ({
      ...item,
      ...(renamed.has(item) ? { name: renamed.get(item) ?? "" } : {}),
    }));
    this.bench.store.change({ recipe });
  }

  /** What is known of a lot now. */
  known(name: string): ItemLot | null {
    return this.learned?.lots.find((one) => one.name === name)?.lot ?? null;
  }

  /** Where a lot stands in the recipe on the bench: as it is known now, as it was known before, or not at all. */
  use(lot: Lot): "now" | "before" | "not" {
    const item = this.bench.state.recipe.find((one) => one.lot && one.id === lot.id && one.name === lot.name);
    if (!item) return "not";
    const known = this.known(lot.name);
    return known && !alike(item.lot, known) ? "before" : "now";
  }

  /** Takes a lot for the line of the recipe that is of it; without one, for what a rework may add. */
  take(lot: Lot): void {
    const known = this.known(lot.name);
    if (!known) return;
    const { state, store } = this.bench;
    const here = state.recipe.some((item) => item.id === lot.id && !isOwn(item));
    const own = { id: lot.id, name: lot.name, lot: known };
    const recipe = here
      ? state.recipe.map((item) =>
          item.id === lot.id && !isOwn(item) ? { ...own, percent: item.percent } : item,
        )
      : [...state.recipe, { ...own, percent: 0 }];
    const { pantry } = state.limits;
    const limits =
      !here && pantry && !pantry.includes(lot.id)
        ? { limits: { ...state.limits, pantry: [...pantry, lot.id] } }
        : {};
    store.change({ recipe, ...limits });
    this.bench.say({
      text: say(here ? "lot-taken" : "lot-on-shelf", { name: lot.name }),
      tone: "plain",
      actions: [this.bench.undoing],
    });
  }

  /**
   * The jars that the recipe on the bench is of: those that it does not go by yet, or not as they are known now, and those that
   * it does. What was learned of a jar that is like none is not offered so; the jar itself still offers it.
   */
  get jars(): { ready: string[]; taken: string[] } {
    const ready: string[] = [];
    const taken: string[] = [];
    for (const { lot: name } of this.benchPot ?? []) {
      const noted = this.notes?.lots.find(({ lot }) => lot.name === name);
      const learned = this.learned?.lots.find((one) => one.name === name);
      if (!noted || !learned) continue;
      const use = this.use(noted.lot);
      if (use === "now") taken.push(noted.lot.name);
      else if (use === "before" || (learned.taught !== "too-far" && (learned.observations || noted.lot.lot)))
        ready.push(noted.lot.name);
    }
    return { ready, taken };
  }

  /** Has the recipe go by all of them. */
  takeAll(): void {
    const { ready } = this.jars;
    const { state, store } = this.bench;
    const of = new Map(
      ready.flatMap((name) => {
        const id = this.idOf({ lot: name, percent: 0 });
        const lot = this.known(name);
        return lot ? [[id, { id, name, lot }]] : [];
      }),
    );
    const recipe = state.recipe.map((item) => {
      const own = item.id && !isOwn(item) ? of.get(item.id) : undefined;
      return own ? { ...own, percent: item.percent } : item;
    });
    store.change({ recipe });
    this.bench.say({ text: say("jars-taken"), tone: "plain", actions: [this.bench.undoing] });
  }

  /** The recipe is of typical jars again. */
  leaveAll(): void {
    const recipe = this.bench.state.recipe.flatMap((item) => {
      if (!item.lot || !item.id || isOwn(item)) return [item];
      return item.percent > 0 ? [{ id: item.id, percent: item.percent }] : [];
    });
    this.bench.store.change({ recipe });
    this.bench.say({ text: say("lot-left"), tone: "plain", actions: [this.bench.undoing] });
  }

  /** The recipe is of any lot again. */
  leave(id: string): void {
    const recipe = this.bench.state.recipe.flatMap((item) =>
      item.id !== id || !item.lot ? item : item.percent > 0 ? { id, percent: item.percent } : [],
    );
    this.bench.store.change({ recipe });
    this.bench.say({ text: say("lot-left"), tone: "plain", actions: [this.bench.undoing] });
  }

  // What was learned

  /** The bench's recipe as a pot, of the lots that it is of, or else of those that the maker noted last; `null` where it is none. */
  get benchPot(): PotLine[] | null {
    const { recipe } = this.bench.state;
    if (!addsUp(recipe)) return null;
    const lines = recipe.filter((item) => item.percent > 0);
    if (!lines.length || lines.some((item) => isOwn(item) || !item.id)) return null;
    return lines.map(({ id = "", percent, name, lot }) => {
      const noted = this.lotsOf(id);
      const own = (lot && noted.find((one) => one.lot.name === name)) ?? noted.at(-1);
      return own ? { lot: own.lot.name, percent } : { id, percent };
    });
  }

  /** The recipe on the bench of any lots, and of the maker's own. */
  recipes(): Compared<Item[]> {
    const of = new Map(this.benchPot?.flatMap((line) => (line.lot ? [[this.idOf(line), line.lot]] : [])));
    const any = this.bench.state.recipe.map(({ lot, name, ...item }) =>
      lot || !name ? item : { ...item, name },
    );
    const own = any.map((item) => {
      const name = item.id && !isOwn(item) ? of.get(item.id) : undefined;
      const lot = name === undefined ? null : this.known(name);
      return lot && name !== undefined ? { ...item, name, lot } : item;
    });
    return { any, own };
  }

  /** What a line of a pot is of. */
  idOf({ lot, id }: PotLine): string {
    return id ?? this.notes?.lots.find((one) => one.lot.name === lot)?.lot.id ?? "";
  }

  /** What is asked with every question about the lots. */
  get asked() {
    const notes = this.notes ?? NO_NOTES;
    return { lots: notes.lots.map(({ lot }) => lot), observations: notes.looks.map(({ look }) => look) };
  }

  #later(): void {
    clearTimeout(this.#timer);
    this.#timer = window.setTimeout(() => {
      this.settle().catch((reason) => this.bench.report(reason));
    }, PAUSE);
  }

  /** In the searcher's worker, so that no key waits for it. */
  async learn(): Promise<void> {
    if (!this.notes) return;
    if (!this.notes.lots.length) {
      this.learned = null;
      this.#asked = "";
      return;
    }
    const request = { ...this.asked, recipe: this.benchPot ?? [], format: this.bench.state.format };
    const key = JSON.stringify(request);
    if (key === this.#asked) return;
    this.#asked = key;
    try {
      this.learned = await this.bench.searcher.ask("learn", request);
      this.failure = null;
    } catch (reason) {
      this.#asked = "";
      if (reason instanceof Superseded) return;
      this.learned = null;
      this.failure = this.bench.inWords(reason);
    }
    this.bench.refresh();
  }

  /** Asks for the curve of the bench's recipe, of any lots and of these. */
  async compareCurves(): Promise<void> {
    const { bench } = this;
    const asked = bench.state;
    const { any, own } = this.recipes();
    try {
      const wishes = bench.wishes(asked);
      const before = await bench.searcher.ask("behave", { ...wishes, recipe: any }, "of any lots");
      const after = await bench.searcher.ask("behave", { ...wishes, recipe: own }, "of own lots");
      if (bench.state !== asked) return;
      this.#compared = asked;
      this.curves = { any: before, own: after };
      bench.refresh();
    } catch (reason) {
      bench.report(reason);
    }
  }

  /** Asks for the smallest rework of the bench's recipe, of any lots and of these. */
  async compareReworks(): Promise<void> {
    const { bench } = this;
    const asked = bench.state;
    const { any, own } = this.recipes();
    this.seeking = true;
    bench.refresh();
    const smallest = async (recipe: Item[], channel: string): Promise<Rework> => {
      const request = this.reworkOf({ ...asked, recipe });
      const { proposals } = await bench.searcher.ask(
        "rework",
        request as { recipe: Item[] },
        channel,
        // Whoever reports is not taken for lost.
        () => {},
      );
      return proposals.find((one) => one.meets_all) ?? null;
    };
    try {
      const compared = {
        any: await smallest(any, "rework of any lots"),
        own: await smallest(own, "rework of own lots"),
      };
      if (bench.state === asked) {
        this.#compared = asked;
        this.reworks = compared;
      }
    } catch (reason) {
      bench.report(reason);
    }
    this.seeking = false;
    bench.refresh();
  }

  /** The state whose link leads to a look that is planned. */
  async address(state: Partial<SentState>): Promise<string> {
    const { format, storage_c } = this.bench.state;
    const { fragment } = await this.bench.quick.ask(
      "link",
      { state: { format, storage_c, ...state } as SentState },
      "look",
    );
    const here = new URL(location.protocol === "file:" && HOSTED_AT ? HOSTED_AT : location.href);
    here.hash = fragment;
    return here.href;
  }
}

/** Whether the same is known of a lot, as closely as anybody would notice. */
function alike(one: ItemLot | undefined, other: ItemLot): boolean {
  const near = (name: keyof ItemLot) => Math.abs((one?.[name] ?? 0) - other[name]) < 0.02;
  return (["shift_k", "share_log", "shift_left_k", "share_left_log", "together"] as const).every(near);
}

const DAY = new Intl.DateTimeFormat(undefined, { day: "numeric", month: "short", year: "numeric" });

/** A day as the reader's locale writes it. */
export function dayShown(day: string): string {
  return DAY.format(new Date(`${day}T12:00`));
}
