// The text of a place on this device: its version, and what belongs there as the reader calls it.

import { type Fields, isFields } from "./fields.js";
import { within } from "./kept-entries.js";
import { say } from "./words.js";

export const VERSION = 2;

/** A text that is not what belongs where it was found. */
export class Unreadable extends Error {}

/** What a place holds, by the version that wrote it. */
export function opened(text: string): Fields {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    throw new Unreadable(say("odd-garbled"));
  }
  if (!isFields(value)) throw new Unreadable(say("odd-kind"));
  if (value.version === VERSION) return value;
  throw new Unreadable(within(value.version, VERSION + 1, 1e9) ? say("odd-later") : say("odd-version"));
}

const NAMES = new Map<string, string>([
  ["bench", say("kept-bench")],
  ["shelf", say("kept-shelf")],
  ["own", say("kept-own")],
  ["own-draft", say("kept-draft")],
  ["preferences", say("kept-settings")],
  ["notebook", say("kept-notebook")],
  ["notebook-draft", say("kept-note-draft")],
  ["aside", say("kept-aside")],
]);

/** What belongs in a place, as the reader calls it. */
export const placeInWords = (place: string): string => NAMES.get(place) ?? say("kept-something");
