// What the notebook taught: of each lot, of each entry, and of the recipe on the bench.

import { html, nothing, svg, type TemplateResult } from "lit/html.js";

import type { Answers, Behaviour } from "../../contract.js";
import type { Lot, NotedLook, NotedLot } from "../../notes.js";
import { shown, toUnit } from "../../numbers.js";
import { ceiling, columnOf, curves } from "../../parts/curve.js";
import { icon } from "../../parts/icons.js";
import { linear } from "../../scale.js";
import type { State } from "../../state.js";
import { harmless, say } from "../../words.js";
import { lookSaid, MEASURED_NAMES, potSaid, withinNineInTen } from "./said.js";
import { type Compared, dayShown, type Notebook, type Rework } from "./state.js";

type Learned = Answers["learn"];
type LearnedLot = Learned["lots"][number];
type Band = LearnedLot["slip"];

/** Half of a band, K. */
const half = ({ band_c }: Band): number | null => (band_c ? (band_c[1] - band_c[0]) / 2 : null);

export function taught(notebook: Notebook): TemplateResult | typeof nothing {
  const { notes, learned, failure } = notebook;
  if (!notes?.lots.length && !notes?.looks.length) return nothing;
  return html`<section class="card" aria-labelledby="taught-title">
    <h2 id="taught-title" tabindex="-1">${say("taught")}</h2>
    ${failure ? html`<p class="problem" role="alert">${failure}</p>` : nothing}
    ${notes.lots.map((one) =>
      lotCard(
        notebook,
        one,
        learned?.lots.find(({ name }) => name === one.lot.name),
      ),
    )}
    ${learned?.recipe ? ofRecipe(notebook, learned.recipe) : nothing}
    ${
      notes.looks.length
        ? html`<h3>${say("looks")}</h3><ul class="entries">${notes.looks.map((one, at) => entry(notebook, one, learned?.observations[at]))}</ul>`
        : nothing
    }
    ${learned?.thermometers.length ? thermometers(learned.thermometers) : nothing}
    <p class="help">${say("nine-in-ten")}</p>
  </section>`;
}

/** How the lot melts, beside what is typical. */
function lotSaid(known: LearnedLot, { lot }: Lot): string {
  const [before_k, now_k] = [half(known.slip_before) ?? 0, half(known.slip) ?? 0];
  const moved_k = (known.slip.at_c ?? 0) - (known.slip_before.at_c ?? 0);
  const looks = known.observations;
  // To a tenth, as it is told.
  const surer = Math.round(10 * now_k) < Math.round(10 * before_k);
  const unsure = surer ? say("lot-surer", { now_k, before_k }) : say("lot-as-unsure", { before_k });
  switch (known.taught) {
    case "nothing":
      return say(lot ? "lot-as-sent" : "lot-nothing-seen", { before_k });
    case "disputed":
      return say("lot-disputed", { looks: known.disputed });
    case "no-slip":
      return say("lot-no-slip", { looks });
    case "little":
      return say("lot-little", { looks, before_k });
    case "too-far":
      return moved_k < 0
        ? say("lot-too-far-lower", { looks, moved_k: -moved_k })
        : say("lot-too-far-higher", { looks, moved_k });
    case "typical":
      return say("lot-as-typical", { looks, unsure });
    case "lower":
      return say("lot-melts-lower", { looks, moved_k: -moved_k, unsure });
    case "higher":
      return say("lot-melts-higher", { looks, moved_k, unsure });
  }
}

/** What is nothing to go by. */
const DOUBTFUL: ReadonlySet<LearnedLot["taught"]> = new Set(["disputed", "too-far"]);

