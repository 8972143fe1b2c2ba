// The whole page, drawn from the state.

import { html, nothing, type TemplateResult } from "lit/html.js";
import type { App } from "./app.js";
import { addSheet } from "./features/bench/add.js";
import { originSheet } from "./features/bench/origin.js";
import { ownSheet } from "./features/bench/own/view.js";
import { pasteSheet } from "./features/bench/paste.js";
import { picture, reading } from "./features/bench/picture.js";
import { recipe } from "./features/bench/recipe.js";
import { sources } from "./features/bench/sources.js";
import { table } from "./features/bench/table.js";
import { places, verdict } from "./features/bench/verdict.js";
import { climate, feel } from "./features/bench/wishes.js";
import { journeyCard } from "./features/heat/view.js";
import { cautions } from "./features/make/cautions.js";
import { making } from "./features/make/making.js";
import { benchSheet, weighing } from "./features/make/sheet.js";
import { aimOf } from "./features/rework/state.js";
import { FIND, reworks } from "./features/rework/view.js";
import { backupSheet } from "./features/shelf/backup-sheet.js";
import { settings } from "./features/shelf/settings.js";
import { shelfCard } from "./features/shelf/shelf.js";
import { hardenerCard } from "./features/teach/view.js";
import { troubleCard } from "./features/trouble/view.js";
import { icon } from "./parts/icons.js";

export function page(app: App): TemplateResult {
  const { before, after } = app.pair;
  return html`
    <header class="head">
      <h1>Meltmargin</h1>
      <p>Will your body butter hold in the heat<span>, and what is the smallest change that helps</span>?</p>
    </header>
    <main class="bench ${app.opening ? "opening" : ""}" ?inert=${app.opening}>
      <div class="edited">
      <div class="look">
        ${verdict(app)}
        <section class="card look-card" aria-label="Temperatures">
          <div class="picture-frame ${app.failure ? "stale" : ""}">${picture(app)}</div>
          <p class="reading" aria-hidden="true">${
            reading(app, after, before) ||
            (before || app.tools.fresh
              ? legend(app, before !== null)
              : "Touch the curve: what is it like there?")
          }</p>
          ${places(app)}
          ${table(app)}
        </section>
      </div>
      <div class="work">
        ${recipe(app)}
        ${climate(app)}
        ${feel(app)}
        ${reworks(app)}
      </div>
      </div>
      <div class="more">
        <div class="column">
          ${weighing(app)}
          ${making(app)}
          ${cautions(app)}
        </div>
        <div class="column">
          ${hardenerCard(app)}
          ${journeyCard(app)}
          ${troubleCard(app)}
          ${shelfCard(app)}
          ${sources(app)}
          ${settings(app)}
        </div>
      </div>
    </main>
    ${notice(app)}
    ${bar(app)}
    ${addSheet(app)}
    ${ownSheet(app)}
    ${pasteSheet(app)}
    ${backupSheet(app)}
    ${originSheet(app)}
    ${benchSheet(app)}`;
}

function legend(app: App, compared: boolean): TemplateResult {
  return html`<span class="key now"></span> ${compared ? "after" : "settled"}
    ${compared ? html`<span class="key was"></span> before` : nothing}
    ${app.tools.fresh ? html`<span class="key fresh"></span> fresh` : nothing}`;
}

function notice(app: App): TemplateResult {
  const now = app.notice;
  return html`<div class="notice-place" role="status" aria-live="polite">${
    now
      ? html`<div class="notice ${now.tone}"><p>${now.text}</p>
        ${(now.actions ?? []).map(
          ({ label, run }) =>
            html`<button type="button" class="button" @click=${() => {
              // Said and done; what it leads to may say something in its turn.
              app.say(null);
              run();
            }}>${label}</button>`,
        )}
        <button type="button" class="icon-button" aria-label="Close" @click=${() => app.say(null)}>${icon("close")}</button></div>`
      : nothing
  }</div>`;
}

/** Asks for reworks and goes to where they will stand. */
export function findRework(app: App): void {
  const place = document.querySelector<HTMLElement>("#reworks");
  const show = () => place?.scrollIntoView({ block: "start" });
  void app.search.find().then(() => requestAnimationFrame(show));
  show();
  place?.focus({ preventScroll: true });
}

/** Within reach of the thumb. */
function bar(app: App): TemplateResult {
  return html`<nav class="bar" aria-label="Actions">
    <button type="button" class="bar-button" ?disabled=${!app.store.canUndo} @click=${() => app.undo()}>${icon("undo")}<span>Undo</span></button>
    <button type="button" class="bar-button" ?disabled=${!app.store.canRedo} @click=${() => app.redo()}>${icon("redo")}<span>Redo</span></button>
    <button type="button" class="bar-button main" @click=${() => findRework(app)}>${icon("find")}<span>${FIND[aimOf(app.state)]}</span></button>
    <button type="button" class="bar-button" @click=${() => app.share()}>${icon("share")}<span>Share</span></button>
  </nav>`;
}
