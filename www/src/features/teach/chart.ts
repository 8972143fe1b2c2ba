// The teaching picture itself: a figure over the dose, a line for each hardener, named at its end. It is
// drawn for a card, for paper and for the wall of a room, so that every length follows from how large its
// type is.

import { line } from "d3-shape";
import { html, nothing, type SVGTemplateResult, svg, type TemplateResult } from "lit/html.js";

import type { Hardener } from "../../contract.js";
import { shown, toUnit } from "../../numbers.js";
import { keyStep } from "../../parts/keys.js";
import { broken, type Type, widthOf } from "../../parts/labels.js";
import { linear, type Scale } from "../../scale.js";
import { say } from "../../words.js";
import { figureAt, type Shown } from "./figures.js";
import { type Box, LEADING, type Point } from "./placing.js";
import { type Line, type Remark, remarkType, type Said, said } from "./remarks.js";
import { type Code, MOST_PERCENT, type Teach } from "./state.js";

/** What stands on the picture where nothing else on the screen says it: what it is of, and its link as a code. */
export interface Beside {
  code?: Code | null;
  of?: string;
  /** Whether it is one that nobody moves: on paper. */
  still?: boolean;
}

export interface Size {
  width: number;
  height: number;
  /** How large its type is, in CSS pixels. */
  px: number;
}

/** How each line is broken, so that they are told without colour too. */
const DASHES = [[], [9, 4], [3, 4], [12, 4, 3, 4]];

export function chart(
  teach: Teach,
  told: Hardener[],
  chosen: Shown,
  size: Size,
  { code = null, of = "", still = false }: Beside = {},
): TemplateResult {
  const { bench, dose, most } = teach;
  const { format, storage_c } = bench.state;
  const unit = bench.store.preferences.temperature;
  const { width, height, px } = size;
  const value = (raw: number) => (chosen.celsius ? toUnit(raw, unit) : raw);
  const hottest = chosen.value === "softens" ? value(storage_c.hottest) : null;
  const all = [
    ...told
      .flatMap((one) => chosen.of(one))
      .filter((one) => one !== null)
      .map(value),
    ...(hottest === null ? [] : [hottest]),
  ];

  const name: Type = { px, weight: 640 };
  const names = told.map((one) => broken(shortName(teach, one), name, 0.32 * width));
  const figure: Type = { px, weight: 450 };
  const figures = told.map((one) => figureAt(chosen, one, dose, unit));
  const beside = Math.max(
    ...names.flat().map((text) => widthOf(text, name)),
    // As wide at every dose, so that nothing moves while it is dragged.
    ...told.flatMap((one) =>
      one.dose_percent.map((dose) => widthOf(atDose(dose, figureAt(chosen, one, dose, unit) ?? ""), figure)),
    ),
  );
  const heading = of ? broken(of, remarkType(px), width - 0.6 * px) : [];
  const head = heading.length * LEADING * remarkType(px).px;
  // Under the axis its name, and where the oil ends, where it does.
  const oilEnds = most < MOST_PERCENT;
  const plot: Box = {
    left: widthOf("100", { px: 0.9 * px, weight: 450 }) + 0.9 * px,
    top: head + 2.4 * px,
    right: width - beside - 1.6 * px,
    bottom: height - (oilEnds ? 4.3 : 3.1) * px,
  };
  const x = linear([0, most], [plot.left, plot.right]);
  const { y, lines, laid, level } = fullest((room) => {
    const y = upright(all, chosen.celsius, room, plot);
    const lines = told.map(
      (one, at): Line => ({
        one,
        at,
        name: shortName(teach, one),
        points: chosen
          .of(one)
          .map((raw, i): Point | null => (raw === null ? null : [x(one.dose_percent[i] ?? 0), y(value(raw))]))
          .filter((point) => point !== null),
      }),
    );
    const level = hottest === null ? null : y(hottest);
    const texts = [
      say("holds-when-hottest", { hottest_c: storage_c.hottest }),
      say("hottest-short", { hottest_c: storage_c.hottest }),
    ];
    const laid = said(lines, chosen, level === null ? null : { y: level, texts }, plot, px);
    return { y, lines, laid, level };
  });
  const sign = chosen.celsius ? `°${unit}` : "%";
  const title = `${chosen.name(format)}, ${sign}`;
  const titled = widthOf(title, { px, weight: 680 }) + 0.3 * px;
  const column = ends(
    lines,
    names,
    figures.map((one) => (one === null ? null : atDose(dose, one))),
    {
      left: plot.right + 1.1 * px,
      top: titled < plot.right ? head + 0.3 * px : plot.top - px,
      right: width,
      bottom: height,
    },
    px,
    code,
  );
  const knob = knobOf(dose, x, plot, px);
  return html`<svg class="picture doses" width=${width} height=${height} viewBox="0 0 ${width} ${height}" font-size=${px}
      role="group" aria-label=${say("dose-chart", { figure: chosen.name(format) })}>
    ${svg`<g aria-hidden="true">
      ${remarkRows("dose-of", { left: 0.3 * px, top: 0, right: width, bottom: head }, heading, px)}
      <text class="dose-title" x=${0.3 * px} y=${head + 1.2 * px}>${title}</text>
      ${y.ticks(5).map(
        (tick) => svg`<line class="grid" x1=${plot.left} x2=${plot.right} y1=${y(tick)} y2=${y(tick)} />
          <text class="dose-tick end" x=${plot.left - 0.5 * px} y=${y(tick) + 0.35 * px}>${shown(tick, 1)}</text>`,
      )}
      ${x
        .ticks(5)
        .filter(
          (tick) =>
            Number.isInteger(tick) &&
            (still || x(tick) < knob.left - px || x(tick) > knob.left + knob.wide + px),
        )
        .map(
          (tick) =>
            svg`<text class="dose-tick middle" x=${x(tick)} y=${plot.bottom + 1.3 * px}>${tick}</text>`,
        )}
      <text class="dose-tick middle" x=${(plot.left + plot.right) / 2} y=${plot.bottom + 2.6 * px}>${say("dose-axis")}</text>
      ${oilEnds ? ending(teach, told, plot, width, px) : nothing}
      ${level === null ? nothing : svg`<line class="hold-line" x1=${plot.left} x2=${plot.right} y1=${level} y2=${level} />`}
      ${lines.map(
        ({
          at,
          points,
        }) => svg`<path class="dose-line s${at}" stroke-width=${px / 4.5} stroke-dasharray=${(DASHES[at] ?? []).map((one) => (one * px) / 12.5).join(" ") || nothing}
          d=${line<Point>()(points) ?? ""} />`,
      )}
      ${still ? nothing : svg`<line class="cursor-line" x1=${x(dose)} x2=${x(dose)} y1=${plot.top} y2=${plot.bottom + 0.25 * px} />`}
      ${laid.level ? remarkRows("hold-label", laid.level.box, [laid.level.text], px, true) : nothing}
      ${laid.remarks.map((one) => remark(one, px))}
      ${still ? nothing : doseMark(lines, dose, x, plot, px)}
      ${laid.remarks.map((one) => (one.kind === "stop" ? stopMark(one, px) : nothing))}
      ${column.names}
    </g>
    ${still ? nothing : touch(teach, x, plot, px, summary(lines, figures, dose))}`}
    ${column.code}
  </svg>`;
}

