// On its way: how a packed butter fares in hot air.

import { area, line } from "d3-shape";
import { live } from "lit/directives/live.js";
import { html, nothing, svg, type TemplateResult } from "lit/html.js";
import type { Bench } from "../../bench.js";
import type { Air, Journey, Preset, Way } from "../../contract.js";
import { RANGES } from "../../forms.js";
import { degrees, hoursAndDegrees, shown, type TemperatureUnit, toUnit, typed } from "../../numbers.js";
import { celsiusBox, chips, mass, numberBox, select, volumeBox, waiting } from "../../parts/controls.js";
import { askOrigin } from "../../parts/origin.js";
import { linear } from "../../scale.js";
import { say, sayFinding, sayFindings } from "../../words.js";
import { packedIn } from "../bench/wishes.js";
import type { Heat } from "./state.js";

const WAYS = {
  mailbox: say("way-mailbox"),
  "delivery-van": say("way-delivery-van"),
  "parked-car-shade": say("way-parked-car-shade"),
  "parked-car-sun": say("way-parked-car-sun"),
  "warm-room": "",
  "sea-container": say("way-sea-container"),
  dashboard: say("way-dashboard"),
  constant: say("way-constant"),
  list: say("way-list"),
};

const FOAM_MM = [30, 50];
const COLD_G = [300, 800];

const CORNERS: [number, number][] = [
  [0, 20],
  [6, 38],
  [12, 24],
];

const AIRS: Record<string, Air> = {
  constant: { constant_c: 30, hours: 24 },
  list: { points: CORNERS },
};

export function journeyCard(heat: Heat): TemplateResult {
  const now = heat.journey;
  const toggle = (event: Event) => {
    event.preventDefault();
    heat.toggle();
  };
  return html`<details class="card fold" id="journey" .open=${now !== null}>
    <summary @click=${toggle}><span class="told"><h2>${say("heat")}</h2>
      <small>${say("heat-hint")}</small></span></summary>
    ${now ? body(heat, now) : nothing}
  </details>`;
}

function body({ bench, told, failure }: Heat, now: Way): TemplateResult {
  const unit = bench.store.preferences.temperature;
  const { volume_ml, insulation_mm, cold_pack_g, ...air } = now;
  const change = (part: Partial<Way>, tag = "") => bench.store.change({ journey: { ...now, ...part } }, tag);
  const set: Set = (air, tag = "") =>
    bench.store.change({ journey: { volume_ml, insulation_mm, cold_pack_g, ...air } }, tag);
  const way = air.points ? "list" : air.constant_c === undefined ? (air.preset ?? "") : "constant";
  const go = (chosen: string) => {
    bench.drafts.delete("journey-list");
    set(AIRS[chosen] ?? { preset: chosen as Preset });
  };
  return html`
    ${select("journey-way", say("way"), { ...WAYS, "warm-room": say("warm-room") }, way, go)}
    ${way === "constant" ? constant(bench, air, set) : way === "list" ? list(bench, air.points ?? [], set) : nothing}
    ${packedIn(bench, "journey-pack")}
    ${volumeBox(bench, "journey-ml", say("each-holds"), volume_ml, (volume_ml) => change({ volume_ml }, "journey-ml"))}
    ${chips(
      say("foam"),
      "foam",
      [
        { value: "0", label: say("none") },
        ...FOAM_MM.map((foam_mm) => ({ value: String(foam_mm), label: say("foam-of", { foam_mm }) })),
      ],
      String(insulation_mm),
      (value) => change({ insulation_mm: Number(value) }),
    )}
    ${chips(
      say("cold-packs"),
      "cold",
      [
        { value: "0", label: say("none") },
        ...COLD_G.map((grams) => ({
          value: String(grams),
          label: mass(grams, bench.store.preferences.mass, 1),
        })),
      ],
      String(cold_pack_g),
      (value) => change({ cold_pack_g: Number(value) }),
    )}
    ${waiting(bench, "expose", say("following"))}
    ${failure ? html`<p class="problem" role="alert">${failure}</p>` : nothing}
    ${told ? outcome(bench, told, unit) : nothing}`;
}

/** Other air for the same parcel. */
type Set = (air: Air, tag?: string) => void;

function constant(bench: Bench, { constant_c = 30, hours = 24 }: Air, set: Set): TemplateResult {
  return html`<div class="pair">
    ${celsiusBox(bench, "journey-c", say("way-air"), constant_c, null, (celsius) => set({ constant_c: celsius, hours }, "journey-c"), RANGES.air_c)}
    ${numberBox(bench, { key: "journey-h", label: say("way-for"), value: hours, least: 0.5, most: 720, step: 1, unit: "h", set: (value) => set({ constant_c, hours: value }, "journey-h") })}
  </div>`;
}

