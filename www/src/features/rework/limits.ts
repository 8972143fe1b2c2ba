// What a rework may do, and what may not be in it.

import { live } from "lit/directives/live.js";
import { html, nothing, type TemplateResult } from "lit/html.js";
import type { Bench } from "../../bench.js";
import { shown } from "../../numbers.js";
import { chips, numberBox, worded } from "../../parts/controls.js";
import { keyOf } from "../../state.js";
import { ALLERGENS, groupsOf } from "../bench/allergens.js";
import { pantryOf, type Search } from "./state.js";

/** What makers leave out most; the rest of the groups where the recipe holds them. */
const OFTEN = ["bee", "tree-nut", "palm", "coconut"];

export function avoided(bench: Bench): TemplateResult {
  const { recipe, limits: now } = bench.state;
  const held = recipe.flatMap((item) => groupsOf(bench, item) ?? []);
  const groups = [...new Set([...OFTEN, ...held])].map((group) => ({
    key: group,
    name: group === "palm" ? "palm" : (ALLERGENS[group] ?? group),
  }));
  const lines = recipe.map((item) => ({ key: keyOf(item), name: bench.name(item) }));
  const toggle = (key: string) =>
    bench.setLimits({
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
      now.refuse.length && !bench.state.made && !bench.state.other_storage_c
        ? chips(
            "What replaces it should make the butter",
            "as-now",
            worded({ wishes: "as wished above", now: "as it is now" }),
            bench.state.aim === "as-now" ? "now" : "wishes",
            (value) => bench.store.change({ aim: value === "now" ? "as-now" : "wishes" }),
          )
        : nothing
    }
  </details>`;
}

export function limits({ bench, now: answers }: Search): TemplateResult {
  const { limits: now } = bench.state;
  const pantry = pantryOf(bench, bench.state);
  const { failure } = answers;
  const box = (
    key: string,
    label: string,
    value: number,
    most: number,
    step: number,
    unit: string,
    set: (value: number) => void,
  ) =>
    numberBox(bench, {
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
    box(key, label, now[key] ?? usually, 40, 0.5, "%", (value) => bench.setLimits({ [key]: value }, key));
  return html`<details class="limits">
    <summary>What a rework may do</summary>
    <div class="pair">
      ${box("wax_percent", "Most wax", now.wax_percent, 10, 0.5, "%", (wax_percent) => bench.setLimits({ wax_percent }, "wax"))}
      ${box(
        "fatty_acid_percent",
        "Most fatty acid",
        now.fatty_acid_percent,
        20,
        0.5,
        "%",
        (fatty_acid_percent) => bench.setLimits({ fatty_acid_percent }, "acid"),
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
      (value) => bench.setLimits({ changes: Number(value) }),
    )}
    ${chips(
      "Step of the scale",
      "step",
      ["0.1", "0.5", "1"].map((value) => ({ value, label: `${shown(Number(value))} %` })),
      String(now.step_percent),
      (value) => bench.setLimits({ step_percent: Number(value) }),
    )}
    ${chips(
      "Room for error in the prediction",
      "margin",
      worded({ 0: "none", 2: "2 points", 4: "4 points" }),
      String(now.margin_points),
      (value) => bench.setLimits({ margin_points: Number(value) }),
    )}
    <label class="check"><input type="checkbox" .checked=${live(now.any_step)} @change=${() => bench.setLimits({ any_step: !now.any_step })} />
      <span>Still good with one line weighed a step off</span></label>
    <label class="check"><input type="checkbox" .checked=${live(now.keep_lead)} @change=${() => bench.setLimits({ keep_lead: !now.keep_lead })} />
      <span>What is first on the label stays first</span></label>
    ${pantryBox(bench, pantry)}
  </details>`;
}

const SEARCH = "pantry-search";

/** What may be added: the chosen ones first, the rest of the catalogue by search. */
function pantryBox(bench: Bench, pantry: string[]): TemplateResult {
  const search = bench.drafts.get(SEARCH) ?? "";
  const words = search.toLowerCase().split(/\s+/).filter(Boolean);
  const rest = words.length
    ? [...bench.catalogue.values()].filter(
        (one) =>
          !pantry.includes(one.id) &&
          words.every((word) => `${one.name} ${one.inci} ${one.class}`.toLowerCase().includes(word)),
      )
    : [];
  const toggle = (id: string) =>
    bench.setLimits({ pantry: pantry.includes(id) ? pantry.filter((one) => one !== id) : [...pantry, id] });
  const box = (
    id: string,
  ) => html`<label class="check"><input type="checkbox" .checked=${live(pantry.includes(id))}
      @change=${() => toggle(id)} /><span>${bench.nameOf(id)}</span></label>`;
  return html`<fieldset class="pantry"><legend class="label">May be added</legend>
    ${pantry.map(box)}
    <div class="pantry-search">
      <label class="visually-hidden" for="pantry-search">Search for more that may be added</label>
      <input id="pantry-search" class="search" type="search" placeholder="Search for more" autocomplete="off"
        .value=${live(search)}
        @input=${(event: Event) => {
          bench.drafts.set(SEARCH, (event.target as HTMLInputElement).value);
          bench.refresh();
        }} />
    </div>
    ${rest.slice(0, 12).map((one) => box(one.id))}
    ${words.length && !rest.length ? html`<p class="help">Nothing else by that name.</p>` : nothing}
  </fieldset>`;
}
