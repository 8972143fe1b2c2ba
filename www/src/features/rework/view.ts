// Reworks: a short list to compare. What changes comes first, then what it does.

import { html, nothing, type TemplateResult } from "lit/html.js";
import type { Bench } from "../../bench.js";
import type { Added, Change, Format } from "../../contract.js";
import { RANGES } from "../../forms.js";
import { degrees, shown } from "../../numbers.js";
import { chips, mass } from "../../parts/controls.js";
import { icon } from "../../parts/icons.js";
import { askOrigin } from "../../parts/origin.js";
import { priced, priceOf } from "../../prices.js";
import { keyOf, left, type State, sent } from "../../state.js";
import type { Stations } from "../../stations.js";
import { say, sayFinding, sayFindings } from "../../words.js";
import { smallPicture } from "../bench/picture.js";
import { feels, onSkin } from "../bench/verdict.js";
import { rescueSteps } from "../make/melting.js";
import { type Make, wholeBatch } from "../make/state.js";
import { madeBatch, otherSeason } from "./aims.js";
import { alone } from "./alone.js";
import { ladder } from "./ladder.js";
import { liftedInWords } from "./lifted.js";
import { avoided, limits, pantry } from "./limits.js";
import { oddsTold } from "./offer.js";
import { type Aim, type Answer, aimOf, asNow, type Search } from "./state.js";
import { surety } from "./surety.js";

export const FIND: Record<Aim, string> = {
  rework: say("find-rework"),
  rescue: say("find-rescue"),
  seasons: say("find-both"),
};

const PROMISE: Record<Aim, string> = {
  rework: say("promise-rework"),
  rescue: say("promise-rescue"),
  seasons: say("promise-seasons"),
};

const WISHES: Record<string, string> = {
  "holds-at-hottest": say("wish-holds-at-hottest"),
  "firm-enough-at-hottest": say("wish-firm-enough-at-hottest"),
  "firmness-at-usual": say("wish-firmness-at-usual"),
  "soft-enough-at-coldest": say("wish-soft-enough-at-coldest"),
  "on-skin": say("wish-on-skin"),
};

export function reworks(search: Search, make: Make, stations: Stations): TemplateResult {
  const { bench } = search;
  const aim = aimOf(bench.state);
  const set = (value: Aim) => {
    const { storage_c } = bench.state;
    bench.store.change({
      made: value === "rescue" ? wholeBatch(bench) : null,
      other_storage_c:
        value === "seasons"
          ? {
              coldest: Math.max(RANGES.storage_c[0], storage_c.coldest - 12),
              hottest: Math.max(RANGES.storage_c[0], storage_c.hottest - 10),
            }
          : null,
    });
  };
  return html`<section class="card reworks" id="reworks" tabindex="-1" aria-labelledby="reworks-title">
    <h2 id="reworks-title">${say("station-rework")}</h2>
    ${chips<Aim>(
      say("what-for"),
      "aim",
      [
        { value: "rework", label: say("for-next-batch") },
        { value: "rescue", label: say("for-rescue") },
        { value: "seasons", label: say("for-seasons") },
      ],
      aim,
      set,
    )}
    ${aim === "rescue" ? madeBatch(search) : aim === "seasons" ? otherSeason(bench) : nothing}
    ${surety(bench)}
    ${avoided(bench)}
    ${pantry(search)}
    ${body(search, make, stations, aim)}
    ${aim === "rework" && !asNow(bench.state) ? ladder(search, stations) : nothing}
    ${limits(search)}
  </section>`;
}

