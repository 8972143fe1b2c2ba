// On its way: how a packed butter fares in hot air.

import { area, line } from "d3-shape";
import { live } from "lit/directives/live.js";
import { html, nothing, svg, type TemplateResult } from "lit/html.js";

import type { App } from "../app.js";
import type { Journey } from "../contract.js";
import { degrees, sentence, shown, type TemperatureUnit, toUnit } from "../numbers.js";
import { linear } from "../scale.js";
import { chips, numberBox, select, waiting, worded } from "./controls.js";
import { askOrigin } from "./origin.js";
import { celsiusBox, PACKS } from "./wishes.js";

const WAYS = {
  mailbox: "Parcel box in the sun",
  "delivery-van": "Delivery van",
  "parked-car-shade": "Car in the shade",
  "parked-car-sun": "Car in the sun",
  "warm-room": "30 °C for a week",
  "sea-container": "Sea container",
  constant: "One temperature of your own",
  list: "Temperatures of your own, by the hour",
};

const FOAM = { 0: "None", 30: "30 mm", 50: "50 mm" };
const COLD = { 0: "None", 300: "300 g", 800: "800 g" };

export function journeyCard(app: App): TemplateResult {
  const { tools } = app;
  const now = tools.journey;
  const unit = app.store.preferences.temperature;
  const set = (part: Partial<typeof now>) => {
    tools.journey = { ...now, ...part };
    app.refresh();
    void tools.travel();
  };
  const toggle = (event: Event) => {
    const { open } = event.target as HTMLDetailsElement;
    if (open !== now.open) set({ open });
  };
  const ways = { ...WAYS, "warm-room": sentence(WAYS["warm-room"], unit) };
  return html`<details class="card fold" @toggle=${toggle}>
    <summary><h2>On its way in the heat</h2></summary>
    ${select("journey-way", "Where", ways, now.preset, (preset) => set({ preset }))}
    ${now.preset === "constant" ? constant(app, set) : now.preset === "list" ? list(app, set) : nothing}
    ${select("journey-pack", "Packed in", PACKS, app.store.preferences.pack, (pack) => app.store.prefer({ pack }))}
    ${numberBox(app, { key: "journey-ml", label: "Each holds", value: now.volume_ml, least: 1, most: 5000, step: 10, unit: "mL", set: (volume_ml) => set({ volume_ml }) })}
    ${chips("Foam around it", "foam", worded(FOAM), String(now.insulation_mm) as "0", (value) => set({ insulation_mm: Number(value) }))}
    ${chips("Cold packs in the box", "cold", worded(COLD), String(now.cold_pack_g) as "0", (value) => set({ cold_pack_g: Number(value) }))}
    ${waiting(app, "expose", "Following it on its way")}
    ${now.failure ? html`<p class="problem" role="alert">${now.failure}</p>` : nothing}
    ${now.told ? outcome(app, now.told, unit) : nothing}
  </details>`;
}

type Set = (part: Partial<App["tools"]["journey"]>) => void;

function constant(app: App, set: Set): TemplateResult {
  const { constant_c, hours } = app.tools.journey;
  return html`<div class="pair">
    ${celsiusBox(app, "journey-c", "Air", constant_c, null, (celsius) => set({ constant_c: celsius }))}
    ${numberBox(app, { key: "journey-h", label: "For", value: hours, least: 0.5, most: 720, step: 1, unit: "h", set: (value) => set({ hours: value }) })}
  </div>`;
}

function list(app: App, set: Set): TemplateResult {
  return html`<label class="label" for="journey-list">An hour and its °${app.store.preferences.temperature} a line, hours rising</label>
    <textarea id="journey-list" class="paste-text" rows="4" placeholder="0 20&#10;6 38&#10;12 24" .value=${live(app.tools.journey.list)}
      @input=${(event: Event) => set({ list: (event.target as HTMLTextAreaElement).value })}></textarea>`;
}

