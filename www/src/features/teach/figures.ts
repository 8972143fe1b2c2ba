// The figures that the teaching picture can show of a dose.

import type { Hardener } from "../../contract.js";
import { say } from "../../words.js";
import type { Figure } from "./state.js";

export interface Shown {
  value: Figure;
  label: string;
  name: string;
  of(one: Hardener): (number | null)[];
  celsius: boolean;
}

/** What decides comes first. */
export const FIGURES: Shown[] = [
  {
    value: "softens",
    label: say("sheet-softens"),
    name: say("figure-softens"),
    of: (one) => one.softens_c,
    celsius: true,
  },
  {
    value: "clear",
    label: say("figure-clear"),
    name: say("sheet-clear"),
    of: (one) => one.clear_c,
    celsius: true,
  },
  {
    value: "slip",
    label: say("figure-slip"),
    name: say("sheet-slip"),
    of: (one) => one.slip_c,
    celsius: true,
  },
  {
    value: "structure",
    label: say("wish-firm"),
    name: say("figure-structure"),
    of: (one) => one.structure_percent,
    celsius: false,
  },
  {
    value: "hot",
    label: say("figure-hot"),
    name: say("figure-hottest"),
    of: (one) => one.hottest_percent,
    celsius: false,
  },
  {
    value: "skin",
    label: say("skin"),
    name: say("figure-skin"),
    of: (one) => one.skin_percent,
    celsius: false,
  },
];

export const shownOf = (figure: Figure): Shown =>
  FIGURES.find((one) => one.value === figure) ?? (FIGURES[0] as Shown);
