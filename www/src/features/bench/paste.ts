// A pasted recipe, with a preview in which every line can be put right before anything changes.

import { live } from "lit/directives/live.js";
import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import type { Reading, ReadLine, ReadUnit } from "../../contract.js";
import { limitsOf } from "../../limits.js";
import { parseNumber, shown, typed } from "../../numbers.js";
import { closeSheet, openSheet, sheet } from "../../parts/sheets.js";
import { pricesOf } from "../../prices.js";
import { untouched } from "../../state.js";
import { harmless, say, sayFinding } from "../../words.js";
import { openOwn } from "./own/view.js";
import type { Pasted } from "./pasted.js";

/** What units are called in the preview. */
const UNITS: Record<ReadUnit, string> = {
  percent: "%",
  grams: "g",
  kilograms: "kg",
  milligrams: "mg",
  ounces: "oz",
  pounds: "lb",
  parts: say("unit-parts"),
  tablespoons: say("unit-tablespoons"),
  teaspoons: say("unit-teaspoons"),
  cups: say("unit-cups"),
  millilitres: "ml",
  litres: "l",
  "fluid-ounces": "fl oz",
  drops: say("unit-drops"),
};

const WHY = { note: say("left-note"), total: say("left-total"), water: say("left-water") };

export function openPaste(pasted: Pasted, melted = false): void {
  pasted.melted = melted;
  void pasted.open();
  openSheet(pasted.bench, "paste");
}

export function pasteSheet(pasted: Pasted): TemplateResult {
  return sheet(pasted.bench, "paste", say("paste-a-recipe"), () => body(pasted));
}

function body(pasted: Pasted): TemplateResult {
  const { text, reading, failure } = pasted;
  return html`<div class="sheet-body padded">
      ${pasted.melted ? html`<p class="paste-lead">${say("paste-melted")}</p>` : nothing}
      <label class="label" for="paste-text">${say("paste-text")}</label>
      <textarea id="paste-text" class="paste-text" rows="6" autofocus placeholder="60 shea butter&#10;40 % sunflower"
        .value=${live(text)} @input=${(event: Event) => void pasted.read((event.target as HTMLTextAreaElement).value)}></textarea>
      ${failure ? html`<p class="problem" role="alert">${failure}</p>` : nothing}
      ${reading ? preview(pasted, reading) : nothing}
    </div>`;
}

function preview(pasted: Pasted, reading: Reading): TemplateResult {
  const { bench } = pasted;
  const { scaled } = pasted;
  const belongs = elsewhere(pasted, reading);
  if (!reading.lines.length && belongs !== nothing) return html`${belongs}`;
  const recipe = [...(scaled ?? reading.recipe), ...pasted.described];
  const lines = reading.lines.map((line, at) => ({ line, needy: needsYou(pasted, line, at) }));
  const good = lines.filter(({ line, needy }) => !line.left_out && !needy).length;
  const needy = lines.filter(({ needy }) => needy).map(({ line }) => line);
  const percents = pasted.maybePercent;
  const use = () => {
    closeSheet("paste");
    const without = needy.map((line) => line.text);
    bench.replace(
      {
        ...bench.state,
        name: null,
        recipe,
        limits: limitsOf(bench.state, recipe),
        picture: null,
        prices: pricesOf(bench.store, recipe),
      },
      say(without.length ? "pasted-without" : "pasted-on-bench", { count: without.length }),
    );
    // What was not ready stays where it can be completed.
    if (without.length) pasted.waiting = without;
    else void pasted.read("");
  };
  return html`${belongs}<h3>${say("understood-as")}</h3>
    <p class="read-sum" role="status"><strong>${say("understood", { good, count: reading.lines.length })}</strong>${
      needy.length
        ? html`; <strong class="needs">${say("need-you", { count: needy.length })}</strong>`
        : nothing
    }</p>
    ${
      percents.length
        ? html`<button type="button" class="button small" @click=${() => void pasted.allPercent()}>${say("all-percent")}</button>`
        : nothing
    }
    <ul class="read">${reading.lines.map((line, at) => readLine(pasted, reading, line, at))}</ul>
    ${reading.remarks
      .filter((remark) => !isElsewhere(remark) && (!scaled || remark.kind !== "total-not-hundred"))
      .map((remark) => html`<p class="help">${sayFinding("text-remark", remark)}</p>`)}
    ${scaled ? html`<p class="help" role="status">${say("rest-brought-to-all")}</p>` : nothing}
    ${
      reading.left_out.length
        ? html`<h3>${say("left-out-lines")}</h3>
          <ul class="read left-out">${reading.left_out.map(
            (piece) => html`<li><bdi>${piece.text}</bdi> <small>${WHY[piece.why]}</small></li>`,
          )}</ul>
          <p class="help">${say("left-out-lines-hint")}</p>`
        : nothing
    }
    <div class="read-put">${
      needy.length
        ? html`<button type="button" class="button primary wide" @click=${showNeedy}>${say("complete-lines", { count: needy.length })}</button>
          ${
            recipe.length
              ? html`<button type="button" class="button wide" @click=${use}>${say("put-without", { count: recipe.length, without: needy.length })}</button>`
              : nothing
          }`
        : html`<button type="button" class="button primary wide" ?disabled=${recipe.length === 0} @click=${use}>
          ${recipe.length ? say("put-on-bench", { count: recipe.length }) : say("nothing-to-put")}</button>`
    }</div>`;
}

