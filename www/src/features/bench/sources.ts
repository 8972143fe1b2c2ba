// Where each figure comes from, and how far to trust it.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import type { Behaviour, Item, Place } from "../../contract.js";
import { degrees, shown, type TemperatureUnit, tied } from "../../numbers.js";
import { say, sayFinding } from "../../words.js";
import { FIRMNESS } from "./classes.js";
import type { Look } from "./state.js";

const CLASSES: Record<string, string> = {
  plain: say("kind-plain"),
  lauric: say("kind-lauric"),
  wax: say("kind-wax"),
  "fatty-acids": say("kind-fatty-acids"),
  "fatty-acids-and-slip": say("kind-fatty-acids-and-slip"),
};

const KINDS: Record<string, string> = {
  slip: say("of-slip-point"),
  "melting-range": say("of-melting-range"),
};

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

/** Each figure with its band, and where both come from. */
export function origins(now: Behaviour, unit: TemperatureUnit): Record<OriginKey, Origin> {
  const { band, places, making, fresh } = now;
  const kind = CLASSES[band.class] ?? band.class;
  const { figures, solid_percent: points, slip_c: slip_k, clear_c: clear_k } = band;
  const apart = (kelvin: number) => shown(unit === "F" ? kelvin * 1.8 : kelvin, 1);
  const point = (celsius: number | null, width: number) =>
    celsius === null ? say("liquid-throughout") : `${degrees(celsius, unit)} ± ${apart(width)}`;
  const solid = (place: Pick<Place, "solid_percent" | "at_c">) =>
    say("solid-at", {
      solid_percent: place.solid_percent,
      band_percent: band.solid_percent,
      at: degrees(place.at_c, unit),
    });
  const firm = (place: Place) => {
    const [low, high] = place.structure_band_percent;
    const [softest, hardest] = place.firmness_band;
    const words =
      softest === hardest
        ? FIRMNESS[softest]
        : say("from-to", { from: FIRMNESS[softest], to: FIRMNESS[hardest] });
    return say("firm-at", {
      structure_percent: place.structure_percent,
      low_percent: low,
      high_percent: high,
      words,
      at: degrees(place.at_c, unit),
    });
  };
  return {
    solid: {
      title: say("title-solid", {
        coldest: solid(places.coldest),
        hottest: solid(places.hottest),
        skin: solid(places.skin),
      }),
      text: say("origin-solid", {
        kind,
        figures: figures.solid,
        certificate: now.certificate.toExponential(0),
      }),
    },
    slip: {
      title: say("title-slip", { at: point(now.slip_c, band.slip_c) }),
      text: say("origin-slip", { kind, figures: figures.slip }),
    },
    clear: {
      title: say("title-clear", { at: point(now.clear_c, band.clear_c) }),
      text: say("origin-clear", { kind, figures: figures.clear }),
    },
    softens: {
      title: say("title-softens", { at: softens(now, unit) }),
      text: say("origin-softens"),
    },
    firmness: {
      title: say("title-firmness", {
        coldest: firm(places.coldest),
        usual: firm(places.usual),
        hottest: firm(places.hottest),
      }),
      text: say("origin-firmness"),
    },
    skin: {
      title: say("title-skin", {
        solid_percent: places.skin.solid_percent,
        band_percent: band.solid_percent,
      }),
      text: say("origin-skin", { dab: sayFinding("dab", now.dab.melts) }),
    },
    fresh: {
      title: say("title-fresh", { fresh: solid(fresh.usual), settled: solid(places.usual) }),
      text: say("origin-fresh"),
    },
    making: {
      title: making.whip_c
        ? say("title-whipping", {
            melt_out: degrees(making.melt_out_c, unit),
            from: degrees(making.whip_c[0], unit),
            to: degrees(making.whip_c[1], unit),
          })
        : say("title-making", { melt_out: degrees(making.melt_out_c, unit) }),
      text: say("origin-making", { points }),
    },
    rework: {
      title: say("title-rework"),
      text: say("origin-rework", { points }),
    },
    jars: {
      title: say("title-jars"),
      text: say("origin-jars"),
    },
    hardeners: {
      title: say("title-hardeners"),
      text: say("origin-hardeners", { points, slip_k, clear_k }),
    },
    heat: {
      title: say("title-heat"),
      text: say("origin-heat"),
    },
  };
}

function softens({ softening_c, softening_band_c: [low, high] }: Behaviour, unit: TemperatureUnit): string {
  if (softening_c === null) return say("never-holds");
  const range =
    low === null || high === null
      ? ""
      : ` (${say("from-to", { from: degrees(low, unit), to: degrees(high, unit) })})`;
  return `${degrees(softening_c, unit)}${range}`;
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
