// How things are said. The engine says what it found as data, the page says what a button does by the name of
// a message; the words of both stand in `words/en.ftl`, and this is what reads them, for one reader's units
// and marks.

import {
  FluentBundle,
  type FluentFunction,
  FluentNumber,
  FluentResource,
  FluentType,
  type FluentValue,
  type FluentVariable,
} from "@fluent/bundle";
import type { Kinds, Messages } from "../generated/messages.js";
import english from "../words/en.ftl";

/** Whom it is said to. */
export interface Reader {
  temperature: "C" | "F";
  mass: "g" | "oz";
  /** What an ingredient, or a line of the reader's own, is called. */
  nameOf(id: string): string;
}

const LANGUAGE = "en";
const reader: Reader = { temperature: "C", mass: "g", nameOf: (id) => id };

/** From now on, things are said to this reader. */
export function sayTo(who: Partial<Reader>): void {
  Object.assign(reader, who);
}

/** What a message needs, or several of which one will be said. */
type Needs<I extends keyof Messages> = (I extends unknown ? (needs: Messages[I]) => void : never) extends (
  needs: infer N,
) => void
  ? N
  : never;

/** Says a message of the page's own; its name stands whole in the source, so that it can be searched for. */
export function say<I extends keyof Messages>(
  id: I,
  ...[given]: keyof Needs<I> extends never ? [] : [given: Needs<I>]
): string {
  return said(id, given ?? {});
}

/** What the engine found about a subject: its kind, and the figures that a sentence about it needs. */
export interface Finding<S extends keyof Kinds> {
  kind: Kinds[S];
}

export function sayFinding<S extends keyof Kinds>(subject: S, finding: Finding<S>): string {
  const { kind, ...figures } = finding;
  return said(`${subject}-${kind}`, subject === "miss" ? apart(figures) : figures);
}

/** What is missed by less than its last decimal is rounded away from what was wanted: 9.97 % is not "10 %, at least 10 %". */
function apart(figures: object): object {
  const { found_percent, low_percent, high_percent } = figures as Partial<Record<string, number>>;
  if (found_percent === undefined) return figures;
  const tenths = (percent: number) => Math.round(10 * percent);
  const alike = (limit: number | undefined) =>
    limit !== undefined && found_percent !== limit && tenths(found_percent) === tenths(limit);
  const short = alike(low_percent) && found_percent < (low_percent ?? 0);
  const over = alike(high_percent) && found_percent > (high_percent ?? 0);
  if (!short && !over) return figures;
  const shown = short ? Math.floor(10 * found_percent) : Math.ceil(10 * found_percent);
  // Of a figure that is a tenth to within rounding, the next.
  const apart = shown === tenths(found_percent) ? shown + (short ? -1 : 1) : shown;
  return { ...figures, found_percent: apart / 10 };
}

/** Several, one after the other. */
export function sayFindings<S extends keyof Kinds>(subject: S, findings: readonly Finding<S>[]): string {
  return findings.map((finding) => sayFinding(subject, finding)).join(" ");
}

/** A number with at most so many decimals, as the reader's locale writes it. */
export function written(value: number, digits: number): string {
  const format =
    FORMATS.get(digits) ??
    new Intl.NumberFormat(undefined, {
      maximumFractionDigits: digits,
      signDisplay: "negative",
      useGrouping: "min2",
    });
  FORMATS.set(digits, format);
  return format.format(value).replace("-", "−");
}
/** Making one takes as long as writing a hundred numbers. */
const FORMATS = new Map<number, Intl.NumberFormat>();

/** Grams in an avoirdupois ounce (exact by definition). */
export const OUNCE_G = 28.349523125;

/** Millilitres in a US fluid ounce (exact by definition). */
export const FLUID_OUNCE_ML = 29.5735295625;

/** Millimetres in an inch (exact by definition). */
const INCH_MM = 25.4;

/** Grams in an avoirdupois pound. */
export const POUND_G = 16 * OUNCE_G;

/**
 * A name without characters that do not show: controls, what turns the direction of writing, spaces of no width. The engine
 * refuses names with the same ones; they come along unseen with what is pasted.
 */
export function harmless(name: string): string {
  return name.replace(
    /[\p{Cc}\u00ad\u061c\u180e\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\u{e0000}-\u{e007f}]/gu,
    "",
  );
}

const LIST = new Intl.ListFormat(LANGUAGE, { type: "conjunction" });

class List extends FluentType<readonly string[]> {
  override toString(): string {
    return LIST.format(this.value.map(isolated));
  }
}

/**
 * Only names that run from right to left are kept apart from what stands around them. Marks around every figure, as the
 * library would set them, end up in whatever is copied, printed or searched.
 */
function isolated(text: string): string {
  return RIGHT_TO_LEFT.test(text) ? `\u2068${text}\u2069` : text;
}
/** Hebrew, Arabic and their neighbours (Unicode's blocks of right-to-left letters). */
const RIGHT_TO_LEFT =
  /[\u0590-\u08ff\u200f\ufb1d-\ufdff\ufe70-\ufeff\u{10800}-\u{10fff}\u{1e800}-\u{1efff}]/u;

