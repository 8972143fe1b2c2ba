// Reworks: a short list to compare. What changes comes first, then what it does.

import { live } from "lit/directives/live.js";
import { html, nothing, type TemplateResult } from "lit/html.js";

import type { App } from "../app.js";
import type { Behaviour, Change, Proposal } from "../contract.js";
import { degrees, sentence, shown } from "../numbers.js";
import { USUAL_PANTRY } from "../store.js";
import { chips, numberBox } from "./controls.js";
import { icon } from "./icons.js";
import { smallPicture } from "./picture.js";

export function reworks(app: App): TemplateResult {
  return html`<section class="card reworks" id="reworks" tabindex="-1" aria-labelledby="reworks-title">
    <h2 id="reworks-title">Rework</h2>
    ${body(app)}
    ${limits(app)}
  </section>`;
}

function body(app: App): TemplateResult {
  const { status, proposals, failure, examined, asked } = app.reworks;
  const stale = asked !== null && asked !== app.state;
  if (status === "running") {
    return html`<div class="running" role="status">
      <progress aria-label="Searching"></progress>
      <p>Looking through every way to change up to ${app.state.limits.changes} lines…</p>
      <button type="button" class="button" @click=${() => app.cancelRework()}>Cancel</button>
    </div>`;
  }
  if (status === "failed" && failure) {
    return html`<p class="problem" role="alert">${failure.message}</p>${ask(app)}`;
  }
  if (status !== "done") {
    return html`<p>The smallest change of this recipe that keeps its shape in this climate and still feels right.</p>${ask(app)}`;
  }
  return html`<p role="status" class="help">${
    stale
      ? "The bench has changed since: these answers are for what it was."
      : `${counted(proposals.length)}; recipes examined: ${examined.toLocaleString()}.`
  }</p>
    ${stale ? ask(app) : nothing}
    <ol class="proposals">${proposals.map((proposal, at) => card(app, proposal, at, stale))}</ol>`;
}

function counted(count: number): string {
  return count === 0 ? "No answer" : count === 1 ? "One answer" : `${count} answers`;
}

function ask(app: App): TemplateResult {
  return html`<button type="button" class="button primary wide" @click=${() => app.findRework()}>${icon("find")} Find a rework</button>`;
}

function card(app: App, proposal: Proposal, at: number, stale: boolean): TemplateResult {
  const chosen = app.reworks.chosen === at && !stale;
  const unit = app.store.preferences.temperature;
  const { coldest, hottest } = app.state.storage_c;
  const behaviour = app.reworks.behaviours[at] ?? null;
  return html`<li class="proposal ${chosen ? "chosen" : ""}">
    <h3 class="visually-hidden">Rework ${at + 1}</h3>
    <p class="meets ${proposal.meets_all ? "good" : "doubtful"}">${icon(proposal.meets_all ? "good" : "doubtful")}
      <span>${proposal.meets_all ? "Meets every wish" : proposal.misses.map((miss) => sentence(miss.words, unit)).join(" ")}</span></p>
    ${
      proposal.changes.length
        ? html`<ul class="changes">${proposal.changes.map((change) => changed(app, change))}</ul>`
        : nothing
    }
    <p class="proposal-words">${sentence(proposal.words, unit)}</p>
    ${smallPicture(app, app.behaviour, behaviour)}
    <dl class="mini">
      ${mini("cold", degrees(coldest, unit), proposal.solid_percent.coldest, behaviour?.places.coldest.words)}
      ${mini("hot", degrees(hottest, unit), proposal.solid_percent.hottest, behaviour?.places.hottest.words)}
      ${mini("skin", degrees(app.state.skin_c, unit), proposal.solid_percent.skin, behaviour?.places.skin.words)}
    </dl>
    <div class="row">
      <button type="button" class="button" aria-pressed=${chosen ? "true" : "false"} ?disabled=${stale}
        @click=${() => app.choose(at)}>${chosen ? "Shown in the picture" : "Show in the picture"}</button>
      ${
        proposal.changes.length
          ? html`<button type="button" class="button primary" ?disabled=${stale} @click=${() => app.apply(at)}>Use this</button>`
          : nothing
      }
    </div>
  </li>`;
}

