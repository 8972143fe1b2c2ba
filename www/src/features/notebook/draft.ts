// An entry of the notebook while it is written. What is typed stays as it is typed, also over a reload, until
// it is kept.

import type {
  Firmness,
  Format,
  Item,
  ItemLot,
  Measured,
  PotLine,
  SeenSign,
  State as SentState,
  Sign,
} from "../../contract.js";
import type { Fields } from "../../fields.js";
import { freeTime, isDay, type Lot, type NotedLook, type Seen, today } from "../../notes.js";
import { fromUnit, parseNumber, toUnit, typed } from "../../numbers.js";
import { isOwn, keyOf } from "../../state.js";
import { say } from "../../words.js";
import type { Noted } from "./noted.js";

/** Which jar a line of a pot is from: one that is noted, a new one, one that came with a link; `null`: any. */
export type FromLot = { noted: string } | { fresh: true } | { sent: string; lot: ItemLot } | null;

export interface DraftLine {
  id: string;
  /** As it is typed. */
  percent: string;
  from: FromLot;
}

export interface Draft {
  /** The entry that is changed, by its time; `null`: a new one. */
  of: number | null;
  /** What the pot is: what is on the bench, one ingredient alone, or another recipe. */
  pot: "bench" | "pure" | "other";
  lines: DraftLine[];
  seen: SeenSign | "";
  firmness: Firmness | "";
  solid: string;
  at: string;
  days: string;
  measured: Measured;
  thermometer: string;
  name: string;
  format: Format;
  day: string;
}

export const SIGNS: SeenSign[] = [
  "slumped",
  "held",
  "slipped",
  "clear",
  "firmness",
  "oil-on-top",
  "film",
  "melts-away",
  "solid",
];
export const CLASSES: Firmness[] = ["pourable", "slack", "soft", "scoopable", "firm", "hard", "snapping"];
export const FORMATS: Format[] = ["pot", "whipped", "bar", "stick"];
export const MEASURED: Measured[] = ["kitchen", "probe", "room-guess"];

/** What is seen on skin is at that of skin, and needs no thermometer. */
export const onSkin = (seen: SeenSign | ""): boolean => seen === "film" || seen === "melts-away";

/** A trouble that tells something of a lot, as what was seen. */
export const TROUBLES = new Map<Sign, { seen: SeenSign; firmness?: Firmness }>([
  ["turns-to-oil", { seen: "slumped" }],
  ["oil-pool", { seen: "oil-on-top" }],
  ["too-hard-in-the-cold", { seen: "firmness", firmness: "hard" }],
]);

/** The box that something is wrong with. */
export type Box = "seen" | "firmness" | "solid" | "at" | "days" | "recipe" | "day" | "whole";

/** Those that are usual, and lie folded. */
const FOLDED: Box[] = ["recipe", "days", "day"];

/** Leads to the first of these that is on the page. */
export function lead(...ids: string[]): void {
  const place = ids.map((id) => document.getElementById(id)).find((one) => one !== null);
  place?.focus({ preventScroll: true });
  place?.scrollIntoView({ block: place.id === "note-seen" ? "center" : "start" });
}

/** Which box the engine means by a place of an observation. */
const BOXES: [RegExp, Box][] = [
  [/\.at_c$/, "at"],
  [/\.after_days$/, "days"],
  [/\.firmness$/, "firmness"],
  [/\.solid_percent$/, "solid"],
  [/\.recipe/, "recipe"],
];

export class Writing {
  draft: Draft | null = null;
  /** What is wrong with what is typed, by the box, since it was last to be kept. */
  problems = new Map<Box, string>();
  /** The entry that is changed, as it was when that began. */
  #was: NotedLook | null = null;
  /** Another tab is writing an entry too, and which of them is kept on the device is asked. */
  #asked = false;
  /** Whether what is usual of it lies open. */
  unfolded = false;

  constructor(private readonly notebook: Noted) {
    const { noteDraft } = notebook.bench.store.kept;
    this.draft = noteDraft && draftOf(noteDraft);
    this.#was = this.#entry(this.draft?.of ?? null);
  }

