// The picture for a room: it fills the screen, its type is read from the last row, and the dose is dragged on it. Beside it
// there is only a code, for whoever wants to follow on a phone.

import { html, nothing, type TemplateResult } from "lit/html.js";

import { icon } from "../../parts/icons.js";
import { say } from "../../words.js";
import { chart } from "./chart.js";
import { shownOf } from "./figures.js";
import type { Teach } from "./state.js";

/**
 * A line of type is the 26th part of the screen's height: from the last row, some eight times as far off as the screen is high, it is
 * as large as 12 point print at arm's length and a half (ours).
 */
const LINES = 26;

export function stage(teach: Teach): TemplateResult {
  const { stage: size, told, picture, code, figure } = teach;
  const fitting = picture ? told.filter((one) => picture.hardeners.includes(one.id)) : [];
  const key = (event: KeyboardEvent) => {
    const step = { ArrowLeft: -1, ArrowRight: 1, ArrowDown: -1, ArrowUp: 1 }[event.key];
    // The picture moves its own slider; elsewhere on the stage the keys do the same.
    if (step === undefined || event.defaultPrevented) return;
    event.preventDefault();
    teach.setDose(teach.dose + step);
  };
  const px = size ? Math.min(size.height / LINES, size.width / 26) : 0;
  return html`<dialog id="stage" aria-label=${say("teach")} @close=${() => teach.stage && teach.leave()} @keydown=${key}>
    ${
      size
        ? html`<div class="stage">
          ${fitting.length ? chart(teach, fitting, shownOf(figure), { ...size, px }, code) : nothing}
          <button type="button" class="icon-button" aria-label=${say("close")} @click=${() => teach.leave()}>${icon("close")}</button>
        </div>`
        : nothing
    }
  </dialog>`;
}
