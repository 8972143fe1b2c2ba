// The verdict: a sentence before it is a number.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import type { Behaviour, Place } from "../../contract.js";
import { degrees, shown } from "../../numbers.js";
import { icon } from "../../parts/icons.js";
import { openSheet } from "../../parts/sheets.js";
import { EXAMPLE } from "../../state.js";
import { say, sayFinding, sayFindings } from "../../words.js";
import { figure } from "./origin.js";
import type { OriginKey } from "./sources.js";

/** Holds the place of the remarks, so that nothing moves when they come. */
const NO_REMARKS = html`<div class="no-remarks"></div>`;

/** What the sentence is about. */
function subject(bench: Bench): TemplateResult {
  const name = bench.state.name ?? "This butter";
  return bench.state.recipe === EXAMPLE.recipe
    ? html`${name}, a worked example. <button type="button" class="link" @click=${() => openSheet(bench, "paste")}>Paste your own</button>`
    : html`${name}`;
}

/** Why the verdict is what it is, and what else to mind. */
function toMind({ misses, pack, verdict }: Behaviour): string[] {
  return [
    ...misses.map((miss) => sayFinding("miss", miss)),
    ...(pack && !pack.holds ? [sayFinding("pack", pack)] : []),
    ...verdict.remarks.map((remark) => sayFinding("remark", remark)),
  ];
}

export function verdict(bench: Bench): TemplateResult {
  const shell = (mood: Mood, text: TemplateResult, more = NO_REMARKS) =>
    frame(subject(bench), mood, text, more);
  const total = bench.total();
  if (bench.opening) return shell("waiting", html`Opening what was on the bench…`);
  if (!bench.state.recipe.length) {
    return shell("none", html`${say("verdict-empty")}`);
  }
  if (bench.failure && Math.abs(total - 100) > 0.01) {
    return shell(
      "none",
      html`${say("verdict-sum", { sum_percent: total })}`,
      html`<button type="button" class="button" @click=${() => bench.scale()}>Scale to 100 %</button>`,
    );
  }
  if (bench.failure) return shell("none", html`${bench.failure.message}`);
  if (!bench.behaviour) return shell("waiting", html`${say("verdict-waiting")}`);
  const { mood, findings } = bench.behaviour.verdict;
  const remarks = toMind(bench.behaviour);
  return shell(
    mood,
    html`${sayFindings("verdict", findings)}`,
    remarks.length
      ? html`<details class="remarks"><summary>Why, and what to mind</summary>
          <ul>${remarks.map((remark) => html`<li>${remark}</li>`)}</ul></details>`
      : NO_REMARKS,
  );
}

type Mood = "good" | "doubtful" | "bad" | "none" | "waiting";

function frame(about: TemplateResult, mood: Mood, text: TemplateResult, more: TemplateResult) {
  const sign = mood === "good" || mood === "doubtful" || mood === "bad" ? icon(mood) : nothing;
  return html`<section class="verdict ${mood}" aria-labelledby="verdict-title">
    <h2 id="verdict-title" class="visually-hidden">Verdict</h2>
    <p class="subject">${about}</p>
    <div class="verdict-line"><span class="mood">${sign}</span>
      <p class="verdict-text" role="status" aria-live="polite">${text}</p></div>
    ${more}
  </section>`;
}

/** How it feels in a jar that is so warm. */
export const feels = (place: Place | undefined) => (place ? say(`firmness-${place.firmness}`) : "…");
/** And on skin. */
export const onSkin = (behaviour: Behaviour | null) =>
  behaviour ? say(`skin-${behaviour.residue.feel}`) : "…";

/** What it is like at the temperatures that decide. */
export function places(bench: Bench): TemplateResult {
  const { after } = bench.pair;
  const now = after?.places;
  // Half of a percent is not worth a decimal here.
  const band = after ? ` ± ${shown(after.band.solid_percent, 0)}` : "";
  const { storage_c, skin_c } = bench.state;
  const tile = (
    name: string,
    kind: string,
    celsius: number,
    feel: string,
    place: Place | undefined,
    key: OriginKey,
  ) => html`<div class="place ${kind}">
    <dt>${name} <span class="place-at">${degrees(celsius, bench.store.preferences.temperature)}</span></dt>
    <dd><strong>${feel}</strong>
      ${figure(bench, key, place ? `${shown(place.solid_percent, 0)}${band} % solid` : " ")}</dd>
  </div>`;
  return html`<dl class="places ${bench.failure ? "stale" : ""}">
    ${tile("Coldest", "store", storage_c.coldest, feels(now?.coldest), now?.coldest, "solid")}
    ${tile("Hottest", "store", storage_c.hottest, feels(now?.hottest), now?.hottest, "solid")}
    ${tile("On skin", "skin", skin_c, onSkin(after), now?.skin, "skin")}
  </dl>`;
}