  /** A new entry: of what is on the bench, unless it is said otherwise; measured as the last one was. */
  begin(part: Partial<Draft> = {}): void {
    const last = this.notebook.notes?.looks.at(-1)?.look;
    this.#set({
      of: null,
      pot: this.notebook.bench.state.recipe.some(isOwn) ? "pure" : "bench",
      lines: [],
      seen: "",
      firmness: "",
      solid: "",
      at: "",
      days: "",
      measured: last?.measured ?? "kitchen",
      thermometer: last?.thermometer ?? "",
      name: "",
      format: this.notebook.bench.state.format,
      day: today(),
      ...part,
    });
    this.#was = this.#entry(part.of ?? null);
    this.problems.clear();
    this.unfolded = this.lines.length === 0;
    this.notebook.bench.drawNow();
    lead("note-seen");
  }

  fold(): void {
    this.unfolded = !this.unfolded;
    this.notebook.bench.refresh();
  }

  /** The entry of a time, as the device keeps it now. */
  #entry(of: number | null): NotedLook | null {
    return this.notebook.bench.store.kept.notebook.looks.find((one) => one.at === of) ?? null;
  }

  /** Of what went wrong. How warm it was then, only the maker knows. */
  beginTrouble(sign: Sign): void {
    const trouble = TROUBLES.get(sign);
    if (!trouble) return;
    const { seen, firmness = "" } = trouble;
    this.begin({ pot: "bench", seen, firmness });
  }

  /** Of a look that is planned. */
  beginPlanned(recipe: PotLine[], seen: SeenSign, at_c: number | null, measured: Measured): void {
    const lines = recipe.map((line): DraftLine => {
      const id = this.notebook.idOf(line);
      return {
        id,
        percent: typed(line.percent, 2),
        from: line.lot === undefined ? this.usual(id) : { noted: line.lot },
      };
    });
    this.begin({ pot: "other", lines, seen, at: at_c === null ? "" : this.#typed(at_c), measured });
  }

  /** Of a pot that a link was made for. */
  beginSent({ recipe, format, look }: SentState): void {
    if (!look) return;
    const lines = recipe.flatMap((item: Item): DraftLine[] => {
      const { id, name, percent, lot } = item;
      if (!id || isOwn(item)) return [];
      const sent = lot ? { sent: name ?? this.notebook.nameFor(id), lot } : this.usual(id);
      return [
        { id, percent: typed(percent, 2), from: this.notebook.isNoted(item) ? { noted: name ?? "" } : sent },
      ];
    });
    this.begin({
      pot: "other",
      lines,
      format,
      seen: look.seen,
      at: look.at_c === null ? "" : this.#typed(look.at_c),
      measured: look.measured ?? "kitchen",
    });
  }

  /** An entry that is there already. */
  change({ at, day, look }: NotedLook): void {
    const { recipe, seen, firmness, solid_percent, at_c, after_days } = look;
    this.begin({
      of: at,
      pot: "other",
      lines: recipe.map((line) => ({
        id: this.notebook.idOf(line),
        percent: typed(line.percent, 3),
        from: line.lot === undefined ? null : { noted: line.lot },
      })),
      seen,
      firmness: firmness ?? "",
      solid: solid_percent == null ? "" : typed(solid_percent),
      at: at_c == null ? "" : this.#typed(at_c),
      days: after_days == null ? "" : typed(after_days),
      measured: look.measured ?? "kitchen",
      thermometer: look.thermometer ?? "",
      name: look.pot ?? "",
      format: look.format ?? "pot",
      day,
    });
  }

  set(part: Partial<Draft>): void {
    if (!this.draft) return;
    for (const box of ["seen", "firmness", "solid", "at", "days", "day"] as const) {
      if (box in part) this.problems.delete(box);
    }
    if ("lines" in part || "pot" in part) this.problems.delete("recipe");
    this.problems.delete("whole");
    this.#set({ ...this.draft, ...part });
  }

  /** Puts it away unkept; what was typed can be had back. */
  discard(): void {
    const was = this.draft;
    this.#set(null);
    this.problems.clear();
    this.notebook.bench.drawNow();
    lead("write-down");
    this.notebook.bench.say({
      text: say("draft-gone"),
      tone: "plain",
      actions: [{ label: say("put-it-back"), run: () => this.#set(was) }],
    });
  }

  #set(draft: Draft | null, overwrite = false): void {
    const { bench } = this.notebook;
    this.draft = draft;
    const how = bench.store.kept.saveNoteDraft(draft && { ...draft }, overwrite);
    if (how === "conflict" && !this.#asked) this.#askWhich();
    this.#asked = how === "conflict";
    bench.refresh();
  }

  /** Two tabs write an entry each: the device keeps one of them while it is written, and the reader says which. */
  #askWhich(): void {
    this.notebook.bench.say({
      text: say("which-draft"),
      tone: "problem",
      stays: true,
      actions: [
        { label: say("this-one"), run: () => this.#set(this.draft, true) },
        { label: say("the-other"), run: () => this.#takeOther() },
      ],
    });
  }

  #takeOther(): void {
    const { bench } = this.notebook;
    const was = this.draft;
    const other = bench.store.kept.takeNoteDraft();
    this.#asked = false;
    // It was kept or put away meanwhile.
    if (!other) {
      this.#set(was);
      return;
    }
    this.draft = draftOf(other);
    this.#was = this.#entry(this.draft.of);
    this.problems.clear();
    bench.say({
      text: say("other-draft-is-here"),
      tone: "plain",
      actions: [{ label: say("put-it-back"), run: () => this.#set(was) }],
    });
    bench.refresh();
  }

  #typed(celsius: number): string {
    return typed(toUnit(celsius, this.notebook.bench.store.preferences.temperature), 1);
  }

  /** Where a line is from unless the maker says otherwise: the jar noted last; of butters, which vary most, a new one. */
  usual(id: string): FromLot {
    const { bench } = this.notebook;
    const noted = this.notebook.lotsOf(id);
    const inUse = bench.state.recipe.find(
      (item) => item.id === id && item.lot && this.notebook.isNoted(item),
    );
    const name = inUse?.name ?? noted.at(-1)?.lot.name;
    if (name !== undefined) return { noted: name };
    const kind = bench.catalogue.get(id)?.class;
    return kind === "hard-butter" || kind === "soft-butter" ? { fresh: true } : null;
  }

  /** The lines of the pot as it stands. */
  get lines(): DraftLine[] {
    const { draft, notebook } = this;
    if (!draft) return [];
    if (draft.pot !== "bench") return draft.lines;
    return notebook.bench.state.recipe.flatMap((item) => {
      const { id, percent } = item;
      if (!id || percent <= 0) return [];
      const chosen = draft.lines.find((line) => line.id === id);
      return { id, percent: typed(percent), from: chosen ? chosen.from : this.usual(id) };
    });
  }

  setFrom(at: number, from: FromLot): void {
    this.set({ lines: this.lines.map((line, i) => (i === at ? { ...line, from } : line)) });
  }

  setPot(pot: Draft["pot"]): void {
    const lines = this.lines;
    const [first] = lines;
    if (pot === "bench") this.set({ pot, lines: [] });
    else if (pot === "other") this.set({ pot, lines });
    else this.set({ pot, lines: first ? [{ ...first, percent: "100" }] : [] });
  }

  /** What of the recipe on the bench the notebook cannot take. */
  get foreign(): Item[] {
    return this.notebook.bench.state.recipe.filter((item) => item.percent > 0 && (isOwn(item) || !item.id));
  }

  /** Reads what is typed; `null` where something is wrong, which is then told. */
  #read(draft: Draft): { lots: Lot[]; look: Seen } | null {
    const { problems, notebook } = this;
    problems.clear();
    const unit = notebook.bench.store.preferences.temperature;
    const number = (box: Box, text: string) => {
      const value = parseNumber(text);
      if (value === null) problems.set(box, say("text-not-a-number", { text: text.trim() }));
      return value;
    };
    if (!draft.seen) problems.set("seen", say("say-what-was-seen"));
    if (draft.seen === "firmness" && !draft.firmness) problems.set("firmness", say("say-how-firm"));
    if (draft.pot === "bench" && this.foreign.length)
      problems.set("recipe", say("own-not-in-notebook", { ids: this.foreign.map(keyOf) }));
    if (!isDay(draft.day)) problems.set("day", say("say-which-day"));
    const at = draft.at.trim() ? number("at", draft.at) : null;
    if (!draft.at.trim() && draft.seen && !onSkin(draft.seen))
      problems.set("at", say("say-how-warm", { unit: `°${unit}` }));
    const after_days = draft.days.trim() ? number("days", draft.days) : null;
    const solid_percent = draft.seen === "solid" ? number("solid", draft.solid) : null;
    const lots: Lot[] = [];
    const recipe: PotLine[] = [];
    if (!this.lines.length) problems.set("recipe", say("say-which-pot"));
    for (const { id, percent, from } of this.lines) {
      const value = number("recipe", percent) ?? 0;
      if (from && "fresh" in from) {
        const name = notebook.nameFor(id, lots);
        lots.push({ name, id, lot: null });
        recipe.push({ lot: name, percent: value });
      } else if (from && "sent" in from) {
        lots.push({ name: from.sent, id, lot: from.lot });
        recipe.push({ lot: from.sent, percent: value });
      } else recipe.push(from ? { lot: from.noted, percent: value } : { id, percent: value });
    }
    if (problems.size || !draft.seen) return null;
    const before = notebook.notes?.looks.find((one) => one.at === draft.of)?.look;
    const look: Seen = {
      recipe,
      format: draft.format,
      seen: draft.seen,
      measured: draft.measured,
      pot: draft.name.trim() || null,
      firmness: draft.seen === "firmness" ? draft.firmness || null : null,
      solid_percent,
      at_c: at === null ? null : fromUnit(at, unit),
      after_days,
      thermometer: draft.thermometer.trim() || null,
      left_out: before?.left_out ?? false,
      insist: before?.insist ?? false,
    };
    return { lots, look };
  }

  /** Keeps it in the notebook, once the engine takes it; says whether it is kept. What another tab made of the entry meanwhile stays. */
  async keep(over = false): Promise<boolean> {
    const { draft, notebook, problems } = this;
    const { bench } = notebook;
    const read = draft && this.#read(draft);
    if (!draft || !read) {
      this.#lead();
      return false;
    }
    try {
      const notes = notebook.notes ?? { lots: [], looks: [] };
      const others = notes.looks.filter((one) => one.at !== draft.of);
      const told = await bench.quick.ask(
        "notebook",
        {
          lots: [...notes.lots.map(({ lot }) => lot), ...read.lots],
          observations: [...others.map(({ look }) => look), read.look],
        },
        "keep",
      );
      const lotFault = told.lots.findLast((fault) => fault !== null);
      const fault = told.observations.at(-1);
      if (lotFault) problems.set("whole", lotFault.message);
      else if (fault)
        problems.set(BOXES.find(([place]) => place.test(fault.at))?.[1] ?? "whole", fault.message);
      if (problems.size) {
        this.#lead();
        return false;
      }
      const { of, day } = draft;
      const now = this.#entry(of);
      if (!over && now && this.#was && JSON.stringify(now) !== JSON.stringify(this.#was)) {
        this.#askOver();
        return false;
      }
      await notebook.changeTold(
        (now) => {
          const lots = [...now.lots];
          for (const lot of read.lots) {
            if (!lots.some((one) => one.lot.name === lot.name))
              lots.push({ at: freeTime({ ...now, lots }), day: today(), lot });
          }
          const at = of ?? freeTime({ ...now, lots });
          const entry = { at, day, look: read.look };
          const there = now.looks.some((one) => one.at === of);
          const looks = there ? now.looks.map((one) => (one.at === of ? entry : one)) : [...now.looks, entry];
          return { lots, looks };
        },
        say(of === null ? "look-kept" : "look-changed"),
      );
      this.#set(null);
      // What it taught is the answer.
      bench.drawNow();
      lead("taught-title");
      return true;
    } catch (reason) {
      bench.report(reason);
      return false;
    }
  }

  /** The entry is another than the one whose change was begun: another tab was at it. */
  #askOver(): void {
    this.notebook.bench.say({
      text: say("entry-changed-elsewhere"),
      tone: "problem",
      stays: true,
      actions: [
        { label: say("keep-both-entries"), run: () => this.#keepBoth() },
        { label: say("keep-mine"), run: () => void this.keep(true) },
      ],
    });
  }

  #keepBoth(): void {
    this.set({ of: null });
    void this.keep();
  }

  /** To the first box that something is wrong with. */
  #lead(): void {
    if (FOLDED.some((box) => this.problems.has(box))) this.unfolded = true;
    this.notebook.bench.drawNow();
    const place = document.querySelector<HTMLElement>("#note-form [aria-invalid=true], #note-form .problem");
    place?.scrollIntoView({ block: "center" });
    place?.focus({ preventScroll: true });
  }
}

/** Whether the figures of a lot can be is the engine's to say. */
function fromOf({ noted, fresh, sent, lot }: Fields): FromLot {
  if (typeof noted === "string") return { noted };
  if (fresh === true) return { fresh };
  if (typeof sent === "string" && typeof lot === "object" && lot) return { sent, lot: lot as ItemLot };
  return null;
}

/** A draft as it was kept, field by field; what is odd in it is as in a new one. */
function draftOf(fields: Fields): Draft {
  const word = <T extends string>(name: string, words: readonly T[], usual: T): T =>
    words.find((one) => one === fields[name]) ?? usual;
  const text = (value: unknown) => (typeof value === "string" ? value.slice(0, 200) : "");
  const lines = (Array.isArray(fields.lines) ? fields.lines : []).flatMap((one: unknown): DraftLine[] => {
    const { id, percent, from } = (typeof one === "object" && one ? one : {}) as Fields;
    if (typeof id !== "string" || typeof percent !== "string") return [];
    return [{ id, percent, from: fromOf((typeof from === "object" && from ? from : {}) as Fields) }];
  });
  return {
    of: typeof fields.of === "number" ? fields.of : null,
    pot: word("pot", ["bench", "pure", "other"], "bench"),
    lines,
    seen: word<SeenSign | "">("seen", SIGNS, ""),
    firmness: word<Firmness | "">("firmness", CLASSES, ""),
    solid: text(fields.solid),
    at: text(fields.at),
    days: text(fields.days),
    measured: word("measured", MEASURED, "kitchen"),
    thermometer: text(fields.thermometer),
    name: text(fields.name),
    format: word("format", FORMATS, "pot"),
    day: isDay(fields.day) ? fields.day : today(),
  };
}
