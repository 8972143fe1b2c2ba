// Sheets that slide over the page.

import { html, type TemplateResult } from "lit/html.js";

import { icon } from "./icons.js";

const dialog = (id: string) => document.querySelector<HTMLDialogElement>(`dialog#${id}`);

export const openSheet = (id: string): void => dialog(id)?.showModal();
export const closeSheet = (id: string): void => dialog(id)?.close();

export function sheet(id: string, title: string, body: TemplateResult): TemplateResult {
  return html`<dialog id=${id} class="sheet" aria-labelledby="${id}-title">
    <div class="sheet-head">
      <h2 id="${id}-title">${title}</h2>
      <button type="button" class="icon-button" aria-label="Close" @click=${() => closeSheet(id)}>${icon("close")}</button>
    </div>
    ${body}
  </dialog>`;
}
