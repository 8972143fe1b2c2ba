// Making it: the temperatures a maker needs, and the trouble to expect.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Stations } from "../../stations.js";
import { say, sayFinding, sayFindings } from "../../words.js";
import { askOrigin } from "../bench/origin.js";
import type { Look } from "../bench/state.js";

export function making(look: Look, stations: Stations): TemplateResult {
  const { bench } = look;
  const toggle = () => {
    void look.toggleFresh();
    // To where it is shown.
    if (look.showsFresh) stations.go("bench");
  };
  const now = bench.behaviour;
  if (!now) return html``;
  return html`<section class="card" aria-labelledby="making-title">
    <h2 id="making-title">Making it ${askOrigin(bench, "making", "these temperatures")}</h2>
    <ol class="steps">${now.steps.map((step) => html`<li>${sayFinding("step", step)}</li>`)}</ol>
    <p>${sayFindings("settling", now.settling)} ${askOrigin(bench, "fresh", "what it is like fresh")}</p>
    <button type="button" class="button" aria-pressed=${look.showsFresh ? "true" : "false"}
      @click=${toggle}>Show it fresh in the picture</button>
    <p class="help">${sayFinding("dab", now.dab.melts)}</p>
    ${
      now.troubles.length
        ? html`<h3>Signs of trouble in this climate</h3>
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
