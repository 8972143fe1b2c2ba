// What a rescue and two seasons are asked with.

import { html, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import type { Storage } from "../../contract.js";
import { degrees, shown, toUnit } from "../../numbers.js";
import { celsiusBox, massBox } from "../../parts/controls.js";
import { say } from "../../words.js";
import { crossed } from "../bench/wishes.js";
import type { Search } from "./state.js";

/** The batch on the bench that is to be rescued. */
export function madeBatch({ bench, now }: Search): TemplateResult {
  const { made } = bench.state;
  if (!made) return html``;
  const set = (part: Partial<typeof made>) => bench.store.change({ made: { ...made, ...part } }, "made");
  const { failure } = now;
  const complaint = failure?.at.startsWith("made") ? failure.message : null;
  return html`<div class="pair">
    ${massBox(bench, "made-grams", say("made"), made.grams, 10, null, (grams) => set({ grams }))}
    ${massBox(
      bench,
      "made-used",
      say("made-used"),
      made.used_grams,
      10,
      made.used_grams >= made.grams ? say("made-used-all") : complaint,
      (used_grams) => set({ used_grams }),
      0,
    )}
  </div>`;
}

/** The second of two seasons; the first is where the jar lives. */
export function otherSeason(bench: Bench): TemplateResult {
  const { other_storage_c: other, storage_c } = bench.state;
  if (!other) return html``;
  const unit = bench.store.preferences.temperature;
  const set = (part: Partial<Storage>) =>
    bench.store.change({ other_storage_c: { ...other, ...part } }, "other season");
  return html`<p class="help">${say("other-season", { from: shown(toUnit(storage_c.coldest, unit)), to: degrees(storage_c.hottest, unit) })}</p>
    <div class="pair">
      ${celsiusBox(bench, "other-coldest", say("other-coldest"), other.coldest, null, (coldest) => set({ coldest }))}
      ${celsiusBox(bench, "other-hottest", say("other-hottest"), other.hottest, crossed(other), (hottest) => set({ hottest }))}
    </div>`;
}
