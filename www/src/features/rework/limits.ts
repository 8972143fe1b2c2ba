// What a rework may do, and what may not be in it.

import { live } from "lit/directives/live.js";
import { html, nothing, type TemplateResult } from "lit/html.js";
import type { App } from "../../app.js";
import { shown } from "../../numbers.js";
import { chips, numberBox, worded } from "../../parts/controls.js";
import { keyOf } from "../../state.js";
import { ALLERGENS, groupsOf } from "../make/cautions.js";
import { pantryOf } from "./state.js";

/** What makers leave out most; the rest of the groups where the recipe holds them. */
const OFTEN = ["bee", "tree-nut", "palm", "coconut"];

export function avoided(app: App): TemplateResult {
  const { recipe, limits: now } = app.state;
  const held = recipe.flatMap((item) => groupsOf(app, item) ?? []);
  const groups = [...new Set([...OFTEN, ...held])].map((group) => ({
    key: group,
    name: group === "palm" ? "palm" : (ALLERGENS[group] ?? group),
  }));
  const lines = recipe.map((item) => ({ key: keyOf(item), name: app.name(item) }));
  const toggle = (key: string) =>
    app.setLimits({
      refuse: now.refuse.includes(key) ? now.refuse.filter((one) => one !== key) : [...now.refuse, key],
    });
  const names = [...groups, ...lines].filter(({ key }) => now.refuse.includes(key)).map(({ name }) => name);
  const row = (
    label: string,
    all: { key: string; name: string }[],
  ) => html`<fieldset class="chips"><legend class="label">${label}</legend>
    <div class="chip-wrap">${all.map(
      ({
        key,
        name,
      }) => html`<label class="chip"><input type="checkbox" .checked=${live(now.refuse.includes(key))}
        @change=${() => toggle(key)} /><span class="chip-face">${name}</span></label>`,
    )}</div></fieldset>`;
  return html`<details class="limits avoid">
    <summary>${names.length ? `Without ${names.join(", ")}` : "Leave out or replace"}</summary>
    ${row("None of", groups)}
    ${row("Out of stock", lines)}
    ${
      now.refuse.length && !app.state.made && !app.state.other_storage_c
        ? chips(
            "What replaces it should make the butter",
            "as-now",
            worded({ wishes: "as wished above", now: "as it is now" }),
            app.state.aim === "as-now" ? "now" : "wishes",
            (value) => app.store.change({ aim: value === "now" ? "as-now" : "wishes" }),
          )
        : nothing
    }
  </details>`;
}

export function limits(app: App): TemplateResult {
  const { limits: now } = app.state;
  const pantry = pantryOf(app, app.state);
  const { failure } = app.search.now;
  const box = (
    key: string,
    label: string,
    value: number,
    most: number,
    step: number,
    unit: string,
    set: (value: number) => void,
  ) =>
    numberBox(app, {
      key,
      label,
      value,
      least: step === 1 ? 1 : 0,
      most,
      step,
      unit,
      set,
      complaint: failure?.at === `limits.${key}` ? failure.message : null,
    });
  // Left alone, it is also as much as the recipe holds already: the engine sees to that.
  const usual = (key: "fatty_alcohol_percent" | "powder_percent", label: string, usually: number) =>
    box(key, label, now[key] ?? usually, 40, 0.5, "%", (value) => app.setLimits({ [key]: value }, key));
  return html`<details class="limits">
    <summary>What a rework may do</summary>
    <div class="pair">
      ${box("wax_percent", "Most wax", now.wax_percent, 10, 0.5, "%", (wax_percent) => app.setLimits({ wax_percent }, "wax"))}
      ${box(
        "fatty_acid_percent",
        "Most fatty acid",
        now.fatty_acid_percent,
        20,
        0.5,
        "%",
        (fatty_acid_percent) => app.setLimits({ fatty_acid_percent }, "acid"),
      )}
      ${usual("fatty_alcohol_percent", "Most fatty alcohol", 6)}
      ${usual("powder_percent", "Most powder", 10)}
    </div>
    ${now.wax_percent >= 5 ? html`<p class="help">From 5 % wax on a butter turns towards a balm.</p>` : nothing}
    ${chips(
      "Lines that may change",
      "changes",
      worded({ 2: "2", 3: "3" }),
      now.changes <= 2 ? "2" : "3",
      (value) => app.setLimits({ changes: Number(value) }),
    )}
    ${chips(
      "Step of the scale",
      "step",
      ["0.1", "0.5", "1"].map((value) => ({ value, label: `${shown(Number(value))} %` })),
      String(now.step_percent),
      (value) => app.setLimits({ step_percent: Number(value) }),
    )}
    ${chips(
      "Room for error in the prediction",
      "margin",
      worded({ 0: "none", 2: "2 points", 4: "4 points" }),
      String(now.margin_points),
      (value) => app.setLimits({ margin_points: Number(value) }),
    )}
    <label class="check"><input type="checkbox" .checked=${live(now.any_step)} @change=${() => app.setLimits({ any_step: !now.any_step })} />
      <span>Still good with one line weighed a step off</span></label>
    <label class="check"><input type="checkbox" .checked=${live(now.keep_lead)} @change=${() => app.setLimits({ keep_lead: !now.keep_lead })} />
      <span>What is first on the label stays first</span></label>
    ${pantryBox(app, pantry)}
  </details>`;
}

/** What may be added: the chosen ones first, the rest of the catalogue by search. */
function pantryBox(app: App, pantry: string[]): TemplateResult {
  const words = app.pantrySearch.toLowerCase().split(/\s+/).filter(Boolean);
  const rest = words.length
    ? [...app.catalogue.values()].filter(
        (one) =>
          !pantry.includes(one.id) &&
          words.every((word) => `${one.name} ${one.inci} ${one.class}`.toLowerCase().includes(word)),
      )
    : [];
  const toggle = (id: string) =>
    app.setLimits({ pantry: pantry.includes(id) ? pantry.filter((one) => one !== id) : [...pantry, id] });
  const box = (
    id: string,
  ) => html`<label class="check"><input type="checkbox" .checked=${live(pantry.includes(id))}
      @change=${() => toggle(id)} /><span>${app.nameOf(id)}</span></label>`;
  return html`<fieldset class="pantry"><legend class="label">May be added</legend>
    ${pantry.map(box)}
    <div class="pantry-search">
      <label class="visually-hidden" for="pantry-search">Search for more that may be added</label>
      <input id="pantry-search" class="search" type="search" placeholder="Search for more" autocomplete="off"
        .value=${live(app.pantrySearch)}
        @input=${(event: Event) => {
          app.pantrySearch = (event.target as HTMLInputElement).value;
          app.refresh();
        }} />
    </div>
    ${rest.slice(0, 12).map((one) => box(one.id))}
    ${words.length && !rest.length ? html`<p class="help">Nothing else by that name.</p>` : nothing}
  </fieldset>`;
}
