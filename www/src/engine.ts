// The engine in a worker. Every request has an id, and the worker has one at a time: on a channel the latest
// wins, and what it overtakes is dropped before the worker has seen it. Cancelling ends the worker, and the
// next request starts another from what is already compiled. So does a worker that ends by itself, or says
// nothing for too long.

import type { Answers, Asked, Failure, Progress, Question, Reply } from "./contract.js";
import { say } from "./words.js";
import type { FromWorker, ToWorker } from "./worker.js";

/** What is wrong with a request, for the reader. That a value is of another kind than its field is the engine's word to programs. */
export function inWords({ kind, at, message }: Failure): string {
  if (kind !== "malformed") return message;
  const place = at.replace(/^state\./, "");
  const line = /^recipe\[(\d+)\]/.exec(place);
  return line
    ? say("malformed-line", { line: Number(line[1]) + 1 })
    : say("malformed", { part: place.split(/[.[]/)[0] ?? "" });
}

/** What the engine said is wrong with a request. */
export class EngineError extends Error {
  constructor(readonly failure: Failure) {
    super(inWords(failure));
  }
}

/** A newer request on the same channel, or a cancel, made this one moot. */
export class Superseded extends Error {}

/** There is no engine to ask. */
export class Away extends Error {
  constructor(readonly why: "not-fetched" | "not-here" | "stopped") {
    super(why);
  }
}

/** Hears how far a long answer has come. */
export type Report = (progress: Progress) => void;

interface Pending {
  channel: string;
  message: { ticket: number; request: object; reporting: boolean };
  resolve(answer: unknown): void;
  reject(reason: Error): void;
  report?: Report | undefined;
  /** How often a worker was lost over it. */
  lost: number;
}

/** A question over which so many workers were lost is not put to another. */
const MOST_LOST = 2;
/** After its patience a worker has so long to answer yet, ms: a device that slept lets the first of two timers run out at once. */
const GRACE = 1500;

export class Engine {
  #worker: Worker | null = null;
  /** The worker that was handed the engine. */
  #handed: Worker | null = null;
  /** In the order in which they were asked. */
  readonly #pending = new Map<number, Pending>();
  /** What the worker has been asked and has not answered; it may have been dropped since. */
  #working: number | null = null;
  #starting = false;
  #watch = 0;
  #next = 1;

  /** A worker that says nothing for as long as `patience` (ms) is taken for lost. */
  constructor(
    private readonly start: () => Worker,
    private readonly compile: () => Promise<WebAssembly.Module>,
    private readonly patience: number,
  ) {}

  /** Fetches and starts the worker while the engine is still being compiled. */
  warm(): void {
    try {
      this.#begin();
    } catch {
      // Whoever asks first is told.
      return;
    }
    this.compile().then(
      (module) => this.#hand(module),
      () => {},
    );
  }

  /** Asks one question. An earlier unanswered one on the same channel is rejected with `Superseded`. */
  async ask<Q extends Question>(
    ask: Q,
    request: Asked<Q>,
    channel: string = ask,
    report?: Report,
  ): Promise<Answers[Q]> {
    this.drop(channel);
    const ticket = this.#next++;
    const message = { ticket, request: { ...request, ask }, reporting: report !== undefined };
    const answer = new Promise<unknown>((resolve, reject) => {
      this.#pending.set(ticket, { channel, message, resolve, reject, report, lost: 0 });
    });
    void this.#go();
    return (await answer) as Answers[Q];
  }

  /** Forgets what is under way on a channel. */
  drop(channel: string): void {
    for (const [ticket, pending] of this.#pending) {
      if (pending.channel === channel) this.#reject(ticket, new Superseded());
    }
  }

  /** Drops what is under way on a channel, or everything, at once: the worker is ended. What else it had is put to another. */
  cancel(channel?: string): void {
    this.#end();
    for (const [ticket, pending] of this.#pending) {
      if (channel === undefined || pending.channel === channel) this.#reject(ticket, new Superseded());
    }
    void this.#go();
  }

  #begin(): Worker {
    if (this.#worker) return this.#worker;
    const worker = this.start();
    worker.onmessage = (event: MessageEvent<FromWorker>) => this.#receive(event.data);
    worker.onerror = (event) => {
      event.preventDefault();
      if (this.#worker === worker) this.#lost();
    };
    this.#worker = worker;
    return worker;
  }

  /** The worker with the engine in it. */
  #hand(module: WebAssembly.Module): Worker {
    const worker = this.#begin();
    if (this.#handed !== worker) worker.postMessage({ module } satisfies ToWorker);
    this.#handed = worker;
    return worker;
  }

  /** Puts the next question to the worker, once it has answered the last. */
  async #go(): Promise<void> {
    if (this.#starting || this.#working !== null || !this.#pending.size) return;
    this.#starting = true;
    try {
      // It starts while the engine is being compiled.
      this.#begin();
      const worker = this.#hand(await this.compile());
      // By now some of them may be moot.
      const [next] = this.#pending.values();
      if (!next) return;
      this.#working = next.message.ticket;
      this.#await();
      worker.postMessage(next.message satisfies ToWorker);
    } catch (reason) {
      const away = reason instanceof Away ? reason : new Away("stopped");
      for (const ticket of this.#pending.keys()) this.#reject(ticket, away);
    } finally {
      this.#starting = false;
    }
  }

  #await(): void {
    clearTimeout(this.#watch);
    this.#watch = setTimeout(() => {
      this.#watch = setTimeout(() => this.#lost(), GRACE);
    }, this.patience);
  }

  #end(): void {
    clearTimeout(this.#watch);
    this.#worker?.terminate();
    this.#worker = null;
    this.#working = null;
  }

  /** The worker ended, or does not answer. Another is asked what it had. */
  #lost(): void {
    const pending = this.#pending.get(this.#working ?? 0);
    this.#end();
    if (pending && ++pending.lost >= MOST_LOST) this.#reject(pending.message.ticket, new Away("stopped"));
    void this.#go();
  }

  #receive(message: FromWorker): void {
    const pending = this.#pending.get(message.ticket);
    if ("progress" in message) {
      if (message.ticket === this.#working) this.#await();
      pending?.report?.(message.progress as Progress);
      return;
    }
    if (message.ticket !== this.#working) return;
    clearTimeout(this.#watch);
    this.#working = null;
    if (pending) {
      this.#pending.delete(message.ticket);
      const reply = message.reply as Reply;
      if ("answer" in reply) pending.resolve(reply.answer);
      else pending.reject(new EngineError(reply.error));
    }
    void this.#go();
  }

  #reject(ticket: number, reason: Error): void {
    const pending = this.#pending.get(ticket);
    this.#pending.delete(ticket);
    pending?.reject(reason);
  }
}
