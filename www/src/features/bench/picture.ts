// The heart of the page: one temperature axis. The jar's storage is a column, skin a line, the butter a strip that
// fades as it melts; under the strip, on the same axis, the curve of solid fat content, before and after.

import { area, curveMonotoneX, line } from "d3-shape";
import { html, nothing, type SVGTemplateResult, svg, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import type { Behaviour, Curve, Firmness, Storage } from "../../contract.js";
import { degrees, fromUnit, shown, tied, toUnit } from "../../numbers.js";
import { linear, type Scale } from "../../scale.js";
import { say } from "../../words.js";
import type { Look } from "./state.js";

const STRIP = { top: 46, height: 40 };
const PLOT_TOP = 126;
const BELOW_PLOT = 78;
const SIDE = 14;

/** The ends of the axis: round and steady. */
export function domain(bench: Bench, behaviours: (Behaviour | null)[]): [number, number] {
  const { storage_c, skin_c } = bench.state;
  const clears = behaviours.map((one) => one?.clear_c ?? 0);
  const low = Math.min(0, Math.floor((Math.min(storage_c.coldest, skin_c) - 2) / 10) * 10);
  const high = Math.max(50, Math.ceil((Math.max(storage_c.hottest, skin_c, ...clears) + 3) / 10) * 10);
  return [low, Math.min(high, 100)];
}

/** Reads a curve between its points. */
export function at(curve: Curve, column: "solid_percent" | "structure_percent", celsius: number): number {
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

/** The top of the scale, percent solid: the least of three that all curves stay under, for most butters fill half of it. */
function ceiling(all: (Curve | null | undefined)[], [low, high]: [number, number]): number {
  const most = Math.max(
    0,
    ...all.flatMap((curve) =>
      curve
        ? [
            at(curve, "solid_percent", low),
            ...curve.solid_percent.filter((_, i) => inside(curve, i, low, high)),
          ]
        : [],
    ),
  );
  return most <= 50 ? 50 : most <= 75 ? 75 : 100;
}

const inside = (curve: Curve, i: number, low: number, high: number) =>
  (curve.at_c[i] ?? low) > low && (curve.at_c[i] ?? high) < high;

export function picture(look: Look): TemplateResult {
  const { bench } = look;
  const width = Math.max(280, Math.round(look.frame.width));
  const height = Math.max(320, Math.round(look.frame.height));
  const { before, after } = bench.pair;
  const unit = bench.store.preferences.temperature;
  const { storage_c, skin_c } = bench.state;
  // Nothing jumps while a finger drags.
  const limits = look.held ?? domain(bench, [before, after]);
  const x = linear(limits, [SIDE, width - SIDE]);
  const plotEnd = height - BELOW_PLOT;
  const y = linear([0, ceiling([before?.curve, after?.curve, look.fresh], limits)], [plotEnd, PLOT_TOP]);
  const [cold, hot] = [
    Math.min(storage_c.coldest, storage_c.hottest),
    Math.max(storage_c.coldest, storage_c.hottest),
  ];
  const narrow = width < 480;

  const store = svg`
    <rect class="store-column" x=${x(cold)} y="24" width=${Math.max(2, x(hot) - x(cold))} height=${plotEnd - 24} />
    ${columnLabel(x(cold), x(hot), width, say("picture-jar", { range: range(cold, hot, unit) }))}`;
  const skin = svg`
    <line class="skin-line" x1=${x(skin_c)} x2=${x(skin_c)} y1="38" y2=${plotEnd} />
    <circle class="skin-head" cx=${x(skin_c)} cy="36" r="5" />
    ${
      x(skin_c) + 96 < width
        ? svg`<text class="skin-label" x=${x(skin_c) + 10} y="39">${say("picture-skin", { at: degrees(skin_c, unit) })}</text>`
        : svg`<text class="skin-label end" x=${x(skin_c) - 10} y="39">${say("picture-skin", { at: degrees(skin_c, unit) })}</text>`
    }`;

  return html`<svg class="picture" width=${width} height=${height} viewBox="0 0 ${width} ${height}" role="group"
      aria-label=${say("picture-label")}>
    ${svg`<g aria-hidden="true">
      ${store}
      ${after ? strip(after, x, limits, width) : nothing}
      ${[cold, hot].map((edge) => svg`<line class="store-edge" x1=${x(edge)} x2=${x(edge)} y1="24" y2=${plotEnd} />`)}
      ${after ? curves(before, after, x, y, limits, look.fresh) : nothing}
      ${grid(x, y, plotEnd, width, narrow, unit)}
      ${skin}
      ${after ? marks(after, x, width, unit) : nothing}
      ${after ? dots(after, [cold, hot], skin_c, x, y) : nothing}
    </g>
    ${readout(look, after, before, x, y, plotEnd, width)}
    ${thumbs(look, x, plotEnd + 48)}`}
  </svg>`;
}

function range(cold: number, hot: number, unit: "C" | "F"): string {
  const digits = unit === "F" ? 0 : 1;
  return say("from-to", { from: shown(toUnit(cold, unit), digits), to: degrees(hot, unit) });
}

function columnLabel(left: number, right: number, width: number, text: string): SVGTemplateResult {
  const half = text.length * 3.9;
  const middle = Math.min(width - half - 2, Math.max(half + 2, (left + right) / 2));
  return svg`<text class="store-label" x=${middle} y="15">${text}</text>`;
}

function grid(
  x: Scale,
  y: Scale,
  plotEnd: number,
  width: number,
  narrow: boolean,
  unit: "C" | "F",
): SVGTemplateResult {
  const [low, high] = x.domain;
  const inUnit = linear([toUnit(low, unit), toUnit(high, unit)], x.range);
  const ticks = inUnit.ticks(narrow ? 6 : 11);
  const top = y.domain[1];
  return svg`
    ${[25, 50, 75, 100]
      .filter((level) => level <= top)
      .map(
        (level) => svg`<line class="grid" x1=${SIDE} x2=${width - SIDE} y1=${y(level)} y2=${y(level)} />
        <text class="grid-label" x=${SIDE} y=${y(level) - 4}>${level === top ? say("axis-solid", { level_percent: level }) : level}</text>`,
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

/** The butter itself: as dense as it is solid. */
function strip(butter: Behaviour, x: Scale, [low, high]: [number, number], width: number): SVGTemplateResult {
  const { curve, clear_c: clears } = butter;
  const step = (high - low) / 40;
  const stops = Array.from({ length: 41 }, (_, i) => low + i * step);
  const middle = STRIP.top + STRIP.height / 2 + 5;
  const solidAtStart = at(curve, "solid_percent", low + 5) > 38;
  const liquidAtEnd =
    at(curve, "solid_percent", high - 4) < 30 && (clears === null || x(clears) < width - 90);
  return svg`
    <linearGradient id="melting" x1="0" x2="1">
      ${stops.map(
        (celsius) => svg`<stop class="butter-stop" offset=${(celsius - low) / (high - low)}
          stop-opacity=${Math.min(1, at(curve, "solid_percent", celsius) / 65).toFixed(3)} />`,
      )}
    </linearGradient>
    <rect class="strip-ground" x=${SIDE} y=${STRIP.top} width=${width - 2 * SIDE} height=${STRIP.height} rx="10" />
    <rect class="strip" x=${SIDE} y=${STRIP.top} width=${width - 2 * SIDE} height=${STRIP.height} rx="10" fill="url(#melting)" />
    <text class="strip-label ${solidAtStart ? "on-butter" : ""}" x=${SIDE + 12} y=${middle}>${say(solidAtStart ? "strip-solid" : "strip-soft")}</text>
    ${liquidAtEnd ? svg`<text class="strip-label end" x=${width - SIDE - 12} y=${middle}>${say("strip-liquid")}</text>` : nothing}`;
}

/** To half a degree, as the verdict says it. */
const about = (celsius: number, unit: "C" | "F") =>
  unit === "F" ? degrees(celsius, unit, 0) : degrees(Math.round(celsius * 2) / 2, unit);

/** Where it softens and where it is clear. */
function marks(butter: Behaviour, x: Scale, width: number, unit: "C" | "F"): SVGTemplateResult {
  const { softening_c: softens, clear_c: clears } = butter;
  const foot = STRIP.top + STRIP.height;
  const clamp = (place: number, text: string, end: boolean) =>
    end ? Math.max(place, text.length * 8) : Math.min(place, width - text.length * 8);
  const soft = softens === null ? "" : say("mark-softens", { at: about(softens, unit) });
  const clear = clears === null ? "" : say("mark-clear", { at: about(clears, unit) });
  return svg`
    ${
      softens === null
        ? nothing
        : svg`<line class="mark" x1=${x(softens)} x2=${x(softens)} y1=${STRIP.top} y2=${foot + 6} />
          <text class="mark-label end" x=${clamp(x(softens) + 3, soft, true)} y=${foot + 20}>${soft}</text>`
    }
    ${
      clears === null
        ? nothing
        : svg`<line class="mark" x1=${x(clears)} x2=${x(clears)} y1=${STRIP.top} y2=${foot + 6} />
          <text class="mark-label" x=${clamp(x(clears) - 3, clear, false)} y=${foot + 20}>${clear}</text>`
    }`;
}

function points(curve: Curve, [low, high]: [number, number]): [number, number][] {
  const inside = curve.at_c
    .map((celsius, i): [number, number] => [celsius, curve.solid_percent[i] ?? 0])
    .filter(([celsius]) => celsius > low && celsius < high);
  return [[low, at(curve, "solid_percent", low)], ...inside, [high, at(curve, "solid_percent", high)]];
}

function curves(
  before: Behaviour | null,
  after: Behaviour,
  x: Scale,
  y: Scale,
  limits: [number, number],
  fresh: Curve | null = null,
): SVGTemplateResult {
  const stroke = line<[number, number]>(
    ([celsius]) => x(celsius),
    ([, solid]) => y(solid),
  ).curve(curveMonotoneX);
  const fill = area<[number, number]>(
    ([celsius]) => x(celsius),
    y(0),
    ([, solid]) => y(solid),
  ).curve(curveMonotoneX);
  const now = points(after.curve, limits);
  const width = after.band.solid_percent;
  const top = y.domain[1];
  const within = area<[number, number]>(
    ([celsius]) => x(celsius),
    ([, solid]) => y(Math.max(0, solid - width)),
    // Where nothing is solid, nothing is uncertain: the clear point has a band of its own.
    ([, solid]) => y(Math.min(top, solid + width * Math.min(1, solid / 3))),
  );
  return svg`
    <path class="curve-fill" d=${fill(now)} />
    <path class="curve-band" d=${within(now)} />
    ${before ? svg`<path class="curve before" d=${stroke(points(before.curve, limits))} />` : nothing}
    ${fresh ? svg`<path class="curve fresh" d=${stroke(points(fresh, limits))} />` : nothing}
    <path class="curve" d=${stroke(now)} />`;
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
  const y = linear([0, ceiling([before?.curve, after?.curve], limits)], [height - 1, 2]);
  const { skin_c } = bench.state;
  const column = Math.max(2, x(storage_c.hottest) - x(storage_c.coldest));
  return html`<svg class="picture small" viewBox="0 0 ${width} ${height}" preserveAspectRatio="none" aria-hidden="true">
    ${svg`<rect class="store-column" x=${x(storage_c.coldest)} width=${column} height=${height} />
    ${after ? curves(before, after, x, y, limits) : nothing}
    <line class="skin-line" x1=${x(skin_c)} x2=${x(skin_c)} y1="0" y2=${height} />
    <line class="base" x1="0" x2=${width} y1=${height - 0.5} y2=${height - 0.5} />`}
  </svg>`;
}

function dots(butter: Behaviour, storage: number[], skin: number, x: Scale, y: Scale): SVGTemplateResult {
  const level = (celsius: number) => y(at(butter.curve, "solid_percent", celsius));
  return svg`
    ${storage.map((celsius) => svg`<circle class="store-dot" cx=${x(celsius)} cy=${level(celsius)} r="6" />`)}
    <rect class="skin-dot" x=${x(skin) - 5.5} y=${level(skin) - 5.5} width="11" height="11"
      transform="rotate(45 ${x(skin)} ${level(skin)})" />`;
}

/** What the reader's finger is on, in words. */
export function reading({ bench, cursor }: Look, butter: Behaviour | null, before: Behaviour | null): string {
  if (cursor === null || !butter) return "";
  const unit = bench.store.preferences.temperature;
  const firmness = firmnessAt(butter.curve, cursor);
  const now = {
    at: degrees(cursor, unit),
    feel: firmness ? say(`firmness-${firmness}`) : "…",
    solid_percent: at(butter.curve, "solid_percent", cursor),
  };
  return tied(
    before
      ? say("curve-reading-compared", { ...now, before_percent: at(before.curve, "solid_percent", cursor) })
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
    const step = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1, PageDown: -5, PageUp: 5 }[
      event.key
    ];
    if (step === undefined) return;
    event.preventDefault();
    look.cursor = Math.min(high, Math.max(low, Math.round((look.cursor ?? bench.state.skin_c) + step)));
    bench.refresh();
  };
  const text = reading(look, butter, before);
  return svg`
    <rect class="plot-touch" x=${SIDE} y=${PLOT_TOP - 14} width=${width - 2 * SIDE} height=${plotEnd - PLOT_TOP + 14}
      role="slider" tabindex="0" aria-label=${say("read-the-curve")}
      aria-valuemin=${low} aria-valuemax=${high} aria-valuenow=${cursor ?? bench.state.skin_c}
      aria-valuetext=${text || say("curve-not-read")}
      @pointerdown=${move} @pointermove=${move} @keydown=${key} />
    ${
      cursor === null || !butter
        ? nothing
        : svg`<g class="cursor" aria-hidden="true">
            <line x1=${x(cursor)} x2=${x(cursor)} y1=${PLOT_TOP - 14} y2=${plotEnd} />
            <circle cx=${x(cursor)} cy=${y(at(butter.curve, "solid_percent", cursor))} r="7" /></g>`
    }`;
}

/** The two ends of storage, to drag or to move with the arrow keys. */
function thumbs(look: Look, x: Scale, top: number): SVGTemplateResult {
  const { bench } = look;
  const { coldest, hottest } = bench.state.storage_c;
  const [low, high] = x.domain;
  const unit = bench.store.preferences.temperature;
  const thumb = (end: "coldest" | "hottest", celsius: number) => {
    const set = (value: number) => {
      const step = unit === "F" ? fromUnit(Math.round(toUnit(value, unit)), unit) : Math.round(value * 2) / 2;
      const bounded = Math.min(high, Math.max(low, step));
      const storage = { ...bench.state.storage_c };
      storage[end] =
        end === "coldest" ? Math.min(bounded, storage.hottest) : Math.max(bounded, storage.coldest);
      bench.drafts.delete(`storage-${end}`);
      if (storage[end] !== bench.state.storage_c[end])
        bench.store.change({ storage_c: storage }, `drag-${end}`);
    };
    const down = (event: PointerEvent) => {
      (event.currentTarget as Element).setPointerCapture(event.pointerId);
      look.held = [low, high];
    };
    const move = (event: PointerEvent) => {
      if (!(event.currentTarget as Element).hasPointerCapture(event.pointerId)) return;
      const frame = (event.currentTarget as SVGElement).ownerSVGElement?.getBoundingClientRect();
      if (frame) set(x.invert(event.clientX - frame.left));
    };
    const up = () => {
      look.held = null;
      bench.refresh();
    };
    const key = (event: KeyboardEvent) => {
      const step = {
        ArrowLeft: -0.5,
        ArrowDown: -0.5,
        ArrowRight: 0.5,
        ArrowUp: 0.5,
        PageDown: -5,
        PageUp: 5,
      }[event.key];
      if (step === undefined) return;
      event.preventDefault();
      set(celsius + (unit === "F" ? Math.sign(step) * Math.max(Math.abs(step), 5 / 9) : step));
    };
    const out = end === "coldest" ? -36 : -12;
    return svg`<g class="thumb" role="slider" tabindex="0" aria-label=${say(end === "coldest" ? "storage-coldest" : "storage-hottest")}
        aria-valuemin=${low} aria-valuemax=${high} aria-valuenow=${celsius} aria-valuetext=${degrees(celsius, unit)}
        @pointerdown=${down} @pointermove=${move} @pointerup=${up} @pointercancel=${up} @lostpointercapture=${up} @keydown=${key}>
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
