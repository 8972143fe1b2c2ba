// Weighing, and the bench sheet: one page, black on white, that lies beside the pot.

import { html, nothing, svg, type TemplateResult } from "lit/html.js";

import type { App } from "../app.js";
import { degrees, sentence, shown } from "../numbers.js";
import { AFTER_MAKING, allergens } from "./cautions.js";
import { numberBox } from "./controls.js";
import { icon } from "./icons.js";

const OUNCE_G = 28.349523125;

export function weighing(app: App): TemplateResult {
  const { batch, mass } = app.store.preferences;
  const told = app.tools.batch;
  const inUnit = mass === "oz" ? batch / OUNCE_G : batch;
  const print = async () => {
    await app.tools.makeCode();
    requestAnimationFrame(() => window.print());
  };
  return html`<section class="card" aria-labelledby="weigh-title">
    <h2 id="weigh-title">Weigh it</h2>
    ${numberBox(app, {
      key: "batch",
      label: "Batch",
      value: Math.round(inUnit * 100) / 100,
      least: 1,
      most: mass === "oz" ? 3500 : 100_000,
      step: mass === "oz" ? 1 : 50,
      unit: mass,
      set: (value) => app.store.prefer({ batch: mass === "oz" ? value * OUNCE_G : value }),
    })}
    ${
      told
        ? html`<table class="weights">
          <thead><tr><th scope="col">Ingredient</th><th scope="col">%</th><th scope="col">${told.unit}</th></tr></thead>
          <tbody>${told.lines.map(
            (line) => html`<tr><th scope="row">${line.name}</th><td>${shown(line.percent, 2)}</td>
              <td><strong>${shown(line.amount, 2)}</strong></td></tr>`,
          )}</tbody>
          <tfoot><tr><th scope="row">Total</th><td>100</td><td>${shown(told.total, 2)}</td></tr></tfoot>
        </table>
        <p class="help">Fills ${told.jars.full} jars of ${shown(told.jars.jar_ml, 0)} mL${
          app.state.format === "whipped" ? ", whipped to 1.6 times its volume" : ""
        }.</p>
        <details><summary>List for the label</summary><p>${told.label.text}</p><p class="help">${told.label.note}</p></details>`
        : html`<p class="help">At 100 % the weights stand here.</p>`
    }
    <button type="button" class="button wide" @click=${print}>${icon("print")} Print the bench sheet</button>
  </section>`;
}

/** Only on paper. */
export function benchSheet(app: App): TemplateResult {
  const { behaviour, state } = app;
  const { batch, code } = app.tools;
  const unit = app.store.preferences.temperature;
  if (!batch || !behaviour) return html``;
  const found = allergens(app);
  return html`<article class="bench-sheet" aria-hidden="true">
    <h1>${state.name ?? "Body butter"}</h1>
    <p class="sheet-verdict">${sentence(behaviour.verdict.sentence, unit)}</p>
    <div class="sheet-columns">
      <table>
        <thead><tr><th>Ingredient</th><th>%</th><th>${batch.unit}</th><th>Lot</th><th>✓</th></tr></thead>
        <tbody>${batch.lines.map(
          (line) =>
            html`<tr><th>${line.name}</th><td>${shown(line.percent, 2)}</td><td>${shown(line.amount, 2)}</td><td></td><td></td></tr>`,
        )}</tbody>
        <tfoot><tr><th>Total</th><td>100</td><td>${shown(batch.total, 2)}</td><td></td><td></td></tr></tfoot>
      </table>
      <table>
        <tbody>
          <tr><th>Storage</th><td>${degrees(state.storage_c.coldest, unit)} to ${degrees(state.storage_c.hottest, unit)}</td></tr>
          ${[
            ["Softens", behaviour.softening_c],
            ["Slip point", behaviour.slip_c],
            ["Clear point", behaviour.clear_c],
            ["Melt-out", behaviour.making.melt_out_c],
          ].map(([name, celsius]) =>
            typeof celsius === "number"
              ? html`<tr><th>${name}</th><td>${degrees(celsius, unit)}</td></tr>`
              : nothing,
          )}
          <tr><th>Date, maker</th><td class="blank"></td></tr>
          <tr><th>Batch lot</th><td class="blank"></td></tr>
        </tbody>
      </table>
    </div>
    <ol>${behaviour.making.steps.map((step) => html`<li>${sentence(step, unit)}</li>`)}</ol>
    <ul>
      ${behaviour.making.cautions.slice(0, 2).map((caution) => html`<li>${sentence(caution, unit)}</li>`)}
      ${AFTER_MAKING.slice(0, 3).map((caution) => html`<li>${caution}</li>`)}
      ${found.length ? html`<li>In it: ${found.map(({ group }) => group).join(", ")}.</li>` : nothing}
    </ul>
    <p class="notes-space">Notes</p>
    ${
      code
        ? html`<footer><svg class="code" viewBox="-4 -4 ${code.size + 8} ${code.size + 8}">${svg`<path d=${code.path} />`}</svg>
          <p>${code.address}</p></footer>`
        : nothing
    }
  </article>`;
}
