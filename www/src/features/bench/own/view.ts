// The form for an ingredient of one's own.

import { live } from "lit/directives/live.js";
import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../../bench.js";
import type { Item } from "../../../contract.js";
import { degrees, tied } from "../../../numbers.js";
import { CLASS_NAMES } from "../../../parts/classes.js";
import { chips, select } from "../../../parts/controls.js";
import { closeSheet, openSheet, sheet } from "../../../parts/sheets.js";
import { isOwn, keyed } from "../../../state.js";
import { say } from "../../../words.js";
import type { Draft, Field, OwnForm, Way } from "./state.js";

/** The acids that certificates name, in their order; others go in as molecules, or as other. */
const ACIDS = [
  "caprylic", "capric", "lauric", "myristic", "palmitic", "palmitoleic", "stearic", "oleic", "linoleic", "linolenic",
  "arachidic", "gondoic", "behenic", "erucic", "ricinoleic", "other",
]; // biome-ignore format: a list of names

const WAYS: { value: Way; label: string; hint: string }[] = [
  { value: "like", label: say("own-like"), hint: say("own-like-hint") },
  { value: "acids", label: say("own-acids"), hint: say("own-acids-hint") },
  { value: "solids", label: say("own-solids"), hint: say("own-solids-hint") },
  { value: "molecules", label: say("own-molecules"), hint: say("own-molecules-hint") },
];

const SPREADS = {
  seed: say("spread-seed"),
  pulp: say("spread-pulp"),
  random: say("spread-random"),
};

/** For a line of the recipe, or one of a text that is being pasted. */
export function openOwn(own: OwnForm, line: number | null, forLine: OwnForm["forLine"] = null): void {
  own.forLine = forLine;
  own.open(line);
  closeSheet("add");
  openSheet(own.bench, "own");
}

export function ownSheet(own: OwnForm): TemplateResult {
  const { draft } = own;
  const title = draft.line === null ? say("own-title") : say("own-change-title", { name: draft.name });
  return sheet(own.bench, "own", title, () => form(own));
}

function form(own: OwnForm): TemplateResult {
  const { bench, draft, told } = own;
  const unit = bench.store.preferences.temperature;
  const set = (part: Partial<Draft>) => own.set(part);
  const at = (line: number | null) => (line === null ? undefined : bench.state.recipe[line]);
  const kin = at(own.kin);
  // The line of the catalogue that the lot is of.
  const lotOf = [at(draft.line)].find((item) => item && !isOwn(item));
  const use = async (event: SubmitEvent) => {
    event.preventDefault();
    const instead = event.submitter?.id === "own-instead";
    if (await own.use(instead ? own.kin : draft.line)) closeSheet("own");
    else document.querySelector<HTMLElement>("#own [aria-invalid=true]")?.focus();
  };
  return html`<form class="sheet-body padded own" @submit=${use}>
    ${own.forLine ? html`<p class="help">${say("own-for-line", { text: own.forLine.text })}</p>` : nothing}
    ${text("own-name", say("own-name"), draft.name, (name) => set({ name }), fault(own, "name"), 60)}
    ${chips(say("own-way"), "own-way", WAYS, draft.way, (way) => set({ way }))}
    ${draft.way === "like" ? nothing : body(own, draft, set)}
    ${
      draft.way === "like"
        ? select("own-like", say("own-is-like"), likes(bench), draft.like, (like) => set({ like }))
        : select(
            "own-behaves",
            say("own-behaves"),
            { "": say("own-like-nothing"), ...likes(bench) },
            draft.behaves,
            (behaves) => set({ behaves }),
          )
    }
    ${complaint(own, "like")}
    ${draft.way === "solids" ? nothing : text("own-melts", say("own-melts", { unit: `°${draft.unit}` }), draft.melts, (melts) => set({ melts }), fault(own, "melts"))}
    ${select("own-kind", say("own-counts-as"), { "": draft.way === "like" || draft.behaves ? say("own-same-kind") : say("class-other"), ...CLASS_NAMES }, draft.kind, (kind) => set({ kind }))}
    <div class="own-told" role="status">${
      told
        ? html`<p><strong>${
            told.slip_c === null
              ? say("own-liquid")
              : tied(
                  say("own-melts-told", {
                    slip: degrees(told.slip_c, unit),
                    clear: degrees(told.clear_c ?? told.slip_c, unit),
                  }),
                )
          }</strong></p>
          <p class="help">${say("own-solid-told", {
            figures: [10, 20, 25, 30, 35]
              .map((celsius, i) =>
                tied(
                  say("own-solid-at", {
                    solid_percent: told.solid_percent[i] ?? 0,
                    at: degrees(celsius, unit),
                  }),
                ),
              )
              .join(", "),
          })}</p>`
        : html`<p class="help">${say("own-wait")}</p>`
    }</div>
    <div class="row">
      <button type="submit" class="button primary">${
        lotOf ? inPlaceOf(bench, lotOf) : draft.line === null ? say("own-put-in") : say("own-change")
      }</button>
      ${kin ? html`<button type="submit" class="button" id="own-instead">${inPlaceOf(bench, kin)}</button>` : nothing}
      <button type="button" class="button" @click=${() => own.clear()}>${say("own-clear")}</button>
    </div>
  </form>`;
}

