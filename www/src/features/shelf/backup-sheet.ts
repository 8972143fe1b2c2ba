// Before a backup is read back: what it holds, and what is to become of what is here.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import { closeSheet, sheet } from "../../parts/sheets.js";
import { type Backup, merge, replace } from "./backup.js";
import type { Shelf } from "./state.js";

export function backupSheet({ bench, backup }: Shelf): TemplateResult {
  return sheet(bench, "backup", "Read a backup", () => (backup ? body(bench, backup) : html``));
}

function body(bench: Bench, backup: Backup): TemplateResult {
  const use = (how: typeof merge) => () => {
    closeSheet("backup");
    how(bench, backup);
  };
  const { bench: theirs, shelf, own, preferences, refused, newer } = backup;
  return html`<div class="sheet-body padded">
    <p>“${backup.file}” holds:</p>
    <ul class="bullets">
      ${theirs ? html`<li>the bench: ${theirs.state.name ?? "an unnamed recipe"}</li>` : nothing}
      <li>recipes on the shelf: ${shelf.length}</li>
      <li>own ingredients: ${own.length}</li>
      <li>prices: ${preferences.prices.size}</li>
    </ul>
    ${refused ? html`<p class="problem">Of it, ${refused} could not be read. They are set aside as they are.</p>` : nothing}
    ${newer ? html`<p class="problem">A later version of this page wrote it: what this one does not know stays in the file only.</p>` : nothing}
    <div class="row">
      <button type="button" class="button primary" @click=${use(merge)}>Add what is not here</button>
      <button type="button" class="button" @click=${use(replace)}>Replace everything here</button>
    </div>
    <p class="help">Adding changes nothing that is here; the backup’s bench goes to the shelf. Either can be undone.</p>
  </div>`;
}
