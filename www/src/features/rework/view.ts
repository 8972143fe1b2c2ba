// Reworks: a short list to compare. What changes comes first, then what it does.

import { html, nothing, type TemplateResult } from "lit/html.js";
import type { App } from "../../app.js";
import type { Added, Change } from "../../contract.js";
import { degrees, sentence, shown } from "../../numbers.js";
import { chips, mass } from "../../parts/controls.js";
import { icon } from "../../parts/icons.js";
import { keyOf, sent } from "../../state.js";
import { sayFinding } from "../../words.js";
import { askOrigin } from "../bench/origin.js";
import { smallPicture } from "../bench/picture.js";
import { feels, onSkin } from "../bench/verdict.js";
import { madeBatch, otherSeason } from "../bench/wishes.js";
import { avoided, limits } from "./limits.js";
import { type Aim, type Answer, aimOf, asNow, left } from "./state.js";

export const FIND: Record<Aim, string> = {
  rework: "Find a rework",
  rescue: "Find a rescue",
  seasons: "Find both",
};

const PROMISE: Record<Aim, string> = {
  rework: "The smallest change of this recipe that keeps its shape in this climate and still feels right.",
  rescue: "Nothing can be taken out of it: the least to melt in, so that it is as wished.",
  seasons: "A summer and a winter version that differ in as few lines as possible, both as wished.",
};

const WISHES: Record<string, string> = {
  "holds-at-hottest": "to keep its shape at the hottest",
  "firm-enough-at-hottest": "to stay firm enough at the hottest",
  "firmness-at-usual": "for that firmness at room temperature",
  "soft-enough-at-coldest": "to stay soft enough at the coldest",
  "on-skin": "for what it does on skin",
};

export function reworks(app: App): TemplateResult {
  const aim = aimOf(app.state);
  const set = (value: Aim) => {
    const { storage_c } = app.state;
    app.store.change({
      made: value === "rescue" ? { grams: app.store.preferences.batch, used_grams: 0 } : null,
      other_storage_c:
        value === "seasons"
          ? {
              coldest: Math.max(-20, storage_c.coldest - 12),
              hottest: Math.max(-20, storage_c.hottest - 10),
            }
          : null,
    });
  };
  return html`<section class="card reworks" id="reworks" tabindex="-1" aria-labelledby="reworks-title">
    <h2 id="reworks-title">Rework</h2>
    ${chips<Aim>(
      "What for",
      "aim",
      [
        { value: "rework", label: "Next batch" },
        { value: "rescue", label: "Rescue a batch" },
        { value: "seasons", label: "Two seasons" },
      ],
      aim,
      set,
    )}
    ${aim === "rescue" ? madeBatch(app) : aim === "seasons" ? otherSeason(app) : nothing}
    ${avoided(app)}
    ${body(app, aim)}
    ${limits(app)}
  </section>`;
}

function body(app: App, aim: Aim): TemplateResult {
  const { status, list, failure, examined, asked, progress, best, words } = app.search.now;
  const stale = asked !== null && asked !== app.state;
  if (status === "running") {
    const share = progress && progress.total > 0 ? Math.min(1, progress.decided / progress.total) : null;
    return html`<div class="running" role="status">
      ${
        share === null
          ? html`<progress aria-label="Searching"></progress>`
          : html`<progress aria-label="Searching" value=${share} max="1"></progress>`
      }
      <p>Looking through every way${share === null ? "" : html`: ${shown(share * 100, 0)} %`}…</p>
      ${
        best
          ? html`<p>This would do; a smaller change may yet turn up:</p>
              <ul class="changes">${best.changes.map((change) => changed(app, change))}</ul>`
          : nothing
      }
      <button type="button" class="button" @click=${() => app.search.cancel()}>${best ? "Stop, and take this" : "Cancel"}</button>
    </div>`;
  }
  if (status === "failed" && failure) {
    return html`<p class="problem" role="alert">${failure.message}</p>${ask(app, aim)}`;
  }
  if (status !== "done") return html`<p>${PROMISE[aim]}</p>${ask(app, aim)}`;
  const plain = list.filter((answer) => !answer.gives);
  const spared = list.filter((answer) => answer.gives);
  const told =
    app.search.now.aim === "seasons"
      ? words
      : `${counted(plain.length)}; recipes examined: ${shown(examined, 0)}. ${words}`;
  const cards = (answers: Answer[]) =>
    html`<ol class="proposals">${answers.map((answer) => card(app, answer, list.indexOf(answer), stale))}</ol>`;
  return html`<p role="status" class="help">${
    stale ? "The bench has changed since: these answers are for what it was." : told
  } ${askOrigin(app, "rework", "these answers")}</p>
    ${stale ? ask(app, aim) : nothing}
    ${app.search.now.aim === "seasons" ? seasons(app, stale) : nothing}
    ${cards(plain)}
    ${
      spared.length
        ? html`<h3>What stands in the way</h3><p class="help">Not every wish can be met. If one of these gives way, all the others can be.</p>${cards(spared)}`
        : nothing
    }`;
}

