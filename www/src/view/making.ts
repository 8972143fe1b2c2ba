// Making it: the temperatures a maker needs, and the trouble to expect.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { App } from "../app.js";
import { sentence } from "../numbers.js";
import { askOrigin } from "./origin.js";

export const SIGNS: Record<string, string> = {
  "turns-to-oil": "Turns to oil",
  "oil-pool": "Lumps in a pool of oil",
  "soft-top": "Soft, wet top",
  "separated-layers": "Separated layers",
  grainy: "Grainy",
  "too-hard-in-the-cold": "Too hard in the cold",
};

export function making(app: App): TemplateResult {
  const now = app.behaviour;
  if (!now) return html``;
  const unit = app.store.preferences.temperature;
  return html`<section class="card" aria-labelledby="making-title">
    <h2 id="making-title">Making it ${askOrigin(app, "making", "these temperatures")}</h2>
    <ol class="steps">${now.making.steps.map((step) => html`<li>${sentence(step, unit)}</li>`)}</ol>
    ${now.fresh.remark ? html`<p>${sentence(now.fresh.remark, unit)} ${askOrigin(app, "fresh", "what it is like fresh")}</p>` : nothing}
    <button type="button" class="button" aria-pressed=${app.tools.showsFresh ? "true" : "false"}
      @click=${() => void app.tools.toggleFresh()}>Show it fresh in the picture</button>
    <p class="help">${sentence(now.dab.words, unit)}</p>
    ${
      now.troubles.length
        ? html`<h3>Signs of trouble in this climate</h3>
          <ul class="troubles">${now.troubles.map(
            (trouble) => html`<li><details><summary>${SIGNS[trouble.sign] ?? trouble.sign}</summary>
              <p>${sentence(trouble.cause, unit)}</p>
              <ul class="bullets">${trouble.remedies.map((remedy) => html`<li>${sentence(remedy, unit)}</li>`)}</ul>
            </details></li>`,
          )}</ul>`
        : nothing
    }
  </section>`;
}
