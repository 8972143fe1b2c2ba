// What stands on the shelf for the moment: a backup that was read, and the offer to install the page.

import type { Bench, Notice } from "../../bench.js";
import type { Backup } from "./backup.js";

export class Shelf {
  /** A backup that was read, until the reader says what is to become of what is here. */
  backup: Backup | null = null;
  /** What was said of a file that could not be opened. */
  told: Notice | null = null;
  /** Installs the page, where the browser can. */
  install: (() => void) | null = null;

  constructor(readonly bench: Bench) {}
}
