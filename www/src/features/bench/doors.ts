// Ways on from the bench: at the first visit from the worked example, for what people come with; then to what
// is done next.

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
  /** To how what is on the bench is made. */
  toMake(): void;
}

export function doors({ bench, pasted }: Look, ways: Ways): TemplateResult | typeof nothing {
  if (bench.opening) return nothing;
  const door = (words: string, open: () => void) =>
    html`<button type="button" class="button" @click=${open}>${words}</button>`;
  // What came of the first door leads on; of one height, so that nothing moves under the hand that changes
  // it.
  const begun = !untouched(bench.state);
  return html`<div class="doors" role="group" aria-label=${say(begun ? "doors-on" : "doors")}>
    ${door(say("door-recipe"), () => openPaste(pasted))}
    ${door(say("door-melted"), () => ways.toTrouble())}
    ${begun ? door(say("door-make"), () => ways.toMake()) : door(say("door-class"), () => ways.toClass())}
  </div>`;
}
