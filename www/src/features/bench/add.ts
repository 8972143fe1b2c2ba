// Adding an ingredient: a sheet with a search box over the catalogue.

import { live } from "lit/directives/live.js";
import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import type { Ingredient } from "../../contract.js";
import type { Shelved } from "../../kept.js";
import { icon } from "../../parts/icons.js";
import { closeSheet, openSheet, sheet } from "../../parts/sheets.js";
import { CLASS_NAMES } from "./classes.js";
import type { OwnForm } from "./own/state.js";
import { openOwn } from "./own/view.js";

const plain = (text: string) =>
  text
    .toLowerCase()
    .normalize("NFD")
    .replace(/[^a-z0-9]+/g, " ");

/** What is looked for, as it is typed. */
const SEARCH = "add-search";
const sought = (bench: Bench) => bench.drafts.get(SEARCH) ?? "";

export function openAdd(bench: Bench): void {
  bench.drafts.delete(SEARCH);
  openSheet(bench, "add");
}

function found(bench: Bench): Ingredient[] {
  const words = plain(sought(bench)).split(" ").filter(Boolean);
  return [...bench.catalogue.values()].filter((one) => {
    const text = plain(`${one.name} ${one.inci} ${CLASS_NAMES[one.class] ?? one.class}`);
    return words.every((word) => text.includes(word));
  });
}

export function addSheet(own: OwnForm): TemplateResult {
  return sheet(own.bench, "add", "Add an ingredient", () => body(own));
}

function body(own: OwnForm): TemplateResult {
  const { bench } = own;
  const here = new Set(bench.state.recipe.map((item) => item.id));
  const matches = found(bench);
  const groups = Object.keys(CLASS_NAMES)
    .map((kind) => ({ kind, members: matches.filter((one) => one.class === kind) }))
    .filter((group) => group.members.length);
  const pick = (one: Ingredient) => {
    closeSheet("add");
    bench.add({ id: one.id, percent: 0 });
  };
  const first = (event: Event) => {
    event.preventDefault();
    // Looked for afresh: the last letters may not be drawn yet.
    const one = found(bench).find((match) => !here.has(match.id));
    if (one && sought(bench).trim()) pick(one);
  };
  const mine = bench.store.kept.own.filter((one) => plain(one.name).includes(plain(sought(bench)).trim()));
  const names = new Set(bench.state.recipe.map((item) => item.name ?? item.id));
  return html`<form @submit=${first}>
      <label class="visually-hidden" for="add-search">Search by name or INCI name</label>
      <input id="add-search" class="search" type="search" autofocus placeholder="Search: shea, Cera Alba, wax…" autocomplete="off"
        enterkeyhint="done" .value=${live(sought(bench))}
        @input=${(event: Event) => {
          bench.drafts.set(SEARCH, (event.target as HTMLInputElement).value);
          bench.refresh();
        }} />
    </form>
    <div class="sheet-body">
      <p class="visually-hidden" role="status">${matches.length} ingredients</p>
      <button type="button" class="pick own-pick" @click=${() => openOwn(own, null)}>
        <span>${icon("plus")} Describe your own</span><small>from a certificate, a laboratory, or like another</small></button>
      ${
        mine.length
          ? html`<h3>your own</h3><ul class="picks">${mine.map(
              (one) =>
                html`<li><button type="button" class="pick" ?disabled=${names.has(one.name)} @click=${() => {
                  closeSheet("add");
                  void addOwn(bench, one);
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
async function addOwn(bench: Bench, one: Shelved): Promise<void> {
  try {
    const [item] = (await bench.open(one, "take")).state.recipe;
    if (item) bench.add({ ...item, percent: 0 });
  } catch (reason) {
    bench.report(reason);
  }
}
