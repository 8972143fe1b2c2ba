// Weighing, and the bench sheet: one page, black on white, that lies beside the pot.

import { live } from "lit/directives/live.js";
import { html, nothing, svg, type TemplateResult } from "lit/html.js";
import type { Bench } from "../../bench.js";
import type { Added, Behaviour, Cost, Item } from "../../contract.js";
import { RANGES } from "../../forms.js";
import { degrees, foretold, parseNumber, shown, typed } from "../../numbers.js";
import { allergens } from "../../parts/allergens.js";
import { chips, mass, massBox, numberBox, volumeBox, worded } from "../../parts/controls.js";
import { icon } from "../../parts/icons.js";
import { askOrigin } from "../../parts/origin.js";
import { priced, priceOf, setPrice } from "../../prices.js";
import { addsUp, total } from "../../recipe.js";
import { keyOf, left } from "../../state.js";
import { say, sayFinding, sayFindings } from "../../words.js";
import { evening } from "../bench/verdict.js";
import { AFTER_MAKING } from "./cautions.js";
import { steps } from "./making.js";
import { type Rescue, rescued, together } from "./melting.js";
import type { Make } from "./state.js";

/** Nothing of another recipe stands beside this one: it waits, and says for what. */
function waiting(bench: Bench): TemplateResult {
  const { failure, state } = bench;
  const sum = total(state.recipe);
  const off = sum > 0 && !addsUp(state.recipe);
  return html`<section class="card" aria-labelledby="weigh-title">
    <h2 id="weigh-title">${say("weigh")}</h2>
    <p role="status">${off ? say("make-waits", { sum_percent: sum }) : (failure?.message ?? say("verdict-waiting"))}</p>
    ${off ? evening(bench) : nothing}
  </section>`;
}

export function weighing(make: Make): TemplateResult {
  const { bench, batch: told } = make;
  if (bench.waits) return waiting(bench);
  const { by, batch, jars, lost, overrun, jar_ml } = bench.store.preferences;
  const filled = told && make.filled(told);
  const rescue = rescued(bench);
  const jar = volumeBox(bench, "jar", say("jar"), jar_ml, (jar_ml) => bench.store.prefer({ jar_ml }));
  const stays = numberBox(bench, {
    key: "lost",
    label: say("lost-percent"),
    value: lost,
    least: 0,
    most: 50,
    step: 1,
    unit: "%",
    set: (lost) => bench.store.prefer({ lost }),
  });
  return html`<section class="card" aria-labelledby="weigh-title">
    <h2 id="weigh-title">${say("weigh")}</h2>
    ${
      rescue
        ? rescueTable(bench, rescue)
        : html`${chips(say("weigh-by"), "weigh-by", worded({ weight: say("by-weight"), jars: say("by-jars") }), by, (by) => bench.store.prefer({ by }))}
        ${
          by === "weight"
            ? massBox(bench, "batch", say("batch"), batch, 50, null, (grams) =>
                bench.store.prefer({ batch: grams }),
              )
            : html`${numberBox(bench, { key: "jars", label: say("jars-to-fill"), value: jars, least: 1, most: 10_000, step: 1, unit: "", set: (jars) => bench.store.prefer({ jars }) })}
              ${jar}${stays}`
        }`
    }
    ${
      told && filled
        ? html`${
            rescue
              ? nothing
              : html`<table class="weights">
          <thead><tr><th scope="col">${say("ingredient")}</th><th scope="col">%</th><th scope="col">${told.unit}</th></tr></thead>
          <tbody>${told.lines.map(
            (line) => html`<tr><th scope="row">${line.name}</th><td>${shown(line.percent, 2)}</td>
              <td><strong>${shown(line.amount, 2)}</strong></td></tr>`,
          )}</tbody>
          <tfoot><tr><th scope="row">${say("total")}</th><td>100</td><td>${shown(told.total, 2)}</td></tr></tfoot>
        </table>`
          }
        <p>${say("fills", {
          jars: filled.jars,
          each_ml: told.jars.jar_ml,
          jar_g: told.jars.jar_g,
          left_g: filled.left_g,
        })} ${lost ? say("stays-in-bowl", { lost_g: filled.lost_g }) : nothing} ${askOrigin(bench, "jars", say("of-jars"))}</p>
        ${told.cost ? html`<p><strong>${costs(bench, told.cost)}</strong></p>` : nothing}`
        : html`<p class="help">${say("weights-wait")}</p>`
    }
    <details><summary>${say("jars-and-prices")}</summary>
      <div class="pair">
        ${by === "weight" || rescue ? [jar, stays] : nothing}
        ${
          bench.state.format === "whipped"
            ? numberBox(bench, {
                key: "overrun",
                label: say("overrun"),
                value: overrun,
                least: 0,
                most: RANGES.overrun_percent[1],
                step: 10,
                unit: "%",
                set: (value) => bench.store.prefer({ overrun: value }),
              })
            : nothing
        }
      </div>
      <fieldset class="cells"><legend class="label">${say("price-per-weight", { unit: priced(bench.store).unit })}</legend>
        ${bench.state.recipe.map((item) => price(bench, keyOf(item), bench.name(item)))}</fieldset>
      <p class="help">${say("prices-hint")}</p>
    </details>
    ${
      told?.notes.length && !rescue
        ? html`<details><summary>${say("scale-is-coarse")}</summary>
            ${told.notes.map((note) => html`<p class="help">${sayFinding("batch-note", note)}</p>`)}</details>`
        : nothing
    }
    ${told ? html`<details><summary>${say("label-list")}</summary><p>${told.label.text}</p><p class="help">${sayFindings("label-note", told.label.notes)}</p></details>` : nothing}
    <button type="button" class="button wide" @click=${() => void make.print()}>${icon("print")} ${say("print-sheet")}</button>
  </section>`;
}

