// What a hand does to the recipe on the bench.

import type { Bench } from "./bench.js";
import type { Item } from "./contract.js";
import { limitsOf } from "./limits.js";
import { pricesOf } from "./prices.js";
import { keyOf } from "./state.js";
import type { Store } from "./store.js";
import { say } from "./words.js";

/** The step of percentages that are worked out rather than chosen. */
export const FINE_PERCENT = 0.01;

/** The sum of a recipe, percent. */
export function total(recipe: Item[]): number {
  const sum = recipe.reduce((total, item) => total + item.percent, 0);
  return Math.round(sum * 1000) / 1000;
}

/** Whether it adds up to 100 % as closely as the engine takes it. */
export function addsUp(recipe: Item[]): boolean {
  return Math.abs(total(recipe) - 100) <= 0.01;
}

export function setPercent(store: Store, at: number, percent: number, tag: string): void {
  const recipe = store.state.recipe.map((item, i) => (i === at ? { ...item, percent } : item));
  store.change({ recipe }, tag);
}

/** Adds a line, of what is missing to 100 %. */
export function add(store: Store, item: Item): void {
  const { recipe: old } = store.state;
  const room = Math.max(0, Math.round((100 - total(old)) * 1000) / 1000);
  const recipe = [...old, { ...item, percent: room }];
  store.change({ recipe, prices: pricesOf(store, recipe) });
}

/** Another make-up for a line; what refers to it by name follows. */
export function exchange(store: Store, at: number, own: Omit<Item, "percent">): void {
  const { recipe, limits, prices } = store.state;
  const old = recipe[at];
  if (!old) return;
  const key = keyOf(old);
  const { locked, bounds, refuse } = limits;
  const renamed = (name: string) => (name === key ? (own.name ?? name) : name);
  store.change({
    recipe: recipe.map((item, i) => (i === at ? { ...own, percent: item.percent } : item)),
    limits: {
      ...limits,
      locked: locked.map(renamed),
      refuse: refuse.map(renamed),
      bounds: new Map([...bounds].map(([name, two]) => [renamed(name), two])),
    },
    prices: new Map([...prices].map(([name, price]) => [renamed(name), price])),
  });
}

export function remove(bench: Bench, at: number): void {
  const { state, store } = bench;
  const gone = state.recipe[at];
  if (!gone) return;
  const recipe = state.recipe.filter((_, i) => i !== at);
  bench.unfolded = -1;
  bench.drafts.clear();
  store.change({ recipe, limits: limitsOf(state, recipe) });
  bench.say({
    text: say("line-removed", { name: bench.name(gone) }),
    tone: "plain",
    actions: [bench.undoing],
  });
}

/** The lines that can give what is too much, or take what is missing: oils first, the largest first. */
export function givers({ state, catalogue }: Bench): { at: number; item: Item; percent: number }[] {
  const missing = 100 - total(state.recipe);
  const isOil = ({ id }: Item) => catalogue.get(id ?? "")?.class === "liquid-oil";
  return state.recipe
    .map((item, at) => ({ at, item, percent: Math.round((item.percent + missing) * 1000) / 1000 }))
    .filter(({ percent }) => percent >= 0 && percent <= 100)
    .sort((a, b) => Number(isOil(b.item)) - Number(isOil(a.item)) || b.item.percent - a.item.percent);
}

/** Brings the sum to 100 % by one line. */
export function even(bench: Bench, at: number): void {
  const giver = givers(bench).find((one) => one.at === at);
  if (!giver) return;
  bench.drafts.clear();
  setPercent(bench.store, at, giver.percent, "");
}

/** Brings the sum to 100 % by all lines, to the hundredth: a small one keeps its decimals. */
export async function scale(bench: Bench): Promise<void> {
  try {
    const { recipe } = bench.state;
    const scaled = await bench.quick.ask("scale", { recipe, step_percent: FINE_PERCENT });
    bench.drafts.clear();
    bench.store.change({ recipe: scaled.recipe });
  } catch (reason) {
    bench.report(reason);
  }
}