function lotCard(
  notebook: Notebook,
  { lot, day, at }: NotedLot,
  known: LearnedLot | undefined,
): TemplateResult {
  const { bench } = notebook;
  const use = notebook.use(lot);
  const name = harmless(lot.name);
  // What its name says already is not said again.
  const beside = [bench.catalogue.get(lot.id)?.name ?? lot.id, dayShown(day)].filter(
    (one) => !lot.name.includes(one),
  );
  const rename = (event: Event) => {
    const input = event.target as HTMLInputElement;
    const text = harmless(input.value).trim();
    const taken = notebook.notes?.lots.some((one) => one.lot.name === text && one.at !== at);
    if (text === lot.name) return;
    if (!text || taken) {
      bench.say({ text: text ? say("name-taken", { name: text }) : say("give-a-name"), tone: "problem" });
      return;
    }
    notebook.rename(lot.name, text);
  };
  const dated = (event: Event) => {
    const { value } = event.target as HTMLInputElement;
    if (value) notebook.setDay(lot.name, value);
  };
  // All jars of the recipe are offered together, at the head of the notebook.
  const offered = notebook.jars.ready.includes(lot.name);
  // So is the way back from all of them.
  const alone = notebook.jars.taken.length < 2 && use === "now";
  const leave = html`<button type="button" class="button" @click=${() => notebook.leave(lot.id)}>${say("lot-leave")}</button>`;
  const doubtful = known?.taught === "disputed" || (known?.taught === "nothing" && !lot.lot);
  const button =
    use === "now"
      ? html`<p class="in-use">${icon("good")} ${say("lot-in-use")}</p>${alone ? nothing : leave}`
      : html`${
          doubtful
            ? nothing
            : html`<button type="button" class="button" ?disabled=${!known} @click=${() => notebook.take(lot)}>
              ${use === "before" ? say("lot-bring-up") : bench.state.recipe.some((item) => item.id === lot.id) ? say("lot-take") : say("lot-put-on-shelf")}</button>`
        }${use === "before" ? leave : nothing}`;
  return html`<div class="lot">
    <h3>${name} ${beside.length ? html`<small>${beside.join(", ")}</small>` : nothing}</h3>
    <p class=${known && DOUBTFUL.has(known.taught) ? "doubtful" : nothing}>${known ? lotSaid(known, lot) : say("learning")}</p>
    ${known?.disputed && known.observations ? html`<p class="doubtful">${say("lot-some-disputed", { looks: known.disputed })}</p>` : nothing}
    ${offered && use === "not" ? nothing : html`<div class="row">${button}</div>`}
    <details><summary>${say("lot-more", { name })}</summary>
      <label class="label" for="lot-name-${at}">${say("lot-name")}</label>
      <input id="lot-name-${at}" class="text" type="text" maxlength="60" autocomplete="off" .value=${lot.name} @change=${rename} />
      <label class="label" for="lot-day-${at}">${say("lot-day")}</label>
      <input id="lot-day-${at}" class="text" type="date" .value=${day} @change=${dated} />
      ${offered && use === "not" ? button : nothing}
      ${use === "not" ? nothing : html`<p class="help">${say("lot-link")}</p>`}
      <button type="button" class="button" @click=${() => notebook.dropLot(lot.name)}>${icon("close")} ${say("lot-drop", { name })}</button>
    </details>
  </div>`;
}

