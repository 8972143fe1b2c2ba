// A backup file comes back in: everything in it goes through the same checks as what is kept on the device.

import type { Bench } from "../../bench.js";
import { EngineError } from "../../engine.js";
import { type Fields, isFields } from "../../fields.js";
import { BACKUP, RECIPE } from "../../files.js";
import {
  type Aside,
  asideOf,
  freeName,
  type Shelved,
  shelvedOf,
  type Work,
  workOf,
} from "../../kept-entries.js";
import { type Opened, opened } from "../../links.js";
import { joined, type Notes, notesOf } from "../../notes.js";
import { type Preferences, preferencesOf } from "../../preferences.js";
import { EXAMPLE, type State } from "../../state.js";
import { say } from "../../words.js";

/** What a backup holds, checked. */
export interface Backup {
  file: string;
  bench: Opened | null;
  shelf: Shelved[];
  own: Shelved[];
  preferences: Preferences;
  notebook: Notes;
  /** What the backup had set aside. */
  aside: Aside[];
  /** What of it cannot be read. */
  refused: Aside[];
  /** Whether a later version of the page put something in that this one does not know. */
  newer: boolean;
}

/** The parts of a backup. */
const PARTS = ["bench", "shelf", "own", "preferences", "notebook", "aside"] as const;
const KNOWN = new Set<string>(["meltmargin", "saved", "version", ...PARTS]);

/** The largest file that is read, MB: a browser keeps about 5 MB for a page (common practice, no source), which a file writes with spaces. */
export const MOST_MB = 8;

/** A file that is not what this page saves, and why. */
export class NotOurs extends Error {
  constructor(readonly why: "other" | "later" | "no-recipe" | "too-large") {
    super(why);
  }
}

const isMissing = (value: unknown): value is null | undefined => value === undefined || value === null;

/** Reads a file, by what it says it is and what is in it: a later version may number its files otherwise. */
export async function readFile(bench: Bench, file: File): Promise<Opened | { backup: Backup }> {
  if (file.size > MOST_MB * 1e6) throw new NotOurs("too-large");
  let value: unknown;
  try {
    value = JSON.parse(await file.text());
  } catch {
    throw new NotOurs("other");
  }
  if (!isFields(value) || typeof value.meltmargin !== "number") throw new NotOurs("other");
  const isBackup = PARTS.some((part) => part in value);
  if (value.meltmargin !== BACKUP && "state" in value && !isBackup) {
    if (!isFields(value.state)) throw new NotOurs("no-recipe");
    const recipe = await opened(bench.quick, { state: value.state }, "file");
    return { ...recipe, newer: recipe.newer || value.meltmargin !== RECIPE };
  }
  if (value.meltmargin === RECIPE) throw new NotOurs("no-recipe");
  if (value.meltmargin === BACKUP || isBackup) return { backup: await readBackup(bench, file.name, value) };
  throw new NotOurs(value.meltmargin > BACKUP ? "later" : "other");
}