/** So much of the figures' own range is left free beside them, until all that is to be said has room. */
const ROOMS = [0, 0.3, 0.6, 1];

/** What is left unsaid weighs so many times as much as room that flattens the lines (ours). */
const UNSAID = 2.5;

/** The picture that says the most of what is to be said, and leaves little room beside its lines for that. */
function fullest<T extends { laid: Said }>(draw: (room: number) => T): T {
  const [first, ...others] = ROOMS.map((room) => () => {
    const one = draw(room);
    return { one, worse: UNSAID * one.laid.left + room };
  });
  let best = (first as () => { one: T; worse: number })();
  for (const next of others) {
    if (best.one.laid.left === 0) break;
    const other = next();
    if (other.worse < best.worse) best = other;
  }
  return best.one;
}

/** The axis of the figure. */
function upright(all: number[], celsius: boolean, room: number, { top, bottom }: Box): Scale {
  const [low, high] = [celsius ? Math.min(...all) : 0, Math.max(...all)];
  // Never so near that a tenth of a degree looks like a step. A temperature has room below it, a share above.
  const range = Math.max(high - low, 8);
  return celsius
    ? linear([low - 2 - room * range, Math.max(high, low + 8)], [bottom, top], 5)
    : linear([0, Math.max(20, high) * (1 + room)], [bottom, top], 5);
}

/** What the grade is does not fit beside a line; the table under it says so. */
const shortName = ({ bench }: Teach, one: Hardener): string => bench.nameOf(one.id).replace(/ \(.*\)$/, "");

const atDose = (dose_percent: number, figure: string): string =>
  say("figure-at-dose", { dose_percent, figure });

