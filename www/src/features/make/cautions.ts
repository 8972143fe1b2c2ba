// Plain cautions, where they matter.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import { sayFinding } from "../../words.js";
import { allergens } from "../bench/allergens.js";

export const AFTER_MAKING = [
  "Butter on a wet floor is slippery: in a bath or shower use little, rinse the floor, and warn whoever you give it to.",
  "No water, honey, aloe gel or fresh plant goes into it: without a preservative they spoil it. Keep wet fingers out of the jar.",
  "Try a little on the inside of the elbow for a day before using it all over, and stop if it itches or reddens.",
  "It is a cosmetic: it heals nothing and shields from no sun, and must not be sold as if it did.",
  "What a label must say, and whether you must register before you sell, differs by country: ask your local authority.",
];

export function cautions(bench: Bench): TemplateResult {
  const { found, unknown } = allergens(bench, bench.state.recipe);
  const heat = bench.behaviour?.cautions ?? [];
  return html`<section class="card cautions" aria-labelledby="cautions-title">
    <h2 id="cautions-title">Mind</h2>
    ${
      found.length || unknown.length
        ? html`<h3>In this recipe</h3>
          <ul class="bullets">${found.map(({ group, names }) => html`<li><strong>${group}</strong>: ${names.join(", ")}</li>`)}
            ${unknown.length ? html`<li><strong>not known</strong>: ${unknown.join(", ")}. Ask the supplier what it comes from.</li>` : nothing}</ul>`
        : nothing
    }
    <details>
      <summary>Hot fat and wax</summary>
      <ul class="bullets">${heat.map((caution) => html`<li>${sayFinding("caution", caution)}</li>`)}</ul>
    </details>
    <details>
      <summary>Skin, water, floors, labels</summary>
      <ul class="bullets">
        ${AFTER_MAKING.map((caution) => html`<li>${caution}</li>`)}
        <li>Allergens listed here are those of the plant or animal an ingredient comes from; suppliers know what else their lot holds.</li>
      </ul>
    </details>
  </section>`;
}
