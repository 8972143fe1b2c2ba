// What is said on the picture, where it happens: why a line is flat, why it dips, where it stops being a
// butter, above which level the hottest jar holds. Where each lies does not hang on the dose, so that nothing
// moves while it is dragged.

import type { Hardener } from "../../contract.js";
import { broken, type Type } from "../../parts/labels.js";
import { say, sayFinding } from "../../words.js";
import type { Shown } from "./figures.js";
import { asSet, type Box, type Ground, onLevel, type Placed, type Point, place } from "./placing.js";

type DoseNote = Hardener["dose_notes"][number];

/** A line as it is drawn. */
export interface Line {
  one: Hardener;
  at: number;
  /** What it is called. */
  name: string;
  points: Point[];
}

export interface Remark {
  at: number;
  kind: "why" | "stop";
  /** Where it happens. */
  spot: Point;
  placed: Placed;
}

export interface Said {
  level: { box: Box; text: string } | null;
  remarks: Remark[];
  /** How much found no room; a thread across a line counts for a part of that (ours). */
  left: number;
}

/** The level above which the hottest jar holds, and how that is said, the longest first. */
interface Level {
  y: number;
  texts: string[];
}

interface Wanted {
  at: number;
  kind: Remark["kind"];
  text: string;
  anchors: Point[];
}

/** Texts on the picture, beside its names. */
export const remarkType = (px: number): Type => ({ px: 0.9 * px, weight: 560 });

/** The points of a line at some doses. */
function pointsAt({ one, points }: Line, doses: (dose: number) => boolean): Point[] {
  return points.filter((_, i) => doses(one.dose_percent[i] ?? 0));
}

const lowest = (points: Point[]): Point | undefined => points.toSorted((a, b) => b[1] - a[1])[0];

/** What of the lines a class will ask about in this figure; what needs most room first. */
function wanted(lines: Line[], chosen: Shown): Wanted[] {
  const found: Wanted[] = [];
  const before = new Set<DoseNote["kind"]>();
  for (const line of lines) {
    const { one, at, name } = line;
    const { stops } = one;
    // What the recipe is already, no dose made of it.
    if (stops?.dose_percent) {
      const anchors = pointsAt(line, (dose) => dose === stops.dose_percent);
      const text = say("stops-here", { name, dose_percent: stops.dose_percent });
      found.push({ at, kind: "stop", text, anchors });
    }
    for (const note of one.dose_notes) {
      if (!speaksOf(note, chosen)) continue;
      const told = before.has(note.kind) ? again(note) : sayFinding("dose-note", note);
      before.add(note.kind);
      found.push({
        at,
        kind: "why",
        text: say("named-note", { name, note: told }),
        anchors: anchorsOf(line, note),
      });
    }
  }
  return found
    .filter((one) => one.anchors.length > 0)
    .toSorted((one, other) => other.text.length - one.text.length);
}

/** Whether a note is of what the figure shows. */
export const speaksOf = ({ of }: DoseNote, { value }: Shown): boolean =>
  value === (of === "hottest" ? "hot" : of);

/** A note that another hardener has already. */
function again(note: DoseNote): string {
  if ("to_percent" in note) {
    return say(note.kind === "idle" ? "too-little-too" : "dissolves-too", { to_percent: note.to_percent });
  }
  return say(note.kind.startsWith("melts") ? "flat-too" : "no-air-too");
}

/** Where on its line a note may be: a dip where it dips or begins to rise, what is flat anywhere. */
function anchorsOf(line: Line, note: DoseNote): Point[] {
  if (!("to_percent" in note)) return pointsAt(line, (dose) => dose > 1 && dose % 3 === 0);
  const dip = lowest(pointsAt(line, (dose) => dose > 0 && dose <= note.to_percent));
  return [...pointsAt(line, (dose) => dose === note.to_percent), ...(dip ? [dip] : [])];
}

const KEPT = new Map<string, Said>();

/** Where everything lies, worked out anew only where something but the dose is another. */
export function said(lines: Line[], chosen: Shown, hottest: Level | null, plot: Box, px: number): Said {
  const key = JSON.stringify([
    chosen.value,
    hottest,
    plot,
    px,
    lines.map(({ one, name, points }) => [name, points, one.stops, one.dose_notes]),
  ]);
  const known = KEPT.get(key);
  if (known) return known;
  const laid = lay(lines, chosen, hottest, plot, px);
  // Each figure of a card, a stage and a sheet, with more room or less.
  if (KEPT.size > 60) KEPT.clear();
  KEPT.set(key, laid);
  return laid;
}

function lay(lines: Line[], chosen: Shown, hottest: Level | null, plot: Box, px: number): Said {
  const type = remarkType(px);
  const curves = lines.map(({ points }) => points);
  const ground: Ground = { plot, px, curves, taken: [], threads: [] };
  const level = hottest && levelSaid(hottest, ground, type);
  if (hottest) {
    curves.push([
      [plot.left, hottest.y],
      [plot.right, hottest.y],
    ]);
  }
  const remarks: Remark[] = [];
  const wide = plot.right - plot.left;
  let left = Number(hottest !== null && level === null);
  for (const { at, kind, text, anchors } of wanted(lines, chosen)) {
    const sets = [0.45, 0.65, 0.9, 0.3].map((share) =>
      asSet(broken(text, type, Math.max(share * wide, 7 * px)), type),
    );
    const placed = place(anchors, sets, ground);
    // It is said under the picture too.
    left += placed === null ? 1 : ACROSS * placed.crossed;
    const spot = placed?.thread[0] ?? anchors[0];
    if (spot && (placed || kind === "stop"))
      remarks.push({ at, kind, spot, placed: placed ?? nowhere(spot) });
  }
  return { level, remarks, left };
}

/** The longest of its texts that there is room for on the line itself. */
function levelSaid({ y, texts }: Level, ground: Ground, type: Type): Said["level"] {
  for (const text of texts) {
    const box = onLevel(y, asSet([text], type), ground);
    if (box) return { box, text };
  }
  return null;
}

const ACROSS = 0.1;

/** A mark that no text belongs to. */
const nowhere = (spot: Point): Placed => ({
  box: { left: spot[0], right: spot[0], top: spot[1], bottom: spot[1] },
  set: { rows: [], wide: 0, high: 0 },
  thread: [spot, spot],
  crossed: 0,
});
