// Adding an ingredient: a sheet with a search box over the catalogue.

import { live } from "lit/directives/live.js";
import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import type { Found, Ingredient } from "../../contract.js";
import type { Shelved } from "../../kept-entries.js";
import { opened } from "../../links.js";
import { CLASS_NAMES } from "../../parts/classes.js";
import { icon } from "../../parts/icons.js";
import { closeSheet, openSheet, sheet } from "../../parts/sheets.js";
import { add } from "../../recipe.js";
import { say } from "../../words.js";
import { openOwn } from "./own/view.js";
import type { Sought } from "./sought.js";
import type { Look } from "./state.js";

export function openAdd({ bench, sought }: Look): void {
  sought.look("");
  openSheet(bench, "add");
}

export function addSheet(look: Look): TemplateResult {
  return sheet(look.bench, "add", say("add-an-ingredient"), () => body(look));
}

function body({ bench, own, sought }: Look): TemplateResult {
  const here = new Set(bench.state.recipe.map((item) => item.id));
  const names = new Set(bench.state.recipe.map((item) => item.name ?? item.id));
  const mine = bench.store.kept.own.filter(({ name }) => contains(name, sought.text));
  const pick = (id: string) => {
    closeSheet("add");
    add(bench.store, { id, percent: 0 });
  };
  const submit = async (event: Event) => {
    event.preventDefault();
    // The last letters may not be answered yet.
    const one = chosen(await sought.latest, mine, here);
    if (one) pick(one);
  };
  const one = chosen(sought.found, mine, here);
  const choice = ({ id, name, inci }: Ingredient) => html`<li>
    <button type="button" class="pick ${id === one ? "chosen" : ""}" ?disabled=${here.has(id)} @click=${() => pick(id)}>
      <span>${name}</span><small>${here.has(id) ? say("in-the-recipe") : inci}</small>
      ${id === one ? html`<small class="enter">${say("enter-adds")}</small>` : nothing}</button></li>`;
  const describe = html`<button type="button" class="pick own-pick" @click=${() => openOwn(own, null)}>
    <span>${icon("plus")} ${say("describe-your-own")}</span><small>${say("describe-hint")}</small></button>`;
  return html`<form @submit=${submit}>
      <label class="visually-hidden" for="add-search">${say("search-by-name")}</label>
      <input id="add-search" class="search" type="search" autofocus placeholder=${say("search-example")} autocomplete="off"
        maxlength="100" enterkeyhint="done" .value=${live(sought.text)} @input=${(event: Event) => sought.look((event.target as HTMLInputElement).value)} />
    </form>
    <div class="sheet-body">
      ${sought.found ? nothing : describe}
      ${
        mine.length
          ? html`<h3>${say("class-own")}</h3><ul class="picks">${mine.map(
              (one) =>
                html`<li><button type="button" class="pick" ?disabled=${names.has(one.name)} @click=${() => {
                  closeSheet("add");
                  void addOwn(bench, one);
                }}><span><bdi>${one.name}</bdi></span><small>${say(names.has(one.name) ? "in-the-recipe" : "used-before")}</small></button></li>`,
            )}</ul>`
          : nothing
      }
      ${sought.found ? [results(bench, sought, sought.found, choice), describe] : byClass(bench, choice)}
    </div>`;
}

const contains = (name: string, text: string) => name.toLowerCase().includes(text.trim().toLowerCase());

/** What Enter adds: only what is meant beyond doubt, and is not there yet. */
function chosen(found: Found | null, mine: Shelved[], here: Set<string | undefined>): string | null {
  const one = found?.one ?? null;
  return one && !mine.length && !here.has(one) ? one : null;
}

type Choice = (one: Ingredient) => TemplateResult;

/** What was found, in the engine's order. */
function results(bench: Bench, { text }: Sought, found: Found, choice: Choice): TemplateResult {
  const matches = found.ids.flatMap((id) => bench.catalogue.get(id) ?? []);
  const heading = found.misspelt && matches.length ? say("did-you-mean", { text: text.trim() }) : "";
  return html`<p class="visually-hidden" role="status">${say("ingredients-found", { count: matches.length })}</p>
    ${heading ? html`<h3>${heading}</h3>` : nothing}
    <ul class="picks">${matches.map(choice)}</ul>
    ${found.water ? html`<p class="empty">${say("is-water")}</p>` : nothing}
    ${matches.length || found.water ? nothing : html`<p class="empty">${say("nothing-by-that-name")}</p>`}`;
}

/** All that there is. */
function byClass(bench: Bench, choice: Choice): TemplateResult[] {
  const all = [...bench.catalogue.values()];
  return Object.entries(CLASS_NAMES).map(
    ([kind, name]) =>
      html`<h3>${name}</h3><ul class="picks">${all.filter((one) => one.class === kind).map(choice)}</ul>`,
  );
}

/** An own ingredient of another day: the first line of the recipe that it is kept as. */
async function addOwn(bench: Bench, one: Shelved): Promise<void> {
  try {
    const [item] = (await opened(bench.quick, one, "take")).state.recipe;
    if (item) add(bench.store, { ...item, percent: 0 });
  } catch (reason) {
    bench.report(reason);
  }
}
