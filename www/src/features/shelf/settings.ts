// What belongs to the reader: units, and what is kept on the device.

import { html, nothing, type TemplateResult } from "lit/html.js";

import { chips, worded } from "../../parts/controls.js";
import { say } from "../../words.js";
import type { Shelf } from "./state.js";

export function settings({ bench, install }: Shelf): TemplateResult {
  const { temperature, mass } = bench.store.preferences;
  const units = `°${temperature}, ${say(mass === "oz" ? "ounces" : "grams")}`;
  // That nothing is kept stands in sight.
  return html`<details class="card fold" id="settings" ?open=${bench.store.saved === false}>
    <summary><span class="told"><h2>${say("settings")}</h2>
      <small>${units}</small></span></summary>
    ${chips(say("temperatures"), "temperature", worded({ C: "°C", F: "°F" }), temperature, (value) => {
      bench.drafts.clear();
      bench.store.prefer({ temperature: value });
    })}
    ${chips(say("weights"), "mass", worded({ g: say("grams"), oz: say("ounces") }), mass, (value) => {
      bench.drafts.clear();
      bench.store.prefer({ mass: value });
    })}
    <p class="help">${bench.store.saved === false ? say("device-keeps-nothing") : say("device-keeps")}</p>
    <div class="row"><button type="button" class="button" @click=${() => bench.startOver()}>${say("back-to-example")}</button></div>
    ${install ? html`<button type="button" class="button" @click=${install}>${say("install")}</button>` : nothing}
  </details>`;
}
