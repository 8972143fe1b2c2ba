// The notebook: what was observed of own lots. Nothing is written into it yet.

import { html, type TemplateResult } from "lit/html.js";

export function notebook(): TemplateResult {
  return html`<section class="card" aria-labelledby="notebook-title">
    <h2 id="notebook-title">Notebook</h2>
    <p>Nothing here yet.</p>
    <p class="help">This is the place for what is observed of your own lots: what held, what slumped, and where one was clear.</p>
  </section>`;
}
