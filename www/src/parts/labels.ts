// Labels that never collide: each is measured, and gives way to those before it along its row, or to the next
// row.

import { type SVGTemplateResult, svg } from "lit/html.js";

type Span = [number, number];

/** How large and heavy a label is set; its style sheet says the same. */
export interface Type {
  px: number;
  weight: number;
}

export interface Label {
  text: string;
  /** What it points at. */
  at: number;
  /** Where it would stand, best first: after what it points at, before it, or over it. */
  sides: ("after" | "before" | "over")[];
  /** How far it keeps from what it points at. */
  off: number;
  type: Type;
  look: string;
}

export interface Placed extends Label {
  left: number;
  width: number;
  row: number;
}

const WIDTHS = new Map<string, number>();
/** What texts are measured with, in the page's letters: style sheets are here before the script is. */
const PEN = document.createElement("canvas").getContext("2d");
const FAMILY = getComputedStyle(document.body).fontFamily;

/** How wide a text is drawn, in CSS pixels. */
export function widthOf(text: string, { px, weight }: Type): number {
  const key = `${weight} ${px} ${text}`;
  const known = WIDTHS.get(key);
  if (known !== undefined) return known;
  // Without a canvas, as wide as most letters at most are.
  let width = 0.62 * px * text.length;
  if (PEN) {
    PEN.font = `${weight} ${px}px ${FAMILY}`;
    width = PEN.measureText(text).width;
  }
  // Every temperature is another text: what is long ago measured may be measured again.
  if (WIDTHS.size > 2000) WIDTHS.clear();
  WIDTHS.set(key, width);
  return width;
}

/** What two labels keep between them. */
const GAP = 7;

/**
 * Puts labels into rows between two ends, the most important first. What finds no place beside what it points at slides along
 * its row; what finds none at all is left out, rather than drawn over another.
 */
export function inRows(labels: Label[], [from, to]: Span, most = 2, obstacles: Span[] = []): Placed[] {
  const taken: Span[][] = Array.from({ length: most }, () => [...obstacles]);
  return labels.flatMap((label) => {
    const width = widthOf(label.text, label.type);
    const within = (left: number) => Math.max(from, Math.min(left, to - width));
    const wanted = label.sides.map((side) =>
      within(
        side === "after"
          ? label.at + label.off
          : side === "before"
            ? label.at - label.off - width
            : label.at - width / 2,
      ),
    );
    const free = (row: number) => (left: number) =>
      left >= from &&
      left + width <= to &&
      (taken[row] ?? []).every(([low, high]) => left >= high + GAP || left + width <= low - GAP);
    const slid = (row: number) =>
      (taken[row] ?? [])
        .flatMap(([low, high]) => [high + GAP, low - GAP - width])
        .toSorted((a, b) => Math.abs(a + width / 2 - label.at) - Math.abs(b + width / 2 - label.at));
    const places = [wanted, null].flatMap((choice) =>
      taken.map((_, row) => ({ row, left: (choice ?? slid(row)).find(free(row)) })),
    );
    const { row, left } = places.find((place) => place.left !== undefined) ?? {};
    if (row === undefined || left === undefined) return [];
    taken[row]?.push([left, left + width]);
    return [{ ...label, left, width, row }];
  });
}

/** Draws them, the first row with its foot at `top`, the others so far below. */
export function drawn(placed: Placed[], top: number, rowHeight: number): SVGTemplateResult[] {
  return placed.map(
    ({ text, left, row, look }) =>
      svg`<text class="label-text ${look}" x=${left} y=${top + row * rowHeight}>${text}</text>`,
  );
}

/** A text broken into lines no wider than that, at its spaces. */
export function broken(text: string, type: Type, most: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const last = lines.at(-1);
    if (last !== undefined && widthOf(`${last} ${word}`, type) <= most)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}
