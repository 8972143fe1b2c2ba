// A limit in the way: how it is called, and a state without it.

import type { Bench } from "../../bench.js";
import type { LimitInTheWay } from "../../contract.js";
import { keyed, type Limits } from "../../state.js";
import { say } from "../../words.js";

export type Lifted = Omit<LimitInTheWay, "proposal">;

/** What would have to be, for the recipe beside it. */
export function liftedInWords(bench: Bench, { limit, key, to = 0 }: Lifted): string {
  const name = key === undefined ? "" : bench.nameOf(key);
  switch (limit) {
    case "wax":
      return say("lifted-wax", { percent: to });
    case "fatty-acid":
      return say("lifted-fatty-acid", { percent: to });
    case "fatty-alcohol":
      return say("lifted-fatty-alcohol", { percent: to });
    case "powder":
      return say("lifted-powder", { percent: to });
    case "changes":
      return say("lifted-changes", { count: to });
    case "keep-lead":
      return say("lifted-lead");
    case "locked":
      return say("lifted-locked", { name });
    case "bounds":
      return say("lifted-bounds", { name });
    case "pantry":
      return say("lifted-pantry");
    case "step":
      return say("lifted-step", { percent: to });
  }
}

/** The limits without it. What came from a fuller pantry is a line of the recipe once it is used, and needs none. */
export function lift(limits: Limits, { limit, key = "", to }: Lifted): Limits {
  switch (limit) {
    case "wax":
      return { ...limits, wax_percent: to ?? null };
    case "fatty-acid":
      return { ...limits, fatty_acid_percent: to ?? null };
    case "fatty-alcohol":
      return { ...limits, fatty_alcohol_percent: to ?? null };
    case "powder":
      return { ...limits, powder_percent: to ?? null };
    case "changes":
      return { ...limits, changes: to ?? limits.changes };
    case "keep-lead":
      return { ...limits, keep_lead: false };
    case "locked":
      return { ...limits, locked: limits.locked.filter((locked) => locked !== key) };
    case "bounds":
      return { ...limits, bounds: keyed(limits.bounds, key, null) };
    case "pantry":
      return limits;
    case "step":
      return { ...limits, step_percent: to ?? limits.step_percent };
  }
}
