// Where one figure comes from, asked beside the figure.

import { html, type TemplateResult } from "lit/html.js";

import type { Bench } from "../bench.js";
import type { Stations } from "../stations.js";
import { say } from "../words.js";
import { type OriginKey, origins } from "./origins.js";
import { closeSheet, openSheet, sheet } from "./sheets.js";

/** What is asked about together. */
const BESIDE: Partial<Record<OriginKey, OriginKey[]>> = { solid: ["firmness"] };

function show(bench: Bench, key: OriginKey): void {
  openSheet(bench, "origin", key);
}

/** A figure that says where it comes from when it is touched. */
export function figure(bench: Bench, key: OriginKey, text: string): TemplateResult {
  return html`<button type="button" class="figure" @click=${() => show(bench, key)}>${text}<span class="visually-hidden">${say("where-from-aside")}</span></button>`;
}

/** A small question mark beside a figure. */
export function askOrigin(bench: Bench, key: OriginKey, what: string): TemplateResult {
  return html`<button type="button" class="origin" aria-label=${say("where-from-of", { what })} @click=${() => show(bench, key)}><span>?</span></button>`;
}

export function originSheet(bench: Bench, stations: Stations): TemplateResult {
  return sheet(bench, "origin", say("where-from"), (about) => body(bench, stations, about as OriginKey));
}

function body(bench: Bench, stations: Stations, origin: OriginKey): TemplateResult {
  const { behaviour } = bench;
  const known = behaviour && origins(behaviour, bench.store.preferences.temperature);
  const told = known ? [origin, ...(BESIDE[origin] ?? [])].map((key) => known[key]) : [];
  const all = () => {
    closeSheet("origin");
    stations.go("teach", "sources-title");
    document.querySelector<HTMLDetailsElement>("#sources")?.setAttribute("open", "");
  };
  return html`<div class="sheet-body padded">
    ${told.map(({ title, text }) => html`<h3>${title}</h3><p>${text}</p>`)}
    <button type="button" class="button" @click=${all}>${say("all-sources")}</button>
  </div>`;
}
