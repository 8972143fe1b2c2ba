// Links, which the engine writes and reads: they hold only what was checked.

import type { State as SentState } from "./contract.js";
import type { Engine } from "./engine.js";
import type { Work } from "./kept-entries.js";
import { held, type State, sent } from "./state.js";

/** A recipe that came in through the engine. */
export interface Opened {
  state: State;
  link: string;
  /** It was kept by a later version, with more in it than this one knows. */
  newer: boolean;
}

/** What was kept, through the engine's checks: whether it is a state, the engine says, as far as it knows it. */
export async function opened(engine: Engine, { link, state }: Work, channel = "open"): Promise<Opened> {
  const { fragment, newer } =
    state === undefined
      ? { fragment: link ?? "", newer: false }
      : await engine.ask("link", { state: state as SentState, may_be_newer: true }, channel);
  const answer = await engine.ask("open-link", { fragment }, channel);
  return { state: held(answer.state), link: fragment, newer };
}

/** The address that reopens a state. */
export async function addressOf(engine: Engine, state: State): Promise<string> {
  const { fragment } = await engine.ask("link", { state: sent(state) }, "share");
  // Nobody else has this file: where the page is hosted too, the link leads there.
  const here = new URL(location.protocol === "file:" && HOSTED_AT ? HOSTED_AT : location.href);
  here.hash = fragment;
  return here.href;
}
