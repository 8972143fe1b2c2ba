// Where each figure comes from, and how far to trust it.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { App } from "../app.js";
import { degrees, shown } from "../numbers.js";

export function sources(app: App): TemplateResult {
  const unit = app.store.preferences.temperature;
  const kinds: Record<string, string> = {
    slip: "slip point",
    "melting-range": "melting range",
    congealing: "congealing",
  };
  return html`<details class="card fold">
    <summary><h2>Where do these figures come from?</h2></summary>
    <h3>Predicted</h3>
    <dl class="origins">
      <dt>Solid fat content, slip and clear point</dt>
      <dd>The state of lowest energy of everything in the recipe, melted and crystallised, at each temperature: from published
        melting points and heats of fusion of the molecules it is made of. Each answer carries a certificate; the largest error
        left in this one is ${app.behaviour ? app.behaviour.certificate.toExponential(0) : "…"}. Against published curves of single
        fats and blends it errs by several points of solids; the project's tests print the misfit, fat by fat.</dd>
      <dt>Firmness words</dt>
      <dd>From solids, with wax crystals counted several times (Hwang 2012: 1 to 6 % sunflower wax is as firm as 18 to 30 % hardened
        soybean oil). The limits are those of margarine and chocolate practice; those between are ours.</dd>
      <dt>On skin</dt>
      <dd>Skin surface 32 to 34 °C. Up to 10 % left solid counts as melting: an assumption, no published limit was found.
        ${app.behaviour?.dab.assumed ?? ""}</dd>
      <dt>Keeps its shape</dt>
      <dd>Whipped from 10 % structure (studies of whipped oils, low confidence), pot 8 %, bar 35 % (common practice, no source).</dd>
    </dl>
    <h3>Of the ingredients</h3>
    <dl class="origins">
      ${app.state.recipe.map((item) => {
        const known = app.catalogue.get(item.id ?? "");
        if (!known) return nothing;
        const [low, high] = known.melting_c ?? [null, null];
        return html`<dt>${known.name}</dt><dd>
          ${
            low !== null && high !== null
              ? html`Supplier or pharmacopoeia, ${kinds[known.melting_kind] ?? known.melting_kind}:
                ${low === high ? "" : `${shown(low)} to `}${degrees(high, "C")}${unit === "F" ? ` (${degrees(low, "F")} to ${degrees(high, "F")})` : ""}. `
              : nothing
          }
          ${known.use_ceiling_percent ? `Usually at most ${shown(known.use_ceiling_percent)} %. ` : nothing}${known.note}</dd>`;
      })}
    </dl>
  </details>`;
}
