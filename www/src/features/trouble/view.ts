// What went wrong: from what was seen to why, and to a rework.

import { live } from "lit/directives/live.js";
import { html, nothing, type TemplateResult } from "lit/html.js";
import type { Kinds } from "../../../generated/messages.js";
import type { Sign, State, Symptom } from "../../contract.js";
import { degrees } from "../../numbers.js";
import { select } from "../../parts/controls.js";
import { icon } from "../../parts/icons.js";
import type { Stations } from "../../stations.js";
import { say, sayFinding, sayFindings } from "../../words.js";
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
];

export function troubleCard(
  trouble: Trouble,
  search: Search,
  stations: Stations,
  notebook: Notebook,
): TemplateResult {
  const { bench, told, sign, words, failure } = trouble;
  const unit = bench.store.preferences.temperature;
  const range = ({ rework_storage_c: { coldest, hottest } }: Symptom) => ({
    from: degrees(coldest, unit),
    to: degrees(hottest, unit),
  });
  const ask = ({ rework_storage_c }: Symptom, made: State["made"]) => {
    const from_c = bench.state.storage_c.hottest;
    const to_c = rework_storage_c.hottest;
    bench.store.change({ storage_c: rework_storage_c, made, other_storage_c: null });
    bench.store.join();
    if (from_c !== to_c)
      bench.say({ text: say("hottest-is-now", { from_c, to_c }), tone: "plain", actions: [bench.undoing] });
    findRework(search, stations);
  };
  const note = ({ sign }: Symptom) => {
    notebook.writing.beginTrouble(sign);
    stations.go("notebook");
  };
  return html`<section class="card" aria-labelledby="trouble-title">
    <h2 id="trouble-title">${say("trouble")}</h2>
    ${select("symptom", say("last-batch"), { "": say("choose-sign"), ...Object.fromEntries(SIGNS.map((one) => [one, say(`sign-${one}`)])) }, sign, (value) => trouble.seen(value as Sign | ""))}
    <label class="label" for="symptom-words">${say("own-words")}</label>
    <input id="symptom-words" class="text" type="text" maxlength="200" placeholder=${say("own-words-example")} autocomplete="off"
      .value=${live(words)} @input=${(event: Event) => trouble.said((event.target as HTMLInputElement).value)} />
    ${failure ? html`<p class="problem" role="alert">${failure}</p>` : nothing}
    ${
      told
        ? html`<h3>${say(`sign-${told.sign}`)}</h3><p>${sayFindings("cause", told.causes)}</p>
          <p><strong>${sayFindings("reading", told.readings)}</strong></p>
          <ul class="bullets">${told.remedies.map((remedy) => html`<li>${sayFinding("remedy", remedy)}</li>`)}</ul>
          <div class="row"><button type="button" class="button primary" @click=${() => ask(told, null)}>${icon("find")} ${say("find-rework-for", range(told))}</button>
          <button type="button" class="button" @click=${() => ask(told, { grams: bench.store.preferences.batch, used_grams: 0 })}>${say("rescue-the-batch", range(told))}</button>
          ${TROUBLES.has(told.sign) ? html`<button type="button" class="button" @click=${() => note(told)}>${say("keep-in-notebook")}</button>` : nothing}</div>`
        : nothing
    }
  </section>`;
}
