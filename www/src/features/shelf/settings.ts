// What belongs to the reader: units, and what is kept on the device.

import { html, nothing, type TemplateResult } from "lit/html.js";

import { chips, worded } from "../../parts/controls.js";
import type { Shelf } from "./state.js";

export function settings({ bench, install }: Shelf): TemplateResult {
  const { temperature, mass } = bench.store.preferences;
  return html`<section class="card" aria-labelledby="settings-title">
    <h2 id="settings-title">Units and this device</h2>
    ${chips("Temperatures", "temperature", worded({ C: "°C", F: "°F" }), temperature, (value) => {
      bench.drafts.clear();
      bench.store.prefer({ temperature: value });
    })}
    ${chips("Weights", "mass", worded({ g: "grams", oz: "ounces" }), mass, (value) =>
      bench.store.prefer({ mass: value }),
    )}
    <p class="help">${
      bench.store.saved === false
        ? "This browser keeps nothing for the page, so the recipe lives in the address only: share or bookmark it."
        : "The recipe is kept on this device and in the address of the page. Nothing is sent anywhere."
    }</p>
    <div class="row"><button type="button" class="button" @click=${() => bench.startOver()}>Back to the worked example</button></div>
    ${install ? html`<button type="button" class="button" @click=${install}>Install this page</button>` : nothing}
  </section>`;
}