function body(search: Search, make: Make, stations: Stations, aim: Aim): TemplateResult {
  const { bench } = search;
  const { status, list, failure, progress, best, words } = search.now;
  const { stale, used } = search;
  if (status === "running") {
    const share = progress && progress.total > 0 ? Math.min(1, progress.decided / progress.total) : null;
    return html`<div class="running" role="status">
      ${
        share === null
          ? html`<progress aria-label=${say("searching")}></progress>`
          : html`<progress aria-label=${say("searching")} value=${share} max="1"></progress>`
      }
      <p>${share === null ? say("looking") : say("looking-so-far", { done_percent: share * 100 })}</p>
      ${
        best
          ? html`<p>${say("would-do")}</p>
              <ul class="changes">${best.changes.map((change) => changed(bench, change))}</ul>`
          : nothing
      }
      <button type="button" class="button" @click=${() => search.cancel()}>${say(best ? "stop-and-take" : "cancel")}</button>
    </div>`;
  }
  if (status === "failed" && failure && !search.left) {
    return html`<p class="problem" role="alert">${failure.message}</p>${ask(search, aim)}`;
  }
  // Nothing was asked for this yet; what was asked for something else is no answer to it, though it is there
  // when one comes back.
  if (status !== "done" || search.left || (search.now.aim !== aim && !used)) {
    return html`<p>${PROMISE[aim]}</p>${ask(search, aim)}`;
  }
  const { atMost } = search.now;
  const oneForBoth = search.now.aim === "seasons" && search.now.differ.length === 0;
  const plain = list.filter((answer) => !isWay(answer) && !(oneForBoth && answer.season === "winter"));
  const ways = list.filter((answer) => isWay(answer) && (answer.gives?.length ?? 0) <= MOST_GIVEN_UP);
  const told = search.now.aim === "seasons" ? words : `${say("answers", { count: plain.length })} ${words}`;
  const cards = (answers: Answer[]) =>
    html`<ol class="proposals">${answers.map((answer) => card(search, make, stations, answer, list.indexOf(answer), stale))}</ol>`;
  const folded = (answer: Answer, name: string) => html`<details class="way"><summary>
      <span class="way-name">${name}</span>
      ${answer.changes.length ? html`<span class="way-what">${changesInBrief(bench, answer)}</span>` : nothing}</summary>
    ${cards([answer])}</details>`;
  const [only] = plain;
  const fine = only && plain.length === 1 && needsNothing(only);
  return html`${
    atMost
      ? html`<div role="status"><p class="meets doubtful headline">${icon("doubtful")}<span>${sayFinding("at-most", atMost)}</span></p>
          <p class="help">${say("at-most-so-surely", { surety: search.now.asked?.limits.surety ?? "likely" })}</p></div>`
      : nothing
  }
    ${
      (atMost || fine) && !stale && !used
        ? nothing
        : html`<p class="help"><span role="status">${stale ? say("answers-stale") : used ? say("answers-used") : told}</span>
          ${askOrigin(bench, "rework", say("of-answers"))}</p>`
    }
    ${stale || used ? ask(search, aim) : nothing}
    ${search.now.aim === "seasons" && !oneForBoth ? seasons(search, stale) : nothing}
    ${atMost ? nothing : fine ? nothingNeeded(search, only) : cards(plain)}
    ${alone(search)}
    ${
      ways.length
        ? html`<h3>${say("would-help")}</h3>
          <div class="ways">${ways.map((answer) => folded(answer, wayName(bench, answer, search.now.asked ?? bench.state)))}</div>`
        : nothing
    }
    ${
      atMost && plain.length
        ? html`<h3>${say("nearest-to-it")}</h3>
          <div class="ways">${plain.map((answer) => folded(answer, oddsTold(answer)))}</div>`
        : nothing
    }
    ${atMost && !stale && !used ? html`<p class="help">${askOrigin(bench, "rework", say("of-answers"))}</p>` : nothing}`;
}

/** What a maker must know before weighing stands in sight, not folded away. */
const isCaution = ({ kind }: Answer["findings"][number]) =>
  kind === "grows-grains" || kind === "wax-holds-no-air";

/** To give up nearly all that was wished for is no help. */
const MOST_GIVEN_UP = 2;

/** Whether it is what could be had instead of what was asked. */
const isWay = ({ gives, lifts, cooler, format }: Answer) =>
  gives !== null || lifts !== null || cooler !== null || format !== null;

const needsNothing = ({ add, changes, meets_all, season }: Answer) =>
  meets_all && !season && (add ? add.length === 0 : changes.length === 0);

/** That nothing needs to change is the whole answer; how surely, and with how much room, in a line. */
function nothingNeeded(search: Search, { add, holds, room_c }: Answer): TemplateResult {
  return html`<div class="proposal chosen"><p class="meets good headline" role="status">${icon("good")}<span>${say(add ? "nothing-to-add" : "nothing-to-change")}</span></p>
    <p>${sayFinding("verdict", holds)} ${room_c !== null && room_c > 0 ? say("room-to-spare", { room_k: room_c }) : nothing}
      ${askOrigin(search.bench, "rework", say("of-answers"))}</p></div>`;
}

/** What would have to be, for what could be had instead. */
function wayName(bench: Bench, answer: Answer, asked: State): string {
  const { cooler, format, lifts, gives, storage_c } = answer;
  if (lifts) return liftedInWords(bench, lifts);
  if (format) return FORMATS[format];
  if (cooler) {
    const to_c = storage_c.hottest;
    if (to_c >= asked.storage_c.hottest) return say(cooler.length > 1 ? "way-any-feel" : "way-any-firmness");
    if (!cooler.length) return say("way-cooler", { to_c });
    return say(cooler.length > 1 ? "way-cooler-any-feel" : "way-cooler-any-firmness", { to_c });
  }
  const wishes = (gives ?? []).map((one) => WISHES[one.wish] ?? one.wish).join(say("and-joins"));
  return say("if-gives", { wishes });
}

