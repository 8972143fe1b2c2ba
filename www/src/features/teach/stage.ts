// The picture for a room: it fills the screen, its type is read from the last row, and the dose is dragged on
// it. With it there are the recipe it is of, what is shown of it, and a code for whoever wants to follow on a
// phone.

import { html, nothing, type TemplateResult } from "lit/html.js";

import { degrees, shown, toUnit } from "../../numbers.js";
import { icon } from "../../parts/icons.js";
import { harmless, say } from "../../words.js";
import { chart } from "./chart.js";
import { FIGURES, shownOf } from "./figures.js";
import type { Teach } from "./state.js";

/**
 * A line of type is the 26th part of the screen's height: from the last row, some eight times as far off as the screen is high, it is
 * as large as 12 point print at arm's length and a half (ours).
 */
const LINES = 26;
/** How many lines of type the switch is high, and what a finger needs, CSS pixels; its style sheet says the same. */
const SWITCH = 1.9;
const FINGER = 44;

export function stage(teach: Teach): TemplateResult {
  const { stage: size } = teach;
  const key = (event: KeyboardEvent) => {
    const step = { ArrowLeft: -1, ArrowRight: 1, ArrowDown: -1, ArrowUp: 1 }[event.key];
    // The picture moves its own slider; elsewhere on the stage the keys do the same.
    if (step === undefined || event.defaultPrevented) return;
    event.preventDefault();
    teach.setDose(teach.dose + step);
  };
  return html`<dialog id="stage" aria-label=${say("teach")} @close=${() => teach.stage && void teach.leave()} @keydown=${key}>
    ${size ? filled(teach, size) : nothing}
  </dialog>`;
}

function filled(teach: Teach, { width, height }: { width: number; height: number }): TemplateResult {
  const { fitting, code, figure } = teach;
  const px = Math.min(height / LINES, width / LINES);
  const bar = Math.max(FINGER, SWITCH * px);
  return html`<div class="stage">
    <div class="stage-bar">
      <div role="group" aria-label=${say("show")}>${FIGURES.map(
        ({ value, label }) =>
          html`<button type="button" aria-pressed=${value === figure ? "true" : "false"} @click=${() => teach.show(value)}>${label}</button>`,
      )}</div>
      <button type="button" class="icon-button" aria-label=${say("close")} @click=${() => void teach.leave()}>${icon("close")}</button>
    </div>
    ${fitting.length && teach.most > 0 ? chart(teach, fitting, shownOf(figure), { width, height: height - bar, px }, { code, of: recipeSaid(teach) }) : nothing}
  </div>`;
}

/** What the picture is of, in a line. */
export function recipeSaid({ bench, swap }: Teach): string {
  const { name, recipe, format, storage_c } = bench.state;
  const unit = bench.store.preferences.temperature;
  const lines = recipe
    .filter((item) => item.percent > 0)
    .map((item) => `${shown(item.percent, 1)}\u00a0% ${bench.name(item).replace(/ \(.*\)$/, "")}`)
    .join(", ");
  return say(swap === "all" ? "stage-recipe-all" : "stage-recipe-oil", {
    lines: name ? say("named-note", { name: harmless(name), note: lines }) : lines,
    format,
    from: shown(toUnit(storage_c.coldest, unit)),
    to: degrees(storage_c.hottest, unit).replace(" ", "\u00a0"),
  });
}
