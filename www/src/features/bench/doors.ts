// At the first visit: ways on from the worked example, for what people come with.

import { html, nothing, type TemplateResult } from "lit/html.js";
import { untouched } from "../../state.js";
import { say } from "../../words.js";
import { openPaste } from "./paste.js";
import type { Look } from "./state.js";

/** Where the doors lead that are not to the bench itself. */
export interface Ways {
  /** To what is to be done with a butter that melted. */
  toTrouble(): void;
  /** To the picture for a class. */
  toClass(): void;
}

export function doors({ bench, pasted }: Look, ways: Ways): TemplateResult | typeof nothing {
  if (bench.opening) return nothing;
  // What they lead to is no longer what one comes for; their place stays, so that nothing moves under the hand that changes it.
  if (!untouched(bench.state)) return html`<p class="help drag-hint">${say("drag-hint")}</p>`;
  const door = (words: string, open: () => void) =>
    html`<button type="button" class="button" @click=${open}>${words}</button>`;
  return html`<div class="doors" role="group" aria-label=${say("doors")}>
    ${door(say("door-recipe"), () => openPaste(pasted))}
    ${door(say("door-melted"), () => ways.toTrouble())}
    ${door(say("door-class"), () => ways.toClass())}
  </div>`;
}