/** With more lines than this, only the one that is being chosen for lists the whole catalogue: 400 lists stop a phone for ten seconds. */
const LISTED = 40;

const needsYou = (pasted: Pasted, line: ReadLine, at: number) =>
  !line.left_out && line.problems.length > 0 && !pasted.isDescribed(at);

type TextRemark = Reading["remarks"][number];

const isElsewhere = ({ kind }: TextRemark) =>
  kind === "certificate" || kind === "certificate-of" || kind === "link" || kind === "file";

/** What was pasted and is no recipe, with the way to where it belongs. */
function elsewhere(pasted: Pasted, reading: Reading): TemplateResult | typeof nothing {
  const { bench, own, text } = pasted;
  const remark = reading.remarks.find(isElsewhere);
  if (!remark) return nothing;
  const leave = () => {
    closeSheet("paste");
    void pasted.read("");
  };
  const way = () => {
    switch (remark.kind) {
      case "link":
        leave();
        // What it holds is judged at the top.
        scrollTo(0, 0);
        // As if it had been followed: through the same checks.
        location.hash = remark.fragment;
        break;
      case "file":
        leave();
        void bench.openFile(new File([text], say("pasted-file")));
        break;
      default:
        own.begin(text, remark.kind === "certificate-of" ? remark.id : null);
        leave();
        openSheet(bench, "own");
    }
  };
  const words =
    remark.kind === "link"
      ? say("open-the-link")
      : remark.kind === "file"
        ? say("open-as-file")
        : say("take-as-certificate");
  return html`<div class="read-elsewhere" role="status">
    <p>${sayFinding("text-remark", remark)}</p>
    <button type="button" class="button ${reading.lines.length ? "" : "primary"} wide" @click=${way}>${words}</button>
  </div>`;
}

/** Goes to the first line that is not understood, and to what of it is missing. */
function showNeedy(): void {
  const line = document.querySelector<HTMLElement>(".read-line.needs-you");
  const boxes = [...(line?.querySelectorAll<HTMLSelectElement | HTMLInputElement>("select, input") ?? [])];
  line?.scrollIntoView({ block: "center" });
  (boxes.find(({ value }) => !value) ?? boxes[0])?.focus({ preventScroll: true });
}