const inPlaceOf = (bench: Bench, item: Item) =>
  say("own-instead-of", { name: bench.name(item), line_percent: item.percent });

function likes(bench: Bench): Record<string, string> {
  return Object.fromEntries([...bench.catalogue.values()].map((one) => [one.id, one.name]));
}

/** What is wrong with a field; what is not there yet is wrong only once it was to go in. */
function fault({ problems, missing, tried }: OwnForm, field: Field): string | null {
  return missing.has(field) && !tried ? null : (problems.get(field) ?? null);
}

function complaint(own: OwnForm, field: Field): TemplateResult | typeof nothing {
  const words = fault(own, field);
  return words ? html`<p class="problem" id="own-${field}-problem" role="alert">${words}</p>` : nothing;
}

function text(
  id: string,
  label: string,
  value: string,
  set: (value: string) => void,
  problem: string | null,
  most = 12,
): TemplateResult {
  return html`<div><label class="label" for=${id}>${label}</label>
    <input id=${id} class="text" type="text" autocomplete="off" maxlength=${most} inputmode=${most > 12 ? nothing : "decimal"}
      .value=${live(value)} aria-invalid=${problem ? "true" : "false"} aria-describedby=${problem ? `${id}-problem` : nothing}
      @input=${(event: Event) => set((event.target as HTMLInputElement).value)} />
    ${problem ? html`<p class="problem" id="${id}-problem" role="alert">${problem}</p>` : nothing}</div>`;
}

/** A small box of a table: its label is its row. */
function cell(label: string, value: string, wrong: boolean, set: (value: string) => void): TemplateResult {
  return html`<input class="text" type="text" inputmode="decimal" autocomplete="off" maxlength="12" aria-label=${label}
    aria-invalid=${wrong ? "true" : "false"} .value=${live(value)}
    @input=${(event: Event) => set((event.target as HTMLInputElement).value)} />`;
}

function body(own: OwnForm, draft: Draft, set: (part: Partial<Draft>) => void): TemplateResult {
  const { sum } = own;
  const { unit } = draft;
  const total = sum === null ? nothing : html`<p class="help">${say("own-sum", { sum_percent: sum })}</p>`;
  if (draft.way === "acids") {
    const names = [...new Set([...ACIDS, ...draft.acids.keys()])];
    return html`<div><label class="label" for="own-certificate">${say("own-certificate")}</label>
      <textarea id="own-certificate" class="paste-text" rows="3" placeholder="C16:0 25.9&#10;stearic 36.1 %" .value=${live(own.certificate)}
        @input=${(event: Event) => void own.paste((event.target as HTMLTextAreaElement).value)}></textarea>
      ${
        own.isRecipe
          ? html`<p class="problem" role="alert">${say("own-is-recipe")}</p>
            <button type="button" class="button" @click=${() => {
              closeSheet("own");
              own.asRecipe(own.certificate);
            }}>${say("take-as-recipe")}</button>`
          : nothing
      }
      ${own.unread.length ? html`<p class="problem" role="alert">${say("own-unread", { texts: own.unread.join("; ") })}</p>` : nothing}</div>
      <fieldset class="cells"><legend class="label">${say("own-acids-label")}</legend>
      ${names.map(
        (name) =>
          html`<label><span>${name}</span>${cell(
            say("line-percent", { name }),
            draft.acids.get(name) ?? "",
            fault(own, "acids") !== null,
            // What was typed since this was drawn is kept.
            (percent) => set({ acids: keyed(own.draft.acids, name, percent) }),
          )}</label>`,
      )}</fieldset>${total}${complaint(own, "acids")}
      ${select("own-spread", say("own-spread"), SPREADS, draft.spread, (spread) => set({ spread }))}`;
  }
  if (draft.way === "solids") {
    const change = (at: number, part: Partial<Draft["solids"][number]>) =>
      set({ solids: own.draft.solids.map((one, i) => (i === at ? { ...one, ...part } : one)) });
    return html`<fieldset class="cells"><legend class="label">${say("own-solids-label")}</legend>
      ${draft.solids.map(
        (
          one,
          at,
        ) => html`<div class="cell-pair">${cell(say("own-solids-at", { number: at + 1, unit: `°${unit}` }), one.at, false, (celsius) => change(at, { at: celsius }))}
          <span>°${unit}</span>${cell(say("own-solids-percent", { number: at + 1 }), one.percent, fault(own, "solids") !== null, (percent) => change(at, { percent }))}<span>%</span></div>`,
      )}</fieldset>
      <button type="button" class="button" @click=${() => set({ solids: [...own.draft.solids, { at: "", percent: "" }] })}>${say("one-more")}</button>
      ${complaint(own, "solids")}`;
  }
  return html`<div><label class="label" for="own-molecules">${say("own-molecules-label")}</label>
    <textarea id="own-molecules" class="paste-text" rows="5" placeholder="SOS 42&#10;SOO 30&#10;liquid 28" .value=${live(draft.molecules)}
      aria-invalid=${fault(own, "molecules") !== null ? "true" : "false"} aria-describedby="own-molecules-help"
      @input=${(event: Event) => set({ molecules: (event.target as HTMLTextAreaElement).value })}></textarea>
    <p class="help" id="own-molecules-help">${say("own-molecules-help")}</p></div>
    ${total}${complaint(own, "molecules")}`;
}
