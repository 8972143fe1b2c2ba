// A straight axis. d3-array knows where ticks and round ends lie; a scale of d3 would bring colours and dates
// along.

import { nice, ticks } from "d3-array";

type Pair = [number, number];

export interface Scale {
  (value: number): number;
  invert(place: number): number;
  ticks(count: number): number[];
  domain: Pair;
  range: Pair;
}

/** From `domain` to `range`; with `round`, the domain is widened to round numbers that fit so many ticks. */
export function linear(domain: Pair, range: Pair, round = 0): Scale {
  const [low, high] = round ? nice(domain[0], domain[1], round) : domain;
  const [from, to] = range;
  const slope = (to - from) / (high - low || 1);
  const scale = (value: number) => from + (value - low) * slope;
  return Object.assign(scale, {
    invert: (place: number) => low + (place - from) / slope,
    ticks: (count: number) => ticks(low, high, count),
    domain: [low, high] as Pair,
    range,
  });
}
