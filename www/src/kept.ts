// What is kept on this device, and how it comes back. Nothing that is read is believed: a recipe is kept as the text of
// its link and comes in through the engine, as every link does; the little else is checked here, field by field. What
// cannot be read is set aside as it is: it is told, and can be saved as a file.

import { device, PLACES, type Place } from "./device.js";
import { type Fields, isFields } from "./fields.js";
import { NO_NOTES, type Notes, notesOf } from "./notes.js";
import { customs, type TemperatureUnit } from "./numbers.js";
import { FLUID_OUNCE_ML, OUNCE_G, say } from "./words.js";

/** What belongs to the reader, not to the recipe: it stays on the device and out of links. */
export interface Preferences {
  temperature: TemperatureUnit;
  /** With ounces go fluid ounces. */
  mass: "g" | "oz";
  /** Whether a batch is as heavy as `batch`, or fills so many jars. */
  by: "weight" | "jars";
  /** Grams. */
  batch: number;
  jars: number;
  /** What stays in the bowl, percent of a batch. */
  lost: number;
  /** Air whipped in, percent of the volume before. */
  overrun: number;
  jar_ml: number;
  /** Prices typed once, by id or own name: for what comes into a recipe later. */
  prices: Map<string, number>;
}

/** A recipe with all that is asked of it. */
export interface Work {
  /** The text of its link. */
  link?: string;
  /** Where the page went before the link was written: the state itself, which is newer. It becomes a link on its way in. */
  state?: unknown;
}

/** What was on the bench. */
export interface Bench extends Work {
  /** Whether it is the worked example, which the page brings along. */
  example?: boolean;
}

/** Kept by name: a recipe on the shelf, or an own ingredient as a recipe of one line. */
export interface Shelved extends Work {
  name: string;
  /** When it was put there, ms since 1970; 0: not known. */
  at: number;
}

/** What could not be read. */
export interface Aside {
  place: string;
  text: string;
  /** What was wrong with it. */
  why: string;
}

/** Where people measure so, until they say otherwise. */
const { fahrenheit, ounces } = customs();

const USUAL: Preferences = {
  temperature: fahrenheit ? "F" : "C",
  mass: ounces ? "oz" : "g",
  by: "weight",
  batch: ounces ? 16 * OUNCE_G : 500,
  jars: 20,
  lost: 0,
  overrun: 60,
  jar_ml: ounces ? 4 * FLUID_OUNCE_ML : 120,
  prices: new Map(),
};

const VERSION = 2;
const LONGEST_NAME = 120;
/** Of what was wrong with something, in characters: the engine may quote what it found. */
const LONGEST_WHY = 240;
/** How many links are known as the page's own: more than it writes while a reload is under way. */
const MOST_ADDRESSES = 20;
/** The most own ingredients that are remembered. */
const MOST_OWN = 40;

const within = (value: unknown, least: number, most: number): value is number =>
  typeof value === "number" && value >= least && value <= most;

const isName = (value: unknown): value is string =>
  typeof value === "string" && value.trim() !== "" && value.length <= LONGEST_NAME;

/** Its recipe, if this is the form of one; whether it can be opened, the engine says. */
export function workOf({ link, state }: Fields): Work | null {
  if (typeof link !== "string" && !isFields(state)) return null;
  return {
    ...(typeof link === "string" ? { link } : {}),
    ...(isFields(state) ? { state } : {}),
  };
}

export function shelvedOf(value: unknown): Shelved | null {
  if (!isFields(value) || !isName(value.name)) return null;
  const work = workOf(value);
  return work && { ...work, name: value.name, at: within(value.at, 0, 1e14) ? value.at : 0 };
}

/** What can be read of some preferences; `odd` names the others. */
export function preferencesOf(value: Fields): { preferences: Preferences; odd: string[] } {
  const preferences = { ...USUAL };
  const odd: string[] = [];
  const take = (name: keyof Preferences, good: boolean) => {
    if (good) Object.assign(preferences, { [name]: value[name] });
    else if (value[name] !== undefined) odd.push(name);
  };
  take("temperature", value.temperature === "C" || value.temperature === "F");
  take("mass", value.mass === "g" || value.mass === "oz");
  take("by", value.by === "weight" || value.by === "jars");
  take("batch", within(value.batch, 0.001, 1e6));
  take("jars", within(value.jars, 1, 10_000));
  take("lost", within(value.lost, 0, 50));
  take("overrun", within(value.overrun, 0, 300));
  take("jar_ml", within(value.jar_ml, 1, 5000));
  const prices = isFields(value.prices) ? Object.entries(value.prices) : [];
  const good = prices.filter(
    (price): price is [string, number] => isName(price[0]) && within(price[1], 0, 1e6),
  );
  preferences.prices = new Map(good);
  if (good.length < prices.length || (value.prices !== undefined && !isFields(value.prices)))
    odd.push("prices");
  return { preferences, odd };
}

