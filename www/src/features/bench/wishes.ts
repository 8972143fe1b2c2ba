// The climate and what the maker wants of the butter.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import type { Firmness, Format, OnSkin, Pack, Storage } from "../../contract.js";
import { degrees, shown, toUnit } from "../../numbers.js";
import { type Choice, celsiusBox, chips, select } from "../../parts/controls.js";
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

export function crossed({ coldest, hottest }: Storage): string | null {
  return coldest > hottest ? "The coldest is above the hottest: swap them." : null;
}

export function climate(bench: Bench): TemplateResult {
  const { storage_c, skin_c, format } = bench.state;
  const unit = bench.store.preferences.temperature;
  const formats: Choice<Format>[] = [
    { value: "whipped", label: "Whipped", drawing: icon("whipped") },
    { value: "pot", label: "Pot", drawing: icon("pot") },
    { value: "bar", label: "Bar", drawing: icon("bar") },
  ];
  return html`<section class="card climate" aria-labelledby="climate-title">
    <h2 id="climate-title">The jar and where it lives</h2>
    ${chips("Sold as", "format", formats, format, (value) => bench.store.change({ format: value }))}
    <div class="pair">
      ${celsiusBox(
        bench,
        "storage-coldest",
        "Coldest",
        storage_c.coldest,
        bench.complaint("storage_c.coldest"),
        (coldest) => bench.store.change({ storage_c: { ...storage_c, coldest } }, "coldest"),
      )}
      ${celsiusBox(
        bench,
        "storage-hottest",
        "Hottest",
        storage_c.hottest,
        crossed(storage_c) ?? bench.complaint("storage_c", "storage_c.hottest"),
        (hottest) => bench.store.change({ storage_c: { ...storage_c, hottest } }, "hottest"),
      )}
    </div>
    <div class="presets" role="group" aria-label="Ready ranges">
      ${CLIMATES.map(({ cold, hot, words }) => {
        const chosen = cold === storage_c.coldest && hot === storage_c.hottest;
        return html`<button type="button" class="preset" aria-pressed=${chosen ? "true" : "false"}
          @click=${() => {
            bench.drafts.clear();
            bench.store.change({ storage_c: { coldest: cold, hottest: hot } });
          }}><span>${shown(toUnit(cold, unit), 0)}–${degrees(hot, unit)}</span><small>${words}</small></button>`;
      })}
    </div>
    <details class="limits" ?open=${bench.complaint("skin_c") !== null}>
      <summary>Skin ${degrees(skin_c, unit)}${bench.state.pack ? `, ${PACKS[bench.state.pack] ?? bench.state.pack}` : " and the pack"}</summary>
      ${celsiusBox(bench, "skin", "Skin", skin_c, bench.complaint("skin_c"), (skin) => bench.store.change({ skin_c: skin }, "skin"))}
      <p class="help">${say("skin-is-cooler")}</p>
      ${packedIn(bench, "pack")}
      ${bench.behaviour?.pack ? html`<p class="help">${sayFinding("pack", bench.behaviour.pack)}</p>` : nothing}
    </details>
  </section>`;
}

const PACKS: Record<string, string> = {
  "": "not said",
  jar: "plastic jar",
  "glass-jar": "glass jar",
  tin: "tin",
  tube: "tube",
  "paper-tube": "paper tube",
  wrap: "wrap or paper box",
};

export function packedIn(bench: Bench, id: string): TemplateResult {
  return select(id, "Packed in", PACKS, bench.state.pack ?? "", (pack) =>
    bench.store.change({ pack: (pack as Pack) || null }),
  );
}

type Wish<T> = T | "any";

export function feel(bench: Bench): TemplateResult {
  const { firmness, on_skin } = bench.state;
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
    ${chips("At room temperature", "firmness", firmnesses, firmness ?? "any", (value) =>
      bench.store.change({ firmness: value === "any" ? null : value }),
    )}
    ${chips("On skin", "on-skin", skins, on_skin ?? "any", (value) =>
      bench.store.change({ on_skin: value === "any" ? null : value }),
    )}
  </section>`;
}
