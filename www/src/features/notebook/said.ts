// How the notebook's words and figures are said.

import type { Firmness, Format, Measured, SeenSign } from "../../contract.js";
import type { Seen } from "../../notes.js";
import { shown } from "../../numbers.js";
import { say } from "../../words.js";
import type { Notebook } from "./state.js";

/** Nine in ten of what is normal lie within so many standard deviations. */
const NINE_IN_TEN = 1.645;

export const withinNineInTen = (deviation: number): number => NINE_IN_TEN * deviation;

export const SIGN_NAMES: Record<SeenSign, string> = {
  slumped: say("seen-slumped"),
  held: say("seen-held"),
  slipped: say("seen-slipped"),
  clear: say("seen-clear"),
  firmness: say("seen-firmness"),
  "oil-on-top": say("seen-oil-on-top"),
  film: say("seen-film"),
  "melts-away": say("seen-melts-away"),
  solid: say("seen-solid"),
};

export const CLASS_NAMES: Record<Firmness, string> = {
  pourable: say("firmness-pourable"),
  slack: say("firmness-slack"),
  soft: say("firmness-soft"),
  scoopable: say("firmness-scoopable"),
  firm: say("firmness-firm"),
  hard: say("firmness-hard"),
  snapping: say("firmness-snapping"),
};

export const FORMAT_NAMES: Record<Format, string> = {
  pot: say("pot-is-pot"),
  whipped: say("pot-is-whipped"),
  bar: say("pot-is-bar"),
  stick: say("pot-is-stick"),
};

export const MEASURED_NAMES: Record<Measured, string> = {
  kitchen: say("by-kitchen"),
  probe: say("by-probe"),
  "room-guess": say("by-room-guess"),
};

/** What was seen, in a sentence. */
export function lookSaid({ seen, firmness, solid_percent, at_c }: Seen): string {
  if (at_c == null) return SIGN_NAMES[seen];
  switch (seen) {
    case "slumped":
      return say("look-slumped", { at_c });
    case "held":
      return say("look-held", { at_c });
    case "slipped":
      return say("look-slipped", { at_c });
    case "clear":
      return say("look-clear", { at_c });
    case "firmness":
      return say("look-firmness", { class: CLASS_NAMES[firmness ?? "soft"], at_c });
    case "oil-on-top":
      return say("look-oil-on-top", { at_c });
    case "film":
      return say("look-film", { at_c });
    case "melts-away":
      return say("look-melts-away", { at_c });
    case "solid":
      return say("look-solid", { solid_percent: solid_percent ?? 0, at_c });
  }
}

/** What a pot is made of, in a line. */
export function potSaid({ bench }: Notebook, recipe: Seen["recipe"]): string {
  const lines = recipe.map(({ lot, id, percent = 0 }) => ({ name: lot ?? bench.nameOf(id ?? ""), percent }));
  const [one] = lines;
  if (lines.length === 1 && one) return say("pot-alone", { name: one.name });
  return lines.map(({ name, percent }) => `${shown(percent, 1)} % ${name}`).join(", ");
}