const written = (preferences: Preferences): Fields => ({
  ...preferences,
  prices: Object.fromEntries(preferences.prices),
});

/** A text that is not what belongs where it was found. */
class Unreadable extends Error {}

/** What a place holds, by the version that wrote it. */
function opened(text: string): Fields {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    throw new Unreadable(say("odd-garbled"));
  }
  if (!isFields(value)) throw new Unreadable(say("odd-kind"));
  if (value.version === VERSION) return value;
  throw new Unreadable(within(value.version, VERSION + 1, 1e9) ? say("odd-later") : say("odd-version"));
}

export class Kept {
  preferences: Preferences = USUAL;
  /** The last one put there first. */
  shelf: Shelved[] = [];
  own: Shelved[] = [];
  aside: Aside[] = [];
  /** Lots and what was seen of pots, as far as their form is right; the engine has not seen them. */
  notebook: Notes = NO_NOTES;
  /** What was on the bench; `null`: nothing was ever kept, or it was set aside. */
  bench: Bench | null = null;
  /** What of all this could not be read, in words. */
  odd: string[] = [];
  /** What is begun of an own ingredient, as it was typed. */
  draft: Fields | null = null;
  /** What is begun of an entry of the notebook. */
  noteDraft: Fields | null = null;
  /** Told when another tab keeps something else. */
  onheard = (_: Place) => {};
  /** Told when the notebook is another. */
  onnotes = () => {};
  /** What this tab last read or wrote of the bench: if another text is there, another tab was at it. */
  #seen: string | null = null;
  /** The same of what is begun of an entry of the notebook. */
  #seenDraft: string | null = null;
  /** The links that the address of this tab has held, the last first. */
  #addresses = (device.noted("addresses") ?? "").split(" ").filter(Boolean);

  constructor() {
    this.#read("aside");
    for (const place of PLACES) if (place !== "aside") this.#read(place);
    this.follow();
    this.#readOwnNoteDraft();
    this.#takeOver();
    device.hear((place) => {
      this.#read(place);
      this.onheard(place);
    });
  }

