// What of the notebook goes to paper: the sheet of a test pot, and the pages of how to look.

import type { Item, PlannedPot } from "../../contract.js";
import { printSheets } from "../../parts/print.js";
import type { Noted } from "./noted.js";

export const PROTOCOLS = ["tube", "overnight", "clear"] as const;
export type Protocol = (typeof PROTOCOLS)[number];

/** A page that is on its way to paper. */
export type Page =
  | { protocol: Protocol }
  | { pot: PlannedPot; code: { size: number; path: string; address: string } | null };

export class Paper {
  page: Page | null = null;

  constructor(private readonly notebook: Noted) {}

  printProtocol(protocol: Protocol): void {
    this.#print({ protocol });
  }

  async printPot(pot: PlannedPot): Promise<void> {
    const { notebook } = this;
    const { bench } = notebook;
    const recipe = pot.recipe.map((line): Item => {
      const id = notebook.idOf(line);
      const lot = line.lot === undefined ? null : notebook.known(line.lot);
      return { id, percent: line.percent, ...(line.lot !== undefined && lot ? { name: line.lot, lot } : {}) };
    });
    let code = null;
    try {
      const look = { seen: pot.seen, at_c: pot.at_c, measured: notebook.next.measured };
      const address = await notebook.address({ recipe, look });
      // Nobody else can open a file on this device, and this device needs no code to.
      if (!address.startsWith("file:"))
        code = { ...(await bench.quick.ask("qr", { text: address }, "look")), address };
    } catch (reason) {
      bench.report(reason);
    }
    this.#print({ pot, code });
  }

  #print(page: Page): void {
    this.page = page;
    printSheets(this.notebook.bench, "notes", () => {
      this.page = null;
    });
  }
}
