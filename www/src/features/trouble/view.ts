// What went wrong: from what was seen to why, and to a rework.

import { live } from "lit/directives/live.js";
import { html, nothing, type TemplateResult } from "lit/html.js";
import type { Kinds } from "../../../generated/messages.js";
import type { Preset, Sign, State, Symptom } from "../../contract.js";
import { USUAL_WAY } from "../../forms.js";
import { degrees, shown, toUnit } from "../../numbers.js";
import { celsiusBox, massBox, select } from "../../parts/controls.js";
import { icon } from "../../parts/icons.js";
import type { Stations } from "../../stations.js";
import { say, sayFinding, sayFindings } from "../../words.js";
import { openPaste } from "../bench/paste.js";
import type { Pasted } from "../bench/pasted.js";
import { TROUBLES } from "../notebook/draft.js";
import type { Notebook } from "../notebook/state.js";
import { findRework } from "../rework/find.js";
import type { Search } from "../rework/state.js";
import type { Trouble } from "./state.js";

const SIGNS: Kinds["sign"][] = [
  "turns-to-oil",
  "oil-pool",
  "soft-top",
  "separated-layers",
  "grainy",
  "too-hard-in-the-cold",
  "waxy-on-skin",
  "greasy-on-skin",
  "smells-off",
  "harms-skin",
  "water-in-it",
];

/** What no change of storage or of what holds in it mends. */
const NOT_TO_REWORK = new Set<Sign>(["smells-off", "greasy-on-skin", "harms-skin", "water-in-it"]);

/** What is asked about besides the butter. */
export interface Around {
  search: Search;
  stations: Stations;
  notebook: Notebook;
  pasted: Pasted;
}

export function troubleCard(trouble: Trouble, around: Around): TemplateResult {
  const { told, sign, words, failure, recipeLines } = trouble;
  return html`<section class="card" aria-labelledby="trouble-title">
    <h2 id="trouble-title">${say("trouble")}</h2>
    ${about(trouble, around.pasted)}
    ${select("symptom", say("last-batch"), { "": say("choose-sign"), ...Object.fromEntries(SIGNS.map((one) => [one, say(`sign-${one}`)])) }, sign, (value) => trouble.seen(value as Sign | ""))}
    <div><label class="label" for="symptom-words">${say("own-words")}</label>
    <textarea id="symptom-words" class="text told-words" rows="2" maxlength="2000" placeholder=${say("own-words-example")} autocomplete="off"
      .value=${live(words)} @input=${(event: Event) => trouble.said((event.target as HTMLTextAreaElement).value)}></textarea></div>
    ${
      recipeLines
        ? html`<p class="asks" role="status">${say("words-hold-recipe", { count: recipeLines })}
            <button type="button" class="button" @click=${() => take(around.pasted, words)}>${say("look-at-it")}</button></p>`
        : nothing
    }
    ${failure ? html`<p class="problem" role="alert">${failure}</p>` : nothing}
    ${told ? answer(trouble, told, around) : nothing}
  </section>`;
}

/** Which recipe is spoken of, and the way to one's own. */
function about({ bench, ofExample }: Trouble, pasted: Pasted): TemplateResult {
  const lines = bench.state.recipe
    .map((item) => say("line-of-recipe", { name: bench.name(item), line_percent: item.percent }))
    .join(", ");
  return html`<p class="asks ${ofExample ? "not-yours" : ""}"><span>${
    ofExample ? say("about-example") : say("about-recipe", { name: bench.state.name ?? lines })
  }</span>
    <button type="button" class="button ${ofExample ? "primary" : ""}" @click=${() => openPaste(pasted)}>${say(ofExample ? "paste-yours" : "paste-another")}</button></p>`;
}

/** The recipe that was told with the trouble, to be looked at before anything changes. */
function take(pasted: Pasted, words: string): void {
  void pasted.read(words);
  openPaste(pasted);
}

function answer(trouble: Trouble, told: Symptom, { search, stations, notebook }: Around): TemplateResult {
  const { bench } = trouble;
  const unit = bench.store.preferences.temperature;
  const { storage_c } = trouble;
  const range = {
    from: shown(toUnit(storage_c.coldest, unit)),
    to: degrees(storage_c.hottest, unit),
  };
  const ask = (made: State["made"]) => {
    const from_c = bench.state.storage_c.hottest;
    const to_c = storage_c.hottest;
    const melts = told.sign === "waxy-on-skin" ? { on_skin: "melts" as const } : {};
    bench.store.change({ storage_c, made, other_storage_c: null, ...melts });
    bench.store.join();
    if (from_c !== to_c)
      bench.say({ text: say("hottest-is-now", { from_c, to_c }), tone: "plain", actions: [bench.undoing] });
    findRework(search, stations);
  };
  const note = () => {
    notebook.writing.beginTrouble(told.sign);
    stations.go("notebook");
  };
  const travel = (preset: Preset) => {
    bench.store.change({ journey: { ...USUAL_WAY, ...bench.state.journey, preset } });
    stations.go("heat");
  };
  const [first, ...more] = told.remedies;
  const [reading, ...moreReadings] = told.readings;
  return html`<h3>${say(`sign-${told.sign}`)}</h3>
    ${reading ? html`<p><strong>${sayFinding("reading", reading)}</strong> ${sayFindings("reading", moreReadings)}</p>` : html`<p>${sayFindings("cause", told.causes)}</p>`}
    ${first ? html`<p>${sayFinding("remedy", first)}</p>` : nothing}
    ${told.way ? html`<button type="button" class="button" @click=${() => travel(told.way as Preset)}>${say("see-on-its-way", { way: told.way })}</button>` : nothing}
    ${
      NOT_TO_REWORK.has(told.sign)
        ? nothing
        : html`<div class="pair">
            ${celsiusBox(bench, "trouble-hottest", say("how-hot"), storage_c.hottest, null, (hottest_c) => trouble.set({ hottest_c }))}
            ${massBox(bench, "trouble-grams", say("how-much"), trouble.made.grams, 10, null, (grams) => trouble.set({ grams }))}
          </div>
          <div class="row"><button type="button" class="button primary" @click=${() => ask(trouble.made)}>${icon("find")} ${say("rescue-the-batch", range)}</button>
          <button type="button" class="button" @click=${() => ask(null)}>${say("find-rework-for", range)}</button></div>`
    }
    <details><summary>${say("why-and-more")}</summary>
      ${told.readings.length ? html`<p>${sayFindings("cause", told.causes)}</p>` : nothing}
      <ul class="bullets">${more.map((remedy) => html`<li>${sayFinding("remedy", remedy)}</li>`)}</ul></details>
    ${TROUBLES.has(told.sign) ? html`<div class="row"><button type="button" class="button" @click=${note}>${say("keep-in-notebook")}</button></div>` : nothing}`;
}
