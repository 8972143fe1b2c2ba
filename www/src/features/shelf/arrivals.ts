// What comes onto the bench from elsewhere: what was kept on the device, a link, another tab. Nothing that
// lies there is lost for it.

import type { Bench } from "../../bench.js";
import type { State as SentState } from "../../contract.js";
import { EngineError } from "../../engine.js";
import { asideFile, backupFile } from "../../files.js";
import { freeName, type Shelved, type Work } from "../../kept-entries.js";
import { type Opened, opened } from "../../links.js";
import { EXAMPLE, held, keyOf, sent, untouched } from "../../state.js";
import { type Station, type Stations, shownBy, stationIn } from "../../stations.js";
import { say, sayFindings } from "../../words.js";
import type { Notebook } from "../notebook/state.js";

/** How long what is not kept goes untold, ms: longer than its link takes to be written. */
const TELL_UNSAVED_AFTER = 1500;

export class Arrivals {
  /** By what name this tab's recipe is kept on the shelf, while another tab's is the one that is on the bench. */
  #refuge: string | null = null;
  #toldUnsaved = false;
  #unsaved = 0;
  #beginning = false;
  /** Where a link that was opened leads, until its verdict is here and nothing above moves any more. */
  #leads: Station | null = null;

  constructor(
    private readonly bench: Bench,
    private readonly stations: Stations,
    private readonly notebook: Notebook,
  ) {
    const { store } = bench;
    store.onsaved = () => this.#heardSaved();
    store.onconflict = (work) => void this.#askWhich(work);
    store.kept.onheard = (place) => this.#heard(place);
    // Where nothing is kept, the address is all there is: while it does not hold what is on the bench, the
    // browser asks first.
    addEventListener("beforeunload", (event) => {
      if (this.#isLost && store.link === null) event.preventDefault();
    });
    bench.follow(() => {
      const at = this.#leads;
      this.#leads = null;
      if (at) requestAnimationFrame(() => this.stations.go(at));
    });
  }

  async begin(fragment: string): Promise<void> {
    const { bench } = this;
    if (this.#beginning) return;
    this.#beginning = true;
    bench.goOn = () => this.begin(fragment);
    this.stations.at = stationIn(fragment) ?? "bench";
    bench.refresh();
    try {
      const opened = await this.#comeIn(stationIn(fragment) ? "" : fragment.replace(/^#/, ""));
      this.stations.arrive();
      // What the visitor came for first: the catalogue can wait for the verdict.
      const predicted = opened ? undefined : bench.predict();
      await Promise.all([bench.list(), predicted]);
      await this.#settle();
    } catch (reason) {
      bench.report(reason);
    }
    this.#beginning = false;
  }

  /** Puts what was kept on the bench, or a link that somebody sent; says whether it was a link. */
  async #comeIn(fragment: string): Promise<boolean> {
    const { store } = this.bench;
    const { bench } = store.kept;
    if (!bench || bench.example) store.begin(null);
    else {
      const work = await this.#openKept("bench", bench);
      store.begin(work?.state ?? null, work?.link);
    }
    // The page's own address of last time has nothing in it that is not on the bench already; a link from
    // which the bench has gone on since has, unless it is this tab's address.
    const own =
      fragment === "" ||
      (fragment === bench?.link && bench.state === undefined) ||
      (comesBack() && store.kept.isOwnOfBefore(fragment));
    const opened = !own && (await this.#open(fragment));
    this.bench.opening = false;
    this.#tellOdd();
    return opened;
  }

  /** Opens what is kept, newest first. What the engine refuses is set aside. */
  async #openKept(place: string, { link, state }: Work): Promise<Opened | null> {
    const { kept } = this.bench.store;
    if (state !== undefined) {
      try {
        return await opened(this.bench.quick, { state }, place);
      } catch (reason) {
        if (!(reason instanceof EngineError)) throw reason;
        kept.setAside(place, JSON.stringify(state), reason.message);
      }
    }
    if (link === undefined) return null;
    try {
      return await opened(this.bench.quick, { link }, place);
    } catch (reason) {
      if (!(reason instanceof EngineError)) throw reason;
      kept.setAside(place, link, reason.message);
      return null;
    }
  }

  /** What was kept as a state, since no link of it was written, is kept as its link from now on. */
  async #settle(): Promise<void> {
    const { kept } = this.bench.store;
    for (const place of ["shelf", "own"] as const) {
      if (!kept[place].some((one) => one.state !== undefined)) continue;
      const settled: Shelved[] = [];
      for (const one of kept[place]) {
        const work = one.state === undefined ? one : await this.#openKept(place, one);
        if (work)
          settled.push({
            name: one.name,
            at: one.at,
            ...(work.link === undefined ? {} : { link: work.link }),
          });
      }
      kept.replace(place, settled);
    }
    await this.notebook.settle();
    this.#tellOdd();
  }

