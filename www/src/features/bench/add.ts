// Adding an ingredient: a sheet with a search box over the catalogue.

import { live } from "lit/directives/live.js";
import { html, nothing, type TemplateResult } from "lit/html.js";

import type { App } from "../../app.js";
import type { Ingredient } from "../../contract.js";
import type { Shelved } from "../../kept.js";
import { icon } from "../../parts/icons.js";
import { closeSheet, sheet } from "../../parts/sheets.js";
import { openOwn } from "./own/view.js";
import { CLASS_NAMES } from "./recipe.js";

const plain = (text: string) =>
  text
    .toLowerCase()
    .normalize("NFD")
    .replace(/[^a-z0-9]+/g, " ");

function found(app: App): Ingredient[] {
  const words = plain(app.catalogueSearch).split(" ").filter(Boolean);
  return [...app.catalogue.values()].filter((one) => {
    const text = plain(`${one.name} ${one.inci} ${CLASS_NAMES[one.class] ?? one.class}`);
    return words.every((word) => text.includes(word));
  });
}

export function addSheet(app: App): TemplateResult {
  return sheet(app, "add", "Add an ingredient", () => body(app));
}

function body(app: App): TemplateResult {
  const here = new Set(app.state.recipe.map((item) => item.id));
  const matches = found(app);
  const groups = Object.keys(CLASS_NAMES)
    .map((kind) => ({ kind, members: matches.filter((one) => one.class === kind) }))
    .filter((group) => group.members.length);
  const pick = (one: Ingredient) => {
    closeSheet("add");
    app.add({ id: one.id, percent: 0 });
  };
  const first = (event: Event) => {
    event.preventDefault();
    // Looked for afresh: the last letters may not be drawn yet.
    const one = found(app).find((match) => !here.has(match.id));
    if (one && app.catalogueSearch.trim()) pick(one);
  };
  const mine = app.store.kept.own.filter((one) =>
    plain(one.name).includes(plain(app.catalogueSearch).trim()),
  );
  const names = new Set(app.state.recipe.map((item) => item.name ?? item.id));
  return html`<form @submit=${first}>
      <label class="visually-hidden" for="add-search">Search by name or INCI name</label>
      <input id="add-search" class="search" type="search" autofocus placeholder="Search: shea, Cera Alba, wax…" autocomplete="off"
        enterkeyhint="done" .value=${live(app.catalogueSearch)}
        @input=${(event: Event) => {
          app.catalogueSearch = (event.target as HTMLInputElement).value;
          app.refresh();
        }} />
    </form>
    <div class="sheet-body">
      <p class="visually-hidden" role="status">${matches.length} ingredients</p>
      <button type="button" class="pick own-pick" @click=${() => openOwn(app, null)}>
        <span>${icon("plus")} Describe your own</span><small>from a certificate, a laboratory, or like another</small></button>
      ${
        mine.length
          ? html`<h3>your own</h3><ul class="picks">${mine.map(
              (one) =>
                html`<li><button type="button" class="pick" ?disabled=${names.has(one.name)} @click=${() => {
                  closeSheet("add");
                  void addOwn(app, one);
                }}><span>${one.name}</span><small>${names.has(one.name) ? "in the recipe" : "used before"}</small></button></li>`,
            )}</ul>`
          : nothing
      }
      ${groups.map(
        (group) => html`<h3>${CLASS_NAMES[group.kind]}</h3>
          <ul class="picks">${group.members.map(
            (
              one,
            ) => html`<li><button type="button" class="pick" ?disabled=${here.has(one.id)} @click=${() => pick(one)}>
              <span>${one.name}</span><small>${here.has(one.id) ? "in the recipe" : one.inci}</small></button></li>`,
          )}</ul>`,
      )}
      ${matches.length ? nothing : html`<p class="empty">Nothing by that name. Try a part of it, or its INCI name.</p>`}
    </div>`;
}

/** An own ingredient of another day: the first line of the recipe that it is kept as. */
async function addOwn(app: App, one: Shelved): Promise<void> {
  try {
    const [item] = (await app.open(one, "take")).state.recipe;
    if (item) app.add({ ...item, percent: 0 });
  } catch (reason) {
    app.report(reason);
  }
}
