// What surety costs: the least change for each rung, from the recipe as it is to the surest that there is. A
// rung is taken from the picture.

import { html, nothing, type TemplateResult } from "lit/html.js";
import type { LadderRung } from "../../contract.js";
import type { Stations } from "../../stations.js";
import { say } from "../../words.js";
import type { Search } from "./state.js";
import { WORDS } from "./surety.js";

const nameOf = (rung: LadderRung) => {
  if (rung.surety) return WORDS[rung.surety];
  return say(rung.odds_at_least > 0 ? "surety-quarter" : "surety-less");
};

export function ladder(search: Search, stations: Stations): TemplateResult {
  const { bench } = search;
  const of = search.ladder?.asked === bench.state ? search.ladder : null;
  if (!of) {
    return html`<button type="button" class="button wide" @click=${() => void search.climb()}>${say("ladder-ask")}</button>`;
  }
  if (!of.rungs) return html`<p role="status">${say("looking")}</p>`;
  const most = Math.max(1, ...of.rungs.map((rung) => rung.proposal.shift_percent));
  return html`<section class="ladder" aria-labelledby="ladder-title">
    <h3 id="ladder-title">${say("ladder-title")}</h3>
    <p class="help">${say("ladder-hint")}</p>
    <ol>${of.rungs.map((rung, at) => step(search, stations, rung, at, most))}</ol>
    ${of.rungs.at(-1)?.surety === "sure" ? nothing : html`<p>${say("ladder-ends")}</p>`}
  </section>`;
}

function step(
  search: Search,
  stations: Stations,
  rung: LadderRung,
  at: number,
  most: number,
): TemplateResult {
  const { changes, shift_percent } = rung.proposal;
  const what = changes.length
    ? changes
        .map((one) =>
          say("ladder-change", {
            id: one.id,
            from: one.from_percent,
            to_percent: one.to_percent,
          }),
        )
        .join(", ")
    : say("ladder-as-it-is");
  return html`<li>
    <button type="button" class="rung" ?disabled=${changes.length === 0} @click=${() => {
      search.take(at);
      stations.goToVerdict();
    }}>
      <span class="rung-name">${nameOf(rung)}</span>
      <svg class="rung-bar" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
        <rect width=${(100 * shift_percent) / most} height="10" rx="2"></rect>
      </svg>
      <span class="rung-shift">${say("ladder-shift", { shift_percent })}</span>
      <span class="rung-what">${what}</span>
    </button>
  </li>`;
}
