import { render } from "lit/html.js";

import { Bench } from "./bench.js";
import { engineCompiler, registerServiceWorker, startWorker } from "./delivery.js";
import { Away, Engine, Superseded } from "./engine.js";
import { fallen } from "./fallen.js";
import { openPaste } from "./features/bench/paste.js";
import { Look } from "./features/bench/state.js";
import { Heat } from "./features/heat/state.js";
import { Make } from "./features/make/state.js";
import { Notebook } from "./features/notebook/state.js";
import { Live } from "./features/rework/live.js";
import { Search } from "./features/rework/state.js";
import { Series } from "./features/series/state.js";
import { Arrivals } from "./features/shelf/arrivals.js";
import { openFile } from "./features/shelf/shelf.js";
import { Shelf } from "./features/shelf/state.js";
import { Teach } from "./features/teach/state.js";
import { Trouble } from "./features/trouble/state.js";
import { backupFile } from "./files.js";
import { Kept } from "./kept.js";
import { type Parts, page } from "./page.js";
import { repeatHeld } from "./parts/hold.js";
import { share, titleOf } from "./sharing.js";
import { untouched } from "./state.js";
import { Stations } from "./stations.js";
import { Store } from "./store.js";
import { say } from "./words.js";

const root = document.getElementById("page");
if (!root) throw new Error("the page has no place to draw in");
root.textContent = "";

/** Whether something failed without which there is no page. */
let fell = false;

const compile = engineCompiler();
/** How long an engine may say nothing, ms: what is typed is answered in hundredths of that, a search reports on its way. */
const PATIENCE = { quick: 4000, searcher: 60_000 };
const quick = new Engine(startWorker, compile, PATIENCE.quick);
quick.warm();
const kept = new Kept();
const store = new Store(kept);
const parts = made(compose);
const { bench, stations } = parts;
const arrivals = new Arrivals(bench, stations, parts.notebook);

function compose(): Parts {
  const bench = new Bench(store, quick, new Engine(startWorker, compile, PATIENCE.searcher), draw);
  bench.share = (other) => share(bench, other);
  const stations = new Stations(bench);
  const teach = new Teach(bench);
  const heat = new Heat(bench);
  stations.arriving.set("heat", () => heat.unfold());
  stations.arriving.set("teach", () => teach.unfold());
  const search = new Search(bench);
  const live = new Live(search, new Engine(startWorker, compile, PATIENCE.searcher));
  const look = new Look(bench);
  look.hand = live;
  const shelf = new Shelf(bench);
  bench.openFile = (file) => openFile(shelf, file);
  look.own.asRecipe = (text) => {
    void look.pasted.read(text);
    openPaste(look.pasted);
  };
  const notebook = new Notebook(bench, (state) => search.request(state));
  return {
    bench,
    look,
    search,
    live,
    make: new Make(bench),
    heat,
    trouble: new Trouble(bench),
    notebook,
    teach,
    series: new Series(bench, notebook),
    shelf,
    stations,
  };
}

/** What cannot be made cannot be drawn either. */
function made<T>(make: () => T): T {
  try {
    return make();
  } catch (reason) {
    fall();
    throw reason;
  }
}

function draw(): void {
  if (fell || !root) return;
  try {
    render(page(parts), root);
    document.title = titleOf(parts.bench);
  } catch (reason) {
    fall();
    // The browser's console says to whoever mends it what it was.
    reportError(reason);
  }
}

/** Says so in the place of the page, and leads out of it. */
function fall(): void {
  fell = true;
  fallen([
    { label: say("save-what-was-here"), run: () => backupFile(store) },
    // Where the bench holds the page's own example, it is something else of what is kept that cannot be
    // drawn.
    { label: say("start-over"), run: () => startOver(untouched(store.state)) },
  ]);
}

/** What was on the bench goes aside, or all that is kept, and the page begins as if it had never been here. */
function startOver(all = false): void {
  store.close();
  kept.clear(say("aside-undrawn"), all);
  history.replaceState(null, "", location.pathname + location.search);
  location.reload();
}

/** What fails in a handler is told, with the same ways out: what it was to do may be half done. */
function failed(reason: unknown): void {
  if (fell || reason instanceof Superseded) return;
  if (reason instanceof Away) {
    bench.report(reason);
    return;
  }
  bench.say({
    text: say("went-wrong"),
    tone: "problem",
    actions: [
      { label: say("save-everything"), run: () => backupFile(store) },
      { label: say("start-over"), run: () => startOver() },
    ],
  });
}

addEventListener("error", (event) => failed(event.error ?? event.message));
addEventListener("unhandledrejection", (event) => failed(event.reason));
matchMedia("print").addEventListener("change", ({ matches }) => {
  parts.make.onPaper = matches;
  bench.drawNow();
});
// What could not be had is asked for again when the network is back; and while the page can do nothing, at
// any key or touch.
addEventListener("online", () => bench.away && bench.again());
for (const sign of ["keydown", "pointerdown"]) {
  addEventListener(sign, () => bench.opening && bench.away && bench.again());
}
addEventListener("keydown", (event) => {
  const back = event.key.toLowerCase() === "z";
  const on = (back && event.shiftKey) || event.key.toLowerCase() === "y";
  if (!(event.ctrlKey || event.metaKey) || event.altKey || !(back || on) || bench.opening || bench.sheet)
    return;
  // Where text is written, the keys are the text's; a box of one number is a part of the bench.
  const place = event.target as Element;
  if (place.matches("textarea, input:not([type=radio], [type=checkbox], .field > input)")) return;
  event.preventDefault();
  if (on) bench.redo();
  else bench.undo();
});
addEventListener("pointerdown", (event) => bench.touch(event.clientY), true);
addEventListener("hashchange", () => void arrivals.follow(location.hash));
repeatHeld(root);
void arrivals.begin(location.hash);

addEventListener("beforeinstallprompt", (event) => {
  event.preventDefault();
  parts.shelf.install = () => void (event as Event & { prompt(): Promise<void> }).prompt();
  bench.refresh();
});

// Keeping the page on the device may wait until there is a verdict.
await new Promise<void>((resolve) => bench.follow(resolve));
// A new version waits until the reader agrees; then the page starts again with it, with everything still on
// the bench.
const registration = await registerServiceWorker().catch(() => undefined);
let taking = false;
const offer = (waiting: ServiceWorker) =>
  bench.say({
    text: say("newer-version"),
    tone: "plain",
    stays: true,
    actions: [
      {
        label: say("update"),
        run: () => {
          taking = true;
          waiting.postMessage("take-over");
        },
      },
    ],
  });
if (registration) {
  if (registration.waiting) offer(registration.waiting);
  registration.addEventListener("updatefound", () => {
    const coming = registration.installing;
    coming?.addEventListener("statechange", () => {
      if (coming.state === "installed" && navigator.serviceWorker.controller) offer(coming);
    });
  });
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (taking) location.reload();
  });
}