  /** Tells once what of the kept could not be read. */
  #tellOdd(): void {
    const { kept } = this.bench.store;
    if (!kept.odd.length) return;
    const odd = [...new Set(kept.odd)];
    kept.odd = [];
    const { text = "", actions = [] } = this.bench.notice ?? {};
    this.bench.say({
      text: `${text} ${say("found-odd", { odd: odd[0] ?? "", more: odd.length - 1 })}`.trim(),
      tone: "problem",
      actions: [...actions, { label: say("save-it-as-file"), run: () => asideFile(kept.aside) }],
    });
  }

  #heardSaved(): void {
    this.bench.refresh();
    clearTimeout(this.#unsaved);
    if (this.bench.store.saved) this.#toldUnsaved = false;
    // A moment later its link may be kept where the longer state did not fit.
    else this.#unsaved = window.setTimeout(() => this.#tellUnsaved(), TELL_UNSAVED_AFTER);
  }

  /** Whether something of the maker's making is not kept on the device. */
  get #isLost(): boolean {
    const { state, store } = this.bench;
    return store.saved === false && !untouched(state);
  }

  /** Says once that it is not. */
  #tellUnsaved(): void {
    const { bench } = this;
    const lost = this.#isLost;
    if (lost && !this.#toldUnsaved) {
      bench.say({
        text: say("not-kept"),
        tone: "problem",
        actions: [{ label: say("save-everything"), run: () => backupFile(bench.store) }],
      });
    }
    this.#toldUnsaved = lost;
  }

  // A link

  /** What the address holds now: a station of the page, or a link. */
  async follow(fragment: string): Promise<void> {
    const station = stationIn(fragment);
    if (!station) {
      await this.openLink(fragment);
      return;
    }
    // The address goes on holding the recipe.
    history.replaceState(null, "", `#${this.bench.store.link ?? ""}`);
    this.stations.go(station);
  }

  async openLink(fragment: string): Promise<void> {
    try {
      await this.#open(fragment);
    } catch (reason) {
      this.bench.report(reason);
    }
  }

  /** Whether what the link holds was put on the bench: it could be opened, and is not there already. */
  async #open(fragment: string): Promise<boolean> {
    const { bench } = this;
    try {
      const { state, remarks } = await bench.quick.ask("open-link", { fragment });
      if (state.look) {
        await this.#openLook(state);
        return false;
      }
      const { fragment: link } = await bench.quick.ask("link", { state }, "open-link");
      if (link === bench.store.link) return false;
      const shelved = await this.#makeRoom();
      bench.before = null;
      bench.turned = null;
      bench.drafts.clear();
      bench.unfolded = -1;
      bench.store.replace(held(state));
      // Until the address is written anew, it holds what is on the bench.
      bench.store.kept.noteAddress(fragment);
      const at = shownBy(bench.state);
      this.stations.at = at;
      // What the link was sent for is in sight as soon as there is something to see.
      if (at !== "bench") this.#leads = at;
      const told = shelved ? [shelved.words] : [];
      if (remarks.length) told.push(sayFindings("link-remark", remarks));
      const { strangers } = this.notebook;
      if (strangers.length) told.push(say("link-has-lots", { ids: strangers.map(keyOf) }));
      const keep = { label: say("keep-lots"), run: () => void this.notebook.keepStrangers() };
      if (told.length) {
        bench.say({
          text: told.join(" "),
          tone: remarks.some(({ kind }) => kind !== "finds-otherwise") || shelved?.lost ? "problem" : "plain",
          stays: true,
          actions: [...(strangers.length ? [keep] : []), ...(shelved ? [bench.undoing] : [])],
        });
      }
      return true;
    } catch (reason) {
      if (!(reason instanceof EngineError)) throw reason;
      bench.report(reason);
      return false;
    }
  }

  /** A link of a look that is planned opens the notebook ready to be filled in; the bench stays as it is. */
  async #openLook(state: SentState): Promise<void> {
    const { bench, notebook, stations } = this;
    await bench.list();
    notebook.writing.beginSent(state);
    if (bench.opening) {
      stations.at = "notebook";
      this.#leads = "notebook";
      return;
    }
    history.replaceState(null, "", `#${bench.store.link ?? ""}`);
    stations.go("notebook");
  }

  /** Puts what is on the bench on the shelf, before something else takes its place; `null` where nothing is of the maker's making. */
  async #makeRoom(): Promise<{ words: string; lost: boolean } | null> {
    const { state, store, quick } = this.bench;
    if (untouched(state)) return null;
    let { work } = store;
    if (work.link === undefined) {
      try {
        work = { link: (await quick.ask("link", { state: sent(state) }, "make room")).fragment };
      } catch (reason) {
        if (!(reason instanceof EngineError)) throw reason;
      }
    }
    const name = store.kept.shelve(state.name ?? say("unnamed"), work);
    return name === null
      ? {
          words: say("link-open-unkept"),
          lost: true,
        }
      : { words: say("link-open", { name }), lost: false };
  }

  // Other tabs

  #heard(place: string): void {
    const { bench } = this;
    bench.refresh();
    if (place === "preferences") bench.store.prefer({});
    if (place === "notebook" && !bench.opening) {
      this.notebook.settle().then(
        () => this.#tellOdd(),
        (reason) => bench.report(reason),
      );
    }
    if (place !== "bench" || bench.opening || !bench.store.kept.elsewhere) return;
    // Where it is being asked which recipe stays, the question stands: it is not asked again.
    if (this.#refuge !== null) return;
    bench.say({
      text: say("other-tab"),
      tone: "plain",
      stays: true,
      actions: [{ label: say("show-the-other"), run: () => void this.#takeOther() }],
    });
  }

  /** Two tabs have each changed the bench: the reader says which recipe stays on it. Until then this one is kept on the shelf. */
  async #askWhich(work: Work): Promise<void> {
    const { kept } = this.bench.store;
    const asked = this.#refuge !== null;
    this.#refuge ??= freeName(this.bench.state.name ?? say("unnamed"), kept.shelf);
    kept.keep(this.#refuge, work);
    if (asked) return;
    this.bench.say({
      text: say("which-tab"),
      tone: "problem",
      stays: true,
      actions: [
        { label: say("this-one"), run: () => void this.#keepThis() },
        { label: say("the-other"), run: () => void this.#takeOther() },
      ],
    });
  }

  async #keepThis(): Promise<void> {
    const { store } = this.bench;
    const { kept } = store;
    try {
      const theirs = kept.elsewhere;
      const opened = theirs && !theirs.example ? await this.#openKept("bench", theirs) : null;
      if (this.#refuge !== null) kept.drop(this.#refuge);
      this.#refuge = null;
      const name = opened && kept.shelve(opened.state.name ?? say("unnamed"), { link: opened.link });
      store.save(true);
      this.bench.say({
        text: name ? say("this-one-stays-other-shelved", { name }) : say("this-one-stays"),
        tone: "plain",
      });
      this.#tellOdd();
    } catch (reason) {
      this.bench.report(reason);
    }
  }

  async #takeOther(): Promise<void> {
    const { store } = this.bench;
    const { kept } = store;
    try {
      const theirs = kept.elsewhere;
      const opened = theirs && !theirs.example ? await this.#openKept("bench", theirs) : null;
      if (!opened && !theirs?.example) {
        await this.#keepThis();
        return;
      }
      const name = this.#refuge;
      if (name !== null) kept.keep(name, store.work);
      this.#refuge = null;
      kept.follow();
      this.bench.replace(
        opened?.state ?? EXAMPLE,
        name === null ? say("other-is-here") : say("other-is-here-this-shelved", { name }),
      );
      this.#tellOdd();
    } catch (reason) {
      this.bench.report(reason);
    }
  }
}

/** Whether this tab was at this address before: it is loaded anew, or the reader came back to it. */
function comesBack(): boolean {
  const [navigation] = performance.getEntriesByType("navigation");
  const type = (navigation as PerformanceNavigationTiming | undefined)?.type;
  return type === "reload" || type === "back_forward";
}
