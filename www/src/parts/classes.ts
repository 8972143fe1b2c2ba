// What kinds of ingredients there are, in the order in which they are listed.

import type { Bench } from "../bench.js";
import type { Firmness, Item } from "../contract.js";
import { isOwn } from "../state.js";
import { say } from "../words.js";

export const CLASS_NAMES: Record<string, string> = {
  "hard-butter": say("class-hard-butter"),
  "soft-butter": say("class-soft-butter"),
  "liquid-oil": say("class-liquid-oil"),
  "fatty-acid": say("class-fatty-acid"),
  "fatty-alcohol": say("class-fatty-alcohol"),
  wax: say("class-wax"),
  other: say("class-other"),
};

export function className(bench: Bench, item: Item): string {
  if (isOwn(item)) return say("class-own");
  const known = bench.catalogue.get(item.id ?? "");
  return known ? (CLASS_NAMES[known.class] ?? known.class) : bench.catalogue.size ? say("class-unknown") : "";
}

/** How firm it is, in a word. */
export const FIRMNESS: Record<Firmness, string> = {
  pourable: say("firm-pourable"),
  slack: say("firm-slack"),
  soft: say("firm-soft"),
  scoopable: say("firm-scoopable"),
  firm: say("firm-firm"),
  hard: say("firm-hard"),
  snapping: say("firm-snapping"),
};
