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

function lines(bench: Named, { recipe: was }: State, { recipe: is }: State): string[] {
  if (was === is) return [];
  const by = (recipe: Item[]) => new Map(recipe.map((item) => [keyOf(item), item]));
  const [before, after] = [by(was), by(is)];
  const told: string[] = [];
  for (const [key, item] of before) {
    const now = after.get(key);
    const name = bench.name(item);
    if (!now) told.push(say("change-line-removed", { name }));
    else if (now.percent !== item.percent)
      told.push(say("change-line", { name, from_percent: item.percent, to_percent: now.percent }));
  }
  for (const [key, item] of after) {
    if (!before.has(key)) told.push(say("change-line-added", { name: bench.name(item) }));
  }
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
  }
  return told;
}