/** Lines of a pasted text that are not on the bench yet, and the way to complete them. */
export function waitingLines(pasted: Pasted): TemplateResult | typeof nothing {
  const { bench, waiting } = pasted;
  if (!waiting.length || untouched(bench.state)) return nothing;
  return html`<div class="waiting">
    <p class="help">${say("lines-wait")} ${waiting.map((text, at) => html`${at ? ", " : ""}<bdi>${text}</bdi>`)}</p>
    <div class="row">
      <button type="button" class="button" @click=${() => openPaste(pasted)}>${say("complete-waiting")}</button>
      <button type="button" class="button" @click=${() => void pasted.read("")}>${say("let-go")}</button>
    </div>
  </div>`;
}

/** What the catalogue calls it: the bench may call a line of its own by another name. */
const listed = (bench: Bench, id: string) => bench.catalogue.get(id)?.name ?? bench.nameOf(id);

/** What a line will be called: as it was written, where that says more than the catalogue does. */
function calledIn({ bench }: Pasted, { recipe }: Reading, line: ReadLine, id: string): string {
  const own = recipe.find((item) => item.id === id)?.name;
  return own?.includes(line.name) ? harmless(line.name) : listed(bench, id);
}

/** How much a line is, as far as it is known. */
function share({ scaled }: Pasted, line: ReadLine): string {
  const now = scaled?.find(({ id }) => id === line.id)?.percent ?? line.percent;
  const text =
    line.percent !== null
      ? `${shown(now ?? line.percent, 2)} %`
      : line.amount !== null && line.unit
        ? `${shown(line.amount, 2)} ${UNITS[line.unit]}`
        : "";
  return line.about && text ? say("about", { amount: text }) : text;
}

function readLine(pasted: Pasted, reading: Reading, line: ReadLine, at: number): TemplateResult {
  const { bench } = pasted;
  const described = pasted.ownLines.get(at);
  const needy = needsYou(pasted, line, at);
  const problems = described
    ? line.problems.filter(({ kind }) => kind !== "unknown" && kind !== "ambiguous")
    : line.problems;
  const unfolded = !line.left_out && (pasted.unfolded.has(at) || needy);
  const toggle = () => {
    if (pasted.unfolded.delete(at) === false) pasted.unfolded.add(at);
    bench.refresh();
  };
  const others = line.suggestions.map((id) => listed(bench, id)).join(", ");
  const note =
    line.left_out || !line.id
      ? null
      : line.how === "misspelt"
        ? say("read-misspelt", { name: line.name })
        : line.how === "common"
          ? say("read-common", { others })
          : null;
  const leave = html`<button type="button" class="button small" @click=${() => void pasted.correct(at, { left_out: !line.left_out })}>
    ${say(line.left_out ? "put-it-back" : "leave-it-out")}<span class="visually-hidden"> ${line.name}</span></button>`;
  const change = html`<button type="button" class="button small" aria-expanded=${unfolded ? "true" : "false"} @click=${toggle}>
    ${say(unfolded ? "done" : "change")}<span class="visually-hidden"> ${line.name}</span></button>`;
  return html`<li class="read-line ${line.left_out ? "is-out" : ""} ${needy ? "needs-you" : ""}">
    <div class="read-head">
      <div>
        <p class="read-text"><bdi>${line.text}</bdi></p>
        <p class="read-found">
          <strong class="read-name">${
            described
              ? described.name
              : line.id
                ? calledIn(pasted, reading, line, line.id)
                : html`<bdi>${line.name}</bdi>?`
          }</strong>
          <span class="read-percent">${line.left_out ? say("left-out") : share(pasted, line)}</span>
        </p>
      </div>
      ${line.left_out ? leave : needy ? nothing : change}
    </div>
    ${note ? html`<p class="help">${note}</p>` : nothing}
    ${line.left_out ? nothing : problems.map((problem) => html`<p class="problem">${sayFinding("line-problem", problem)}</p>`)}
    ${!line.left_out && !line.id && !described ? nearest(pasted, line, at) : nothing}
    ${unfolded ? html`${corrections(pasted, reading, line, at)}<div class="row">${leave}</div>` : nothing}
  </li>`;
}

