// Writing down what was seen: what it is, what it did, how warm it was.

import { live } from "lit/directives/live.js";
import { html, nothing, type TemplateResult } from "lit/html.js";
import { today } from "../../notes.js";
import { chips, select, worded } from "../../parts/controls.js";
import { icon } from "../../parts/icons.js";
import { keyOf } from "../../state.js";
import { harmless, say } from "../../words.js";
import {
  type Box,
  CLASSES,
  type Draft,
  type DraftLine,
  FORMATS,
  type FromLot,
  MEASURED,
  onSkin,
  SIGNS,
} from "./draft.js";
import { CLASS_NAMES, FORMAT_NAMES, MEASURED_NAMES, SIGN_NAMES } from "./said.js";
import { dayShown, type Notebook } from "./state.js";

export function writing(notebook: Notebook): TemplateResult | typeof nothing {
  const { draft, problems, lines } = notebook.writing;
  if (!draft) return nothing;
  const { bench } = notebook;
  const unit = bench.store.preferences.temperature;
  const set = (part: Partial<Draft>) => notebook.writing.set(part);
  const skin = onSkin(draft.seen);
  const submit = (event: Event) => {
    event.preventDefault();
    void notebook.writing.keep();
  };
  const { foreign } = notebook.writing;
  const toggle = (event: Event) => {
    event.preventDefault();
    notebook.writing.fold();
  };
  return html`<form id="note-form" class="note-form" @submit=${submit} novalidate aria-label=${say("write-down")}>
    ${select("note-seen", say("what-did-it-do"), { "": say("choose"), ...pick(SIGNS, SIGN_NAMES) }, draft.seen, (value) => set({ seen: value as Draft["seen"] }))}
    ${problem(notebook, "seen")}
    ${
      draft.seen === "firmness"
        ? [
            select(
              "note-firmness",
              say("how-firm"),
              { "": say("choose"), ...pick(CLASSES, CLASS_NAMES) },
              draft.firmness,
              (value) => set({ firmness: value as Draft["firmness"] }),
            ),
            problem(notebook, "firmness"),
          ]
        : nothing
    }
    ${draft.seen === "solid" ? typedBox(notebook, "solid", say("how-much-solid"), draft.solid, "", (solid) => set({ solid })) : nothing}
    ${typedBox(notebook, "at", skin ? say("how-warm-skin", { unit: `°${unit}` }) : say("how-warm", { unit: `°${unit}` }), draft.at, "", (at) => set({ at }))}
    <details class="usual" .open=${live(notebook.writing.unfolded)}>
      <summary @click=${toggle}><span>${say("note-usual")} <small>${usualSaid(notebook, draft)}</small></span></summary><div class="usual-body">
      ${chips(
        say("which-pot"),
        "note-pot",
        worded({ bench: say("pot-of-bench"), pure: say("pot-pure"), other: say("pot-other") }),
        draft.pot,
        (pot) => notebook.writing.setPot(pot),
      )}
      ${foreign.length ? html`<p class="help">${say("own-not-in-notebook", { ids: foreign.map(keyOf) })}</p>` : nothing}
      ${lines.map((line, at) => potLine(notebook, draft, line, at))}
      ${draft.pot === "bench" || (draft.pot === "pure" && lines.length) ? nothing : adding(notebook, draft)}
      ${draft.pot === "other" && lines.length ? sum(lines) : nothing}
      ${problem(notebook, "recipe")}
      ${typedBox(notebook, "days", say("days-after"), draft.days, say("days-after-hint"), (days) => set({ days }))}
      ${skin ? nothing : select("note-measured", say("read-by"), pick(MEASURED, MEASURED_NAMES), draft.measured, (value) => set({ measured: value as Draft["measured"] }))}
      ${select("note-format", say("pot-is"), pick(FORMATS, FORMAT_NAMES), draft.format, (value) => set({ format: value as Draft["format"] }))}
      ${textBox("thermometer", say("which-thermometer"), draft.thermometer, say("which-thermometer-hint"), (thermometer) => set({ thermometer }))}
      ${textBox("name", say("pot-name"), draft.name, say("pot-name-hint"), (name) => set({ name: harmless(name) }))}
      <div><label class="label" for="note-day">${say("which-day")}</label>
        <input id="note-day" class="text" type="date" .value=${live(draft.day)} aria-invalid=${notebook.writing.problems.has("day") ? "true" : "false"}
          @change=${(event: Event) => set({ day: (event.target as HTMLInputElement).value })} />
        ${problem(notebook, "day")}</div>
    </div></details>
    ${problem(notebook, "whole")}
    ${problems.size ? html`<p class="problem" role="status">${say("note-problems", { count: problems.size })}</p>` : nothing}
    <div class="row">
      <button type="submit" class="button primary">${say(draft.of === null ? "keep-look" : "keep-change")}</button>
      <button type="button" class="button" @click=${() => notebook.writing.discard()}>${say("do-not-keep")}</button>
    </div>
  </form>`;
}

/** What holds unless the maker says otherwise, in a line. */
function usualSaid(notebook: Notebook, draft: Draft): string {
  const { lines } = notebook.writing;
  const [first] = lines;
  const nameOf = ({ id }: DraftLine) => notebook.bench.catalogue.get(id)?.name ?? harmless(id);
  const pot =
    draft.pot === "bench"
      ? say("usual-bench")
      : !first
        ? say("usual-none")
        : lines.length === 1
          ? say("pot-alone", { name: nameOf(first) })
          : lines.map((line) => `${line.percent} % ${nameOf(line)}`).join(", ");
  const days = draft.days.trim();
  return [
    pot,
    days ? say("usual-days", { days }) : say("usual-settled"),
    ...(onSkin(draft.seen) ? [] : [MEASURED_NAMES[draft.measured]]),
    FORMAT_NAMES[draft.format],
    draft.day === today() ? say("usual-today") : dayShown(draft.day),
  ].join(", ");
}

