// What is kept by name or set aside: entries, and how each is read. Nothing that is read is believed.

import { type Fields, isFields } from "./fields.js";

/** A recipe with all that is asked of it. */
export interface Work {
  /** The text of its link. */
  link?: string;
  /** Where the page went before the link was written: the state itself, which is newer. It becomes a link on its way in. */
  state?: unknown;
}

/** What was on the bench. */
export interface OnBench extends Work {
  /** Whether it is the worked example, which the page brings along. */
  example?: boolean;
}

/** Kept by name: a recipe on the shelf, or an own ingredient as a recipe of one line. */
export interface Shelved extends Work {
  name: string;
  /** When it was put there, ms since 1970; 0: not known. */
  at: number;
}

/** What could not be read. */
export interface Aside {
  place: string;
  text: string;
  /** What was wrong with it. */
  why: string;
}

const LONGEST_NAME = 120;

export const within = (value: unknown, least: number, most: number): value is number =>
  typeof value === "number" && value >= least && value <= most;

export const isName = (value: unknown): value is string =>
  typeof value === "string" && value.trim() !== "" && value.length <= LONGEST_NAME;

/** Its recipe, if this is the form of one; whether it can be opened, the engine says. */
export function workOf({ link, state }: Fields): Work | null {
  if (typeof link !== "string" && !isFields(state)) return null;
  return {
    ...(typeof link === "string" ? { link } : {}),
    ...(isFields(state) ? { state } : {}),
  };
}

export function shelvedOf(value: unknown): Shelved | null {
  if (!isFields(value) || !isName(value.name)) return null;
  const work = workOf(value);
  return work && { ...work, name: value.name, at: within(value.at, 0, 1e14) ? value.at : 0 };
}

export function asideOf(value: unknown): Aside | null {
  if (!isFields(value) || typeof value.text !== "string") return null;
  const word = (one: unknown) => (typeof one === "string" ? one : "");
  return { place: word(value.place), text: value.text, why: word(value.why) };
}

/** The name, or the first of “name (2)”, “name (3)”, … that no other has. */
export function freeName(name: string, others: { name: string }[]): string {
  const taken = new Set(others.map((one) => one.name));
  let free = name;
  for (let count = 2; taken.has(free); count++) free = `${name} (${count})`;
  return free;
}
