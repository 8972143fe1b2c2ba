// Where each figure comes from, and how far to trust it.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import type { Item } from "../../contract.js";
import { degrees, type TemperatureUnit, tied } from "../../numbers.js";
import { origins } from "../../parts/origins.js";
import { say } from "../../words.js";
import type { Look } from "./state.js";

const KINDS: Record<string, string> = {
  slip: say("of-slip-point"),
  "melting-range": say("of-melting-range"),
};

export function sources(look: Look): TemplateResult {
  const toggle = (event: Event) => {
    look.sourcesOpen = (event.target as HTMLDetailsElement).open;
    look.bench.refresh();
  };
  return html`<details class="card fold" id="sources" @toggle=${toggle}>
    <summary id="sources-title"><span class="told"><h2>${say("sources")}</h2>
      <small>${say("sources-hint")}</small></span></summary>
    ${look.sourcesOpen ? all(look.bench) : nothing}
  </details>`;
}

function all(bench: Bench): TemplateResult {
  const unit = bench.store.preferences.temperature;
  const now = bench.behaviour;
  return html`
    ${
      now
        ? html`<dl class="origins">${Object.values(origins(now, unit)).map(({ title, text }) => html`<dt>${tied(title)}</dt><dd>${text}</dd>`)}</dl>`
        : nothing
    }
    <h3>${say("of-the-ingredients")}</h3>
    <dl class="origins">${bench.state.recipe.map((item) => ingredient(bench, item, unit))}</dl>
  `;
}

function ingredient(bench: Bench, item: Item, unit: TemperatureUnit): TemplateResult | typeof nothing {
  const known = bench.catalogue.get(item.id ?? "");
  if (!known) return html`<dt>${bench.name(item)}</dt><dd>${say("as-you-described")}</dd>`;
  const [low, high] = known.melting_c ?? [null, null];
  return html`<dt>${known.name}</dt>
    <dd>${
      low !== null && high !== null
        ? `${say("by-supplier", {
            kind: KINDS[known.melting_kind] ?? known.melting_kind,
            at:
              low === high
                ? degrees(high, unit)
                : say("from-to", { from: degrees(low, unit), to: degrees(high, unit) }),
          })} `
        : nothing
    }${known.use_ceiling_percent ? `${say("usually-at-most", { ceiling_percent: known.use_ceiling_percent })} ` : nothing}${known.note}</dd>`;
}
