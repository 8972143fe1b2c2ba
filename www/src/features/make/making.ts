// Making it: the temperatures a maker needs, and the trouble to expect.

import { html, nothing, type TemplateResult } from "lit/html.js";
import type { Bench } from "../../bench.js";
import type { Behaviour, Item } from "../../contract.js";
import { askOrigin } from "../../parts/origin.js";
import type { Stations } from "../../stations.js";
import { say, sayFinding, sayFindings } from "../../words.js";
import type { Look } from "../bench/state.js";
import { coolSteps, meltingSteps, type Rescue, rescued } from "./melting.js";

/** How to make it, from what goes into the pot first: the same on the page and on paper. */
export function steps(
  bench: Bench,
  recipe: Item[],
  { steps }: Behaviour,
  rescue: Rescue | null,
): TemplateResult {
  const [warm, ...then] = steps.map((step) => html`<li>${sayFinding("step", step)}</li>`);
  return html`${meltingSteps(bench, recipe, rescue)}${warm}${coolSteps(bench, recipe, rescue)}${then}`;
}

export function making(look: Look, stations: Stations): TemplateResult {
  const { bench } = look;
  const toggle = () => {
    void look.toggleFresh();
    // To where it is shown.
    if (look.showsFresh) stations.go("bench");
  };
  const now = bench.behaviour;
  // Why it waits is said where it is weighed.
  if (!now || bench.waits) return html``;
  return html`<section class="card" aria-labelledby="making-title">
    <h2 id="making-title">${say("making")} ${askOrigin(bench, "making", say("of-making"))}</h2>
    <ol class="steps">${steps(bench, bench.state.recipe, now, rescued(bench))}</ol>
    <p>${sayFindings("settling", now.settling)} ${askOrigin(bench, "fresh", say("of-fresh"))}</p>
    <button type="button" class="button" aria-pressed=${look.showsFresh ? "true" : "false"}
      @click=${toggle}>${say("show-fresh")}</button>
    ${
      now.troubles.length
        ? html`<h3>${say("signs")}</h3>
          <ul class="troubles">${now.troubles.map(
            (trouble) => html`<li><details><summary>${say(`sign-${trouble.sign}`)}</summary>
              <p>${sayFindings("cause", trouble.causes)}</p>
              <ul class="bullets">${trouble.remedies.map((remedy) => html`<li>${sayFinding("remedy", remedy)}</li>`)}</ul>
            </details></li>`,
          )}</ul>`
        : nothing
    }
  </section>`;
}
