// What lies between two states of the bench, in a few words: what undo takes back, and redo does again.

import type { Item } from "./contract.js";
import { keyOf, type State } from "./state.js";
import { say } from "./words.js";

/** More parts than these are told as one. */
const MOST = 3;

/** How lines are called. */
interface Named {
  name(item: Item): string;
}

export function changesTold(bench: Named, from: State, to: State): string {
  const parts = [...lines(bench, from, to), ...climate(from, to), ...others(from, to)];
  if (parts.length === 0) return say("change-none");
  return parts.length > MOST ? say("change-all") : parts.join(", ");
}

/** A line that another recipe has with another percentage, or not at all: then with 0 %. */
export interface ChangedLine {
  item: Item;
  from_percent: number;
  to_percent: number;
  is: "changed" | "removed" | "added";
}

/** The least change that shows, percent. */
const LEAST = 0.005;

export function changedLines(was: Item[], is: Item[]): ChangedLine[] {
  const by = (recipe: Item[]) => new Map(recipe.map((item) => [keyOf(item), item]));
  const [before, after] = [by(was), by(is)];
  const changed: ChangedLine[] = [];
  for (const [key, item] of before) {
    const now = after.get(key);
    const to_percent = now?.percent ?? 0;
    // What differs by less than is ever written has not changed.
    if (!now || Math.abs(to_percent - item.percent) >= LEAST)
      changed.push({ item, from_percent: item.percent, to_percent, is: now ? "changed" : "removed" });
  }
  for (const [key, item] of after) {
    if (!before.has(key)) changed.push({ item, from_percent: 0, to_percent: item.percent, is: "added" });
  }
  return changed;
}

function lines(bench: Named, { recipe: was }: State, { recipe: is }: State): string[] {
  if (was === is) return [];
  const told = changedLines(was, is).map(({ item, is, from_percent, to_percent }) => {
    const name = bench.name(item);
    if (is === "removed") return say("change-line-removed", { name });
    if (is === "added") return say("change-line-added", { name, to_percent });
    return say("change-line", { name, from_percent, to_percent });
  });
  if (told.length > MOST) return [say("change-recipe")];
  return told.length ? told : [say("change-make-up")];
}

function climate({ storage_c: was }: State, { storage_c: is }: State): string[] {
  const told: string[] = [];
  if (was.coldest !== is.coldest) told.push(say("change-coldest", { from_c: was.coldest, to_c: is.coldest }));
  if (was.hottest !== is.hottest) told.push(say("change-hottest", { from_c: was.hottest, to_c: is.hottest }));
  return told;
}

const PARTS: [words: string, fields: (keyof State)[]][] = [
  [say("change-name"), ["name"]],
  [say("change-format"), ["format"]],
  [say("change-skin"), ["skin_c"]],
  [say("change-feel"), ["firmness", "on_skin"]],
  [say("change-pack"), ["pack"]],
  [say("change-asked"), ["made", "other_storage_c", "aim"]],
  [say("change-journey"), ["journey"]],
  [say("change-picture"), ["picture"]],
];

function others(from: State, to: State): string[] {
  const differ = (field: keyof State) => from[field] !== to[field];
  const told = PARTS.filter(([, fields]) => fields.some(differ)).map(([words]) => words);
  // These follow the recipe by themselves.
  if (!differ("recipe")) {
    if (differ("limits")) told.push(say("change-limits"));
    if (differ("prices")) told.push(say("change-price"));
    if (differ("rescued")) told.push(say("change-weighing"));
  }
  return told;
}
