// The heart of the page: one temperature axis. The jar's storage is a column with a small jar at its hot end,
// skin a line; the butter is a strip; an arrow is the margin between the jar and where the butter lets go;
// below, on the same axis, the curve.

import { html, nothing, type SVGTemplateResult, svg, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import type { Behaviour, Curve, Firmness, Storage } from "../../contract.js";
import { degrees, fromUnit, shown, tied, toUnit } from "../../numbers.js";
import { at, type Column, ceiling, columnOf, curves } from "../../parts/curve.js";
import { JAR, jar } from "../../parts/jar.js";
import { keyStep } from "../../parts/keys.js";
import { drawn, inRows, type Type, widthOf } from "../../parts/labels.js";
import { margin } from "../../parts/margin.js";
import { strip } from "../../parts/strip.js";
import { linear, type Scale } from "../../scale.js";
import { say } from "../../words.js";
import type { Look } from "./state.js";

const HEAD = { foot: 42, row: 17, first: 14 };
const STRIP = { top: 48, height: 34 };
const ARROW = STRIP.top + STRIP.height + 15;
/** Where the curve begins, and what is kept free under it; on a phone on its side as little as can be. */
const USUAL = { plotTop: 156, below: 78 };
const LOW = { plotTop: 134, below: 68 };
const SIDE = 14;
/** What the name of a level needs below the highest, px. */
const ROOM = 24;
const PLACE: Type = { px: 14, weight: 680 };
const NOTE: Type = { px: 13, weight: 600 };

/** The ends of the axis: round and steady. */
export function domain(bench: Bench, behaviours: (Behaviour | null)[]): [number, number] {
  const { storage_c, skin_c } = bench.state;
  const ends = behaviours.flatMap((one) => [one?.clear_c ?? 0, one?.softening_c ?? 0]);
  const low = Math.min(0, Math.floor((Math.min(storage_c.coldest, skin_c) - 2) / 10) * 10);
  const high = Math.max(50, Math.ceil((Math.max(storage_c.hottest, skin_c, ...ends) + 3) / 10) * 10);
  return [low, Math.min(high, 100)];
}

export function picture(look: Look): TemplateResult {
  const { bench, view } = look;
  const width = Math.max(120, Math.round(look.frame.width));
  const height = Math.max(236, Math.round(look.frame.height));
  const { plotTop, below } = height < 320 ? LOW : USUAL;
  const { before, after } = bench.pair;
  const unit = bench.store.preferences.temperature;
  const { storage_c, skin_c } = bench.state;
  // Nothing jumps while a finger drags.
  const limits = look.held ?? domain(bench, [before, after]);
  const x = linear(limits, [SIDE, width - SIDE]);
  const plotEnd = height - below;
  const column = after ? columnOf(view, after) : "solid_percent";
  const top = ceiling([before?.curve, after?.curve, look.fresh], column, limits);
  const y = linear([0, top], [plotEnd, plotTop]);
  const [cold, hot] = [
    Math.min(storage_c.coldest, storage_c.hottest),
    Math.max(storage_c.coldest, storage_c.hottest),
  ];
  const narrow = width < 480;
  const jarAt = Math.min(width - JAR.half, Math.max(JAR.half, x(hot)));

  return html`<svg class="picture" width=${width} height=${height} viewBox="0 0 ${width} ${height}" role="group"
      aria-label=${say("picture-label")}>
    ${svg`<g aria-hidden="true">
      <rect class="store-column" x=${x(cold)} y=${HEAD.foot} width=${Math.max(2, x(hot) - x(cold))} height=${plotEnd - HEAD.foot} />
      ${after ? strip(after, skin_c, x, STRIP.top, STRIP.height) : nothing}
      ${[cold, hot].map((edge) => svg`<line class="store-edge" x1=${x(edge)} x2=${x(edge)} y1=${STRIP.top + STRIP.height} y2=${plotEnd} />`)}
      ${after ? curves({ before, after, fresh: look.fresh, view }, x, y) : nothing}
      ${grid(x, y, plotEnd, width, narrow, unit, view === "holding" ? "axis-strength" : "axis-solid")}
      <line class="skin-line" x1=${x(skin_c)} x2=${x(skin_c)} y1=${HEAD.foot - 4} y2=${plotEnd} />
      <circle class="skin-head" cx=${x(skin_c)} cy=${HEAD.foot - 6} r="5" />
      ${after ? jar(after, bench.state.format, jarAt, HEAD.foot) : nothing}
      ${heads([cold, hot], skin_c, x, width, unit, after ? [jarAt - JAR.half, jarAt + JAR.half] : null)}
      ${after ? margin(after, hot, x, ARROW, STRIP.top, unit) : nothing}
      ${after && view === "holding" ? holdsAbove(after, skin_c, x, y, plotEnd) : nothing}
      ${after ? dots(after, column, [cold, hot], skin_c, x, y) : nothing}
    </g>
    ${readout(look, after, before, x, y, plotEnd, width)}
    ${thumbs(look, x, plotEnd + 48)}`}
  </svg>`;
}

/** Where the jar lives and where skin is, beside the small jar and never over it. */
function heads(
  [cold, hot]: [number, number],
  skin_c: number,
  x: Scale,
  width: number,
  unit: "C" | "F",
  small: [number, number] | null,
): SVGTemplateResult[] {
  const placed = inRows(
    [
      {
        text: say("picture-jar", { range: range(cold, hot, unit) }),
        at: small ? x(hot) : (x(cold) + x(hot)) / 2,
        sides: small ? ["before", "after"] : ["over"],
        off: JAR.half + 7,
        type: PLACE,
        look: "store-label",
      },
      {
        text: say("picture-skin", { at: degrees(skin_c, unit) }),
        at: x(skin_c),
        sides: ["after", "before"],
        off: 10,
        type: PLACE,
        look: "skin-label",
      },
    ],
    [2, width - 2],
    2,
    [[x(skin_c) - 2, x(skin_c) + 2], ...(small ? [small] : [])],
  );
  // Beside the head of its line, where there is room for that.
  return drawn(
    placed.map((one) => ({ ...one, row: 1 - one.row })),
    HEAD.first + 9,
    HEAD.row,
  );
}

/** What the line across the curve is. */
function holdsAbove(
  butter: Behaviour,
  skin_c: number,
  x: Scale,
  y: Scale,
  plotEnd: number,
): SVGTemplateResult | typeof nothing {
  const { holding, softening_c } = butter;
  const [left, right] = x.range;
  const text = say("holds-above");
  const level = y(holding.least_percent);
  const width = widthOf(text, NOTE);
  // On the side where no line crosses it, and clear of the figures of the axis.
  const crossed = [x(skin_c), softening_c === null ? left : x(softening_c)].some(
    (line) => line > right - width - 8,
  );
  const place = crossed ? left + 26 : right - width;
  // Zoomed in there is no room for it.
  if (place < left || place + width > right) return nothing;
  return svg`<text class="hold-label" x=${place} y=${Math.min(level - 5, plotEnd - 6)}>${text}</text>`;
}

function range(cold: number, hot: number, unit: "C" | "F"): string {
  const digits = unit === "F" ? 0 : 1;
  return say("from-to", { from: shown(toUnit(cold, unit), digits), to: degrees(hot, unit) });
}

function grid(
  x: Scale,
  y: Scale,
  plotEnd: number,
  width: number,
  narrow: boolean,
  unit: "C" | "F",
  name: "axis-strength" | "axis-solid",
): SVGTemplateResult {
  const [low, high] = x.domain;
  const inUnit = linear([toUnit(low, unit), toUnit(high, unit)], x.range);
  const ticks = inUnit.ticks(width < 240 ? 3 : narrow ? 6 : 11);
  const top = y.domain[1];
  return svg`
    ${[25, 50, 75, 100]
      .filter((level) => level === top || (level < top && y(level) - y(top) >= ROOM))
      .map(
        (level) => svg`<line class="grid" x1=${SIDE} x2=${width - SIDE} y1=${y(level)} y2=${y(level)} />
        <text class="grid-label" x=${SIDE} y=${y(level) - 4}>${level === top ? say(name, { level_percent: level }) : level}</text>`,
      )}
    <line class="base" x1=${SIDE} x2=${width - SIDE} y1=${plotEnd} y2=${plotEnd} />
    ${ticks.map(
      (
        tick,
        i,
      ) => svg`<line class="base" x1=${inUnit(tick)} x2=${inUnit(tick)} y1=${plotEnd} y2=${plotEnd + 5} />
        <text class="tick ${i === 0 ? "start" : i === ticks.length - 1 ? "end" : ""}"
          x=${inUnit(tick) + (i === 0 ? -SIDE + 4 : i === ticks.length - 1 ? SIDE - 4 : 0)} y=${plotEnd + 20}
          >${shown(tick, 0)}${i === ticks.length - 1 ? ` °${unit}` : ""}</text>`,
    )}`;
}

/** The same picture in small, for a list: storage, skin, before and after. */
export function smallPicture(
  bench: Bench,
  before: Behaviour | null,
  after: Behaviour | null,
  storage_c: Storage,
): TemplateResult {
  const [width, height] = [320, 84];
  const limits = domain(bench, [before, after]);
  const x = linear(limits, [0, width]);
  const column = after ? columnOf("holding", after) : "structure_percent";
  const y = linear([0, ceiling([before?.curve, after?.curve], column, limits)], [height - 1, 2]);
  const { skin_c } = bench.state;
  const stored = Math.max(2, x(storage_c.hottest) - x(storage_c.coldest));
  return html`<svg class="picture small" viewBox="0 0 ${width} ${height}" preserveAspectRatio="none" aria-hidden="true">
    ${svg`<rect class="store-column" x=${x(storage_c.coldest)} width=${stored} height=${height} />
    ${after ? curves({ before, after, view: "holding" }, x, y) : nothing}
    <line class="skin-line" x1=${x(skin_c)} x2=${x(skin_c)} y1="0" y2=${height} />
    <line class="base" x1="0" x2=${width} y1=${height - 0.5} y2=${height - 0.5} />`}
  </svg>`;
}

function dots(
  butter: Behaviour,
  column: Column,
  storage: number[],
  skin: number,
  x: Scale,
  y: Scale,
): SVGTemplateResult {
  const level = (celsius: number) => y(at(butter.curve, column, celsius));
  return svg`
    ${storage.map((celsius) => svg`<circle class="store-dot" cx=${x(celsius)} cy=${level(celsius)} r="6" />`)}
    <rect class="skin-dot" x=${x(skin) - 5.5} y=${level(skin) - 5.5} width="11" height="11"
      transform="rotate(45 ${x(skin)} ${level(skin)})" />`;
}

/** What the reader's finger is on, in words. */
export function reading(
  { bench, cursor, view }: Look,
  butter: Behaviour | null,
  before: Behaviour | null,
): string {
  if (cursor === null || !butter) return "";
  const column = columnOf(view, butter);
  const unit = bench.store.preferences.temperature;
  const firmness = firmnessAt(butter.curve, cursor);
  const now = {
    at: degrees(cursor, unit),
    feel: firmness ? say(`firmness-${firmness}`) : "…",
    of: view,
    figure_percent: at(butter.curve, column, cursor),
    least_percent: butter.holding.least_percent,
  };
  return tied(
    before
      ? say("curve-reading-compared", { ...now, before_percent: at(before.curve, column, cursor) })
      : say("curve-reading", now),
  );
}

function firmnessAt(curve: Curve, celsius: number): Firmness | undefined {
  const nearest = curve.at_c.reduce(
    (best, one, i) => (Math.abs(one - celsius) < Math.abs((curve.at_c[best] ?? 0) - celsius) ? i : best),
    0,
  );
  return curve.firmness[nearest];
}

function readout(
  look: Look,
  butter: Behaviour | null,
  before: Behaviour | null,
  x: Scale,
  y: Scale,
  plotEnd: number,
  width: number,
): SVGTemplateResult {
  const { bench, cursor } = look;
  const [low, high] = x.domain;
  const move = (event: PointerEvent) => {
    if (event.type === "pointermove" && event.buttons === 0 && event.pointerType !== "mouse") return;
    const frame = (event.currentTarget as Element).getBoundingClientRect();
    const celsius = x.invert(event.clientX - frame.left + SIDE);
    look.cursor = Math.round(Math.min(high, Math.max(low, celsius)) * 2) / 2;
    bench.refresh();
  };
  const key = (event: KeyboardEvent) => {
    const step = keyStep(event);
    if (step === undefined) return;
    event.preventDefault();
    look.cursor = Math.min(high, Math.max(low, Math.round((look.cursor ?? bench.state.skin_c) + step)));
    bench.refresh();
  };
  const text = reading(look, butter, before);
  return svg`
    <rect class="plot-touch" x=${SIDE} y=${y.range[1] - 14} width=${width - 2 * SIDE} height=${plotEnd - y.range[1] + 14}
      role="slider" tabindex="0" aria-label=${say("read-the-curve")}
      aria-valuemin=${low} aria-valuemax=${high} aria-valuenow=${cursor ?? bench.state.skin_c}
      aria-valuetext=${text || say("curve-not-read")}
      @pointerdown=${move} @pointermove=${move} @keydown=${key} />
    ${
      cursor === null || !butter
        ? nothing
        : svg`<g class="cursor" aria-hidden="true">
            <line x1=${x(cursor)} x2=${x(cursor)} y1=${y.range[1] - 14} y2=${plotEnd} />
            <circle cx=${x(cursor)} cy=${y(at(butter.curve, columnOf(look.view, butter), cursor))} r="7" /></g>`
    }`;
}

/** The two ends of storage, to drag or to move with the arrow keys. */
function thumbs(look: Look, x: Scale, top: number): SVGTemplateResult {
  const { bench } = look;
  const { coldest, hottest } = bench.state.storage_c;
  const [low, high] = x.domain;
  const unit = bench.store.preferences.temperature;
  const thumb = (end: "coldest" | "hottest", celsius: number) => {
    const hand = end === "hottest" ? look.hand : null;
    const set = (value: number) => {
      const step = unit === "F" ? fromUnit(Math.round(toUnit(value, unit)), unit) : Math.round(value * 2) / 2;
      const bounded = Math.min(high, Math.max(low, step));
      const storage = { ...bench.state.storage_c };
      storage[end] =
        end === "coldest" ? Math.min(bounded, storage.hottest) : Math.max(bounded, storage.coldest);
      bench.drafts.delete(`storage-${end}`);
      if (storage[end] === bench.state.storage_c[end]) return;
      bench.store.change({ storage_c: storage }, `drag-${end}`);
      hand?.move();
    };
    const down = (event: PointerEvent) => {
      (event.currentTarget as Element).setPointerCapture(event.pointerId);
      look.held = [low, high];
      hand?.begin();
    };
    const move = (event: PointerEvent) => {
      if (!(event.currentTarget as Element).hasPointerCapture(event.pointerId)) return;
      const frame = (event.currentTarget as SVGElement).ownerSVGElement?.getBoundingClientRect();
      if (frame) set(x.invert(event.clientX - frame.left));
    };
    const up = () => {
      look.held = null;
      hand?.rest();
      bench.refresh();
    };
    const key = (event: KeyboardEvent) => {
      const step = keyStep(event, 0.5);
      if (step === undefined) return;
      event.preventDefault();
      // From where it is by now: of two quick keys the second may come before the first is drawn.
      const now = bench.state.storage_c[end];
      set(now + (unit === "F" ? Math.sign(step) * Math.max(Math.abs(step), 5 / 9) : step));
    };
    const out = end === "coldest" ? -36 : -12;
    return svg`<g class="thumb" role="slider" tabindex="0" aria-label=${say(end === "coldest" ? "storage-coldest" : "storage-hottest")}
        aria-valuemin=${low} aria-valuemax=${high} aria-valuenow=${celsius} aria-valuetext=${degrees(celsius, unit)}
        @pointerdown=${down} @pointermove=${move} @pointerup=${up} @pointercancel=${up} @lostpointercapture=${up} @keydown=${key} @focus=${() => hand?.begin()}>
      <rect class="thumb-reach" x=${x(celsius) + out} y=${top - 26} width="48" height="52" />
      <circle class="thumb-face" cx=${x(celsius)} cy=${top} r="15" />
      <path class="thumb-grip" d="M${x(celsius) - 3} ${top - 5}v10M${x(celsius) + 3} ${top - 5}v10" />
    </g>`;
  };
  return svg`
    <line class="track" x1=${SIDE} x2=${x.range[1]} y1=${top} y2=${top} aria-hidden="true" />
    <line class="track filled" x1=${x(coldest)} x2=${x(hottest)} y1=${top} y2=${top} aria-hidden="true" />
    ${thumb("coldest", coldest)}${thumb("hottest", hottest)}`;
}
