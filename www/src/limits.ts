// What a rework may do, as a hand sets it.

import type { Bounds, Item } from "./contract.js";
import { keyed, keyOf, type Limits, type State } from "./state.js";
import type { Store } from "./store.js";

/** The limits for another recipe: what is said of a line goes with it, as there is no box left to take it back with. */
export function limitsOf({ recipe: old, limits }: State, recipe: Item[]): Limits {
  const there = new Set(recipe.map(keyOf));
  const gone = old.map(keyOf).filter((key) => !there.has(key));
  const stays = (key: string) => !gone.includes(key);
  return {
    ...limits,
    bounds: new Map([...limits.bounds].filter(([key]) => stays(key))),
    locked: limits.locked.filter(stays),
    refuse: limits.refuse.filter(stays),
  };
}

export function setLimits(store: Store, part: Partial<Limits>, tag = ""): void {
  store.change({ limits: { ...store.state.limits, ...part } }, tag);
}

export function toggleLock(store: Store, id: string): void {
  const { locked } = store.state.limits;
  setLimits(store, { locked: locked.includes(id) ? locked.filter((one) => one !== id) : [...locked, id] });
}

/** The least and the most of one line that a rework may set, percent. */
export function setBounds(store: Store, key: string, bounds: Bounds): void {
  const free = bounds.min <= 0 && bounds.max >= 100;
  setLimits(store, { bounds: keyed(store.state.limits.bounds, key, free ? null : bounds) }, `bounds ${key}`);
}