function pick<T extends string>(keys: readonly T[], names: Record<T, string>): Record<T, string> {
  return Object.fromEntries(keys.map((key) => [key, names[key]])) as Record<T, string>;
}

function problem(notebook: Notebook, box: Box): TemplateResult | typeof nothing {
  const words = notebook.writing.problems.get(box);
  return words
    ? html`<p class="problem" id="note-${box}-problem" role="alert" tabindex="-1">${words}</p>`
    : nothing;
}

/** A number as it is typed. */
function typedBox(
  notebook: Notebook,
  box: "at" | "days" | "solid",
  label: string,
  value: string,
  hint: string,
  set: (text: string) => void,
): TemplateResult {
  const wrong = notebook.writing.problems.has(box);
  return html`<div><label class="label" for="note-${box}">${label}</label>
    <input id="note-${box}" class="text" type="text" inputmode="decimal" autocomplete="off" maxlength="12" .value=${live(value)}
      aria-invalid=${wrong ? "true" : "false"} aria-describedby=${wrong ? `note-${box}-problem` : hint ? `note-${box}-hint` : nothing}
      @input=${(event: Event) => set((event.target as HTMLInputElement).value)} />
    ${hint ? html`<p class="help" id="note-${box}-hint">${hint}</p>` : nothing}
    ${problem(notebook, box)}</div>`;
}

function textBox(
  box: "thermometer" | "name",
  label: string,
  value: string,
  hint: string,
  set: (text: string) => void,
): TemplateResult {
  return html`<div><label class="label" for="note-${box}">${label}</label>
    <input id="note-${box}" class="text" type="text" autocomplete="off" maxlength="60" .value=${live(value)}
      aria-describedby="note-${box}-hint" @input=${(event: Event) => set((event.target as HTMLInputElement).value)} />
    <p class="help" id="note-${box}-hint">${hint}</p></div>`;
}

/** One line of the pot: its percentage, and which jar it is from. */
function potLine(notebook: Notebook, draft: Draft, line: DraftLine, at: number): TemplateResult {
  const { bench, writing } = notebook;
  const name = bench.catalogue.get(line.id)?.name ?? harmless(line.id);
  const change = (part: Partial<DraftLine>) =>
    writing.set({ lines: writing.lines.map((one, i) => (i === at ? { ...one, ...part } : one)) });
  return html`<div class="note-line">
    <span class="note-line-name">${draft.pot === "bench" ? `${line.percent} % ${name}` : name}</span>
    ${
      draft.pot === "other"
        ? html`<span class="note-percent"><input class="text" type="text" inputmode="decimal" autocomplete="off" maxlength="8" aria-label=${say("line-percent", { name })}
            .value=${live(line.percent)} @input=${(event: Event) => change({ percent: (event.target as HTMLInputElement).value })} /> %</span>`
        : nothing
    }
    ${jar(notebook, line, at, name)}
    ${
      draft.pot === "bench"
        ? nothing
        : html`<button type="button" class="icon-button" aria-label=${say("remove-line", { name })}
            @click=${() => writing.set({ lines: writing.lines.filter((_, i) => i !== at) })}>${icon("close")}</button>`
    }
  </div>`;
}

/** Which jar a line is from. */
function jar(notebook: Notebook, { id, from }: DraftLine, at: number, name: string): TemplateResult {
  const { writing } = notebook;
  const sent = from && "sent" in from ? from : null;
  const choices: { words: string; from: FromLot }[] = [
    ...notebook.lotsOf(id).map(({ lot }) => ({ words: harmless(lot.name), from: { noted: lot.name } })),
    ...(sent ? [{ words: say("jar-from-link", { name: sent.sent }), from: sent }] : []),
    { words: say("jar-new"), from: { fresh: true } },
    { words: say("jar-any"), from: null },
  ];
  const key = (one: FromLot) => JSON.stringify(one);
  return html`<select class="select" aria-label=${say("from-which-jar", { name })}
    @change=${(event: Event) => writing.setFrom(at, choices[(event.target as HTMLSelectElement).selectedIndex]?.from ?? null)}>
    ${choices.map((choice) => html`<option .selected=${live(key(choice.from) === key(from))}>${choice.words}</option>`)}
  </select>`;
}

/** Another ingredient for the pot. */
function adding(notebook: Notebook, draft: Draft): TemplateResult {
  const { bench, writing } = notebook;
  const here = new Set(writing.lines.map(({ id }) => id));
  const all = [...bench.catalogue.values()].filter(({ id }) => !here.has(id));
  const add = (event: Event) => {
    const input = event.target as HTMLSelectElement;
    const id = input.value;
    input.value = "";
    if (id)
      writing.set({
        lines: [
          ...writing.lines,
          { id, percent: draft.pot === "pure" ? "100" : "", from: writing.usual(id) },
        ],
      });
  };
  return html`<div class="choice"><label class="label" for="note-add">${draft.pot === "pure" ? say("pot-of-which") : say("pot-add-line")}</label>
    <select id="note-add" class="select" @change=${add}><option value="">${say("choose-ingredient")}</option>
      ${all.map(({ id, name }) => html`<option value=${id}>${name}</option>`)}</select>
    ${notebook.bench.store.kept.own.length ? html`<p class="help">${say("own-not-among-these")}</p>` : nothing}</div>`;
}

function sum(lines: DraftLine[]): TemplateResult {
  const total = lines.reduce((all, { percent }) => all + (Number(percent.replace(",", ".")) || 0), 0);
  return html`<p class="help">${say("own-sum", { sum_percent: Math.round(total * 100) / 100 })}</p>`;
}