/** Where the bench's recipe softens, of any lots and of these; and what that changes, when it is asked for. */
function ofRecipe(notebook: Notebook, recipe: NonNullable<Learned["recipe"]>): TemplateResult {
  const { bench, curves, reworks, seeking } = notebook;
  const name = bench.state.name ?? say("body-butter");
  const told = ({ at_c, band_c }: Band) =>
    at_c === null
      ? say("softens-never")
      : band_c
        ? say("softens-within", { at_c, from_c: band_c[0], to_c: band_c[1] })
        : say("softens-at", { at_c });
  return html`<h3>${say("of-this-recipe", { name })}</h3>
    <dl class="compared">
      <div><dt>${say("of-any-lots")}</dt><dd>${told(recipe.softening_before)}</dd></div>
      <div><dt>${say("of-own-lots")}</dt><dd><strong>${told(recipe.softening)}</strong></dd></div>
    </dl>
    <div class="row">
      <button type="button" class="button" @click=${() => void notebook.compareCurves()}>${say("show-both-curves")}</button>
      <button type="button" class="button" ?disabled=${seeking} @click=${() => void notebook.compareReworks()}>${say("compare-reworks")}</button>
    </div>
    ${
      seeking
        ? html`<div class="running" role="status"><progress aria-label=${say("seeking-both")}></progress><p>${say("seeking-both")}…</p>
            <button type="button" class="button" @click=${() => bench.searcher.cancel()}>${say("cancel")}</button></div>`
        : nothing
    }
    ${reworks ? html`<p role="status">${reworksSaid(reworks)}</p>` : nothing}
    ${curves ? bothCurves(notebook, curves) : nothing}`;
}

function reworksSaid({ any, own }: Compared<Rework>): string {
  if (!any && !own) return say("reworks-neither");
  if (!own) return say("reworks-only-any");
  if (!any) return say("reworks-only-own", { own_percent: own.shift_percent });
  const [any_percent, own_percent] = [any.shift_percent, own.shift_percent];
  if (!any.changes.length && !own.changes.length) return say("reworks-none-needed");
  if (own.effort < any.effort - 0.05) return say("reworks-smaller", { any_percent, own_percent });
  return own.effort > any.effort + 0.05
    ? say("reworks-larger", { any_percent, own_percent })
    : say("reworks-alike", { own_percent });
}

/** How large the two curves are drawn. */
const SIZE = { width: 328, height: 190, left: 34, right: 10, top: 10, bottom: 28 };

/** The ends of the axis: what is asked of the butter, and where either gives way. What is far above both tells nothing. */
function axisOf({ storage_c, skin_c }: State, both: Behaviour[]): [number, number] {
  const softens = both.flatMap(({ softening_c }) => softening_c ?? []);
  return [
    5 * Math.floor((Math.min(storage_c.coldest, ...softens) - 3) / 5),
    5 * Math.ceil((Math.max(storage_c.hottest, skin_c, ...softens) + 3) / 5),
  ];
}

function bothCurves({ bench }: Notebook, { any, own }: Compared<Behaviour>): TemplateResult {
  const unit = bench.store.preferences.temperature;
  const { width, height, left, right, top, bottom } = SIZE;
  const column = columnOf("holding", own);
  const limits = axisOf(bench.state, [any, own]);
  const x = linear(limits, [left, width - right]);
  const most = ceiling([any.curve, own.curve], column, limits);
  const y = linear([0, most], [height - bottom, top]);
  const [from, to] = limits.map((celsius) => toUnit(celsius, unit)) as [number, number];
  const ticks = linear([from, to], [left, width - right]).ticks(5);
  const place = linear([from, to], [left, width - right]);
  return html`<figure class="both-curves">
    <svg viewBox="0 0 ${width} ${height}" role="img" aria-label=${say("both-curves", { any: softens(any), own: softens(own) })}>
      ${[0, 25, 50, 75, 100].filter((percent) => percent <= most).map((percent) => svg`<text class="tick" x=${left - 6} y=${y(percent) + 4} text-anchor="end">${shown(percent, 0)}</text>`)}
      ${ticks.map((degree) => svg`<text class="tick" x=${place(degree)} y=${height - 8} text-anchor="middle">${shown(degree, 0)}°</text>`)}
      ${curves({ before: any, after: own, view: "holding" }, x, y)}
    </svg>
    <figcaption class="help"><span class="key now"></span> ${say("of-own-lots")} <span class="key was"></span> ${say("of-any-lots")}</figcaption>
  </figure>`;
}

const softens = ({ softening_c }: Behaviour): string =>
  softening_c === null ? say("softens-never") : say("softens-at", { at_c: softening_c });

