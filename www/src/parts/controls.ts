// Boxes and buttons that several views share: large, labelled, and patient with what is typed.

import { live } from "lit/directives/live.js";
import { html, nothing, type TemplateResult } from "lit/html.js";
import type { Bench } from "../bench.js";
import type { Question } from "../contract.js";
import { RANGES } from "../forms.js";
import { fromUnit, parseNumber, shown, toUnit, typed } from "../numbers.js";
import { FLUID_OUNCE_ML, OUNCE_G, say } from "../words.js";
import { icon } from "./icons.js";

export interface NumberBox {
  /** Names the box among the drafts; also its element id. */
  key: string;
  label: string;
  value: number;
  least: number;
  most: number;
  step: number;
  unit: string;
  /** What the engine says is wrong with it. */
  complaint?: string | null;
  hideLabel?: boolean;
  set(value: number): void;
}

/** The least that a link carries, and a box shows. */
const LEAST = 0.001;

/** A number with a button on each side. What is typed stays as typed, even while it is not a number. */
export function numberBox(bench: Bench, box: NumberBox): TemplateResult {
  const draft = bench.drafts.get(box.key);
  const parsed = draft === undefined ? box.value : parseNumber(draft);
  // So little would be kept as nothing.
  const vanishes = (value: number) => value !== 0 && Math.abs(value) < LEAST / 2;
  const fits = (value: number) => value >= box.least && value <= box.most && !vanishes(value);
  const outside = parsed !== null && !fits(parsed);
  // An empty box is one that is about to be filled.
  const empty = draft?.trim() === "";
  const problem =
    parsed === null
      ? empty
        ? null
        : say("not-a-number")
      : vanishes(parsed)
        ? say("number-vanishes", { least: typed(LEAST) })
        : outside
          ? say("number-outside", { least: typed(box.least), most: typed(box.most) })
          : (box.complaint ?? null);
  const latest = { value: box.value };
  const go = (direction: number) => () => {
    bench.drafts.delete(box.key);
    const raw = (Math.round(latest.value / box.step) + direction) * box.step;
    const next = Math.min(box.most, Math.max(box.least, Math.round(raw * 1000) / 1000));
    if (!Number.isFinite(next)) return;
    latest.value = next;
    box.set(next);
  };
  const input = (event: Event) => {
    const text = (event.target as HTMLInputElement).value;
    if (!bench.drafts.has(box.key)) bench.entries.set(box.key, { before: box.value, taken: false });
    bench.drafts.set(box.key, text);
    const entry = bench.entries.get(box.key);
    const value = parseNumber(text);
    if (value !== null && fits(value)) {
      if (entry) entry.taken = true;
      box.set(value);
    } else if (entry?.taken) {
      // The 8 of an 86 that it cannot be was never meant: what was there before stands, until there is a
      // number that can be.
      entry.taken = false;
      box.set(entry.before);
    } else {
      bench.refresh();
    }
  };
  const leave = () => {
    if (problem === null || parsed !== null) {
      if (!outside) bench.drafts.delete(box.key);
      bench.refresh();
    }
  };
  const key = (event: KeyboardEvent) => {
    if (event.key !== "ArrowUp" && event.key !== "ArrowDown") return;
    event.preventDefault();
    go(event.key === "ArrowUp" ? 1 : -1)();
  };
  const name = box.label;
  return html`<div class="number ${problem ? "wrong" : ""}">
    <label class=${box.hideLabel ? "visually-hidden" : "label"} for=${box.key}>${name}</label>
    <div class="stepper">
      <button type="button" class="step" aria-label=${say("less-of", { what: name })} data-repeat @click=${go(-1)}>${icon("minus")}</button>
      <span class="field">
        <input id=${box.key} type="text" inputmode="decimal" autocomplete="off" enterkeyhint="done"
          .value=${live(draft ?? typed(box.value))} @input=${input} @blur=${leave} @keydown=${key}
          @focus=${(event: Event) => (event.target as HTMLInputElement).select()}
          aria-invalid=${problem ? "true" : "false"} aria-describedby=${problem ? `${box.key}-problem` : nothing} />
        <span class="unit" aria-hidden="true">${box.unit}</span>
      </span>
      <button type="button" class="step" aria-label=${say("more-of", { what: name })} data-repeat @click=${go(1)}>${icon("plus")}</button>
    </div>
    ${problem ? html`<p class="problem" id="${box.key}-problem" role="alert">${problem}</p>` : nothing}
  </div>`;
}

