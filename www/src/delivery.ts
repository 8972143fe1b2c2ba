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

/** The compiled engine. A worker that is replaced is handed the same modules. */
export interface Compiled {
  /** What answers a first visit; the whole in the single file. */
  first: Promise<WebAssembly.Module>;
  /** What the other questions need on top, fetched when it is first asked for; nothing in the single file. */
  rest(): Promise<WebAssembly.Module | null>;
}

/** Compiles the engine once. */
export function compileEngine(): Compiled {
  if (SINGLE_FILE) return { first: compileEmbedded(), rest: async () => null };
  let rest: Promise<WebAssembly.Module> | null = null;
  return {
    first: WebAssembly.compileStreaming(fetch(ENGINE_URL)),
    rest() {
      rest ??= WebAssembly.compileStreaming(fetch(REST_URL)).catch((reason) => {
        // Who asks again tries again.
        rest = null;
        throw reason;
      });
      return rest;
    },
  };
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
