// Where one figure comes from, asked beside the figure.

import { html, type TemplateResult } from "lit/html.js";

import type { App } from "../../app.js";
import { closeSheet, openSheet, sheet } from "../../parts/sheets.js";
import { type OriginKey, origins } from "./sources.js";

/** What is asked about together. */
const BESIDE: Partial<Record<OriginKey, OriginKey[]>> = { solid: ["firmness"] };

function show(app: App, key: OriginKey): void {
  app.origin = key;
  openSheet(app, "origin");
}

/** A figure that says where it comes from when it is touched. */
export function figure(app: App, key: OriginKey, text: string): TemplateResult {
  return html`<button type="button" class="figure" @click=${() => show(app, key)}>${text}<span class="visually-hidden">: where does this come from?</span></button>`;
}

/** A small question mark beside a figure. */
export function askOrigin(app: App, key: OriginKey, what: string): TemplateResult {
  return html`<button type="button" class="origin" aria-label="Where ${what} comes from" @click=${() => show(app, key)}><span>?</span></button>`;
}

export function originSheet(app: App): TemplateResult {
  return sheet(app, "origin", "Where does this come from?", () => body(app));
}

function body(app: App): TemplateResult {
  const { behaviour, origin } = app;
  const known = behaviour && origin ? origins(behaviour, app.store.preferences.temperature) : null;
  const told = known && origin ? [origin, ...(BESIDE[origin] ?? [])].map((key) => known[key]) : [];
  const all = () => {
    closeSheet("origin");
    const card = document.querySelector<HTMLDetailsElement>("#sources");
    if (!card) return;
    card.open = true;
    card.scrollIntoView({ block: "start" });
    card.querySelector("summary")?.focus({ preventScroll: true });
  };
  return html`<div class="sheet-body padded">
    ${told.map(({ title, text }) => html`<h3>${title}</h3><p>${text}</p>`)}
    <button type="button" class="button" @click=${all}>All figures and sources</button>
  </div>`;
}