function counted(count: number): string {
  return count === 0 ? "No answer" : count === 1 ? "One answer" : `${count} answers`;
}

function ask(app: App, aim: Aim): TemplateResult {
  return html`<button type="button" class="button primary wide" @click=${() => app.search.find()}>${icon("find")} ${FIND[aim]}</button>`;
}

/** Both versions beside the recipe as it is; what differs stands out. */
function seasons(app: App, stale: boolean): TemplateResult {
  const { list, differ } = app.search.now;
  const keys = new Map<string, string>();
  for (const recipe of [app.state.recipe, ...list.map((answer) => answer.recipe)]) {
    for (const item of recipe) keys.set(keyOf(item), app.name(item));
  }
  const amount = (recipe: { id?: string; name?: string; percent: number }[], key: string) => {
    const found = recipe.find((item) => keyOf(item) === key);
    return found && found.percent > 0 ? `${shown(found.percent, 2)} %` : "–";
  };
  const keep = () => {
    const name = app.state.name ?? "Body butter";
    const done = list.map((answer) =>
      app.store.kept.keep(`${name}, ${answer.season}`, {
        state: sent({
          ...app.state,
          name: `${name}, ${answer.season}`,
          recipe: answer.recipe,
          storage_c: answer.storage_c,
          other_storage_c: null,
        }),
      }),
    );
    app.say(
      done.every(Boolean)
        ? { text: "Both versions are on the shelf, by name.", tone: "plain" }
        : { text: "This browser keeps nothing for the page: use one, and share its link.", tone: "problem" },
    );
  };
  return html`<table class="seasons">
      <thead><tr><th scope="col">Ingredient</th><th scope="col">Now</th>${list.map((answer) => html`<th scope="col">${SEASONS[answer.season ?? "summer"]}</th>`)}</tr></thead>
      <tbody>${[...keys].map(([key, name]) => {
        const differs = differ.some((change) => change.id === key);
        return html`<tr class=${differs ? "differs" : ""}><th scope="row">${name}</th><td>${amount(app.state.recipe, key)}</td>
          ${list.map((answer) => html`<td>${amount(answer.recipe, key)}</td>`)}</tr>`;
      })}</tbody>
    </table>
    <button type="button" class="button wide" ?disabled=${stale} @click=${keep}>Keep both on the shelf</button>`;
}

const SEASONS = { summer: "Summer", winter: "Winter" };

