// In which order what is weighed melts, and how a batch is rescued at the stove.

import { html, type TemplateResult } from "lit/html.js";
import type { Bench } from "../../bench.js";
import type { Added, Item } from "../../contract.js";
import { mass } from "../../parts/controls.js";
import { say } from "../../words.js";

/** What is weighed for a rescue: a batch that is there, and what is melted into it. */
export interface Rescue {
  batch_grams: number;
  add: Added[];
}

/** Together, g, as they are weighed. */
export const together = ({ batch_grams, add }: Rescue): number =>
  Math.round((batch_grams + add.reduce((sum, { grams }) => sum + grams, 0)) * 1000) / 1000;

/** How the batch on the bench was rescued, if it was. */
export function rescued(bench: Bench): Rescue | null {
  const { rescued, recipe } = bench.state;
  if (!rescued) return null;
  const add = Object.entries(rescued.added).map(([id, grams]) => ({ id, grams }));
  const order = inMeltingOrder(bench, recipe).map((item) => item.id ?? item.name);
  return {
    batch_grams: rescued.batch_grams,
    add: add.toSorted((a, b) => order.indexOf(a.id) - order.indexOf(b.id)),
  };
}

/** What melts highest goes in first, so that what melts low is heated least (common practice). */
export function inMeltingOrder(bench: Bench, recipe: Item[]): Item[] {
  const melts = (item: Item) =>
    item.melts_at_c ?? bench.catalogue.get(item.id ?? item.like ?? "")?.melting_c?.[1] ?? -100;
  return recipe
    .filter((item) => item.percent > 0 && !isStirredIn(bench, item))
    .toSorted((a, b) => melts(b) - melts(a));
}

/** Fragrance, vitamins and powders are not melted: heat harms them, or they would sink (common practice). */
export function stirredIn(bench: Bench, recipe: Item[]): Item[] {
  return recipe.filter((item) => item.percent > 0 && isStirredIn(bench, item));
}

function isStirredIn(bench: Bench, item: Item): boolean {
  const known = bench.catalogue.get(item.id ?? "");
  return known?.class === "other" && !known.melting_c;
}

/** What comes before all of it is warm: the same on the page and on paper. */
export function meltingSteps(bench: Bench, recipe: Item[], rescue: Rescue | null): TemplateResult {
  if (rescue) return rescueSteps(bench, rescue);
  const names = inMeltingOrder(bench, recipe).map((item) => bench.name(item));
  return html`<li>${say("melting-order", { names: names.join(", ") })}</li>`;
}

/** And what comes once it has cooled. Of a rescue it is in the batch already. */
export function coolSteps(bench: Bench, recipe: Item[], rescue: Rescue | null): TemplateResult {
  const names = stirredIn(bench, recipe)
    .map((item) => bench.name(item))
    .join(", ");
  if (!names) return html``;
  return html`<li>${rescue ? say("stirred-in-already", { names }) : say("stirred-in", { names })}</li>`;
}

/** A rescue as it is done at the stove: what is new melts alone first, so that the batch is heated no longer than it must (common practice). */
export function rescueSteps(bench: Bench, { add, batch_grams }: Rescue): TemplateResult {
  const unit = bench.store.preferences.mass;
  return html`<li>${say("melt-first")}<ul class="changes">${add.map(
    ({ id, grams }) => html`<li class="change"><span class="change-name">${bench.nameOf(id)}</span>
        <span class="change-figures"><strong>${mass(grams, unit)}</strong></span></li>`,
  )}</ul></li>
    <li>${say("then-the-batch", { batch: mass(batch_grams, unit) })}</li>`;
}
