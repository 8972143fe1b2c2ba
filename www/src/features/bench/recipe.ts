// The recipe: one line an ingredient, big buttons, the total always in sight.

import { repeat } from "lit/directives/repeat.js";
import { html, nothing, svg, type TemplateResult } from "lit/html.js";

import type { App } from "../../app.js";
import type { Item } from "../../contract.js";
import { shown } from "../../numbers.js";
import { numberBox } from "../../parts/controls.js";
import { icon } from "../../parts/icons.js";
import { openSheet } from "../../parts/sheets.js";
import { keyOf } from "../../state.js";
import { openOwn } from "./own/view.js";

export const CLASS_NAMES: Record<string, string> = {
  "hard-butter": "hard butter",
  "soft-butter": "soft butter",
  "liquid-oil": "liquid oil",
  "fatty-acid": "fatty acid",
  "fatty-alcohol": "fatty alcohol",
  wax: "wax",
  other: "other",
};

/** Whether a line brings what it is made of, rather than being in the catalogue. */
function isOwn(item: Item): boolean {
  return Boolean(
    item.composition ?? item.fatty_acids ?? item.solid_points ?? (item.id ? undefined : item.like),
  );
}

export function className(app: App, item: Item): string {
  if (isOwn(item)) return "your own";
  const known = app.catalogue.get(item.id ?? "");
  return known
    ? (CLASS_NAMES[known.class] ?? known.class)
    : app.catalogue.size
      ? "not in this catalogue"
      : "";
}

export function recipe(app: App): TemplateResult {
  const { recipe: lines, name } = app.state;
  return html`<section class="card recipe" aria-labelledby="recipe-title">
    <h2 id="recipe-title">Recipe</h2>
    <label class="visually-hidden" for="recipe-name">Name of the recipe</label>
    <input id="recipe-name" class="recipe-name" type="text" maxlength="60" placeholder="Name it"
      autocomplete="off" .value=${name ?? ""}
      @input=${(event: Event) => {
        const text = (event.target as HTMLInputElement).value;
        app.store.change({ name: text.trim() ? text : null }, "name");
      }} />
    ${proportions(app)}
    <ul class="lines">
      ${repeat(
        lines,
        (item, at) => `${at} ${keyOf(item)}`,
        (item, at) => row(app, item, at),
      )}
    </ul>
    ${total(app)}
    <div class="row add-row">
      <button type="button" class="button" @click=${() => openAdd(app)}>${icon("plus")} Add an ingredient</button>
      <button type="button" class="button" @click=${() => openSheet(app, "paste")}>Paste a recipe</button>
    </div>
  </section>`;
}

function openAdd(app: App): void {
  app.catalogueSearch = "";
  openSheet(app, "add");
}

/** The shares as one bar; the numbers are in the lines. */
function proportions(app: App): TemplateResult {
  const all = Math.max(100, app.total());
  let from = 0;
  const parts = app.state.recipe.map((item) => {
    const part = {
      from,
      width: (item.percent / all) * 100,
      kind: app.catalogue.get(item.id ?? "")?.class ?? "other",
    };
    from += part.width;
    return part;
  });
  return html`<svg class="proportions" viewBox="0 0 100 4" preserveAspectRatio="none" aria-hidden="true">
    <rect class="share none" width="100" height="4" />
    ${parts.map((part) => shareOf(part))}
  </svg>`;
}

function shareOf(part: { from: number; width: number; kind: string }) {
  return svg`<rect class="share ${part.kind}" x=${part.from} width=${Math.max(0, part.width - 0.4)} height="4" />`;
}

function row(app: App, item: Item, at: number): TemplateResult {
  const name = app.name(item);
  const key = keyOf(item);
  const locked = app.state.limits.locked.includes(key);
  const open = app.unfolded === at;
  const complaint = app.complaint(`recipe[${at}]`);
  const fold = () => {
    app.unfolded = open ? -1 : at;
    app.refresh();
  };
  const inci = app.catalogue.get(item.id ?? "")?.inci;
  return html`<li class="line">
    <button type="button" class="line-name" aria-expanded=${open ? "true" : "false"} @click=${fold}>
      <span class="line-text"><span class="line-title">${name}${locked ? icon("lock") : nothing}</span>
        <small>${className(app, item)}</small></span>
      <span class="fold">${icon("more")}</span>
    </button>
    ${numberBox(app, {
      key: `percent-${at}`,
      label: `${name}, percent`,
      hideLabel: true,
      value: item.percent,
      least: 0,
      most: 100,
      step: app.state.limits.step_percent,
      unit: "%",
      complaint,
      set: (value) => app.setPercent(at, value, `percent-${at}`),
    })}
    ${
      open
        ? html`<div class="line-more">
          ${inci ? html`<p class="inci">${inci}</p>` : nothing}
          ${locked ? nothing : bounds(app, item, at, key)}
          <div class="row">
            <label class="check"><input type="checkbox" .checked=${locked} @change=${() => app.toggleLock(key)} />
              <span>A rework leaves it alone</span></label>
            ${isOwn(item) ? html`<button type="button" class="button" @click=${() => openOwn(app, at)}>Change what it is</button>` : nothing}
            <button type="button" class="button" @click=${() => app.remove(at)}>${icon("close")} Remove ${name}</button>
          </div>
        </div>`
        : nothing
    }
  </li>`;
}

function bounds(app: App, item: Item, at: number, key: string): TemplateResult {
  const { min: least, max: most } = app.state.limits.bounds.get(key) ?? { min: 0, max: 100 };
  const box = (end: string, value: number, set: (value: number) => void) =>
    numberBox(app, {
      key: `${end}-${at}`,
      label: `In a rework, at ${end}`,
      value,
      least: 0,
      most: 100,
      step: 1,
      unit: "%",
      complaint: least > most ? `At least ${shown(least)} is more than at most ${shown(most)} %.` : null,
      set,
    });
  return html`<div class="pair" role="group" aria-label="Bounds of ${app.name(item)}">
    ${box("least", least, (value) => app.setBounds(key, { min: value, max: most }))}
    ${box("most", most, (value) => app.setBounds(key, { min: least, max: value }))}
  </div>`;
}

function total(app: App): TemplateResult {
  const sum = app.total();
  const off = Math.abs(sum - 100) > 0.01;
  const word = sum < 100 ? `${shown(100 - sum, 2)} % to go` : `${shown(sum - 100, 2)} % too much`;
  return html`<div class="total ${off ? "off" : ""}">
    <span>Total</span>
    <output class="total-figure" aria-live="polite">${shown(sum, 2)} %</output>
    ${
      off
        ? html`<span class="total-word">${word}</span>
          ${sum > 0 ? html`<button type="button" class="button" @click=${() => app.scale()}>Scale to 100 %</button>` : nothing}`
        : nothing
    }
  </div>`;
}
