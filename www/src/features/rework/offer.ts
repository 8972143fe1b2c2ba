// Over the picture: what would hold where its handle is moved to.

import { html, nothing, type TemplateResult } from "lit/html.js";

import { shown } from "../../numbers.js";
import { icon } from "../../parts/icons.js";
import type { Stations } from "../../stations.js";
import { say } from "../../words.js";
import type { Live } from "./live.js";
import type { Answer } from "./state.js";

/** How many of so many batches hold, in few words. */
export function oddsTold({ holds }: Answer): string {
  return holds.kind === "batches-in-some"
    ? say("held-batches", { batches: holds.batches, some: holds.some })
    : say(holds.kind === "nearly-every-batch" ? "held-nearly-every" : "held-hardly-any");
}

/** What it is: at which temperature, and whether all that is wished comes with it. */
function title({ told, search }: Live): string {
  const first = told?.answers[0];
  const at_c = (told?.asked ?? search.bench.state).storage_c.hottest;
  if (!first) return say("held-at", { at_c });
  if (!first.changes.length) return say(first.meets_all ? "held-as-it-is" : "held-none-nearer", { at_c });
  return say(first.meets_all ? "held-at" : "held-nearest", { at_c });
}

function changes(live: Live, { changes }: Answer): TemplateResult[] {
  const { bench } = live.search;
  // A figure and its sign as one text: apart, the sign would be moved by the figure.
  return changes.map(
    ({ id, from_percent, to_percent }) =>
      html`<li><span>${bench.nameOf(id)}</span>
        <span class="held-figures"><span class="from">${shown(from_percent, 2)}</span><span> → </span><strong>${`${shown(to_percent, 2)} %`}</strong></span></li>`,
  );
}

/** What is said of it once the hand rests: all in one, and only then. */
function heard(live: Live): string {
  const { told, moving, usable, search } = live;
  const first = told?.answers[0];
  if (moving || !usable || !first) return "";
  const changed = first.changes.map(({ id, from_percent, to_percent }) =>
    say("change-line", { name: search.bench.nameOf(id), from_percent, to_percent }),
  );
  return first.changes.length ? `${title(live)}: ${changed.join(", ")}. ${oddsTold(first)}` : title(live);
}

export function offer(live: Live, stations: Stations): TemplateResult {
  const { told, late, usable } = live;
  const first = told?.answers[0];
  const use = () => {
    live.use();
    stations.goToVerdict();
  };
  return html`<p class="visually-hidden" role="status">${live.shown ? heard(live) : nothing}</p>
    ${
      live.shown
        ? html`<div class="held" role="group" aria-label=${say("held")}>
          <div class="held-title">
            <p class="held-at">${told?.failure ?? title(live)}${late ? html` <span class="held-late">…</span>` : nothing}</p>
            ${first?.changes.length ? html`<p>${oddsTold(first)}</p>` : nothing}
          </div>
          ${
            first?.changes.length
              ? html`<ul class="held-changes">${changes(live, first)}</ul>
                <button type="button" class="button primary" ?disabled=${!usable} @click=${use}>${say("use-this")}</button>`
              : nothing
          }
          <button type="button" class="icon-button" aria-label=${say("close")} @click=${() => live.close()}>${icon("close")}</button>
        </div>`
        : nothing
    }`;
}
