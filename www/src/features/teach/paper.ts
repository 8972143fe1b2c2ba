// The sheet for a class, on one page of paper: the recipe, the picture, the doses, a code to follow, and a
// table to fill in with what the class measures.

import { html, nothing, svg, type TemplateResult } from "lit/html.js";

import type { Hardener } from "../../contract.js";
import { degrees, shown, toUnit } from "../../numbers.js";
import { say, sayFindings } from "../../words.js";
import { chart } from "./chart.js";
import { bareFigureAt, shownOf } from "./figures.js";
import type { Teach } from "./state.js";

const DOSES = [0, 5, 10, 15, 20];
/** Empty lines for what is measured. */
const EMPTY = 8;
/** What a pot of a class usually weighs, g (common practice, no source). */
const POT_G = 100;

export function classSheet(teach: Teach): TemplateResult | typeof nothing {
  const { bench, fitting, picture, code, onPaper } = teach;
  if (!onPaper || !picture) return nothing;
  const { state } = bench;
  const unit = bench.store.preferences.temperature;
  const figure = shownOf(teach.figure);
  const doses = [...new Set([...DOSES, teach.dose, teach.most])]
    .filter((dose) => dose <= teach.most)
    .toSorted((a, b) => a - b);
  return html`<article class="class-sheet" aria-hidden="true">
    <h1>${say("teach")}: ${state.name ?? say("body-butter")}</h1>
    <p>${say("sheet-storage")}: ${say("from-to", { from: shown(toUnit(state.storage_c.coldest, unit)), to: degrees(state.storage_c.hottest, unit) })}.
      ${bench.behaviour ? sayFindings("verdict", bench.behaviour.verdict.findings) : nothing}
      ${say(teach.swap === "oil" ? "dose-takes-oil" : "dose-takes-all")}</p>
    <div class="sheet-columns">
      ${fitting.length && teach.most > 0 ? chart(teach, fitting, figure, { width: 420, height: 300, px: 11.5 }, { still: true }) : nothing}
      ${
        code
          ? html`<footer><svg class="code" viewBox="-4 -4 ${code.size + 8} ${code.size + 8}">${svg`<path d=${code.path} />`}</svg>
            <p>${say("follow-by-code")}</p><p class="class-address">${code.address}</p></footer>`
          : nothing
      }
    </div>
    <table>
      <caption>${figure.name(state.format)}, ${figure.celsius ? `°${unit}` : "%"}</caption>
      <thead><tr><th>${say("hardener")}</th>${doses.map((dose) => html`<th>${say("dose-short", { dose_percent: dose })}</th>`)}</tr></thead>
      <tbody>${fitting.map(
        (one) =>
          html`<tr><th>${bench.nameOf(one.id)}</th>${doses.map((dose) => html`<td>${bareFigureAt(figure, one, dose, unit)}</td>`)}</tr>`,
      )}</tbody>
    </table>
    ${alike(fitting).map((group) => weighed(teach, group, doses))}
    <table class="measured">
      <caption>${say("class-measured")}</caption>
      <thead><tr><th>${say("hardener")}</th><th>${say("dose-column")}</th><th>${say("sheet-softens")} °${unit}</th><th>${say("sheet-slip")} °${unit}</th><th>${say("sheet-clear")} °${unit}</th><th>${say("measured-by")}</th></tr></thead>
      <tbody>${Array.from({ length: EMPTY }, () => html`<tr class="empty">${Array.from({ length: 6 }, () => html`<td></td>`)}</tr>`)}</tbody>
    </table>
  </article>`;
}

/** Hardeners in whose place the same gives way: all of them, unless the recipe has some of one already. */
function alike(fitting: Hardener[]): Hardener[][] {
  const groups = new Map<string, Hardener[]>();
  for (const one of fitting) {
    const key = JSON.stringify(one.base_percent);
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()];
}

/** What a pot of each dose weighs, with the recipe's percentages beside it. */
function weighed(
  { bench, fitting }: Teach,
  group: Hardener[],
  doses: number[],
): TemplateResult | typeof nothing {
  const [one] = group;
  if (!one) return nothing;
  const { recipe } = bench.state;
  const grams = (percent: number | undefined) =>
    percent === undefined ? "–" : shown((percent * POT_G) / 100, 1);
  const at = doses.map((dose) => one.dose_percent.indexOf(dose));
  const hardener =
    group.length === fitting.length ? say("hardener") : group.map(({ id }) => bench.nameOf(id)).join(", ");
  return html`<table class="pot-weights">
    <caption>${say("class-pot", { whole: POT_G })}</caption>
    <thead><tr><th>${say("ingredient")}</th><th>%</th>${doses.map((dose) => html`<th>${say("class-pot-dose", { dose_percent: dose })}</th>`)}</tr></thead>
    <tbody>${recipe.map((item, line) =>
      item.percent > 0
        ? html`<tr><th>${bench.name(item)}</th><td>${shown(item.percent, 2)}</td>${at.map((i) => html`<td>${grams(one.base_percent[i]?.[line])}</td>`)}</tr>`
        : nothing,
    )}
      <tr><th>${hardener}</th><td></td>${at.map((i) => html`<td>${grams(one.dose_percent[i])}</td>`)}</tr></tbody>
  </table>`;
}
