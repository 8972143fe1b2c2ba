// Before a backup is read back: what it holds, and what is to become of what is here.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import { placeInWords } from "../../kept-text.js";
import { closeSheet, sheet } from "../../parts/sheets.js";
import { say } from "../../words.js";
import { type Backup, merge, replace } from "./backup.js";
import type { Shelf } from "./state.js";

export function backupSheet({ bench, backup }: Shelf): TemplateResult {
  return sheet(bench, "backup", say("read-backup"), () => (backup ? body(bench, backup) : html``));
}

function body(bench: Bench, backup: Backup): TemplateResult {
  const use = (how: typeof merge) => () => {
    closeSheet("backup");
    how(bench, backup);
  };
  const { bench: theirs, shelf, own, preferences, notebook, refused, newer } = backup;
  return html`<div class="sheet-body padded">
    <p>${say("backup-holds", { file: backup.file })}</p>
    <ul class="bullets">
      ${theirs ? html`<li>${say("backup-bench", { name: theirs.state.name ?? say("unnamed-recipe") })}</li>` : nothing}
      <li>${say("backup-shelf", { count: shelf.length })}</li>
      <li>${say("backup-own", { count: own.length })}</li>
      <li>${say("backup-prices", { count: preferences.prices.size })}</li>
      <li>${say("backup-notebook", { count: notebook.looks.length, lots: notebook.lots.length })}</li>
    </ul>
    ${
      refused.length
        ? html`<p class="problem">${say("backup-refused", { count: refused.length })}</p>
          <ul class="bullets">${refused.map(
            ({ place, why }) =>
              html`<li>${say("could-not-be-read", { what: placeInWords(place), why })}</li>`,
          )}</ul>`
        : nothing
    }
    ${newer ? html`<p class="problem">${say("backup-newer")}</p>` : nothing}
    <div class="row">
      <button type="button" class="button primary" @click=${use(merge)}>${say("backup-add")}</button>
      <button type="button" class="button" @click=${use(replace)}>${say("backup-replace")}</button>
    </div>
    <p class="help">${say("backup-hint")}</p>
  </div>`;
}
