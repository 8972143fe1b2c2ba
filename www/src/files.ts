// Recipes, curves and pictures as files.

import type { Bench } from "./bench.js";
import type { Aside } from "./kept.js";
import { sent } from "./state.js";
import type { Store } from "./store.js";
import { say } from "./words.js";

/** What a file says it is. */
export const RECIPE = 1;
export const BACKUP = 2;

/** Hands a file to the browser's own saving. */
function saveAs(name: string, file: Blob): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

/** Saves a file that is named like the recipe. */
export function save(bench: Bench, ending: string, file: Blob): void {
  const name = (bench.state.name ?? say("file-name")).replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "");
  saveAs(`${name || "body-butter"}.${ending}`, file);
}

const json = (value: unknown) => new Blob([JSON.stringify(value, null, 1)], { type: "application/json" });

export function recipeFile(bench: Bench): void {
  const { verdict, slip_c, clear_c, softening_c, curve } = bench.behaviour ?? {};
  const prediction = { verdict, softening_c, slip_c, clear_c, curve };
  save(bench, "json", json({ meltmargin: RECIPE, state: sent(bench.state), prediction }));
}

/** Everything that is kept, in one file; `openFile` reads it back. */
export function backupFile(store: Store): void {
  const { kept, work } = store;
  const day = new Date().toISOString().slice(0, 10);
  // While what was kept is still on its way in, the bench holds something else.
  const bench = store.looked ? { bench: work } : {};
  saveAs(`meltmargin-${day}.json`, json({ meltmargin: BACKUP, saved: day, ...kept.everything, ...bench }));
}

/** What could not be read, as it was found. */
export function asideFile(aside: Aside[]): void {
  const only = aside.length === 1 ? aside[0] : undefined;
  if (only) saveAs(`set-aside-${only.place}.txt`, new Blob([only.text], { type: "text/plain" }));
  else saveAs("set-aside.json", json(aside));
}

export function curveTable(bench: Bench): void {
  const { before, after } = bench.pair;
  if (!after) return;
  const head = ["temperature_c", "solid_percent", "structure_percent", "firmness"];
  if (before) head.push("solid_percent_before");
  const rows = after.curve.at_c.map((celsius, i) => {
    const row = [
      celsius,
      after.curve.solid_percent[i],
      after.curve.structure_percent[i],
      after.curve.firmness[i],
    ];
    if (before) row.push(before.curve.solid_percent[i]);
    return row.map((cell) => (typeof cell === "number" ? Number(cell.toFixed(3)) : cell)).join(",");
  });
  save(bench, "csv", new Blob([`${[head.join(","), ...rows].join("\r\n")}\r\n`], { type: "text/csv" }));
}

const STYLES = [
  "fill",
  "fill-opacity",
  "opacity",
  "stroke",
  "stroke-width",
  "stroke-dasharray",
  "stroke-linejoin",
  "stroke-linecap",
  "font-family",
  "font-size",
  "font-weight",
  "text-anchor",
  "paint-order",
  "stop-color",
];

/** The picture with its present looks written into it, so that it stands alone. */
function standalone(picture: SVGSVGElement): SVGSVGElement {
  const copy = picture.cloneNode(true) as SVGSVGElement;
  const originals = picture.querySelectorAll("*");
  copy.querySelectorAll("*").forEach((element, i) => {
    const original = originals[i];
    if (!original) return;
    const looks = getComputedStyle(original);
    for (const name of STYLES) {
      const value = looks.getPropertyValue(name);
      if (value && !(name === "fill" && element.getAttribute("fill")?.startsWith("url")))
        element.setAttribute(name, value);
    }
    for (const name of ["class", "role", "tabindex"]) element.removeAttribute(name);
  });
  for (const handle of copy.querySelectorAll("[aria-valuenow]")) handle.remove();
  const ground = document.createElementNS("http://www.w3.org/2000/svg", "rect");
  ground.setAttribute("width", "100%");
  ground.setAttribute("height", "100%");
  ground.setAttribute(
    "fill",
    getComputedStyle(document.querySelector(".look-card") ?? document.body).backgroundColor,
  );
  copy.prepend(ground);
  copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  return copy;
}

export async function pictureFile(bench: Bench, ending: "svg" | "png"): Promise<void> {
  const picture = document.querySelector<SVGSVGElement>(".picture-frame svg");
  if (!picture) return;
  const text = new XMLSerializer().serializeToString(standalone(picture));
  const file = new Blob([text], { type: "image/svg+xml" });
  if (ending === "svg") {
    save(bench, "svg", file);
    return;
  }
  const url = URL.createObjectURL(file);
  try {
    const image = new Image();
    image.src = url;
    await image.decode();
    const canvas = document.createElement("canvas");
    const scale = 2;
    canvas.width = picture.clientWidth * scale;
    canvas.height = picture.clientHeight * scale;
    canvas.getContext("2d")?.drawImage(image, 0, 0, canvas.width, canvas.height);
    const png = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, "image/png"));
    if (!png) throw new Error("no PNG");
    save(bench, "png", png);
  } catch {
    bench.say({ text: say("no-png"), tone: "problem" });
  } finally {
    URL.revokeObjectURL(url);
  }
}
