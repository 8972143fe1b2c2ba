// The margin: from the hottest jar to where the butter lets go, with its length; green with room, red
// without.

import { nothing, type SVGTemplateResult, svg } from "lit/html.js";

import type { Behaviour } from "../contract.js";
import { fromUnit, type TemperatureUnit, toUnit } from "../numbers.js";
import type { Scale } from "../scale.js";
import { say } from "../words.js";
import { drawn, inRows, type Label, type Type } from "./labels.js";
import { words as onStrip } from "./strip.js";

const LENGTH: Type = { px: 15, weight: 720 };
const MARK: Type = { px: 13, weight: 600 };
/** How high a row of labels is. */
export const ROW = 17;

/** A temperature of a prediction as closely as it is shown: half a degree, or a whole one of Fahrenheit's. */
function told(celsius: number, unit: TemperatureUnit): number {
  return unit === "F" ? fromUnit(Math.round(toUnit(celsius, unit)), unit) : Math.round(2 * celsius) / 2;
}

/** How far the jar is from letting go, K, by the figures as they are shown, so that they add up on the picture. */
export function roomOf(softening_c: number, hottest_c: number, unit: TemperatureUnit): number {
  return Math.round(100 * (told(softening_c, unit) - hottest_c)) / 100;
}

/** The margin in words. */
export function marginWords({ softening_c }: Behaviour, hottest_c: number, unit: TemperatureUnit): string {
  if (softening_c === null) return say("margin-never");
  const room_k = roomOf(softening_c, hottest_c, unit);
  if (Math.abs(room_k) < 0.05)
    return say(softening_c >= hottest_c ? "margin-just-holds" : "margin-just-short");
  return room_k > 0 ? say("margin-room", { room_k }) : say("margin-short", { short_k: -room_k });
}

/** The arrow at `y`, and in two rows under it its length, and what the strip had no room to say. */
export function margin(
  butter: Behaviour,
  hottest_c: number,
  x: Scale,
  y: number,
  from: number,
  unit: TemperatureUnit,
): SVGTemplateResult {
  const { softening_c, softening_band_c, clear_c } = butter;
  const [left, right] = x.range;
  const inside = (celsius: number) => Math.min(right, Math.max(left, x(celsius)));
  const room = softening_c !== null && softening_c >= hottest_c;
  const hot = inside(hottest_c);
  const soft = softening_c === null ? null : inside(softening_c);
  const words: Label = {
    text: marginWords(butter, hottest_c, unit),
    at: soft === null ? hot : (hot + soft) / 2,
    sides: ["over"],
    off: 0,
    type: LENGTH,
    look: `margin-length ${room ? "room" : "short"}`,
  };
  const labels = inRows([words, ...marks(butter, x)], [left - 10, right + 10]);
  return svg`<g class="margin ${room ? "room" : "short"}">
    ${soft === null ? nothing : svg`<line class="mark" x1=${soft} x2=${soft} y1=${from} y2=${y + 9} />`}
    ${clear_c === null ? nothing : svg`<line class="mark" x1=${inside(clear_c)} x2=${inside(clear_c)} y1=${from} y2=${y + 3} />`}
    ${softEnd(softening_band_c, inside, y)}
    ${soft === null ? nothing : arrow(hot, soft, y)}
    ${drawn(labels, y + 25, ROW)}
  </g>`;
}

/** Where it lets go and where it is clear, if the strip had no room to say it; as one label where that is the same place. */
function marks(butter: Behaviour, x: Scale): Label[] {
  const said = onStrip(butter, x).map(({ part }) => part);
  const softening_c = said.includes("holds") ? null : butter.softening_c;
  const clear_c = said.includes("clear") ? null : butter.clear_c;
  const label = (text: string, at: number, side: "before" | "after"): Label => ({
    text,
    at,
    sides: ["over", side],
    off: -3,
    type: MARK,
    look: "mark-label",
  });
  const both = softening_c !== null && clear_c !== null && Math.abs(softening_c - clear_c) < 0.25;
  if (both) return [label(say("mark-softens-and-clear", { at_c: softening_c }), x(softening_c), "after")];
  return [
    ...(softening_c === null
      ? []
      : [label(say("mark-softens", { at_c: softening_c }), x(softening_c), "before")]),
    ...(clear_c === null ? [] : [label(say("mark-clear", { at_c: clear_c }), x(clear_c), "after")]),
  ];
}

/** Nine in ten lots let go within it: the end of the arrow is as soft as that is wide. */
function softEnd(
  [low, high]: [number | null, number | null],
  inside: (celsius: number) => number,
  y: number,
): SVGTemplateResult | typeof nothing {
  if (low === null || high === null) return nothing;
  const [from, to] = [inside(low), inside(high)];
  return svg`<linearGradient id="soft-end" x1="0" x2="1">
      ${[0, 0.5, 1].map((share) => svg`<stop class="margin-stop" offset=${share} stop-opacity=${share === 0.5 ? 0.55 : 0} />`)}
    </linearGradient>
    <rect class="soft-end" x=${from} y=${y - 9} width=${Math.max(1, to - from)} height="18" fill="url(#soft-end)" />`;
}

function arrow(hot: number, soft: number, y: number): SVGTemplateResult {
  const way = Math.sign(soft - hot) || 1;
  const length = Math.abs(soft - hot);
  // A short one is all head.
  const head = Math.min(11, length);
  return svg`<line class="margin-start" x1=${hot} x2=${hot} y1=${y - 8} y2=${y + 8} />
    <line class="margin-shaft" x1=${hot} x2=${soft - way * head * 0.8} y1=${y} y2=${y} />
    <path class="margin-head" d="M${soft} ${y}l${-way * head} ${-Math.max(3, head * 0.7)}v${2 * Math.max(3, head * 0.7)}Z" />`;
}
