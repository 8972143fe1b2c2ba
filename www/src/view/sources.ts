// Where each figure comes from, and how far to trust it.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { App } from "../app.js";
import type { Behaviour, Place } from "../contract.js";
import { degrees, sentence, shown, type TemperatureUnit } from "../numbers.js";

const CLASSES: Record<string, string> = {
  plain: "plain fats",
  lauric: "recipes with lauric fats",
  wax: "recipes with wax",
};

const KINDS: Record<string, string> = { slip: "slip point", "melting-range": "melting range" };

/** Opens the card and goes to it. */
export function showSources(): void {
  const card = document.querySelector<HTMLDetailsElement>("#sources");
  if (!card) return;
  card.open = true;
  card.scrollIntoView({ block: "start" });
  card.querySelector("summary")?.focus({ preventScroll: true });
}

export function sources(app: App): TemplateResult {
  const unit = app.store.preferences.temperature;
  const now = app.behaviour;
  return html`<details class="card fold" id="sources">
    <summary><h2>Where do these figures come from?</h2></summary>
    ${now ? predicted(now, unit) : nothing}
    <h3>Of the ingredients</h3>
    <dl class="origins">${app.state.recipe.map((item) => ingredient(app, item.id ?? "", unit))}</dl>
  </details>`;
}

function predicted(now: Behaviour, unit: TemperatureUnit): TemplateResult {
  const { band, places } = now;
  const kind = CLASSES[band.class] ?? band.class;
  const behind = (count: number) =>
    `Nine of ten measured figures of ${kind} that nothing was fitted to lie within that (${count} figures).`;
  const apart = (kelvin: number) => shown(unit === "F" ? kelvin * 1.8 : kelvin, 1);
  const point = (celsius: number | null, width: number) =>
    celsius === null ? "liquid throughout" : `${degrees(celsius, unit)} ± ${apart(width)}`;
  const solid = (place: Place) =>
    `${shown(place.solid_percent, 1)} ± ${shown(band.solid_percent, 1)} % at ${degrees(place.at_c, unit)}`;
  const firm = (place: Place) => {
    const [low, high] = place.structure_band_percent;
    const [softest, hardest] = place.firmness_band;
    const words = softest === hardest ? softest : `${softest} to ${hardest}`;
    return `${shown(place.structure_percent, 0)} % (${shown(low, 0)} to ${shown(high, 0)}: ${words}) at ${degrees(place.at_c, unit)}`;
  };
  return html`<dl class="origins">
    <dt>Solid fat content: ${solid(places.coldest)}; ${solid(places.hottest)}; ${solid(places.skin)}</dt>
    <dd>The state of lowest energy of all that is in the recipe, melted and crystallised, at each temperature, from published melting
      points and heats of fusion of the molecules it is made of. The largest error left in the sums is
      ${now.certificate.toExponential(0)}. ${behind(band.figures.solid)}</dd>
    <dt>Slip point: ${point(now.slip_c, band.slip_c)}</dt>
    <dd>Where 4.5 % solid is left, as an open capillary shows it. ${behind(band.figures.slip)}</dd>
    <dt>Clear point: ${point(now.clear_c, band.clear_c)}</dt>
    <dd>Where 1 % solid is left, or a tenth of what is solid at 20 °C where that is less. ${behind(band.figures.clear)}</dd>
    <dt>Softens: ${softens(now, unit)}</dt>
    <dd>Where structure falls to the least that it needs: whipped 10 % (studies of whipped oils, low confidence), pot 8 %, bar 35 %
      (common practice, no source). The range is what the published figures for the worth of such solids allow; the solids
      themselves err as above.</dd>
    <dt>Firmness: ${firm(places.coldest)}; ${firm(places.usual)}; ${firm(places.hottest)}</dt>
    <dd>Solids, with wax crystals counted several times (Hwang 2012: 1 to 6 % sunflower wax is as firm as 18 to 30 % hardened soybean
      oil). The limits are those of margarine and chocolate practice; those between are ours.</dd>
    <dt>On skin: ${shown(places.skin.solid_percent, 1)} % stays solid</dt>
    <dd>Skin surface is 32 to 34 °C. Up to 10 % left counts as melting: an assumption, no published limit was found.
      ${sentence(now.dab.words, unit)} ${now.dab.assumed}</dd>
    <dt>Reworks</dt>
    <dd>Every way to change so many lines on the step of your scale is tried or excluded by a bound, so nothing smaller meets the
      wishes as they are predicted; the predictions err as above.</dd>
  </dl>`;
}

function softens({ softening_c, softening_band_c: [low, high] }: Behaviour, unit: TemperatureUnit): string {
  if (softening_c === null) return "it never holds its shape";
  const range = low === null || high === null ? "" : ` (${degrees(low, unit)} to ${degrees(high, unit)})`;
  return `${degrees(softening_c, unit)}${range}`;
}

function ingredient(app: App, id: string, unit: TemperatureUnit): TemplateResult | typeof nothing {
  const known = app.catalogue.get(id);
  if (!known) return nothing;
  const [low, high] = known.melting_c ?? [null, null];
  return html`<dt>${known.name}</dt>
    <dd>${
      low !== null && high !== null
        ? html`Supplier or pharmacopoeia, ${KINDS[known.melting_kind] ?? known.melting_kind}:
          ${low === high ? "" : `${degrees(low, unit)} to `}${degrees(high, unit)}. `
        : nothing
    }${known.use_ceiling_percent ? `Usually at most ${shown(known.use_ceiling_percent)} %. ` : nothing}${sentence(known.note, unit)}</dd>`;
}
