// Sheets that slide over the page. What is in them is drawn only while they are open.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../bench.js";
import { say } from "../words.js";
import { icon } from "./icons.js";

const dialog = (id: string) => document.querySelector<HTMLDialogElement>(`dialog#${id}`);

export function openSheet(bench: Bench, id: string, about = ""): void {
  bench.sheet = { id, about };
  bench.drawNow();
  dialog(id)?.showModal();
}

export const closeSheet = (id: string): void => dialog(id)?.close();

export function sheet(
  bench: Bench,
  id: string,
  title: string,
  body: (about: string) => TemplateResult,
): TemplateResult {
  const shown = bench.sheet?.id === id ? bench.sheet : null;
  const closed = () => {
    if (bench.sheet?.id === id) bench.sheet = null;
    bench.refresh();
  };
  return html`<dialog id=${id} class="sheet" aria-labelledby="${id}-title" @close=${closed}>
    <div class="sheet-head">
      <h2 id="${id}-title">${title}</h2>
      <button type="button" class="icon-button" aria-label=${say("close")} @click=${() => closeSheet(id)}>${icon("close")}</button>
    </div>
    ${shown ? body(shown.about) : nothing}
  </dialog>`;
}
