// What is on the bench, with undo and redo, kept on the device a moment after each change.

import { device } from "./device.js";
import type { Kept } from "./kept.js";
import type { OnBench, Work } from "./kept-entries.js";
import type { Preferences } from "./preferences.js";
import { EXAMPLE, type State, sent } from "./state.js";

const DEEPEST = 100;
/** How long after a change it is kept on the device, ms. */
const SAVE_AFTER = 150;
/** How soon after one change another of its kind undoes together with it, ms. */
const JOIN_WITHIN = 1200;

/** A press of a finger or the mouse that has not ended yet. */
type Press = object;

/** How a rescued batch is weighed belongs to its recipe: whatever changes that ends it, and undo brings it back. */
function withoutOldRescue(was: State, is: State): State {
  const old = is.rescued !== null && is.rescued === was.rescued && is.recipe !== was.recipe;
  return old ? { ...is, rescued: null } : is;
}

/** A state that undo goes back to. */
interface Past {
  state: State;
  /** Of the change that left it, which press it was part of, and when the last one that joined it came. */
  tag: string;
  press: Press | null;
  at: number;
}

export class Store {
  #state = EXAMPLE;
  #past: Past[] = [];
  #future: State[] = [];
  #press: Press | null = null;
  #joined: State | null = null;
  #listeners: (() => void)[] = [];
  #unsaved = 0;
  /** Which of what was put on the bench as a whole a state came from. */
  readonly #origins = new WeakMap<State, number>();
  #placed = 0;
  /** The link of a state: the text that is kept of it. */
  #linked: { state: State; link: string } | null = null;
  /** Until what was kept has been looked at, nothing is kept in its place. */
  looked = false;
  #persists = false;
  /** Told when keeping it on the device begins to work, and whenever it does not. */
  onsaved = () => {};
  /** Told what could not be kept, since another tab has put something else on the bench. */
  onconflict = (_: Work) => {};
  /** Whether the last save on the device worked; `null` before the first. */
  saved: boolean | null = null;

  constructor(readonly kept: Kept) {
    const ended = () => {
      this.#press = null;
    };
    addEventListener("pointerdown", () => (this.#press = {}), true);
    addEventListener("pointerup", ended, true);
    addEventListener("pointercancel", ended, true);
    addEventListener("pagehide", () => this.#save());
    addEventListener("visibilitychange", () => this.#save());
  }

  get state(): State {
    return this.#state;
  }

  get preferences(): Preferences {
    return this.kept.preferences;
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

  /** Begins with what was on the bench, if anything was: before it there is nothing to undo. */
  begin(state: State | null, link?: string): void {
    this.looked = true;
    if (!state) return;
    this.#state = state;
    if (link !== undefined) this.#linked = { state, link };
  }

  /** Keeps nothing any more. */
  close(): void {
    this.looked = false;
  }

  /** Changes the state. Changes with the same tag undo as one if they are of one press, however slow (a drag), or quick. */
  change(part: Partial<State>, tag = ""): void {
    const last = this.#past.at(-1);
    const [now, press] = [performance.now(), this.#press];
    const goesOn = last && (now - last.at < JOIN_WITHIN || (press !== null && last.press === press));
    if (last && this.#joined === this.#state) {
      last.tag = tag;
    } else if (tag && goesOn && last.tag === tag && this.#future.length === 0) {
      last.at = now;
    } else {
      this.#leave(tag, press, now);
    }
    this.#future = [];
    this.#set({ ...this.#state, ...part });
  }

  /** Puts another state in the place of this one; undo brings this one back. */
  replace(state: State): void {
    this.#leave();
    this.#future = [];
    this.#set(state, ++this.#placed);
  }

  /** Which of what was put on the bench as a whole is there, however it was changed since. */
  get origin(): number {
    return this.#origins.get(this.#state) ?? 0;
  }

  /** Undo comes back to the present state. */
  #leave(tag = "", press: Press | null = null, at = 0): void {
    // What the bench began with was never put there.
    this.#origins.set(this.#state, this.origin);
    this.#past.push({ state: this.#state, tag, press, at });
    if (this.#past.length > DEEPEST) this.#past.shift();
  }

  /** Notes the link that holds a state. */
  note(state: State, link: string): void {
    this.#linked = { state, link };
    this.saveSoon();
  }

  /** The link of the present state, if it is written already. */
  get link(): string | null {
    return this.#linked?.state === this.#state ? this.#linked.link : null;
  }

  undo(): void {
    const last = this.#past.pop();
    if (!last) return;
    this.#future.push(this.#state);
    this.#set(last.state);
  }

  /** The next change undoes together with the last, if nothing comes between: what one thing led to is one step. */
  join(): void {
    this.#joined = this.#state;
  }

  redo(): void {
    const next = this.#future.pop();
    if (!next) return;
    this.#leave();
    this.#set(next);
  }

  prefer(part: Partial<Preferences>): void {
    if (Object.keys(part).length) this.kept.prefer(part);
    this.#set(this.#state);
  }

  /** The recipe on the bench, as it is kept. */
  get work(): Work {
    return this.link === null ? { state: sent(this.#state) } : { link: this.link };
  }

  #set(state: State, placed?: number): void {
    const origin = placed ?? this.#origins.get(state) ?? this.origin;
    this.#state = withoutOldRescue(this.#state, state);
    this.#origins.set(this.#state, origin);
    this.saveSoon();
    for (const listener of this.#listeners) listener();
  }

  /** Not while somebody waits for the curve; but before the page goes. */
  saveSoon(): void {
    this.#unsaved ||= window.setTimeout(() => this.#save(), SAVE_AFTER);
  }

  #save(): void {
    clearTimeout(this.#unsaved);
    if (!this.#unsaved || !this.looked) return;
    this.#unsaved = 0;
    this.save();
  }

  /** Keeps what is on the bench; over what another tab has put there only if it is to. */
  save(overwrite = false): void {
    const before = this.saved;
    const example = this.#state === EXAMPLE;
    // The address may still hold the link of an earlier state: known as such, it is not taken for somebody
    // else's.
    const link = this.#linked ? { link: this.#linked.link } : {};
    const bench: OnBench = { ...link, ...this.work, ...(example ? { example } : {}) };
    const how = this.kept.saveBench(bench, overwrite);
    this.saved = how !== "denied";
    if (how === "conflict") this.onconflict(this.work);
    if (how === "saved" && !example && !this.#persists) {
      // Now there is something to lose.
      this.#persists = true;
      void device.persist();
    }
    if (this.saved !== before || !this.saved) this.onsaved();
  }
}
