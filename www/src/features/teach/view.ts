// The teaching picture: how a hardener moves the melting point of this recipe, dose by dose.

import { line } from "d3-shape";
import { live } from "lit/directives/live.js";
import { html, nothing, type SVGTemplateResult, svg, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import type { Hardener, HardenerPicture } from "../../contract.js";
import { shown, toUnit } from "../../numbers.js";
import { chips, waiting } from "../../parts/controls.js";
import { icon } from "../../parts/icons.js";
import { linear } from "../../scale.js";
import { say, sayFinding } from "../../words.js";
import { FIRMNESS } from "../bench/classes.js";
import { askOrigin } from "../bench/origin.js";
import type { Figure, Teach } from "./state.js";

/** The doses that are asked about go so far, by whole percents: `doses` in `src/contract/harden.rs`. */
const MOST_PERCENT = 20;

const FIGURES: {
  value: Figure;
  label: string;
  name: string;
  of(one: Hardener): (number | null)[];
  celsius: boolean;
}[] = [
  {
    value: "clear",
    label: say("figure-clear"),
    name: say("sheet-clear"),
    of: (one) => one.clear_c,
    celsius: true,
  },
  {
    value: "slip",
    label: say("figure-slip"),
    name: say("sheet-slip"),
    of: (one) => one.slip_c,
    celsius: true,
  },
  {
    value: "structure",
    label: say("wish-firm"),
    name: say("figure-structure"),
    of: (one) => one.structure_percent,
    celsius: false,
  },
  {
    value: "hot",
    label: say("figure-hot"),
    name: say("figure-hottest"),
    of: (one) => one.hottest_percent,
    celsius: false,
  },
  {
    value: "skin",
    label: say("skin"),
    name: say("figure-skin"),
    of: (one) => one.skin_percent,
    celsius: false,
  },
];

export function hardenerCard(teach: Teach): TemplateResult {
  const now = teach.bench.state.picture;
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
  const { bench, told, failure, figure } = teach;
  const unit = bench.store.preferences.temperature;
  const set = (part: Partial<HardenerPicture>, tag = "") =>
    bench.store.change({ picture: { ...now, ...part } }, tag);
  const fitting = told.filter((one) => now.hardeners.includes(one.id));
  const chosen = FIGURES.find((one) => one.value === figure) ?? FIGURES[0];
  // A link may say any dose; those asked about are whole.
  const dose = Math.min(MOST_PERCENT, Math.round(now.dose_percent));
  return html`
    <p>${say("each-alone")}</p>
    ${pickers(bench, now, set)}
    ${chips(
      say("takes-place-of"),
      "swap",
      [
        { value: "oil", label: say("swap-oil"), hint: say("hint-swap-oil") },
        { value: "all", label: say("swap-all"), hint: say("hint-swap-all") },
      ],
      now.swap,
      (swap) => set({ swap }),
    )}
    ${chips(say("show"), "figure", FIGURES, figure, (value) => teach.show(value))}
    ${failure ? html`<p class="problem" role="alert">${failure}</p>` : nothing}
    ${waiting(bench, "harden", say("working-out-doses"))}
    ${chosen && fitting.length ? doseChart(bench, fitting, chosen, dose) : html`<div class="dose-empty"></div>`}
    <label class="dose"><span class="label">${say("dose", { dose_percent: dose })}</span>
      <input type="range" min="0" max=${MOST_PERCENT} step="1" .value=${live(String(dose))}
        @input=${(event: Event) => set({ dose_percent: Number((event.target as HTMLInputElement).value) }, "dose")} /></label>
    <p class="help">${say("figures-at-dose")} ${askOrigin(bench, "hardeners", say("of-figures"))}</p>
    <div class="scroll" role="region" tabindex="0" aria-label=${say("figures-at-chosen")}><table>
      <caption>${say("at-dose", { dose_percent: dose })}</caption>
      <thead><tr><th scope="col">${say("hardener")}</th><th scope="col">${say("figure-slip")} °${unit}</th><th scope="col">${say("figure-clear")} °${unit}</th><th scope="col">${say("figure-hot")} %</th><th scope="col">${say("skin")} %</th><th scope="col">${say("figure-room")}</th></tr></thead>
      <tbody>${fitting.map((one, at) => {
        const i = one.dose_percent.indexOf(dose);
        const point = (celsius: number | null | undefined) =>
          celsius == null ? "–" : shown(toUnit(celsius, unit));
        return html`<tr><th scope="row"><span class="swatch s${at}"></span>${bench.nameOf(one.id)}</th>
          ${
            i < 0
              ? html`<td colspan="5">${say("no-more-oil")}</td>`
              : html`<td>${point(one.slip_c[i])}</td><td>${point(one.clear_c[i])}</td>
                <td>${shown(one.hottest_percent[i] ?? 0, 0)}</td><td>${shown(one.skin_percent[i] ?? 0, 0)}</td><td>${FIRMNESS[one.firmness[i] ?? "soft"]}</td>`
          }</tr>`;
      })}</tbody>
    </table></div>
    <ul class="bullets">${fitting.map((one) =>
      one.stops
        ? html`<li><strong>${bench.nameOf(one.id)}</strong>${say("stops-from", { dose_percent: one.stops.dose_percent })} ${sayFinding("no-butter", one.stops.reason)}</li>`
        : nothing,
    )}</ul>
    <div class="row"><button type="button" class="button" @click=${() => bench.share()}>${icon("share")} ${say("share-picture")}</button>
      <button type="button" class="button" @click=${() => teach.print()}>${icon("print")} ${say("print-it")}</button>
      ${
        teach.fillsScreen
          ? html`<button type="button" class="button" @click=${() => document.querySelector("#hardeners")?.requestFullscreen()}>${say("fill-screen")}</button>`
          : nothing
      }</div>`;
}

function pickers(
  bench: Bench,
  now: HardenerPicture,
  set: (part: Partial<HardenerPicture>) => void,
): TemplateResult {
  const hard = [...bench.catalogue.values()].filter(
    (one) => one.class !== "liquid-oil" && one.class !== "other",
  );
  const free = hard.filter((one) => !now.hardeners.includes(one.id));
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

function doseChart(
  bench: Bench,
  told: Hardener[],
  chosen: (typeof FIGURES)[number],
  dose: number,
): TemplateResult {
  const unit = bench.store.preferences.temperature;
  const value = (raw: number) => (chosen.celsius ? toUnit(raw, unit) : raw);
  const all = told
    .flatMap((one) => chosen.of(one))
    .filter((one) => one !== null)
    .map(value);
  const [width, height] = [360, 240];
  const [low, high] = chosen.celsius ? [Math.min(...all), Math.max(...all)] : [0, Math.max(20, ...all)];
  const x = linear([0, MOST_PERCENT], [34, width - 10]);
  const y = linear([low, Math.max(high, low + 2)], [height - 34, 22], 5);
  const sign = chosen.celsius ? ` °${unit}` : " %";
  const path = (one: Hardener) => {
    const points = chosen
      .of(one)
      .map((raw, i): [number, number] | null =>
        raw === null ? null : [one.dose_percent[i] ?? 0, value(raw)],
      )
      .filter((point) => point !== null);
    return line<[number, number]>(
      ([at]) => x(at),
      ([, level]) => y(level),
    )(points);
  };
  const stop = (one: Hardener, at: number): SVGTemplateResult | typeof nothing => {
    if (!one.stops) return nothing;
    const raw = chosen.of(one)[one.dose_percent.indexOf(one.stops.dose_percent)];
    if (raw == null) return nothing;
    const [cx, cy] = [x(one.stops.dose_percent), y(value(raw))];
    return svg`<path class="stop s${at}" d="M${cx - 6} ${cy - 6}l12 12M${cx + 6} ${cy - 6}l-12 12" />`;
  };
  return html`<svg class="picture doses" viewBox="0 0 ${width} ${height}" role="img"
      aria-label=${say("dose-chart", { figure: chosen.name })}>
    ${svg`
      <text class="grid-label" x="4" y="12">${chosen.name}${sign}</text>
      ${y.ticks(5).map(
        (tick) => svg`<line class="grid" x1="34" x2=${width - 10} y1=${y(tick)} y2=${y(tick)} />
          <text class="grid-label end" x="29" y=${y(tick) + 4}>${shown(tick, 1)}</text>`,
      )}
      ${[0, 5, 10, 15, 20].map(
        (tick) =>
          svg`<text class="tick ${tick === 20 ? "end" : ""}" x=${tick === 20 ? width - 4 : x(tick)} y=${height - 14}>${tick}${tick === 20 ? " %" : ""}</text>`,
      )}
      <line class="cursor-line" x1=${x(dose)} x2=${x(dose)} y1="22" y2=${height - 34} />
      ${told.map((one, at) => svg`<path class="dose-line s${at}" d=${path(one) ?? ""} />${stop(one, at)}`)}`}
  </svg>`;
}
