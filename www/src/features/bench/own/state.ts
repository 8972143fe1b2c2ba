// An ingredient that the catalogue lacks, as it is typed: kept as text until the engine understands it.

import type { Bench } from "../../../bench.js";
import type { Class, Item, Melt, Own, Rule } from "../../../contract.js";
import { EngineError, Superseded } from "../../../engine.js";
import { fromUnit, parseNumber, type TemperatureUnit, toUnit, typed } from "../../../numbers.js";
import { add, exchange } from "../../../recipe.js";
import { EXAMPLE, isOwn, sent } from "../../../state.js";
import { harmless, say } from "../../../words.js";

export const WAYS = ["like", "acids", "solids", "molecules"] as const;
export type Way = (typeof WAYS)[number];

/** What is typed into the form. */
export interface Draft {
  /** The line of the recipe that is edited; `null`: a new one. */
  line: number | null;
  /** What its temperatures are typed in. */
  unit: TemperatureUnit;
  name: string;
  way: Way;
  like: string;
  /** What it shares corrections with, where it says itself what it is made of. */
  behaves: string;
  melts: string;
  kind: string;
  spread: string;
  acids: Map<string, string>;
  /** What else a link or a file said beside the acids: kept, though it has no box. */
  beside: Pick<Own, "free_acid_percent" | "unsaponifiable_percent" | "diglyceride_percent">;
  solids: { at: string; percent: string }[];
  molecules: string;
}

/** Where a complaint belongs. */
export type Field = "name" | "like" | "melts" | "acids" | "solids" | "molecules";

/** The temperatures that laboratories usually measure solids at, °C. */
const USUAL_C = [10, 20, 25, 30, 35, 40];

const PLACES: [string, Field][] = [
  ["fatty_acids", "acids"],
  ["spread", "acids"],
  ["solid_points", "solids"],
  ["composition", "molecules"],
  ["melts_at_c", "melts"],
  ["like", "like"],
];

/** Percentages, or °C, by what they are of; with what cannot be read. */
type Read<T> = { value: T; problem: string | null };

const notNumber = (text: string) => say("text-not-a-number", { text });

function shares(rows: [string, string][]): Read<Record<string, number>> {
  const sums = new Map<string, number>();
  for (const [name, text] of rows) {
    if (!text.trim()) continue;
    const percent = parseNumber(text);
    if (percent === null)
      return {
        value: Object.fromEntries(sums),
        problem: say("of-which-fault", { name, fault: notNumber(text) }),
      };
    sums.set(name, (sums.get(name) ?? 0) + percent);
  }
  return { value: Object.fromEntries(sums), problem: null };
}

export class OwnForm {
  draft: Draft;
  /** How it melts alone. */
  told: Melt | null = null;
  problems = new Map<Field, string>();
  /** Whether it was to go in as it is: until then what is not there yet is no fault. */
  tried = false;
  /** What is not there yet. */
  missing = new Set<Field>();
  /** A certificate as it was pasted, and what of it was not understood. */
  certificate = "";
  unread: string[] = [];
  /** Whether what was pasted for a certificate is a recipe. */
  isRecipe = false;
  /** Reads it as one. */
  asRecipe: (text: string) => void = () => {};
  /** The line of a pasted recipe that it is described for. */
  forLine: { name: string; text: string; put(item: Omit<Item, "percent">): void } | null = null;

  constructor(readonly bench: Bench) {
    this.draft = { ...this.#blank(), ...draftOf(bench.store.kept.draft ?? {}) };
  }

  #blank(): Draft {
    const unit = this.bench.store.preferences.temperature;
    return {
      line: null,
      unit,
      name: "",
      way: "like",
      like: "shea-butter",
      behaves: "",
      melts: "",
      kind: "",
      spread: "seed",
      acids: new Map(),
      beside: {},
      solids: USUAL_C.map((celsius) => ({ at: typed(toUnit(celsius, unit)), percent: "" })),
      molecules: "",
    };
  }

