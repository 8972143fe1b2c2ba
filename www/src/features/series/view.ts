// The card of a ratio series, and its sheet for a class.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Answers, Measured } from "../../contract.js";
import { foretold, shown } from "../../numbers.js";
import { mass, numberBox, select } from "../../parts/controls.js";
import { icon } from "../../parts/icons.js";
import { harmless, say } from "../../words.js";
import { MEASURED } from "../notebook/draft.js";
import { MEASURED_NAMES, withinNineInTen } from "../notebook/said.js";
import { tubeSteps } from "../notebook/sheets.js";
import type { Series } from "./state.js";

type Told = NonNullable<Answers["plan"]["series"]>;

export function seriesCard(series: Series): TemplateResult {
  const { bench, told, seeking, failure } = series;
  const names = (all: { id: string; name: string }[]) =>
    Object.fromEntries(all.map(({ id, name }) => [id, name]));
  const measured = Object.fromEntries(MEASURED.map((one) => [one, MEASURED_NAMES[one]]));
  return html`<details class="card fold" id="series">
    <summary><span class="told"><h2>${say("series")}</h2><small>${say("series-hint")}</small></span></summary>
    ${select("series-butter", say("series-butter"), names(series.butters), series.butter, (id) => series.setButter(id))}
    ${jar(series, series.butter)}
    ${select("series-hardener", say("series-hardener"), names(series.hardeners), series.hardener, (id) => series.setHardener(id))}
    ${jar(series, series.hardener)}
    ${numberBox(bench, { key: "series-most", label: say("series-most"), value: series.most_percent, least: 1, most: 40, step: 1, unit: "%", set: (most) => series.change(() => (series.most_percent = Math.round(most))) })}
    ${numberBox(bench, { key: "series-doses", label: say("series-doses"), value: series.doses, least: 2, most: 10, step: 1, unit: "", set: (doses) => series.change(() => (series.doses = Math.round(doses))) })}
    ${numberBox(bench, { key: "series-grams", label: say("pot-weighs"), value: series.grams, least: 10, most: 100, step: 5, unit: "g", set: (grams) => series.change(() => (series.grams = grams)) })}
    ${select("series-measured", say("read-by"), measured, series.measured, (one) => series.change(() => (series.measured = one as Measured)))}
    <button type="button" class="button primary wide" ?disabled=${seeking} @click=${() => void series.plan()}>${icon("find")} ${say("series-plan")}</button>
    ${
      seeking
        ? html`<div class="running" role="status"><progress aria-label=${say("series-planning")}></progress><p>${say("series-planning")}…</p></div>`
        : nothing
    }
    ${failure ? html`<p class="problem" role="alert">${failure}</p>` : nothing}
    ${told && series.isNow ? planned(series, told) : nothing}
  </details>`;
}

/** Which jar of the notebook it goes by. */
function jar(series: Series, id: string): TemplateResult | typeof nothing {
  const name = series.jarOf(id);
  return name === null ? nothing : html`<p class="help">${say("series-jar", { name: harmless(name) })}</p>`;
}

/** What the doses tell, beside as many evenly spaced ones. */
function worth(told: Told): string {
  const left_k = Math.min(...told.doses.map((dose) => dose.left_k));
  return say("series-tells", {
    now_k: withinNineInTen(told.now_k),
    left_k: withinNineInTen(left_k),
    evenly_k: withinNineInTen(told.evenly_k),
  });
}

/** The dose that tells most: what is left after it is the most of all, since each later one leaves less. */
const isFirst = (told: Told, one: Told["doses"][number]) =>
  told.doses.every((dose) => dose.left_k <= one.left_k);

function planned(series: Series, told: Told): TemplateResult {
  const { bench } = series;
  return html`<div class="planned" role="status">
    <h3>${say("series-make")}</h3>
    <p>${worth(told)}</p>
    <div class="scroll" role="region" tabindex="0" aria-label=${say("series-make")}>${table(series, told, 0)}</div>
    <p class="help">${say("series-scale")} ${say("nine-in-ten")}</p>
    <div class="row"><button type="button" class="button" @click=${() => series.print()}>${icon("print")} ${say("print-pot")}</button></div>
    <p class="help">${say("series-write", { name: bench.nameOf(series.butter) })}</p>
  </div>`;
}

/** The doses, with so many empty columns for what is read. */
function table(series: Series, told: Told, blanks: number): TemplateResult {
  const { mass: weight, temperature: unit } = series.bench.store.preferences;
  const grams = (value: number) => mass(value, weight, 2).replace(` ${weight}`, "");
  const within = (kelvin: number) => shown(kelvin * (unit === "F" ? 1.8 : 1), 1);
  const tubes = Array.from({ length: blanks }, (_, at) => say("series-tube", { number: at + 1 }));
  const empty = blanks ? [...tubes, say("series-feels")] : [];
  return html`<table class="series">
    <thead><tr><th scope="col">${say("dose-column")}</th><th scope="col">${say("series-butter")}, ${weight}</th><th scope="col">${say("series-hardener")}, ${weight}</th>
      <th scope="col">${say("series-expected", { unit: `°${unit}` })}</th>${empty.map((head) => html`<th scope="col">${head}</th>`)}</tr></thead>
    <tbody>${told.doses.map(
      (
        one,
      ) => html`<tr><th scope="row">${shown(one.percent, 0)}${isFirst(told, one) ? " *" : ""}</th><td>${grams(one.butter_g)}</td><td>${grams(one.hardener_g)}</td>
        <td>${foretold(one.expected_c, unit).replace(/\s.*$/u, "")} ± ${within(one.within_k)}</td>${empty.map(() => html`<td class="blank"></td>`)}</tr>`,
    )}</tbody>
  </table>
  <p class="help">${say("series-most-telling")}</p>`;
}

/** The sheet: what to weigh, what to expect, how to look, and room for what the class reads. */
export function seriesSheet(series: Series): TemplateResult | typeof nothing {
  const { bench, told, onPaper } = series;
  if (!onPaper || !told) return nothing;
  return html`<article class="note-sheet" aria-hidden="true">
    <h1>${say("series-of", { hardener: bench.nameOf(series.hardener), butter: bench.nameOf(series.butter) })}</h1>
    <p>${worth(told)}</p>
    ${table(series, told, 3)}
    <p>${say("series-scale")} ${say("nine-in-ten")} ${say("write-what-you-see")}</p>
    <h2>${say("do-this")}</h2>
    <ol class="steps"><li>${say("series-step-melt")}</li>${tubeSteps().map((one) => html`<li>${one}</li>`)}</ol>
    <h2>${say("mind")}</h2>
    <ul class="bullets">${[say("mind-bath"), say("mind-hot-fat"), say("series-mind-class"), say("mind-not-eaten"), say("mind-glass"), say("mind-slip")].map((one) => html`<li>${one}</li>`)}</ul>
  </article>`;
}
