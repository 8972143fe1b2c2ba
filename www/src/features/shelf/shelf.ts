// Several recipes kept by name on this device, and recipes as files.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import { EngineError } from "../../engine.js";
import { asideFile, backupFile, curveTable, pictureFile, recipeFile } from "../../files.js";
import type { Aside, Shelved } from "../../kept-entries.js";
import { placeInWords } from "../../kept-text.js";
import { opened } from "../../links.js";
import { icon } from "../../parts/icons.js";
import { openSheet } from "../../parts/sheets.js";
import type { Stations } from "../../stations.js";
import { say } from "../../words.js";
import { MOST_MB, NotOurs, readFile } from "./backup.js";
import type { Shelf } from "./state.js";

const day = new Intl.DateTimeFormat(undefined, { day: "numeric", month: "short" });

export function shelfCard(shelf: Shelf, stations: Stations): TemplateResult {
  const { bench } = shelf;
  const { kept } = bench.store;
  const put = () => {
    const name = bench.state.name ?? say("unnamed");
    const before = kept.shelf;
    const done = kept.keep(name, bench.store.work);
    const replaced = before.some((one) => one.name === name);
    bench.say(
      done
        ? {
            text: replaced ? say("shelved-in-place", { name }) : say("shelved", { name }),
            tone: "plain",
            ...(replaced ? { actions: [back(bench, before)] } : {}),
          }
        : {
            text: say("not-shelved"),
            tone: "problem",
          },
    );
  };
  const drop = (one: Shelved) => {
    const before = kept.shelf;
    kept.drop(one.name);
    bench.say({
      text: say("off-the-shelf", { name: one.name }),
      tone: "plain",
      actions: [back(bench, before)],
    });
  };
  return html`<details class="card fold" id="shelf">
    <summary><span class="told"><h2>${say("shelf")}</h2>
      <small>${say("shelf-hint")}</small></span></summary>
    <div class="row">
      <button type="button" class="button" @click=${put}>${say("keep-recipe")}</button>
    </div>
    ${
      kept.shelf.length
        ? html`<ul class="shelf">${kept.shelf.map(
            (one) => html`<li>
              <button type="button" class="pick" @click=${() => void take(bench, stations, one)}><span>${one.name}</span>
                <small>${one.at ? day.format(one.at) : ""}</small></button>
              <button type="button" class="icon-button" aria-label=${say("take-off-shelf", { name: one.name })} @click=${() => drop(one)}>
                ${icon("close")}</button></li>`,
          )}</ul>`
        : nothing
    }
    ${kept.aside.length ? setAside(bench, kept.aside) : nothing}
    <h3>${say("save-as-file")}</h3>
    <div class="row">
      <button type="button" class="button" @click=${() => recipeFile(bench)}>${say("save-recipe")}</button>
      <button type="button" class="button" @click=${() => curveTable(bench)}>${say("save-curve")}</button>
      <button type="button" class="button" @click=${() => pictureFile(bench, "svg")}>${say("save-svg")}</button>
      <button type="button" class="button" @click=${() => pictureFile(bench, "png")}>${say("save-png")}</button>
      <button type="button" class="button" @click=${() => backupFile(bench.store)}>${say("save-backup")}</button>
    </div>
    <label class="label" for="open-file">${say("open-file")}</label>
    <input id="open-file" class="file" type="file" accept=".json,application/json" @change=${(event: Event) => void chooseFile(shelf, event)} />
  </details>`;
}

function back(bench: Bench, before: Shelved[]) {
  return {
    label: say("put-it-back"),
    run: () => {
      bench.store.kept.replace("shelf", before);
      bench.refresh();
    },
  };
}

async function take(bench: Bench, stations: Stations, one: Shelved): Promise<void> {
  try {
    const { state } = await opened(bench.quick, one, "take");
    bench.replace(state, say("on-the-bench", { name: one.name }));
    stations.go("bench");
  } catch (reason) {
    bench.report(reason);
  }
}

/** What was kept and could not be read: nobody else has it. */
function setAside(bench: Bench, aside: Aside[]): TemplateResult {
  return html`<h3>${say("set-aside")}</h3>
    <p class="help">${say("set-aside-hint")}</p>
    <ul class="shelf">${aside.map(
      (one) => html`<li><button type="button" class="pick" @click=${() => asideFile([one])}>
          <span>${say("save-aside", { place: placeInWords(one.place) })}</span><small>${one.why}</small></button>
        <button type="button" class="icon-button" aria-label=${say("throw-aside-away", { place: placeInWords(one.place) })} @click=${() => {
          bench.store.kept.throwAway(one);
          bench.refresh();
        }}>${icon("close")}</button></li>`,
    )}</ul>`;
}

async function chooseFile(shelf: Shelf, event: Event): Promise<void> {
  const input = event.target as HTMLInputElement;
  const file = input.files?.[0];
  if (file) await openFile(shelf, file);
  input.value = "";
}

export async function openFile(shelf: Shelf, file: File): Promise<void> {
  const { bench } = shelf;
  // What was said of the file before is no longer so.
  if (shelf.told && bench.notice === shelf.told) bench.say(null);
  shelf.told = null;
  try {
    const read = await readFile(bench, file);
    if ("state" in read) {
      const told = say("on-the-bench", { name: file.name });
      bench.replace(read.state, read.newer ? `${told} ${say("backup-newer")}` : told);
    } else {
      shelf.backup = read.backup;
      openSheet(bench, "backup");
    }
  } catch (reason) {
    const text =
      reason instanceof NotOurs
        ? say("not-ours", { file: file.name, why: reason.why, size_mb: file.size / 1e6, most_mb: MOST_MB })
        : reason instanceof EngineError
          ? say("could-not-be-read", { what: say("the-file", { file: file.name }), why: reason.message })
          : null;
    if (text === null) bench.report(reason);
    else bench.say({ text, tone: "problem" });
    shelf.told = bench.notice;
  }
}
