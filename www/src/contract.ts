// The requests and replies of the engine, as `src/contract/` in Rust declares them. Temperatures are °C, amounts
// percent by mass.

import type { Kinds } from "../generated/messages.js";
import type { Finding } from "./words.js";

/** What is known of an ingredient that the catalogue lacks. */
export interface Own {
  composition?: Record<string, number>;
  fatty_acids?: Record<string, number>;
  spread?: string;
  free_acid_percent?: number;
  unsaponifiable_percent?: number;
  diglyceride_percent?: number;
  solid_points?: [number, number][];
  like?: string;
  melts_at_c?: number;
  class?: string;
}

export interface Item extends Own {
  id?: string;
  name?: string;
  percent: number;
}

export type Format = "whipped" | "pot" | "bar";
export type Firmness = Kinds["firmness"];
export type OnSkin = "melts" | "lingers" | "stays";
export type Swap = "oil" | "all";

export interface Storage {
  coldest: number;
  hottest: number;
}

export interface Wishes {
  format: Format;
  storage_c: Storage;
  skin_c: number;
  firmness?: Firmness | null;
  on_skin?: OnSkin | null;
}

export interface Ingredient {
  id: string;
  name: string;
  inci: string;
  class: string;
  allergens: string[];
  note: string;
  melting_c: [number, number] | null;
  melting_kind: string;
  use_ceiling_percent: number | null;
}

export interface Place {
  at_c: number;
  solid_percent: number;
  structure_percent: number;
  structure_band_percent: [number, number];
  firmness: Firmness;
  firmness_band: [Firmness, Firmness];
  /** Oil that the crystals cannot hold, percent by mass of the whole. */
  weeping_oil_percent: number;
  holds: boolean;
}

export interface Curve {
  at_c: number[];
  solid_percent: number[];
  structure_percent: number[];
  firmness: Firmness[];
}

export interface Making {
  melt_out_c: number;
  hold_min: number;
  pour_c: [number, number] | null;
  whip_c: [number, number] | null;
  demould_c: number | null;
  hurry_c: [number, number] | null;
}

export interface Trouble {
  sign: Kinds["sign"];
  causes: Finding<"cause">[];
  remedies: Finding<"remedy">[];
}

/** Nine of ten measured figures that nothing was fitted to lie within so much of the prediction, either way. */
export interface ErrorBand {
  class: string;
  solid_percent: number;
  slip_c: number;
  clear_c: number;
  figures: { solid: number; slip: number; clear: number };
}

export interface Verdict {
  mood: "good" | "doubtful" | "bad";
  findings: Finding<"verdict">[];
  remarks: Finding<"remark">[];
}

export interface Miss extends Finding<"miss"> {
  wish: string;
  at_c: number;
  found_percent: number;
  low_percent: number | null;
  high_percent: number | null;
}

export type PlaceName = "coldest" | "usual" | "hottest" | "skin";

export interface Behaviour {
  verdict: Verdict;
  places: Record<PlaceName, Place>;
  misses: Miss[];
  softening_c: number | null;
  softening_band_c: [number | null, number | null];
  slip_c: number | null;
  clear_c: number | null;
  band: ErrorBand;
  residue: { feel: Kinds["skin"]; waxy_percent: number; oily_percent: number };
  dab: { melts: Finding<"dab"> };
  making: Making;
  steps: Finding<"step">[];
  cautions: Finding<"caution">[];
  fresh: { slip_c: number | null } & Record<PlaceName, FreshPlace>;
  settling: Finding<"settling">[];
  pack: (Finding<"pack"> & { holds: boolean }) | null;
  troubles: Trouble[];
  curve: Curve;
  certificate: number;
}

export interface FreshPlace {
  at_c: number;
  solid_percent: number;
  firmness: Firmness;
}

export interface Melt {
  solid_percent: number[];
  slip_c: number | null;
  clear_c: number | null;
  certificate: number;
}

export interface Change {
  id: string;
  from_percent: number;
  to_percent: number;
}

export interface Proposal {
  recipe: Item[];
  changes: Change[];
  meets_all: boolean;
  misses: Miss[];
  slip_c: number | null;
  clear_c: number | null;
  solid_percent: Record<PlaceName, number>;
  findings: Finding<"rework">[];
}

export interface Rework {
  proposals: Proposal[];
  examined: number;
  robust_cost?: Finding<"robust-cost">;
  why_not?: (Gives & { with?: Gives[]; proposal: Proposal })[];
}

/** A wish that is missed, and by how many points. */
export interface Gives {
  wish: string;
  gives_points: number;
}

/** How far a rework, a rescue or two seasons have come. */
export interface Progress {
  decided: number;
  total: number;
  /** The best recipe so far, where it is another than the one told last. */
  best?: Proposal;
}

