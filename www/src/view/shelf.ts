// Several recipes kept by name on this device, and recipes as files.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { App } from "../app.js";
import type { State } from "../contract.js";
import { curveTable, pictureFile, save } from "../files.js";
import { complete, device } from "../store.js";
import { icon } from "./icons.js";

const KEY = "meltmargin.shelf";

interface Kept {
  name: string;
  state: State;
}

function shelf(): Kept[] {
  const kept = device.read(KEY);
  if (!Array.isArray(kept)) return [];
  return kept.filter(
    (one): one is Kept => typeof one?.name === "string" && Array.isArray(one?.state?.recipe),
  );
}

/** Puts a recipe on the shelf by its name; says whether the device keeps it. */
export function keepOnShelf(name: string, state: State): boolean {
  return device.write(KEY, [{ name, state }, ...shelf().filter((one) => one.name !== name)]);
}

export function shelfCard(app: App): TemplateResult {
  const kept = shelf();
  const put = () => {
    const name = app.state.name ?? "Unnamed";
    const done = keepOnShelf(name, app.state);
    app.say(
      done
        ? { text: `“${name}” is on the shelf.`, tone: "plain" }
        : {
            text: "This browser keeps nothing for the page: save the recipe as a file, or share its link.",
            tone: "problem",
          },
    );
  };
  const take = (one: Kept) => app.replace(complete(one.state), `“${one.name}” is on the bench.`);
  const drop = (one: Kept) => {
    const before = shelf();
    device.write(
      KEY,
      before.filter((other) => other.name !== one.name),
    );
    app.say({
      text: `“${one.name}” is off the shelf.`,
      tone: "plain",
      action: {
        label: "Put it back",
        run: () => {
          device.write(KEY, before);
          app.say(null);
        },
      },
    });
  };
  return html`<details class="card fold">
    <summary><h2>Shelf and files</h2></summary>
    <div class="row">
      <button type="button" class="button" @click=${put}>Keep this recipe by its name</button>
    </div>
    ${
      kept.length
        ? html`<ul class="shelf">${kept.map(
            (one) => html`<li>
              <button type="button" class="pick" @click=${() => take(one)}><span>${one.name}</span>
                <small>${one.state.recipe.length} lines</small></button>
              <button type="button" class="icon-button" aria-label="Take ${one.name} off the shelf" @click=${() => drop(one)}>
                ${icon("close")}</button></li>`,
          )}</ul>`
        : nothing
    }
    <h3>Save as a file</h3>
    <div class="row">
      <button type="button" class="button" @click=${() => recipeFile(app)}>Recipe (JSON)</button>
      <button type="button" class="button" @click=${() => curveTable(app)}>Curve (CSV)</button>
      <button type="button" class="button" @click=${() => pictureFile(app, "svg")}>Picture (SVG)</button>
      <button type="button" class="button" @click=${() => pictureFile(app, "png")}>Picture (PNG)</button>
    </div>
    <label class="label" for="open-file">Open a recipe file</label>
    <input id="open-file" class="file" type="file" accept=".json,application/json" @change=${(event: Event) => void openFile(app, event)} />
  </details>`;
}

function recipeFile(app: App): void {
  const { verdict, slip_c, clear_c, softening_c, curve } = app.behaviour ?? {};
  const file = {
    meltmargin: 1,
    state: app.state,
    prediction: { verdict, softening_c, slip_c, clear_c, curve },
  };
  save(app, "json", new Blob([JSON.stringify(file, null, 1)], { type: "application/json" }));
}

async function openFile(app: App, event: Event): Promise<void> {
  const input = event.target as HTMLInputElement;
  const file = input.files?.[0];
  if (!file) return;
  try {
    const read = JSON.parse(await file.text()) as { meltmargin?: unknown; state?: unknown };
    if (read.meltmargin !== 1 || !read.state) throw new SyntaxError();
    // Through the link and back: the engine checks every part of it.
    const { fragment } = await app.quick.ask("link", { state: read.state }, "file");
    const { state } = await app.quick.ask("open-link", { fragment }, "file");
    app.replace(state, `“${file.name}” is on the bench.`);
  } catch (reason) {
    if (reason instanceof SyntaxError) {
      app.say({ text: `“${file.name}” is not a recipe saved by this page.`, tone: "problem" });
    } else app.report(reason);
  }
  input.value = "";
}
