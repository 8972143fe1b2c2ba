// What a friend receives: a link with a title that says what it is about, and a card of it as a picture to
// send along.

import { html, type TemplateResult } from "lit/html.js";

import type { Bench } from "./bench.js";
import { cardFile, recipeFile, save } from "./files.js";
import { addressOf } from "./links.js";
import { openSheet, sheet } from "./parts/sheets.js";
import type { State } from "./state.js";
import { say } from "./words.js";

/** Whether what the address points to is a file on this device, which nobody else has. */
const onlyHere = () => location.protocol === "file:" && !HOSTED_AT;

/** The name of the recipe and its verdict, as the page is called. */
export function titleOf({ behaviour, failure, late, opening, state }: Bench): string {
  const page = say("page-title");
  if (!behaviour || failure || late || opening) return page;
  const name = state.name ?? say("body-butter");
  const holds_to_c = behaviour.softening_c;
  const said =
    holds_to_c === null
      ? say("title-never-holds", { name })
      : say("title-holds", { name, holds_to_c, hottest_c: state.storage_c.hottest });
  return `${said} · ${page}`;
}

/** Sends the bench to somebody, or what it would be with another recipe. */
export async function share(bench: Bench, other: Partial<State> = {}): Promise<void> {
  try {
    // What was weighed for a rescue is not what another recipe weighs.
    const rescued = other.recipe ? null : bench.state.rescued;
    const url = await addressOf(bench.quick, { ...bench.state, rescued, ...other });
    if ("share" in navigator && matchMedia("(pointer: coarse)").matches) {
      await handOn(bench, url, other);
      return;
    }
    if (!(await copied(url))) {
      openSheet(bench, "link", url);
      return;
    }
    bench.say({
      text: say(onlyHere() ? "link-only-here" : "link-copied"),
      tone: "plain",
      stays: onlyHere(),
      actions: [
        ...(onlyHere() ? [{ label: say("save-it-as-file"), run: () => recipeFile(bench) }] : []),
        { label: say("save-card"), run: () => void saveCard(bench) },
      ],
    });
  } catch (reason) {
    if (reason instanceof DOMException && reason.name === "AbortError") return;
    bench.report(reason);
  }
}

/** Whether the clipboard took it: a browser may not let a page write there, or have none. */
async function copied(text: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return false;
  }
}

/** The link to copy by hand, where the page may not. */
export function linkSheet(bench: Bench): TemplateResult {
  return sheet(
    bench,
    "link",
    say("copy-link"),
    (url) => html`<div class="sheet-body padded">
    <p class="help">${say("link-by-hand")}</p>
    <label class="visually-hidden" for="link-text">${say("link-to-it")}</label>
    <textarea id="link-text" class="paste-text" rows="5" readonly autofocus .value=${url}
      @focus=${(event: Event) => (event.target as HTMLTextAreaElement).select()}></textarea>
  </div>`,
  );
}

/** By the device's own way of sending: with the card where it takes files, and the file itself where a link leads nowhere. */
async function handOn(bench: Bench, url: string, other: Partial<State>): Promise<void> {
  const title = other.recipe ? (bench.state.name ?? say("body-butter")) : titleOf(bench);
  const data = { title, text: title, ...(onlyHere() ? {} : { url }) };
  // A card of another recipe than the one that is seen would say what is not so.
  const card = other.recipe ? null : await cardFile(bench).catch(() => null);
  const withCard = card ? { ...data, files: [card] } : data;
  if (onlyHere())
    bench.say({
      text: say("link-only-here"),
      tone: "plain",
      stays: true,
      actions: [{ label: say("save-it-as-file"), run: () => recipeFile(bench) }],
    });
  await navigator.share(navigator.canShare?.(withCard) ? withCard : data);
}

async function saveCard(bench: Bench): Promise<void> {
  try {
    save(bench, "png", await cardFile(bench));
  } catch {
    bench.say({ text: say("no-png"), tone: "problem" });
  }
}
