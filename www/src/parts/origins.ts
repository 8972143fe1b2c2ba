// What each figure is, with its band, and where both come from.

import type { Behaviour, Place } from "../contract.js";
import { degrees, shown, type TemperatureUnit } from "../numbers.js";
import { say, sayFinding } from "../words.js";
import { FIRMNESS } from "./classes.js";

const CLASSES: Record<string, string> = {
  plain: say("kind-plain"),
  lauric: say("kind-lauric"),
  wax: say("kind-wax"),
  "fatty-acids": say("kind-fatty-acids"),
  "fatty-acids-and-slip": say("kind-fatty-acids-and-slip"),
};

/** What can be asked about. */
export type OriginKey =
  | "solid"
  | "slip"
  | "clear"
  | "softens"
  | "firmness"
  | "skin"
  | "fresh"
  | "making"
  | "rework"
  | "jars"
  | "hardeners"
  | "heat";

export interface Origin {
  title: string;
  text: string;
}

/** Each figure with its band, and where both come from. */
export function origins(now: Behaviour, unit: TemperatureUnit): Record<OriginKey, Origin> {
  const { band, places, making, fresh } = now;
  const kind = CLASSES[band.class] ?? band.class;
  const { figures, solid_percent: points, slip_c: slip_k, clear_c: clear_k } = band;
  const apart = (kelvin: number) => shown(unit === "F" ? kelvin * 1.8 : kelvin, 1);
  const point = (celsius: number | null, width: number) =>
    celsius === null ? say("liquid-throughout") : `${degrees(celsius, unit)} ± ${apart(width)}`;
  const solid = (place: Pick<Place, "solid_percent" | "at_c">) =>
    say("solid-at", {
      solid_percent: place.solid_percent,
      band_percent: band.solid_percent,
      at: degrees(place.at_c, unit),
    });
  const firm = (place: Place) => {
    const [low, high] = place.structure_band_percent;
    const [softest, hardest] = place.firmness_band;
    const words =
      softest === hardest
        ? FIRMNESS[softest]
        : say("from-to", { from: FIRMNESS[softest], to: FIRMNESS[hardest] });
    return say("firm-at", {
      structure_percent: place.structure_percent,
      low_percent: low,
      high_percent: high,
      words,
      at: degrees(place.at_c, unit),
    });
  };
  return {
    solid: {
      title: say("title-solid", {
        coldest: solid(places.coldest),
        hottest: solid(places.hottest),
        skin: solid(places.skin),
      }),
      text: say("origin-solid", {
        kind,
        figures: figures.solid,
        certificate: now.certificate.toExponential(0),
      }),
    },
    slip: {
      title: say("title-slip", { at: point(now.slip_c, band.slip_c) }),
      text: say("origin-slip", { kind, figures: figures.slip }),
    },
    clear: {
      title: say("title-clear", { at: point(now.clear_c, band.clear_c) }),
      text: say("origin-clear", { kind, figures: figures.clear }),
    },
    softens: {
      title: say("title-softens", { at: softens(now, unit) }),
      text: say("origin-softens"),
    },
    firmness: {
      title: say("title-firmness", {
        coldest: firm(places.coldest),
        usual: firm(places.usual),
        hottest: firm(places.hottest),
      }),
      text: say("origin-firmness"),
    },
    skin: {
      title: say("title-skin", {
        solid_percent: places.skin.solid_percent,
        band_percent: band.solid_percent,
      }),
      text: say("origin-skin", { dab: sayFinding("dab", now.dab.melts) }),
    },
    fresh: {
      title: say("title-fresh", { fresh: solid(fresh.usual), settled: solid(places.usual) }),
      text: say("origin-fresh"),
    },
    making: {
      title: making.whip_c
        ? say("title-whipping", {
            melt_out: degrees(making.melt_out_c, unit),
            from: degrees(making.whip_c[0], unit),
            to: degrees(making.whip_c[1], unit),
          })
        : say("title-making", { melt_out: degrees(making.melt_out_c, unit) }),
      text: say("origin-making", { points }),
    },
    rework: {
      title: say("title-rework"),
      text: say("origin-rework", { points }),
    },
    jars: {
      title: say("title-jars"),
      text: say("origin-jars"),
    },
    hardeners: {
      title: say("title-hardeners"),
      text: say("origin-hardeners", { points, slip_k, clear_k }),
    },
    heat: {
      title: say("title-heat"),
      text: say("origin-heat"),
    },
  };
}

function softens({ softening_c, softening_band_c: [low, high] }: Behaviour, unit: TemperatureUnit): string {
  if (softening_c === null) return say("never-holds");
  const range =
    low === null || high === null
      ? ""
      : ` (${say("from-to", { from: degrees(low, unit), to: degrees(high, unit) })})`;
  return `${degrees(softening_c, unit)}${range}`;
}
