// The teaching picture itself: a figure over the dose, a line for each hardener, named at its end. It is drawn for a card, for
// paper and for the wall of a room, so that every length follows from how large its type is.

import { line } from "d3-shape";
import { html, nothing, type SVGTemplateResult, svg, type TemplateResult } from "lit/html.js";

import type { Hardener } from "../../contract.js";
import { shown, toUnit } from "../../numbers.js";
import { broken, type Type, widthOf } from "../../parts/labels.js";
import { linear, type Scale } from "../../scale.js";
import { say, sayFinding } from "../../words.js";
import type { Shown } from "./figures.js";
import { type Code, MOST_PERCENT, type Teach } from "./state.js";

export interface Size {
  width: number;
  height: number;
  /** How large its type is, in CSS pixels. */
  px: number;
}

interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/** A line as it is drawn. */
interface Line {
  one: Hardener;
  at: number;
  points: [number, number][];
}

/** How each line is broken, so that they are told without colour too. */
const DASHES = [[], [9, 4], [3, 4], [12, 4, 3, 4]];

/** A line of text is so many times as high as its type is large. */
const LEADING = 1.2;

export function chart(
  teach: Teach,
  told: Hardener[],
  chosen: Shown,
  size: Size,
  code: Code | null = null,
): TemplateResult {
  const { bench, dose } = teach;
  const unit = bench.store.preferences.temperature;
  const { width, height, px } = size;
  const name: Type = { px, weight: 640 };
  const value = (raw: number) => (chosen.celsius ? toUnit(raw, unit) : raw);
  const hottest = chosen.value === "softens" ? value(bench.state.storage_c.hottest) : null;
  const all = [
    ...told
      .flatMap((one) => chosen.of(one))
      .filter((one) => one !== null)
      .map(value),
    ...(hottest === null ? [] : [hottest]),
  ];

  const names = told.map((one) => labelOf(teach, one, chosen, dose, name, 0.32 * width));
  const beside = Math.max(...names.flatMap((lines) => lines.map((text) => widthOf(text, name))));
  const plot: Box = {
    left: widthOf("100", { px: 0.9 * px, weight: 450 }) + 0.9 * px,
    top: 2.4 * px,
    right: width - beside - 1.6 * px,
    bottom: height - 3.1 * px,
  };
  const x = linear([0, MOST_PERCENT], [plot.left, plot.right]);
  // Room above what is flat, and never so near that a tenth of a degree looks like a step.
  const [low, high] = chosen.celsius ? [Math.min(...all), Math.max(...all)] : [0, Math.max(20, ...all)];
  const y = linear([low - (chosen.celsius ? 2 : 0), Math.max(high, low + 8)], [plot.bottom, plot.top], 5);
  const lines = told.map(
    (one, at): Line => ({
      one,
      at,
      points: chosen
        .of(one)
        .map((raw, i): [number, number] | null =>
          raw === null ? null : [x(one.dose_percent[i] ?? 0), y(value(raw))],
        )
        .filter((point) => point !== null),
    }),
  );
  // What a text is not to lie on.
  const level = hottest === null ? [] : [levelLine(y(hottest), plot)];
  const drawn = [...lines, ...level];
  const square = code ? corner(plot, lines, px) : null;
  const taken = square ? [square] : [];
  const sign = chosen.celsius ? `°${unit}` : "%";
  const knob = knobOf(dose, x, px);
  return html`<svg class="picture doses" width=${width} height=${height} viewBox="0 0 ${width} ${height}" font-size=${px}
      role="group" aria-label=${say("dose-chart", { figure: chosen.name })}>
    ${svg`<g aria-hidden="true">
      <text class="dose-title" x=${0.3 * px} y=${1.2 * px}>${chosen.name}, ${sign}</text>
      ${y.ticks(5).map(
        (tick) => svg`<line class="grid" x1=${plot.left} x2=${plot.right} y1=${y(tick)} y2=${y(tick)} />
          <text class="dose-tick end" x=${plot.left - 0.5 * px} y=${y(tick) + 0.35 * px}>${shown(tick, 1)}</text>`,
      )}
      ${[0, 5, 10, 15, 20]
        .filter((tick) => Math.abs(x(tick) - x(dose)) > knob.wide / 2 + px)
        .map(
          (tick) =>
            svg`<text class="dose-tick middle" x=${x(tick)} y=${plot.bottom + 1.3 * px}>${tick}</text>`,
        )}
      <text class="dose-tick middle" x=${(plot.left + plot.right) / 2} y=${height - 0.5 * px}>${say("dose-axis")}</text>
      ${hottest === null ? nothing : hottestLine(y(hottest), plot, px, taken, drawn)}
      ${lines.map(
        ({
          at,
          points,
        }) => svg`<path class="dose-line s${at}" stroke-width=${px / 4.5} stroke-dasharray=${(DASHES[at] ?? []).map((one) => (one * px) / 12.5).join(" ") || nothing}
          d=${line<[number, number]>()(points) ?? ""} />`,
      )}
      ${stops(lines, chosen, x, y, value, plot, px, taken, drawn)}
      ${whys(lines, chosen, x, plot, px, taken, drawn)}
      ${doseMark(lines, dose, x, plot, px)}
      ${ends(lines, names, plot, height, px)}
    </g>
    ${touch(teach, x, plot, px, summary(teach, told, chosen, dose, value, sign))}`}
    ${
      code && square
        ? svg`<svg class="dose-code" x=${square.left} y=${square.top} width=${square.right - square.left} height=${square.bottom - square.top}
        viewBox="-4 -4 ${code.size + 8} ${code.size + 8}" role="img" aria-label=${say("follow-by-code")}><rect x="-4" y="-4" width="100%" height="100%" /><path d=${code.path} /></svg>`
        : nothing
    }
  </svg>`;
}

