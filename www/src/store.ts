// The state of the page: what is on the bench, with undo and redo, kept on the device.

import type { Bounds, Limits, State } from "./contract.js";
import type { TemperatureUnit } from "./numbers.js";

/** What belongs to the reader, not to the recipe: it stays on the device and out of links. */
export interface Preferences {
  temperature: TemperatureUnit;
  mass: "g" | "oz";
  /** Grams. */
  batch: number;
  /** Air whipped in, percent of the volume before. */
  overrun: number;
  jar_ml: number;
  /** Prices typed once, by id or own name: for what comes into a recipe later. */
  prices: Record<string, number>;
}

interface Kept {
  version: 1;
  state: State;
  preferences: Preferences;
  /** The address that was written last; what is kept here is at least as new. */
  fragment?: string;
}

const KEY = "meltmargin.bench";
const DEEPEST = 100;
/** How long after a change it is kept on the device, ms. */
const SAVE_AFTER = 150;
/** How soon after one change another of its kind undoes together with it, ms. */
const JOIN_WITHIN = 1200;

/** A worked example of our own: whipped shea and oil that goes slack in a warm room. */
export const EXAMPLE: State = {
  name: "Whipped shea",
  recipe: [
    { id: "shea-butter", percent: 50 },
    { id: "coconut-oil", percent: 20 },
    { id: "sweet-almond-oil", percent: 30 },
  ],
  format: "whipped",
  storage_c: { coldest: 18, hottest: 30 },
  skin_c: 32.5,
  firmness: "scoopable",
  on_skin: "melts",
  limits: {
    wax_percent: 3,
    fatty_acid_percent: 6,
    fatty_alcohol_percent: null,
    powder_percent: null,
    step_percent: 0.5,
    changes: 3,
    locked: [],
    pantry: null,
    bounds: {},
    refuse: [],
    actives: [],
    keep_lead: false,
    use_ceilings: true,
    prices: {},
    any_step: false,
    margin_points: 0,
  },
  aim: "wishes",
  made: null,
  other_storage_c: null,
  picture: null,
  pack: null,
  journey: null,
  prices: {},
};

/** What a rework may add unless the maker says otherwise. */
export const USUAL_PANTRY = [
  "cocoa-butter",
  "kokum-butter",
  "stearic-acid",
  "cetyl-alcohol",
  "beeswax",
  "candelilla-wax",
];

/** Storage that may be denied, full or absent: then the page works on without it. */
export const device = {
  read(key: string): unknown {
    try {
      const text = localStorage.getItem(key);
      return text === null ? null : JSON.parse(text);
    } catch {
      return null;
    }
  },
  write(key: string, value: unknown): boolean {
    try {
      localStorage.setItem(key, JSON.stringify(value));
      return true;
    } catch {
      return false;
    }
  },
};

/** A state kept by an earlier version, with what it did not know yet, and as it is written now. */
export function complete(state: State): State {
  const { as_now, bounds, ...limits } = (state.limits ?? {}) as Partial<Limits> & { as_now?: boolean };
  const two = (one: Bounds | [number, number]): Bounds =>
    Array.isArray(one) ? { min: one[0], max: one[1] } : one;
  return {
    ...EXAMPLE,
    ...(as_now ? { aim: "as-now" } : {}),
    ...state,
    limits: {
      ...EXAMPLE.limits,
      ...limits,
      bounds: Object.fromEntries(Object.entries(bounds ?? {}).map(([key, one]) => [key, two(one)])),
    },
  };
}

/** What earlier versions held as the reader's, and not as the recipe's. */
function heldOnce(preferences: Partial<Preferences> & { pack?: string }): Partial<State> {
  return { pack: preferences?.pack || null, prices: preferences?.prices ?? {} };
}

/** A press of a finger or the mouse that has not ended yet. */
type Press = object;

