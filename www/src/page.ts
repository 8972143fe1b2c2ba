// The whole page, drawn from the state.

import { ref } from "lit/directives/ref.js";
import { html, nothing, type TemplateResult } from "lit/html.js";
import type { Bench } from "./bench.js";
import { addSheet } from "./features/bench/add.js";
import { doors } from "./features/bench/doors.js";
import { ownSheet } from "./features/bench/own/view.js";
import { openPaste, pasteSheet } from "./features/bench/paste.js";
import { picture, reading } from "./features/bench/picture.js";
import { recipe } from "./features/bench/recipe.js";
import { sources } from "./features/bench/sources.js";
import type { Look } from "./features/bench/state.js";
import { table } from "./features/bench/table.js";
import { places, verdict, verdictLine } from "./features/bench/verdict.js";
import { climate, feel } from "./features/bench/wishes.js";
import type { Heat } from "./features/heat/state.js";
import { journeyCard } from "./features/heat/view.js";
import { cautions } from "./features/make/cautions.js";
import { making } from "./features/make/making.js";
import { benchSheet, weighing } from "./features/make/sheet.js";
import type { Make } from "./features/make/state.js";
import { jars } from "./features/notebook/jars.js";
import { noteSheet } from "./features/notebook/sheets.js";
import type { Notebook } from "./features/notebook/state.js";
import { notebook } from "./features/notebook/view.js";
import { findRework } from "./features/rework/find.js";
import type { Live } from "./features/rework/live.js";
import { offer } from "./features/rework/offer.js";
import { aimOf, type Search } from "./features/rework/state.js";
import { FIND, reworks } from "./features/rework/view.js";
import type { Series } from "./features/series/state.js";
import { seriesCard, seriesSheet } from "./features/series/view.js";
import { backupSheet } from "./features/shelf/backup-sheet.js";
import { settings } from "./features/shelf/settings.js";
import { shelfCard } from "./features/shelf/shelf.js";
import type { Shelf } from "./features/shelf/state.js";
import { classSheet } from "./features/teach/paper.js";
import { stage } from "./features/teach/stage.js";
import type { Teach } from "./features/teach/state.js";
import { hardenerCard } from "./features/teach/view.js";
import type { Trouble } from "./features/trouble/state.js";
import { troubleCard } from "./features/trouble/view.js";
import { icon } from "./parts/icons.js";
import { originSheet } from "./parts/origin.js";
import { linkSheet } from "./sharing.js";
import { untouched } from "./state.js";
import { STATIONS, type Station, type Stations } from "./stations.js";
import { say } from "./words.js";

/** What the page is made of. */
export interface Parts {
  bench: Bench;
  look: Look;
  search: Search;
  live: Live;
  make: Make;
  heat: Heat;
  trouble: Trouble;
  notebook: Notebook;
  teach: Teach;
  series: Series;
  shelf: Shelf;
  stations: Stations;
}

