// The climate and what the maker wants of the butter.

import { html, nothing, type TemplateResult } from "lit/html.js";
import type { Bench } from "../../bench.js";
import type { Firmness, Format, OnSkin, Pack, Storage } from "../../contract.js";
import { RANGES, TOO_SOFT } from "../../forms.js";
import { degrees, shown, toUnit } from "../../numbers.js";
import { FIRMNESS } from "../../parts/classes.js";
import { type Choice, celsiusBox, chips, select } from "../../parts/controls.js";
import { icon } from "../../parts/icons.js";
import { say, sayFinding } from "../../words.js";

/** Ranges by their temperatures; the words only say what such a range may be. */
const CLIMATES: { cold: number; hot: number; words: string }[] = [
  { cold: 12, hot: 20, words: say("climate-unheated") },
  { cold: 18, hot: 25, words: say("climate-mild") },
  { cold: 20, hot: 30, words: say("climate-summer") },
  { cold: 25, hot: 35, words: say("climate-hot") },
  { cold: 5, hot: 38, words: say("climate-shed") },
];

export function crossed({ coldest, hottest }: Storage): string | null {
  return coldest > hottest ? say("storage-crossed") : null;
}

/** What is too soft for the new format is asked for as soft as it may be, and that is said. */
function soldAs(bench: Bench, format: Format): void {
  const { firmness } = bench.state;
  const may = (Object.keys(FIRMNESS) as Firmness[]).find((one) => !TOO_SOFT[format].includes(one));
  if (!firmness || !may || !TOO_SOFT[format].includes(firmness)) {
    bench.store.change({ format });
    return;
  }
  bench.store.change({ format, firmness: may });
  bench.say({
    text: say("firmer-for-format", {
      format: say(`format-${format}`),
      from: FIRMNESS[firmness],
      to: FIRMNESS[may],
    }),
    tone: "plain",
    actions: [bench.undoing],
  });
}

export function climate(bench: Bench): TemplateResult {
  const { storage_c, skin_c, format } = bench.state;
  const unit = bench.store.preferences.temperature;
  const formats: Choice<Format>[] = [
    { value: "whipped", label: say("format-whipped"), drawing: icon("whipped") },
    { value: "pot", label: say("format-pot"), drawing: icon("pot") },
    { value: "bar", label: say("format-bar"), drawing: icon("bar") },
    { value: "stick", label: say("format-stick"), drawing: icon("stick") },
  ];
  return html`<section class="card climate" aria-labelledby="climate-title">
    <h2 id="climate-title">${say("climate")}</h2>
    ${chips(say("sold-as"), "format", formats, format, (value) => soldAs(bench, value))}
    <div class="pair">
      ${celsiusBox(
        bench,
        "storage-coldest",
        say("place-coldest"),
        storage_c.coldest,
        bench.complaint("storage_c.coldest"),
        (coldest) => bench.store.change({ storage_c: { ...storage_c, coldest } }, "coldest"),
      )}
      ${celsiusBox(
        bench,
        "storage-hottest",
        say("place-hottest"),
        storage_c.hottest,
        crossed(storage_c) ?? bench.complaint("storage_c", "storage_c.hottest"),
        (hottest) => bench.store.change({ storage_c: { ...storage_c, hottest } }, "hottest"),
      )}
    </div>
    <div class="presets" role="group" aria-label=${say("ready-ranges")}>
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
      <summary>${
        bench.state.pack
          ? say("skin-and-this-pack", {
              at: degrees(skin_c, unit),
              pack: PACKS[bench.state.pack] ?? bench.state.pack,
            })
          : say("skin-and-pack", { at: degrees(skin_c, unit) })
      }</summary>
      ${celsiusBox(bench, "skin", say("skin"), skin_c, bench.complaint("skin_c"), (skin) => bench.store.change({ skin_c: skin }, "skin"), RANGES.skin_c)}
      <p class="help">${say("skin-is-cooler")}</p>
      ${packedIn(bench, "pack")}
      ${bench.behaviour?.pack ? html`<p class="help">${sayFinding("pack", bench.behaviour.pack)}</p>` : nothing}
    </details>
  </section>`;
}

const PACKS: Record<string, string> = {
  "": say("packed-not-said"),
  jar: say("packed-jar"),
  "glass-jar": say("packed-glass-jar"),
  tin: say("packed-tin"),
  tube: say("packed-tube"),
  "paper-tube": say("packed-paper-tube"),
  wrap: say("packed-wrap"),
};

export function packedIn(bench: Bench, id: string): TemplateResult {
  return select(id, say("packed-in"), PACKS, bench.state.pack ?? "", (pack) =>
    bench.store.change({ pack: (pack as Pack) || null }),
  );
}

type Wish<T> = T | "any";

export function feel(bench: Bench): TemplateResult {
  const { firmness, on_skin } = bench.state;
  const firmnesses: Choice<Wish<Firmness>>[] = [
    { value: "soft", label: say("wish-soft"), hint: say("hint-soft") },
    { value: "scoopable", label: say("wish-scoopable"), hint: say("hint-scoopable") },
    { value: "firm", label: say("wish-firm"), hint: say("hint-firm") },
    { value: "hard", label: say("wish-hard"), hint: say("hint-hard") },
    { value: "any", label: say("wish-any") },
  ];
  for (const rare of ["pourable", "slack", "snapping"] as const) {
    if (firmness === rare) firmnesses.push({ value: rare, label: FIRMNESS[rare] });
  }
  const skins: Choice<Wish<OnSkin>>[] = [
    { value: "melts", label: say("wish-melts"), hint: say("hint-melts") },
    { value: "lingers", label: say("wish-lingers"), hint: say("hint-lingers") },
    { value: "stays", label: say("wish-stays"), hint: say("hint-stays") },
    { value: "any", label: say("wish-any") },
  ];
  return html`<section class="card feel" aria-labelledby="feel-title">
    <h2 id="feel-title">${say("feel")}</h2>
    ${chips(say("at-room-temperature"), "firmness", firmnesses, firmness ?? "any", (value) =>
      bench.store.change({ firmness: value === "any" ? null : value }),
    )}
    ${chips(say("place-skin"), "on-skin", skins, on_skin ?? "any", (value) =>
      bench.store.change({ on_skin: value === "any" ? null : value }),
    )}
  </section>`;
}
