import { render } from "lit";

import { App } from "./app.js";
import { compileEngine, registerServiceWorker, startWorker } from "./delivery.js";
import { Engine } from "./engine.js";
import { Store } from "./store.js";
import { page } from "./view/page.js";

const root = document.getElementById("page");
if (!root) throw new Error("the page has no place to draw in");
root.textContent = "";

const compiled = compileEngine();
const app = new App(new Store(), new Engine(startWorker, compiled), new Engine(startWorker, compiled), () =>
  render(page(app), root),
);

addEventListener("resize", () => app.refresh());
addEventListener("hashchange", () => void app.openLink(location.hash));
void app.begin(location.hash);

await registerServiceWorker();