async function readBackup(bench: Bench, file: string, value: Fields): Promise<Backup> {
  const refused: Aside[] = [];
  const refuse = (place: string, what: unknown, why: string) => {
    refused.push({ place, text: JSON.stringify(what), why });
    return null;
  };
  /** A part that should be an object, or a list; where it is neither, nothing of it is lost. */
  const fieldsOf = (place: string, part: unknown): Fields => {
    if (isFields(part)) return part;
    if (!isMissing(part)) refuse(place, part, say("odd-kind"));
    return {};
  };
  const listOf = (place: string, part: unknown): unknown[] => {
    if (Array.isArray(part)) return part;
    if (!isMissing(part)) refuse(place, part, say("odd-no-list"));
    return [];
  };
  const open = async (place: string, work: Work | null, what: unknown) => {
    try {
      if (work) return await opened(bench.quick, work, "file");
      return refuse(place, what, say(place === "bench" ? "odd-no-recipe" : "odd-entry"));
    } catch (reason) {
      if (!(reason instanceof EngineError)) throw reason;
      return refuse(place, what, reason.message);
    }
  };
  let newer = value.meltmargin !== BACKUP || Object.keys(value).some((key) => !KNOWN.has(key));
  const list = async (place: "shelf" | "own") => {
    const good: Shelved[] = [];
    for (const one of listOf(place, value[place])) {
      const entry = shelvedOf(one);
      const opened = await open(place, entry, one);
      newer ||= opened?.newer === true;
      if (entry && opened) good.push({ name: entry.name, at: entry.at, link: opened.link });
    }
    return good;
  };
  const { notes, odd } = notesOf(fieldsOf("notebook", value.notebook));
  for (const text of odd) refused.push({ place: "notebook", text, why: say("odd-entry") });
  const { preferences, odd: oddly } = preferencesOf(fieldsOf("preferences", value.preferences));
  if (oddly.length)
    refuse("preferences", value.preferences, say("odd-preferences", { names: oddly.join(", ") }));
  const was = isMissing(value.bench) ? null : fieldsOf("bench", value.bench);
  const theirs =
    was && isFields(value.bench) && was.example !== true ? await open("bench", workOf(was), was) : null;
  newer ||= theirs?.newer === true;
  const [shelf, own] = [await list("shelf"), await list("own")];
  const aside = listOf("aside", value.aside).flatMap((one) => {
    const text = asideOf(one);
    return text ?? refuse("aside", one, say("odd-entry")) ?? [];
  });
  return { file, bench: theirs, shelf, own, preferences, notebook: notes, aside, refused, newer };
}

/** Adds what is not here yet; nothing that is here changes, and the backup's bench goes to the shelf. */
export function merge(bench: Bench, backup: Backup): void {
  const { kept } = bench.store;
  const before = snapshot(bench);
  const add = (here: Shelved[], coming: Shelved[]) => {
    const all = [...here];
    for (const one of coming) {
      const same = all.some((other) => other.link === one.link);
      if (!same) all.push({ ...one, name: freeName(one.name, all) });
    }
    return all;
  };
  const theirs = backup.bench;
  const onShelf = theirs && backup.shelf.some((one) => one.link === theirs.link);
  const shelf =
    theirs && !onShelf && theirs.link !== bench.store.link
      ? [...backup.shelf, { name: theirs.state.name ?? say("unnamed"), at: Date.now(), link: theirs.link }]
      : backup.shelf;
  kept.replace("shelf", add(kept.shelf, shelf));
  kept.replace("own", add(kept.own, backup.own));
  kept.prefer({ prices: new Map([...backup.preferences.prices, ...kept.preferences.prices]) });
  kept.changeNotes((here) => joined(here, backup.notebook));
  kept.addAside([...backup.aside, ...backup.refused]);
  told(bench, say("backup-added", { file: backup.file }), before);
}

/** Everything is as the backup has it. */
export function replace(bench: Bench, backup: Backup): void {
  const { kept } = bench.store;
  const before = snapshot(bench);
  kept.replace("shelf", backup.shelf);
  kept.replace("own", backup.own);
  kept.prefer(backup.preferences);
  kept.replaceNotes(backup.notebook);
  kept.addAside([...backup.aside, ...backup.refused]);
  bench.replace(backup.bench?.state ?? EXAMPLE, "");
  told(bench, say("backup-replaced", { file: backup.file }), before);
}

interface Snapshot {
  shelf: Shelved[];
  own: Shelved[];
  preferences: Preferences;
  notebook: Notes;
  state: State;
}

const snapshot = (bench: Bench): Snapshot => {
  const { shelf, own, preferences, notebook } = bench.store.kept;
  return { shelf, own, preferences, notebook, state: bench.state };
};

function told(bench: Bench, text: string, before: Snapshot): void {
  const { kept } = bench.store;
  bench.say({
    text,
    tone: "plain",
    stays: true,
    actions: [
      {
        label: say("undo"),
        run: () => {
          kept.replace("shelf", before.shelf);
          kept.replace("own", before.own);
          kept.prefer(before.preferences);
          kept.replaceNotes(before.notebook);
          if (bench.state !== before.state) bench.undo();
          else bench.refresh();
        },
      },
    ],
  });
}
