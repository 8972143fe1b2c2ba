// The teaching picture: how a hardener moves the melting point of this recipe, dose by dose. The picture
// first, what it is drawn of after it.

import { live } from "lit/directives/live.js";
import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import type { Hardener, HardenerPicture } from "../../contract.js";
import { FIRMNESS } from "../../parts/classes.js";
import { chips, waiting } from "../../parts/controls.js";
import { icon } from "../../parts/icons.js";
import { askOrigin } from "../../parts/origin.js";
import { say, sayFinding } from "../../words.js";
import { chart, type Size } from "./chart.js";
import { bareFigureAt, FIGURES, shownOf } from "./figures.js";
import { speaksOf } from "./remarks.js";
import type { Teach } from "./state.js";

/** In the card; its style sheet stretches it. */
const IN_CARD: Size = { width: 360, height: 370, px: 12.5 };

export function hardenerCard(teach: Teach): TemplateResult {
  const now = teach.picture;
  const toggle = (event: Event) => {
    event.preventDefault();
    teach.toggle();
  };
  return html`<details class="card fold" id="hardeners" .open=${now !== null}>
    <summary @click=${toggle}><span class="told"><h2>${say("teach")}</h2>
      <small>${say("teach-hint")}</small></span></summary>
    ${now ? body(teach, now) : nothing}
  </details>`;
}

function body(teach: Teach, now: HardenerPicture): TemplateResult {
  const { bench, fitting, failure, figure, dose, most } = teach;
  const none = fitting.length > 0 && most === 0;
  return html`
    ${failure ? html`<p class="problem" role="alert">${failure}</p>` : nothing}
    ${waiting(bench, "harden", say("working-out-doses"))}
    ${!none && fitting.length && teach.swap !== now.swap ? html`<p class="help" role="status">${say("no-oil-so-all")}</p>` : nothing}
    ${
      none
        ? html`<p class="problem" role="status">${say("nothing-to-replace")}</p>`
        : fitting.length
          ? html`<div class="doses-frame">${chart(teach, fitting, shownOf(figure), IN_CARD)}</div>`
          : html`<div class="dose-empty"></div>`
    }
    <label class="dose"><span class="label">${say("dose", { dose_percent: dose })}</span>
      <input type="range" min="0" max=${most} step="1" .value=${live(String(dose))}
        @input=${(event: Event) => teach.setDose(Number((event.target as HTMLInputElement).value))} /></label>
    <div class="row"><button type="button" class="button primary" ?disabled=${!fitting.length || none} @click=${() => void teach.present()}>${say("fill-screen")}</button>
      <button type="button" class="button" @click=${() => void teach.share()}>${icon("share")} ${say("share-picture")}</button>
      <button type="button" class="button" @click=${() => void teach.print()}>${icon("print")} ${say("print-it")}</button></div>
    ${chips(say("show"), "figure", FIGURES, figure, (value) => teach.show(value))}
    <p>${say("each-alone")}</p>
    <p><a class="button" href="#series" @click=${toSeries}>${say("series-link")}</a></p>
    ${pickers(bench, now, (part) => teach.set(part))}
    ${chips(
      say("takes-place-of"),
      "swap",
      [
        { value: "oil", label: say("swap-oil"), hint: say("hint-swap-oil") },
        { value: "all", label: say("swap-all"), hint: say("hint-swap-all") },
      ],
      teach.swap,
      (swap) => teach.set({ swap }),
    )}
    <details class="figures"><summary>${say("at-dose", { dose_percent: dose })}</summary>
      ${figuresAtDose(teach)}
      <p class="help">${say("figures-at-dose")} ${askOrigin(bench, "hardeners", say("of-figures"))}</p>
    </details>
    <details class="whys"><summary>${say("why-so")}</summary><ul class="bullets">${fitting.map(
      (one) =>
        html`${one.dose_notes
          .filter((note) => speaksOf(note, shownOf(figure)))
          .map(
            (note) =>
              html`<li><strong>${bench.nameOf(one.id)}</strong>: ${sayFinding("dose-note", note)}.</li>`,
          )}${
          one.stops?.dose_percent
            ? html`<li><strong>${bench.nameOf(one.id)}</strong>${say("stops-from", { dose_percent: one.stops.dose_percent })} ${sayFinding("no-butter", one.stops.reason)}</li>`
            : nothing
        }`,
    )}</ul></details>`;
}

/** The table: each hardener over its figures, so that nothing of it is cut off on a phone. */
function figuresAtDose({ bench, fitting, dose }: Teach): TemplateResult {
  const unit = bench.store.preferences.temperature;
  const at = (one: Hardener) => one.dose_percent.indexOf(dose);
  const columns = TABLED.length + 1;
  return html`<table class="at-dose">
    <thead><tr>${TABLED.map(({ label, celsius }) => html`<th scope="col">${label} ${celsius ? `°${unit}` : "%"}</th>`)}<th scope="col">${say("figure-room")}</th></tr></thead>
    ${fitting.map(
      (one, i) => html`<tbody>
        <tr><th scope="rowgroup" colspan=${columns}><span class="swatch s${i}"></span>${bench.nameOf(one.id)}</th></tr>
        ${
          at(one) === -1
            ? html`<tr><td colspan=${columns}>${say("no-more-to-replace")}</td></tr>`
            : html`<tr>${TABLED.map((figure) => html`<td>${bareFigureAt(figure, one, dose, unit)}</td>`)}<td>${FIRMNESS[one.firmness[at(one)] ?? "soft"]}</td></tr>`
        }</tbody>`,
    )}
  </table>`;
}

/** The structure is told by the class that it falls in. */
const TABLED = FIGURES.filter(({ value }) => value !== "structure");

/** To the card beside this one; the address stays that of the recipe. */
function toSeries(event: Event): void {
  event.preventDefault();
  const card = document.querySelector<HTMLDetailsElement>("#series");
  if (!card) return;
  card.open = true;
  card.querySelector("summary")?.focus({ preventScroll: true });
  card.scrollIntoView({ block: "start" });
}

function pickers(
  bench: Bench,
  now: HardenerPicture,
  set: (part: Partial<HardenerPicture>) => void,
): TemplateResult {
  const hard = [...bench.catalogue.values()].filter(
    (one) => one.class !== "liquid-oil" && one.class !== "other",
  );
  // What makers have at hand comes first.
  const free = hard
    .filter((one) => !now.hardeners.includes(one.id))
    .toSorted((one, other) => other.commonness - one.commonness || one.name.localeCompare(other.name));
  const add = (event: Event) => {
    const select = event.target as HTMLSelectElement;
    if (select.value) set({ hardeners: [...now.hardeners, select.value] });
    select.value = "";
  };
  return html`<div class="picked">
    ${now.hardeners.map(
      (id, at) => html`<span class="picked-one"><span class="swatch s${at}"></span>${bench.nameOf(id)}
        <button type="button" class="icon-button" aria-label=${say("leave-out", { name: bench.nameOf(id) })} ?disabled=${now.hardeners.length === 1}
          @click=${() => set({ hardeners: now.hardeners.filter((one) => one !== id) })}>${icon("close")}</button></span>`,
    )}
    ${
      now.hardeners.length < 4
        ? html`<label class="visually-hidden" for="add-hardener">${say("add-hardener")}</label>
          <select id="add-hardener" class="select" @change=${add}><option value="">${say("add-one")}</option>
            ${free.map((one) => html`<option value=${one.id}>${one.name}</option>`)}</select>`
        : nothing
    }
  </div>`;
}
