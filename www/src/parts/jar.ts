// A small jar at the hottest storage that holds, slumps or runs, the more the less keeps its shape.

import { type SVGTemplateResult, svg } from "lit/html.js";

import type { Behaviour, Format } from "../contract.js";
import { at, columnOf } from "./curve.js";

/** Half of how wide it is drawn, and how high. */
export const JAR = { half: 20, height: 38 };

export type Stand = "holds" | "slumps" | "runs";

/** What it does at its hottest. */
export function stand({ places: { hottest } }: Behaviour): Stand {
  if (hottest.holds) return "holds";
  return hottest.firmness === "pourable" ? "runs" : "slumps";
}

/** Drawn with the middle of its foot at a place. */
export function jar(butter: Behaviour, format: Format, x: number, foot: number): SVGTemplateResult {
  const now = stand(butter);
  const { holding, curve, places } = butter;
  const times = at(curve, columnOf("holding", butter), places.hottest.at_c) / holding.least_percent;
  const drawing =
    format === "bar" || format === "stick" ? block(format, now, times) : inGlass(format, now, times);
  return svg`<g class="jar ${now}" transform="translate(${x} ${foot})">${drawing}</g>`;
}

/** From 0 to 1, as far as a figure is from one end to another. */
const share = (figure: number, from: number, to: number) =>
  Math.min(1, Math.max(0, (figure - from) / (to - from)));
const r = (figure: number) => Math.round(figure * 10) / 10;

function inGlass(format: Format, now: Stand, times: number): SVGTemplateResult {
  const glass = svg`<path class="glass" d="M-14 -24V-5Q-14 0 -9 0H9Q14 0 14 -5V-24M-16 -25H16" />`;
  if (now === "runs") {
    // It lies, and what was in it comes out of its mouth.
    return svg`<path class="butter" d="M-13 -1V-9Q0 -8 11 -4Q17 -3 20 0H-10Q-13 0 -13 -1Z" />
      <g transform="translate(-28 0) rotate(90 14 0)">${glass}</g>`;
  }
  if (now === "slumps") {
    // The less there is to hold it, the lower it lies and the more oil stands on it.
    const down = r(3 + 8 * share(1 - times, 0, 0.7));
    return svg`<path class="oil" d="M-13 -20H13V-6H-13Z" />
      <path class="butter" d="M-13 -19Q-6 ${-19 + down} 0 ${-19 + down}Q6 ${-19 + down} 13 -19V-5Q13 -1 9 -1H-9Q-13 -1 -13 -5Z" />${glass}
      <path class="drop" d="M18 -12q-3 5 0 6q3 -1 0 -6Z" />`;
  }
  const up = 0.6 + 0.4 * share(times, 1, 2.5);
  const peak =
    format === "whipped"
      ? `C-13 ${r(-25 - 5 * up)} -7 ${r(-25 - 4 * up)} -6 ${r(-25 - 6 * up)}C-5 ${r(-25 - 10 * up)} 0 ${r(-25 - 14 * up)} 3 ${r(-25 - 12 * up)}C1 ${r(-25 - 9 * up)} 6 ${r(-25 - 8 * up)} 7 ${r(-25 - 4 * up)}C13 ${r(-25 - 3 * up)} 13 -25 13 -24`
      : `Q-8 ${r(-25 - 4 * up)} 0 ${r(-25 - 5 * up)}Q8 ${r(-25 - 4 * up)} 13 -24`;
  return svg`<path class="butter" d="M-13 -24${peak}V-5Q13 -1 9 -1H-9Q-13 -1 -13 -5Z" />${glass}`;
}

function block(format: Format, now: Stand, times: number): SVGTemplateResult {
  const tube = format === "stick" ? svg`<path class="glass" d="M-8 -14V0H8V-14Z" />` : svg``;
  if (now === "runs") return svg`<path class="butter" d="M-19 0Q-14 -6 0 -5Q14 -6 19 0Z" />${tube}`;
  const lean = now === "slumps" ? r(6 * share(1 - times, 0, 0.8) + 3) : 0;
  if (format === "stick") {
    return svg`<path class="butter" d="M-7 -1V${-30 + lean}Q${lean} ${-38 + lean} ${7 + lean} ${-28 + lean}L7 -1Z" />${tube}`;
  }
  return svg`<path class="butter" d="M${-16 - lean / 3} 0Q-16 ${-10 + lean} -13 ${-22 + lean}Q0 ${-22 + 1.6 * lean} 13 ${-22 + lean}Q16 ${-10 + lean} ${16 + lean / 3} 0Z" />`;
}
