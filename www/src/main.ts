import { compileEngine, registerServiceWorker, startWorker } from "./delivery.js";
import type { FromWorker, ToWorker } from "./worker.js";

const status = document.getElementById("status");
const worker = startWorker();
worker.addEventListener("message", ({ data }: MessageEvent<FromWorker>) => {
  const { answer } = data.reply as { answer: unknown[] };
  if (status) status.textContent = `The engine knows ${answer.length} ingredients.`;
});
worker.postMessage({ module: await compileEngine() } satisfies ToWorker);
worker.postMessage({ ticket: 1, request: { ask: "ingredients" } } satisfies ToWorker);

await registerServiceWorker();
