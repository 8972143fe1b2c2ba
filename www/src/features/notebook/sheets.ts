// The pages of the notebook, black on white: the sheet of a test pot, and how to look. Drawn only for paper.

import { html, nothing, svg, type TemplateResult } from "lit/html.js";

import { shown } from "../../numbers.js";
import { mass } from "../../parts/controls.js";
import { icon } from "../../parts/icons.js";
import { say, sayFinding } from "../../words.js";
import { PROTOCOLS, type Protocol } from "./paper.js";
import { expected, lookFor } from "./pots.js";
import type { Notebook } from "./state.js";

interface Told {
  title: string;
  things: string[];
  steps: string[];
  mind: string[];
  /** What it rests on. */
  stands: string;
}

// Our own procedures, common practice of kitchens and laboratories (no source) but for the principle that is
// named.
const hot = () => [say("mind-bath"), say("mind-hot-fat"), say("mind-not-eaten")];

/** In the reader's units of the moment. */
const TOLD: Record<Protocol, () => Told> = {
  tube: () => ({
    title: say("tube-title"),
    things: [
      say("tube-thing-tube"),
      say("tube-thing-thermometer"),
      say("tube-thing-bath"),
      say("tube-thing-band"),
    ],
    steps: [
      say("tube-step-fill"),
      say("tube-step-settle"),
      say("tube-step-tie"),
      say("tube-step-hang"),
      say("tube-step-warm"),
      say("tube-step-read"),
      say("tube-step-again"),
    ],
    mind: [...hot(), say("mind-glass")],
    stands: say("tube-stands"),
  }),
  overnight: () => ({
    title: say("overnight-title"),
    things: [say("overnight-thing-pot"), say("overnight-thing-place"), say("overnight-thing-thermometer")],
    steps: [
      say("overnight-step-fill"),
      say("overnight-step-settle"),
      say("overnight-step-mark"),
      say("overnight-step-keep"),
      say("overnight-step-read"),
      say("overnight-step-write"),
    ],
    mind: [say("mind-hot-fat"), say("mind-warm-spot"), say("mind-not-eaten"), say("mind-slip")],
    stands: say("overnight-stands"),
  }),
  clear: () => ({
    title: say("clear-title"),
    things: [say("clear-thing-glass"), say("clear-thing-bath"), say("clear-thing-thermometer")],
    steps: [say("clear-step-fill"), say("clear-step-warm"), say("clear-step-read"), say("clear-step-again")],
    mind: [...hot(), say("mind-glass"), say("mind-powder")],
    stands: say("clear-stands"),
  }),
};

/** How a slip point is read in a tube. */
export const tubeSteps = (): string[] => TOLD.tube().steps;

/** The pages of how to look, on the screen, each to print. */
export function protocols(notebook: Notebook): TemplateResult {
  return html`<details class="card fold" id="protocols">
    <summary><span class="told"><h2>${say("how-to-look")}</h2><small>${say("how-to-look-hint")}</small></span></summary>
    ${PROTOCOLS.map(
      (one) => html`<details><summary>${TOLD[one]().title}</summary>
        <div class="protocol">${body(TOLD[one](), 4)}
        <button type="button" class="button" @click=${() => notebook.paper.printProtocol(one)}>${icon("print")} ${say("print-page")}</button></div></details>`,
    )}
  </details>`;
}

function body({ things, steps, mind, stands }: Told, level: 2 | 4): TemplateResult {
  const heading = (words: string) => (level === 4 ? html`<h3>${words}</h3>` : html`<h2>${words}</h2>`);
  return html`${heading(say("you-need"))}<ul class="bullets">${things.map((one) => html`<li>${one}</li>`)}</ul>
    ${heading(say("do-this"))}<ol class="steps">${steps.map((one) => html`<li>${one}</li>`)}</ol>
    ${heading(say("mind"))}<ul class="bullets">${mind.map((one) => html`<li>${one}</li>`)}</ul>
    <p class="help">${stands}</p>`;
}

export function noteSheet(notebook: Notebook): TemplateResult | typeof nothing {
  const { page } = notebook.paper;
  if (!page) return nothing;
  if ("protocol" in page) {
    const told = TOLD[page.protocol]();
    return html`<article class="note-sheet" aria-hidden="true"><h1>${told.title}</h1>${body(told, 2)}${blanks(notebook)}</article>`;
  }
  const { pot, code } = page;
  const { bench } = notebook;
  const weight = bench.store.preferences.mass;
  const total = pot.grams.reduce((sum, grams) => sum + grams, 0);
  const told = TOLD[pot.seen === "slipped" ? "tube" : "overnight"]();
  const heat = (bench.behaviour?.cautions ?? []).slice(0, 3);
  // What the cautions of the recipe say of hot fat is not said again.
  const mind = told.mind.filter((one) => !heat.length || one !== say("mind-hot-fat"));
  return html`<article class="note-sheet" aria-hidden="true">
    <h1>${say("pot-sheet")}</h1>
    <p class="sheet-verdict">${lookFor(pot)}</p>
    <table>
      <thead><tr><th>${say("ingredient")}</th><th>%</th><th>${weight}</th><th>✓</th></tr></thead>
      <tbody>${pot.recipe.map(
        (
          { lot, id, percent },
          at,
        ) => html`<tr><th>${lot ?? bench.nameOf(id ?? "")}</th><td>${shown(percent, 1)}</td>
          <td>${mass(pot.grams[at] ?? 0, weight, 2)}</td><td></td></tr>`,
      )}</tbody>
      <tfoot><tr><th>${say("total")}</th><td>100</td><td>${mass(total, weight, 2)}</td><td></td></tr></tfoot>
    </table>
    <p>${expected(pot)} ${say("write-what-you-see")}</p>
    <h2>${told.title}</h2>
    <ol class="steps">${told.steps.map((one) => html`<li>${one}</li>`)}</ol>
    <ul class="bullets">${heat.map((caution) => html`<li>${sayFinding("caution", caution)}</li>`)}
      ${mind.map((one) => html`<li>${one}</li>`)}</ul>
    ${blanks(notebook)}
    ${
      code
        ? html`<footer><svg class="code" viewBox="-4 -4 ${code.size + 8} ${code.size + 8}">${svg`<path d=${code.path} />`}</svg>
          <p>${say("code-opens-notebook")}<br />${code.address}</p></footer>`
        : nothing
    }
  </article>`;
}

/** Room for three tubes, done twice, and two more. */
const ROWS = 8;

/** Where what is seen is written by hand. */
function blanks({ bench }: Notebook): TemplateResult {
  const unit = bench.store.preferences.temperature;
  const heads = [
    say("blank-day"),
    say("blank-made"),
    say("blank-temperature", { unit: `°${unit}` }),
    say("blank-seen"),
    say("blank-thermometer"),
  ];
  return html`<table class="blanks"><thead><tr>${heads.map((head) => html`<th>${head}</th>`)}</tr></thead>
    <tbody>${Array.from({ length: ROWS }, () => html`<tr>${heads.map(() => html`<td class="blank"></td>`)}</tr>`)}</tbody></table>`;
}
