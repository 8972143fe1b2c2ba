// The recipe: one line an ingredient, big buttons, the total always in sight.

import { live } from "lit/directives/live.js";
import { repeat } from "lit/directives/repeat.js";
import { html, nothing, svg, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import type { Item } from "../../contract.js";
import { setBounds, toggleLock } from "../../limits.js";
import { shown } from "../../numbers.js";
import { className } from "../../parts/classes.js";
import { numberBox } from "../../parts/controls.js";
import { icon } from "../../parts/icons.js";
import { addsUp, even, givers, remove, scale, setPercent, total } from "../../recipe.js";
import { isOwn, keyOf } from "../../state.js";
import { harmless, say } from "../../words.js";
import { openAdd } from "./add.js";
import { openOwn } from "./own/view.js";
import { openPaste, waitingLines } from "./paste.js";
import type { Look } from "./state.js";

/** The recipe; `jars` draws which lot a line is from, where there are lots. */
export function recipe(look: Look, jars: (item: Item) => unknown): TemplateResult {
  const { bench } = look;
  const { recipe: lines, name } = bench.state;
  return html`<section class="card recipe" aria-labelledby="recipe-title">
    <h2 id="recipe-title">${say("recipe")}</h2>
    <label class="visually-hidden" for="recipe-name">${say("recipe-name")}</label>
    <input id="recipe-name" class="recipe-name" type="text" maxlength="60" placeholder=${say("name-it")}
      autocomplete="off" .value=${name ?? ""}
      @input=${(event: Event) => {
        const text = (event.target as HTMLInputElement).value;
        const name = harmless(text);
        bench.store.change({ name: name.trim() ? name : null }, "name");
      }} />
    ${proportions(bench)}
    <ul class="lines">
      ${repeat(
        lines,
        (item, at) => `${at} ${keyOf(item)}`,
        (item, at) => row(look, jars, item, at),
      )}
    </ul>
    ${totalRow(look)}
    ${waitingLines(look.pasted)}
    <div class="row add-row">
      <button type="button" class="button" @click=${() => openAdd(look)}>${icon("plus")} ${say("add-an-ingredient")}</button>
      <button type="button" class="button" @click=${() => openPaste(look.pasted)}>${say("paste-a-recipe")}</button>
    </div>
  </section>`;
}

/** The shares as one bar; the numbers are in the lines. */
function proportions(bench: Bench): TemplateResult {
  const all = Math.max(100, total(bench.state.recipe));
  let from = 0;
  const parts = bench.state.recipe.map((item) => {
    const part = {
      from,
      width: (item.percent / all) * 100,
      kind: bench.catalogue.get(item.id ?? "")?.class ?? "other",
    };
    from += part.width;
    return part;
  });
  return html`<svg class="proportions" viewBox="0 0 100 4" preserveAspectRatio="none" aria-hidden="true">
    <rect class="share none" width="100" height="4" />
    ${parts.map((part) => shareOf(part))}
  </svg>`;
}

function shareOf(part: { from: number; width: number; kind: string }) {
  return svg`<rect class="share ${part.kind}" x=${part.from} width=${Math.max(0, part.width - 0.4)} height="4" />`;
}

function row(look: Look, jars: (item: Item) => unknown, item: Item, at: number): TemplateResult {
  const { bench } = look;
  const name = bench.name(item);
  const key = keyOf(item);
  const locked = bench.state.limits.locked.includes(key);
  const open = bench.unfolded === at;
  const complaint = bench.complaint(`recipe[${at}]`);
  const fold = () => {
    bench.unfolded = open ? -1 : at;
    bench.refresh();
  };
  const inci = bench.catalogue.get(item.id ?? "")?.inci;
  return html`<li class="line">
    <button type="button" class="line-name" aria-expanded=${open ? "true" : "false"} @click=${fold}>
      <span class="line-text"><span class="line-title">${name}${locked ? icon("lock") : nothing}</span>
        <small>${item.lot ? say("of-a-lot", { class: className(bench, item) }) : className(bench, item)}</small></span>
      <span class="fold">${icon("more")}</span>
    </button>
    ${numberBox(bench, {
      key: `percent-${at}`,
      label: say("line-percent", { name }),
      hideLabel: true,
      value: item.percent,
      least: 0,
      most: 100,
      step: bench.state.limits.step_percent,
      unit: "%",
      complaint,
      set: (value) => setPercent(bench.store, at, value, `percent-${at}`),
    })}
    ${
      open
        ? html`<div class="line-more">
          ${inci ? html`<p class="inci">${inci}</p>` : nothing}
          ${locked ? nothing : bounds(bench, item, at, key)}
          <div class="row">
            <label class="check"><input type="checkbox" .checked=${locked} @change=${() => toggleLock(bench.store, key)} />
              <span>${say("leave-alone")}</span></label>
            ${isOwn(item) ? nothing : jars(item)}
            <button type="button" class="button" @click=${() => openOwn(look.own, at)}>${say(isOwn(item) ? "change-what-it-is" : "own-lot")}</button>
            <button type="button" class="button" @click=${() => remove(bench, at)}>${icon("close")} ${say("remove-line", { name })}</button>
          </div>
        </div>`
        : nothing
    }
  </li>`;
}

function bounds(bench: Bench, item: Item, at: number, key: string): TemplateResult {
  const { min: least, max: most } = bench.state.limits.bounds.get(key) ?? { min: 0, max: 100 };
  const box = (end: "least" | "most", value: number, set: (value: number) => void) =>
    numberBox(bench, {
      key: `${end}-${at}`,
      label: say(end === "least" ? "bound-least" : "bound-most"),
      value,
      least: 0,
      most: 100,
      step: 1,
      unit: "%",
      complaint: least > most ? say("bounds-crossed", { least_percent: least, most_percent: most }) : null,
      set,
    });
  return html`<div class="pair" role="group" aria-label=${say("bounds-of", { name: bench.name(item) })}>
    ${box("least", least, (value) => setBounds(bench.store, key, { min: value, max: most }))}
    ${box("most", most, (value) => setBounds(bench.store, key, { min: least, max: value }))}
  </div>`;
}

/** The sum; under it there is room for what brings it to 100 %, so that nothing moves while a number is typed. */
function totalRow(look: Look): TemplateResult {
  const { bench } = look;
  const sum = total(bench.state.recipe);
  const off = !addsUp(bench.state.recipe);
  return html`<div class="total ${off ? "off" : ""}">
    <span>${say("total")}</span>
    <output class="total-figure" aria-live="polite">${shown(sum, 2)} %</output>
    <div class="evening">${off ? evening(look, sum) : nothing}</div>
  </div>`;
}

const ALL = "all";

/** What brings the sum to 100 %: one line that the maker names, or all of them. */
function evening(look: Look, sum: number): TemplateResult {
  const { bench } = look;
  const lines = givers(bench);
  const chosen = look.giver === ALL || lines.some(({ at }) => String(at) === look.giver) ? look.giver : null;
  const now = chosen ?? String(lines[0]?.at ?? ALL);
  const make = () => (now === ALL ? void scale(bench) : even(bench, Number(now)));
  const word =
    sum < 100
      ? say("total-to-go", { missing_percent: 100 - sum })
      : say("total-too-much", { extra_percent: sum - 100 });
  // Of nothing there is nothing to share out.
  if (sum <= 0) return html`<p class="total-word">${word}</p>`;
  return html`<label class="total-word" for="giver">${word} ${say(sum > 100 ? "take-it-from" : "give-it-to")}</label>
    <select id="giver" class="select" @change=${(event: Event) => {
      look.giver = (event.target as HTMLSelectElement).value;
      bench.refresh();
    }}>
      ${lines.map(
        ({ at, item, percent }) =>
          html`<option value=${at} .selected=${live(now === String(at))}>${say("giver-becomes", { name: bench.name(item), to_percent: percent })}</option>`,
      )}
      <option value=${ALL} .selected=${live(now === ALL)}>${say("all-in-proportion")}</option>
    </select>
    <button type="button" class="button" @click=${make}>${say("make-it-whole")}</button>`;
}
