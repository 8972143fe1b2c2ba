// A pasted recipe, with a preview of what each line was taken for before anything changes.

import { live } from "lit/directives/live.js";
import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Item, ReadLine } from "../../contract.js";
import { shown } from "../../numbers.js";
import { closeSheet, sheet } from "../../parts/sheets.js";
import { sayFinding } from "../../words.js";
import type { Pasted } from "./pasted.js";

/** What the preview would put on the bench: the lines that have an ingredient and an amount. */
function chosen(pasted: Pasted): Item[] {
  const items: Item[] = [];
  pasted.reading?.lines.forEach((line, at) => {
    const id = pasted.chosen.get(at) ?? line.id;
    if (!id || id === "none" || line.percent === null) return;
    const same = items.find((item) => item.id === id);
    if (same) same.percent = Math.round((same.percent + line.percent) * 1000) / 1000;
    else items.push({ id, percent: line.percent });
  });
  return items;
}

export function pasteSheet(pasted: Pasted): TemplateResult {
  return sheet(pasted.bench, "paste", "Paste a recipe", () => body(pasted));
}

function body(pasted: Pasted): TemplateResult {
  const { bench, text, reading, failure } = pasted;
  const items = chosen(pasted);
  const use = () => {
    closeSheet("paste");
    bench.replace(
      {
        ...bench.state,
        name: null,
        recipe: items,
        limits: bench.limitsOf(items),
        picture: null,
        prices: bench.pricesOf(items),
      },
      "The pasted recipe is on the bench.",
    );
    void pasted.read("");
  };
  return html`<div class="sheet-body padded">
      <label class="label" for="paste-text">One ingredient a line, with its amount in percent, grams or ounces</label>
      <textarea id="paste-text" class="paste-text" rows="6" autofocus placeholder="60 shea butter&#10;40 % sunflower"
        .value=${live(text)} @input=${(event: Event) => void pasted.read((event.target as HTMLTextAreaElement).value)}></textarea>
      ${failure ? html`<p class="problem" role="alert">${failure}</p>` : nothing}
      ${
        reading
          ? html`<h3>Understood as</h3>
            <ul class="read">${reading.lines.map((line, at) => readLine(pasted, line, at))}</ul>
            ${reading.remarks.map((remark) => html`<p class="help">${sayFinding("text-remark", remark)}</p>`)}
            <button type="button" class="button primary wide" ?disabled=${items.length === 0} @click=${use}>
              Put ${items.length === 1 ? "one line" : `${items.length} lines`} on the bench</button>`
          : nothing
      }
    </div>`;
}

function readLine(pasted: Pasted, line: ReadLine, at: number): TemplateResult {
  const { bench } = pasted;
  const now = pasted.chosen.get(at) ?? line.id ?? "";
  const options = [...new Set([...(line.id ? [line.id] : []), ...line.suggestions])];
  const unsure = !line.certain && line.percent !== null;
  const choose = (event: Event) => {
    pasted.chosen.set(at, (event.target as HTMLSelectElement).value);
    bench.refresh();
  };
  return html`<li class="read-line">
    <p class="read-text">${line.text}</p>
    <div class="read-found">
      ${
        unsure
          ? html`<label class="visually-hidden" for="read-${at}">${line.name} is</label>
            <select id="read-${at}" class="select" @change=${choose}>
              ${now ? nothing : html`<option value="" selected disabled>Choose…</option>`}
              ${options.map((id) => html`<option value=${id} ?selected=${id === now}>${bench.nameOf(id)}</option>`)}
              <option value="" disabled>──────</option>
              ${[...bench.catalogue.values()].map(
                (one) =>
                  html`<option value=${one.id} ?selected=${one.id === now && !options.includes(now)}>${one.name}</option>`,
              )}
              <option value="none" ?selected=${now === "none"}>Leave it out</option>
            </select>`
          : html`<strong>${line.id ? bench.nameOf(line.id) : line.name}</strong>`
      }
      <span class="read-percent">${line.percent === null ? "" : `${shown(line.percent, 2)} %`}</span>
    </div>
    ${line.problem && !pasted.chosen.has(at) ? html`<p class="problem">${sayFinding("line-problem", line.problem)}</p>` : nothing}
  </li>`;
}
