// A curve over temperature: what keeps the shape, with the line above which it does; or what is solid.

import { area, curveMonotoneX, line } from "d3-shape";
import { nothing, type SVGTemplateResult, svg } from "lit/html.js";

import type { Behaviour, Curve } from "../contract.js";
import type { Scale } from "../scale.js";

/** What is drawn over temperature: what decides, or what is weighed in a laboratory. */
export type View = "holding" | "solid";

export type Column = "solid_percent" | "structure_percent" | "crystals_percent";

/** The column of the curve that a view of this butter shows. */
export function columnOf(view: View, { holding }: Behaviour): Column {
  if (view === "solid") return "solid_percent";
  return holding.by === "crystals" ? "crystals_percent" : "structure_percent";
}

/** Reads a curve between its points. */
export function at(curve: Curve, column: Column, celsius: number): number {
  const xs = curve.at_c;
  const ys = curve[column];
  const first = ys[0] ?? 0;
  const above = xs.findIndex((x) => x >= celsius);
  if (above === 0) return first;
  if (above < 0) return ys.at(-1) ?? 0;
  const [x0 = 0, x1 = 1] = [xs[above - 1], xs[above]];
  const [y0 = 0, y1 = 0] = [ys[above - 1], ys[above]];
  return y0 + ((y1 - y0) * (celsius - x0)) / (x1 - x0);
}

/** The top of the scale, percent: the least of three that all curves stay under, for most butters fill half of it. */
export function ceiling(
  all: (Curve | null | undefined)[],
  column: Column,
  [low, high]: [number, number],
): number {
  const most = Math.max(
    0,
    ...all.flatMap((curve) => (curve ? points(curve, column, [low, high]) : [])).map(([, level]) => level),
  );
  return most <= 50 ? 50 : most <= 75 ? 75 : 100;
}

/** The points of a curve within limits, with its ends there. */
export function points(curve: Curve, column: Column, [low, high]: [number, number]): [number, number][] {
  const inside = curve.at_c
    .map((celsius, i): [number, number] => [celsius, curve[column][i] ?? 0])
    .filter(([celsius]) => celsius > low && celsius < high);
  return [[low, at(curve, column, low)], ...inside, [high, at(curve, column, high)]];
}

export interface Drawn {
  before: Behaviour | null;
  after: Behaviour;
  fresh?: Curve | null;
  view: View;
}

export function curves({ before, after, fresh, view }: Drawn, x: Scale, y: Scale): SVGTemplateResult {
  const column = columnOf(view, after);
  const limits = x.domain;
  const stroke = line<[number, number]>(
    ([celsius]) => x(celsius),
    ([, level]) => y(level),
  ).curve(curveMonotoneX);
  const fill = area<[number, number]>(
    ([celsius]) => x(celsius),
    y(0),
    ([, level]) => y(level),
  ).curve(curveMonotoneX);
  const now = points(after.curve, column, limits);
  return svg`
    <path class="curve-fill" d=${fill(now)} />
    ${view === "solid" ? band(after, now, x, y) : holdLine(after, x, y)}
    ${before ? svg`<path class="curve before" d=${stroke(points(before.curve, column, limits))} />` : nothing}
    ${fresh ? svg`<path class="curve fresh" d=${stroke(points(fresh, column, limits))} />` : nothing}
    <path class="curve" d=${stroke(now)} />`;
}

/** How far the solids may be off. */
function band(after: Behaviour, now: [number, number][], x: Scale, y: Scale): SVGTemplateResult {
  const width = after.band.solid_percent;
  const top = y.domain[1];
  const within = area<[number, number]>(
    ([celsius]) => x(celsius),
    ([, level]) => y(Math.max(0, level - width)),
    // Where nothing is solid, nothing is uncertain: the clear point has a band of its own.
    ([, level]) => y(Math.min(top, level + width * Math.min(1, level / 3))),
  );
  return svg`<path class="curve-band" d=${within(now)} />`;
}

/** Above it the shape is kept; where the curve crosses it, the jar lets go, and may do so within the band. */
function holdLine(
  { holding, softening_band_c: [low, high] }: Behaviour,
  x: Scale,
  y: Scale,
): SVGTemplateResult {
  const level = y(holding.least_percent);
  const [from, to] = x.domain;
  const inside = (celsius: number) => x(Math.min(to, Math.max(from, celsius)));
  return svg`
    ${low !== null && high !== null ? svg`<line class="hold-band" x1=${inside(low)} x2=${inside(high)} y1=${level} y2=${level} />` : nothing}
    <line class="hold-line" x1=${x(from)} x2=${x(to)} y1=${level} y2=${level} />`;
}
