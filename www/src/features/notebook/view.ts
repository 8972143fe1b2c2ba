// The notebook: what was seen of own lots, what it taught, and what to make next.

import { html, nothing, type TemplateResult } from "lit/html.js";

import { icon } from "../../parts/icons.js";
import { keyOf } from "../../state.js";
import { say } from "../../words.js";
import { jarsInUse } from "./in-use.js";
import { nextPot } from "./pots.js";
import { protocols } from "./sheets.js";
import type { Notebook } from "./state.js";
import { taught } from "./taught.js";
import { writing } from "./write.js";

export function notebook(notebook: Notebook): TemplateResult {
  const { notes, strangers } = notebook;
  const begun = notebook.writing.draft !== null;
  const empty = !notes?.lots.length && !notes?.looks.length;
  return html`<section class="card" aria-labelledby="notebook-title">
      <h2 id="notebook-title">${say("notebook")}</h2>
      ${
        strangers.length
          ? html`<div class="strangers"><p>${say("lots-not-noted", { ids: strangers.map(keyOf) })}</p>
            <button type="button" class="button" @click=${() => void notebook.keepStrangers()}>${say("keep-lots")}</button></div>`
          : nothing
      }
      ${begun || !empty ? nothing : html`<p>${say("notebook-empty")}</p>`}
      ${jarsInUse(notebook)}
      ${
        begun
          ? writing(notebook)
          : html`<button type="button" id="write-down" class="button primary wide" @click=${() => notebook.writing.begin()}>${icon("plus")} ${say("write-down")}</button>
            <p class="help">${say("notebook-hint")}</p>`
      }
    </section>
    ${taught(notebook)}
    ${nextPot(notebook)}
    ${protocols(notebook)}`;
}
