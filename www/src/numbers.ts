// Numbers as people type and read them.

import { say } from "./words.js";

export type TemperatureUnit = "C" | "F";

/** Reads a typed number with a decimal comma or point; `null` when it is not one. */
export function parseNumber(text: string): number | null {
  const plain = text
    .trim()
    .replace(/[−–]/, "-")
    .replace(",", ".")
    .replace(/\s*(%|°\s*[CF]?)$/i, "");
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : null;
}

const separator =
  new Intl.NumberFormat().formatToParts(1.5).find((part) => part.type === "decimal")?.value ?? ".";

/** A number with at most `digits` decimals, no trailing zeros, in the reader's decimal mark; 10 000 and more by thousands. */
export function shown(value: number, digits = 1): string {
  const text = typed(value, digits).replace("-", "−");
  return Math.abs(value) < 1e4 ? text : text.replace(/\d(?=(\d{3})+(\D|$))/g, "$&\u202f");
}

/** The same for an input box: a plain minus sign, no spaces. */
export function typed(value: number, digits = 3): string {
  return String(Number(value.toFixed(digits)) + 0).replace(".", separator);
}

export function toUnit(celsius: number, unit: TemperatureUnit): number {
  return unit === "F" ? celsius * 1.8 + 32 : celsius;
}

export function fromUnit(value: number, unit: TemperatureUnit): number {
  return unit === "F" ? Math.round(((value - 32) / 1.8) * 1000) / 1000 : value;
}

/** `31 °C`, or `88 °F`. */
export function degrees(celsius: number, unit: TemperatureUnit, digits = unit === "F" ? 0 : 1): string {
  return `${shown(toUnit(celsius, unit), digits)} °${unit}`;
}

/** A figure and its unit stay on one line. */
export function tied(text: string): string {
  return text.replace(/(\d) (°|%|g\b|s\b|h\b|mm\b|mL\b|min\b)/g, "$1\u00a0$2");
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
