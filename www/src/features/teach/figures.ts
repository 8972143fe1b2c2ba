// The figures that the teaching picture can show of a dose, and how each is said.

import type { Format, Hardener } from "../../contract.js";
import { foretold, shown, type TemperatureUnit, tied } from "../../numbers.js";
import { say } from "../../words.js";
import type { Figure } from "./state.js";

export interface Shown {
  value: Figure;
  label: string;
  name(format: Format): string;
  of(one: Hardener): (number | null)[];
  celsius: boolean;
}

/** What decides comes first. */
export const FIGURES: Shown[] = [
  {
    value: "softens",
    label: say("sheet-softens"),
    name: (format) => say("figure-softens", { format }),
    of: (one) => one.softens_c,
    celsius: true,
  },
  {
    value: "clear",
    label: say("figure-clear"),
    name: () => say("sheet-clear"),
    of: (one) => one.clear_c,
    celsius: true,
  },
  {
    value: "slip",
    label: say("figure-slip"),
    name: () => say("sheet-slip"),
    of: (one) => one.slip_c,
    celsius: true,
  },
  {
    value: "structure",
    label: say("wish-firm"),
    name: () => say("figure-structure"),
    of: (one) => one.structure_percent,
    celsius: false,
  },
  {
    value: "hot",
    label: say("figure-hot"),
    name: () => say("figure-hottest"),
    of: (one) => one.hottest_percent,
    celsius: false,
  },
  {
    value: "skin",
    label: say("skin"),
    name: () => say("figure-skin"),
    of: (one) => one.skin_percent,
    celsius: false,
  },
];

export const shownOf = (figure: Figure): Shown =>
  FIGURES.find((one) => one.value === figure) ?? (FIGURES[0] as Shown);

/** The figure of a dose with its unit, as closely as the verdict says it; `null` where there is none. */
export function figureAt(chosen: Shown, one: Hardener, dose: number, unit: TemperatureUnit): string | null {
  const raw = chosen.of(one)[one.dose_percent.indexOf(dose)];
  if (raw == null) return null;
  return tied(chosen.celsius ? foretold(raw, unit) : `${shown(raw, 0)} %`);
}

/** The same where its column or row has the unit. */
export const bareFigureAt = (...asked: Parameters<typeof figureAt>): string =>
  figureAt(...asked)?.replace(/\s.*$/u, "") ?? "–";
