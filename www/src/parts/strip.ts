// The butter itself as a strip along the temperatures: full where it keeps its shape, pale from where it lets
// go.

import { type SVGTemplateResult, svg } from "lit/html.js";

import type { Behaviour } from "../contract.js";
import type { Scale } from "../scale.js";
import { say } from "../words.js";
import { at, columnOf } from "./curve.js";
import { type Type, widthOf } from "./labels.js";

const LABEL: Type = { px: 14, weight: 640 };

/** How dense it is drawn with so many times what it needs: what holds is told from what does not at a glance. */
const density = (times: number) => (times >= 1 ? 0.7 + 0.3 * Math.min(1, (times - 1) / 3) : 0.26 * times);

export function strip(
  butter: Behaviour,
  skin_c: number,
  x: Scale,
  top: number,
  height: number,
): SVGTemplateResult {
  const { curve, holding, softening_c } = butter;
  const [low, high] = x.domain;
  const [left, right] = x.range;
  const column = columnOf("holding", butter);
  const times = (celsius: number) => at(curve, column, celsius) / holding.least_percent;
  const step = (high - low) / 40;
  const even = Array.from({ length: 41 }, (_, i): [number, number] => [
    low + i * step,
    times(low + i * step),
  ]);
  // A clean edge where it lets go.
  const edge: [number, number][] =
    softening_c !== null && softening_c > low && softening_c < high
      ? [
          [softening_c, 1],
          [softening_c, 0.999],
        ]
      : [];
  const stops = [...even, ...edge].toSorted((a, b) => a[0] - b[0] || b[1] - a[1]);
  return svg`
    <linearGradient id="melting" x1="0" x2="1">
      ${stops.map(
        ([celsius, of]) => svg`<stop class="butter-stop" offset=${((celsius - low) / (high - low)).toFixed(4)}
          stop-opacity=${density(of).toFixed(3)} />`,
      )}
    </linearGradient>
    <rect class="strip-ground" x=${left} y=${top} width=${right - left} height=${height} rx="10" />
    <rect class="strip" x=${left} y=${top} width=${right - left} height=${height} rx="10" fill="url(#melting)" />
    ${words(butter, x, x(skin_c)).map(({ text, look, left }) => svg`<text class="strip-label ${look}" x=${left} y=${top + height / 2 + 5}>${text}</text>`)}`;
}

/** A word on the strip: of its part that holds, that is slack, or that is clear. */
export interface Word {
  part: "holds" | "slack" | "clear";
  text: string;
  look: string;
  left: number;
}

/** What is said on the strip, each where its part has room for it. */
export function words({ softening_c, clear_c }: Behaviour, x: Scale, skin: number | null = null): Word[] {
  const [left, right] = x.range;
  const within = (celsius: number | null) =>
    celsius === null ? left : Math.min(right, Math.max(left, x(celsius)));
  const lets = within(softening_c);
  const clears = Math.max(lets, within(clear_c));
  const parts: [Word["part"], string, number, number][] = [
    ["holds", softening_c === null ? "" : say("strip-holds", { at_c: softening_c }), left, lets],
    ["slack", say("strip-slack"), lets, clears],
    ["clear", clear_c === null ? say("strip-liquid") : say("mark-clear", { at_c: clear_c }), clears, right],
  ];
  return parts.flatMap(([part, text, from, to]) => {
    const width = widthOf(text, LABEL);
    if (!text || to - from < width + 14) return [];
    const look = part === "holds" ? "on-butter" : "";
    const begin = part === "slack" ? (from + to - width) / 2 : from + (part === "holds" ? 12 : 8);
    // Beside the line of skin rather than across it.
    const crossed = skin !== null && skin > begin - 3 && skin < begin + width + 3;
    const after = (skin ?? 0) + 8;
    const left = crossed && part !== "slack" && after + width < to - 4 ? after : begin;
    return [{ part, text, look, left }];
  });
}
