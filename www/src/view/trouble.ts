// What went wrong: from what was seen to why, and to a rework.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { App } from "../app.js";
import { degrees, sentence } from "../numbers.js";
import { icon } from "./icons.js";
import { SIGNS } from "./making.js";
import { findRework } from "./page.js";

export function troubleCard(app: App): TemplateResult {
  const { told, sign, failure } = app.tools.symptom;
  const unit = app.store.preferences.temperature;
  const choose = (event: Event) => void app.tools.diagnose((event.target as HTMLSelectElement).value);
  return html`<details class="card fold">
    <summary><h2>What went wrong?</h2></summary>
    <label class="label" for="symptom">The last batch</label>
    <select id="symptom" class="select" @change=${choose}>
      <option value="" disabled ?selected=${!sign}>Choose what you saw…</option>
      ${Object.entries(SIGNS).map(([value, label]) => html`<option value=${value} ?selected=${value === sign}>${label}</option>`)}
    </select>
    ${failure ? html`<p class="problem" role="alert">${failure}</p>` : nothing}
    ${
      told
        ? html`<p>${sentence(told.cause, unit)}</p>
          <p><strong>${sentence(told.reading, unit)}</strong></p>
          <ul class="bullets">${told.remedies.map((remedy) => html`<li>${sentence(remedy, unit)}</li>`)}</ul>
          <button type="button" class="button" @click=${() => {
            app.store.change({ storage_c: told.rework_storage_c });
            findRework(app);
          }}>${icon("find")} Find a rework for ${degrees(told.rework_storage_c.coldest, unit)} to ${degrees(told.rework_storage_c.hottest, unit)}</button>`
        : nothing
    }
  </details>`;
}
