// The verdict: a sentence before it is a number.

import { html, nothing, type TemplateResult } from "lit/html.js";

import type { Bench } from "../../bench.js";
import type { ChangedLine } from "../../changes.js";
import type { Behaviour, Place } from "../../contract.js";
import { degrees, shown } from "../../numbers.js";
import { icon } from "../../parts/icons.js";
import { figure } from "../../parts/origin.js";
import type { OriginKey } from "../../parts/origins.js";
import { addsUp, even, givers, scale, total } from "../../recipe.js";
import { EXAMPLE } from "../../state.js";
import { say, sayFinding, sayFindings } from "../../words.js";

/** What the sentence is about. */
function subject(bench: Bench): TemplateResult {
  const name = bench.state.name ?? say("unnamed-butter");
  return bench.state.recipe === EXAMPLE.recipe ? html`${say("worked-example", { name })}` : html`${name}`;
}

/** What is said in batches. */
const BY_BATCHES = new Set(["nearly-every-batch", "batches-in-some", "hardly-any-batch"]);

/** Why the verdict is what it is, and what else to mind. */
function toMind({ misses, pack, verdict }: Behaviour): string[] {
  return [
    ...misses.map((miss) => sayFinding("miss", miss)),
    ...(pack && !pack.holds ? [sayFinding("pack", pack)] : []),
    ...verdict.remarks.map((remark) => sayFinding("remark", remark)),
    ...(verdict.findings.some(({ kind }) => BY_BATCHES.has(kind)) ? [say("odds-stand-on")] : []),
  ];
}

/** What is said of the butter, in few words and in all. */
interface Said {
  mood: Mood;
  text: string;
  /** How it begins: what it comes to. */
  lead?: string;
  /** The first of it, where there is little room. */
  brief?: string;
  remarks?: string[];
  /** Whether the sum is what stands in the way. */
  scales?: boolean;
  /** Whether it was said of something else than what is on the bench now. */
  late?: boolean;
}

/** What may be done with what was put on the bench. */
export interface Turned {
  /** How many other answers may take its place, and the way to them. */
  others: number;
  goToOthers(): void;
}

type Mood = "good" | "doubtful" | "bad" | "none" | "waiting";

function said(bench: Bench): Said {
  const sum = total(bench.state.recipe);
  if (bench.opening)
    return {
      mood: "waiting",
      text: bench.away ? say("verdict-no-engine") : say("verdict-opening"),
    };
  if (!bench.state.recipe.length) return { mood: "none", text: say("verdict-empty") };
  if (bench.failure) {
    return !addsUp(bench.state.recipe)
      ? { mood: "none", text: say("verdict-sum", { sum_percent: sum }), scales: true }
      : { mood: "none", text: bench.failure.message };
  }
  const { late, away } = bench;
  const preview = bench.preview();
  const behaviour = preview ?? bench.behaviour;
  if (!behaviour) return { mood: "waiting", text: say(away ? "verdict-no-engine" : "verdict-waiting") };
  const { mood, findings } = behaviour.verdict;
  // What is only looked at is told as such.
  const told = (verdict: string) => (preview ? say("verdict-with-this", { verdict }) : verdict);
  return {
    mood,
    text: told(sayFindings("verdict", findings)),
    lead: told(sayFindings("verdict", findings.slice(0, 1))),
    brief: told(inBrief(findings)),
    remarks: toMind(behaviour),
    late,
  };
}

/** The same where there is room for a few words. */
function inBrief(findings: Behaviour["verdict"]["findings"]): string {
  const [first] = findings;
  if (!first) return "";
  switch (first.kind) {
    case "holds-once-settled":
    case "holds-only-settled":
      return say("brief-once-settled", first);
    case "fails-just-in-heat":
      return say("brief-just-under", first);
    case "just-holds":
      return say("brief-just-holds", first);
    case "too-soft-even-cold":
      return say("brief-too-soft", first);
    case "never-holds":
      return say("brief-never");
    case "mostly-powder":
      return say("brief-powder");
    case "gel-not-foreseen":
      return say("brief-gel");
    default:
      return "holds_to_c" in first && "hottest_c" in first
        ? say("brief-holds-to", first)
        : sayFinding("verdict", first);
  }
}

const sign = (mood: Mood) =>
  mood === "good" || mood === "doubtful" || mood === "bad" ? icon(mood) : nothing;

