// On its way: how a packed butter fares in hot air.

import { scaleLinear } from "d3-scale";
import { area, line } from "d3-shape";
import { html, nothing, svg, type TemplateResult } from "lit/html.js";

import type { App } from "../app.js";
import type { Journey } from "../contract.js";
import { sentence, shown, type TemperatureUnit, toUnit } from "../numbers.js";
import { chips } from "./controls.js";

const WAYS = [
  { value: "mailbox", label: "Parcel box in the sun" },
  { value: "delivery-van", label: "Delivery van" },
  { value: "parked-car-shade", label: "Car in the shade" },
  { value: "parked-car-sun", label: "Car in the sun" },
  { value: "warm-room", label: "30 °C for a week" },
  { value: "sea-container", label: "Sea container" },
];

const PACKS = [
  { value: "", label: "As usual for it" },
  { value: "jar", label: "Plastic jar" },
  { value: "glass-jar", label: "Glass jar" },
  { value: "tin", label: "Tin" },
  { value: "tube", label: "Tube" },
  { value: "paper-tube", label: "Paper tube" },
  { value: "wrap", label: "Wrap" },
];

const FOAM = ["0", "30", "50"].map((value) => ({ value, label: value === "0" ? "None" : `${value} mm` }));

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
  const select = (
    id: string,
    label: string,
    choices: { value: string; label: string }[],
    value: string,
    key: "preset" | "pack",
  ) => html`
    <label class="label" for=${id}>${label}</label>
    <select id=${id} class="select" @change=${(event: Event) => set({ [key]: (event.target as HTMLSelectElement).value })}>
      ${choices.map(
        (choice) =>
          html`<option value=${choice.value} ?selected=${choice.value === value}>${
            unit === "F" ? sentence(choice.label, unit) : choice.label
          }</option>`,
      )}
    </select>`;
  return html`<details class="card fold" @toggle=${toggle}>
    <summary><h2>On its way in the heat</h2></summary>
    ${select("journey-way", "Where", WAYS, now.preset, "preset")}
    ${select("journey-pack", "Packed in (120 mL)", PACKS, now.pack, "pack")}
    ${chips("Foam around it", "foam", FOAM, String(now.insulation_mm), (value) => set({ insulation_mm: Number(value) }))}
    ${now.failure ? html`<p class="problem" role="alert">${now.failure}</p>` : nothing}
    ${now.told ? outcome(now.told, unit) : nothing}
  </details>`;
}

function outcome(told: Journey, unit: TemperatureUnit): TemplateResult {
  return html`
    <p class="meets ${told.survives ? "good" : "doubtful"}" role="status">${sentence(told.sentence, unit)}</p>
    ${chart(told, unit)}
    <p>${sentence(told.afterwards, unit)}</p>
    <ul class="bullets">${told.advice.map((advice) => html`<li>${sentence(advice, unit)}</li>`)}</ul>
    <p class="help">${sentence(told.course.source, unit)} ${told.assumed}</p>`;
}

function chart(told: Journey, unit: TemperatureUnit): TemplateResult {
  const [width, height] = [360, 190];
  const last = told.hours.at(-1) ?? 24;
  const warm = [...told.air_c, ...told.middle_c].map((celsius) => toUnit(celsius, unit));
  const x = scaleLinear()
    .domain([0, last])
    .range([30, width - 8]);
  const y = scaleLinear()
    .domain([Math.min(...warm), Math.max(...warm)])
    .nice(4)
    .range([height - 26, 12]);
  const lost = scaleLinear()
    .domain([0, 100])
    .range([height - 26, 12]);
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
  <p class="reading"><span class="key now"></span> its middle <span class="key was"></span> the air <span class="key slack"></span> slack</p>`;
}
