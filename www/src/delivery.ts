/** How this build delivers the engine and its worker: as files beside the page, or inside the page itself. */

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

const NOT_FETCHED =
  "The engine of this page is not on your device yet and could not be fetched. Go where there is a signal, then try again.";

/** Compiles the engine once for all workers; where that fails, whoever asks next tries again. */
export function engineCompiler(): () => Promise<WebAssembly.Module> {
  let compiled: Promise<WebAssembly.Module> | null = null;
  return () => {
    compiled ??= (SINGLE_FILE ? compileEmbedded() : compileFetched()).catch((reason) => {
      compiled = null;
      throw reason;
    });
    return compiled;
  };
}

async function compileFetched(): Promise<WebAssembly.Module> {
  const response = await fetch(ENGINE_URL).catch(() => null);
  if (!response?.ok) throw new Error(NOT_FETCHED);
  return WebAssembly.compileStreaming(response);
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
