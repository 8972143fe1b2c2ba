// Several recipes kept by name on this device, and recipes as files.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import { asideFile, backupFile, curveTable, pictureFile, recipeFile } from "../../files.js";
import type { Aside, Shelved } from "../../kept.js";
import { icon } from "../../parts/icons.js";
import { openSheet } from "../../parts/sheets.js";
import type { Stations } from "../../stations.js";
import { NotOurs, readFile } from "./backup.js";
import type { Shelf } from "./state.js";

const day = new Intl.DateTimeFormat(undefined, { day: "numeric", month: "short" });

export function shelfCard(shelf: Shelf, stations: Stations): TemplateResult {
  const { bench } = shelf;
  const { kept } = bench.store;
  const put = () => {
    const name = bench.state.name ?? "Unnamed";
    const before = kept.shelf;
    const done = kept.keep(name, bench.store.work);
    const replaced = before.some((one) => one.name === name);
    bench.say(
      done
        ? {
            text: replaced
              ? `“${name}” is on the shelf, in the place of the one called so.`
              : `“${name}” is on the shelf.`,
            tone: "plain",
            ...(replaced ? { actions: [back(bench, before)] } : {}),
          }
        : {
            text: "This browser keeps nothing for the page: save the recipe as a file, or share its link.",
            tone: "problem",
          },
    );
  };
  const drop = (one: Shelved) => {
    const before = kept.shelf;
    kept.drop(one.name);
    bench.say({ text: `“${one.name}” is off the shelf.`, tone: "plain", actions: [back(bench, before)] });
  };
  return html`<details class="card fold" id="shelf">
    <summary><span class="told"><h2>Shelf and files</h2>
      <small>Recipes kept by name, saved, opened, backed up</small></span></summary>
    <div class="row">
      <button type="button" class="button" @click=${put}>Keep this recipe by its name</button>
    </div>
    ${
      kept.shelf.length
        ? html`<ul class="shelf">${kept.shelf.map(
            (one) => html`<li>
              <button type="button" class="pick" @click=${() => void take(bench, stations, one)}><span>${one.name}</span>
                <small>${one.at ? day.format(one.at) : ""}</small></button>
              <button type="button" class="icon-button" aria-label="Take ${one.name} off the shelf" @click=${() => drop(one)}>
                ${icon("close")}</button></li>`,
          )}</ul>`
        : nothing
    }
    ${kept.aside.length ? setAside(bench, kept.aside) : nothing}
    <h3>Save as a file</h3>
    <div class="row">
      <button type="button" class="button" @click=${() => recipeFile(bench)}>Recipe (JSON)</button>
      <button type="button" class="button" @click=${() => curveTable(bench)}>Curve (CSV)</button>
      <button type="button" class="button" @click=${() => pictureFile(bench, "svg")}>Picture (SVG)</button>
      <button type="button" class="button" @click=${() => pictureFile(bench, "png")}>Picture (PNG)</button>
      <button type="button" class="button" @click=${() => backupFile(bench.store)}>Everything (backup)</button>
    </div>
    <label class="label" for="open-file">Open a recipe or a backup</label>
    <input id="open-file" class="file" type="file" accept=".json,application/json" @change=${(event: Event) => void openFile(shelf, event)} />
  </details>`;
}

function back(bench: Bench, before: Shelved[]) {
  return {
    label: "Put it back",
    run: () => {
      bench.store.kept.replace("shelf", before);
      bench.refresh();
    },
  };
}

async function take(bench: Bench, stations: Stations, one: Shelved): Promise<void> {
  try {
    const { state } = await bench.open(one, "take");
    bench.replace(state, `“${one.name}” is on the bench.`);
    stations.go("bench");
  } catch (reason) {
    bench.report(reason);
  }
}

/** What was kept and could not be read: nobody else has it. */
function setAside(bench: Bench, aside: Aside[]): TemplateResult {
  return html`<h3>Set aside</h3>
    <p class="help">This could not be read. It is as it was found.</p>
    <ul class="shelf">${aside.map(
      (one) => html`<li><button type="button" class="pick" @click=${() => asideFile([one])}>
          <span>Save it as a file: ${one.place}</span><small>${one.why}</small></button>
        <button type="button" class="icon-button" aria-label="Throw away what was set aside: ${one.place}" @click=${() => {
          bench.store.kept.throwAway(one);
          bench.refresh();
        }}>${icon("close")}</button></li>`,
    )}</ul>`;
}

async function openFile(shelf: Shelf, event: Event): Promise<void> {
  const { bench } = shelf;
  const input = event.target as HTMLInputElement;
  const file = input.files?.[0];
  if (!file) return;
  try {
    const read = await readFile(bench, file);
    if ("state" in read) bench.replace(read.state, `“${file.name}” is on the bench.`);
    else {
      shelf.backup = read.backup;
      openSheet(bench, "backup");
    }
  } catch (reason) {
    if (reason instanceof NotOurs) {
      bench.say({
        text: `“${file.name}” is neither a recipe nor a backup saved by this page.`,
        tone: "problem",
      });
    } else bench.report(reason);
  }
  input.value = "";
}