/** Where there is nothing more to replace. */
function ending({ swap }: Teach, told: Hardener[], plot: Box, width: number, px: number): SVGTemplateResult {
  const most_percent = Math.max(...told.map((one) => one.most_percent));
  const text = say(swap === "all" ? "all-ends" : "oil-ends", { most_percent });
  const long = widthOf(text, { px: 0.9 * px, weight: 450 });
  const middle = Math.min(Math.max(plot.right - long / 2, long / 2 + 0.3 * px), width - long / 2);
  return svg`<text class="dose-tick middle" font-size=${0.9 * px} x=${middle} y=${plot.bottom + 3.9 * px}>${text}</text>`;
}

/** How large the code is, in heights of type: what a phone reads from the back of a room, and the least of it (ours). */
const CODE = 7;
const LEAST_CODE = 4;

/**
 * The column beside the plot: the names at the ends of their lines, pushed apart where lines end close together, with the figure at the
 * dose under each; and the code above or below them, wherever it pushes them less.
 */
function ends(
  lines: Line[],
  names: string[][],
  figures: (string | null)[],
  column: Box,
  px: number,
  code: Code | null,
): { names: SVGTemplateResult[]; code: SVGTemplateResult | typeof nothing } {
  const step = LEADING * px;
  const gap = 0.25 * px;
  const order = lines
    .filter(({ points }) => points.length)
    .toSorted((a, b) => (a.points.at(-1)?.[1] ?? 0) - (b.points.at(-1)?.[1] ?? 0))
    .map(({ at, points }) => {
      const end = points.at(-1) ?? [0, 0];
      // As many rows where there is no figure at this dose, so that nothing moves while it is dragged.
      return { at, end, tall: ((names[at]?.length ?? 1) + 1) * step };
    });
  const asked = order.reduce((sum, { tall }) => sum + tall + gap, 0);
  const caption = remarkType(px);
  const rows = code ? broken(say("follow-by-code"), caption, column.right - column.left) : [];
  const under = rows.length * LEADING * caption.px;
  const room = column.bottom - column.top - asked - under - px;
  const side = Math.min(CODE * px, column.right - column.left - 0.5 * px, room);
  const coded = code !== null && side >= LEAST_CODE * px;
  const high = coded ? side + under + 0.5 * px : 0;
  const stacks = (coded ? [high, 0] : [0]).map((above) => {
    const [from, to] = [column.top + above, column.bottom - (coded && !above ? high : 0)];
    const tops = stacked(order, from, to, gap);
    const moved = order.reduce(
      (sum, { end, tall }, i) => sum + Math.abs((tops[i] ?? 0) + tall / 2 - end[1]),
      0,
    );
    return { tops, moved, codeTop: above ? column.top : to + 0.5 * px };
  });
  const best = stacks.toSorted((a, b) => a.moved - b.moved)[0];
  const { left } = column;
  return {
    names: order.map(({ at, end, tall }, i) => {
      const top = best?.tops[i] ?? 0;
      const own = names[at] ?? [];
      // What ends before the others do is closed off, so that nobody reads it on along the thread.
      const short = end[0] < left - 1.2 * px;
      return svg`${short ? svg`<line class="dose-end s${at}" stroke-width=${px / 4.5} x1=${end[0]} x2=${end[0]} y1=${end[1] - 0.5 * px} y2=${end[1] + 0.5 * px} />` : nothing}
        ${thread([end[0] + 0.25 * px, end[1]], [left - 0.3 * px, top + tall / 2], px)}
        ${own.map((text, row) => svg`<text class="dose-name s${at}" x=${left} y=${top + row * step + 0.95 * px}>${text}</text>`)}
        ${figures[at] ? svg`<text class="dose-figure" x=${left} y=${top + own.length * step + 0.95 * px}>${figures[at]}</text>` : nothing}`;
    }),
    code: code && coded && best ? codeOf(code, left, best.codeTop, side, rows, px) : nothing,
  };
}

/** The tops of texts over each other, each as near to its line's end as the others let it. */
function stacked(order: { end: Point; tall: number }[], from: number, to: number, gap: number): number[] {
  let free = from;
  const tops = order.map(({ end, tall }) => {
    const top = Math.max(free, end[1] - tall / 2);
    free = top + tall + gap;
    return top;
  });
  // What was pushed out at the foot pushes back.
  let foot = to;
  for (let i = order.length - 1; i >= 0; i--) {
    tops[i] = Math.min(tops[i] ?? 0, foot - (order[i]?.tall ?? 0));
    foot = (tops[i] ?? 0) - gap;
  }
  return tops;
}

/** From a text to what it speaks of: grey points, so that nobody takes it for a line of the picture. */
function thread(from: Point, to: Point, px: number): SVGTemplateResult {
  return svg`<line class="dose-thread" stroke-width=${px / 8} stroke-dasharray="0 ${px / 3}" x1=${from[0]} y1=${from[1]} x2=${to[0]} y2=${to[1]} />`;
}

