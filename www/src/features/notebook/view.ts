// The notebook: what was observed of own lots. Nothing is written into it yet.

import { html, type TemplateResult } from "lit/html.js";
import { say } from "../../words.js";

export function notebook(): TemplateResult {
  return html`<section class="card" aria-labelledby="notebook-title">
    <h2 id="notebook-title">${say("notebook")}</h2>
    <p>${say("notebook-empty")}</p>
    <p class="help">${say("notebook-hint")}</p>
  </section>`;
}
