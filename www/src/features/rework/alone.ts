// Why a rescue does without the rest of the pantry: what each of it would do alone.

import { html, nothing, type TemplateResult } from "lit/html.js";
import { mass } from "../../parts/controls.js";
import { keyOf } from "../../state.js";
import { say, sayFinding, sayFindings } from "../../words.js";
import { type Alone, pantryOf, type Search } from "./state.js";

/** So many are told of: who ticked more looks for no reason why. */
const MOST = 12;

/** What may be melted in, and is in no answer. */
function unused({ bench, now }: Search): string[] {
  if (!now.asked) return [];
  const used = new Set(now.list.flatMap(({ add }) => add?.map(({ id }) => id) ?? []));
  const there = new Set(now.asked.recipe.map(keyOf));
  return pantryOf(bench, now.asked)
    .filter((id) => !used.has(id) && !there.has(id))
    .slice(0, MOST);
}

/** Asked for once it is unfolded; a question each. */
export function alone(search: Search): TemplateResult | typeof nothing {
  const { bench, now } = search;
  const ids = unused(search);
  if (now.aim !== "rescue" || search.used || search.stale || !ids.length || !now.list[0]?.add?.length)
    return nothing;
  const open = (event: Event) => {
    if ((event.currentTarget as HTMLDetailsElement).open) void search.tryAlone(ids);
  };
  return html`<details class="limits" @toggle=${open}><summary>${say("why-not-these")}</summary>
    <ul class="bullets">${ids.map((id) => {
      const found = now.alone.get(id);
      return html`<li><strong>${bench.nameOf(id)}</strong>: ${found === undefined ? say("looking") : told(search, found)}</li>`;
    })}</ul></details>`;
}

function told({ bench }: Search, { found, notes }: Alone): string {
  // What holds is asked here, and not where it is clear or slips.
  const of = notes.filter((note) => note.of === "softens");
  const why = of.map((note) => say("alone-why", { why: sayFinding("dose-note", note) }));
  const [added] = found?.add ?? [];
  if (!found || !added) return [say("alone-no-help"), ...why].join(" ");
  const amount = mass(added.grams, bench.store.preferences.mass);
  if (found.meets_all) return say("alone-would-do", { amount });
  const misses = found.misses.length ? sayFindings("miss", found.misses) : say("alone-not-so-surely");
  return [say("alone-falls-short", { amount }), ...(why.length ? why : [misses])].join(" ");
}