  /** Reads a place anew. What is odd in it goes aside. */
  #read(place: Place): void {
    const text = device.read(place);
    if (place === "bench") this.bench = null;
    if (place === "own-draft") this.draft = null;
    if (place === "notebook-draft") this.noteDraft = null;
    if (place === "notebook") this.notebook = NO_NOTES;
    try {
      const fields = text === null ? null : opened(text);
      if (place === "preferences") this.#readPreferences(fields, text);
      else if (place === "shelf") this.shelf = this.#list(place, fields, "recipes", shelvedOf);
      else if (place === "own") this.own = this.#list(place, fields, "ingredients", shelvedOf);
      else if (place === "aside") this.aside = this.#list(place, fields, "texts", asideOf);
      else if (place === "own-draft") this.draft = fields;
      else if (place === "notebook-draft") this.noteDraft = fields;
      else if (place === "notebook") this.#readNotes(fields);
      else if (fields) {
        this.bench = fields.example === true ? { ...workOf(fields), example: true } : workOf(fields);
        if (!this.bench) throw new Unreadable(say("odd-no-recipe"));
      }
    } catch (reason) {
      if (!(reason instanceof Unreadable)) throw reason;
      this.setAside(place, text ?? "", reason.message);
      device.remove(place);
    }
  }

  #readPreferences(fields: Fields | null, text: string | null): void {
    const { preferences, odd } = preferencesOf(fields ?? {});
    this.preferences = preferences;
    if (odd.length === 0) return;
    this.setAside("preferences", text ?? "", say("odd-preferences", { names: odd.join(", ") }));
    this.#write("preferences", written(preferences));
  }

  #readNotes(fields: Fields | null): void {
    const { notes, odd } = notesOf(fields ?? {});
    this.notebook = notes;
    for (const text of odd) this.setAside("notebook", text, say("odd-entry"));
    if (odd.length) this.replaceNotes(notes);
  }

  /** What was begun here while another tab had begun another comes back here; else what is on the device. */
  #readOwnNoteDraft(): void {
    const noted = device.noted("notebook-draft");
    if (noted === null) {
      this.#seenDraft = device.read("notebook-draft");
      return;
    }
    try {
      const own: unknown = JSON.parse(noted);
      if (isFields(own)) this.noteDraft = own;
    } catch {
      device.forget("notebook-draft");
    }
  }

  /** The entries of a list that are what they should be; the others go aside. */
  #list<T>(place: Place, fields: Fields | null, name: string, read: (value: unknown) => T | null): T[] {
    if (!fields) return [];
    const values = fields[name];
    if (!Array.isArray(values)) throw new Unreadable(say("odd-no-list"));
    const good: T[] = [];
    for (const value of values) {
      const one = read(value);
      if (one === null) this.setAside(place, JSON.stringify(value), say("odd-entry"));
      else good.push(one);
    }
    if (good.length < values.length) this.#write(place, { [name]: good });
    return good;
  }

  /** What the first version of the page kept: states, which become links as soon as the engine has seen them. */
  #takeOver(): void {
    this.#takeFirst("own", (value) => {
      const own = listOf(value).map((item) => ({
        name: isFields(item) ? item.name : "",
        state: { ...ONE_LINE, recipe: [isFields(item) ? { ...item, percent: 100 } : item] },
      }));
      const good = this.#entries("own", own, listOf(value));
      return this.#write("own", { ingredients: [...this.own, ...good] });
    });
    this.#takeFirst("shelf", (value) => {
      const recipes = listOf(value).map((one) =>
        isFields(one) && isFields(one.state) ? { ...one, state: stateOfFirst(one.state) } : one,
      );
      const good = this.#entries("shelf", recipes, listOf(value));
      return this.#write("shelf", { recipes: [...this.shelf, ...good] });
    });
    this.#takeFirst("own-draft", (value) => {
      if (!isFields(value)) throw new Unreadable(say("odd-kind"));
      return this.saveDraft(value);
    });
    this.#takeFirst("bench", (value) => {
      if (!isFields(value) || value.version !== 1 || !isFields(value.state))
        throw new Unreadable(say("odd-no-recipe"));
      const preferences = isFields(value.preferences) ? value.preferences : {};
      // Pack and prices were once the reader's, and not the recipe's.
      const state = {
        pack: preferences.pack || null,
        prices: preferences.prices ?? {},
        ...stateOfFirst(value.state),
      };
      const work: Work = {
        state,
        ...(typeof value.fragment === "string" && value.fragment ? { link: value.fragment } : {}),
      };
      const { name } = value.state;
      if (this.bench) return this.shelve(isName(name) ? name : say("unnamed"), work) !== null;
      this.bench = work;
      if (device.read("preferences") === null) {
        const { preferences: good, odd } = preferencesOf(preferences);
        if (odd.length)
          this.setAside(
            "preferences",
            JSON.stringify(preferences),
            say("odd-preferences", { names: odd.join(", ") }),
          );
        this.#write("preferences", written(good));
      }
      return this.saveBench(work) === "saved";
    });
  }

  /** Takes over what the first version kept in a place; it goes from there only once it is kept anew. */
  #takeFirst(place: Place, take: (value: unknown) => boolean): void {
    const text = device.readFirst(place);
    if (text === null) return;
    try {
      let value: unknown;
      try {
        value = JSON.parse(text);
      } catch {
        throw new Unreadable(say("odd-garbled"));
      }
      if (value === null || take(value)) device.removeFirst(place);
    } catch (reason) {
      if (!(reason instanceof Unreadable)) throw reason;
      this.setAside(place, text, reason.message);
      device.removeFirst(place);
    }
  }

  #entries(place: Place, values: unknown[], texts: unknown[]): Shelved[] {
    return values.flatMap((value, at) => {
      const one = shelvedOf(value);
      if (!one) this.setAside(place, JSON.stringify(texts[at]), say("odd-entry"));
      return one ?? [];
    });
  }

  /** Whether it is kept; either way the page goes on with it. */
  #write(place: Place, value: Fields): boolean {
    if (place === "shelf") this.shelf = value.recipes as Shelved[];
    if (place === "own") this.own = value.ingredients as Shelved[];
    if (place === "preferences") this.preferences = preferencesOf(value).preferences;
    if (place === "notebook") this.notebook = value as unknown as Notes;
    if (place === "aside") this.aside = value.texts as Aside[];
    return device.write(place, JSON.stringify({ version: VERSION, ...value }));
  }

  setAside(place: string, text: string, reason: string): void {
    const why = reason.length > LONGEST_WHY ? `${reason.slice(0, LONGEST_WHY)}…` : reason;
    this.odd.push(say("could-not-be-read", { what: placeInWords(place), why }));
    if (this.aside.some((one) => one.text === text)) return;
    this.#write("aside", { texts: [...this.aside, { place, text, why }] });
  }

  addAside(more: Aside[]): void {
    const unknown = more.filter(({ text }) => !this.aside.some((one) => one.text === text));
    if (unknown.length) this.#write("aside", { texts: [...this.aside, ...unknown] });
  }

  /** Whatever is drawn of what is kept goes aside, but for the shelf and the own ingredients. */
  clearBench(why: string): void {
    for (const place of ["bench", "preferences", "own-draft"] as const) {
      const text = device.read(place);
      if (text !== null) this.setAside(place, text, why);
      device.remove(place);
    }
  }

  throwAway(aside: Aside): void {
    this.#read("aside");
    this.#write("aside", { texts: this.aside.filter((one) => one.text !== aside.text) });
  }

  /** Keeps what is on the bench, unless another tab has put something else there since this one looked. */
  saveBench(bench: Bench, overwrite = false): "saved" | "denied" | "conflict" {
    const text = JSON.stringify({ version: VERSION, ...bench });
    const there = device.read("bench");
    if (there !== this.#seen && there !== text && there !== null && !overwrite) return "conflict";
    if (!device.write("bench", text)) return "denied";
    this.#seen = text;
    device.note("bench", text);
    return "saved";
  }

  /** Notes a link that the page writes into the address. */
  noteAddress(link: string): void {
    this.#addresses = [link, ...this.#addresses.filter((one) => one !== link)].slice(0, MOST_ADDRESSES);
    device.note("addresses", this.#addresses.join(" "));
  }

  /**
   * Whether a link is from the address of this tab, and what is on the bench was put there by this tab since. A reload goes to
   * the address of the moment when it was asked for, while the old page works on until the new one is here: what that keeps
   * and writes until then is newer than the address that is loaded, which is nobody's link.
   */
  isOwnOfBefore(link: string): boolean {
    return this.#addresses.includes(link) && this.#seen !== null && this.#seen === device.noted("bench");
  }

  /** What another tab has put on the bench since this one looked, where there is such. */
  get elsewhere(): Bench | null {
    if (device.read("bench") === this.#seen) return null;
    this.#read("bench");
    return this.bench;
  }

  /** This tab goes on from what is on the bench now. */
  follow(): void {
    this.#seen = device.read("bench");
  }

  prefer(part: Partial<Preferences>): boolean {
    this.#read("preferences");
    return this.#write("preferences", written({ ...this.preferences, ...part }));
  }

  /** Puts a recipe on the shelf by its name, in the place of one that is called so. */
  keep(name: string, work: Work): boolean {
    this.#read("shelf");
    const others = this.shelf.filter((one) => one.name !== name);
    return this.#write("shelf", { recipes: [{ ...work, name, at: Date.now() }, ...others] });
  }

  /** Puts a recipe on the shelf beside all that is there; says by what name, or `null` where it is not kept. */
  shelve(name: string, work: Work): string | null {
    this.#read("shelf");
    const same = this.shelf.find((one) => one.link !== undefined && one.link === work.link && !work.state);
    if (same) return same.name;
    const free = freeName(name, this.shelf);
    return this.keep(free, work) ? free : null;
  }

  drop(name: string): boolean {
    this.#read("shelf");
    return this.#write("shelf", { recipes: this.shelf.filter((one) => one.name !== name) });
  }

  /** The shelf, or the own ingredients, as they are to be. */
  replace(place: "shelf" | "own", entries: Shelved[]): boolean {
    return this.#write(place, { [place === "shelf" ? "recipes" : "ingredients"]: entries });
  }

  keepOwn(name: string, link: string): boolean {
    this.#read("own");
    const others = this.own.filter((one) => one.name !== name);
    return this.replace("own", [{ name, link, at: Date.now() }, ...others].slice(0, MOST_OWN));
  }

  saveDraft(draft: Fields | null): boolean {
    this.draft = draft;
    if (draft) return this.#write("own-draft", draft);
    device.remove("own-draft");
    return true;
  }

  /** Changes the notebook as it is on the device now: what another tab has written since stays. */
  changeNotes(change: (notes: Notes) => Notes): boolean {
    // Where nothing is kept, what this tab holds is all there is.
    if (device.read("notebook") !== null) this.#read("notebook");
    return this.replaceNotes(change(this.notebook));
  }

  replaceNotes(notes: Notes): boolean {
    const kept = this.#write("notebook", { ...notes });
    this.onnotes();
    return kept;
  }

  /** Keeps what is begun of an entry, unless another tab has begun one since this one looked: that stays, and this is noted for this tab. */
  saveNoteDraft(draft: Fields | null, overwrite = false): "done" | "conflict" {
    const there = device.read("notebook-draft");
    if (there !== null && there !== this.#seenDraft && !overwrite) {
      if (!draft) device.forget("notebook-draft");
      else device.note("notebook-draft", JSON.stringify(draft));
      return draft ? "conflict" : "done";
    }
    device.forget("notebook-draft");
    this.noteDraft = draft;
    if (draft) this.#write("notebook-draft", draft);
    else device.remove("notebook-draft");
    this.#seenDraft = device.read("notebook-draft");
    return "done";
  }

  /** What another tab has begun of an entry; this tab goes on from there. */
  takeNoteDraft(): Fields | null {
    device.forget("notebook-draft");
    this.#read("notebook-draft");
    this.#seenDraft = device.read("notebook-draft");
    return this.noteDraft;
  }

  /** Everything that is kept, as one file holds it. */
  get everything(): Fields {
    const there = device.read("bench");
    let bench: unknown = there;
    try {
      bench = there === null ? null : opened(there);
    } catch {
      // As it is: whoever opens the file is told.
    }
    return {
      bench,
      shelf: this.shelf,
      own: this.own,
      preferences: written(this.preferences),
      notebook: this.notebook,
      aside: this.aside,
    };
  }
}

const ONE_LINE = { format: "pot", storage_c: { coldest: 18, hottest: 25 }, skin_c: 32.5 };

const NAMES = new Map<string, string>([
  ["bench", say("kept-bench")],
  ["shelf", say("kept-shelf")],
  ["own", say("kept-own")],
  ["own-draft", say("kept-draft")],
  ["preferences", say("kept-settings")],
  ["notebook", say("kept-notebook")],
  ["notebook-draft", say("kept-note-draft")],
  ["aside", say("kept-aside")],
]);

/** What belongs in a place, as the reader calls it. */
export const placeInWords = (place: string): string => NAMES.get(place) ?? say("kept-something");

/** A state as the first version wrote it, in the words of today. */
function stateOfFirst(state: Fields): Fields {
  if (!isFields(state.limits)) return state;
  const { as_now, bounds, ...limits } = state.limits;
  const two = (one: unknown) => (Array.isArray(one) ? { min: one[0], max: one[1] } : one);
  return {
    ...(as_now === true ? { aim: "as-now" } : {}),
    ...state,
    limits: {
      ...limits,
      ...(isFields(bounds)
        ? { bounds: Object.fromEntries(Object.entries(bounds).map(([key, one]) => [key, two(one)])) }
        : bounds === undefined
          ? {}
          : { bounds }),
    },
  };
}

export function asideOf(value: unknown): Aside | null {
  if (!isFields(value) || typeof value.text !== "string") return null;
  const word = (one: unknown) => (typeof one === "string" ? one : "");
  return { place: word(value.place), text: value.text, why: word(value.why) };
}

function listOf(value: unknown): unknown[] {
  if (!Array.isArray(value)) throw new Unreadable(say("odd-no-list"));
  return value;
}

/** The name, or the first of “name (2)”, “name (3)”, … that no other has. */
export function freeName(name: string, others: { name: string }[]): string {
  const taken = new Set(others.map((one) => one.name));
  let free = name;
  for (let count = 2; taken.has(free); count++) free = `${name} (${count})`;
  return free;
}