  /** Begins anew or goes on with what was typed; or takes up a line of the recipe, which it then takes the place of. */
  open(line: number | null): void {
    this.certificate = "";
    this.unread = [];
    this.isRecipe = false;
    const item = line === null ? null : this.bench.state.recipe[line];
    if (item) this.draft = this.#from(item, line);
    else if (this.draft.line !== null) this.draft = this.#blank();
    else this.draft = inUnit(this.draft, this.bench.store.preferences.temperature);
    if (this.forLine && !this.draft.name) this.draft = { ...this.draft, name: this.forLine.name };
    void this.#check();
  }

  /** Begins with a certificate that was pasted elsewhere, of an ingredient where it names one; what was begun already keeps its name. */
  begin(text: string, id: string | null): void {
    const { draft } = this;
    const begun = draft.line === null && draft.name.trim() !== "";
    this.forLine = null;
    if (begun) this.draft = { ...draft, way: "acids" };
    else
      this.draft = id === null ? { ...this.#blank(), way: "acids" } : this.#lotOf({ id, percent: 0 }, null);
    void this.paste(text);
  }

  /** The line of the recipe that is what a new one is like, which it can take the place of. */
  get kin(): number | null {
    const { line, way, like, behaves } = this.draft;
    const of = way === "like" ? like : behaves;
    const at = this.bench.state.recipe.findIndex((item) => !isOwn(item) && item.id === of);
    return line === null && !this.forLine && at >= 0 ? at : null;
  }

  /** Takes the fatty acids of a certificate that was pasted. */
  async paste(text: string): Promise<void> {
    this.certificate = text;
    this.unread = [];
    this.isRecipe = false;
    this.problems.delete("acids");
    if (!text.trim()) return this.bench.refresh();
    try {
      const { fatty_acids, unread, is_recipe } = await this.bench.quick.ask("certificate", { text });
      this.isRecipe = is_recipe;
      if (is_recipe) return this.bench.refresh();
      this.unread = unread;
      this.set({ acids: new Map(fatty_acids.map(([name, percent]) => [name, typed(percent)])) });
    } catch (reason) {
      if (reason instanceof Superseded) return;
      if (!(reason instanceof EngineError)) this.bench.report(reason);
      else this.unread = [reason.failure.message];
      this.bench.refresh();
    }
  }

  /** A draft of one's own lot of a line of the catalogue. */
  #lotOf(item: Item, line: number | null): Draft {
    const id = item.id ?? "";
    const name = say("my-lot", { name: this.bench.name(item) });
    return { ...this.#blank(), line, name, way: "acids", like: id, behaves: id };
  }

  #from(item: Item, line: number | null): Draft {
    if (!isOwn(item)) return this.#lotOf(item, line);
    const text = (value: number | undefined) => (value === undefined ? "" : typed(value));
    const known: Way = item.fatty_acids
      ? "acids"
      : item.solid_points
        ? "solids"
        : item.composition
          ? "molecules"
          : "like";
    const blank = this.#blank();
    const { free_acid_percent, unsaponifiable_percent, diglyceride_percent } = item;
    return {
      ...blank,
      line,
      name: item.name ?? item.id ?? "",
      way: known,
      like: (known === "like" && item.like) || blank.like,
      behaves: (known !== "like" && item.like) || "",
      melts: item.melts_at_c === undefined ? "" : text(toUnit(item.melts_at_c, blank.unit)),
      kind: item.class ?? "",
      spread: item.spread ?? "seed",
      acids: new Map(Object.entries(item.fatty_acids ?? {}).map(([id, share]) => [id, text(share)])),
      beside: {
        ...(free_acid_percent === undefined ? {} : { free_acid_percent }),
        ...(unsaponifiable_percent === undefined ? {} : { unsaponifiable_percent }),
        ...(diglyceride_percent === undefined ? {} : { diglyceride_percent }),
      },
      solids: item.solid_points
        ? item.solid_points.map(([at, percent]) => ({
            at: text(toUnit(at, blank.unit)),
            percent: text(percent),
          }))
        : blank.solids,
      molecules: Object.entries(item.composition ?? {})
        .map(([id, share]) => `${id} ${text(share)}`)
        .join("\n"),
    };
  }

