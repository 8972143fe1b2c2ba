// How surely a butter is to hold in the heat.

import type { TemplateResult } from "lit/html.js";
import type { Bench } from "../../bench.js";
import type { LadderRung, Surety } from "../../contract.js";
import { setLimits } from "../../limits.js";
import { chips, worded } from "../../parts/controls.js";
import { say } from "../../words.js";

export const WORDS: Record<Surety, string> = {
  even: say("surety-even"),
  likely: say("surety-likely"),
  sure: say("surety-sure"),
};

/** The choice between them: what decides most of how much must change. */
export function surety(bench: Bench): TemplateResult {
  return chips<Surety>(say("surety"), "surety", worded(WORDS), bench.state.limits.surety, (value) =>
    setLimits(bench.store, { surety: value }),
  );
}

/** The rungs of a question, once they are asked for. */
export interface Ladder {
  /** The state of the bench that they are of. */
  asked: object;
  rungs: LadderRung[] | null;
}
