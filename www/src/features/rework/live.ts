// Rework by dragging: while the hottest storage is moved by hand, the smallest change that holds there comes
// along. A worker of its own answers, one question at a time: what a drag asks never waits for another
// search, and ends none.

import { type Engine, EngineError, Superseded } from "../../engine.js";
import { addsUp } from "../../recipe.js";
import type { State } from "../../state.js";
import { type Answer, aimOf, asNow, plainAnswer, type Search } from "./state.js";

/** After so long without a move the hand rests, ms. */
const RESTS_AFTER = 350;
/** What takes longer is told to be on its way, ms. */
const LATE = 150;

/** What would hold where the hottest storage is. */
export interface Held {
  /** The state that it is for. */
  asked: State;
  answers: Answer[];
  examined: number;
  /** Why there is none. */
  failure: string | null;
}

export class Live {
  /** What was answered last. */
  now: Held | null = null;
  /** Whether the hand that moves the handle has not come to rest yet. */
  moving = false;
  /** Whether the answer keeps one waiting. */
  late = false;
  /** Whether it was waved away; the next move brings it back. */
  closed = true;
  /** What is being worked out. */
  #asking: State | null = null;
  #rests = 0;
  #lateness = 0;

  constructor(
    readonly search: Search,
    private readonly engine: Engine,
  ) {
    search.bench.store.listen(() => this.#changed());
  }

  /** A hand is at the handle: the worker starts before the first move. */
  begin(): void {
    this.engine.warm();
  }

  /** The handle has moved. */
  move(): void {
    const { bench } = this.search;
    // Of a rescue, two seasons or a butter that is to be as now, the hottest storage alone says too little.
    if (aimOf(bench.state) !== "rework" || asNow(bench.state)) return;
    // What does not add up is said elsewhere.
    if (!addsUp(bench.state.recipe)) return;
    this.moving = true;
    this.closed = false;
    clearTimeout(this.#rests);
    this.#rests = window.setTimeout(() => this.rest(), RESTS_AFTER);
    // What is being worked out is nearly there; then the newest is asked, and what lay between never is.
    if (!this.#asking) void this.#ask();
    bench.refresh();
  }

  /** The hand rests: what holds here is worked out, however long that takes. */
  rest(): void {
    if (!this.moving) return;
    const { bench } = this.search;
    clearTimeout(this.#rests);
    this.moving = false;
    if (this.#asking && this.#asking !== bench.state) this.#stop();
    if (!this.#asking && this.now?.asked !== bench.state) void this.#ask();
    bench.refresh();
  }

  /** Whether there is something to show: only for what is on the bench, or while that changes under the hand. */
  get shown(): boolean {
    const { state } = this.search.bench;
    return !this.closed && (this.moving || this.#asking === state || this.now?.asked === state);
  }

  /** What is told: an answer of a moment ago too, unless the newest keeps one waiting. */
  get told(): Held | null {
    return this.late && !this.usable ? null : this.now;
  }

  /** What may be used: an answer for what is on the bench. */
  get usable(): boolean {
    return this.now?.asked === this.search.bench.state;
  }

  /** Puts the answer on the bench, as if it had been asked for among the reworks: the others stay there. */
  use(): void {
    const { now } = this;
    if (!now || !this.usable) return;
    this.close();
    this.search.adopt(now.asked, now.answers, now.examined);
    this.search.apply(0);
  }

  /** Waves it away, and stops what is being worked out. */
  close(): void {
    clearTimeout(this.#rests);
    this.moving = false;
    this.closed = true;
    this.#stop();
    this.search.bench.refresh();
  }

  /** What was asked for another bench than this is moot. */
  #changed(): void {
    if (!this.moving && this.#asking && this.#asking !== this.search.bench.state) this.#stop();
  }

  #stop(): void {
    if (this.#asking) this.engine.cancel();
    this.#answered();
  }

  #answered(): void {
    clearTimeout(this.#lateness);
    this.#asking = null;
    this.late = false;
  }

  async #ask(): Promise<void> {
    const { search } = this;
    const { bench } = search;
    const asked = bench.state;
    this.#asking = asked;
    this.#lateness = window.setTimeout(() => {
      this.late = true;
      bench.refresh();
    }, LATE);
    try {
      const { proposals, examined } = await this.engine.ask("rework", search.request(asked), "live");
      const answers = proposals.map((one): Answer => ({ ...plainAnswer(asked.storage_c), ...one }));
      this.now = { asked, answers, examined, failure: null };
    } catch (reason) {
      // Whoever stopped it has asked anew.
      if (reason instanceof Superseded) return;
      this.now = {
        asked,
        answers: [],
        examined: 0,
        failure: reason instanceof EngineError ? reason.failure.message : null,
      };
      if (!(reason instanceof EngineError)) bench.report(reason);
    }
    if (this.#asking !== asked) return;
    this.#answered();
    if (this.moving && bench.state !== asked) void this.#ask();
    bench.refresh();
  }
}
