// The sheet for a class, on one page of paper: the recipe, the picture, the doses, a code to follow, and a table to fill in with
// what the class measures.

import { html, nothing, svg, type TemplateResult } from "lit/html.js";

import { degrees, shown, toUnit } from "../../numbers.js";
import { say, sayFindings } from "../../words.js";
import { chart } from "./chart.js";
import { shownOf } from "./figures.js";
import type { Teach } from "./state.js";

const DOSES = [0, 5, 10, 15, 20];
/** Empty lines for what is measured. */
const EMPTY = 8;

export function classSheet(teach: Teach): TemplateResult | typeof nothing {
  const { bench, told, picture, code, onPaper } = teach;
  if (!onPaper || !picture) return nothing;
  const { state } = bench;
  const unit = bench.store.preferences.temperature;
  const figure = shownOf(teach.figure);
  const fitting = told.filter((one) => picture.hardeners.includes(one.id));
  const value = (raw: number | null | undefined) =>
    raw == null ? "–" : figure.celsius ? shown(toUnit(raw, unit), 1) : shown(raw, 0);
  const doses = [...new Set([...DOSES, teach.dose])].toSorted((a, b) => a - b);
  return html`<article class="class-sheet" aria-hidden="true">
    <h1>${say("teach")}: ${state.name ?? say("body-butter")}</h1>
    <p>${bench.behaviour ? sayFindings("verdict", bench.behaviour.verdict.findings) : nothing}
      ${say(picture.swap === "oil" ? "dose-takes-oil" : "dose-takes-all")}</p>
    <div class="sheet-columns">
      ${fitting.length ? chart(teach, fitting, figure, { width: 420, height: 300, px: 11.5 }) : nothing}
      <table>
        <thead><tr><th>${say("ingredient")}</th><th>%</th></tr></thead>
        <tbody>${state.recipe
          .filter((item) => item.percent > 0)
          .map(
            (item) => html`<tr><th>${bench.name(item)}</th><td>${shown(item.percent, 2)}</td></tr>`,
          )}</tbody>
        <tfoot><tr><th>${say("sheet-storage")}</th><td>${say("from-to", { from: shown(toUnit(state.storage_c.coldest, unit)), to: degrees(state.storage_c.hottest, unit) })}</td></tr></tfoot>
      </table>
    </div>
    <table>
      <caption>${figure.name}, ${figure.celsius ? `°${unit}` : "%"}</caption>
      <thead><tr><th>${say("hardener")}</th>${doses.map((dose) => html`<th>${dose} %</th>`)}</tr></thead>
      <tbody>${fitting.map(
        (one) =>
          html`<tr><th>${bench.nameOf(one.id)}</th>${doses.map((dose) => html`<td>${value(figure.of(one)[one.dose_percent.indexOf(dose)])}</td>`)}</tr>`,
      )}</tbody>
    </table>
    <div class="sheet-columns measured">
      <table>
        <caption>${say("class-measured")}</caption>
        <thead><tr><th>${say("hardener")}</th><th>${say("dose-column")}</th><th>${say("sheet-softens")} °${unit}</th><th>${say("sheet-slip")} °${unit}</th><th>${say("sheet-clear")} °${unit}</th><th>${say("measured-by")}</th></tr></thead>
        <tbody>${Array.from({ length: EMPTY }, () => html`<tr class="empty">${Array.from({ length: 6 }, () => html`<td></td>`)}</tr>`)}</tbody>
      </table>
      ${
        code
          ? html`<footer><svg class="code" viewBox="-4 -4 ${code.size + 8} ${code.size + 8}">${svg`<path d=${code.path} />`}</svg>
            <p>${say("follow-by-code")}</p></footer>`
          : nothing
      }
    </div>
    ${code ? html`<p class="class-address">${code.address}</p>` : nothing}
  </article>`;
}