/** One of many. */
export function select(
  id: string,
  label: string,
  choices: Record<string, string>,
  chosen: string,
  set: (value: string) => void,
): TemplateResult {
  return html`<div class="choice"><label class="label" for=${id}>${label}</label>
    <select id=${id} class="select" @change=${(event: Event) => set((event.target as HTMLSelectElement).value)}>
      ${Object.entries(choices).map(
        ([value, words]) =>
          html`<option value=${value} .selected=${live(value === chosen)}>${words}</option>`,
      )}
    </select></div>`;
}

/** That an answer takes its time, and the way out. */
export function waiting(bench: Bench, ask: Question, words: string): TemplateResult | typeof nothing {
  if (!bench.slow.has(ask)) return nothing;
  return html`<div class="running" role="status">
    <progress aria-label=${words}></progress><p>${words}…</p>
    <button type="button" class="button" @click=${() => bench.stop(ask)}>${say("cancel")}</button>
  </div>`;
}

/** Choices that are told by a word each. */
export function worded<T extends string>(words: Record<T, string>): Choice<T>[] {
  return (Object.keys(words) as T[]).map((value) => ({ value, label: words[value] }));
}

/** A weight in the reader's unit: `250 g`, `8.82 oz`. */
export function mass(grams: number, unit: "g" | "oz", digits = unit === "oz" ? 2 : 1): string {
  return `${shown(unit === "oz" ? grams / OUNCE_G : grams, digits)} ${unit}`;
}

/** A weight to type, held in grams. */
export function massBox(
  bench: Bench,
  key: string,
  label: string,
  grams: number,
  step: number,
  complaint: string | null,
  set: (grams: number) => void,
  least = 1,
): TemplateResult {
  const { mass: unit } = bench.store.preferences;
  const ounces = unit === "oz";
  return numberBox(bench, {
    key,
    label,
    value: Math.round((ounces ? grams / OUNCE_G : grams) * 100) / 100,
    least,
    most: ounces ? 3500 : 100_000,
    step: ounces ? 1 : step,
    unit,
    complaint,
    set: (value) => set(ounces ? value * OUNCE_G : value),
  });
}

/** What a jar holds, in the reader's unit. */
export function volumeBox(
  bench: Bench,
  key: string,
  label: string,
  millilitres: number,
  set: (millilitres: number) => void,
): TemplateResult {
  const ounces = bench.store.preferences.mass === "oz";
  return numberBox(bench, {
    key,
    label,
    value: ounces ? Math.round((millilitres / FLUID_OUNCE_ML) * 100) / 100 : millilitres,
    least: ounces ? 0.05 : RANGES.fill_ml[0],
    most: ounces ? 169 : RANGES.fill_ml[1],
    step: ounces ? 0.5 : 10,
    unit: ounces ? "fl oz" : "mL",
    set: (value) => set(ounces ? value * FLUID_OUNCE_ML : value),
  });
}

/** A temperature in the reader's unit; of storage unless said otherwise. */
export function celsiusBox(
  bench: Bench,
  key: string,
  label: string,
  celsius: number,
  complaint: string | null,
  set: (celsius: number) => void,
  [least, most]: readonly [number, number] = RANGES.storage_c,
): TemplateResult {
  const unit = bench.store.preferences.temperature;
  return numberBox(bench, {
    key,
    label,
    value: Math.round(toUnit(celsius, unit) * 10) / 10,
    least: toUnit(least, unit),
    most: toUnit(most, unit),
    step: unit === "F" ? 1 : 0.5,
    unit: `°${unit}`,
    complaint,
    set: (value) => set(fromUnit(value, unit)),
  });
}

export interface Choice<T extends string> {
  value: T;
  label: string;
  hint?: string;
  drawing?: TemplateResult;
}

/** One of a few, as large chips; real radio buttons underneath. */
export function chips<T extends string>(
  legend: string,
  name: string,
  choices: Choice<T>[],
  chosen: string,
  set: (value: T) => void,
): TemplateResult {
  return html`<fieldset class="chips">
    <legend class="label">${legend}</legend>
    <div class="chip-row ${choices.some((choice) => choice.hint) ? "hinted" : ""}">
      ${choices.map(
        (choice) => html`<label class="chip">
          <input type="radio" name=${name} value=${choice.value} .checked=${live(choice.value === chosen)}
            @change=${() => set(choice.value)} />
          <span class="chip-face">${choice.drawing ?? nothing}<span>${choice.label}</span>${
            choice.hint ? html`<small>${choice.hint}</small>` : nothing
          }</span>
        </label>`,
      )}
    </div>
  </fieldset>`;
}
