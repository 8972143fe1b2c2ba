// A backup file comes back in: everything in it goes through the same checks as what is kept on the device.

import type { Bench } from "../../bench.js";
import { EngineError } from "../../engine.js";
import { BACKUP, RECIPE } from "../../files.js";
import {
  type Aside,
  freeName,
  type Preferences,
  preferencesOf,
  type Shelved,
  shelvedOf,
  type Work,
  workOf,
} from "../../kept.js";
import { joined, type Notes, notesOf } from "../../notes.js";
import { EXAMPLE, type State } from "../../state.js";
import { say } from "../../words.js";

/** What a backup holds, checked. */
export interface Backup {
  file: string;
  bench: { state: State; link: string } | null;
  shelf: Shelved[];
  own: Shelved[];
  preferences: Preferences;
  notebook: Notes;
  /** What the backup had set aside, and what of it cannot be read. */
  aside: Aside[];
  refused: number;
  /** Whether a later version of the page put something in that this one does not know. */
  newer: boolean;
}

const KNOWN = new Set([
  "meltmargin",
  "saved",
  "version",
  "bench",
  "shelf",
  "own",
  "preferences",
  "notebook",
  "aside",
]);

/** A file that is none of this page's. */
export class NotOurs extends Error {}

type Fields = Record<string, unknown>;

const fieldsOf = (value: unknown): Fields =>
  typeof value === "object" && value !== null && !Array.isArray(value) ? (value as Fields) : {};

const listOf = (value: unknown): unknown[] => (Array.isArray(value) ? value : []);

/** Reads a file: a recipe, or a backup. */
export async function readFile(bench: Bench, file: File): Promise<{ state: State } | { backup: Backup }> {
  let value: Fields;
  try {
    value = fieldsOf(JSON.parse(await file.text()));
  } catch {
    throw new NotOurs();
  }
  if (value.meltmargin === RECIPE && value.state) {
    const { state } = await bench.open({ state: value.state }, "file");
    return { state };
  }
  if (typeof value.meltmargin === "number" && value.meltmargin >= BACKUP)
    return { backup: await readBackup(bench, file.name, value) };
  throw new NotOurs();
}

async function readBackup(bench: Bench, file: string, value: Fields): Promise<Backup> {
  const refused: Aside[] = [];
  const open = async (place: string, work: Work | null, text: unknown) => {
    try {
      if (work) return await bench.open(work, "file");
      refused.push({ place, text: JSON.stringify(text), why: say("odd-entry") });
    } catch (reason) {
      if (!(reason instanceof EngineError)) throw reason;
      refused.push({ place, text: JSON.stringify(text), why: reason.message });
    }
    return null;
  };
  const list = async (place: "shelf" | "own") => {
    const good: Shelved[] = [];
    for (const one of listOf(value[place])) {
      const entry = shelvedOf(one);
      const opened = await open(place, entry, one);
      if (entry && opened) good.push({ name: entry.name, at: entry.at, link: opened.link });
    }
    return good;
  };
  const { notes, odd } = notesOf(fieldsOf(value.notebook ?? {}));
  for (const text of odd) refused.push({ place: "notebook", text, why: say("odd-entry") });
  const was = fieldsOf(value.bench);
  const hasBench = value.bench != null && was.example !== true;
  const { preferences } = preferencesOf(fieldsOf(value.preferences));
  const backup = {
    file,
    bench: hasBench ? await open("bench", workOf(was), value.bench) : null,
    shelf: await list("shelf"),
    own: await list("own"),
    preferences,
    notebook: notes,
    newer: value.meltmargin !== BACKUP || Object.keys(value).some((key) => !KNOWN.has(key)),
  };
  const asides = listOf(value.aside).flatMap((one) => {
    const { place, text, why } = fieldsOf(one);
    return typeof text === "string" ? { place: String(place ?? ""), text, why: String(why ?? "") } : [];
  });
  return { ...backup, aside: [...asides, ...refused], refused: refused.length };
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
  kept.addAside(backup.aside);
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
  kept.addAside(backup.aside);
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
