/** How this build delivers the engine and its worker: as files beside the page, or inside the page itself. */

import { Away } from "./engine.js";

const SERVICE_WORKER_URL = "service-worker.js";

const policy = window.trustedTypes?.createPolicy("meltmargin", {
  createScriptURL: (url: string) => {
    const ours = SINGLE_FILE ? url.startsWith("blob:") : [WORKER_URL, SERVICE_WORKER_URL].includes(url);
    if (!ours) throw new TypeError(`not a script of this page: ${url}`);
    return url;
  },
});

function embedded(id: string): string {
  const text = document.getElementById(id)?.textContent;
  if (!text) throw new Error(`the page is incomplete: ${id} is missing`);
  return text;
}

/** Compiles the engine once for all workers; where that fails, whoever asks next tries again. */
export function engineCompiler(): () => Promise<WebAssembly.Module> {
  let compiled: Promise<WebAssembly.Module> | null = null;
  let failed = false;
  return () => {
    compiled ??= (SINGLE_FILE ? compileEmbedded() : compileFetched(failed)).catch(() => {
      compiled = null;
      failed = true;
      throw new Away(SINGLE_FILE ? "not-here" : "not-fetched");
    });
    return compiled;
  };
}

/** How long a host may say nothing, and how long it may take to send the engine, ms: some 4 kB a second at least. */
const ANSWERS_WITHIN = 20_000;
const SENDS_WITHIN = 120_000;

/** What came before was no engine: it is not to come from the browser's cache again. */
async function compileFetched(anew: boolean): Promise<WebAssembly.Module> {
  const hung = new AbortController();
  const after = (ms: number) => setTimeout(() => hung.abort(), ms);
  let limit = after(ANSWERS_WITHIN);
  try {
    const response = await fetch(ENGINE_URL, { signal: hung.signal, ...(anew ? { cache: "reload" } : {}) });
    clearTimeout(limit);
    limit = after(SENDS_WITHIN);
    if (!response.ok) throw new Error(`the host answers ${response.status}`);
    // As it comes in, if the host says what it is; many plain hosts do not.
    return response.headers.get("content-type")?.startsWith("application/wasm")
      ? await WebAssembly.compileStreaming(response)
      : await WebAssembly.compile(await response.arrayBuffer());
  } finally {
    clearTimeout(limit);
  }
}

async function compileEmbedded(): Promise<WebAssembly.Module> {
  const packed = Uint8Array.from(atob(embedded("engine-wasm-gz")), (letter) => letter.charCodeAt(0));
  const bytes = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
  return WebAssembly.compile(await new Response(bytes).arrayBuffer());
}

function trusted(url: string): string {
  // The DOM's types do not know that a TrustedScriptURL may stand where a URL does.
  return policy ? (policy.createScriptURL(url) as unknown as string) : url;
}

/** Starts a worker; throws where the browser refuses one. */
export function startWorker(): Worker {
  const url = SINGLE_FILE
    ? URL.createObjectURL(new Blob([embedded("engine-worker")], { type: "text/javascript" }))
    : WORKER_URL;
  return new Worker(trusted(url), { name: "engine" });
}

/** Keeps the hosted page on the device; nothing where there is no such thing, as in the single file. */
export async function registerServiceWorker(): Promise<ServiceWorkerRegistration | undefined> {
  if (SINGLE_FILE || !("serviceWorker" in navigator)) return undefined;
  return navigator.serviceWorker.register(trusted(SERVICE_WORKER_URL));
}
