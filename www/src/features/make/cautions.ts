// Plain cautions, where they matter.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import { allergens } from "../../parts/allergens.js";
import { say, sayFinding } from "../../words.js";

export const AFTER_MAKING = [
  say("mind-floor"),
  say("mind-water"),
  say("mind-skin"),
  say("mind-claims"),
  say("mind-label"),
  say("mind-dust"),
];

/** What smells, of the catalogue. */
const PERFUMES = ["essential-oil", "fragrance"];

export function cautions(bench: Bench): TemplateResult {
  const { found, unknown } = allergens(bench, bench.state.recipe);
  const perfumes = bench.state.recipe.filter(
    (item) => item.percent > 0 && PERFUMES.includes(item.id ?? item.like ?? ""),
  );
  const heat = (!bench.waits && bench.behaviour?.cautions) || [];
  return html`<section class="card cautions" aria-labelledby="cautions-title">
    <h2 id="cautions-title">${say("mind")}</h2>
    ${
      found.length || unknown.length || perfumes.length
        ? html`<h3>${say("in-this-recipe")}</h3>
          <ul class="bullets">${found.map(({ group, names }) => html`<li><strong>${group}</strong>: ${names.join(", ")}</li>`)}
            ${unknown.length ? html`<li><strong>${say("allergens-not-known")}</strong>: ${say("ask-supplier", { names: unknown.join(", ") })}</li>` : nothing}
            ${perfumes.length ? html`<li><strong>${perfumes.map((item) => bench.name(item)).join(", ")}</strong>: ${say("mind-perfume")}</li>` : nothing}</ul>`
        : nothing
    }
    ${
      heat.length
        ? html`<details>
      <summary>${say("mind-hot")}</summary>
      <ul class="bullets">${heat.map((caution) => html`<li>${sayFinding("caution", caution)}</li>`)}</ul>
    </details>`
        : nothing
    }
    <details>
      <summary>${say("mind-use")}</summary>
      <ul class="bullets">
        ${AFTER_MAKING.map((caution) => html`<li>${caution}</li>`)}
        <li>${say("mind-allergens")}</li>
      </ul>
    </details>
  </section>`;
}
