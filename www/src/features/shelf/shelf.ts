// Several recipes kept by name on this device, and recipes as files.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { App } from "../../app.js";
import { asideFile, backupFile, curveTable, pictureFile, recipeFile } from "../../files.js";
import type { Aside, Shelved } from "../../kept.js";
import { icon } from "../../parts/icons.js";
import { openSheet } from "../../parts/sheets.js";
import { NotOurs, readFile } from "./backup.js";

const day = new Intl.DateTimeFormat(undefined, { day: "numeric", month: "short" });

export function shelfCard(app: App): TemplateResult {
  const { kept } = app.store;
  const put = () => {
    const name = app.state.name ?? "Unnamed";
    const before = kept.shelf;
    const done = kept.keep(name, app.store.work);
    const replaced = before.some((one) => one.name === name);
    app.say(
      done
        ? {
            text: replaced
              ? `“${name}” is on the shelf, in the place of the one called so.`
              : `“${name}” is on the shelf.`,
            tone: "plain",
            ...(replaced ? { actions: [back(app, before)] } : {}),
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
    app.say({ text: `“${one.name}” is off the shelf.`, tone: "plain", actions: [back(app, before)] });
  };
  return html`<details class="card fold" id="shelf">
    <summary><h2>Shelf and files</h2></summary>
    <div class="row">
      <button type="button" class="button" @click=${put}>Keep this recipe by its name</button>
    </div>
    ${
      kept.shelf.length
        ? html`<ul class="shelf">${kept.shelf.map(
            (one) => html`<li>
              <button type="button" class="pick" @click=${() => void take(app, one)}><span>${one.name}</span>
                <small>${one.at ? day.format(one.at) : ""}</small></button>
              <button type="button" class="icon-button" aria-label="Take ${one.name} off the shelf" @click=${() => drop(one)}>
                ${icon("close")}</button></li>`,
          )}</ul>`
        : nothing
    }
    ${kept.aside.length ? setAside(app, kept.aside) : nothing}
    <h3>Save as a file</h3>
    <div class="row">
      <button type="button" class="button" @click=${() => recipeFile(app)}>Recipe (JSON)</button>
      <button type="button" class="button" @click=${() => curveTable(app)}>Curve (CSV)</button>
      <button type="button" class="button" @click=${() => pictureFile(app, "svg")}>Picture (SVG)</button>
      <button type="button" class="button" @click=${() => pictureFile(app, "png")}>Picture (PNG)</button>
      <button type="button" class="button" @click=${() => backupFile(app.store)}>Everything (backup)</button>
    </div>
    <label class="label" for="open-file">Open a recipe or a backup</label>
    <input id="open-file" class="file" type="file" accept=".json,application/json" @change=${(event: Event) => void openFile(app, event)} />
  </details>`;
}

function back(app: App, before: Shelved[]) {
  return {
    label: "Put it back",
    run: () => {
      app.store.kept.replace("shelf", before);
      app.refresh();
    },
  };
}

async function take(app: App, one: Shelved): Promise<void> {
  try {
    const { state } = await app.open(one, "take");
    app.replace(state, `“${one.name}” is on the bench.`);
  } catch (reason) {
    app.report(reason);
  }
}

/** What was kept and could not be read: nobody else has it. */
function setAside(app: App, aside: Aside[]): TemplateResult {
  return html`<h3>Set aside</h3>
    <p class="help">This could not be read. It is as it was found.</p>
    <ul class="shelf">${aside.map(
      (one) => html`<li><button type="button" class="pick" @click=${() => asideFile([one])}>
          <span>Save it as a file: ${one.place}</span><small>${one.why}</small></button>
        <button type="button" class="icon-button" aria-label="Throw away what was set aside: ${one.place}" @click=${() => {
          app.store.kept.throwAway(one);
          app.refresh();
        }}>${icon("close")}</button></li>`,
    )}</ul>`;
}

async function openFile(app: App, event: Event): Promise<void> {
  const input = event.target as HTMLInputElement;
  const file = input.files?.[0];
  if (!file) return;
  try {
    const read = await readFile(app, file);
    if ("state" in read) app.replace(read.state, `“${file.name}” is on the bench.`);
    else {
      app.backup = read.backup;
      openSheet(app, "backup");
    }
  } catch (reason) {
    if (reason instanceof NotOurs) {
      app.say({
        text: `“${file.name}” is neither a recipe nor a backup saved by this page.`,
        tone: "problem",
      });
    } else app.report(reason);
  }
  input.value = "";
}
