// What is kept on this device, and how it comes back. Nothing that is read is believed: a recipe is kept as
// the text of its link and comes in through the engine, as every link does; the little else is checked here,
// field by field. What cannot be read is set aside as it is: it is told, and can be saved as a file.

import { device, PLACES, type Place } from "./device.js";
import { type Fields, isFields } from "./fields.js";
import {
  type Aside,
  asideOf,
  freeName,
  type OnBench,
  type Shelved,
  shelvedOf,
  type Work,
  workOf,
} from "./kept-entries.js";
import { benchOfFirst, listOf, ownOfFirst, shelfOfFirst } from "./kept-first-version.js";
import { opened, placeInWords, Unreadable, VERSION } from "./kept-text.js";
import { NO_NOTES, type Notes, notesOf } from "./notes.js";
import { type Preferences, preferencesOf, USUAL, written } from "./preferences.js";
import { say } from "./words.js";

/** Of what was wrong with something, in characters: the engine may quote what it found. */
const LONGEST_WHY = 240;
/** How many links are known as the page's own: more than it writes while a reload is under way. */
const MOST_ADDRESSES = 20;
/** The most own ingredients that are remembered. */
const MOST_OWN = 40;

export class Kept {
  preferences: Preferences = USUAL;
  /** The last one put there first. */
  shelf: Shelved[] = [];
  own: Shelved[] = [];
  aside: Aside[] = [];
  /** Lots and what was seen of pots, as far as their form is right; the engine has not seen them. */
  notebook: Notes = NO_NOTES;
  /** What was on the bench; `null`: nothing was ever kept, or it was set aside. */
  bench: OnBench | null = null;
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

  /** What the first version of the page kept. */
  #takeOver(): void {
    this.#takeFirst("own", (value) => {
      const good = this.#entries("own", ownOfFirst(value), listOf(value));
      return this.#write("own", { ingredients: [...this.own, ...good] });
    });
    this.#takeFirst("shelf", (value) => {
      const good = this.#entries("shelf", shelfOfFirst(value), listOf(value));
      return this.#write("shelf", { recipes: [...this.shelf, ...good] });
    });
    this.#takeFirst("own-draft", (value) => {
      if (!isFields(value)) throw new Unreadable(say("odd-kind"));
      return this.saveDraft(value);
    });
    this.#takeFirst("bench", (value) => {
      const { work, name, preferences } = benchOfFirst(value);
      if (this.bench) return this.shelve(name, work) !== null;
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

  /**
   * What is on the bench or begun goes aside, with the preferences; shelf, own ingredients and notebook stay unless `all` goes,
   * since none of what is begun is to blame.
   */
  clear(why: string, all: boolean): void {
    const kept: Place[] = all ? ["shelf", "own", "notebook"] : [];
    for (const place of ["bench", "preferences", "own-draft", "notebook-draft", ...kept] as const) {
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
  saveBench(bench: OnBench, overwrite = false): "saved" | "denied" | "conflict" {
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
  get elsewhere(): OnBench | null {
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
