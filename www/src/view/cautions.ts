// Plain cautions, where they matter.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { App } from "../app.js";
import { sentence } from "../numbers.js";

export const ALLERGENS: Record<string, string> = {
  bee: "bee products",
  coconut: "coconut",
  palm: "palm (not an allergen, but some avoid it)",
  peanut: "peanut",
  sesame: "sesame",
  soy: "soy",
  "tree-nut": "tree nuts",
  wheat: "wheat",
  wool: "wool (lanolin)",
};

/** Which ingredient brings which allergen. */
export function allergens(app: App): { group: string; names: string[] }[] {
  const groups = new Map<string, string[]>();
  for (const item of app.state.recipe) {
    for (const group of app.catalogue.get(item.id ?? "")?.allergens ?? []) {
      groups.set(group, [...(groups.get(group) ?? []), app.name(item)]);
    }
  }
  return [...groups].map(([group, names]) => ({ group: ALLERGENS[group] ?? group, names }));
}

export const AFTER_MAKING = [
  "Butter on a wet floor is slippery: in a bath or shower use little, rinse the floor, and warn whoever you give it to.",
  "No water, honey, aloe gel or fresh plant goes into it: without a preservative they spoil it. Keep wet fingers out of the jar.",
  "Try a little on the inside of the elbow for a day before using it all over, and stop if it itches or reddens.",
  "It is a cosmetic: it heals nothing and shields from no sun, and must not be sold as if it did.",
  "What a label must say, and whether you must register before you sell, differs by country: ask your local authority.",
];

export function cautions(app: App): TemplateResult {
  const unit = app.store.preferences.temperature;
  const found = allergens(app);
  const heat = app.behaviour?.making.cautions ?? [];
  return html`<section class="card cautions" aria-labelledby="cautions-title">
    <h2 id="cautions-title">Mind</h2>
    ${
      found.length
        ? html`<h3>In this recipe</h3>
          <ul class="bullets">${found.map(({ group, names }) => html`<li><strong>${group}</strong>: ${names.join(", ")}</li>`)}</ul>`
        : nothing
    }
    <details>
      <summary>Hot fat and wax</summary>
      <ul class="bullets">${heat.map((caution) => html`<li>${sentence(caution, unit)}</li>`)}</ul>
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