/** A course as it is typed; what is not (yet) one stays as typed, with what is wrong. */
function list(bench: Bench, points: [number, number][], set: Set): TemplateResult {
  const unit = bench.store.preferences.temperature;
  const draft = bench.drafts.get("journey-list");
  const text =
    draft ?? points.map(([hour, celsius]) => `${typed(hour)} ${typed(toUnit(celsius, unit), 1)}`).join("\n");
  let problem: string | null = null;
  try {
    corners(text, unit);
  } catch (reason) {
    problem = reason instanceof Error ? reason.message : String(reason);
  }
  const input = (event: Event) => {
    const { value } = event.target as HTMLTextAreaElement;
    bench.drafts.set("journey-list", value);
    try {
      set({ points: corners(value, unit) }, "journey-list");
    } catch {
      bench.refresh();
    }
  };
  return html`<div><label class="label" for="journey-list">${say("course", { unit: `°${unit}` })}</label>
    <textarea id="journey-list" class="paste-text" rows="4" .value=${live(text)} @input=${input}
      aria-invalid=${problem ? "true" : "false"} aria-describedby=${problem ? "journey-list-problem" : nothing}></textarea>
    ${problem ? html`<p class="problem" id="journey-list-problem" role="alert">${problem}</p>` : nothing}</div>`;
}

function corners(text: string, unit: TemperatureUnit): [number, number][] {
  const points = hoursAndDegrees(text, unit);
  if (points.length < 2) throw new Error(say("course-too-short"));
  if (points.some(([hour], i) => i > 0 && hour <= (points[i - 1]?.[0] ?? 0)))
    throw new Error(say("course-falls"));
  return points;
}

function outcome(bench: Bench, told: Journey, unit: TemperatureUnit): TemplateResult {
  return html`
    <p class="meets ${told.survives ? "good" : "doubtful"}" role="status">${sayFinding("journey", told.journey)}</p>
    ${chart(told, unit)}
    <p>${sayFindings("afterwards", told.afterwards)}</p>
    <ul class="bullets">${told.advice.map((advice) => html`<li>${sayFinding("advice", advice)}</li>`)}</ul>
    ${
      told.packed_better.length
        ? html`<table><caption>${say("packed-better")}</caption>
            <thead><tr><th scope="col">${say("packed-with")}</th><th scope="col">${say("slumps-after")}</th><th scope="col">${say("lost")}</th></tr></thead>
            <tbody>${told.packed_better.map(
              (
                one,
              ) => html`<tr><th scope="row">${sayFinding("packing", one.packing)}</th><td>${one.slumps_at_h === null ? say("never") : `${shown(one.slumps_at_h)} h`}</td>
                <td>${shown(one.lost_percent, 0)} %</td></tr>`,
            )}</tbody></table>`
        : nothing
    }
    <details><summary>${say("assumed")}</summary>
      <p class="help">${told.course.source} ${say("journey-assumed")} ${askOrigin(bench, "heat", say("of-heat"))}</p></details>`;
}

/** The chart as a table: every sixth part of the way. */
function twin(told: Journey, unit: TemperatureUnit): TemplateResult {
  const last = told.hours.length - 1;
  const rows = [...new Set([0, 1, 2, 3, 4, 5, 6].map((part) => Math.round((part * last) / 6)))];
  return html`<details><summary>${say("chart-as-table")}</summary><table>
    <thead><tr><th scope="col">${say("after")}</th><th scope="col">${say("way-air")}</th><th scope="col">${say("its-middle")}</th><th scope="col">${say("slack")}</th></tr></thead>
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
      aria-label=${say("heat-chart", { hours: last })}>
    ${svg`<path class="curve-fill" d=${slack} />
      ${y.ticks(4).map(
        (tick) => svg`<line class="grid" x1="30" x2=${width - 8} y1=${y(tick)} y2=${y(tick)} />
          <text class="grid-label end" x="26" y=${y(tick) + 4}>${shown(tick, 0)}°</text>`,
      )}
      ${x.ticks(6).map((tick) => svg`<text class="tick" x=${x(tick)} y=${height - 8}>${tick} h</text>`)}
      <path class="curve before" d=${path(told.air_c)} />
      <path class="curve" d=${path(told.middle_c)} />`}
  </svg>
  <p class="reading"><span class="key now"></span> ${say("key-middle")} <span class="key was"></span> ${say("key-air")} <span class="key slack"></span> ${say("key-slack")}</p>
  ${twin(told, unit)}`;
}
