// Which lot of the notebook a line of the recipe is from.

import { html, nothing } from "lit/html.js";

import type { Item } from "../../contract.js";
import { say } from "../../words.js";
import type { Notebook } from "./state.js";

export function jars(notebook: Notebook, { id, lot }: Item): unknown {
  if (!id) return nothing;
  return [
    ...notebook
      .lotsOf(id)
      .filter((one) => notebook.use(one.lot) !== "now" && notebook.known(one.lot.name))
      .map(
        (one) =>
          html`<button type="button" class="button" @click=${() => notebook.take(one.lot)}>${say("take-lot-of", { name: one.lot.name })}</button>`,
      ),
    lot
      ? html`<button type="button" class="button" @click=${() => notebook.leave(id)}>${say("lot-leave")}</button>`
      : nothing,
  ];
}