export function page(parts: Parts): TemplateResult {
  const { bench, look, search, live, make, heat, trouble, teach, shelf, stations } = parts;
  const notes = parts.notebook;
  const { before, after } = bench.pair;
  return html`
    <header class="head ${stations.at === "bench" ? "" : "away"}">
      <h1>Meltmargin</h1>
      <p class="promise">${say("promise")}</p>
      ${verdictLine(bench, () => stations.go("bench"))}
      ${actions(search, stations)}
      ${bar(stations)}
    </header>
    <main class="bench ${bench.opening ? "opening" : ""}" ?inert=${bench.opening} @click=${() => bench.goneOn()}>
      <div class="edited">
        ${station(stations, "bench", "look", [
          verdict(bench, {
            others: search.others,
            goToOthers: () => stations.go("rework", "reworks"),
          }),
          html`<div class="begin" ?inert=${live.shown}>
            <button type="button" class="button primary wide find-here" @click=${() => findRework(search, stations)}>
              ${icon("find")} ${FIND[aimOf(bench.state)]}</button>
            ${doors(look, {
              toTrouble: () => {
                trouble.seen("turns-to-oil");
                stations.go("trouble");
                // Of whose batch, is asked first.
                openPaste(look.pasted, true);
              },
              toMake: () => stations.go("make"),
              toClass: () => {
                if (!teach.picture) teach.toggle();
                stations.go("teach");
              },
            })}
          </div>`,
          offer(live, stations),
          html`<section class="card look-card" aria-label=${say("temperatures")}>
            <div class="picture-frame ${bench.failure || bench.late ? "stale" : ""}" ${ref(look.fit)}>${picture(look)}</div>
            <div class="look-row">
              <p class="reading" aria-hidden="true">${
                reading(look, after, before) ||
                (before || look.fresh
                  ? legend(look, before !== null)
                  : say(untouched(bench.state) ? "curve-hint" : "drag-hint"))
              }</p>
              <button type="button" class="button view" aria-pressed=${look.view === "solid" ? "true" : "false"}
                @click=${() => look.show(look.view === "solid" ? "holding" : "solid")}>${say("show-solid")}</button>
            </div>
            ${places(bench)}
            ${table(bench)}
          </section>`,
        ])}
        <div class="work">
          ${station(stations, "bench", "", [recipe(look, (item) => jars(notes, item)), climate(bench)])}
          ${station(stations, "rework", "", [feel(bench), reworks(search, make, stations)])}
        </div>
      </div>
      <div class="more">
        <div class="column">
          ${station(stations, "make", "", [weighing(make), making(look, stations), cautions(bench)])}
        </div>
        <div class="column">
          ${station(stations, "trouble", "", [troubleCard(trouble, { search, stations, notebook: notes, pasted: look.pasted })])}
          ${station(stations, "heat", "", [journeyCard(heat)])}
          ${station(stations, "teach", "", [hardenerCard(teach), seriesCard(parts.series), sources(look)])}
          ${station(stations, "notebook", "", [notebook(notes), shelfCard(shelf, stations), settings(shelf)])}
        </div>
      </div>
    </main>
    ${notice(bench)}
    ${addSheet(look)}
    ${ownSheet(look.own)}
    ${pasteSheet(look.pasted)}
    ${linkSheet(bench)}
    ${backupSheet(shelf)}
    ${originSheet(bench, stations)}
    ${stage(teach)}
    ${classSheet(teach)}
    ${noteSheet(notes)}
    ${seriesSheet(parts.series)}
    ${benchSheet(make, search.chosen)}`;
}

/** A part of a station; the first of a name is where its link leads. */
function station(
  stations: Stations,
  name: Station,
  place: "look" | "",
  cards: TemplateResult[],
): TemplateResult {
  const shown = stations.at === name ? "at" : "";
  const leads = name !== "bench" || place === "look";
  return html`<div class="station ${place} ${shown}" id=${leads ? name : nothing} tabindex=${leads ? "-1" : nothing}>${cards}</div>`;
}

function legend({ fresh }: Look, compared: boolean): TemplateResult {
  return html`<span class="key now"></span> ${say(compared ? "curve-after" : "curve-settled")}
    ${compared ? html`<span class="key was"></span> ${say("curve-before")}` : nothing}
    ${fresh ? html`<span class="key fresh"></span> ${say("curve-fresh")}` : nothing}`;
}

function notice(bench: Bench): TemplateResult {
  const now = bench.notice;
  return html`<div class="notice-place ${bench.tappedLow ? "above" : ""}" role="status" aria-live="polite">${
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
        <button type="button" class="icon-button" aria-label=${say("close")} @click=${() => bench.say(null)}>${icon("close")}</button></div>`
      : nothing
  }</div>`;
}

function actions(search: Search, stations: Stations): TemplateResult {
  const { bench } = search;
  return html`<nav class="actions" aria-label=${say("actions")}>
    <button type="button" class="bar-button" ?disabled=${!bench.store.canUndo} @click=${() => bench.undo()}>${icon("undo")}<span>${say("undo")}</span></button>
    <button type="button" class="bar-button" ?disabled=${!bench.store.canRedo} @click=${() => bench.redo()}>${icon("redo")}<span>${say("redo")}</span></button>
    <button type="button" class="bar-button main" @click=${() => findRework(search, stations)}>${icon("find")}<span>${FIND[aimOf(bench.state)]}</span></button>
    <button type="button" class="bar-button" @click=${() => bench.share()}>${icon("share")}<span>${say("share")}</span></button>
  </nav>`;
}

const NAMES: Record<Station, string> = {
  bench: say("station-bench"),
  rework: say("station-rework"),
  make: say("station-make"),
  heat: say("station-heat"),
  trouble: say("station-trouble"),
  notebook: say("station-notebook"),
  teach: say("station-teach"),
};

/** Within reach of the thumb. */
function bar(stations: Stations): TemplateResult {
  const go = (station: Station) => (event: Event) => {
    event.preventDefault();
    stations.go(station);
  };
  return html`<nav class="bar" aria-label=${say("stations")}>${STATIONS.map(
    (
      one,
    ) => html`<a class="bar-button" href="#${one}" aria-current=${stations.at === one ? "true" : nothing} @click=${go(one)}>
      ${icon(one)}<span>${NAMES[one]}</span></a>`,
  )}</nav>`;
}
