// Where each figure comes from, and how far to trust it.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { App } from "../app.js";
import type { Behaviour, Item, Place } from "../contract.js";
import { degrees, sentence, shown, type TemperatureUnit, tied } from "../numbers.js";

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

let open = false;

export function sources(app: App): TemplateResult {
  const toggle = (event: Event) => {
    open = (event.target as HTMLDetailsElement).open;
    app.refresh();
  };
  return html`<details class="card fold" id="sources" @toggle=${toggle}>
    <summary><h2>Where do these figures come from?</h2></summary>
    ${open ? all(app) : nothing}
  </details>`;
}

function all(app: App): TemplateResult {
  const unit = app.store.preferences.temperature;
  const now = app.behaviour;
  return html`
    ${
      now
        ? html`<dl class="origins">${Object.values(origins(now, unit)).map(({ title, text }) => html`<dt>${tied(title)}</dt><dd>${text}</dd>`)}</dl>`
        : nothing
    }
    <h3>Of the ingredients</h3>
    <dl class="origins">${app.state.recipe.map((item) => ingredient(app, item, unit))}</dl>
  `;
}

/** Each figure with its band, and where both come from. */
export function origins(now: Behaviour, unit: TemperatureUnit): Record<OriginKey, Origin> {
  const { band, places, making, fresh } = now;
  const kind = CLASSES[band.class] ?? band.class;
  const behind = (count: number) =>
    `Nine of ten measured figures of ${kind} that nothing was fitted to lie within that (${count} figures).`;
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
  const written: Record<OriginKey, Origin> = {
    solid: {
      title: `Solid fat content: ${solid(places.coldest)}; ${solid(places.hottest)}; ${solid(places.skin)}`,
      text: `The state of lowest energy of all that is in the recipe, melted and crystallised, at each temperature, from published melting points and heats of fusion of the molecules it is made of. The largest error left in the sums is ${now.certificate.toExponential(0)}. ${behind(band.figures.solid)}`,
    },
    slip: {
      title: `Slip point: ${point(now.slip_c, band.slip_c)}`,
      text: `Where 4.5 % solid is left, as an open capillary shows it. ${behind(band.figures.slip)}`,
    },
    clear: {
      title: `Clear point: ${point(now.clear_c, band.clear_c)}`,
      text: `Where 1 % solid is left, or a tenth of what is solid at 20 °C where that is less. ${behind(band.figures.clear)}`,
    },
    softens: {
      title: `Softens: ${softens(now, unit)}`,
      text: "Where structure falls to the least that it needs: whipped 10 % (studies of whipped oils, low confidence), pot 8 %, bar 35 % (common practice, no source). The range is what the published figures for the worth of such solids allow; the solids themselves err as above.",
    },
    firmness: {
      title: `Firmness: ${firm(places.coldest)}; ${firm(places.usual)}; ${firm(places.hottest)}`,
      text: "Solids, with wax crystals counted several times (Hwang 2012: 1 to 6 % sunflower wax is as firm as 18 to 30 % hardened soybean oil). The limits are those of margarine and chocolate practice; those between are ours.",
    },
    skin: {
      title: `On skin: ${shown(places.skin.solid_percent, 1)} ± ${shown(band.solid_percent, 1)} % stays solid`,
      text: `Skin surface is 32 to 34 °C. Up to 10 % left counts as melting: an assumption, no published limit was found. ${now.dab.words} ${now.dab.assumed}`,
    },
    fresh: {
      title: `Fresh: ${solid(fresh.usual)}, settled ${solid(places.usual)}`,
      text: "A fresh butter has its crystals in the form that chilling gives, a settled one in the stable form; both are sums as above. How long it takes is not computed: days to weeks, from memory. Two measured figures were found, both of untempered cocoa butter: 26.7 °C (Jin et al. 2017) and 27.5 °C (Wille & Lutton 1966, by a secondary source). One factor was fitted to lie between them, so that neither is a proof: it slips at 27.0 °C and is clear at 27.2 °C.",
    },
    making: {
      title: `Making: melt-out ${degrees(making.melt_out_c, unit)}${making.whip_c ? `, whip from ${degrees(making.whip_c[0], unit)} to ${degrees(making.whip_c[1], unit)}` : ""}`,
      text: `Melt-out is above where the last crystal goes, with a margin that is common practice, no source; pouring and whipping follow the curve of solids, which errs by ${shown(band.solid_percent, 1)} points, so by a few degrees. Whipping at 10 to 30 % solids comes from studies of whipped oils (low confidence).`,
    },
    rework: {
      title: "Reworks, rescues and seasons",
      text: `Every way to change so many lines on the step of your scale is tried or excluded by a bound, so nothing smaller meets the wishes as they are predicted; the predictions err by ± ${shown(band.solid_percent, 1)} points of solids. Two seasons: where one recipe is good for both, that is the answer; else no two versions that are good for their seasons differ in fewer lines.`,
    },
    jars: {
      title: "Jars and cost",
      text: "Densities of the ingredients from the catalogue’s sources (Codex; from memory where none was found), a few percent off at most; the air whipped in is what you say. Prices are yours.",
    },
    hardeners: {
      title: "Hardeners, dose by dose",
      text: `The same sums as for the recipe, once a dose. They err alike (solids ± ${shown(band.solid_percent, 1)} points, slip ± ${apart(band.slip_c)}, clear ± ${apart(band.clear_c)}). No measured figures of hardeners in an oil-rich shea butter were found.`,
    },
    heat: {
      title: "In the heat",
      text: "Heat flows through the pack into a row of thin layers of butter, each melting by the recipe’s own curve; the sums meet the textbook solution within 1 %. The air of each place is a published measurement, named with it. Not checked against loggers in parcels.",
    },
  };
  for (const one of Object.values(written)) one.text = sentence(one.text, unit);
  return written;
}

function softens({ softening_c, softening_band_c: [low, high] }: Behaviour, unit: TemperatureUnit): string {
  if (softening_c === null) return "it never holds its shape";
  const range = low === null || high === null ? "" : ` (${degrees(low, unit)} to ${degrees(high, unit)})`;
  return `${degrees(softening_c, unit)}${range}`;
}

function ingredient(app: App, item: Item, unit: TemperatureUnit): TemplateResult | typeof nothing {
  const known = app.catalogue.get(item.id ?? "");
  if (!known) return html`<dt>${app.name(item)}</dt><dd>As you described it.</dd>`;
  const [low, high] = known.melting_c ?? [null, null];
  return html`<dt>${known.name}</dt>
    <dd>${
      low !== null && high !== null
        ? html`Supplier or pharmacopoeia, ${KINDS[known.melting_kind] ?? known.melting_kind}:
          ${low === high ? "" : `${degrees(low, unit)} to `}${degrees(high, unit)}. `
        : nothing
    }${known.use_ceiling_percent ? `Usually at most ${shown(known.use_ceiling_percent)} %. ` : nothing}${sentence(known.note, unit)}</dd>`;
}
