// What a rework may do, and what may not be in it.

import { live } from "lit/directives/live.js";
import { html, nothing, type TemplateResult } from "lit/html.js";
import type { Bench } from "../../bench.js";
import type { UsualLimits } from "../../contract.js";
import { setBounds, setLimits } from "../../limits.js";
import { parseNumber, shown, typed } from "../../numbers.js";
import { ALLERGENS, groupsOf } from "../../parts/allergens.js";
import { CLASS_NAMES } from "../../parts/classes.js";
import { chips, numberBox, worded } from "../../parts/controls.js";
import { keyOf } from "../../state.js";
import { say } from "../../words.js";
import { pantryOf, type Search } from "./state.js";

/** What makers leave out most; the rest of the groups where the recipe holds them. */
const OFTEN = ["bee", "tree-nut", "palm", "coconut"];

export function avoided(bench: Bench): TemplateResult {
  const { recipe, limits: now } = bench.state;
  const held = recipe.flatMap((item) => groupsOf(bench, item) ?? []);
  const groups = [...new Set([...OFTEN, ...held])].map((group) => ({
    key: group,
    name: group === "palm" ? say("refused-palm") : (ALLERGENS[group] ?? group),
  }));
  const lines = recipe.map((item) => ({ key: keyOf(item), name: bench.name(item) }));
  const toggle = (key: string) =>
    setLimits(bench.store, {
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
    <summary>${names.length ? say("without", { names: names.join(", ") }) : say("leave-out-or-replace")}</summary>
    ${row(say("none-of"), groups)}
    ${row(say("out-of-stock"), lines)}
    ${
      now.refuse.length && !bench.state.made && !bench.state.other_storage_c
        ? chips(
            say("replacement-aim"),
            "as-now",
            worded({ wishes: say("aim-wishes"), now: say("aim-now") }),
            bench.state.aim === "as-now" ? "now" : "wishes",
            (value) => bench.store.change({ aim: value === "now" ? "as-now" : "wishes" }),
          )
        : nothing
    }
  </details>`;
}

export function limits({ bench, now: answers }: Search): TemplateResult {
  const { limits: now } = bench.state;
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
  // What is not set is what the engine says is usual: of this format, or what the recipe holds where that is
  // more.
  const usual = bench.behaviour?.usual_limits;
  const cap = (key: keyof UsualLimits, label: string, most: number) =>
    box(key, label, now[key] ?? usual?.[key] ?? 0, most, 0.5, "%", (value) =>
      setLimits(bench.store, { [key]: value }, key),
    );
  const wax = now.wax_percent ?? 0;
  return html`<details class="limits">
    <summary>${say("limits")}</summary>
    <div class="pair">
      ${cap("wax_percent", say("most-wax"), 35)}
      ${cap("fatty_acid_percent", say("most-fatty-acid"), 100)}
      ${cap("fatty_alcohol_percent", say("most-fatty-alcohol"), 100)}
      ${cap("powder_percent", say("most-powder"), 100)}
    </div>
    ${wax >= 5 ? html`<p class="help">${say("wax-towards-balm")}</p>` : nothing}
    ${chips(say("most-lines"), "changes", worded({ 2: "2", 3: "3" }), now.changes <= 2 ? "2" : "3", (value) =>
      setLimits(bench.store, { changes: Number(value) }),
    )}
    ${chips(
      say("scale-step"),
      "step",
      ["0.1", "0.5", "1"].map((value) => ({ value, label: `${shown(Number(value))} %` })),
      String(now.step_percent),
      (value) => setLimits(bench.store, { step_percent: Number(value) }),
    )}
    <label class="check"><input type="checkbox" .checked=${live(now.keep_lead)} @change=${() => setLimits(bench.store, { keep_lead: !now.keep_lead })} />
      <span>${say("keep-lead")}</span></label>
  </details>`;
}

/** What may be added, in sight before anything is asked. */
export function pantry(search: Search): TemplateResult {
  const { bench } = search;
  const pantry = pantryOf(bench, bench.state);
  // What was in sight stays there, so that what is unticked can be ticked again.
  for (const id of pantry) search.shelf.add(id);
  return html`<details class="limits">
    <summary>${say("pantry-summary", { count: pantry.length })}</summary>
    ${pantryBox(bench, pantry, [...search.shelf])}
  </details>`;
}

/** The most of it that may come in; empty, as much as is usual. */
function atMost(bench: Bench, id: string): TemplateResult {
  const key = `at most ${id}`;
  const known = bench.state.limits.bounds.get(id);
  const draft = bench.drafts.get(key);
  const text = draft ?? (known && known.max < 100 ? typed(known.max) : "");
  const value = parseNumber(text);
  const wrong = text.trim() !== "" && !(value !== null && value >= (known?.min ?? 0) && value <= 100);
  const set = (event: Event) => {
    const raw = (event.target as HTMLInputElement).value;
    const max = raw.trim() ? parseNumber(raw) : 100;
    const min = known?.min ?? 0;
    bench.drafts.set(key, raw);
    if (max !== null && max >= min && max <= 100) setBounds(bench.store, id, { min, max });
    else bench.refresh();
  };
  return html`<span class="at-most"><span aria-hidden="true">${say("at-most-short")}</span>
    <input class="text" type="text" inputmode="decimal" autocomplete="off" maxlength="5" aria-label=${say("at-most-of", { name: bench.nameOf(id) })}
      aria-invalid=${wrong ? "true" : "false"} .value=${live(text)} @input=${set} @blur=${() => {
        if (!wrong && bench.drafts.delete(key)) bench.refresh();
      }} /> %
    ${wrong ? html`<span class="problem" role="alert">${say("number-outside", { least: typed(known?.min ?? 0), most: "100" })}</span>` : nothing}</span>`;
}

const SEARCH = "pantry-search";

/** What may be added: the chosen ones first, the rest of the catalogue by search. */
function pantryBox(bench: Bench, pantry: string[], shelf: string[]): TemplateResult {
  const search = bench.drafts.get(SEARCH) ?? "";
  const words = search.toLowerCase().split(/\s+/).filter(Boolean);
  const rest = words.length
    ? [...bench.catalogue.values()].filter(
        (one) =>
          !shelf.includes(one.id) &&
          words.every((word) => `${one.name} ${one.inci} ${one.class}`.toLowerCase().includes(word)),
      )
    : [];
  const toggle = (id: string) =>
    setLimits(bench.store, {
      pantry: pantry.includes(id) ? pantry.filter((one) => one !== id) : [...pantry, id],
    });
  const box = (
    id: string,
    kind = "",
  ) => html`<div class="pantry-line"><label class="check"><input type="checkbox" .checked=${live(pantry.includes(id))}
      @change=${() => toggle(id)} /><span>${bench.nameOf(id)}${kind ? html` <small>${kind}</small>` : nothing}</span></label>${pantry.includes(id) ? atMost(bench, id) : nothing}</div>`;
  return html`<fieldset class="pantry"><legend class="label">${say("may-be-added")}</legend>
    ${shelf.map((id) => box(id))}
    <div class="pantry-search">
      <label class="visually-hidden" for="pantry-search">${say("search-pantry")}</label>
      <input id="pantry-search" class="search" type="search" placeholder=${say("search-for-more")} autocomplete="off"
        .value=${live(search)}
        @input=${(event: Event) => {
          bench.drafts.set(SEARCH, (event.target as HTMLInputElement).value);
          bench.refresh();
        }} />
    </div>
    ${rest.slice(0, 12).map((one) => box(one.id, CLASS_NAMES[one.class] ?? ""))}
    ${words.length && !rest.length ? html`<p class="help">${say("nothing-else")}</p>` : nothing}
  </fieldset>`;
}
