// The picture as a table, for whoever reads better than looks.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import type { Behaviour } from "../../contract.js";
import { degrees, foretold, shown, tied } from "../../numbers.js";
import { FIRMNESS } from "../../parts/classes.js";
import { at } from "../../parts/curve.js";
import { askOrigin } from "../../parts/origin.js";
import { say } from "../../words.js";
import { domain } from "./picture.js";

const PLACES = {
  coldest: say("at-coldest"),
  usual: say("at-room"),
  hottest: say("at-hottest"),
  skin: say("at-skin"),
};

export function table(bench: Bench): TemplateResult {
  const { before, after } = bench.pair;
  const unit = bench.store.preferences.temperature;
  if (!after) return html``;
  const { storage_c, skin_c } = bench.state;
  const [low, high] = domain(bench, [before, after]);
  const named = new Map<number, string>([
    [storage_c.coldest, say("at-coldest-storage")],
    [storage_c.hottest, say("at-hottest-storage")],
    [skin_c, say("at-skin")],
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
    <th scope="row">${name} ${askOrigin(bench, key, name)}</th>
    ${[before, after].map((one) =>
      one
        ? html`<td>${pick(one) === null ? "–" : foretold(pick(one) ?? 0, unit)}${band ? ` ± ${shown(unit === "F" ? band * 1.8 : band, 0)}` : ""}</td>`
        : nothing,
    )}
  </tr>`;
  const heads = before
    ? html`<th scope="col">${say("before")}</th><th scope="col">${say("after")}</th>`
    : html`<th scope="col">${say("now")}</th>`;
  return html`<details class="twin">
    <summary>${say("picture-as-table")}</summary>
    <table>
      <caption>${say("melting-points")}</caption>
      <thead><tr><th scope="col">${say("point")}</th>${heads}</tr></thead>
      <tbody>
        ${point("softens", say("point-softens"), (one) => one.softening_c)}
        ${point("slip", say("point-slip"), (one) => one.slip_c, after.band.slip_c)}
        ${point("clear", say("point-clear"), (one) => one.clear_c, after.band.clear_c)}
      </tbody>
    </table>
    <table>
      <caption>${say("solid-fat-content", { band_percent: after.band.solid_percent })} ${askOrigin(bench, "solid", say("of-solids"))}</caption>
      <thead><tr><th scope="col">${say("at")}</th>${heads}</tr></thead>
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
      <caption>${say("what-it-is-like")} ${askOrigin(bench, "firmness", say("of-firmness"))}</caption>
      <thead><tr><th scope="col">${say("at")}</th><th scope="col">${say("firmness")}</th><th scope="col">${say("structure")}</th><th scope="col">${say("weeps")}</th></tr></thead>
      <tbody>
        ${(["coldest", "usual", "hottest", "skin"] as const).map((name) => {
          const { at_c, firmness, structure_percent, weeping_oil_percent } = after.places[name];
          return html`<tr><th scope="row">${tied(degrees(at_c, unit))} <small>${PLACES[name]}</small></th><td>${FIRMNESS[firmness]}</td>
            ${cell(structure_percent, 0)}${name === "skin" ? html`<td>–</td>` : cell(weeping_oil_percent, 0)}</tr>`;
        })}
      </tbody>
    </table>
    <p class="help">${say("left-on-skin", { waxy_percent: after.residue.waxy_percent, oily_percent: after.residue.oily_percent })}</p>
  </details>`;
}
