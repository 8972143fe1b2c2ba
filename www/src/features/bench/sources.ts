// Where each figure comes from, and how far to trust it.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import type { Behaviour, Item, Place } from "../../contract.js";
import { degrees, shown, type TemperatureUnit, tied } from "../../numbers.js";
import { say, sayFinding } from "../../words.js";
import type { Look } from "./state.js";

const CLASSES: Record<string, string> = {
  plain: "plain fats",
  lauric: "recipes with lauric fats",
  wax: "recipes with wax",
  "fatty-acids": "whole fats from their fatty acids alone",
  "fatty-acids-and-slip": "whole fats from their fatty acids and slip point",
};

const KINDS: Record<string, string> = { slip: "slip point", "melting-range": "melting range" };

/** What can be asked about. */
export type OriginKey =
  | "solid"
  | "slip"
  | "clear"
  | "softens"
  | "firmness"
  | "skin"
  | "fresh"
  | "making"
  | "rework"
  | "jars"
  | "hardeners"
  | "heat";

export interface Origin {
  title: string;
  text: string;
}

export function sources(look: Look): TemplateResult {
  const toggle = (event: Event) => {
    look.sourcesOpen = (event.target as HTMLDetailsElement).open;
    look.bench.refresh();
  };
  return html`<details class="card fold" id="sources" @toggle=${toggle}>
    <summary id="sources-title"><span class="told"><h2>Where do these figures come from?</h2>
      <small>Each with its band, and the source of both</small></span></summary>
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
    <h3>Of the ingredients</h3>
    <dl class="origins">${bench.state.recipe.map((item) => ingredient(bench, item, unit))}</dl>
  `;
}

/** Each figure with its band, and where both come from. */
export function origins(now: Behaviour, unit: TemperatureUnit): Record<OriginKey, Origin> {
  const { band, places, making, fresh } = now;
  const kind = CLASSES[band.class] ?? band.class;
  const { figures, solid_percent: points, slip_c: slip_k, clear_c: clear_k } = band;
  const apart = (kelvin: number) => shown(unit === "F" ? kelvin * 1.8 : kelvin, 1);
  const point = (celsius: number | null, width: number) =>
    celsius === null ? "liquid throughout" : `${degrees(celsius, unit)} ± ${apart(width)}`;
  const solid = (place: Pick<Place, "solid_percent" | "at_c">) =>
    `${shown(place.solid_percent, 1)} ± ${shown(band.solid_percent, 1)} % at ${degrees(place.at_c, unit)}`;
  const firm = (place: Place) => {
    const [low, high] = place.structure_band_percent;
    const [softest, hardest] = place.firmness_band;
    const words = softest === hardest ? softest : `${softest} to ${hardest}`;
    return `${shown(place.structure_percent, 0)} % (${shown(low, 0)} to ${shown(high, 0)}: ${words}) at ${degrees(place.at_c, unit)}`;
  };
  return {
    solid: {
      title: `Solid fat content: ${solid(places.coldest)}; ${solid(places.hottest)}; ${solid(places.skin)}`,
      text: say("origin-solid", {
        kind,
        figures: figures.solid,
        certificate: now.certificate.toExponential(0),
      }),
    },
    slip: {
      title: `Slip point: ${point(now.slip_c, band.slip_c)}`,
      text: say("origin-slip", { kind, figures: figures.slip }),
    },
    clear: {
      title: `Clear point: ${point(now.clear_c, band.clear_c)}`,
      text: say("origin-clear", { kind, figures: figures.clear }),
    },
    softens: {
      title: `Softens: ${softens(now, unit)}`,
      text: say("origin-softens"),
    },
    firmness: {
      title: `Firmness: ${firm(places.coldest)}; ${firm(places.usual)}; ${firm(places.hottest)}`,
      text: say("origin-firmness"),
    },
    skin: {
      title: `On skin: ${shown(places.skin.solid_percent, 1)} ± ${shown(band.solid_percent, 1)} % stays solid`,
      text: say("origin-skin", { dab: sayFinding("dab", now.dab.melts) }),
    },
    fresh: {
      title: `Fresh: ${solid(fresh.usual)}, settled ${solid(places.usual)}`,
      text: say("origin-fresh"),
    },
    making: {
      title: `Making: melt-out ${degrees(making.melt_out_c, unit)}${making.whip_c ? `, whip from ${degrees(making.whip_c[0], unit)} to ${degrees(making.whip_c[1], unit)}` : ""}`,
      text: say("origin-making", { points }),
    },
    rework: {
      title: "Reworks, rescues and seasons",
      text: say("origin-rework", { points }),
    },
    jars: {
      title: "Jars and cost",
      text: say("origin-jars"),
    },
    hardeners: {
      title: "Hardeners, dose by dose",
      text: say("origin-hardeners", { points, slip_k, clear_k }),
    },
    heat: {
      title: "In the heat",
      text: say("origin-heat"),
    },
  };
}

function softens({ softening_c, softening_band_c: [low, high] }: Behaviour, unit: TemperatureUnit): string {
  if (softening_c === null) return "it never holds its shape";
  const range = low === null || high === null ? "" : ` (${degrees(low, unit)} to ${degrees(high, unit)})`;
  return `${degrees(softening_c, unit)}${range}`;
}

function ingredient(bench: Bench, item: Item, unit: TemperatureUnit): TemplateResult | typeof nothing {
  const known = bench.catalogue.get(item.id ?? "");
  if (!known) return html`<dt>${bench.name(item)}</dt><dd>As you described it.</dd>`;
  const [low, high] = known.melting_c ?? [null, null];
  return html`<dt>${known.name}</dt>
    <dd>${
      low !== null && high !== null
        ? html`Supplier or pharmacopoeia, ${KINDS[known.melting_kind] ?? known.melting_kind}:
          ${low === high ? "" : `${degrees(low, unit)} to `}${degrees(high, unit)}. `
        : nothing
    }${known.use_ceiling_percent ? `Usually at most ${shown(known.use_ceiling_percent)} %. ` : nothing}${known.note}</dd>`;
}
