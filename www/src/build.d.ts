/** Set by the packager when it bundles; see `pkg-config/src/bundle.rs`. */

/** Whether this is the self-contained HTML file, which has its engine and worker inside. */
declare const SINGLE_FILE: boolean;
/** Where the engine is, relative to the page; empty in the single file. */
declare const ENGINE_URL: string;
/** Where the worker is, relative to the page; empty in the single file. */
declare const WORKER_URL: string;
/** Where the page is hosted, for who opens the single file; empty where that was not said at build. */
declare const HOSTED_AT: string;
/** Names this build: changes with any file of it. Only in the service worker. */
declare const BUILD_ID: string;
/** Everything the page needs offline, relative to the page. Only in the service worker. */
declare const BUILD_FILES: readonly string[];

/** How things are said in one language, as text. */
declare module "*.ftl" {
  const words: string;
  export default words;
}