function changed(app: App, { id, from_percent, to_percent }: Change): TemplateResult {
  const more = to_percent > from_percent;
  const delta = shown(Math.abs(to_percent - from_percent), 2);
  return html`<li class="change"><span class="change-name">${app.nameOf(id)}</span>
    <span class="change-figures"><span class="from">${shown(from_percent, 2)}</span> → <strong>${shown(to_percent, 2)} %</strong>
      <small>${more ? `+${delta}` : `−${delta}`}</small></span></li>`;
}

function mini(
  kind: string,
  where: string,
  solid: number,
  words: Behaviour["places"]["skin"]["words"] | undefined,
): TemplateResult {
  return html`<div class="mini-place ${kind}"><dt>${where}</dt><dd>${words ?? "…"}<small>${shown(solid, 0)} % solid</small></dd></div>`;
}

function limits(app: App): TemplateResult {
  const { limits: now } = app.state;
  const pantry = now.pantry ?? USUAL_PANTRY;
  const box = (
    key: string,
    label: string,
    value: number,
    most: number,
    step: number,
    unit: string,
    set: (value: number) => void,
  ) =>
    numberBox(app, {
      key,
      label,
      value,
      least: step === 1 ? 1 : 0,
      most,
      step,
      unit,
      set,
      complaint: app.reworks.failure?.at === `limits.${key}` ? app.reworks.failure.message : null,
    });
  return html`<details class="limits">
    <summary>What a rework may do</summary>
    <div class="pair">
      ${box("wax_percent", "At most this much wax", now.wax_percent, 10, 0.5, "%", (wax_percent) => app.setLimits({ wax_percent }, "wax"))}
      ${box(
        "fatty_acid_percent",
        "At most this much fatty acid",
        now.fatty_acid_percent,
        20,
        0.5,
        "%",
        (fatty_acid_percent) => app.setLimits({ fatty_acid_percent }, "acid"),
      )}
    </div>
    ${now.wax_percent > 5 ? html`<p class="help">Above 5 % wax a butter turns towards a balm.</p>` : nothing}
    ${chips(
      "Lines that may change",
      "changes",
      ["1", "2", "3"].map((value) => ({ value, label: value })),
      String(now.changes),
      (value) => app.setLimits({ changes: Number(value) }),
    )}
    ${chips(
      "Step of the scale",
      "step",
      ["0.1", "0.5", "1"].map((value) => ({ value, label: `${shown(Number(value))} %` })),
      String(now.step_percent),
      (value) => app.setLimits({ step_percent: Number(value) }),
    )}
    ${pantryBox(app, pantry)}
  </details>`;
}

/** What may be added: the chosen ones first, the rest of the catalogue by search. */
function pantryBox(app: App, pantry: string[]): TemplateResult {
  const words = app.pantrySearch.toLowerCase().split(/\s+/).filter(Boolean);
  const rest = words.length
    ? [...app.catalogue.values()].filter(
        (one) =>
          !pantry.includes(one.id) &&
          words.every((word) => `${one.name} ${one.inci} ${one.class}`.toLowerCase().includes(word)),
      )
    : [];
  const toggle = (id: string) =>
    app.setLimits({ pantry: pantry.includes(id) ? pantry.filter((one) => one !== id) : [...pantry, id] });
  const box = (
    id: string,
  ) => html`<label class="check"><input type="checkbox" .checked=${live(pantry.includes(id))}
      @change=${() => toggle(id)} /><span>${app.nameOf(id)}</span></label>`;
  return html`<fieldset class="pantry"><legend class="label">May be added</legend>
    ${pantry.map(box)}
    <div class="pantry-search">
      <label class="visually-hidden" for="pantry-search">Search for more that may be added</label>
      <input id="pantry-search" class="search" type="search" placeholder="Search for more" autocomplete="off"
        .value=${live(app.pantrySearch)}
        @input=${(event: Event) => {
          app.pantrySearch = (event.target as HTMLInputElement).value;
          app.refresh();
        }} />
    </div>
    ${rest.slice(0, 12).map((one) => box(one.id))}
    ${words.length && !rest.length ? html`<p class="help">Nothing else by that name.</p>` : nothing}
  </fieldset>`;
}
