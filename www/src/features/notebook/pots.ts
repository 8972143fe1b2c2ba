// The next pot: what the maker has to keep one warm, and which pot tells most.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Measured, PlannedPot } from "../../contract.js";
import { celsiusBox, mass, numberBox, select, waiting } from "../../parts/controls.js";
import { icon } from "../../parts/icons.js";
import { say } from "../../words.js";
import { MEASURED } from "./draft.js";
import { SPOTS } from "./next.js";
import { MEASURED_NAMES, withinNineInTen } from "./said.js";
import type { Notebook } from "./state.js";

const SPOT_NAMES = { fridge: say("spot-fridge"), room: say("spot-room"), warm: say("spot-warm") };

export function nextPot(notebook: Notebook): TemplateResult {
  const { bench, next } = notebook;
  const none = notebook.benchPot === null;
  const measured = Object.fromEntries(
    MEASURED.map((one) => [one, MEASURED_NAMES[one]]),
  ) as typeof MEASURED_NAMES;
  return html`<details class="card fold" id="next-pot">
    <summary><span class="told"><h2>${say("next-pot")}</h2><small>${say("next-pot-hint")}</small></span></summary>
    <p>${say("bath-tells-most")}</p>
    <label class="check"><input type="checkbox" .checked=${next.bath} @change=${() => next.change(() => (next.bath = !next.bath))} />
      <span>${say("spot-bath")}</span></label>
    ${SPOTS.map((spot) => {
      const one = next.spots[spot];
      return html`<div class="spot"><label class="check"><input type="checkbox" .checked=${one.has} @change=${() => next.change(() => (one.has = !one.has))} />
          <span>${SPOT_NAMES[spot]}</span></label>
        ${one.has ? celsiusBox(bench, `spot-${spot}`, say("spot-at", { spot: SPOT_NAMES[spot] }), one.at_c, null, (celsius) => next.change(() => (one.at_c = celsius))) : nothing}</div>`;
    })}
    ${numberBox(bench, { key: "pot-grams", label: say("pot-weighs"), value: next.grams, least: 10, most: 30, step: 5, unit: "g", set: (grams) => next.change(() => (next.grams = grams)) })}
    ${select("next-measured", say("read-by"), measured, next.measured, (one) => next.change(() => (next.measured = one as Measured)))}
    ${none ? html`<p class="problem">${say("plan-needs-recipe")}</p>` : nothing}
    <button type="button" class="button primary wide" ?disabled=${none} @click=${() => void next.plan()}>${icon("find")} ${say("plan-pot")}</button>
    ${waiting(bench, "plan", say("planning"))}
    ${next.failure ? html`<p class="problem" role="alert">${next.failure}</p>` : nothing}
    ${next.told && next.isNow ? planned(notebook) : nothing}
  </details>`;
}

function planned(notebook: Notebook): TemplateResult {
  const { told } = notebook.next;
  const [first, second] = told?.pots ?? [];
  if (!told || !first) return html`<p role="status">${say("plan-nothing")}</p>`;
  const now_k = withinNineInTen(told.now_k);
  if (!told.worth_it)
    return html`<p role="status">${say("plan-enough", { now_k })} ${notebook.next.bath ? nothing : say("bath-tells-most")}</p>`;
  return html`<div class="planned" role="status">
    <h3>${say("make-this-first")}</h3>
    ${pot(notebook, first)}
    <p>${say("plan-tells", { now_k, left_k: withinNineInTen(first.left_k) })}</p>
    <div class="row">
      <button type="button" class="button" @click=${() => void notebook.paper.printPot(first)}>${icon("print")} ${say("print-pot")}</button>
      <button type="button" class="button" @click=${() => write(notebook, first)}>${say("write-what-it-did")}</button>
    </div>
    <p>${say("one-by-one")}</p>
    ${second ? html`<details><summary>${say("and-then")}</summary>${pot(notebook, second)}</details>` : nothing}
  </div>`;
}

function write(notebook: Notebook, one: PlannedPot): void {
  notebook.next.write(one);
}

/** What to weigh, and what to look for. */
function pot(notebook: Notebook, one: PlannedPot): TemplateResult {
  return html`<table class="weights"><tbody>${potLines(notebook, one)}</tbody></table>
    <p>${lookFor(one)}</p>
    <p class="help">${expected(one)}</p>`;
}

export function potLines({ bench }: Notebook, { recipe, grams }: PlannedPot): TemplateResult[] {
  return recipe.map(
    ({ lot, id }, at) =>
      html`<tr><th scope="row">${lot ?? bench.nameOf(id ?? "")}</th><td><strong>${mass(grams[at] ?? 0, bench.store.preferences.mass)}</strong></td></tr>`,
  );
}

export const lookFor = ({ seen, at_c }: PlannedPot): string =>
  seen === "slipped" || at_c === null ? say("look-for-slip") : say("look-for-hold", { at_c });

/** Where it is expected, by what is known. */
export function expected({ seen, expected_c, within_k, holds }: PlannedPot): string {
  if (seen === "slipped") return say("expect-slip", { expected_c, within_k });
  return say("expect-hold", { expected_c, within_k, holds_percent: 100 * (holds ?? 0) });
}
