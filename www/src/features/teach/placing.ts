// Where texts lie on a picture: on no line and on no other text, near what they speak of, and the thread that
// leads there crosses as little as it can.

import { type Type, widthOf } from "../../parts/labels.js";

export type Point = [number, number];

export interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/** A line of text is so many times as high as its type is large. */
export const LEADING = 1.2;

/** What there is to keep clear of. */
export interface Ground {
  plot: Box;
  /** How large type is, in CSS pixels. */
  px: number;
  curves: Point[][];
  /** Texts that are placed, and the threads to what they speak of. */
  taken: Box[];
  threads: [Point, Point][];
}

/** How a text may be set: how wide and how high it is then. */
export interface Setting {
  rows: string[];
  wide: number;
  high: number;
}

export interface Placed {
  box: Box;
  set: Setting;
  /** The thread, from what it speaks of to its edge, and how many lines it crosses. */
  thread: [Point, Point];
  crossed: number;
}

export const asSet = (rows: string[], type: Type): Setting => ({
  rows,
  wide: Math.max(...rows.map((row) => widthOf(row, type))),
  high: rows.length * LEADING * type.px,
});

const apart = (a: Box, b: Box) =>
  a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top;

const wider = ({ left, top, right, bottom }: Box, by: number): Box => ({
  left: left - by,
  top: top - by,
  right: right + by,
  bottom: bottom + by,
});

/** Whether a stretch of a line runs through a box (Liang and Barsky's clipping). */
function through(box: Box, one: Point, other: Point): boolean {
  const [x0, y0] = one;
  const [x1, y1] = other;
  // Most lie wholly beside it, and it is asked of every place for a text.
  if (x0 < box.left && x1 < box.left) return false;
  if (x0 > box.right && x1 > box.right) return false;
  if (y0 < box.top && y1 < box.top) return false;
  if (y0 > box.bottom && y1 > box.bottom) return false;
  const [dx, dy] = [x1 - x0, y1 - y0];
  let [from, to] = [0, 1];
  for (const [slope, room] of [
    [-dx, x0 - box.left],
    [dx, box.right - x0],
    [-dy, y0 - box.top],
    [dy, box.bottom - y0],
  ] as const) {
    if (slope === 0) {
      if (room < 0) return false;
    } else if (slope < 0) from = Math.max(from, room / slope);
    else to = Math.min(to, room / slope);
  }
  return from <= to;
}

/** Whether a line runs through a box. */
function meets(box: Box, curve: Point[]): boolean {
  let before = curve[0];
  for (const point of curve) {
    if (through(box, before ?? point, point)) return true;
    before = point;
  }
  return false;
}

/** On which side of a line a point lies. */
const side = ([ax, ay]: Point, [bx, by]: Point, [x, y]: Point) =>
  Math.sign((bx - ax) * (y - ay) - (by - ay) * (x - ax));

const cross = ([a, b]: [Point, Point], [c, d]: [Point, Point]): boolean =>
  side(a, b, c) !== side(a, b, d) && side(c, d, a) !== side(c, d, b);

/** How many lines and threads a thread crosses, but for those that run through what it begins at. */
function crossed([from, to]: [Point, Point], { px, curves, threads }: Ground): number {
  const long = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (long <= px) return 0;
  const start: Point = [
    from[0] + ((to[0] - from[0]) * 0.7 * px) / long,
    from[1] + ((to[1] - from[1]) * 0.7 * px) / long,
  ];
  const rest: [Point, Point] = [start, to];
  const lines = curves.filter((curve) =>
    curve.some((point, i) => i > 0 && cross(rest, [curve[i - 1] ?? point, point])),
  );
  return lines.length + threads.filter((one) => cross(rest, one)).length;
}

/** Every free place for a text that keeps so much air around it. */
function free({ plot, px, curves, taken, threads }: Ground, set: Setting, air: number): Box[] {
  const found: Box[] = [];
  const step = px / 2;
  for (let top = plot.top - 0.3 * px; top + set.high <= plot.bottom; top += step) {
    for (let left = plot.left + 0.3 * px; left + set.wide <= plot.right; left += step) {
      const box: Box = { left, top, right: left + set.wide, bottom: top + set.high };
      const airy = wider(box, air);
      if (
        taken.every((other) => apart(airy, other)) &&
        !threads.some(([a, b]) => through(airy, a, b)) &&
        !curves.some((curve) => meets(airy, curve))
      )
        found.push(box);
    }
  }
  return found;
}

/** A text near one of these points, and the thread to it; `null` where there is no room for it. */
export function place(anchors: Point[], sets: Setting[], ground: Ground): Placed | null {
  const { px, taken, threads } = ground;
  const found = sets
    // The dot of the dose runs along each line.
    .flatMap((set) => free(ground, set, 0.5 * px).map((box) => ({ set, box })))
    .flatMap(({ set, box }) =>
      anchors.map((anchor) => {
        const [x, y] = anchor;
        const foot: Point = [
          Math.max(box.left, Math.min(x, box.right)),
          Math.max(box.top, Math.min(y, box.bottom)),
        ];
        // Centred on its point rather than beside it.
        const off = Math.abs((box.left + box.right) / 2 - x) / 8;
        return { set, box, anchor, foot, far: Math.hypot(x - foot[0], y - foot[1]) + off };
      }),
    )
    .toSorted((a, b) => a.far - b.far);
  for (const most of [0, 1, 2]) {
    for (const { set, box, anchor, foot } of found) {
      const thread: [Point, Point] = [anchor, foot];
      if (taken.some((other) => through(other, anchor, foot)) || crossed(thread, ground) > most) continue;
      taken.push(box);
      threads.push(thread);
      return { box, set, thread, crossed: most };
    }
  }
  return null;
}

/** A text on a level line, directly over or under it, as far to the right as may be. */
export function onLevel(y: number, set: Setting, ground: Ground): Box | null {
  const { plot, px, taken, threads, curves } = ground;
  for (const top of [y - set.high - 0.15 * px, y + 0.15 * px]) {
    if (top < plot.top - px || top + set.high > plot.bottom + 0.2 * px) continue;
    for (let right = plot.right; right - set.wide >= plot.left; right -= px / 2) {
      const box: Box = { left: right - set.wide, top, right, bottom: top + set.high };
      const near = wider(box, 0.1 * px);
      if (
        taken.every((other) => apart(box, other)) &&
        !threads.some(([a, b]) => through(near, a, b)) &&
        !curves.some((curve) => meets(near, curve))
      ) {
        taken.push(box);
        return box;
      }
    }
  }
  return null;
}