/** What a line without an ingredient could be, one tap each, and the way to describe what the catalogue lacks. */
function nearest(pasted: Pasted, line: ReadLine, at: number): TemplateResult {
  const { bench, own } = pasted;
  const describe = () => {
    closeSheet("paste");
    openOwn(own, null, {
      name: line.name,
      text: line.text,
      put: (item) => {
        pasted.describe(at, item);
        openSheet(bench, "paste");
      },
    });
  };
  return html`<div class="read-nearest">
    ${line.suggestions.length ? html`<span class="help">${say("nearest-are")}</span>` : nothing}
    ${line.suggestions.map(
      (id) =>
        html`<button type="button" class="button small" @click=${() => void pasted.correct(at, { id })}>${listed(bench, id)}</button>`,
    )}
    <button type="button" class="button small" @click=${describe}>${say("describe-it")}<span class="visually-hidden"> ${line.name}</span></button>
  </div>`;
}

/** The boxes that a line is put right with. */
function corrections(pasted: Pasted, reading: Reading, line: ReadLine, at: number): TemplateResult {
  const { bench } = pasted;
  const likely = [...new Set([...(line.id ? [line.id] : []), ...line.suggestions])];
  const rest = [...bench.catalogue.values()].filter((one) => !likely.includes(one.id));
  const unit = line.unit ?? (line.range || line.amount === null ? reading.unit : null);
  const odd = pasted.odd.get(at);
  const amount = (event: Event) => {
    const text = (event.target as HTMLInputElement).value;
    const value = parseNumber(text);
    if (value === null || value < 0) {
      pasted.odd.set(at, text);
      bench.refresh();
      return;
    }
    pasted.odd.delete(at);
    pasted.unfolded.add(at);
    void pasted.correct(at, { amount: value, unit: unit ?? reading.unit });
  };
  const chooseUnit = (event: Event) => {
    const chosen = (event.target as HTMLSelectElement).value as ReadUnit;
    pasted.unfolded.add(at);
    void pasted.correct(at, { unit: chosen, amount: line.amount });
  };
  const chooseId = (event: Event) => {
    pasted.unfolded.add(at);
    void pasted.correct(at, { id: (event.target as HTMLSelectElement).value });
  };
  const lists = pasted.choosing === at || reading.lines.length <= LISTED;
  const list = () => {
    if (lists) return;
    pasted.choosing = at;
    bench.drawNow();
  };
  const placeholder = line.range ? `${typed(line.range[0])} – ${typed(line.range[1])}` : "";
  return html`<div class="read-boxes">
    <select class="select" aria-label=${say("line-is", { name: line.name })} @pointerdown=${list} @focus=${list} @change=${chooseId}>
      ${line.id ? nothing : html`<option value="" selected disabled>${say("choose-ingredient")}</option>`}
      ${likely.map((id) => html`<option value=${id} ?selected=${id === line.id}>${listed(bench, id)}</option>`)}
      <option value="" disabled>──────</option>
      ${lists ? rest.map((one) => html`<option value=${one.id}>${one.name}</option>`) : nothing}
    </select>
    <input class="text" type="text" inputmode="decimal" autocomplete="off" maxlength="12" aria-label=${say("amount-of", { name: line.name })}
      placeholder=${placeholder} aria-invalid=${odd === undefined ? "false" : "true"}
      .value=${live(odd ?? (line.amount === null ? "" : typed(line.amount)))} @change=${amount} />
    <select class="select" aria-label=${say("unit-of", { name: line.name })} @change=${chooseUnit}>
      ${unit ? nothing : html`<option value="" selected disabled>${say("choose-unit")}</option>`}
      ${Object.entries(UNITS).map(([one, name]) => html`<option value=${one} ?selected=${one === unit}>${name}</option>`)}
    </select>
    ${odd === undefined ? nothing : html`<p class="problem">${say("not-an-amount", { text: odd })}</p>`}
  </div>`;
}