function outcome(app: App, told: Journey, unit: TemperatureUnit): TemplateResult {
  return html`
    <p class="meets ${told.survives ? "good" : "doubtful"}" role="status">${sentence(told.sentence, unit)}</p>
    ${chart(told, unit)}
    <p>${sentence(told.afterwards, unit)}</p>
    <ul class="bullets">${told.advice.map((advice) => html`<li>${sentence(advice, unit)}</li>`)}</ul>
    ${
      told.packed_better.length
        ? html`<table><caption>The same, better packed</caption>
            <thead><tr><th scope="col">With</th><th scope="col">Slumps after</th><th scope="col">Lost</th></tr></thead>
            <tbody>${told.packed_better.map(
              (
                one,
              ) => html`<tr><th scope="row">${sentence(one.words, unit)}</th><td>${one.slumps_at_h === null ? "never" : `${shown(one.slumps_at_h)} h`}</td>
                <td>${shown(one.lost_percent, 0)} %</td></tr>`,
            )}</tbody></table>`
        : nothing
    }
    <p class="help">${sentence(told.course.source, unit)} ${told.assumed} ${askOrigin(app, "heat", "how it fares in the heat")}</p>`;
}

/** The chart as a table: every sixth part of the way. */
function twin(told: Journey, unit: TemperatureUnit): TemplateResult {
  const last = told.hours.length - 1;
  const rows = [...new Set([0, 1, 2, 3, 4, 5, 6].map((part) => Math.round((part * last) / 6)))];
  return html`<details><summary>The chart as a table</summary><table>
    <thead><tr><th scope="col">After</th><th scope="col">Air</th><th scope="col">Its middle</th><th scope="col">Slack</th></tr></thead>
    <tbody>${rows.map(
      (
        i,
      ) => html`<tr><th scope="row">${shown(told.hours[i] ?? 0)} h</th><td>${degrees(told.air_c[i] ?? 0, unit)}</td>
        <td>${degrees(told.middle_c[i] ?? 0, unit)}</td><td>${shown(told.slack_percent[i] ?? 0, 0)} %</td></tr>`,
    )}</tbody></table></details>`;
}

function chart(told: Journey, unit: TemperatureUnit): TemplateResult {
  const [width, height] = [360, 190];
  const last = told.hours.at(-1) ?? 24;
  const warm = [...told.air_c, ...told.middle_c].map((celsius) => toUnit(celsius, unit));
  const x = linear([0, last], [30, width - 8]);
  const y = linear([Math.min(...warm), Math.max(...warm)], [height - 26, 12], 4);
  const lost = linear([0, 100], [height - 26, 12]);
  const path = (column: number[]) =>
    line<number>(
      (_, i) => x(told.hours[i] ?? 0),
      (celsius) => y(toUnit(celsius, unit)),
    )(column) ?? "";
  const slack =
    area<number>(
      (_, i) => x(told.hours[i] ?? 0),
      lost(0),
      (percent) => lost(percent),
    )(told.slack_percent) ?? "";
  return html`<svg class="picture doses journey" viewBox="0 0 ${width} ${height}" role="img"
      aria-label="Air, the middle of the butter, and how much of it is slack, over ${shown(last, 0)} hours">
    ${svg`<path class="curve-fill" d=${slack} />
      ${y.ticks(4).map(
        (tick) => svg`<line class="grid" x1="30" x2=${width - 8} y1=${y(tick)} y2=${y(tick)} />
          <text class="grid-label end" x="26" y=${y(tick) + 4}>${shown(tick, 0)}°</text>`,
      )}
      ${x.ticks(6).map((tick) => svg`<text class="tick" x=${x(tick)} y=${height - 8}>${tick} h</text>`)}
      <path class="curve before" d=${path(told.air_c)} />
      <path class="curve" d=${path(told.middle_c)} />`}
  </svg>
  <p class="reading"><span class="key now"></span> its middle <span class="key was"></span> the air <span class="key slack"></span> slack</p>
  ${twin(told, unit)}`;
}