const FORMATS: Record<Format, string> = {
  whipped: say("way-whipped"),
  pot: say("way-pot"),
  bar: say("way-bar"),
  stick: say("way-stick"),
};

const changesInBrief = (bench: Bench, { changes }: Answer): string =>
  changes
    .map(({ id, from_percent, to_percent }) =>
      say("change-line", { name: bench.nameOf(id), from_percent, to_percent }),
    )
    .join(", ");

function ask(search: Search, aim: Aim): TemplateResult {
  return html`<button type="button" class="button primary wide" @click=${() => search.find()}>${icon("find")} ${FIND[aim]}</button>`;
}

/** Both versions beside the recipe as it is; what differs stands out. */
function seasons({ bench, now }: Search, stale: boolean): TemplateResult {
  const { list, differ } = now;
  const asked = now.asked ?? bench.state;
  const keys = new Map<string, string>();
  for (const recipe of [asked.recipe, ...list.map((answer) => answer.recipe)]) {
    for (const item of recipe) keys.set(keyOf(item), bench.name(item));
  }
  const amount = (recipe: { id?: string; name?: string; percent: number }[], key: string) => {
    const found = recipe.find((item) => keyOf(item) === key);
    return found && found.percent > 0 ? `${shown(found.percent, 2)} %` : "–";
  };
  const keep = () => {
    const name = bench.state.name ?? say("body-butter");
    const done = list.map((answer) =>
      bench.store.kept.keep(versionOf(name, answer.season), {
        state: sent({
          ...bench.state,
          name: versionOf(name, answer.season),
          recipe: answer.recipe,
          storage_c: answer.storage_c,
          other_storage_c: null,
          rescued: null,
        }),
      }),
    );
    bench.say(
      done.every(Boolean)
        ? { text: say("both-kept"), tone: "plain" }
        : { text: say("both-not-kept"), tone: "problem" },
    );
  };
  return html`<table class="seasons">
      <thead><tr><th scope="col">${say("ingredient")}</th><th scope="col">${say("now")}</th>${list.map((answer) => html`<th scope="col">${SEASONS[answer.season ?? "summer"]}</th>`)}</tr></thead>
      <tbody>${[...keys].map(([key, name]) => {
        const differs = differ.some((change) => change.id === key);
        return html`<tr class=${differs ? "differs" : ""}><th scope="row">${name}</th><td>${amount(asked.recipe, key)}</td>
          ${list.map((answer) => html`<td>${amount(answer.recipe, key)}</td>`)}</tr>`;
      })}</tbody>
    </table>
    <button type="button" class="button wide" ?disabled=${stale} @click=${keep}>${say("keep-both")}</button>`;
}

const SEASONS = { summer: say("summer"), winter: say("winter") };

/** What a version for a season is kept as. */
const versionOf = (name: string, season: Answer["season"]) =>
  say(season === "winter" ? "winter-version" : "summer-version", { name });

