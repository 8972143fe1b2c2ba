// The stations of the page. A phone shows one at a time, over the bar under the thumb; a wide screen lays
// them side by side, and goes to where one stands.

import type { Bench } from "./bench.js";
import type { State } from "./state.js";

export const STATIONS = ["bench", "rework", "make", "heat", "trouble", "notebook", "teach"] as const;
export type Station = (typeof STATIONS)[number];

/** The station that an address names, as in `#heat`. A link's text begins with its version, so that it is never one. */
export function stationIn(fragment: string): Station | undefined {
  return STATIONS.find((one) => `#${one}` === fragment);
}

/** What a link was shared to show. */
export function shownBy({ picture, journey, made, other_storage_c }: State): Station {
  if (picture) return "teach";
  if (journey) return "heat";
  return made || other_storage_c ? "rework" : "bench";
}

export class Stations {
  at: Station = "bench";
  /** What a station does when somebody comes to it: nobody should have to unfold what they came for. */
  readonly arriving = new Map<Station, () => void>();

  constructor(private readonly bench: Bench) {}

  /** Somebody is at the present station. */
  arrive(): void {
    this.arriving.get(this.at)?.();
  }

  /** Goes to the verdict; nothing moves where it is in sight already. */
  goToVerdict(): void {
    this.at = "bench";
    // What led here is no longer where it was touched.
    this.bench.touch(0);
    this.arrive();
    this.bench.drawNow();
    const place = document.getElementById("bench");
    const { top, bottom } = place?.querySelector(".verdict")?.getBoundingClientRect() ?? {
      top: -1,
      bottom: 0,
    };
    if (top < 0 || bottom > innerHeight) place?.scrollIntoView({ block: "start" });
    place?.focus({ preventScroll: true });
  }

  /** Goes to a station, or to what has this id in it. */
  go(station: Station, id = station as string): void {
    // What was said in passing at one station does not follow to the next.
    if (this.at !== station) this.bench.goneOn();
    this.at = station;
    // Who is led to something else in it does not want it pushed down by what unfolds above.
    if (id === station) this.arrive();
    this.bench.drawNow();
    const place = document.getElementById(id);
    place?.scrollIntoView({ block: "start" });
    place?.focus({ preventScroll: true });
  }
}