export interface Added {
  id: string;
  grams: number;
}

export type Addition = Omit<Proposal, "changes"> & { add: Added[]; grams: number };

export interface Seasons {
  summer: Proposal;
  winter: Proposal;
  differ: Change[];
  findings: Finding<"seasons">[];
}

export interface Limits {
  wax_percent: number;
  fatty_acid_percent: number;
  /** `null`: what is usual, or in the recipe. */
  fatty_alcohol_percent: number | null;
  powder_percent: number | null;
  step_percent: number;
  changes: number;
  locked: string[];
  pantry: string[] | null;
  bounds: Record<string, Bounds>;
  refuse: string[];
  actives: string[];
  keep_lead: boolean;
  use_ceilings: boolean;
  prices: Record<string, number>;
  any_step: boolean;
  margin_points: number;
}

/** The least and the most of one ingredient, percent. */
export interface Bounds {
  min: number;
  max: number;
}

export interface HardenerPicture {
  hardeners: string[];
  swap: Swap;
  dose_percent: number;
}

/** The air of a journey: one of a preset, one temperature for so many hours, and corners of hour and °C. */
export interface Air {
  preset?: string;
  constant_c?: number;
  hours?: number;
  points?: [number, number][];
}

export interface Way extends Air {
  volume_ml: number;
  insulation_mm: number;
  cold_pack_g: number;
}

export interface State extends Wishes {
  name: string | null;
  recipe: Item[];
  limits: Limits;
  /** What a rework comes close to: what is wished, or how the recipe is now. */
  aim: "wishes" | "as-now";
  /** A batch that is made and needs mending. */
  made: { grams: number; used_grams: number; step_grams?: number; most_grams?: number } | null;
  /** Where the jar lives in the other season. */
  other_storage_c: Storage | null;
  picture: HardenerPicture | null;
  /** What it is packed in. */
  pack: string | null;
  /** How it travels, if that is looked at. */
  journey: Way | null;
  /** Of a kilogram, in whatever currency, by id or own name. */
  prices: Record<string, number>;
}

export interface ReadLine {
  text: string;
  amount: number | null;
  id: string | null;
  name: string;
  percent: number | null;
  problem: Finding<"line-problem"> | null;
  certain: boolean;
  suggestions: string[];
}

export interface Reading {
  unit: string;
  sum: number;
  lines: ReadLine[];
  recipe: Item[];
  remarks: Finding<"text-remark">[];
}

export interface Failure {
  kind: string;
  at: string;
  message: string;
}

export interface Batch {
  lines: { id: string; name: string; percent: number; amount: number }[];
  unit: "g" | "oz";
  step: number;
  total: number;
  jars: { jar_ml: number; jar_g: number; full: number; left_over_g: number };
  cost: Cost | null;
  label: { text: string; notes: Finding<"label-note">[] };
  notes: Finding<"batch-note">[];
}

export interface Cost {
  total: number;
  per_kg: number;
  per_jar: number;
  without_price: string[];
}

export interface Hardener {
  id: string;
  dose_percent: number[];
  slip_c: (number | null)[];
  clear_c: (number | null)[];
  coldest_percent: number[];
  hottest_percent: number[];
  skin_percent: number[];
  structure_percent: number[];
  firmness: Firmness[];
  stops: { dose_percent: number; reason: Finding<"no-butter"> } | null;
}

export interface Journey {
  survives: boolean;
  journey: Finding<"journey">;
  afterwards: Finding<"afterwards">[];
  advice: Finding<"advice">[];
  packed_better: { packing: Finding<"packing">; slumps_at_h: number | null; lost_percent: number }[];
  course: { points: [number, number][]; source: string };
  hours: number[];
  air_c: number[];
  middle_c: number[];
  slack_percent: number[];
  slumps_at_h: number | null;
}

export interface Symptom {
  sign: Kinds["sign"];
  expected: boolean;
  causes: Finding<"cause">[];
  readings: Finding<"reading">[];
  remedies: Finding<"remedy">[];
  rework_storage_c: Storage;
}

/** Every question with the type of its answer. */
export interface Answers {
  ingredients: Ingredient[];
  melt: Melt;
  behave: Behaviour;
  rework: Rework;
  rescue: { proposals: Addition[]; examined: number };
  seasons: Seasons;
  link: { fragment: string };
  "open-link": { state: State; remarks: Finding<"link-remark">[] };
  read: Reading;
  scale: { recipe: Item[] };
  qr: { size: number; path: string };
  batch: Batch;
  expose: Journey;
  symptom: Symptom;
  harden: { hardeners: Hardener[] };
}

export type Question = keyof Answers;
export type Request<Q extends Question = Question> = { ask: Q } & Record<string, unknown>;
export type Reply<Q extends Question = Question> = { answer: Answers[Q] } | { error: Failure };