function card(
  search: Search,
  make: Make,
  stations: Stations,
  answer: Answer,
  at: number,
  stale: boolean,
): TemplateResult {
  const { bench } = search;
  const chosen = search.now.chosen === at && !stale;
  const used = search.used?.at === at;
  const unit = bench.store.preferences.temperature;
  const { behaviour, storage_c, add, season, gives, cost } = answer;
  const { coldest, hottest } = storage_c;
  const near = search.now.aim === "rework" && search.now.asked !== null && asNow(search.now.asked);
  // No tick where it is less likely to hold than was asked; of one that is to be as now, than is usual.
  const good = near ? answer.odds.holds >= 0.75 : answer.meets_all;
  const nothingToDo = add ? add.length === 0 : answer.changes.length === 0;
  const meets = gives
    ? say("meets-the-rest")
    : near
      ? say("nearest-now")
      : answer.meets_all
        ? say("meets-all")
        : say("misses");
  // Two wishes may ask the same of the same place.
  const misses = answer.misses.filter(
    (miss, i, all) =>
      all.findIndex(
        (one) => one.at_c === miss.at_c && one.kind === miss.kind && one.low_percent === miss.low_percent,
      ) === i,
  );
  return html`<li class="proposal ${chosen ? "chosen" : ""}">
    <h3 class=${season ? "" : "visually-hidden"}>${season ? (search.now.differ.length ? SEASONS[season] : say("both-seasons")) : say("answer", { number: at + 1 })}</h3>
    <p class="meets ${good ? "good" : "doubtful"}">${icon(good ? "good" : "doubtful")}<span>${meets}</span></p>
    <p>${season ? oddsTold(answer) : sayFinding("verdict", answer.holds)}</p>
    ${misses.map((miss) => html`<p>${sayFinding("miss", miss)}</p>`)}
    ${
      add?.length
        ? meltIn(bench, add, answer.grams, search.now.asked?.made ?? null)
        : answer.changes.length && (!season || !search.now.differ.length)
          ? html`<ul class="changes">${answer.changes.map((change) => changed(bench, change))}</ul>`
          : nothing
    }
    ${answer.feel?.length ? html`<p class="feel">${say("feel-is", { what: answer.feel.map((one) => sayFinding("feel", one)).join(", ") })}</p>` : nothing}
    ${answer.findings.filter(isCaution).map((one) => html`<p class="help">${sayFinding("rework", one)}</p>`)}
    ${smallPicture(bench, bench.behaviour, behaviour, storage_c)}
    <dl class="mini">
      ${mini("cold", say("room-at", { at_c: (coldest + hottest) / 2 }), answer.solid_percent.usual, feels(behaviour?.places.usual))}
      ${mini("hot", degrees(hottest, unit), answer.solid_percent.hottest, feels(behaviour?.places.hottest))}
      ${mini("skin", degrees(bench.state.skin_c, unit), answer.solid_percent.skin, onSkin(behaviour))}
    </dl>
    ${
      cost
        ? html`<p class="help">${say(cost.without_price.length ? "answer-costs-more" : "answer-costs", {
            price: shown(priceOf(bench.store, cost.per_kg), 2),
            unit: priced(bench.store).unit,
            jar: shown(cost.per_jar, 2),
          })} ${now(make, cost.per_kg)}</p>`
        : nothing
    }
    <details><summary>${say("in-words")}</summary><p class="proposal-words">${sayFindings(
      "rework",
      answer.findings.filter((one) => !isCaution(one)),
    )}</p></details>
    <div class="row">
      <button type="button" class="button" aria-pressed=${chosen ? "true" : "false"} ?disabled=${stale}
        @click=${() => search.choose(at)}>${say(chosen ? "shown" : "show-it")}</button>
      ${
        nothingToDo && !season
          ? nothing
          : used
            ? html`<p class="on-bench">${icon("good")} ${say("on-the-bench-now")}</p>`
            : html`<button type="button" class="button ${good ? "primary" : ""}" ?disabled=${stale} @click=${() => {
                search.apply(at);
                stations.goToVerdict();
              }}>${say("use-this")}</button>
              <button type="button" class="icon-button" aria-label=${say("share-answer", { number: at + 1 })} ?disabled=${stale}
                @click=${() => bench.share({ recipe: answer.recipe, storage_c })}>${icon("share")}</button>`
      }
      ${
        add?.length
          ? html`<button type="button" class="button" ?disabled=${stale} @click=${() => void printRescue(search, make, at)}>${icon("print")} ${say("print")}</button>`
          : nothing
      }
    </div>
  </li>`;
}

function now({ bench, batch }: Make, per_kg: number): string {
  if (!batch?.cost) return "";
  const more = per_kg - batch.cost.per_kg;
  return Math.abs(more) < 0.005
    ? say("costs-as-now")
    : say(more > 0 ? "costs-more" : "costs-less", {
        price: shown(priceOf(bench.store, Math.abs(more)), 2),
        unit: priced(bench.store).unit,
      });
}

async function printRescue(search: Search, make: Make, at: number): Promise<void> {
  search.choose(at);
  await make.print();
}

/** A rescue as it is done at the stove, and what there is then. */
function meltIn(bench: Bench, add: Added[], grams: number, made: State["made"]): TemplateResult {
  const unit = bench.store.preferences.mass;
  return html`<ol class="steps melt-in">
    ${rescueSteps(bench, { add, batch_grams: made ? left(made) : grams })}
    <li>${say("weighs-then", { whole: mass(grams, unit) })}</li>
  </ol>`;
}

function changed(bench: Bench, { id, from_percent, to_percent }: Change): TemplateResult {
  const more = to_percent > from_percent;
  const delta = shown(Math.abs(to_percent - from_percent), 2);
  return html`<li class="change"><span class="change-name">${bench.nameOf(id)}</span>
    <span class="change-figures"><span class="from">${shown(from_percent, 2)}</span> → <strong>${shown(to_percent, 2)} %</strong>
      <small>${more ? `+${delta}` : `−${delta}`}</small></span></li>`;
}

function mini(kind: string, where: string, solid: number, feel: string): TemplateResult {
  return html`<div class="mini-place ${kind}"><dt>${where}</dt><dd>${feel}<small>${say("axis-solid", { level_percent: solid })}</small></dd></div>`;
}