/** The name of a line and its figure at the dose, in as many lines as its room asks for. */
function labelOf(
  teach: Teach,
  one: Hardener,
  chosen: Shown,
  dose: number,
  type: Type,
  most: number,
): string[] {
  const unit = teach.bench.store.preferences.temperature;
  const raw = chosen.of(one)[one.dose_percent.indexOf(dose)];
  // What the grade is does not fit beside a line; the table under it says so.
  const name = broken(teach.bench.nameOf(one.id).replace(/ \(.*\)$/, ""), type, most);
  if (raw == null) return name;
  const figure = chosen.celsius ? `${shown(toUnit(raw, unit), 1)} °${unit}` : `${shown(raw, 0)} %`;
  return [...name, figure.replace(" ", "\u00a0")];
}

/** The names at the ends of their lines, pushed apart where lines end close together. */
function ends(lines: Line[], names: string[][], plot: Box, height: number, px: number): SVGTemplateResult[] {
  const left = plot.right + 1.1 * px;
  const step = LEADING * px;
  const tall = (at: number) => (names[at]?.length ?? 1) * step;
  const order = lines
    .filter(({ points }) => points.length)
    .toSorted((a, b) => (a.points.at(-1)?.[1] ?? 0) - (b.points.at(-1)?.[1] ?? 0));
  const tops = new Map<number, number>();
  let free = 0;
  for (const { at, points } of order) {
    const top = Math.max(free, (points.at(-1)?.[1] ?? 0) - tall(at) / 2);
    tops.set(at, top);
    free = top + tall(at) + 0.25 * px;
  }
  // What was pushed out at the foot pushes back.
  let foot = height - 0.3 * px;
  for (const { at } of order.toReversed()) {
    const top = Math.min(tops.get(at) ?? 0, foot - tall(at));
    tops.set(at, top);
    foot = top - 0.25 * px;
  }
  return order.map(({ at, points }) => {
    const [endX = 0, endY = 0] = points.at(-1) ?? [];
    const top = tops.get(at) ?? 0;
    return svg`<line class="dose-leader s${at}" x1=${endX} y1=${endY} x2=${left - 0.3 * px} y2=${top + tall(at) / 2} />
      ${(names[at] ?? []).map((text, row) => svg`<text class="dose-name s${at}" x=${left} y=${top + row * step + 0.95 * px}>${text}</text>`)}`;
  });
}