/** What is melted into which batch, until the recipe is another or a new batch is wanted. */
function rescueTable(bench: Bench, rescue: Rescue): TemplateResult {
  const unit = bench.store.preferences.mass;
  const row = (name: string, grams: number) =>
    html`<tr><th scope="row">${name}</th><td><strong>${mass(grams, unit)}</strong></td></tr>`;
  return html`<p>${say("weigh-rescue")}</p>
    <table class="weights">
      <thead><tr><th scope="col">${say("sheet-melt-in")}</th><th scope="col">${say("sheet-weight")}</th></tr></thead>
      <tbody>${rescue.add.map(({ id, grams }) => row(bench.nameOf(id), grams))}
        ${row(say("your-batch"), rescue.batch_grams)}</tbody>
      <tfoot><tr><th scope="row">${say("total")}</th><td>${mass(together(rescue), unit)}</td></tr></tfoot>
    </table>
    <button type="button" class="button" @click=${() => bench.store.change({ rescued: null })}>${say("weigh-new-batch")}</button>`;
}

function costs({ store }: Bench, cost: Cost): string {
  return say(cost.without_price.length ? "batch-costs-partly" : "batch-costs", {
    total: shown(cost.total, 2),
    price: shown(priceOf(store, cost.per_kg), 2),
    unit: priced(store).unit,
    jar: shown(cost.per_jar, 2),
  });
}

function price(bench: Bench, key: string, name: string): TemplateResult {
  const { per_kg } = priced(bench.store);
  const known = bench.state.prices.get(key);
  const box = `price ${key}`;
  const draft = bench.drafts.get(box);
  const set = (event: Event) => {
    const text = (event.target as HTMLInputElement).value;
    const value = parseNumber(text);
    bench.drafts.set(box, text);
    if (!text.trim()) setPrice(bench.store, key, null);
    else if (value !== null && value >= 0 && value * per_kg <= 1e6)
      setPrice(bench.store, key, Number((value * per_kg).toPrecision(9)));
    else bench.refresh();
  };
  const wrong = draft !== undefined && draft.trim() !== "" && !((parseNumber(draft) ?? -1) >= 0);
  return html`<label><span>${name}</span><input class="text" type="text" inputmode="decimal" autocomplete="off" maxlength="12"
    aria-invalid=${wrong ? "true" : "false"} .value=${live(draft ?? (known === undefined ? "" : typed(known / per_kg)))} @input=${set} />
    ${wrong ? html`<span class="problem" role="alert">${say("price-problem")}</span>` : nothing}</label>`;
}

/** The answer that is looked at, as far as paper has it: of a rescue, what to melt into the batch. */
interface LookedAt {
  add: Added[] | null;
  recipe: Item[];
  behaviour: Behaviour | null;
}

