// The whole page, drawn from the state.

import { ref } from "lit/directives/ref.js";
import { html, nothing, type TemplateResult } from "lit/html.js";
import type { Bench } from "./bench.js";
import { addSheet } from "./features/bench/add.js";
import { originSheet } from "./features/bench/origin.js";
import { ownSheet } from "./features/bench/own/view.js";
import { pasteSheet } from "./features/bench/paste.js";
import { picture, reading } from "./features/bench/picture.js";
import { recipe } from "./features/bench/recipe.js";
import { sources } from "./features/bench/sources.js";
import type { Look } from "./features/bench/state.js";
import { table } from "./features/bench/table.js";
import { places, verdict } from "./features/bench/verdict.js";
import { climate, feel } from "./features/bench/wishes.js";
import type { Heat } from "./features/heat/state.js";
import { journeyCard } from "./features/heat/view.js";
import { cautions } from "./features/make/cautions.js";
import { making } from "./features/make/making.js";
import { benchSheet, weighing } from "./features/make/sheet.js";
import type { Make } from "./features/make/state.js";
import { findRework } from "./features/rework/find.js";
import { aimOf, type Search } from "./features/rework/state.js";
import { FIND, reworks } from "./features/rework/view.js";
import { backupSheet } from "./features/shelf/backup-sheet.js";
import { settings } from "./features/shelf/settings.js";
import { shelfCard } from "./features/shelf/shelf.js";
import type { Shelf } from "./features/shelf/state.js";
import type { Teach } from "./features/teach/state.js";
import { hardenerCard } from "./features/teach/view.js";
import type { Trouble } from "./features/trouble/state.js";
import { troubleCard } from "./features/trouble/view.js";
import { icon } from "./parts/icons.js";

/** What the page is made of. */
export interface Parts {
  bench: Bench;
  look: Look;
  search: Search;
  make: Make;
  heat: Heat;
  trouble: Trouble;
  teach: Teach;
  shelf: Shelf;
}

export function page({ bench, look, search, make, heat, trouble, teach, shelf }: Parts): TemplateResult {
  const { before, after } = bench.pair;
  return html`
    <header class="head">
      <h1>Meltmargin</h1>
      <p>Will your body butter hold in the heat<span>, and what is the smallest change that helps</span>?</p>
    </header>
    <main class="bench ${bench.opening ? "opening" : ""}" ?inert=${bench.opening}>
      <div class="edited">
      <div class="look">
        ${verdict(bench)}
        <section class="card look-card" aria-label="Temperatures">
          <div class="picture-frame ${bench.failure ? "stale" : ""}" ${ref(look.fit)}>${picture(look)}</div>
          <p class="reading" aria-hidden="true">${
            reading(look, after, before) ||
            (before || look.fresh ? legend(look, before !== null) : "Touch the curve: what is it like there?")
          }</p>
          ${places(bench)}
          ${table(bench)}
        </section>
      </div>
      <div class="work">
        ${recipe(look)}
        ${climate(bench)}
        ${feel(bench)}
        ${reworks(search, make)}
      </div>
      </div>
      <div class="more">
        <div class="column">
          ${weighing(make)}
          ${making(look)}
          ${cautions(bench)}
        </div>
        <div class="column">
          ${hardenerCard(teach)}
          ${journeyCard(heat)}
          ${troubleCard(trouble, search)}
          ${shelfCard(shelf)}
          ${sources(look)}
          ${settings(shelf)}
        </div>
      </div>
    </main>
    ${notice(bench)}
    ${bar(search)}
    ${addSheet(look.own)}
    ${ownSheet(look.own)}
    ${pasteSheet(look.pasted)}
    ${backupSheet(shelf)}
    ${originSheet(bench)}
    ${benchSheet(make, search)}`;
}

function legend({ fresh }: Look, compared: boolean): TemplateResult {
  return html`<span class="key now"></span> ${compared ? "after" : "settled"}
    ${compared ? html`<span class="key was"></span> before` : nothing}
    ${fresh ? html`<span class="key fresh"></span> fresh` : nothing}`;
}

function notice(bench: Bench): TemplateResult {
  const now = bench.notice;
  return html`<div class="notice-place" role="status" aria-live="polite">${
    now
      ? html`<div class="notice ${now.tone}"><p>${now.text}</p>
        ${(now.actions ?? []).map(
          ({ label, run }) =>
            html`<button type="button" class="button" @click=${() => {
              // Said and done; what it leads to may say something in its turn.
              bench.say(null);
              run();
            }}>${label}</button>`,
        )}
        <button type="button" class="icon-button" aria-label="Close" @click=${() => bench.say(null)}>${icon("close")}</button></div>`
      : nothing
  }</div>`;
}

/** Within reach of the thumb. */
function bar(search: Search): TemplateResult {
  const { bench } = search;
  return html`<nav class="bar" aria-label="Actions">
    <button type="button" class="bar-button" ?disabled=${!bench.store.canUndo} @click=${() => bench.undo()}>${icon("undo")}<span>Undo</span></button>
    <button type="button" class="bar-button" ?disabled=${!bench.store.canRedo} @click=${() => bench.redo()}>${icon("redo")}<span>Redo</span></button>
    <button type="button" class="bar-button main" @click=${() => findRework(search)}>${icon("find")}<span>${FIND[aimOf(bench.state)]}</span></button>
    <button type="button" class="bar-button" @click=${() => bench.share()}>${icon("share")}<span>Share</span></button>
  </nav>`;
}