const apart = (a: Box, b: Box) =>
  a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top;

/** A level across the plot, in as many points as a text could hide. */
function levelLine(y: number, { left, right }: Box): Pick<Line, "points"> {
  return { points: Array.from({ length: 31 }, (_, i) => [left + (i / 30) * (right - left), y]) };
}

/** How much of the lines a box lies on. */
function covered(box: Box, lines: Pick<Line, "points">[]): number {
  let count = 0;
  for (const { points } of lines) {
    for (const [i, [x1, y1]] of points.entries()) {
      const [x0, y0] = points[i - 1] ?? [x1, y1];
      for (const share of [0, 0.25, 0.5, 0.75]) {
        const [x, y] = [x1 + (x0 - x1) * share, y1 + (y0 - y1) * share];
        if (x > box.left && x < box.right && y > box.top && y < box.bottom) count++;
      }
    }
  }
  return count;
}

/** How a text may be set: how wide and how high it is then. */
interface Setting {
  rows: string[];
  wide: number;
  high: number;
}

const asSet = (rows: string[], type: Type): Setting => ({
  rows,
  wide: Math.max(...rows.map((row) => widthOf(row, type))),
  high: rows.length * LEADING * type.px,
});

/** Every place of the plot for a text, the nearest to its point first. */
function places(
  [x, y]: [number, number],
  set: Setting,
  plot: Box,
  px: number,
): { box: Box; set: Setting; far: number }[] {
  const found: { box: Box; set: Setting; far: number }[] = [];
  const step = px;
  for (let top = plot.top - 0.3 * px; top + set.high <= plot.bottom; top += step) {
    for (let left = plot.left + 0.3 * px; left + set.wide <= plot.right; left += step) {
      const box: Box = { left, top, right: left + set.wide, bottom: top + set.high };
      const near = [Math.max(left - x, x - box.right, 0), Math.max(top - y, y - box.bottom, 0)] as const;
      // A little off its line rather than at it, and centred on its point rather than beside it.
      const off = Math.abs((left + box.right) / 2 - x) / 8;
      found.push({ box, set, far: Math.hypot(...near) + off });
    }
  }
  return found;
}

/** Where a text lies beside a point: off all labels and lines; where there is no such place, nowhere. */
function place(
  at: [number, number],
  sets: Setting[],
  plot: Box,
  px: number,
  taken: Box[],
  lines: Pick<Line, "points">[],
): { box: Box; set: Setting } | null {
  // The dot of the dose runs along each line.
  const air = 0.5 * px;
  const clear = ({ left, top, right, bottom }: Box) =>
    covered({ left: left - air, top: top - air, right: right + air, bottom: bottom + air }, lines) === 0;
  const best = sets
    .flatMap((set) => places(at, set, plot, px))
    .toSorted((a, b) => a.far - b.far)
    .find(({ box }) => taken.every((other) => apart(box, other)) && clear(box));
  if (best) taken.push(best.box);
  return best ?? null;
}

