// From a sign, or from the maker's own words, to its cause.

import type { Bench } from "../../bench.js";
import type { Sign, Symptom } from "../../contract.js";
import { Superseded } from "../../engine.js";

export class Trouble {
  sign: Sign | "" = "";
  words = "";
  told: Symptom | null = null;
  failure: string | null = null;

  constructor(readonly bench: Bench) {
    bench.follow(() => (this.sign || this.words.trim()) && this.#diagnose());
  }

  seen(sign: Sign | ""): void {
    [this.sign, this.words] = [sign, ""];
    void this.#diagnose();
  }

  said(words: string): void {
    [this.sign, this.words] = ["", words];
    void this.#diagnose();
  }

  async #diagnose(): Promise<void> {
    const { bench, sign, words } = this;
    if (!sign && !words.trim()) {
      bench.forget("symptom");
      bench.quick.drop("symptom");
      this.told = null;
      this.failure = null;
      bench.refresh();
      return;
    }
    try {
      const asked = { ...bench.wishes(bench.state), ...(sign ? { sign } : { words }) };
      const told = await bench.anew("symptom", bench.quick, asked);
      if (told) this.told = told;
      this.failure = null;
    } catch (reason) {
      if (reason instanceof Superseded) return;
      this.told = null;
      this.failure = bench.inWords(reason);
    }
    bench.refresh();
  }
}
