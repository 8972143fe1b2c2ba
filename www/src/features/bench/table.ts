// The picture as a table, for whoever reads better than looks.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import type { Behaviour } from "../../contract.js";
import { degrees, shown, tied } from "../../numbers.js";
import { askOrigin } from "./origin.js";
import { at, domain } from "./picture.js";

const PLACES = { coldest: "coldest", usual: "room", hottest: "hottest", skin: "skin" };

export function table(bench: Bench): TemplateResult {
  const { before, after } = bench.pair;
  const unit = bench.store.preferences.temperature;
  if (!after) return html``;
  const { storage_c, skin_c } = bench.state;
  const [low, high] = domain(bench, [before, after]);
  const named = new Map<number, string>([
    [storage_c.coldest, "coldest storage"],
    [storage_c.hottest, "hottest storage"],
    [skin_c, "skin"],
  ]);
  const rows = new Set(named.keys());
  for (let celsius = low; celsius <= high; celsius += 5) rows.add(celsius);
  const cell = (value: number, digits = 1) => html`<td>${shown(value, digits)} %</td>`;
  const point = (
    key: "softens" | "slip" | "clear",
    name: string,
    pick: (one: Behaviour) => number | null,
    band?: number,
  ) => html`<tr>
    <th scope="row">${name} ${askOrigin(bench, key, `the point where it ${key === "softens" ? "softens" : `is ${key}`}`)}</th>
    ${[before, after].map((one) =>
      one
        ? html`<td>${pick(one) === null ? "–" : degrees(pick(one) ?? 0, unit)}${band ? ` ± ${shown(unit === "F" ? band * 1.8 : band, 0)}` : ""}</td>`
        : nothing,
    )}
  </tr>`;
  const heads = before
    ? html`<th scope="col">Before</th><th scope="col">After</th>`
    : html`<th scope="col">Now</th>`;
  return html`<details class="twin">
    <summary>The picture as a table</summary>
    <table>
      <caption>Melting points</caption>
      <thead><tr><th scope="col">Point</th>${heads}</tr></thead>
      <tbody>
        ${point("softens", "Softens: the jar stops holding its shape", (one) => one.softening_c)}
        ${point("slip", "Slip point: a column of it starts to slide", (one) => one.slip_c, after.band.slip_c)}
        ${point("clear", "Clear point: the last solid goes", (one) => one.clear_c, after.band.clear_c)}
      </tbody>
    </table>
    <table>
      <caption>Solid fat content, ± ${shown(after.band.solid_percent, 0)} ${askOrigin(bench, "solid", "solid fat content")}</caption>
      <thead><tr><th scope="col">At</th>${heads}</tr></thead>
      <tbody>
        ${[...rows]
          .sort((a, b) => a - b)
          .map(
            (celsius) => html`<tr><th scope="row">${degrees(celsius, unit)}${
              named.has(celsius) ? html` <small>${named.get(celsius)}</small>` : nothing
            }</th>
            ${before ? cell(at(before.curve, "solid_percent", celsius)) : nothing}
            ${cell(at(after.curve, "solid_percent", celsius))}</tr>`,
          )}
      </tbody>
    </table>
    <table>
      <caption>What it is like ${askOrigin(bench, "firmness", "firmness")}</caption>
      <thead><tr><th scope="col">At</th><th scope="col">Firmness</th><th scope="col">Structure</th><th scope="col">Weeps</th></tr></thead>
      <tbody>
        ${(["coldest", "usual", "hottest", "skin"] as const).map((name) => {
          const { at_c, firmness, structure_percent, weeping_oil_percent } = after.places[name];
          return html`<tr><th scope="row">${tied(degrees(at_c, unit))} <small>${PLACES[name]}</small></th><td>${firmness}</td>
            ${cell(structure_percent, 0)}${name === "skin" ? html`<td>–</td>` : cell(weeping_oil_percent, 0)}</tr>`;
        })}
      </tbody>
    </table>
    <p class="help">Left on skin: ${shown(after.residue.waxy_percent)} % solid, felt as waxy from about 3.5 %; ${shown(after.residue.oily_percent)} % oil, felt until it is rubbed in.</p>
  </details>`;
}