/** What is not learned from. */
const OUT: ReadonlySet<Learned["observations"][number]["agrees"]> = new Set(["no", "disputed"]);

/** One thing that was seen, how it agrees with the rest, and what can be done with it. */
function entry(
  notebook: Notebook,
  one: NotedLook,
  agreement: Learned["observations"][number] | undefined,
): TemplateResult {
  const { look, day, at } = one;
  const { writing } = notebook;
  const against = agreement?.against == null ? null : notebook.notes?.looks[agreement.against];
  const doubted = agreement !== undefined && OUT.has(agreement.agrees) && !look.left_out && !look.insist;
  const change = () => {
    writing.change(one);
  };
  const leaveOut = html`<button type="button" class="button" @click=${() =>
    notebook.setLook(
      at,
      { left_out: !look.left_out },
      look.left_out ? say("look-counts-again") : say("look-left-out"),
    )}>
    ${look.left_out ? say("count-it-again") : say("leave-it-out-of-learning")}</button>`;
  return html`<li class="entry ${doubted ? "doubted" : ""} ${look.left_out ? "is-out" : ""}">
    <p><strong>${lookSaid(look)}</strong> <small>${dayShown(day)}</small></p>
    <p class="help">${potSaid(notebook, look.recipe)}${look.after_days == null ? nothing : html`, ${say("after-days", { days: look.after_days })}`}</p>
    ${agreement ? html`<p class="agrees ${agreement.agrees}">${agreementSaid(look, agreement)}${against ? html` ${say("look-against", { look: lookSaid(against.look) })}` : nothing}</p>` : nothing}
    ${
      doubted
        ? html`<div class="row">${leaveOut}
          <button type="button" class="button" @click=${() => notebook.setLook(at, { insist: true }, say("look-insisted"))}>${say("keep-it-all-the-same")}</button></div>`
        : nothing
    }
    <details><summary>${say("look-more")}</summary><div class="row">
      <button type="button" class="button" @click=${change}>${say("change")}</button>
      ${doubted ? nothing : leaveOut}
      ${look.insist ? html`<button type="button" class="button" @click=${() => notebook.setLook(at, { insist: false }, say("look-not-insisted"))}>${say("insist-no-more")}</button>` : nothing}
      <button type="button" class="button" @click=${() => void notebook.dropLook(at)}>${icon("close")} ${say("look-drop")}</button>
    </div></details>
  </li>`;
}

const BECAUSE = {
  "not-settled": say("because-not-settled"),
  thermometer: say("because-thermometer"),
  "another-lot": say("because-another-lot"),
};

function agreementSaid(
  look: NotedLook["look"],
  { agrees, expected_c, within_k, because, alone }: Learned["observations"][number],
): string {
  const figures = { expected_c, within_k };
  if (look.left_out) return say("look-is-out");
  if (look.insist) return say(alone ? "look-is-insisted-alone" : "look-is-insisted", figures);
  switch (agrees) {
    case "yes":
      return say(alone ? "look-as-typical" : "look-fits");
    case "strained":
      return say(alone ? "look-unusual" : "look-strained", figures);
    case "disputed":
      return say("look-disputed");
    case "no":
      return `${say(alone ? "look-cannot-be" : "look-does-not-fit", figures)}${because ? ` ${BECAUSE[because]}` : ""}`;
  }
}

function thermometers(all: Learned["thermometers"]): TemplateResult {
  return html`<details><summary>${say("thermometers")}</summary><ul class="bullets">${all.map(
    ({ measured, thermometer, reads_high_k, left_k }) => {
      const name = thermometer ?? MEASURED_NAMES[measured];
      const left = withinNineInTen(left_k);
      return html`<li>${
        reads_high_k >= 0
          ? say("reads-high", { name, high_k: reads_high_k, left_k: left })
          : say("reads-low", { name, low_k: -reads_high_k, left_k: left })
      }</li>`;
    },
  )}</ul></details>`;
}