/** What an ingredient is called within a sentence: the catalogue's names begin small there, the reader's own stay as they are. */
function inSentence(id: string): string {
  const name = reader.nameOf(id);
  const begins = name !== id && /^\p{Lu}\p{Ll}/u.test(name) && !OF_PLACES.test(name);
  return begins ? name.charAt(0).toLowerCase() + name.slice(1) : name;
}
const OF_PLACES = /^(Abyssinian|Brazil|Japan) /;

type Named = Record<string, FluentValue>;

function numberOf(value: FluentValue | undefined): number {
  if (value instanceof FluentNumber) return value.value;
  throw new TypeError(`${value} is no number`);
}

function digitsOf({ digits }: Named, usual: number): number {
  return digits === undefined ? usual : numberOf(digits);
}

/** To `digits` decimals where the message says so, else as closely as a prediction is worth saying. */
function degrees(figure: number, named: Named): string {
  const { temperature } = reader;
  const toHalf = named.digits === undefined && temperature === "C";
  return written(toHalf ? Math.round(2 * figure) / 2 : figure, digitsOf(named, toHalf ? 1 : 0));
}

/** A time in the unit that it is told in. */
function time(seconds: number): string {
  const [minutes, hours] = [seconds / 60, seconds / 3600];
  if (seconds < 99.5)
    return say("time-seconds", { count: seconds > 0 ? Math.max(1, Math.round(seconds)) : 0 });
  if (minutes < 99.5) return say("time-minutes", { count: Math.round(minutes) });
  // Rounded as it is written, so that 1.04 is one.
  const tenth = (count: number) => ({ count: Math.round(10 * count) / 10 });
  return hours < 48 ? say("time-hours", tenth(hours)) : say("time-days", tenth(hours / 24));
}

/** A number and its unit stay on one line. */
const withUnit = (number: string, unit: string) => `${number}\u00a0${unit}`;

const FUNCTIONS: Record<string, FluentFunction> = {
  TEMP: ([celsius], named) => {
    const { temperature } = reader;
    const figure = numberOf(celsius);
    const number = degrees(temperature === "F" ? figure * 1.8 + 32 : figure, named);
    // The first of two that share a unit.
    return named.unit === "none" ? number : withUnit(number, `°${temperature}`);
  },
  TEMPDIFF: ([kelvin], named) => {
    const { temperature } = reader;
    const figure = numberOf(kelvin);
    return withUnit(degrees(temperature === "F" ? figure * 1.8 : figure, named), `°${temperature}`);
  },
  MASS: ([grams], named) => {
    const ounces = reader.mass === "oz";
    const figure = numberOf(grams);
    return withUnit(
      written(ounces ? figure / OUNCE_G : figure, digitsOf(named, ounces ? 2 : 1)),
      reader.mass,
    );
  },
  VOLUME: ([millilitres]) => {
    const figure = numberOf(millilitres);
    return reader.mass === "oz"
      ? withUnit(written(figure / FLUID_OUNCE_ML, 1), "fl\u00a0oz")
      : withUnit(written(figure, 1), "mL");
  },
  LENGTH: ([millimetres], named) => {
    const figure = numberOf(millimetres);
    const inches = reader.mass === "oz";
    // As closely as 30 mm or 0.5 mm says it.
    const number = inches
      ? written(Number((figure / INCH_MM).toPrecision(figure < INCH_MM ? 1 : 2)), 4)
      : written(figure, 1);
    return named.unit === "none" ? number : withUnit(number, inches ? "in" : "mm");
  },
  PERCENT: ([percent], named) => {
    const number = written(numberOf(percent), digitsOf(named, 0));
    return named.unit === "none" ? number : withUnit(number, "%");
  },
  SECONDS: ([seconds]) => time(numberOf(seconds)),
  HOURS: ([hours]) => time(3600 * numberOf(hours)),
  NUMBER: ([number], named) => written(numberOf(number), digitsOf(named, 0)),
  WORDS: ([word], { of }) => said(`${of}-${word}`, {}),
  TEXT: ([typed]) => isolated(String(typed)),
  NAME: ([id]) => isolated(inSentence(String(id))),
  NAMES: ([ids]) => new List(ids instanceof List ? ids.value.map(inSentence) : []),
};

const bundle = new FluentBundle(LANGUAGE, { functions: FUNCTIONS, useIsolating: false });
for (const fault of bundle.addResource(new FluentResource(english))) console.error(fault);

/** What stands for a figure; a finding within a finding is said by the name of its figure. */
function variable(name: string, value: unknown): FluentVariable {
  if (Array.isArray(value)) return new List(value);
  if (typeof value === "object" && value && "kind" in value) {
    const { kind, ...figures } = value;
    return said(`${name}-${kind}`, figures);
  }
  return value as FluentVariable;
}

function said(id: string, given: object): string {
  const message = bundle.getMessage(id);
  if (!message?.value) {
    console.error(`there are no words for ${id}`);
    return id;
  }
  const variables: Record<string, FluentVariable> = {};
  for (const [name, value] of Object.entries(given)) variables[name] = variable(name, value);
  const faults: Error[] = [];
  const text = bundle.formatPattern(message.value, variables, faults);
  for (const fault of faults) console.error(`${id}: ${fault.message}`);
  return text;
}
