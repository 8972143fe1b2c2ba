// Whether the bench goes by the maker's own jars, and the one button that has it do so.

import { html, nothing, type TemplateResult } from "lit/html.js";

import { icon } from "../../parts/icons.js";
import { harmless, say } from "../../words.js";
import type { Notebook } from "./state.js";

export function jarsInUse(notebook: Notebook): TemplateResult | typeof nothing {
  const { ready, taken } = notebook.jars;
  if (!ready.length && !taken.length) return nothing;
  const names = taken.map((name) => harmless(name)).join("; ");
  const back = html`<button type="button" class="button" @click=${() => notebook.leaveAll()}>${say("jars-leave")}</button>`;
  if (!ready.length)
    return html`<div class="jars"><p class="in-use">${icon("good")} <span>${say("jars-in-use", { names })}</span></p>
      <div class="row">${back}</div></div>`;
  return html`<div class="jars">
    <p>${taken.length ? say("jars-partly-in-use", { names }) : say("jars-not-in-use")}</p>
    <div class="row"><button type="button" class="button primary" @click=${() => notebook.takeAll()}>${say("jars-take")}</button>
      ${taken.length ? back : nothing}</div></div>`;
}