/** Why a line is flat, and why a dose does nothing, where it happens. */
function whys(
  lines: Line[],
  chosen: Shown,
  x: Scale,
  plot: Box,
  px: number,
  taken: Box[],
  drawn: Pick<Line, "points">[],
): SVGTemplateResult[] {
  // Said of where the butter gives way and of what is left in the heat; the other figures do other things.
  if (!["softens", "clear", "slip", "hot"].includes(chosen.value)) return [];
  const type: Type = { px: 0.9 * px, weight: 560 };
  return lines.flatMap(({ one, at, points }) =>
    one.dose_notes.flatMap((note) => {
      if (note.kind === "dissolves" && (chosen.value === "clear" || chosen.value === "slip")) return [];
      if (
        note.kind !== "dissolves" &&
        chosen.value !== "softens" &&
        !(note.kind === "melts-there" && chosen.value !== "hot")
      )
        return [];
      const dose = note.kind === "dissolves" ? note.to_percent : MOST_PERCENT * 0.6;
      const anchor = points.toSorted((a, b) => Math.abs(a[0] - x(dose)) - Math.abs(b[0] - x(dose)))[0];
      if (!anchor) return [];
      const text = sayFinding("dose-note", note);
      const wide = plot.right - plot.left;
      const sets = [0.42, 0.6, 0.8, 0.28].map((share) =>
        asSet(broken(text, type, Math.max(share * wide, 6 * px)), type),
      );
      const placed = place(anchor, sets, plot, px, taken, drawn);
      // It is said under the picture too.
      if (!placed) return [];
      const { box, set } = placed;
      const near = Math.max(box.left, Math.min(anchor[0], box.right));
      const edge = box.top > anchor[1] ? box.top : box.bottom;
      return [
        svg`<line class="dose-leader s${at}" x1=${anchor[0]} y1=${anchor[1]} x2=${near} y2=${edge} />
          <circle class="dose-spot s${at}" cx=${anchor[0]} cy=${anchor[1]} r=${px / 3} />
          ${set.rows.map((row, i) => svg`<text class="dose-why s${at}" font-size=${type.px} x=${box.left} y=${box.top + (i * LEADING + 0.95) * type.px}>${row}</text>`)}`,
      ];
    }),
  );
}

/** Above it the butter holds on the hottest days. */
function hottestLine(
  level: number,
  plot: Box,
  px: number,
  taken: Box[],
  lines: Pick<Line, "points">[],
): SVGTemplateResult {
  const type: Type = { px: 0.9 * px, weight: 560 };
  const text = say("holds-when-hottest");
  const box = place([plot.right, level], [asSet([text], type)], plot, px, taken, lines)?.box;
  return svg`<line class="hold-line" x1=${plot.left} x2=${plot.right} y1=${level} y2=${level} />
    ${box ? svg`<text class="hold-label" font-size=${type.px} x=${box.left} y=${box.top + 0.95 * type.px}>${text}</text>` : nothing}`;
}

/** Where the code lies: in the corner at the left that the lines do not begin in. */
function corner(plot: Box, lines: Line[], px: number): Box {
  const side = Math.min(8.5 * px, 0.3 * (plot.bottom - plot.top));
  const left = plot.left + 0.6 * px;
  const boxes = [plot.top + 0.4 * px, plot.bottom - side - 0.6 * px].map(
    (top): Box => ({ left, top, right: left + side, bottom: top + side }),
  ) as [Box, Box];
  return covered(boxes[0], lines) <= covered(boxes[1], lines) ? boxes[0] : boxes[1];
}

/** Where it stops being a butter, and that it does where there is room to say it. */
function stops(
  lines: Line[],
  chosen: Shown,
  x: Scale,
  y: Scale,
  value: (raw: number) => number,
  plot: Box,
  px: number,
  taken: Box[],
  drawn: Pick<Line, "points">[],
): SVGTemplateResult[] {
  const type: Type = { px: 0.9 * px, weight: 560 };
  const text = say("stops-here");
  const set = asSet([text], type);
  return lines.flatMap(({ one, at }) => {
    const raw = one.stops && chosen.of(one)[one.dose_percent.indexOf(one.stops.dose_percent)];
    if (!one.stops || raw == null) return [];
    const [cx, cy, arm] = [x(one.stops.dose_percent), y(value(raw)), 0.5 * px];
    const box = place([cx, cy], [set], plot, px, taken, drawn)?.box;
    return [
      svg`<path class="stop s${at}" stroke-width=${px / 4} d="M${cx - arm} ${cy - arm}l${2 * arm} ${2 * arm}M${cx + arm} ${cy - arm}l${-2 * arm} ${2 * arm}" />
        ${box ? svg`<text class="dose-why" font-size=${type.px} x=${box.left} y=${box.top + 0.95 * type.px}>${text}</text>` : nothing}`,
    ];
  });
}