  set(part: Partial<Draft>): void {
    this.draft = { ...this.draft, ...part };
    const { line, acids, ...others } = this.draft;
    if (line === null) this.bench.store.kept.saveDraft({ ...others, acids: Object.fromEntries(acids) });
    this.bench.refresh();
    void this.#check();
  }

  clear(): void {
    this.draft = this.#blank();
    this.certificate = "";
    this.unread = [];
    this.isRecipe = false;
    this.tried = false;
    this.told = null;
    this.problems.clear();
    this.bench.store.kept.saveDraft(null);
    this.bench.refresh();
  }

  /** What the draft says, as the contract has it; what of it cannot be read, and what is not there yet. */
  read(): { item: Omit<Item, "percent">; problems: Map<Field, string>; missing: Set<Field> } {
    const { draft } = this;
    const { unit } = draft;
    const problems = new Map<Field, string>();
    const missing = new Set<Field>();
    const lacks = (field: Field, words: string) => {
      problems.set(field, words);
      missing.add(field);
    };
    const own: Own = {};
    const name = harmless(draft.name).trim();
    const taken = this.bench.state.recipe.some(
      (item, at) => at !== draft.line && (item.name ?? item.id) === name,
    );
    if (!name) lacks("name", say("give-a-name"));
    else if (taken) problems.set("name", say("name-taken", { name }));
    const like = draft.way === "like" ? draft.like : draft.behaves;
    if (like) own.like = like;
    // Of a word that is none, the engine says so.
    if (draft.kind) own.class = draft.kind as Class;
    if (draft.melts.trim() && draft.way !== "solids") {
      const melts = parseNumber(draft.melts);
      if (melts === null) problems.set("melts", notNumber(draft.melts));
      else own.melts_at_c = fromUnit(melts, unit);
    }
    if (draft.way === "acids") {
      const { value, problem } = shares([...draft.acids]);
      own.fatty_acids = value;
      Object.assign(own, draft.beside);
      if (draft.spread !== "seed") own.spread = draft.spread as Rule;
      if (problem) problems.set("acids", problem);
      else if (!Object.keys(value).length) lacks("acids", say("give-an-acid"));
    }
    if (draft.way === "solids") {
      own.solid_points = [];
      for (const { at, percent } of draft.solids) {
        if (!percent.trim()) continue;
        const [celsius, share] = [parseNumber(at), parseNumber(percent)];
        if (celsius === null || share === null) {
          problems.set("solids", notNumber(celsius === null ? at : percent));
          break;
        }
        own.solid_points.push([fromUnit(celsius, unit), share]);
      }
      own.solid_points.sort(([a], [b]) => a - b);
      if (own.solid_points.length < 2) lacks("solids", say("give-two"));
    }
    if (draft.way === "molecules") {
      const rows = draft.molecules.split(/[\n;]+/).filter((row) => row.trim());
      const split = rows.map((row) => /^\s*(\S+?)[\s:=]+(\S+)\s*%?\s*$/.exec(row));
      const odd = split.indexOf(null);
      const { value, problem } = shares(
        split.map((match): [string, string] => [match?.[1] ?? "", match?.[2] ?? ""]),
      );
      own.composition = value;
      if (odd >= 0) problems.set("molecules", say("not-a-molecule", { text: rows[odd]?.trim() ?? "" }));
      else if (problem) problems.set("molecules", problem);
      else if (!rows.length) lacks("molecules", say("give-a-molecule"));
    }
    return { item: { name, ...own }, problems, missing };
  }

  /** The sum of what is typed, percent; `null` where the way has none. */
  get sum(): number | null {
    const { item } = this.read();
    const parts = item.fatty_acids ?? item.composition;
    return parts ? Object.values(parts).reduce((sum, part) => sum + part, 0) : null;
  }

