// At the first visit: ways on from the worked example, for what people come with.

import { html, nothing, type TemplateResult } from "lit/html.js";
import { untouched } from "../../state.js";
import type { Stations } from "../../stations.js";
import { say } from "../../words.js";
import type { Teach } from "../teach/state.js";
import type { Trouble } from "../trouble/state.js";
import { openPaste } from "./paste.js";
import type { Look } from "./state.js";

export function doors(
  { bench, pasted }: Look,
  trouble: Trouble,
  teach: Teach,
  stations: Stations,
): TemplateResult | typeof nothing {
  if (bench.opening) return nothing;
  // What they lead to is no longer what one comes for; their place stays, so that nothing moves under the hand that changes it.
  if (!untouched(bench.state)) return html`<p class="help drag-hint">${say("drag-hint")}</p>`;
  const melted = () => {
    trouble.seen("turns-to-oil");
    stations.go("trouble");
  };
  const show = () => {
    if (!teach.picture) teach.toggle();
    stations.go("teach");
  };
  const door = (words: string, open: () => void) =>
    html`<button type="button" class="button" @click=${open}>${words}</button>`;
  return html`<div class="doors" role="group" aria-label=${say("doors")}>
    ${door(say("door-recipe"), () => openPaste(pasted))}
    ${door(say("door-melted"), melted)}
    ${door(say("door-class"), show)}
  </div>`;
}
