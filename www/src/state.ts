// The state of the page: what is on the bench. It is the contract's, except that what is keyed by names which
// people give is a `Map`: a plain object would take an ingredient named `constructor` for something that it
// has already.

import type { Bounds, Item, Limits as SentLimits, State as SentState } from "./contract.js";
import { USUAL_STATE } from "./forms.js";
import workedExample from "./worked-example.json" with { type: "json" };

export interface Limits extends Omit<SentLimits, "bounds" | "prices"> {
  bounds: Map<string, Bounds>;
  prices: Map<string, number>;
}

export interface State extends Omit<SentState, "limits" | "prices"> {
  limits: Limits;
  /** Of a kilogram, in whatever currency, by id or own name. */
  prices: Map<string, number>;
}

/** What the engine answered, as the page holds it. */
export function held({ limits, prices, ...others }: SentState): State {
  return {
    ...others,
    // What is to be seen of a pot is for the notebook, and not of what is on the bench.
    look: null,
    limits: {
      ...limits,
      bounds: new Map(Object.entries(limits.bounds)),
      prices: new Map(Object.entries(limits.prices)),
    },
    prices: new Map(Object.entries(prices)),
  };
}

/** What the page holds, as the engine is asked; `Object.fromEntries` keeps even `__proto__` as a plain key. */
export function sent({ limits, prices, ...others }: State): SentState {
  return {
    ...others,
    limits: sentLimits(limits),
    prices: Object.fromEntries(prices),
  };
}

export function sentLimits(limits: Limits): SentLimits {
  return {
    ...limits,
    bounds: Object.fromEntries(limits.bounds),
    prices: Object.fromEntries(limits.prices),
  };
}

/** A map without one of its keys, or with another value for it. */
export function keyed<T>(map: ReadonlyMap<string, T>, key: string, value: T | null): Map<string, T> {
  const changed = new Map(map);
  if (value === null) changed.delete(key);
  else changed.set(key, value);
  return changed;
}

type Wanted = Pick<State, "recipe" | "format" | "storage_c" | "skin_c" | "firmness" | "on_skin" | "pack">;

/** What stands for what is left out of a state, as the engine has it. */
const USUAL = held(USUAL_STATE);

/**
 * A worked example of our own: whipped shea and oil that goes slack in a warm room. What is asked of it, and the engine's
 * answer, are in a file, so that a first visitor need not wait for the engine to see the verdict.
 */
export const EXAMPLE: State = {
  ...USUAL,
  name: "Whipped shea",
  ...(workedExample.request as Wanted),
};

/** What a rework may add unless the maker says otherwise. */
export const USUAL_PANTRY = [
  "cocoa-butter",
  "kokum-butter",
  "stearic-acid",
  "cetyl-alcohol",
  "beeswax",
  "candelilla-wax",
  // To soften with: what a pantry of hard things lacks.
  "sunflower-oil",
];

/** Whether a line brings what it is made of, rather than being in the catalogue. */
export function isOwn(item: Partial<Item>): boolean {
  return Boolean(
    item.composition ?? item.fatty_acids ?? item.solid_points ?? (item.id ? undefined : item.like),
  );
}

/** What locks, bounds, refusals and prices call a line, as the engine does: of an own make-up its own name before its id. */
export const keyOf = (item: Partial<Item>): string =>
  (isOwn(item) ? (item.name ?? item.id) : (item.id ?? item.name)) ?? "";

/** Whether it is the worked example still, whatever of it is being looked at. */
export function untouched(state: State): boolean {
  const looked = new Set<keyof State>(["picture", "journey"]);
  return (Object.keys(EXAMPLE) as (keyof State)[]).every(
    (key) => looked.has(key) || state[key] === EXAMPLE[key],
  );
}

/** Grams as they are weighed: what is left of a batch. */
export function left({ grams, used_grams }: { grams: number; used_grams: number }): number {
  return Math.round((grams - used_grams) * 1000) / 1000;
}
