// Prices of a kilogram: those of the recipe, and what else was typed on this device.

import type { Item } from "./contract.js";
import { keyed, keyOf } from "./state.js";
import type { Store } from "./store.js";
import { POUND_G } from "./words.js";

/** What the reader's prices are of: `kg` or `lb`. What is kept and sent is always of a kilogram. */
export function priced(store: Store): { unit: "kg" | "lb"; per_kg: number } {
  return store.preferences.mass === "oz" ? { unit: "lb", per_kg: 1000 / POUND_G } : { unit: "kg", per_kg: 1 };
}

/** A price of a kilogram as that of the reader's weight. */
export function priceOf(store: Store, per_kg: number): number {
  return per_kg / priced(store).per_kg;
}

/** Sets the price of a kilogram; the device keeps it for other recipes too. */
export function setPrice(store: Store, key: string, price: number | null): void {
  const { kept } = store;
  kept.prefer({ prices: keyed(kept.preferences.prices, key, price) });
  store.change({ prices: keyed(store.state.prices, key, price) }, `price ${key}`);
}

/** Every price that is known: those of this recipe, and others typed on this device. */
export function knownPrices(store: Store): Map<string, number> {
  return new Map([...store.preferences.prices, ...store.state.prices]);
}

/** The prices that are known of a recipe. */
export function pricesOf(store: Store, recipe: Item[]): Map<string, number> {
  const here = new Set(store.state.recipe.map(keyOf));
  const known = knownPrices(store);
  const keys = recipe.filter((item) => item.percent > 0 || here.has(keyOf(item))).map(keyOf);
  return new Map(
    keys.flatMap((key): [string, number][] => {
      // What is on the bench without a price has none.
      const price = here.has(key) ? store.state.prices.get(key) : known.get(key);
      return price === undefined ? [] : [[key, price]];
    }),
  );
}
