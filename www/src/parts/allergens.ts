// Which allergens an ingredient may bring.

import type { Bench } from "../bench.js";
import type { Item } from "../contract.js";
import { say } from "../words.js";

export const ALLERGENS: Record<string, string> = {
  bee: say("allergen-bee"),
  coconut: say("allergen-coconut"),
  palm: say("allergen-palm"),
  peanut: say("allergen-peanut"),
  sesame: say("allergen-sesame"),
  soy: say("allergen-soy"),
  "tree-nut": say("allergen-tree-nut"),
  wheat: say("allergen-wheat"),
  wool: say("allergen-wool"),
};

/** The allergen groups of a line, an own one's of what it is like; `null` where nothing says what it comes from. */
export function groupsOf(bench: Bench, { id, like }: Item): string[] | null {
  const known = [id, like].flatMap((one) => bench.catalogue.get(one ?? "") ?? []);
  return known.length || !bench.catalogue.size ? [...new Set(known.flatMap((one) => one.allergens))] : null;
}

/** Which ingredient brings which allergen, and of which that is not known. */
export function allergens(
  bench: Bench,
  recipe: Item[],
): { found: { group: string; names: string[] }[]; unknown: string[] } {
  const groups = new Map<string, string[]>();
  const unknown: string[] = [];
  for (const item of recipe.filter(({ percent }) => percent > 0)) {
    const of = groupsOf(bench, item);
    if (!of) unknown.push(bench.name(item));
    for (const group of of ?? []) groups.set(group, [...(groups.get(group) ?? []), bench.name(item)]);
  }
  const found = [...groups].map(([group, names]) => ({ group: ALLERGENS[group] ?? group, names }));
  return { found, unknown };
}
