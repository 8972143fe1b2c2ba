// What the first version of the page kept, in the words of today: states, which become links as soon as the
// engine has seen them.

import { type Fields, isFields } from "./fields.js";
import { isName, type Work } from "./kept-entries.js";
import { Unreadable } from "./kept-text.js";
import { say } from "./words.js";

const ONE_LINE = { format: "pot", storage_c: { coldest: 18, hottest: 25 }, skin_c: 32.5 };

/** Own ingredients, each as a recipe of one line. */
export function ownOfFirst(value: unknown): unknown[] {
  return listOf(value).map((item) => ({
    name: isFields(item) ? item.name : "",
    state: { ...ONE_LINE, recipe: [isFields(item) ? { ...item, percent: 100 } : item] },
  }));
}

/** The recipes of the shelf. */
export function shelfOfFirst(value: unknown): unknown[] {
  return listOf(value).map((one) =>
    isFields(one) && isFields(one.state) ? { ...one, state: stateOfFirst(one.state) } : one,
  );
}

/** What was on the bench, by its name, and the preferences that were kept with it. */
export function benchOfFirst(value: unknown): { work: Work; name: string; preferences: Fields } {
  if (!isFields(value) || value.version !== 1 || !isFields(value.state))
    throw new Unreadable(say("odd-no-recipe"));
  const preferences = isFields(value.preferences) ? value.preferences : {};
  // Pack and prices were once the reader's, and not the recipe's.
  const state = {
    pack: preferences.pack || null,
    prices: preferences.prices ?? {},
    ...stateOfFirst(value.state),
  };
  const link = typeof value.fragment === "string" && value.fragment ? { link: value.fragment } : {};
  const { name } = value.state;
  return { work: { state, ...link }, name: isName(name) ? name : say("unnamed"), preferences };
}

/** A state as the first version wrote it, in the words of today. */
function stateOfFirst(state: Fields): Fields {
  if (!isFields(state.limits)) return state;
  const { as_now, bounds, ...limits } = state.limits;
  const two = (one: unknown) => (Array.isArray(one) ? { min: one[0], max: one[1] } : one);
  return {
    ...(as_now === true ? { aim: "as-now" } : {}),
    ...state,
    limits: {
      ...limits,
      ...(isFields(bounds)
        ? { bounds: Object.fromEntries(Object.entries(bounds).map(([key, one]) => [key, two(one)])) }
        : bounds === undefined
          ? {}
          : { bounds }),
    },
  };
}

/** A list, if that is what it is. */
export function listOf(value: unknown): unknown[] {
  if (!Array.isArray(value)) throw new Unreadable(say("odd-no-list"));
  return value;
}