/** A state that undo goes back to. */
interface Past {
  state: State;
  /** Of the change that left it, which press it was part of, and when the last one that joined it came. */
  tag: string;
  press: Press | null;
  at: number;
}

export class Store {
  #state: State;
  #past: Past[] = [];
  #future: State[] = [];
  #press: Press | null = null;
  #listeners: (() => void)[] = [];
  #unsaved = 0;
  /** Told when keeping it on the device begins to work, or no longer does. */
  onsaved = () => {};
  preferences: Preferences;
  /** Whether the last save on the device worked; `null` before the first. */
  saved: boolean | null = null;
  #fragment = "";

  constructor() {
    const ended = () => {
      this.#press = null;
    };
    addEventListener("pointerdown", () => (this.#press = {}), true);
    addEventListener("pointerup", ended, true);
    addEventListener("pointercancel", ended, true);
    addEventListener("pagehide", () => this.#save());
    addEventListener("visibilitychange", () => this.#save());
    const kept = device.read(KEY) as Kept | null;
    const usable = kept?.version === 1 && Array.isArray(kept.state?.recipe);
    this.#fragment = (usable && kept.fragment) || "";
    this.#state = usable ? complete({ ...heldOnce(kept.preferences), ...kept.state }) : EXAMPLE;
    this.preferences = {
      temperature: "C",
      mass: "g",
      batch: 500,
      overrun: 60,
      jar_ml: 120,
      prices: {},
      ...(usable ? kept.preferences : {}),
    };
  }

  get state(): State {
    return this.#state;
  }

  get canUndo(): boolean {
    return this.#past.length > 0;
  }

  get canRedo(): boolean {
    return this.#future.length > 0;
  }

  listen(listener: () => void): void {
    this.#listeners.push(listener);
  }

  /** Changes the state. Changes with the same tag undo as one if they are of one press, however slow (a drag), or quick. */
  change(part: Partial<State>, tag = ""): void {
    const last = this.#past.at(-1);
    const [now, press] = [performance.now(), this.#press];
    const goesOn = last && (now - last.at < JOIN_WITHIN || (press !== null && last.press === press));
    if (tag && goesOn && last.tag === tag && this.#future.length === 0) {
      last.at = now;
    } else {
      this.#past.push({ state: this.#state, tag, press, at: now });
      if (this.#past.length > DEEPEST) this.#past.shift();
    }
    this.#future = [];
    this.#set({ ...this.#state, ...part });
  }

  /** Whether an address is the page's own of last time, so that there is nothing in it to open. */
  wrote(fragment: string): boolean {
    return fragment !== "" && fragment === this.#fragment;
  }

  /** Notes the address that holds the present state. */
  note(fragment: string): void {
    this.#fragment = fragment;
    this.#saveSoon();
  }

  undo(): void {
    const last = this.#past.pop();
    if (!last) return;
    this.#future.push(this.#state);
    this.#set(last.state);
  }

  redo(): void {
    const next = this.#future.pop();
    if (!next) return;
    this.#past.push({ state: this.#state, tag: "", press: null, at: 0 });
    this.#set(next);
  }

  prefer(part: Partial<Preferences>): void {
    this.preferences = { ...this.preferences, ...part };
    this.#set(this.#state);
  }

  #set(state: State): void {
    this.#state = state;
    this.#saveSoon();
    for (const listener of this.#listeners) listener();
  }

  /** Not while somebody waits for the curve; but before the page goes. */
  #saveSoon(): void {
    this.#unsaved ||= window.setTimeout(() => this.#save(), SAVE_AFTER);
  }

  #save(): void {
    clearTimeout(this.#unsaved);
    if (!this.#unsaved) return;
    this.#unsaved = 0;
    const before = this.saved;
    const kept: Kept = {
      version: 1,
      state: this.#state,
      preferences: this.preferences,
      fragment: this.#fragment,
    };
    this.saved = device.write(KEY, kept);
    if (this.saved !== before) this.onsaved();
  }
}