export function verdict(bench: Bench, turned: Turned): TemplateResult {
  const { mood, text, lead = text, remarks, scales, late } = said(bench);
  // Once the new is worked out, it comes in the place of the old before the eyes (the style sheet says how).
  const was = bench.before !== bench.behaviour && !bench.preview() ? bench.before : null;
  return html`<section class="verdict ${mood} ${late ? "late" : ""} ${was ? "turned" : ""}" aria-labelledby="verdict-title">
    <h2 id="verdict-title" class="visually-hidden">${say("verdict-title")}</h2>
    <p class="subject">${late ? say("verdict-late") : subject(bench)}</p>
    <div class="verdict-line"><span class="mood">${sign(mood)}</span>
      <p class="verdict-text" role="status" aria-live="polite"><span class="verdict-lead">${lead}</span>${more(text.slice(lead.length))}</p>
      ${was ? html`<p class="verdict-was" aria-hidden="true">${sayFindings("verdict", was.verdict.findings.slice(0, 1))}</p>` : nothing}</div>
    ${bench.turned ? turns(bench, bench.turned, was !== null, turned) : nothing}
    ${
      scales
        ? evening(bench)
        : remarks?.length
          ? html`<details class="remarks"><summary>${say("why-and-what-to-mind")}</summary>
            <ul>${remarks.map((remark) => html`<li>${remark}</li>`)}</ul></details>`
          : html`<div class="no-remarks"></div>`
    }
  </section>`;
}

/** What is said after the first, if anything is. */
const more = (text: string) => (text ? html`<span class="verdict-more">${text}</span>` : nothing);

/** What turned into what, under the verdict that it led to. Once more has changed its place stays, so that nothing moves. */
function turns(
  bench: Bench,
  lines: ChangedLine[],
  holds: boolean,
  { others, goToOthers }: Turned,
): TemplateResult {
  return html`<ul class="turns ${holds ? "" : "past"}" aria-label=${say("what-changed")}>${lines.map(
    ({ item, from_percent, to_percent }) =>
      html`<li><span class="turn-name">${bench.name(item)}</span> <span class="from">${shown(from_percent, 2)}</span> →
        <strong>${shown(to_percent, 2)} %</strong></li>`,
  )}${
    others > 0
      ? html`<li><button type="button" class="figure" @click=${goToOthers}>${say("other-answers")}</button></li>`
      : nothing
  }</ul>`;
}

/** The likeliest way to 100 %; the others stand under the recipe. */
export function evening(bench: Bench): TemplateResult {
  const [giver] = givers(bench);
  if (!giver)
    return html`<button type="button" class="button" @click=${() => scale(bench)}>${say("all-in-proportion")}</button>`;
  const words = say(total(bench.state.recipe) > 100 ? "take-from" : "give-to", {
    name: bench.name(giver.item),
  });
  return html`<button type="button" class="button" @click=${() => even(bench, giver.at)}>${words}</button>`;
}

/** The verdict where something else is looked at: a line, and the way back to it. */
export function verdictLine(bench: Bench, go: () => void): TemplateResult {
  const { mood, text, brief = text, late } = said(bench);
  const back = (event: Event) => {
    event.preventDefault();
    go();
  };
  return html`<a class="verdict-brief ${mood} ${late ? "late" : ""}" href="#bench" @click=${back}>
    <span class="mood">${sign(mood)}</span><span class="visually-hidden">${say("verdict-is")} </span><span class="brief-text">${brief}</span></a>`;
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
  // Half of a percent is not worth a decimal here; nor is a band that reaches below nothing.
  const solid = (solid_percent: number) => {
    const band_percent = after?.band.solid_percent ?? 0;
    return solid_percent < band_percent
      ? say("solid-at-most", { most_percent: solid_percent + band_percent })
      : say("solid-about", { solid_percent });
  };
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
      ${figure(bench, key, place ? solid(place.solid_percent) : " ")}</dd>
  </div>`;
  return html`<dl class="places ${bench.failure || bench.late ? "stale" : ""}">
    ${tile(say("place-coldest"), "store", storage_c.coldest, feels(now?.coldest), now?.coldest, "solid")}
    ${tile(say("place-hottest"), "store", storage_c.hottest, feels(now?.hottest), now?.hottest, "solid")}
    ${tile(say("place-skin"), "skin", skin_c, onSkin(after), now?.skin, "skin")}
  </dl>`;
}
