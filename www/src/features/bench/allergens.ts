// Which allergens an ingredient may bring.

import type { Bench } from "../../bench.js";
import type { Item } from "../../contract.js";

export const ALLERGENS: Record<string, string> = {
  bee: "bee products",
  coconut: "coconut",
  palm: "palm (not an allergen, but some avoid it)",
  peanut: "peanut",
  sesame: "sesame",
  soy: "soy",
  "tree-nut": "tree nuts",
  wheat: "wheat",
  wool: "wool (lanolin)",
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