/** Only on paper, and drawn only for it. */
export function benchSheet(make: Make, answer: LookedAt | null): TemplateResult {
  const { bench, batch, code, onPaper } = make;
  const { state } = bench;
  if (!code && !onPaper) return html``;
  const lookedAt = answer?.add?.length && state.made ? answer : null;
  const rescue: Rescue | null =
    lookedAt?.add && state.made ? { batch_grams: left(state.made), add: lookedAt.add } : rescued(bench);
  const behaviour = lookedAt?.behaviour ?? bench.behaviour;
  const weight = bench.store.preferences.mass;
  const unit = bench.store.preferences.temperature;
  if (!make.ready && onPaper)
    return html`<article class="bench-sheet" aria-hidden="true">
      <h1>${state.name ?? say("body-butter")}</h1><p class="sheet-verdict">${say("sheet-waits")}</p></article>`;
  if (!batch || !behaviour || !make.ready) return html``;
  const recipe = lookedAt?.recipe ?? state.recipe;
  const { found, unknown } = allergens(bench, recipe);
  return html`<article class="bench-sheet" aria-hidden="true">
    <h1>${rescue ? say("sheet-rescue", { name: state.name ?? say("body-butter") }) : (state.name ?? say("body-butter"))}</h1>
    <p class="sheet-verdict">${sayFindings("verdict", behaviour.verdict.findings)}</p>
    <div class="sheet-columns">
      ${
        rescue
          ? html`<table>
        <thead><tr><th>${say("sheet-melt-in")}</th><th>${say("sheet-weight")}</th><th>${say("sheet-lot")}</th><th>✓</th></tr></thead>
        <tbody>${rescue.add.map((one) => html`<tr><th>${bench.nameOf(one.id)}</th><td>${mass(one.grams, weight)}</td><td></td><td></td></tr>`)}
          <tr><th>${say("sheet-batch")}</th><td>${mass(rescue.batch_grams, weight)}</td><td></td><td></td></tr></tbody>
        <tfoot><tr><th>${say("total")}</th><td>${mass(together(rescue), weight)}</td><td></td><td></td></tr></tfoot>
      </table>`
          : html`<table>
        <thead><tr><th>${say("ingredient")}</th><th>%</th><th>${batch.unit}</th><th>${say("sheet-lot")}</th><th>✓</th></tr></thead>
        <tbody>${batch.lines.map(
          (line) =>
            html`<tr><th>${line.name}</th><td>${shown(line.percent, 2)}</td><td>${shown(line.amount, 2)}</td><td></td><td></td></tr>`,
        )}</tbody>
        <tfoot><tr><th>${say("total")}</th><td>100</td><td>${shown(batch.total, 2)}</td><td></td><td></td></tr></tfoot>
      </table>`
      }
      <table>
        <tbody>
          <tr><th>${say("sheet-storage")}</th><td>${say("from-to", { from: degrees(state.storage_c.coldest, unit), to: degrees(state.storage_c.hottest, unit) })}</td></tr>
          ${[
            [say("sheet-softens"), behaviour.softening_c],
            [say("sheet-slip"), behaviour.slip_c],
            [say("sheet-clear"), behaviour.clear_c],
            [say("sheet-melt-out"), behaviour.making.melt_out_c],
          ].map(([name, celsius]) =>
            typeof celsius === "number"
              ? html`<tr><th>${name}</th><td>${foretold(celsius, unit)}</td></tr>`
              : nothing,
          )}
          ${
            rescue
              ? nothing
              : html`<tr><th>${say("sheet-jars")}</th><td>${say("sheet-fills", { jars: make.filled(batch).jars, each_ml: batch.jars.jar_ml, jar_g: batch.jars.jar_g })}</td></tr>
            ${state.format === "whipped" ? html`<tr><th>${say("overrun")}</th><td>${shown(bench.store.preferences.overrun)} %</td></tr>` : nothing}
            ${batch.cost ? html`<tr><th>${say("sheet-cost")}</th><td>${shown(batch.cost.total, 2)}</td></tr>` : nothing}`
          }
          <tr><th>${say("sheet-date")}</th><td class="blank"></td></tr>
          <tr><th>${say("sheet-batch-lot")}</th><td class="blank"></td></tr>
        </tbody>
      </table>
    </div>
    <ol>${steps(bench, recipe, behaviour, rescue)}</ol>
    <ul>
      ${behaviour.cautions.slice(0, 2).map((caution) => html`<li>${sayFinding("caution", caution)}</li>`)}
      ${AFTER_MAKING.slice(0, 3).map((caution) => html`<li>${caution}</li>`)}
      ${found.length ? html`<li>${say("sheet-allergens", { groups: found.map(({ group }) => group).join(", ") })}</li>` : nothing}
      ${unknown.length ? html`<li>${say("sheet-unknown", { names: unknown.join(", ") })}</li>` : nothing}
    </ul>
    <p class="notes-space">${say("sheet-notes")}</p>
    ${
      code
        ? html`<footer><svg class="code" viewBox="-4 -4 ${code.size + 8} ${code.size + 8}">${svg`<path d=${code.path} />`}</svg>
          <p>${code.address}</p></footer>`
        : nothing
    }
  </article>`;
}
