// Numbers as people type and read them.

import { say } from "./words.js";

export type TemperatureUnit = "C" | "F";

/** Regions that measure warmth in Fahrenheit, and those that weigh in ounces (as Unicode's CLDR has them). */
const FAHRENHEIT = ["BS", "BZ", "FM", "KY", "LR", "MH", "PR", "PW", "US"];
const OUNCES = ["LR", "PR", "US"];

/** How people measure where the reader's language is from. */
export function customs(): { fahrenheit: boolean; ounces: boolean } {
  let region = "";
  try {
    region = new Intl.Locale(navigator.language).maximize().region ?? "";
  } catch {
    // A browser that names no language that there is.
  }
  return { fahrenheit: FAHRENHEIT.includes(region), ounces: OUNCES.includes(region) };
}

/** The digit nought of the scripts that numbers are typed in: Arabic, Persian, Devanagari, Bengali, full width. */
const NOUGHTS = ["\u0660", "\u06f0", "\u0966", "\u09e6", "\uff10"].map((nought) => nought.charCodeAt(0));

/** The digit of ours that a digit of another script is. */
function plainDigit(digit: string): string {
  const code = digit.charCodeAt(0);
  const nought = NOUGHTS.find((first) => code >= first && code < first + 10);
  return nought === undefined ? digit : String(code - nought);
}

/** Reads a typed number with a decimal comma or point, in any of those digits; `null` when it is not one. Zero has no sign. */
export function parseNumber(text: string): number | null {
  const plain = text
    .replace(/\p{Nd}/gu, plainDigit)
    // Marks of direction, as Arabic locales write them beside a minus, and what else does not show and is
    // pasted along.
    .replace(
      /[\u00ad\u061c\u180e\u200b-\u200f\u202a-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\u{e0000}-\u{e007f}]/gu,
      "",
    )
    .trim()
    .replace(/[−–]/, "-")
    .replace(/[,\u066b]/, ".")
    .replace(/\s*([%\u066a]|°\s*[CF]?)$/i, "");
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) + 0 : null;
}

const FORMATS = new Map<number, Intl.NumberFormat>();

/** How the reader's locale writes a number with so many decimals. */
function formatOf(digits: number): Intl.NumberFormat {
  const known =
    FORMATS.get(digits) ??
    new Intl.NumberFormat(undefined, { maximumFractionDigits: digits, useGrouping: false });
  FORMATS.set(digits, known);
  return known;
}

/** A number with at most `digits` decimals, as the reader's locale writes it, with no trailing zeros; 10 000 and more by thousands. */
export function shown(value: number, digits = 1): string {
  const text = typed(value, digits).replace("-", "−");
  return Math.abs(value) < 1e4 ? text : text.replace(/\p{Nd}(?=(\p{Nd}{3})+(\P{Nd}|$))/gu, "$&\u202f");
}

/** The same for an input box: no spaces. */
export function typed(value: number, digits = 3): string {
  return formatOf(digits).format(Number(value.toFixed(digits)) + 0);
}

export function toUnit(celsius: number, unit: TemperatureUnit): number {
  return unit === "F" ? celsius * 1.8 + 32 : celsius;
}

export function fromUnit(value: number, unit: TemperatureUnit): number {
  return unit === "F" ? Math.round(((value - 32) / 1.8) * 1000) / 1000 : value;
}

/** `31 °C`, or `87.8 °F`: what somebody gave, as it was given. */
export function degrees(celsius: number, unit: TemperatureUnit, digits = 1): string {
  return `${shown(toUnit(celsius, unit), digits)} °${unit}`;
}

/** As closely as a prediction is worth saying, as the verdict does: to half a °C, or one °F. */
export function foretold(celsius: number, unit: TemperatureUnit): string {
  return unit === "F" ? degrees(celsius, unit, 0) : degrees(Math.round(celsius * 2) / 2, unit);
}

/** A figure and its unit stay on one line. */
export function tied(text: string): string {
  return text.replace(/(\p{Nd}) (°|%|g\b|s\b|h\b|mm\b|mL\b|fl oz\b|oz\b|min\b)/gu, "$1\u00a0$2");
}

/** A typed course: each line an hour and a temperature in the reader's unit. Throws where a line is neither. */
export function hoursAndDegrees(text: string, unit: TemperatureUnit): [number, number][] {
  const lines = text.split(/[\n;]+/).filter((line) => line.trim());
  return lines.map((line): [number, number] => {
    const [hour, at] = line.trim().split(/\s+/).map(parseNumber);
    if (hour == null || at == null) {
      throw new Error(say("not-hour-and-degrees", { line: line.trim() }));
    }
    return [hour, fromUnit(at, unit)];
  });
}
