import { render } from "lit/html.js";

import { App } from "./app.js";
import { engineCompiler, registerServiceWorker, startWorker } from "./delivery.js";
import { Engine } from "./engine.js";
import { Store } from "./store.js";
import { page } from "./view/page.js";

const root = document.getElementById("page");
if (!root) throw new Error("the page has no place to draw in");
root.textContent = "";

const compile = engineCompiler();
const quick = new Engine(startWorker, compile);
quick.warm();
const app = new App(new Store(), quick, new Engine(startWorker, compile), () => render(page(app), root));

matchMedia("print").addEventListener("change", () => app.drawNow());
addEventListener("resize", () => app.refresh());
addEventListener("hashchange", () => void app.openLink(location.hash));
void app.begin(location.hash);

addEventListener("beforeinstallprompt", (event) => {
  event.preventDefault();
  app.install = () => void (event as Event & { prompt(): Promise<void> }).prompt();
  app.refresh();
});

// A new version waits until the reader agrees; then the page starts again with it, with everything still on the bench.
const registration = await registerServiceWorker().catch(() => undefined);
let taking = false;
const offer = (waiting: ServiceWorker) =>
  app.say({
    text: "There is a newer version of this page.",
    tone: "plain",
    stays: true,
    action: {
      label: "Update",
      run: () => {
        taking = true;
        waiting.postMessage("take-over");
      },
    },
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
