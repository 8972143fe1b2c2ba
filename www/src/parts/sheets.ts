// Sheets that slide over the page. What is in them is drawn only while they are open.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { App } from "../app.js";
import { icon } from "./icons.js";

const dialog = (id: string) => document.querySelector<HTMLDialogElement>(`dialog#${id}`);

let shown = "";

export function openSheet(app: App, id: string): void {
  shown = id;
  app.drawNow();
  dialog(id)?.showModal();
}

export const closeSheet = (id: string): void => dialog(id)?.close();

export function sheet(app: App, id: string, title: string, body: () => TemplateResult): TemplateResult {
  const closed = () => {
    if (shown === id) shown = "";
    app.refresh();
  };
  return html`<dialog id=${id} class="sheet" aria-labelledby="${id}-title" @close=${closed}>
    <div class="sheet-head">
      <h2 id="${id}-title">${title}</h2>
      <button type="button" class="icon-button" aria-label="Close" @click=${() => closeSheet(id)}>${icon("close")}</button>
    </div>
    ${shown === id ? body() : nothing}
  </dialog>`;
}
