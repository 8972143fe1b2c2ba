// What kinds of ingredients there are, in the order in which they are listed.

import type { Bench } from "../../bench.js";
import type { Item } from "../../contract.js";

export const CLASS_NAMES: Record<string, string> = {
  "hard-butter": "hard butter",
  "soft-butter": "soft butter",
  "liquid-oil": "liquid oil",
  "fatty-acid": "fatty acid",
  "fatty-alcohol": "fatty alcohol",
  wax: "wax",
  other: "other",
};

/** Whether a line brings what it is made of, rather than being in the catalogue. */
export function isOwn(item: Item): boolean {
  return Boolean(
    item.composition ?? item.fatty_acids ?? item.solid_points ?? (item.id ? undefined : item.like),
  );
}

export function className(bench: Bench, item: Item): string {
  if (isOwn(item)) return "your own";
  const known = bench.catalogue.get(item.id ?? "");
  return known
    ? (CLASS_NAMES[known.class] ?? known.class)
    : bench.catalogue.size
      ? "not in this catalogue"
      : "";
}