  async #check(): Promise<void> {
    const { item, problems, missing } = this.read();
    if ([...problems.keys()].some((field) => field !== "name")) {
      this.bench.quick.drop("own");
      this.told = null;
      [this.problems, this.missing] = [problems, missing];
      this.bench.refresh();
      return;
    }
    try {
      const line = { ...item, name: item.name || "it", percent: 100 };
      this.told = await this.bench.quick.ask("melt", { recipe: [line], at_c: [10, 20, 25, 30, 35] }, "own");
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.told = null;
      if (!(reason instanceof EngineError)) this.bench.report(reason);
      else {
        const { at, message } = reason.failure;
        const field = PLACES.find(([place]) => at.includes(`.${place}`))?.[1] ?? this.draft.way;
        problems.set(field, message);
      }
    }
    [this.problems, this.missing] = [problems, missing];
    this.bench.refresh();
  }

  /** Puts it on the bench, in the place of a line or beside the others, if there is nothing wrong with it; says whether it did. */
  async use(line: number | null): Promise<boolean> {
    this.tried = true;
    await this.#check();
    const { item } = this.read();
    if (this.problems.size || !this.told) return false;
    void this.#remember(item);
    if (this.forLine) {
      this.forLine.put(item);
      this.forLine = null;
    } else if (line === null) add(this.bench.store, { ...item, percent: 0 });
    else exchange(this.bench.store, line, item);
    this.clear();
    return true;
  }

  /** Keeps an own ingredient for other recipes, as the link of a recipe of nothing else. */
  async #remember(item: Omit<Item, "percent">): Promise<void> {
    const state = sent({ ...EXAMPLE, name: null, recipe: [{ ...item, percent: 100 }] });
    try {
      const { fragment } = await this.bench.quick.ask("link", { state }, "remember");
      this.bench.store.kept.keepOwn(item.name ?? "", fragment);
    } catch (reason) {
      this.bench.report(reason);
    }
  }
}

/** What of a kept draft is what it should be: texts, as somebody typed them. */
function draftOf(fields: Record<string, unknown>): Partial<Draft> {
  const text = (value: unknown): value is string => typeof value === "string" && value.length < 10_000;
  const object = (value: unknown): Record<string, unknown> =>
    typeof value === "object" && value !== null ? (value as Record<string, unknown>) : {};
  const draft: Partial<Draft> = {};
  for (const name of ["name", "like", "behaves", "melts", "kind", "spread", "molecules"] as const) {
    const value = fields[name];
    if (text(value)) draft[name] = value;
  }
  const way = WAYS.find((one) => one === fields.way);
  if (way) draft.way = way;
  if (fields.unit === "C" || fields.unit === "F") draft.unit = fields.unit;
  draft.acids = new Map(
    Object.entries(object(fields.acids)).filter((acid): acid is [string, string] => text(acid[1])),
  );
  const { free_acid_percent, unsaponifiable_percent, diglyceride_percent } = object(fields.beside);
  draft.beside = Object.fromEntries(
    Object.entries({ free_acid_percent, unsaponifiable_percent, diglyceride_percent }).filter(
      ([, value]) => typeof value === "number",
    ),
  );
  if (Array.isArray(fields.solids)) {
    draft.solids = fields.solids.slice(0, 100).flatMap((one) => {
      const { at, percent } = object(one);
      return text(at) && text(percent) ? [{ at, percent }] : [];
    });
  }
  return draft;
}

/** A draft in the unit that the reader has chosen since; what is not a number stays as it was typed. */
function inUnit(draft: Draft, unit: TemperatureUnit): Draft {
  if (draft.unit === unit) return draft;
  const anew = (text: string) => {
    const at = parseNumber(text);
    return at === null ? text : typed(toUnit(fromUnit(at, draft.unit), unit), 1);
  };
  return {
    ...draft,
    unit,
    melts: anew(draft.melts),
    solids: draft.solids.map(({ at, percent }) => ({ at: anew(at), percent })),
  };
}