/** The knob of the dose, on the axis: from where to where. */
function knobOf(dose: number, x: Scale, px: number): { left: number; wide: number; text: string } {
  const text = say("dose-short", { dose_percent: dose });
  const wide = widthOf(text, { px, weight: 680 }) + px;
  return { left: x(dose) - wide / 2, wide, text };
}

/** The dose as a line across, with a dot on each line and a knob on the axis. */
function doseMark(lines: Line[], dose: number, x: Scale, plot: Box, px: number): SVGTemplateResult {
  const here = x(dose);
  const { left, wide, text } = knobOf(dose, x, px);
  const top = plot.bottom + 0.25 * px;
  return svg`<line class="cursor-line" x1=${here} x2=${here} y1=${plot.top} y2=${top} />
    ${lines.map(({ at, points }) => {
      const point = points.find(([at]) => Math.abs(at - here) < 0.01);
      return point
        ? svg`<circle class="dose-dot s${at}" cx=${point[0]} cy=${point[1]} r=${0.42 * px} stroke-width=${px / 5} />`
        : nothing;
    })}
    <g class="dose-knob"><rect x=${left} y=${top} width=${wide} height=${1.4 * px} rx=${0.7 * px} />
      <text x=${left + px / 2} y=${top + 1.05 * px}>${text}</text></g>`;
}

function summary(
  { bench }: Teach,
  told: Hardener[],
  chosen: Shown,
  dose: number,
  value: (raw: number) => number,
  sign: string,
): string {
  const said = told.map((one) => {
    const raw = chosen.of(one)[one.dose_percent.indexOf(dose)];
    return `${bench.nameOf(one.id)} ${raw == null ? "–" : `${shown(value(raw), chosen.celsius ? 1 : 0)} ${sign}`}`;
  });
  return `${say("dose-short", { dose_percent: dose })}: ${said.join(", ")}`;
}

/** The dose is dragged on the picture itself, or moved with the arrow keys. */
function touch(teach: Teach, x: Scale, plot: Box, px: number, text: string): SVGTemplateResult {
  const move = (event: PointerEvent) => {
    const on = event.currentTarget as SVGElement;
    if (event.type === "pointermove" && !on.hasPointerCapture(event.pointerId)) return;
    if (event.type === "pointerdown") on.setPointerCapture(event.pointerId);
    const frame = on.ownerSVGElement?.getBoundingClientRect();
    const svgWidth = on.ownerSVGElement?.viewBox.baseVal.width ?? 1;
    if (frame) teach.setDose(x.invert(((event.clientX - frame.left) * svgWidth) / frame.width));
  };
  const key = (event: KeyboardEvent) => {
    const step = {
      ArrowLeft: -1,
      ArrowDown: -1,
      ArrowRight: 1,
      ArrowUp: 1,
      PageDown: -5,
      PageUp: 5,
      Home: -100,
      End: 100,
    }[event.key];
    if (step === undefined) return;
    event.preventDefault();
    teach.setDose(teach.dose + step);
  };
  return svg`<rect class="dose-touch" x=${plot.left - px} y=${plot.top} width=${plot.right - plot.left + 2 * px} height=${plot.bottom - plot.top + 1.8 * px}
    role="slider" tabindex="0" aria-label=${say("dose-of-hardener")} aria-valuemin="0" aria-valuemax=${MOST_PERCENT}
    aria-valuenow=${teach.dose} aria-valuetext=${text} @pointerdown=${move} @pointermove=${move} @keydown=${key} />`;
}
