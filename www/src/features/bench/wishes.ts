// The climate and what the maker wants of the butter.

import { html, type TemplateResult } from "lit/html.js";

import type { App } from "../../app.js";
import type { Firmness, Format, OnSkin, Storage } from "../../contract.js";
import { degrees, fromUnit, shown, toUnit } from "../../numbers.js";
import { type Choice, chips, massBox, numberBox, select } from "../../parts/controls.js";
import { icon } from "../../parts/icons.js";
import { say, sayFinding } from "../../words.js";

/** Ranges by their temperatures; the words only say what such a range may be. */
const CLIMATES: { cold: number; hot: number; words: string }[] = [
  { cold: 12, hot: 20, words: "unheated room" },
  { cold: 18, hot: 25, words: "home, mild" },
  { cold: 20, hot: 30, words: "summer room" },
  { cold: 25, hot: 35, words: "hot room" },
  { cold: 5, hot: 38, words: "shed, parcel" },
];

/** A temperature in the reader's unit. */
export function celsiusBox(
  app: App,
  key: string,
  label: string,
  celsius: number,
  complaint: string | null,
  set: (celsius: number) => void,
): TemplateResult {
  const unit = app.store.preferences.temperature;
  return numberBox(app, {
    key,
    label,
    value: Math.round(toUnit(celsius, unit) * 10) / 10,
    least: toUnit(-30, unit),
    most: toUnit(60, unit),
    step: unit === "F" ? 1 : 0.5,
    unit: `°${unit}`,
    complaint,
    set: (value) => set(fromUnit(value, unit)),
  });
}

function crossed({ coldest, hottest }: Storage): string | null {
  return coldest > hottest ? "The coldest is above the hottest: swap them." : null;
}

export function climate(app: App): TemplateResult {
  const { storage_c, skin_c } = app.state;
  const unit = app.store.preferences.temperature;
  return html`<section class="card climate" aria-labelledby="climate-title">
    <h2 id="climate-title">Where the jar lives</h2>
    <div class="pair">
      ${celsiusBox(
        app,
        "storage-coldest",
        "Coldest",
        storage_c.coldest,
        app.complaint("storage_c.coldest"),
        (coldest) => app.store.change({ storage_c: { ...storage_c, coldest } }, "coldest"),
      )}
      ${celsiusBox(
        app,
        "storage-hottest",
        "Hottest",
        storage_c.hottest,
        crossed(storage_c) ?? app.complaint("storage_c", "storage_c.hottest"),
        (hottest) => app.store.change({ storage_c: { ...storage_c, hottest } }, "hottest"),
      )}
    </div>
    <div class="presets" role="group" aria-label="Ready ranges">
      ${CLIMATES.map(({ cold, hot, words }) => {
        const chosen = cold === storage_c.coldest && hot === storage_c.hottest;
        return html`<button type="button" class="preset" aria-pressed=${chosen ? "true" : "false"}
          @click=${() => {
            app.drafts.clear();
            app.store.change({ storage_c: { coldest: cold, hottest: hot } });
          }}><span>${shown(toUnit(cold, unit), 0)}–${degrees(hot, unit)}</span><small>${words}</small></button>`;
      })}
    </div>
    ${celsiusBox(app, "skin", "Skin", skin_c, app.complaint("skin_c"), (skin) => app.store.change({ skin_c: skin }, "skin"))}
    <p class="help">${say("skin-is-cooler")}</p>
  </section>`;
}

/** The batch on the bench that is to be rescued. */
export function madeBatch(app: App): TemplateResult {
  const { made } = app.state;
  if (!made) return html``;
  const set = (part: Partial<typeof made>) => app.store.change({ made: { ...made, ...part } }, "made");
  const { failure } = app.search.now;
  const complaint = failure?.at.startsWith("made") ? failure.message : null;
  return html`<div class="pair">
    ${massBox(app, "made-grams", "What was made", made.grams, 10, null, (grams) => set({ grams }))}
    ${massBox(
      app,
      "made-used",
      "Of it used or lost",
      made.used_grams,
      10,
      made.used_grams >= made.grams ? "That is all of it: give less than was made." : complaint,
      (used_grams) => set({ used_grams }),
      0,
    )}
  </div>`;
}

/** The second of two seasons; the first is where the jar lives. */
export function otherSeason(app: App): TemplateResult {
  const { other_storage_c: other, storage_c } = app.state;
  if (!other) return html``;
  const unit = app.store.preferences.temperature;
  const set = (part: Partial<Storage>) =>
    app.store.change({ other_storage_c: { ...other, ...part } }, "other season");
  return html`<p class="help">One season is the range above, ${shown(toUnit(storage_c.coldest, unit))} to ${degrees(storage_c.hottest, unit)}. In the other:</p>
    <div class="pair">
      ${celsiusBox(app, "other-coldest", "Coldest then", other.coldest, null, (coldest) => set({ coldest }))}
      ${celsiusBox(app, "other-hottest", "Hottest then", other.hottest, crossed(other), (hottest) => set({ hottest }))}
    </div>`;
}

const PACKS = {
  "": "not said",
  jar: "plastic jar",
  "glass-jar": "glass jar",
  tin: "tin",
  tube: "tube",
  "paper-tube": "paper tube",
  wrap: "wrap or paper box",
};

export function packedIn(app: App, id: string): TemplateResult {
  return select(id, "Packed in", PACKS, app.state.pack ?? "", (pack) =>
    app.store.change({ pack: pack || null }),
  );
}

type Wish<T> = T | "any";

export function feel(app: App): TemplateResult {
  const { format, firmness, on_skin } = app.state;
  const formats: Choice<Format>[] = [
    { value: "whipped", label: "Whipped", drawing: icon("whipped") },
    { value: "pot", label: "Pot", drawing: icon("pot") },
    { value: "bar", label: "Bar", drawing: icon("bar") },
  ];
  const firmnesses: Choice<Wish<Firmness>>[] = [
    { value: "soft", label: "Soft", hint: "spreads at a touch" },
    { value: "scoopable", label: "Scoopable", hint: "scoops and spreads" },
    { value: "firm", label: "Firm", hint: "needs pressing" },
    { value: "hard", label: "Hard", hint: "must be rubbed" },
    { value: "any", label: "Any" },
  ];
  for (const rare of ["pourable", "slack", "snapping"] as const) {
    if (firmness === rare) firmnesses.push({ value: rare, label: rare });
  }
  const skins: Choice<Wish<OnSkin>>[] = [
    { value: "melts", label: "Melts", hint: "at once" },
    { value: "lingers", label: "Lingers", hint: "keeps some body" },
    { value: "stays", label: "Stays", hint: "as a film" },
    { value: "any", label: "Any" },
  ];
  return html`<section class="card feel" aria-labelledby="feel-title">
    <h2 id="feel-title">What it should be</h2>
    ${chips("Sold as", "format", formats, format, (value) => app.store.change({ format: value }))}
    ${packedIn(app, "pack")}
    ${app.behaviour?.pack ? html`<p class="help">${sayFinding("pack", app.behaviour.pack)}</p>` : html``}
    ${chips("At room temperature", "firmness", firmnesses, firmness ?? "any", (value) =>
      app.store.change({ firmness: value === "any" ? null : value }),
    )}
    ${chips("On skin", "on-skin", skins, on_skin ?? "any", (value) =>
      app.store.change({ on_skin: value === "any" ? null : value }),
    )}
  </section>`;
}
