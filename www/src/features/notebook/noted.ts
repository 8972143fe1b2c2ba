// What an entry, the next pot and the papers need of the notebook.

import type { Bench } from "../../bench.js";
import type {
  Answers,
  Item,
  ItemLot,
  Measured,
  PotLine,
  SeenSign,
  State as SentState,
} from "../../contract.js";
import type { NotedLot, Notes } from "../../notes.js";

export interface Noted {
  readonly bench: Bench;
  /** What is kept, as far as the engine takes it; `null` until it has said so. */
  readonly notes: Notes | null;
  /** The same as the engine is asked. */
  readonly asked: object;
  readonly learned: Answers["learn"] | null;
  /** The recipe on the bench as a pot of lots; `null` where it is not all. */
  readonly benchPot: PotLine[] | null;
  readonly next: { readonly measured: Measured };
  readonly writing: {
    beginPlanned(recipe: PotLine[], seen: SeenSign, at_c: number | null, measured: Measured): void;
  };
  /** The ingredient of a line of a pot. */
  idOf(line: PotLine): string;
  lotsOf(id: string): NotedLot[];
  /** A free name for another lot of an ingredient. */
  nameFor(id: string, others?: { name: string }[]): string;
  isNoted(item: Item): boolean;
  /** What a lot is known to be like. */
  known(name: string): ItemLot | null;
  /** Keeps what is changed, and tells so, with a way back. */
  changeTold(change: (notes: Notes) => Notes, text: string): Promise<void>;
  /** The address of a state, to give away. */
  address(state: Partial<SentState>): Promise<string>;
}