function card(app: App, answer: Answer, at: number, stale: boolean): TemplateResult {
  const chosen = app.search.now.chosen === at && !stale;
  const unit = app.store.preferences.temperature;
  const { behaviour, storage_c, add, season, gives, cost } = answer;
  const { coldest, hottest } = storage_c;
  const near =
    app.search.now.aim === "rework" && app.search.now.asked !== null && asNow(app.search.now.asked);
  const good = near || answer.meets_all;
  const nothingToDo = add ? add.length === 0 : answer.changes.length === 0;
  const meets = gives
    ? `If ${gives.map((one) => `the wish ${WISHES[one.wish] ?? one.wish} gives ${shown(one.gives_points)} points`).join(", and ")}`
    : near
      ? "As near as can be to how it is now"
      : answer.meets_all
        ? "Meets every wish"
        : "In the way:";
  // Two wishes may ask the same of the same place.
  const misses = answer.misses.filter(
    (miss, i, all) =>
      all.findIndex(
        (one) => one.at_c === miss.at_c && one.kind === miss.kind && one.low_percent === miss.low_percent,
      ) === i,
  );
  return html`<li class="proposal ${chosen ? "chosen" : ""}">
    <h3 class=${season ? "" : "visually-hidden"}>${season ? SEASONS[season] : `Answer ${at + 1}`}</h3>
    <p class="meets ${good ? "good" : "doubtful"}">${icon(good ? "good" : "doubtful")}<span>${meets}</span></p>
    ${gives ? nothing : misses.map((miss) => html`<p>${sayFinding("miss", miss)}</p>`)}
    ${
      add?.length
        ? html`<ul class="changes">${add.map((one) => added(app, one))}</ul>`
        : answer.changes.length && !season
          ? html`<ul class="changes">${answer.changes.map((change) => changed(app, change))}</ul>`
          : nothing
    }
    ${smallPicture(app, app.behaviour, behaviour, storage_c)}
    <dl class="mini">
      ${mini("cold", degrees(coldest, unit), answer.solid_percent.coldest, feels(behaviour?.places.coldest))}
      ${mini("hot", degrees(hottest, unit), answer.solid_percent.hottest, feels(behaviour?.places.hottest))}
      ${mini("skin", degrees(app.state.skin_c, unit), answer.solid_percent.skin, onSkin(behaviour))}
    </dl>
    ${
      cost
        ? html`<p class="help">Costs ${shown(cost.per_kg, 2)} a kilogram, ${shown(cost.per_jar, 2)} a jar${
            cost.without_price.length ? ", and what has no price yet" : ""
          }${now(app, cost.per_kg)}.</p>`
        : nothing
    }
    <details><summary>In words</summary><p class="proposal-words">${sentence(answer.words, unit)}</p></details>
    <div class="row">
      <button type="button" class="button" aria-pressed=${chosen ? "true" : "false"} ?disabled=${stale}
        @click=${() => app.search.choose(at)}>${chosen ? "Shown" : "Show it"}</button>
      ${
        nothingToDo && !season
          ? nothing
          : html`<button type="button" class="button primary" ?disabled=${stale} @click=${() => app.search.apply(at)}>Use this</button>
              <button type="button" class="icon-button" aria-label="Share answer ${at + 1}" ?disabled=${stale}
                @click=${() => app.share({ recipe: answer.recipe, storage_c })}>${icon("share")}</button>`
      }
      ${
        add?.length
          ? html`<button type="button" class="button" ?disabled=${stale} @click=${() => void printRescue(app, at)}>${icon("print")} Print</button>`
          : nothing
      }
    </div>
  </li>`;
}

function now(app: App, per_kg: number): string {
  const { batch } = app.tools;
  if (!batch?.cost) return "";
  const more = per_kg - batch.cost.per_kg;
  return Math.abs(more) < 0.005
    ? "; as much as now"
    : `; ${shown(Math.abs(more), 2)} ${more > 0 ? "more" : "less"} a kilogram than now`;
}

async function printRescue(app: App, at: number): Promise<void> {
  app.search.choose(at);
  await app.tools.print();
}

function added(app: App, { id, grams }: Added): TemplateResult {
  const unit = app.store.preferences.mass;
  const { made } = app.state;
  return html`<li class="change"><span class="change-name">Melt in ${app.nameOf(id)}</span>
    <span class="change-figures"><strong>${mass(grams, unit)}</strong>
      ${made ? html`<small>into ${mass(left(made), unit)}</small>` : nothing}</span></li>`;
}

function changed(app: App, { id, from_percent, to_percent }: Change): TemplateResult {
  const more = to_percent > from_percent;
  const delta = shown(Math.abs(to_percent - from_percent), 2);
  return html`<li class="change"><span class="change-name">${app.nameOf(id)}</span>
    <span class="change-figures"><span class="from">${shown(from_percent, 2)}</span> → <strong>${shown(to_percent, 2)} %</strong>
      <small>${more ? `+${delta}` : `−${delta}`}</small></span></li>`;
}

function mini(kind: string, where: string, solid: number, feel: string): TemplateResult {
  return html`<div class="mini-place ${kind}"><dt>${where}</dt><dd>${feel}<small>${shown(solid, 0)} % solid</small></dd></div>`;
}