/** Rows of a text; on a ground of their own the line of the dose goes under them and not through their words. */
function remarkRows(
  look: string,
  { left, top }: Box,
  rows: string[],
  px: number,
  grounded = false,
): SVGTemplateResult[] {
  const type = remarkType(px);
  return rows.map(
    (row, i) =>
      svg`${
        grounded
          ? svg`<rect class="dose-ground" x=${left} y=${top + i * LEADING * type.px} width=${widthOf(row, type)} height=${LEADING * type.px} />`
          : nothing
      }<text class=${look} font-size=${type.px} x=${left} y=${top + (i * LEADING + 0.95) * type.px}>${row}</text>`,
  );
}

/** A cross where it stops being a butter, over the dot of the dose where both are on one place. */
function stopMark({ at, spot: [cx, cy] }: Remark, px: number): SVGTemplateResult {
  const arm = 0.5 * px;
  return svg`<path class="stop s${at}" stroke-width=${px / 4} d="M${cx - arm} ${cy - arm}l${2 * arm} ${2 * arm}M${cx + arm} ${cy - arm}l${-2 * arm} ${2 * arm}" />`;
}

/** What is said of a place on a line, with a ring there; a cross is drawn over all. */
function remark({ at, kind, spot: [cx, cy], placed }: Remark, px: number): SVGTemplateResult {
  const { box, set, thread: wire } = placed;
  return svg`${set.rows.length ? thread(...wire, px) : nothing}
    ${kind === "stop" ? nothing : svg`<circle class="dose-spot s${at}" cx=${cx} cy=${cy} r=${px / 3} />`}
    ${remarkRows("dose-why", box, set.rows, px, true)}`;
}

/** The link to what is on the picture, for whoever wants to follow on a phone. */
function codeOf(
  { size, path }: Code,
  left: number,
  top: number,
  side: number,
  caption: string[],
  px: number,
): SVGTemplateResult {
  const under: Box = { left, top: top + side, right: left, bottom: top };
  return svg`<svg class="dose-code" x=${left} y=${top} width=${side} height=${side}
      viewBox="-4 -4 ${size + 8} ${size + 8}" role="img" aria-label=${say("follow-by-code")}><rect x="-4" y="-4" width="100%" height="100%" /><path d=${path} /></svg>
    <g aria-hidden="true">${remarkRows("dose-caption", under, caption, px)}</g>`;
}

/** The knob of the dose, on the axis: from where to where. At the largest dose it stays off the names beside the plot. */
function knobOf(
  dose: number,
  x: Scale,
  { right }: Box,
  px: number,
): { left: number; wide: number; text: string } {
  const text = say("dose-short", { dose_percent: dose });
  const wide = widthOf(text, { px, weight: 680 }) + px;
  return { left: Math.min(x(dose) - wide / 2, right + 0.5 * px - wide), wide, text };
}

/** The dose as a dot on each line and a knob on the axis. */
function doseMark(lines: Line[], dose: number, x: Scale, plot: Box, px: number): SVGTemplateResult {
  const here = x(dose);
  const { left, wide, text } = knobOf(dose, x, plot, px);
  const top = plot.bottom + 0.25 * px;
  return svg`${lines.map(({ at, points }) => {
    const point = points.find(([at]) => Math.abs(at - here) < 0.01);
    return point
      ? svg`<circle class="dose-dot s${at}" cx=${point[0]} cy=${point[1]} r=${0.42 * px} stroke-width=${px / 5} />`
      : nothing;
  })}
    <g class="dose-knob"><rect x=${left} y=${top} width=${wide} height=${1.4 * px} rx=${0.7 * px} />
      <text x=${left + px / 2} y=${top + 1.05 * px}>${text}</text></g>`;
}

function summary(lines: Line[], figures: (string | null)[], dose: number): string {
  const told = lines.map(({ name, at }) => `${name} ${figures[at] ?? "–"}`);
  return `${say("dose-short", { dose_percent: dose })}: ${told.join(", ")}`;
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
    const step = keyStep(event);
    if (step === undefined) return;
    event.preventDefault();
    teach.setDose(teach.dose + step);
  };
  return svg`<rect class="dose-touch" x=${plot.left - px} y=${plot.top} width=${plot.right - plot.left + 2 * px} height=${plot.bottom - plot.top + 1.8 * px}
    role="slider" tabindex="0" aria-label=${say("dose-of-hardener")} aria-valuemin="0" aria-valuemax=${teach.most}
    aria-valuenow=${teach.dose} aria-valuetext=${text} @pointerdown=${move} @pointermove=${move} @keydown=${key} />`;
}
