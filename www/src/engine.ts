// The engine in a worker. Every request has an id; on a channel the latest request wins; cancelling ends the worker,
// and the next request starts another from what is already compiled.

import type { Answers, Failure, Progress, Question, Reply } from "./contract.js";
import type { FromWorker, ToWorker } from "./worker.js";

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

/** Hears how far a long answer has come. */
export type Report = (progress: Progress) => void;

/** A request as the worker is sent it. */
type Asked = { ticket: number; request: object; reporting: boolean };

export class Engine {
  #worker: Worker | null = null;
  /** The worker that was handed the engine. */
  #handed: Worker | null = null;
  #pending = new Map<number, Pending>();
  #next = 1;

  constructor(
    private readonly start: () => Worker,
    private readonly compile: () => Promise<WebAssembly.Module>,
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
    this.#send({ ticket: id, request: { ...request, ask }, reporting });
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

  #send(message: Asked): void {
    this.#put(message).catch((reason: Error) => this.#failAll(reason));
  }

  async #put(message: Asked): Promise<void> {
    // It starts while the engine is being compiled.
    this.#begin();
    const module = await this.compile();
    const pending = this.#pending.get(message.ticket);
    if (!pending) return;
    pending.again = () => this.#send(message);
    this.#hand(module).postMessage(message satisfies ToWorker);
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
  }

  #failAll(reason: Error): void {
    const all = [...this.#pending.values()];
    this.#pending.clear();
    for (const pending of all) pending.reject(reason);
  }
}
