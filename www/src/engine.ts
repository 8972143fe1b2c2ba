// The engine in a worker. Every request has an id; on a channel the latest request wins; cancelling ends the worker,
// and the next request starts another from what is already compiled. The engine comes in two parts: the first answers a
// first visit, and the rest is fetched after the first answer, or with the first question that needs it.

import type { Answers, Failure, Progress, Question, Reply } from "./contract.js";
import type { Compiled } from "./delivery.js";
import type { FromWorker, ToWorker } from "./worker.js";

/** What the first part answers: `FIRST` in `src/contract/mod.rs`. */
const FIRST: ReadonlySet<Question> = new Set(["behave", "open-link", "ingredients", "scale", "symptom"]);

/** What the engine said is wrong with a request. */
export class EngineError extends Error {
  constructor(readonly failure: Failure) {
    super(failure.message);
  }
}

/** A newer request on the same channel, or a cancel, made this one moot. */
export class Superseded extends Error {}

interface Pending {
  channel: string;
  resolve(answer: unknown): void;
  reject(reason: Error): void;
  report?: Report | undefined;
  /** Puts it to another worker, once it was put to one. */
  again?: () => void;
}

/** What is said where the first part of the engine is here and the rest cannot be had. */
const NOT_FETCHED =
  "Part of this page is not on your device yet and could not be fetched. Go where there is a signal, then try again.";

/** Hears how far a long answer has come. */
export type Report = (progress: Progress) => void;

export class Engine {
  #worker: Worker | null = null;
  /** The worker that was handed the rest of the engine. */
  #complete: Worker | null = null;
  /** Until the rest was asked for once: where it cannot be had, not every key asks again. */
  #looksAhead = true;
  #pending = new Map<number, Pending>();
  #next = 1;

  constructor(
    private readonly start: () => Worker,
    private readonly compiled: Compiled,
  ) {}

  /** Fetches and starts the worker while the engine is still being compiled. */
  warm(): void {
    try {
      this.#begin();
    } catch {
      // Whoever asks first is told.
    }
  }

  /** Asks one question. An earlier unanswered one on the same channel is rejected with `Superseded`. */
  async ask<Q extends Question>(
    ask: Q,
    request: object = {},
    channel: string = ask,
    report?: Report,
  ): Promise<Answers[Q]> {
    this.drop(channel);
    const id = this.#next++;
    const answer = new Promise<unknown>((resolve, reject) => {
      this.#pending.set(id, { channel, resolve, reject, report });
    });
    const reporting = report !== undefined;
    this.#send(ask, { ticket: id, request: { ...request, ask }, reporting });
    return (await answer) as Answers[Q];
  }

  /** Forgets what is under way on a channel. */
  drop(channel: string): void {
    for (const [id, pending] of this.#pending) {
      if (pending.channel !== channel) continue;
      this.#pending.delete(id);
      pending.reject(new Superseded());
    }
  }

  /** Drops what is under way on a channel, or everything, at once: the worker is ended. What else it had is put to another. */
  cancel(channel?: string): void {
    this.#worker?.terminate();
    this.#worker = null;
    if (channel === undefined) this.#failAll(new Superseded());
    else this.drop(channel);
    for (const { again } of this.#pending.values()) again?.();
  }

  #begin(): Worker {
    if (this.#worker) return this.#worker;
    const worker = this.start();
    worker.onmessage = (event: MessageEvent<FromWorker>) => this.#receive(event.data);
    worker.onerror = (event) => {
      event.preventDefault();
      worker.terminate();
      if (this.#worker === worker) this.#worker = null;
      this.#failAll(new Error(event.message || "The engine stopped. Change something to start it again."));
    };
    // A failure to compile is told to whoever asks.
    this.compiled.first.then(
      (module) => worker.postMessage({ module } satisfies ToWorker),
      () => {},
    );
    this.#worker = worker;
    return worker;
  }

  #send(ask: Question, message: { ticket: number; request: object; reporting: boolean }): void {
    this.#put(ask, message).catch((reason: Error) => this.#failAll(reason));
  }

  async #put(ask: Question, message: { ticket: number; request: object; reporting: boolean }): Promise<void> {
    this.#begin();
    await this.compiled.first;
    let rest: WebAssembly.Module | null = null;
    if (!FIRST.has(ask)) {
      try {
        rest = await this.compiled.rest();
      } catch {
        this.#pending.get(message.ticket)?.reject(new Error(NOT_FETCHED));
        this.#pending.delete(message.ticket);
      }
    }
    const pending = this.#pending.get(message.ticket);
    if (!pending) return;
    pending.again = () => this.#send(ask, message);
    const worker = this.#begin();
    if (rest && this.#complete !== worker) {
      worker.postMessage({ rest } satisfies ToWorker);
      this.#complete = worker;
    }
    worker.postMessage(message satisfies ToWorker);
  }

  #receive(message: FromWorker): void {
    const pending = this.#pending.get(message.ticket);
    if (!pending) return;
    if ("progress" in message) {
      pending.report?.(message.progress as Progress);
      return;
    }
    this.#pending.delete(message.ticket);
    const reply = message.reply as Reply;
    if ("answer" in reply) pending.resolve(reply.answer);
    else pending.reject(new EngineError(reply.error));
    if (this.#looksAhead) {
      // The visitor has something to read: time to fetch what will be asked next. Who asks is told where that fails.
      this.#looksAhead = false;
      this.compiled.rest().catch(() => {});
    }
  }

  #failAll(reason: Error): void {
    const all = [...this.#pending.values()];
    this.#pending.clear();
    for (const pending of all) pending.reject(reason);
  }
}
