// Recipes, curves and pictures as files.

import type { Bench } from "./bench.js";
import type { Aside } from "./kept-entries.js";
import { broken, type Type } from "./parts/labels.js";
import { sent } from "./state.js";
import type { Store } from "./store.js";
import { say, sayFindings } from "./words.js";

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

const SVG = "http://www.w3.org/2000/svg";

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
  const ground = document.createElementNS(SVG, "rect");
  ground.setAttribute("width", "100%");
  ground.setAttribute("height", "100%");
  ground.setAttribute(
    "fill",
    getComputedStyle(document.querySelector(".look-card") ?? document.body).backgroundColor,
  );
  copy.prepend(ground);
  copy.setAttribute("xmlns", SVG);
  return copy;
}

const asFile = (picture: SVGSVGElement) =>
  new Blob([new XMLSerializer().serializeToString(picture)], { type: "image/svg+xml" });

/** Draws a picture that stands alone, so many times as large as it says; throws where a browser cannot. */
async function painted(picture: SVGSVGElement, scale: number): Promise<Blob> {
  const url = URL.createObjectURL(asFile(picture));
  try {
    const image = new Image();
    image.src = url;
    await image.decode();
    const canvas = document.createElement("canvas");
    canvas.width = scale * Number(picture.getAttribute("width"));
    canvas.height = scale * Number(picture.getAttribute("height"));
    canvas.getContext("2d")?.drawImage(image, 0, 0, canvas.width, canvas.height);
    const png = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, "image/png"));
    if (!png) throw new Error("no PNG");
    return png;
  } finally {
    URL.revokeObjectURL(url);
  }
}

export async function pictureFile(bench: Bench, ending: "svg" | "png"): Promise<void> {
  const picture = document.querySelector<SVGSVGElement>(".picture-frame svg");
  if (!picture) return;
  const alone = standalone(picture);
  try {
    save(bench, ending, ending === "svg" ? asFile(alone) : await painted(alone, 2));
  } catch {
    bench.say({ text: say("no-png"), tone: "problem" });
  }
}

/** How large a card is: what chat programs show whole. */
const CARD = { width: 1200, height: 630, edge: 48 };
const CARD_NAME: Type = { px: 34, weight: 640 };
const CARD_VERDICT: Type = { px: 44, weight: 700 };
const CARD_BEFORE: Type = { px: 26, weight: 450 };

/** The verdict, and the picture with what it was before, on a card to send along. */
export async function cardFile(bench: Bench): Promise<File> {
  const picture = document.querySelector<SVGSVGElement>(".picture-frame svg");
  const { before, after } = bench.pair;
  if (!picture || !after) throw new Error("nothing to show yet");
  const looks = getComputedStyle(document.documentElement);
  const colour = (name: string) => looks.getPropertyValue(name).trim();
  const card = document.createElementNS(SVG, "svg");
  for (const [name, value] of Object.entries({ xmlns: SVG, width: CARD.width, height: CARD.height }))
    card.setAttribute(name, String(value));
  const ground = document.createElementNS(SVG, "rect");
  for (const [name, value] of Object.entries({ width: "100%", height: "100%", fill: colour("--surface") }))
    ground.setAttribute(name, value);
  card.append(ground);

  const alone = standalone(picture);
  const [wide, high] = [Number(picture.getAttribute("width")), Number(picture.getAttribute("height"))];
  const scale = Math.min((CARD.height - 2 * CARD.edge) / high, (0.52 * CARD.width) / wide);
  const place = {
    width: scale * wide,
    height: scale * high,
    x: CARD.width - CARD.edge - scale * wide,
    y: (CARD.height - scale * high) / 2,
  };
  for (const [name, value] of Object.entries(place)) alone.setAttribute(name, String(value));
  card.append(alone);

  const most = place.x - 2 * CARD.edge;
  // The first sentence is whether it holds; what follows is on the page.
  const [verdict] = after.verdict.findings;
  const [was] = before?.verdict.findings ?? [];
  const said: [string, Type, string][] = [[bench.state.name ?? say("body-butter"), CARD_NAME, "--ink-soft"]];
  if (verdict) said.push([sayFindings("verdict", [verdict]), CARD_VERDICT, "--ink"]);
  if (was) {
    said.push([say("card-before", { verdict: sayFindings("verdict", [was]) }), CARD_BEFORE, "--ink-soft"]);
  }
  const signed = CARD.height - CARD.edge - 1.9 * CARD_BEFORE.px;
  const down = (at: number) =>
    said.reduce((sum, [text, type]) => {
      const px = at * type.px;
      return sum + (1.25 * broken(text, { ...type, px }, most).length + 0.6) * px;
    }, CARD.edge);
  // A long verdict is set smaller, so that nothing runs into the name at the foot.
  let smaller = 1;
  while (down(smaller) > signed && smaller > 0.4) smaller *= 0.95;

  let foot = CARD.edge;
  const write = (text: string, type: Type, fill: string) => {
    for (const line of broken(text, type, most)) {
      foot += 1.25 * type.px;
      const words = document.createElementNS(SVG, "text");
      const set = {
        x: CARD.edge,
        y: foot,
        fill: colour(fill),
        "font-size": type.px,
        "font-weight": type.weight,
        "font-family": getComputedStyle(document.body).fontFamily,
      };
      for (const [name, value] of Object.entries(set)) words.setAttribute(name, String(value));
      words.textContent = line;
      card.append(words);
    }
    foot += 0.6 * type.px;
  };
  for (const [text, type, fill] of said) write(text, { ...type, px: smaller * type.px }, fill);
  foot = signed;
  write(say("page-title"), CARD_BEFORE, "--ink-soft");
  return new File([await painted(card, 1)], "butter.png", { type: "image/png" });
}
