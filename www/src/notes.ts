// The notebook as it is kept on the device: lots, and what was seen of pots made of them. Here only its form
// is looked at; whether an entry says something that can be, the engine says.

import type { Asked } from "./contract.js";
import { type Fields, isFields } from "./fields.js";

/** A lot, as the engine is told of it: its name, what it is a lot of, and what is known of it from elsewhere. */
export type Lot = NonNullable<Asked<"learn">["lots"]>[number];
/** What was seen of a pot. */
export type Seen = NonNullable<Asked<"learn">["observations"]>[number];

/** What stands beside every entry. */
interface Noted {
  /** When it was written down, ms since 1970: no two have the same, so that an entry is found by it. */
  at: number;
  /** The day that the maker gives it, such as 2026-05-03. */
  day: string;
}

export interface NotedLot extends Noted {
  lot: Lot;
}

export interface NotedLook extends Noted {
  look: Seen;
}

export interface Notes {
  lots: NotedLot[];
  looks: NotedLook[];
}

export const NO_NOTES: Notes = { lots: [], looks: [] };

/** Today, where the reader is. */
export function today(): string {
  const now = new Date();
  return `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, "0")}-${String(now.getDate()).padStart(2, "0")}`;
}

export const isDay = (value: unknown): value is string =>
  typeof value === "string" && /^\d{4}-\d{2}-\d{2}$/.test(value) && !Number.isNaN(Date.parse(value));

function noted(value: unknown): Noted | null {
  if (!isFields(value)) return null;
  const { at, day } = value;
  return typeof at === "number" && at >= 0 && at <= 1e14 && isDay(day) ? { at, day } : null;
}

function lotOf(value: unknown): NotedLot | null {
  const beside = noted(value);
  const { lot } = isFields(value) ? value : {};
  return beside && isFields(lot) ? { ...beside, lot: lot as unknown as Lot } : null;
}

function lookOf(value: unknown): NotedLook | null {
  const beside = noted(value);
  const { look } = isFields(value) ? value : {};
  return beside && isFields(look) ? { ...beside, look: look as unknown as Seen } : null;
}

/** What of a kept notebook has the form of one, and the texts of what has not. */
export function notesOf(value: Fields): { notes: Notes; odd: string[] } {
  const odd: string[] = [];
  const list = <T extends Noted>(name: string, read: (one: unknown) => T | null): T[] => {
    const values = value[name];
    if (values !== undefined && !Array.isArray(values)) odd.push(JSON.stringify({ [name]: values }));
    const seen = new Set<number>();
    return (Array.isArray(values) ? values : []).flatMap((one) => {
      const entry = read(one);
      if (entry && !seen.has(entry.at)) {
        seen.add(entry.at);
        return entry;
      }
      odd.push(JSON.stringify(one));
      return [];
    });
  };
  return { notes: { lots: list("lots", lotOf), looks: list("looks", lookOf) }, odd };
}

/** A time for a new entry that no other has. */
export function freeTime({ lots, looks }: Notes): number {
  const taken = new Set([...lots, ...looks].map(({ at }) => at));
  let at = Date.now();
  while (taken.has(at)) at++;
  return at;
}

/** One notebook with what is new in another; an entry that is in both is as it is here. */
export function joined(here: Notes, coming: Notes): Notes {
  const without = <T extends Noted>(have: T[], more: T[]) => {
    const known = new Set(have.map(({ at }) => at));
    return [...have, ...more.filter(({ at }) => !known.has(at))];
  };
  return { lots: without(here.lots, coming.lots), looks: without(here.looks, coming.looks) };
}
