// What belongs to the reader: units, batch and jars, prices.

import { type Fields, isFields } from "./fields.js";
import { RANGES } from "./forms.js";
import { isName, within } from "./kept-entries.js";
import { customs, type TemperatureUnit } from "./numbers.js";
import { FLUID_OUNCE_ML, OUNCE_G } from "./words.js";

/** What belongs to the reader, not to the recipe: it stays on the device and out of links. */
export interface Preferences {
  temperature: TemperatureUnit;
  /** With ounces go fluid ounces. */
  mass: "g" | "oz";
  /** Whether a batch is as heavy as `batch`, or fills so many jars. */
  by: "weight" | "jars";
  /** Grams. */
  batch: number;
  jars: number;
  /** What stays in the bowl, percent of a batch. */
  lost: number;
  /** Air whipped in, percent of the volume before. */
  overrun: number;
  jar_ml: number;
  /** Prices typed once, by id or own name: for what comes into a recipe later. */
  prices: Map<string, number>;
}

/** Where people measure so, until they say otherwise. */
const { fahrenheit, ounces } = customs();

export const USUAL: Preferences = {
  temperature: fahrenheit ? "F" : "C",
  mass: ounces ? "oz" : "g",
  by: "weight",
  batch: ounces ? 16 * OUNCE_G : 500,
  jars: 20,
  lost: 0,
  overrun: 60,
  jar_ml: ounces ? 4 * FLUID_OUNCE_ML : 120,
  prices: new Map(),
};

/** What can be read of some preferences; `odd` names the others. */
export function preferencesOf(value: Fields): { preferences: Preferences; odd: string[] } {
  const preferences = { ...USUAL };
  const odd: string[] = [];
  const take = (name: keyof Preferences, good: boolean) => {
    if (good) Object.assign(preferences, { [name]: value[name] });
    else if (value[name] !== undefined) odd.push(name);
  };
  take("temperature", value.temperature === "C" || value.temperature === "F");
  take("mass", value.mass === "g" || value.mass === "oz");
  take("by", value.by === "weight" || value.by === "jars");
  take("batch", within(value.batch, 0.001, 1e6));
  take("jars", within(value.jars, 1, 10_000));
  take("lost", within(value.lost, 0, 50));
  take("overrun", within(value.overrun, ...RANGES.overrun_percent));
  take("jar_ml", within(value.jar_ml, ...RANGES.fill_ml));
  const prices = isFields(value.prices) ? Object.entries(value.prices) : [];
  const good = prices.filter(
    (price): price is [string, number] => isName(price[0]) && within(price[1], 0, 1e6),
  );
  preferences.prices = new Map(good);
  if (good.length < prices.length || (value.prices !== undefined && !isFields(value.prices)))
    odd.push("prices");
  return { preferences, odd };
}

/** As they are kept, in JSON. */
export const written = (preferences: Preferences): Fields => ({
  ...preferences,
  prices: Object.fromEntries(preferences.prices),
});
