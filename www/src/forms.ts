// Written by `MINT=1 cargo test --lib forms` from the structs of src/contract/. Temperatures are °C, amounts percent by
// mass, unless a name says otherwise.

/** One ingredient that is melted in. */
export type Added = {
  /** The catalogue id, or the own name. */
  id: string,
  /** g. */
  grams: number, };

/** What to melt in. */
export type Addition = {
  /** What, and how much; empty where nothing is needed. */
  add: Array<Added>,
  /** How much there is afterwards, g. */
  grams: number,
  /** What it does, why and at what cost. */
  findings: Array<ReworkFinding>,
  /** What would be felt to differ from the batch as it is; nothing of what nobody would feel. */
  feel?: Array<Feel>,
  /** The recipe. */
  recipe: Array<Item>,
  /** Whether every wish is met, and it keeps its shape at the hottest as surely as was asked; with the aim
   * `as-now`, whether it is within half a point of how it is now. */
  meets_all: boolean,
  /** The wishes that are not met, and by how much; with the aim `as-now`, where it differs from now by half
   * a point or more. */
  misses: Array<Miss>,
  /** Slip point, °C. */
  slip_c: number | null,
  /** Clear point, °C. */
  clear_c: number | null,
  /** Solid fat content where it matters, percent by mass. */
  solid_percent: SolidAt,
  /** How likely a batch does what is wanted, if lots vary as published. */
  odds: Odds,
  /** How likely it keeps its shape at the hottest storage, in plain counts. */
  holds: VerdictFinding,
  /** How far above the hottest storage it keeps its shape, K; negative where it does not; `null` where it
   * never does. */
  room_c: number | null,
  /** How far solids and both points may be off, either way. */
  band: ErrorBand, };

/** What helps. */
export type Advice = { "kind": "rework-first" } | { "kind": "no-butter-comes-through", rind_c: number, skin_c: number, } | { "kind": "rework", rind_c: number, skin_c: number, holds_to_c: number, } | { "kind": "pack", packing: Packing, } | { "kind": "packing-is-not-enough", packing: Packing, after_h: number, } | { "kind": "hurry", within_h: number, } | { "kind": "season" } | { "kind": "another-product" };

/** What becomes of it afterwards. */
export type Afterwards = { "kind": "unchanged" } | { "kind": "smoother-skin" } | { "kind": "may-grain" } | { "kind": "as-before" } | { "kind": "loses-air" } | { "kind": "sets-unseeded" } | { "kind": "sets-coarse" } | { "kind": "out-of-shape" } | { "kind": "leaks" } | { "kind": "needs-tight-lid" };

/** How an observation agrees with all others and with what is published. */
export type Agreement = {
  /** `yes`, `strained`, or `no`: then it was left out. `disputed`: it and others so called contradict each
   * other, and none of them counts until one is measured again or left out. */
  agrees: Agrees,
  /** Of such observations, were all as the others say, the share that is so far off or farther. */
  share_as_far_off: number,
  /** Where, by all others, it should have been seen, °C. */
  expected_c: number,
  /** Nine in ten such readings would lie so near to that, K. */
  within_k: number,
  /** The likeliest reason, where it does not agree. */
  because: Because | null,
  /** Another observation of the same pot that cannot be true beside it: which of the request. */
  against: number | null,
  /** Whether no other that counts is of its lots: then it is compared with what is published alone. */
  alone: boolean, };

/** How a look agrees with the others and with what is published of such lots. */
export type Agrees = "yes" | "strained" | "no" | "disputed";

/** What a rework aims at. */
export type Aim = "wishes" | "as-now";

/** What a course of air stands for. */
export type Air = { "kind": "parked-car-sun" } | { "kind": "parked-car-shade" } | { "kind": "dashboard" } | { "kind": "delivery-van" } | { "kind": "mailbox" } | { "kind": "sea-container" } | { "kind": "warm-room",
  /** °C. */
  at_c: number, } | { "kind": "constant",
  /** °C. */
  at_c: number,
  /** For how long, hours. */
  for_h: number, } | { "kind": "listed" };

/** The air: exactly one of `preset`, `constant_c` with `hours`, and `points`. */
export type AirRequest = {
  /** A course from published measurements. */
  preset: Preset | null,
  /** °C throughout. */
  constant_c: number | null,
  /** For how long, with `constant_c`; 24 unless said otherwise. */
  hours: number | null,
  /** Corners of a course: hour and °C, hours rising. */
  points: Array<[number, number]> | null, };

/** The most heat that can be borne with what else is wished for, or with as much of that as can be had at
 * all. */
export type AtMost = { "kind": "holds", holds_to_c: number, } | { "kind": "holds-on-skin", holds_to_c: number, on_skin: OnSkin, } | { "kind": "holds-as-firm", holds_to_c: number, class: Firmness, } | { "kind": "holds-as-firm-on-skin", holds_to_c: number, class: Firmness, on_skin: OnSkin, } | { "kind": "not-as-firm", holds_to_c: number, class: Firmness, } | { "kind": "on-skin-not-as-firm", holds_to_c: number, class: Firmness, on_skin: OnSkin, } | { "kind": "holds-alone", holds_to_c: number, } | { "kind": "not-even-cold", coldest_c: number, };

/** The answer to [`BatchRequest`]. */
export type BatchAnswer = {
  /** What to weigh, in the order of the recipe. */
  lines: Array<BatchLine>,
  /** The scale's unit. */
  unit: ScaleUnit,
  /** Its step. */
  step: number,
  /** The batch in the scale's unit: the exact sum of what is weighed. */
  total: number,
  /** The same, g. */
  total_g: number,
  /** The jars that it fills. */
  jars: Jars,
  /** The list of ingredients. */
  label: Label,
  /** What it costs; `null` where no price was given. */
  cost: Cost | null,
  /** What to know. */
  notes: Array<BatchNote>, };

/** One line to weigh. */
export type BatchLine = {
  /** The catalogue id, or the own name. */
  id: string,
  /** The plain name. */
  name: string,
  /** Percent by mass as asked; where weights were given, their percentage to a hundredth. */
  percent: number,
  /** In the scale's unit, to its step. */
  amount: number,
  /** Whole steps of the scale; these sum exactly. */
  steps: number,
  /** The same, g. */
  grams: number,
  /** The same, oz. */
  ounces: number,
  /** What it is of the batch as weighed, percent. */
  weighed_percent: number, };

/** What to know of a batch. */
export type BatchNote = { "kind": "coarse-step", id: string, step_g: number, asked_percent: number, weighed_percent: number, };

/** `{"ask":"batch"}`: a batch of a recipe; or, with `weighed_g` or `weighed_oz`, the
 * percentages of what was weighed. */
export type BatchRequest = {
  /** The recipe; percentages sum to 100 within 0.01. With weights it gives only the make-up of each line,
   * and its percentages are not read. */
  recipe: Array<Item>,
  /** The batch, g; absent: from `jars`, or else 500. */
  batch_g: number | null,
  /** Or so many jars. */
  jars: number | null,
  /** What was weighed, in the order of the recipe, g: asks for percentages. */
  weighed_g: Array<number> | null,
  /** The same in ounces. */
  weighed_oz: Array<number> | null,
  /** What the scale shows; absent: grams, or what was weighed in. */
  unit: ScaleUnit | null,
  /** The scale's step, in its unit; absent: 0.1 g or 0.01 oz. */
  step: number | null,
  /** How it is sold: a whipped butter fills jars set, the others are poured. */
  format: Format,
  /** Air whipped in, percent of the volume before. */
  overrun_percent: number,
  /** What one jar is filled with, mL. */
  jar_ml: number,
  /** Price of a kilogram by id or own name, in any currency; empty: no cost. */
  price_per_kg: { [key in string]: number }, };

/** Why a look may contradict the others. */
export type Because = "not-settled" | "thermometer" | "another-lot";

/** The answer to [`BehaveRequest`]. */
export type BehaveAnswer = {
  /** Whether it does what is wanted. */
  verdict: Verdict,
  /** How likely a batch does what is wanted, if lots vary as published. */
  odds: Odds,
  /** What it is like at each of the temperatures that decide. */
  places: Places,
  /** The wishes that are not met; empty when all are. */
  misses: Array<Miss>,
  /** What keeps the format's shape, and how much of it that takes. */
  holding: Holding,
  /** Where the jar stops holding its shape, °C: the structure falls to the least that the format needs;
   * `null` where it never holds. */
  softening_c: number | null,
  /** The band of the same: nine in ten of its lots lie within, °C. */
  softening_band_c: [number | null, number | null],
  /** Slip point, °C; `null` where the recipe is liquid at every temperature considered. */
  slip_c: number | null,
  /** Clear point, °C; `null` likewise. */
  clear_c: number | null,
  /** The band of the slip point, °C; `null` where there is none. */
  slip_band_c: [number, number] | null,
  /** The band of the clear point, °C; likewise. */
  clear_band_c: [number, number] | null,
  /** How far solids and both points may be off, either way. */
  band: ErrorBand,
  /** How much room the climate leaves. */
  room: Room,
  /** What is left on skin. */
  residue: Residue,
  /** How fast a dab melts. */
  dab: DabAnswer,
  /** Whether the pack holds it; `null` where none was named. */
  pack: PackVerdict | null,
  /** The temperatures that a maker needs. */
  making: Making,
  /** How to make it, step by step. */
  steps: Array<Step>,
  /** What to be careful of while it is hot. */
  cautions: Array<Caution>,
  /** What it is like fresh, before its crystals settle; everything else here is of the settled butter. */
  fresh: Fresh,
  /** What to expect of it in its first days. */
  settling: Array<Settling>,
  /** The signs of trouble that it is prone to in this climate. */
  troubles: Array<Diagnosis>,
  /** What stands for each cap of a rework that was not set. */
  usual_limits: UsualLimits,
  /** Solids over temperature. */
  curve: Curve,
  /** The largest violation of the optimality conditions over every state solved for this answer. */
  certificate: number, };

/** `{"ask":"behave"}`; its wishes (`format`, `storage_c`, ..) are read as [`super::WishesRequest`]. */
export type BehaveRequest = {
  /** The recipe; percentages sum to 100 within 0.01. */
  recipe: Array<Item>,
  /** What it is packed in; absent: not judged. */
  pack: Pack | null,
  /** The dab whose melting on skin is followed. */
  dab: DabRequest, };

/** The least and the most of one ingredient, percent. */
export type Bounds = {
  /** The least. */
  min: number,
  /** The most. */
  max: number, };

/** What can be had instead. */
export type CannotBe = {
  /** The most heat that can be borne with what else is wished for, as surely as was asked. */
  at_most: AtMost,
  /** What does so; absent where nothing does, however cool it is stored. */
  cooler?: CoolerStorage,
  /** The formats that could do what is asked, the most like the present one first. */
  formats?: Array<FormatThatDoes>,
  /** Whether a maker would feel that the first proposal is nearer to what is asked than the recipe as it
   * is. */
  nearest_is_felt: boolean, };

/** What carries a change. */
export type Carrier = "fat-crystals" | "fatty-acid-crystals" | "fatty-alcohol-crystals" | "wax-crystals" | "glyceride-crystals" | "powder";

/** Why a sign shows, or does not. */
export type Cause = { "kind": "dissolves", onset_c: number, } | { "kind": "never-sets" } | { "kind": "always-knit" } | { "kind": "knits", hottest_c: number, structure_percent: number, needs_percent: number, } | { "kind": "oil-loose", onset_c: number, } | { "kind": "oil-always-loose" } | { "kind": "oil-always-held" } | { "kind": "lumps", hottest_c: number, structure_percent: number, needs_percent: number, } | { "kind": "oil-held", hottest_c: number, structure_percent: number, needs_percent: number, } | { "kind": "net-thin", onset_c: number, } | { "kind": "net-always-thin" } | { "kind": "net-holds" } | { "kind": "warmed-from-outside" } | { "kind": "parts", from_c: number, to_c: number, } | { "kind": "does-not-part" } | { "kind": "few-crystals", solid_percent: number, } | { "kind": "regrows", solid_percent: number, hottest_c: number, left_percent: number, } | { "kind": "stiff", onset_c: number, } | { "kind": "not-stiff" } | { "kind": "cold-structure", coldest_c: number, structure_percent: number, } | { "kind": "stays-on-skin", felt_percent: number, waxy_percent: number, } | { "kind": "melts-on-skin" } | { "kind": "oil-in-the-jar", usual_c: number, oil_percent: number, } | { "kind": "not-of-melting" } | { "kind": "not-to-judge" } | { "kind": "water-came-in" };

/** What to be careful of. */
export type Caution = { "kind": "open-heat", flash_from_c: number, flash_to_c: number, } | { "kind": "water" } | { "kind": "burns" } | { "kind": "vapour", flash_from_c: number, flash_to_c: number, } | { "kind": "darkens", above_c: number, };

/** The answer to `certificate`. */
export type CertificateAnswer = {
  /** Common names that an own ingredient takes, each with its percent by mass. */
  fatty_acids: Array<[string, number]>,
  /** Rows with a number that were not understood. */
  unread: Array<string>,
  /** The text is a recipe, to be read by `read`. */
  is_recipe: boolean, };

/** One line that changes. */
export type Change = {
  /** The catalogue id, or the own name. */
  id: string,
  /** Percent before; 0 for a newcomer. */
  from_percent: number,
  /** Percent after; 0 for one that leaves. */
  to_percent: number, };

/** What kind of ingredient it is. */
export type Class = "hard-butter" | "soft-butter" | "liquid-oil" | "fatty-acid" | "fatty-alcohol" | "wax" | "other";

/** Storage that is cool enough. */
export type CoolerStorage = {
  /** The hottest that it may be, °C. */
  hottest_c: number,
  /** What cannot be had even so. */
  given_up: Array<GivenUp>,
  /** The recipe for it. */
  proposal: Proposal, };

/** What a batch costs. */
export type Cost = {
  /** All that has a price. */
  total: number,
  /** For a kilogram. */
  per_kg: number,
  /** For a full jar. */
  per_jar: number,
  /** Line by line, in the order of the recipe; `null` where no price was given. */
  lines: Array<number | null>,
  /** Lines without a price: the true cost is higher. */
  without_price: Array<string>, };

/** A course of air temperature. */
export type Course = {
  /** Corners: hour and °C, hours rising from 0; straight between them. */
  points: Array<[number, number]>,
  /** What it stands for. */
  air: Air,
  /** Where the figures come from, and what is assumed. */
  source: string, };

/** How long the butter has had to settle. */
export type CrystalState = "settled" | "fresh";

/** Solids over temperature, column by column. */
export type Curve = {
  /** °C, rising. */
  at_c: Array<number>,
  /** Solid fat content, percent by mass. */
  solid_percent: Array<number>,
  /** Structure, percent. */
  structure_percent: Array<number>,
  /** Crystals but wax, percent by mass: what holds air. */
  crystals_percent: Array<number>,
  /** The class that the structure falls in. */
  firmness: Array<Firmness>, };

/** How fast a dab melts. */
export type DabAnswer = {
  /** g. */
  mass_g: number,
  /** mm. */
  film_mm: number,
  /** Its temperature before, °C. */
  start_c: number,
  /** On skin, under a fingertip. */
  on_skin: DabTimes,
  /** Between two palms. */
  between_palms: DabTimes,
  /** What it does. */
  melts: DabMelts, };

/** What a still dab does on skin and between palms. */
export type DabMelts = { "kind": "nothing-solid", start_c: number, } | { "kind": "both", film_mm: number, skin_s: number, palms_s: number, } | { "kind": "between-palms", palms_s: number, } | { "kind": "neither" } | { "kind": "leaves-film" };

/** A dab laid on skin, or rubbed between two palms. */
export type DabRequest = {
  /** g, 0.01 to 100; sets only how much skin it covers. */
  mass_g: number,
  /** mm, 0.1 to 10. */
  film_mm: number,
  /** Its temperature before, °C; absent: room, within the storage range. */
  start_c: number | null, };

/** How fast a dab melts in one place. */
export type DabTimes = {
  /** Skin under a rubbing hand, °C. */
  skin_c: number,
  /** How thick it lies, mm: between palms the mean of before and after it is rubbed over one of them. */
  film_mm: number,
  /** Seconds until half of its solids are gone; `null` where that never happens within an hour, and where
   * more stays on skin than counts as melting. */
  half_s: number | null,
  /** Seconds until only the residue is left; `null` likewise. */
  residue_s: number | null,
  /** Solids that skin does not melt, percent by mass. */
  residue_percent: number,
  /** Skin covered, cm². */
  area_cm2: number, };

/** A sign with its causes in this recipe's figures, and what to do. */
export type Diagnosis = { sign: Sign, causes: Array<Cause>, remedies: Array<Remedy>, };

/** A line that a note is of. */
export type DoseLine = "softens" | "slip" | "clear" | "hottest";

/** What a class will ask about a line of a hardener. */
export type DoseNote = { "kind": "melts-there", of: DoseLine, alone_c: number, moves_k: number, } | { "kind": "melts-sooner", of: DoseLine, alone_c: number, } | { "kind": "holds-no-air", of: DoseLine, } | { "kind": "displaces-air", of: DoseLine, } | { "kind": "idle", of: DoseLine, to_percent: number, } | { "kind": "thins", of: DoseLine, to_percent: number, } | { "kind": "displaces", of: DoseLine, to_percent: number, };

/** Error bands of the figures of one recipe: nine in ten of its lots lie within so much of the prediction,
 * either way, and so do nine of ten measured figures that nothing was fitted to (`src/surety/README.md`). */
export type ErrorBand = {
  /** Which class the recipe is of. */
  class: RecipeClass,
  /** Solid fat content, percentage points. */
  solid_percent: number,
  /** Slip point, K. */
  slip_c: number,
  /** Clear point, K. */
  clear_c: number,
  /** How many measured figures stand behind each of the three. */
  figures: Figures, };

/** A stable word for the kind of failure, for programs; `message` is for people. */
export type ErrorKind = "not-json" | "malformed" | "unknown-question" | "unknown-ingredient" | "unknown-species" | "out-of-range" | "sum-not-hundred" | "empty" | "conflict" | "bad-link";

/** The answer to [`ExposeRequest`]. */
export type ExposeAnswer = {
  /** Whether it keeps its shape throughout. */
  survives: boolean,
  /** How it comes through. */
  journey: Journey,
  /** What becomes of it afterwards. */
  afterwards: Array<Afterwards>,
  /** What helps, best first; empty where it survives. */
  advice: Array<Advice>,
  /** The same parcel better packed, where it does not survive. */
  packed_better: Array<PackedBetter>,
  /** The course followed. */
  course: Course,
  /** The moments reported, hours. */
  hours: Array<number>,
  /** Air, °C. */
  air_c: Array<number>,
  /** The outermost shell of the butter, °C. */
  surface_c: Array<number>,
  /** Its middle, °C. */
  middle_c: Array<number>,
  /** Share of the solids that it had at the start which has melted, percent. */
  melted_percent: Array<number>,
  /** Share of the mass whose structure is below what the format needs, percent. */
  slack_percent: Array<number>,
  /** The most that was melted, percent. */
  most_melted_percent: number,
  /** When it starts to slump, hours; `null` where it does not. */
  slumps_at_h: number | null,
  /** Share of the mass that lost its structure at some time, percent: it sets
   * again, but flat, dense or grainy. */
  lost_percent: number,
  /** The hottest that the middle of the butter got, °C. */
  hottest_middle_c: number,
  /** The hottest, °C, at the depth outside of which a tenth of its mass lies: what keeps its
   * structure there does not slump. */
  hottest_rind_c: number,
  /** Whether all of it would have poured at some time. */
  poured: boolean,
  /** Heat taken up less heat that came in, over the larger of the two: the solver's own check. */
  energy_error: number,
  /** Steps taken. */
  steps: number, };

/** `{"ask":"expose"}`: a packed butter in air that follows a course. */
export type ExposeRequest = {
  /** The recipe; percentages sum to 100 within 0.01. */
  recipe: Array<Item>,
  /** How it is sold. */
  format: Format,
  /** The air. */
  air: AirRequest,
  /** What it is packed in. */
  parcel: ParcelRequest,
  /** Skin, °C, for the advice; 32.5 unless said otherwise. */
  skin_c: number, };

/** What a [`Failure`] says. */
export type Fault = {
  /** The kind, for programs. */
  kind: ErrorKind,
  /** The place; in a reply, its path in the request such as `recipe[1].id`, empty for the whole. */
  at: string,
  /** What is wrong and what to do, for people. */
  message: string, };

/** What would be felt to differ. */
export type Feel = { "kind": "more-drag", from_percent: number, to_percent: number, } | { "kind": "less-drag", from_percent: number, to_percent: number, } | { "kind": "greasier", from_percent: number, to_percent: number, } | { "kind": "drier", from_percent: number, to_percent: number, } | { "kind": "slower-to-melt", from_s: number, to_s: number, } | { "kind": "faster-to-melt", from_s: number, to_s: number, } | { "kind": "firmer-in-the-cold", coldest_c: number, from: Firmness, to: Firmness, } | { "kind": "softer-in-the-cold", coldest_c: number, from: Firmness, to: Firmness, } | { "kind": "more-matt", from_percent: number, to_percent: number, } | { "kind": "glossier", from_percent: number, to_percent: number, };

/** How many measured figures stand behind a band. */
export type Figures = {
  /** Behind that of solids. */
  solid: number,
  /** Behind that of slip points. */
  slip: number,
  /** Behind that of clear points. */
  clear: number, };

/** How firm a butter is, from liquid to brittle. */
export type Firmness = "pourable" | "slack" | "soft" | "scoopable" | "firm" | "hard" | "snapping";

/** How the butter is sold. */
export type Format = "whipped" | "pot" | "bar" | "stick";

/** A format that needs less to keep its shape. */
export type FormatThatDoes = {
  /** Which. */
  format: Format,
  /** The recipe for it. */
  proposal: Proposal, };

/** A fresh butter, chilled hours ago, against the settled one that it becomes. */
export type Fresh = {
  /** At the coldest storage. */
  coldest: FreshPlace,
  /** In the middle of the storage range. */
  usual: FreshPlace,
  /** At the hottest storage. */
  hottest: FreshPlace,
  /** On skin. */
  skin: FreshPlace,
  /** Slip point of the fresh butter, °C; `null` where it is liquid at every temperature considered. */
  slip_c: number | null, };

/** A fresh butter at one temperature. */
export type FreshPlace = {
  /** °C. */
  at_c: number,
  /** Solid fat content, percent by mass. */
  solid_percent: number,
  /** Structure, percent. */
  structure_percent: number,
  /** The class that the structure falls in. */
  firmness: Firmness,
  /** By how much structure grows as it settles, percent. */
  firms_by_percent: number,
  /** By how much solid fat content grows, percent by mass. */
  sets_by_percent: number,
  /** Whether the format keeps its shape while it is fresh. */
  holds: boolean,
  /** Whether it does once settled. */
  will_hold: boolean, };

/** How much room a climate leaves for a butter that holds in storage and melts on skin. */
export type Gap = "wide" | "narrow" | "none";

/** A wish that is given up. */
export type GivenUp = "firmness" | "on-skin";

/** What a wish has to give with another. */
export type Gives = {
  /** Which wish. */
  wish: Wish,
  /** Percent points that it is missed by. */
  gives_points: number, };

/** The answer to [`HardenRequest`]. */
export type HardenAnswer = {
  /** One for each hardener, in the order asked. */
  hardeners: Array<Hardener>, };

/** `{"ask":"harden"}`; its wishes (`format`, `storage_c`, ..) are read as [`super::WishesRequest`]. */
export type HardenRequest = {
  /** The base; percentages sum to 100 within 0.01. */
  recipe: Array<Item>,
  /** Catalogue ids of one to four hardeners, each looked at alone. */
  hardeners: Array<string>,
  /** What a hardener replaces. */
  swap: Swap,
  /** The doses, percent of the whole added to what the base has, 0 to 50, rising; absent: 0 to 20 by 1. */
  doses_percent: Array<number>, };

/** What one hardener does, column by column over the doses. */
export type Hardener = {
  /** The catalogue id. */
  id: string,
  /** Percent; shorter than asked where there is no more oil to replace. */
  dose_percent: Array<number>,
  /** The most that there is to replace, percent: no dose goes beyond. */
  most_percent: number,
  /** What is left of each line of the base at each dose, percent, in the order asked; the dose is what is
   * missing to 100. */
  base_percent: Array<Array<number>>,
  /** Where the format stops keeping its shape, °C; `null` where it never does. */
  softens_c: Array<number | null>,
  /** Slip point, °C; `null` where it is liquid at every temperature considered. */
  slip_c: Array<number | null>,
  /** Clear point, °C; `null` likewise. */
  clear_c: Array<number | null>,
  /** Solid fat content at the coldest storage, percent by mass. */
  coldest_percent: Array<number>,
  /** At the hottest storage. */
  hottest_percent: Array<number>,
  /** On skin. */
  skin_percent: Array<number>,
  /** Structure in the middle of the storage range, percent. */
  structure_percent: Array<number>,
  /** Structure at the hottest storage, percent. */
  structure_hottest_percent: Array<number>,
  /** The class that the structure falls in. */
  firmness: Array<Firmness>,
  /** What of it a class will ask about: a line that stays flat, a dose that does nothing. */
  dose_notes: Array<DoseNote>,
  /** Where it stops being a butter; `null` where it stays one. */
  stops: Stop | null,
  /** The largest violation of the optimality conditions over every state solved for this hardener. */
  certificate: number, };

/** What keeps a format's shape. */
export type Holding = {
  /** The figure that decides: `structure`, or in a whipped butter its `crystals` but wax. */
  by: Quantity,
  /** The least of it, percent, at which the shape is kept. */
  least_percent: number, };

/** How a name was taken for an ingredient. */
export type How = "named" | "common" | "misspelt";

/** One entry of the answer to `{"ask":"ingredients"}`. */
export type Ingredient = {
  /** The id that recipes use. */
  id: string,
  /** The plain name. */
  name: string,
  /** The name on a label, by the International Nomenclature of Cosmetic Ingredients. */
  inci: string,
  /** What kind of ingredient it is. */
  class: Class,
  /** The melting range that suppliers and pharmacopoeias promise, °C. */
  melting_c: [number, number] | null,
  /** Which melting figure that is. */
  melting_kind: string,
  /** Allergen groups. */
  allergens: Array<string>,
  /** The most that the trade uses, percent, where it has a ceiling. */
  use_ceiling_percent: number | null,
  /** How often makers use it: 3 every day, 2 usually, 1 rarely. */
  commonness: number,
  /** What else to know. */
  note: string, };

/** One line of a recipe: a catalogue ingredient, or one that brings its own make-up. */
export type Item = {
  /** The catalogue id; absent for an own ingredient. */
  id?: string,
  /** What the maker calls it; for an own ingredient also what locks and changes refer to it by. */
  name?: string,
  /** Percent by mass of the recipe, 0 to 100. */
  percent: number,
  /** The own make-up: percent by mass over species ids, summing to 100. */
  composition?: { [key in string]: number },
  /** Another own make-up: percent by mass over fatty acids (`C16:0`, `palmitic`, .. and `other`), as a
   * certificate of analysis states them, summing to 100 within 2; the triglycerides follow from `spread`. */
  fatty_acids?: { [key in string]: number },
  /** With `fatty_acids`: `seed` (saturated acids kept off the middle position; the default but for lauric
   * fats), `pulp` (partly: palm and other fruit-pulp fats) or `random` (interesterified and lauric fats). */
  spread?: Rule,
  /** With `fatty_acids`: free fatty acids, percent by mass; 0.3 unless said otherwise. */
  free_acid_percent?: number,
  /** With `fatty_acids`: unsaponifiable matter, percent by mass; 1 unless said otherwise. */
  unsaponifiable_percent?: number,
  /** With `fatty_acids`: diglycerides, percent by mass; 1.5 unless said otherwise. */
  diglyceride_percent?: number,
  /** A third own make-up: measured solid fat content, [°C, percent] each, met within 0.5 points. */
  solid_points?: Array<[number, number]>,
  /** With an own make-up: the catalogue ingredient whose class and fitted correction this one shares;
   * without one, whose make-up too. */
  like?: string,
  /** The slip point of an own ingredient, °C: all its crystals are moved alike to meet it. */
  melts_at_c?: number,
  /** The class of an own ingredient; that of `like`, else `other`, unless said otherwise. */
  class?: Class,
  /** What is known of the lot that it is taken from, by what it was seen to do (`learn`); absent: any lot.
   * A line of 0 % tells the lot of what a rework may add. */
  lot?: ItemLot, };

/** What is known of one lot of an ingredient, as the answer to `learn` tells it. How it goes together
 * with other lots is not carried. */
export type ItemLot = {
  /** K by which all its crystals melt higher than on record. */
  shift_k: number,
  /** The natural logarithm of how many times as much of it crystallises. */
  share_log: number,
  /** What is left unknown of the shift, K, as a standard deviation. */
  shift_left_k: number,
  /** What is left unknown of the share, likewise. */
  share_left_log: number,
  /** How the two go together in what is left, -1 to 1. */
  together: number, };

/** The jars that a batch fills. */
export type Jars = {
  /** Fill of one, mL. */
  jar_ml: number,
  /** Density as it is filled, g/mL: poured as a liquid, or whipped. */
  fill_g_per_ml: number,
  /** Net weight of one, g. */
  jar_g: number,
  /** Full jars. */
  full: number,
  /** What is left over, g. */
  left_over_g: number,
  /** Volume in all, mL. */
  volume_ml: number,
  /** Ingredients whose density is not known and was taken as 0.92 set and 0.90 poured, g/mL. */
  density_unknown: Array<string>, };

/** How it came through. */
export type Journey = { "kind": "comes-through", air: Air, melted_percent: number, } | { "kind": "outside-softens", air: Air, melted_percent: number, lost_percent: number, } | { "kind": "slumps", air: Air, after_h: number, melted_percent: number, lost_percent: number, } | { "kind": "too-soft-from-the-start" };

/** The list of ingredients for a label. */
export type Label = {
  /** The names in descending order, as a list to print. */
  text: string,
  /** The same, one by one. */
  names: Array<LabelName>,
  /** The allergen groups in it, each once. */
  allergens: Array<string>,
  /** What to know before printing it. */
  notes: Array<LabelNote>, };

/** One name on a label. */
export type LabelName = {
  /** The name by the International Nomenclature of Cosmetic Ingredients; for an own ingredient like none of
   * the catalogue, what the maker calls it, which the note says. */
  inci: string,
  /** Percent by mass. */
  percent: number,
  /** Allergen groups. */
  allergens: Array<string>, };

/** What to know before printing a label. */
export type LabelNote = { "kind": "rules-differ", any_order_percent: number, } | { "kind": "shares-assumed", extract_percent: number, } | { "kind": "own-names", ids: Array<string>, };

/** The answer to `{"ask":"ladder"}`, which takes the fields of [`ReworkRequest`]. */
export type LadderAnswer = {
  /** The least effort for each rung that can be reached, the least sure first. The first is the recipe as
   * it is, where the limits let it stay so; what one change reaches is not told twice. */
  rungs: Array<LadderRung>,
  /** Whether the search went to its end; `false` where it was stopped, and a rung may be missing. */
  complete: boolean, };

/** One rung. */
export type LadderRung = {
  /** That it keeps its shape at the hottest storage has these odds at least, 0 to 1; 0 where less
   * than a quarter of batches hold. */
  odds_at_least: number,
  /** What `limits.surety` asks for it; `null` below what can be asked for. */
  surety: Surety | null,
  /** The recipe. */
  proposal: Proposal, };

/** The answer to [`LearnRequest`]. */
export type LearnAnswer = {
  /** Each lot, in the order of the request. */
  lots: Array<LearnedLot>,
  /** The thermometers, in the order that they were met. */
  thermometers: Array<LearnedThermometer>,
  /** How each observation agrees, in the order of the request. */
  observations: Array<Agreement>,
  /** How many pots were looked at. */
  pots: number,
  /** The recipe before and after; `null` where none was given. */
  recipe: LearnedRecipe | null, };

/** `{"ask":"learn"}`: what the lots are like, by what was seen of them. */
export type LearnRequest = {
  /** The lots, at most 12. */
  lots: Array<LotRequest>,
  /** What was seen, at most 40. */
  observations: Array<Observation>,
  /** A recipe of them, to be told what became of its figures; absent: none. */
  recipe: Array<PotLine>,
  /** How the recipe is sold; a pot unless said otherwise. */
  format: Format, };

/** What is known of a lot. */
export type LearnedLot = {
  /** What the maker calls it. */
  name: string,
  /** What it is a lot of. */
  id: string,
  /** What is known of it now: a line of a recipe takes it as its `lot`. */
  lot: ItemLot,
  /** What was known of it before. */
  before: ItemLot,
  /** How many observations that count are of pots with it. */
  observations: number,
  /** How many of pots with it contradict each other, and do not count. */
  disputed: number,
  /** What they taught of where it slips. */
  taught: Taught,
  /** The slip point of the lot by itself, before. */
  slip_before: PointBand,
  /** And now. */
  slip: PointBand, };

/** What became of a recipe's figures. */
export type LearnedRecipe = {
  /** Where it softens, of any lots. */
  softening_before: PointBand,
  /** Of these. */
  softening: PointBand,
  /** Where it slips, of any lots. */
  slip_before: PointBand,
  /** Of these. */
  slip: PointBand, };

/** What a thermometer reads wrong. */
export type LearnedThermometer = {
  /** What kind it is. */
  measured: Measured,
  /** Its name, if it has one. */
  thermometer: string | null,
  /** K that it reads too high. */
  reads_high_k: number,
  /** What is left unknown of that, K, as a standard deviation. */
  left_k: number, };

/** Why a piece of the text is no line of the recipe. */
export type LeftOut = "note" | "total" | "water";

/** A piece of the text that is no line of the recipe. */
export type LeftOutPiece = {
  /** The piece. */
  text: string,
  /** Why. */
  why: LeftOut, };

/** A limit that can be lifted. */
export type LiftedLimit = "wax" | "fatty-acid" | "fatty-alcohol" | "powder" | "changes" | "keep-lead" | "locked" | "bounds" | "pantry" | "step";

/** A limit without which a recipe gets further: it holds more surely, or misses fewer wishes. */
export type LimitInTheWay = {
  /** Which limit. */
  limit: LiftedLimit,
  /** Of `locked` and `bounds`: which line. */
  key?: string,
  /** What `limit` would be instead: percent of a cap or of the step, a number of lines; absent where it has
   * no figure. */
  to?: number,
  /** The recipe that there is then. */
  proposal: Proposal, };

/** What a rework may change. */
export type Limits = {
  /** The most wax, percent, at most 35; unless said otherwise 3, 25 in a bar and 35 in a stick, or what the
   * recipe holds where that is more. */
  wax_percent: number | null,
  /** The most free fatty acid, percent; unless said otherwise 6, or what the
   * recipe holds where that is more. */
  fatty_acid_percent: number | null,
  /** The most fatty alcohol, percent; unless said otherwise 6, or what the recipe holds where that is more. */
  fatty_alcohol_percent: number | null,
  /** The most powder, percent; unless said otherwise 10, or what the recipe holds where that is more. */
  powder_percent: number | null,
  /** The step of the scale, percent. */
  step_percent: number,
  /** The most lines that may change. */
  changes: number,
  /** Ingredients, by id or by own name, that stay as they are. */
  locked: Array<string>,
  /** Catalogue ids that may be added; absent: none, and on the page its usual ones. */
  pantry: Array<string> | null,
  /** Bounds, percent, by id or by own name. */
  bounds: { [key in string]: Bounds },
  /** What may not be in it: an id, a class such as `wax`, or an allergen group such as `bee`, `tree-nut`,
   * `palm` or `coconut`. What the recipe holds of it must leave. */
  refuse: Array<string>,
  /** Actives, by id or by own name: they never move. */
  actives: Array<string>,
  /** Whether the butter that leads goes on to: no other butter comes to exceed it, and nothing at all where
   * nothing does now; true unless said otherwise. */
  keep_lead: boolean,
  /** Whether nothing is raised above what the trade uses of it (`use_ceiling_percent` of
   * `ingredients`); true unless said otherwise. */
  use_ceilings: boolean,
  /** Prices per kilogram, in any currency, by id or by own name: of proposals that are otherwise alike, the
   * cheaper one. They count only where every ingredient has one. */
  prices: { [key in string]: number },
  /** How surely it is to keep its shape at the hottest storage; `likely` (3
   * batches in 4) unless said otherwise. */
  surety: Surety,
  /** The most equilibria that a search may take, from 1,000 on; past it the best so far is told,
   * and `complete` is false. Unless said otherwise the program stops after 1,000,000, and the
   * page when its reader stops it. */
  work: number | null, };

/** What was corrected of one line. */
export type LineCorrection = {
  /** The number of the line, from 0. */
  line: number,
  /** The catalogue id that it is. */
  id: string | null,
  /** The amount, in the unit given or else in the one that was read. */
  amount: number | null,
  /** The unit of the amount. */
  unit: Unit | null,
  /** It is no line of the recipe. */
  left_out: boolean, };

/** What is wrong with a line. */
export type LineProblem = { "kind": "no-name" } | { "kind": "no-amount" } | { "kind": "unknown" } | { "kind": "ambiguous" } | { "kind": "more-than-all" } | { "kind": "amount-range" } | { "kind": "amount-bad" } | { "kind": "unit-missing" } | { "kind": "units-mixed" } | { "kind": "ratio-mismatch" } | { "kind": "other-recipe" };

/** The answer to [`LinkRequest`]. */
export type LinkAnswer = {
  /** The fragment, without `#`. */
  fragment: string,
  /** The state holds what this version does not know, which was left out. */
  newer: boolean, };

/** What there is to know of a link that was opened. */
export type LinkRemark = { "kind": "unknown-part",
  /** The key of the part. */
  key: string, } | { "kind": "margin-is-surety" } | { "kind": "finds-otherwise" };

/** `{"ask":"link"}`: write the state as a fragment. */
export type LinkRequest = {
  /** What the link should carry. */
  state: State,
  /** The state may be of a later version, in a file: what is not known of it is left out, and the answer
   * says so. Else it is refused. */
  may_be_newer: boolean, };

/** The answer to [`LiquidusRequest`]. */
export type LiquidusAnswer = {
  /** °C. */
  liquidus_c: number, };

/** `{"ask":"liquidus"}`: the temperature at which the last crystal of a mixture dissolves. */
export type LiquidusRequest = {
  /** Mole percent by species id, summing to 100. */
  mole_percent: { [key in string]: number }, };

/** A lot that the maker has. */
export type LotRequest = {
  /** What the maker calls it. */
  name: string,
  /** The catalogue id of what it is a lot of. */
  id: string,
  /** What is known of it already, as from a link; absent: nothing. */
  lot: ItemLot | null, };

/** A batch that is made. */
export type Made = {
  /** What was made, g. */
  grams: number,
  /** What of it is used, sold or lost, g. */
  used_grams: number,
  /** The step of the scale, g. Unless said otherwise 1, or for more than 1 kg the least of 2, 5, 10, 20,
   * 50.. that is no less than a thousandth of what is there: nobody weighs 20 kg to a gram. */
  step_grams?: number,
  /** The most to melt in, g; half of what is there unless said otherwise. */
  most_grams?: number, };

/** How to make it, temperatures in °C. They are those of equilibrium: a fat that is cooled quickly
 * sets some degrees lower and later. */
export type Making = {
  /** Melt to here, so that no crystal is left for others to copy. */
  melt_out_c: number,
  /** Keep it there so long, minutes. */
  hold_min: number,
  /** Pour between these: liquid, but as cool as it still flows; `null` where it
   * is liquid at every temperature. */
  pour_c: [number, number] | null,
  /** Whip between these: enough crystals to hold air, few enough to fold; for a whipped butter only. */
  whip_c: [number, number] | null,
  /** Take it out of the mould below this; for a bar only. */
  demould_c: number | null,
  /** Cool through this range without lingering: here the highest-melting part sets alone, and grows grains. */
  hurry_c: [number, number] | null, };

/** How a temperature was measured. */
export type Measured = "kitchen" | "probe" | "room-guess";

/** The answer to [`MeltRequest`]. */
export type MeltAnswer = {
  /** Solid fat content at each `at_c`, percent by mass. */
  solid_percent: Array<number>,
  /** Structure at each `at_c`, percent. */
  structure_percent: Array<number>,
  /** Crystals but wax at each `at_c`, percent by mass. */
  crystals_percent: Array<number>,
  /** Slip point, °C; `null` where the recipe is liquid at every temperature considered. */
  slip_c: number | null,
  /** Clear point, °C; `null` likewise. */
  clear_c: number | null,
  /** The band of the slip point, °C: nine in ten of its lots lie within; `null` where there is no slip
   * point, and for a fresh butter. */
  slip_band_c: [number, number] | null,
  /** The band of the clear point, °C; likewise. */
  clear_band_c: [number, number] | null,
  /** How far such figures may be off, either way; `null` for a fresh butter. */
  band: ErrorBand | null,
  /** The largest violation of the optimality conditions over every state solved for this answer. */
  certificate: number, };

/** `{"ask":"melt"}`: how a recipe melts. */
export type MeltRequest = {
  /** The recipe; percentages sum to 100 within 0.01. */
  recipe: Array<Item>,
  /** The temperatures to report solids at, °C. */
  at_c: Array<number>,
  /** `settled` (days to weeks after making; the default) or `fresh` (chilled hours ago). */
  state: CrystalState, };

/** A wish that is not met, and how. */
export type Miss = { kind: MissKind, wish: Wish, at_c: number,
  /** What the recipe gives. */
  found_percent: number,
  /** The least that would do, where there is one. */
  low_percent: number | null,
  /** The most that would do, where there is one. */
  high_percent: number | null, };

/** How a wish is not met. */
export type MissKind = "does-not-hold" | "loses-air" | "softer" | "harder" | "leaves-less" | "leaves-more" | "softer-than-now" | "harder-than-now" | "leaves-less-than-now" | "leaves-more-than-now";

/** How good the news is. */
export type Mood = "good" | "doubtful" | "bad";

/** Why it is no butter any more. */
export type NoButter = { "kind": "snaps" } | { "kind": "film", skin_percent: number, most_percent: number, } | { "kind": "balm", wax_percent: number, most_percent: number, };

/** The answer to [`NotebookRequest`]. */
export type NotebookAnswer = {
  /** What is wrong with each lot; `null`: nothing. */
  lots: Array<Fault | null>,
  /** What is wrong with each observation, beside the good lots and the good
   * observations before it; likewise. */
  observations: Array<Fault | null>, };

/** `{"ask":"notebook"}`. */
export type NotebookRequest = {
  /** What should be lots, as `learn` takes them. */
  lots: Array<unknown>,
  /** What should be observations of pots of them. */
  observations: Array<unknown>, };

/** What was seen of a pot. */
export type Observation = {
  /** What the pot is made of, summing to 100: one lot alone, or a blend. */
  recipe: Array<PotLine>,
  /** What the pot is called; looks at pots of one name are looks at one pot. Absent: pots of one recipe are
   * one. */
  pot: string | null,
  /** What it is; a pot unless said otherwise. */
  format: Format,
  /** What was seen. */
  seen: SeenSign,
  /** With `seen` `firmness`: the class. */
  firmness: Firmness | null,
  /** With `seen` `solid`: percent by mass. */
  solid_percent: number | null,
  /** °C, as it was read; on skin that of skin in the open, 32.5 unless said otherwise. */
  at_c: number | null,
  /** How many days after making; below 2 it counts as fresh, and absent as settled. */
  after_days: number | null,
  /** How the temperature was measured; with a kitchen thermometer unless said otherwise. */
  measured: Measured,
  /** Which thermometer of that kind; all without a name are one. */
  thermometer: string | null,
  /** Whether the maker leaves it out. */
  left_out: boolean,
  /** Whether the maker stands by it, whatever the others say. */
  insist: boolean, };

/** How likely it is that a batch does what is wanted, if lots vary as published; each from 0 to 1. */
export type Odds = {
  /** That it keeps its shape at the hottest storage. */
  holds: number,
  /** That every wish is met at once. */
  all: number,
  /** That each wish is met, by its name. */
  wishes: { [key in Wish]?: number }, };

/** What should happen on skin. No published limit was found; the figures are an assumption, to be
 * tested: up to 8 % is rubbed in at once; from 20 % on a film stays. */
export type OnSkin = "melts" | "lingers" | "stays";

/** The answer to [`OpenLinkRequest`]. */
export type OpenLinkAnswer = {
  /** What the link carried. */
  state: State,
  /** What there is to know of it. */
  remarks: Array<LinkRemark>, };

/** `{"ask":"open-link"}`: read a fragment. */
export type OpenLinkRequest = {
  /** The fragment, with or without `#`. */
  fragment: string, };

/** What it is packed in. */
export type Pack = "jar" | "glass-jar" | "tin" | "tube" | "paper-tube" | "wrap";

/** What a pack does at the hottest storage. */
export type PackKind = "soaks-through" | "may-soak-through" | "stains" | "holds-upright" | "holds-liquid" | "holds";

/** Whether a pack holds its butter at the hottest storage, and why. */
export type PackVerdict = { kind: PackKind, pack: Pack, holds: boolean, hottest_c: number, };

/** The same parcel better packed. */
export type PackedBetter = {
  /** What is around it. */
  packing: Packing,
  /** Foam, mm. */
  insulation_mm: number,
  /** Cold packs, g. */
  cold_pack_g: number,
  /** When it starts to slump, hours; `null` where it does not. */
  slumps_at_h: number | null,
  /** Share of the mass that lost its structure, percent. */
  lost_percent: number, };

/** What is put around a pack. */
export type Packing = { "kind": "foam", foam_mm: number, } | { "kind": "foam-and-cold", foam_mm: number, cold_g: number, };

/** What it is packed in. */
export type ParcelRequest = {
  /** The pack; absent: a jar, for a bar a wrap. */
  pack: Pack | null,
  /** Fill of one pack, mL, 1 to 5000. */
  volume_ml: number,
  /** Height of the fill over its diameter, 0.05 to 20; absent: what is usual for the pack. */
  slenderness: number | null,
  /** Air whipped in, percent of the volume before, 0 to 300; absent: 60 for a whipped butter, else none. */
  overrun_percent: number | null,
  /** Packs that share a box, 1 to 1000. */
  packs: number,
  /** Foam around them, mm, 0 to 200. */
  insulation_mm: number,
  /** Cold packs in the box, g, 0 to 50 000. */
  cold_pack_g: number,
  /** Where they melt, °C, −25 to 30; 0 for water gel. */
  cold_pack_c: number,
  /** The butter before, °C. */
  start_c: number, };

/** The teaching picture: how hardeners move the melting point of the recipe. */
export type Picture = {
  /** Catalogue ids, at most four. */
  hardeners: Array<string>,
  /** What they replace. */
  swap: Swap,
  /** The dose looked at, percent. */
  dose_percent: number, };

/** The recipe at one temperature. */
export type Place = {
  /** °C. */
  at_c: number,
  /** Solid fat content, percent by mass. */
  solid_percent: number,
  /** The band of the same: nine in ten of its lots lie within. */
  solid_band_percent: [number, number],
  /** Structure, percent: solids counted by what they do; a wax crystal counts several times. */
  structure_percent: number,
  /** The band of the same: nine in ten of its lots lie within. */
  structure_band_percent: [number, number],
  /** The class that the structure falls in. */
  firmness: Firmness,
  /** The yield value that Haighton's scale gives a fat of this class, kPa: from and to, `null` where the
   * scale ends. */
  yield_value_kpa: [number | null, number | null],
  /** The softest and the hardest class within the band. */
  firmness_band: [Firmness, Firmness],
  /** Oil that the crystals cannot hold, percent by mass of the whole. */
  weeping_oil_percent: number,
  /** Whether the format keeps its shape here. */
  holds: boolean, };

/** The recipe at the temperatures that decide. */
export type Places = {
  /** The coldest storage. */
  coldest: Place,
  /** The middle of the storage range. */
  usual: Place,
  /** The hottest storage. */
  hottest: Place,
  /** On skin. */
  skin: Place, };

/** The answer to [`PlanRequest`]. */
export type PlanAnswer = {
  /** What is unknown now of where the recipe softens by its lots, K, as a standard deviation; beside
   * another recipe, of how much higher it does. */
  now_k: number,
  /** Whether the first pot narrows that by as much as a maker would notice: ± 0.1 °C, nine times in ten.
   * Otherwise another pot will not tell more. */
  worth_it: boolean,
  /** The pots, the one that tells most first. Make the first, say what was seen, and ask again: that tells
   * far more than to make all at once. */
  pots: Array<PlannedPot>,
  /** What would be left after two, one at a time, K; `null` where only one is planned. */
  one_by_one_k: number | null,
  /** The ratio series; `null` where none was asked for. */
  series: SeriesAnswer | null, };

/** `{"ask":"plan"}`: which pots to make next, so as to know best where a recipe softens, or which of two
 * softens higher; and a ratio series for a classroom. */
export type PlanRequest = {
  /** The lots, as in `learn`. */
  lots: Array<LotRequest>,
  /** What was seen so far, as in `learn`. */
  observations: Array<Observation>,
  /** The recipe that matters. */
  recipe: Array<PotLine>,
  /** How it is sold; a pot unless said otherwise. */
  format: Format,
  /** Another recipe to choose it from; absent: none. */
  beside: Array<PotLine>,
  /** The pots to choose from; absent: the recipe, each of its butters alone,
   * and blends of two of its lines. */
  pots: Array<Array<PotLine>>,
  /** The temperatures that the maker can keep a pot at overnight, °C. */
  at_c: Array<number>,
  /** Whether a slip tube in a warming water bath is at hand. */
  water_bath: boolean,
  /** How temperatures will be measured; with a kitchen thermometer unless said otherwise. */
  measured: Measured,
  /** Which thermometer of that kind. */
  thermometer: string | null,
  /** How many pots to plan, 1 to 3; 2 unless said otherwise. */
  most: number,
  /** How much a pot weighs, g, also of the series; 20 unless said otherwise. */
  grams: number,
  /** A ratio series to plan beside; absent: none. */
  series: SeriesRequest | null, };

/** A pot to make. */
export type PlannedPot = {
  /** What to make it of. */
  recipe: Array<PotLine>,
  /** How much of each, g. */
  grams: Array<number>,
  /** What to look for: `held` (or not), or `slipped`. */
  seen: SeenSign,
  /** Where to keep it, °C; `null` for a slip point. */
  at_c: number | null,
  /** Where, by all that is known, it will slip or soften, °C. */
  expected_c: number,
  /** Nine in ten such readings lie so near to that, K. */
  within_k: number,
  /** How likely it holds there; `null` for a slip point. */
  holds: number | null,
  /** What would be left unknown after it and those before it, K. */
  left_k: number, };

/** A temperature and its band. */
export type PointBand = {
  /** °C; `null` where there is none. */
  at_c: number | null,
  /** Nine in ten lie within, °C; likewise. */
  band_c: [number, number] | null, };

/** A line of a pot: of one of the lots, or of a catalogue ingredient of which no lot is named. All pots are
 * then taken to have it from one jar. */
export type PotLine = {
  /** The name of a lot. */
  lot?: string,
  /** Or else a catalogue id. */
  id?: string,
  /** Percent by mass. */
  percent: number, };

/** A course of air temperature, from published measurements as far as they go. */
export type Preset = "parked-car-sun" | "parked-car-shade" | "dashboard" | "delivery-van" | "mailbox" | "sea-container" | "warm-room";

/** What was done to be sure that nothing better is on the grid. */
export type Proof = {
  /** Sets of changing lines looked at. */
  supports: number,
  /** Recipes excluded by a bound that holds for a whole region of them. */
  excluded_by_bound: number,
  /** Recipes left out because a better one was known: more lines or a greater cost. */
  excluded_by_merit: number,
  /** Recipes solved one by one. */
  solved: number,
  /** Equilibria solved in all, those for bounds included. */
  equilibria: number, };

/** One rework. */
export type Proposal = {
  /** What differs from the old one; empty when nothing needs to change. */
  changes: Array<Change>,
  /** How much of the recipe moves, percent: the sum of what lines gain. */
  shift_percent: number,
  /** What it costs the maker, percent of the recipe: half of what moves, where a percent of wax counts
   * three times, one of an acid or an alcohol twice, and one of a butter that is taken out one and a half
   * times; and 2 to 8 for each newcomer, by how common it is, 8 more for wax, and 4 more for an acid or an
   * alcohol. */
  effort: number,
  /** The class of ingredient that carries it, such as `hard-butter`; absent where nothing changes. */
  lever?: Class,
  /** What it does, why and at what cost. */
  findings: Array<ReworkFinding>,
  /** What would be felt to differ from the recipe as it is; nothing of what nobody would feel. Told of
   * answers to `rework`, `rescue` and `ladder`. */
  feel?: Array<Feel>,
  /** The recipe. */
  recipe: Array<Item>,
  /** Whether every wish is met, and it keeps its shape at the hottest as surely as was asked; with the aim
   * `as-now`, whether it is within half a point of how it is now. */
  meets_all: boolean,
  /** The wishes that are not met, and by how much; with the aim `as-now`, where it differs from now by half
   * a point or more. */
  misses: Array<Miss>,
  /** Slip point, °C. */
  slip_c: number | null,
  /** Clear point, °C. */
  clear_c: number | null,
  /** Solid fat content where it matters, percent by mass. */
  solid_percent: SolidAt,
  /** How likely a batch does what is wanted, if lots vary as published. */
  odds: Odds,
  /** How likely it keeps its shape at the hottest storage, in plain counts. */
  holds: VerdictFinding,
  /** How far above the hottest storage it keeps its shape, K; negative where it does not; `null` where it
   * never does. */
  room_c: number | null,
  /** How far solids and both points may be off, either way. */
  band: ErrorBand, };

/** The answer to [`QrRequest`]. */
export type QrAnswer = {
  /** Modules along a side, without the quiet zone of 4. */
  size: number,
  /** The dark modules as the data of an SVG path, one unit a module. */
  path: string, };

/** `{"ask":"qr"}`. */
export type QrRequest = {
  /** What the code says. */
  text: string, };

/** A figure that decides: whether a format keeps its shape, or whether a wish is met. */
export type Quantity = "structure" | "solid" | "crystals" | "on-skin";

/** The answer to [`ReadRequest`]. */
export type ReadAnswer = {
  /** In what the whole is: percent, grams, ounces or parts. */
  unit: Unit,
  /** Sum of the amounts, in that unit. */
  sum: number,
  /** Line by line, for a preview. */
  lines: Array<ReadLine>,
  /** The lines that are understood, as a recipe; two lines of one ingredient are one. */
  recipe: Array<Item>,
  /** How many lines need whoever pasted them. */
  open: number,
  /** What else there is to know. */
  remarks: Array<TextRemark>,
  /** The pieces of the text that are no lines of the recipe, in their order. */
  left_out: Array<LeftOutPiece>, };

/** One line as it was understood. */
export type ReadLine = {
  /** The line as it stands in the text. */
  text: string,
  /** What it says the ingredient is. */
  name: string,
  /** The amount as it is written, in `unit`; `null` where there is none. */
  amount: number | null,
  /** The unit of the amount; `null` where a measure has no size. */
  unit: Unit | null,
  /** The ends of a range that is written in place of an amount. */
  range: [number, number] | null,
  /** Whether the mass is not known exactly: a volume, or the text says so. */
  about: boolean,
  /** Grams, where the whole is in masses. */
  grams: number | null,
  /** Percent of the whole. */
  percent: number | null,
  /** The catalogue id that it was taken for. */
  id: string | null,
  /** Whether the name is one of this ingredient alone. */
  certain: boolean,
  /** How the name was taken for it. */
  how: How | null,
  /** Catalogue ids that it could be instead, likeliest first. */
  suggestions: Array<string>,
  /** What is wrong first of all. */
  problem: LineProblem | null,
  /** All that is wrong: with its name first, then with its amount. */
  problems: Array<LineProblem>,
  /** A correction says that it is no line of the recipe. */
  left_out: boolean, };

/** `{"ask":"read"}`: understand a recipe that was pasted as text. */
export type ReadRequest = {
  /** The text. */
  text: string,
  /** What was corrected of its lines, as a former answer numbered them. */
  corrections: Array<LineCorrection>, };

/** What a sign that was seen says about the storage that the jar really saw. */
export type Reading = { "kind": "always" } | { "kind": "goes-further" } | { "kind": "never" } | { "kind": "hard-below", onset_c: number, } | { "kind": "warmer-than-given", onset_c: number, hottest_c: number, } | { "kind": "just-begun", onset_c: number, hottest_c: number, } | { "kind": "hot-enough", onset_c: number, hottest_c: number, } | { "kind": "cooled-slowly" } | { "kind": "shape-goes-first", format: Format, holds_to_c: number, onset_c: number, } | { "kind": "none-holds-there", most_c: number, };

/** What decides how well a recipe is predicted. */
export type RecipeClass = "plain" | "lauric" | "wax" | "fatty-acids" | "fatty-acids-and-slip";

/** Something to mind. */
export type Remark = { "kind": "weeps", hottest_c: number, oil_percent: number, } | { "kind": "known-roughly", hottest_c: number, softest: Firmness, hardest: Firmness, } | { "kind": "may-hold-less", holds_to_c: number, } | { "kind": "paste", powder_percent: number, } | { "kind": "powder-decides", hottest_c: number, } | { "kind": "balm", wax_percent: number, } | { "kind": "gels-oil" } | { "kind": "silica" } | { "kind": "grazes", from_c: number, to_c: number, } | { "kind": "holds-above-slip", slip_c: number, holds_to_c: number, } | { "kind": "liquids-part" } | { "kind": "above-use", id: string, percent: number, most_percent: number, } | { "kind": "skin-is-near", hottest_c: number, gap_k: number, margin_k: number, } | { "kind": "as-warm-as-skin", hottest_c: number, skin_c: number, };

/** What to do about a sign. */
export type Remedy = { "kind": "melt-higher" } | { "kind": "melt-anew" } | { "kind": "keep-cooler" } | { "kind": "hold-more-oil" } | { "kind": "do-not-stir-in" } | { "kind": "fill-to-rim" } | { "kind": "flatter-fall" } | { "kind": "fill-cool" } | { "kind": "closer-ranges" } | { "kind": "cool-fast", rest_from_c: number, rest_to_c: number, } | { "kind": "melt-less" } | { "kind": "blend-unlike" } | { "kind": "less-hard" } | { "kind": "let-it-warm" } | { "kind": "stop-using" } | { "kind": "cool-burns" } | { "kind": "throw-away-wet" } | { "kind": "close-cool" } | { "kind": "less-wax" } | { "kind": "use-less" } | { "kind": "less-oil" } | { "kind": "take-oil-up" } | { "kind": "throw-away" } | { "kind": "fresh-oils" };

/** The answer to [`RescueRequest`]. */
export type RescueAnswer = {
  /** The best first; each adds another kind of ingredient. */
  proposals: Array<Addition>,
  /** How many ways were decided. */
  examined: number,
  /** What was done to be sure. */
  proof: Proof,
  /** Whether the search went to its end; `false` where it was stopped: less may do, or
   * nothing may have been found yet. */
  complete: boolean, };

/** The part of `{"ask":"rescue"}` that is its own: a `rework` of a batch that is made, from which
 * nothing can be taken. Its recipe, wishes and limits are read as those of `rework`; `changes`
 * and `step_percent` do not matter. */
export type RescueRequest = {
  /** The batch. */
  made: Made, };

/** A batch that was rescued, as it is weighed: what it was, and what is melted into it. The recipe beside it
 * is that of both together. */
export type Rescued = {
  /** The batch before, g. */
  batch_grams: number,
  /** What is melted into it, g, by id or own name. */
  added: { [key in string]: number }, };

/** What is left on skin, percent by mass. */
export type Residue = {
  /** How it feels. */
  feel: SkinFeel,
  /** Solids that skin does not melt: felt as waxy from about 3.5. */
  waxy_percent: number,
  /** Liquid: felt as oily until it is rubbed in. */
  oily_percent: number, };

/** The answer to [`ReworkRequest`]. */
export type ReworkAnswer = {
  /** The best first; each differs in kind from the others. */
  proposals: Array<Proposal>,
  /** How many recipes on the grid were decided: solved, or shown to be no better than the first proposal. */
  examined: number,
  /** What was done to be sure. */
  proof: Proof,
  /** Where `why_not` was asked and not every wish can be met: for each wish in the way, what it would have
   * to give for all the others to be met, the least first; where no wish is enough alone, those that are
   * together. */
  why_not?: Array<WhyNot>,
  /** Where `why_not` was asked and not every wish can be met as surely as was asked: for each limit without
   * which a recipe gets further, that recipe; what gets furthest first. What is refused, what the trade
   * uses at most, and actives are not lifted. */
  limits_in_the_way?: Array<LimitInTheWay>,
  /** Where `why_not` was asked and not every wish can be met as surely as was asked: what can be had
   * instead. */
  cannot_be?: CannotBe,
  /** Whether the search went to its end; `false` where it was stopped, and a better recipe may be left, or
   * what `why_not` says. */
  complete: boolean, };

/** What there is to say of a rework or a rescue; several, one after the other. */
export type ReworkFinding = { "kind": "stays-as-now" } | { "kind": "good-as-it-is" } | { "kind": "nothing-nearer" } | { "kind": "moves", shift_percent: number, from_ids: Array<string>, to_ids: Array<string>, } | { "kind": "batch-is-good" } | { "kind": "nothing-helps" } | { "kind": "melt-in", id: string, added_g: number, } | { "kind": "batch-grows", batch_g: number, whole_g: number, } | { "kind": "firmer", carrier: Carrier, at_c: number, from_percent: number, to_percent: number, } | { "kind": "softer", carrier: Carrier, at_c: number, from_percent: number, to_percent: number, } | { "kind": "as-firm", at_c: number, structure_percent: number, } | { "kind": "more-on-skin", carrier: Carrier, from_percent: number, to_percent: number, } | { "kind": "less-on-skin", carrier: Carrier, from_percent: number, to_percent: number, } | { "kind": "as-much-on-skin", solid_percent: number, } | { "kind": "with-more-of", ids: Array<string>, } | { "kind": "with-less-of", ids: Array<string>, } | { "kind": "dissolves-less", ids: Array<string>, } | { "kind": "dissolves-more", ids: Array<string>, } | { "kind": "cold-stays", coldest_c: number, class: Firmness, from_percent: number, to_percent: number, } | { "kind": "cold-changes", coldest_c: number, from: Firmness, to: Firmness, from_percent: number, to_percent: number, } | { "kind": "on-skin", from_percent: number, to_percent: number, } | { "kind": "nearest-to-now" } | { "kind": "nearest" } | { "kind": "holds-less-surely" } | { "kind": "leave-as-refused", ids: Array<string>, } | { "kind": "nearest-rescue" } | { "kind": "towards-balm", wax_percent: number, } | { "kind": "wax-holds-no-air" } | { "kind": "grows-grains", ids: Array<string>, };

/** How far a `rework`, `rescue` or `seasons` has come. */
export type ReworkProgress = {
  /** Recipes on the grid decided so far. */
  decided: number,
  /** Recipes to be decided, as far as is known: it grows when more lines must change. */
  total: number,
  /** Of a `rework`: the best recipe so far, when it is another than at the last report. */
  best?: Proposal, };

/** `{"ask":"rework"}`; its wishes (`format`, `storage_c`, ..) are read as [`super::WishesRequest`]. */
export type ReworkRequest = {
  /** The recipe as it is; percentages sum to 100 within 0.01. */
  recipe: Array<Item>,
  /** What may be changed. */
  limits: Limits,
  /** What to aim at; the wishes unless said otherwise. */
  aim: Aim,
  /** Whether to say, where not every wish can be met, by how much each would have to give if the others are
   * met. */
  why_not: boolean, };

/** The room that a climate leaves between storage and skin. */
export type Room = {
  /** From the hottest storage to skin, K; negative where storage is warmer than skin. */
  storage_to_skin_k: number,
  /** From the hottest storage to where the jar stops holding its shape, K; `null` where it never holds. */
  storage_to_softening_k: number | null,
  /** How far above storage a butter should hold, K (common practice). */
  usual_margin_k: number,
  /** What that amounts to. */
  gap: Gap, };

/** How the saturated fatty acids of a fat are spread over the three positions of its triglycerides. */
export type Rule = "seed" | "pulp" | "random";

/** The answer to [`ScaleRequest`]. */
export type ScaleAnswer = {
  /** The recipe at 100 %. */
  recipe: Array<Item>, };

/** `{"ask":"scale"}`: bring a recipe to 100 %, keeping its proportions. */
export type ScaleRequest = {
  /** The recipe, of any sum above 0. */
  recipe: Array<Item>,
  /** The step that percentages are rounded to. */
  step_percent: number, };

/** What the scale shows. */
export type ScaleUnit = "g" | "oz";

/** The answer to `search`. */
export type SearchAnswer = {
  /** Catalogue ids, likeliest first: those that are called so, then those with a word that
   * begins so by how common they are. */
  ids: Array<string>,
  /** The one that is meant; `null` where it could be several. */
  one: string | null,
  /** Nothing is called like that: these are through a spelling mistake, or come near. */
  misspelt: boolean,
  /** It is water, or mostly water: not for this tool. */
  water: boolean, };

/** The answer to `{"ask":"seasons"}`. */
export type SeasonsAnswer = {
  /** The version for summer; its changes are those against the recipe as it is. */
  summer: Proposal,
  /** The version for winter, likewise. */
  winter: Proposal,
  /** In which lines the two differ, from summer to winter; empty where one recipe serves both. */
  differ: Array<Change>,
  /** How they differ, and what is known of that. */
  findings: Array<SeasonsFinding>,
  /** No two good versions within the limits differ in fewer lines; as many as `differ` names,
   * unless the search was stopped. */
  differ_at_least: number,
  /** Of the search for one recipe for both, which comes first; `equilibria` are those of the whole. */
  proof: Proof,
  /** Whether the search went to its end; `false` where it was stopped, and a closer pair may be left. */
  complete: boolean, };

/** How two versions differ, one after the other. */
export type SeasonsFinding = { "kind": "one-serves-both" } | { "kind": "differ", lines: number, } | { "kind": "none-in-fewer" } | { "kind": "stopped" };

/** The part of `{"ask":"seasons"}` that is its own: the wishes of either season. Its recipe and limits are
 * read as those of `rework`: either version changes at most `changes` lines of the recipe. */
export type SeasonsRequest = {
  /** What is wanted in summer. */
  summer: WishesRequest,
  /** What is wanted in winter. */
  winter: WishesRequest, };

/** What was seen. */
export type SeenSign = "held" | "slumped" | "clear" | "slipped" | "firmness" | "oil-on-top" | "film" | "melts-away" | "solid";

/** A ratio series. */
export type SeriesAnswer = {
  /** What is unknown now of the slip points over the series, K, as a standard deviation. */
  now_k: number,
  /** The doses worth making, percent, the one that tells most first. */
  doses: Array<SeriesDose>,
  /** What as many evenly spaced doses would leave, K. */
  evenly_k: number, };

/** A dose of a series. */
export type SeriesDose = {
  /** Percent of the hardener. */
  percent: number,
  /** How much of the butter goes into its pot, g. */
  butter_g: number,
  /** How much of the hardener, g. */
  hardener_g: number,
  /** Where, by all that is known, it will be read to slip, °C. */
  expected_c: number,
  /** Nine in ten such readings lie so near to that, K. */
  within_k: number,
  /** What is left unknown of the whole series after it and those before it, K. */
  left_k: number, };

/** A ratio series of one butter and one hardener. */
export type SeriesRequest = {
  /** The butter: the name of a lot, or else a catalogue id. */
  butter: string,
  /** The hardener, likewise. */
  hardener: string,
  /** The largest dose, percent, 1 to 40; 20 unless said otherwise. */
  most_percent: number,
  /** How many doses to make, 1 to 10; 5 unless said otherwise. */
  doses: number, };

/** What to expect, one after the other. How long settling takes depends on the fat and its
 * storage, days to weeks: cocoa butter leaves form IV within days at room temperature (from
 * memory). Kinetics are not modelled. */
export type Settling = { "kind": "at-once" } | { "kind": "firms-a-little", at_c: number, class: Firmness, } | { "kind": "firms", at_c: number, from: Firmness, to: Firmness, } | { "kind": "slip-rises", from_c: number, to_c: number, } | { "kind": "keep-cool", hottest_c: number, } | { "kind": "judge-then" };

/** What a maker sees. */
export type Sign = "turns-to-oil" | "oil-pool" | "soft-top" | "separated-layers" | "grainy" | "too-hard-in-the-cold" | "waxy-on-skin" | "greasy-on-skin" | "smells-off" | "harms-skin" | "water-in-it";

/** What a butter does on skin. */
export type SkinFeel = "melts" | "light-film" | "rubs-out" | "lingers" | "waxy";

/** Solid fat content where it matters, percent by mass. */
export type SolidAt = {
  /** At the coldest storage. */
  coldest: number,
  /** In the middle of the storage range. */
  usual: number,
  /** At the hottest storage. */
  hottest: number,
  /** At skin temperature. */
  skin: number, };

/** The state of the page: a recipe, a climate, wishes, limits. The recipe need not sum to 100.
 *
 * What is left out is as here by default; links rely on that, and `tests/links/` holds it. */
export type State = {
  /** What the maker calls the recipe. */
  name: string | null,
  /** The recipe. */
  recipe: Array<Item>,
  /** How it is sold. */
  format: Format,
  /** What it is packed in; absent: not said. */
  pack: Pack | null,
  /** Where the jar lives. */
  storage_c: StorageC,
  /** Skin surface, °C. */
  skin_c: number,
  /** How firm; absent: no wish. */
  firmness: Firmness | null,
  /** What on skin; absent: no wish. */
  on_skin: OnSkin | null,
  /** What a rework may do. */
  limits: Limits,
  /** What a rework aims at. */
  aim: Aim,
  /** A batch that is made, if it is one that needs mending. */
  made: Made | null,
  /** If the recipe is that of a batch that was rescued: how it is weighed. */
  rescued: Rescued | null,
  /** Where the jar lives in the other season, if two versions are wanted. */
  other_storage_c: StorageC | null,
  /** The teaching picture, if it is open. */
  picture: Picture | null,
  /** How it travels, if that is looked at. */
  journey: Way | null,
  /** If the recipe is that of a pot of which something is to be seen: what, for the notebook. */
  look: ToSee | null,
  /** Prices of a kilogram, in any currency, by id or own name. A link carries
   * those of what is in the recipe. */
  prices: { [key in string]: number }, };

/** A step of the making. */
export type Step = { "kind": "melt-out", melt_out_c: number, hold_min: number, } | { "kind": "cannot-be-whipped" } | { "kind": "cool-fast-stirring", from_c: number, to_c: number, rest_from_c: number, rest_to_c: number, } | { "kind": "cool-stirring" } | { "kind": "whip", from_c: number, to_c: number, from_percent: number, to_percent: number, } | { "kind": "pour", from_c: number, to_c: number, } | { "kind": "cool-filled-fast", format: Format, from_c: number, to_c: number, rest_from_c: number, rest_to_c: number, } | { "kind": "cool-filled", format: Format, rest_from_c: number, rest_to_c: number, } | { "kind": "fill-cool" } | { "kind": "demould", below_c: number, } | { "kind": "judge-later" } | { "kind": "judge-next-day" };

/** Where a recipe stops being a butter. */
export type Stop = {
  /** The least dose at which it is none, of those asked. */
  dose_percent: number,
  /** Why. */
  reason: NoButter, };

/** The coldest and the hottest that the jar will see, °C. */
export type StorageC = {
  /** °C. */
  coldest: number,
  /** °C. */
  hottest: number, };

/** How surely a butter is to keep its shape at the hottest storage, if lots vary as published. */
export type Surety = "even" | "likely" | "sure";

/** What a hardener replaces. */
export type Swap = "oil" | "all";

/** The answer to [`SymptomRequest`]. */
export type SymptomAnswer = {
  /** What was seen. */
  sign: Sign,
  /** Whether this recipe does that in the storage given. */
  expected: boolean,
  /** Why it happens, with this recipe's figures. */
  causes: Array<Cause>,
  /** What it says about the storage that it really saw. */
  readings: Array<Reading>,
  /** What to do. */
  remedies: Array<Remedy>,
  /** The storage to ask a rework for, so that it does not happen again; not beyond what a butter that melts
   * on skin can bear. */
  rework_storage_c: StorageC,
  /** On what way the words say that it was; absent where they do not. */
  way: Preset | null, };

/** `{"ask":"symptom"}`; its wishes (`format`, `storage_c`, ..) are read as [`super::WishesRequest`]. */
export type SymptomRequest = {
  /** The recipe; percentages sum to 100 within 0.01. */
  recipe: Array<Item>,
  /** What was seen, by name; or else `words`. */
  sign: Sign | null,
  /** What was seen, in the maker's words. */
  words: string | null, };

/** What was learned of a lot. */
export type Taught = "nothing" | "disputed" | "no-slip" | "little" | "too-far" | "typical" | "lower" | "higher";

/** What else there is to know of a text. */
export type TextRemark = { "kind": "total-left-out", line: string, } | { "kind": "mixed-units" } | { "kind": "worked-out", unit: Unit, sum: number, step_percent: number, } | { "kind": "added", name: string, } | { "kind": "water-based", line: string, } | { "kind": "total-not-hundred", sum_percent: number, } | { "kind": "filled-up", name: string, percent: number, } | { "kind": "columns-disagree" } | { "kind": "two-recipes" } | { "kind": "phases" } | { "kind": "volumes" } | { "kind": "certificate", acids: number, } | { "kind": "certificate-of", acids: number, id: string, } | { "kind": "link", fragment: string, } | { "kind": "file" };

/** `{"ask":"search"}`, to find the ingredients that are called so, or nearly so, and `{"ask":"certificate"}`,
 * to understand the fatty acids of a certificate. */
export type TextRequest = {
  /** A name in any language of the aliases, or what is typed of it so far; rows
   * of an acid and its percentage. */
  text: string, };

/** What is to be seen of a pot: a planned look, which its sheet opens in a notebook. */
export type ToSee = {
  /** What to look for; of `held` and `slumped`, whichever it does. */
  seen: SeenSign,
  /** Where it is kept, °C; absent: the reading tells. */
  at_c: number | null,
  /** How it is measured; absent: not said. */
  measured: Measured | null, };

/** In what an amount is. */
export type Unit = "percent" | "grams" | "ounces" | "parts" | "kilograms" | "milligrams" | "pounds" | "tablespoons" | "teaspoons" | "cups" | "millilitres" | "litres" | "fluid-ounces" | "drops";

/** What stands for a cap that was not set, percent: what is usual, or what the
 * recipe holds where that is more. */
export type UsualLimits = {
  /** The most wax. */
  wax_percent: number,
  /** The most free fatty acid. */
  fatty_acid_percent: number,
  /** The most fatty alcohol. */
  fatty_alcohol_percent: number,
  /** The most powder. */
  powder_percent: number, };

/** The verdict: whether it does what is wanted, before it is a number. */
export type Verdict = {
  /** `good`, `doubtful` or `bad`. */
  mood: Mood,
  /** Whether it holds, what it does on skin, what is not as wanted. */
  findings: Array<VerdictFinding>,
  /** What else there is to say: warnings, and what was not checked. */
  remarks: Array<Remark>, };

/** What a verdict says, one after the other. */
export type VerdictFinding = { "kind": "mostly-powder", powder_percent: number, } | { "kind": "gel-not-foreseen" } | { "kind": "never-holds", format: Format, } | { "kind": "too-soft-even-cold", format: Format, holds_to_c: number, coldest_c: number, } | { "kind": "fails-in-heat", format: Format, holds_to_c: number, hottest_c: number, } | { "kind": "fails-just-in-heat", format: Format, hottest_c: number, } | { "kind": "just-holds", format: Format, hottest_c: number, } | { "kind": "holds-barely", format: Format, holds_to_c: number, hottest_c: number, } | { "kind": "holds", format: Format, holds_to_c: number, hottest_c: number, } | { "kind": "holds-well", format: Format, holds_to_c: number, hottest_c: number, } | { "kind": "nearly-every-batch" } | { "kind": "batches-in-some", batches: number, some: number, } | { "kind": "hardly-any-batch" } | { "kind": "holds-once-settled", format: Format, holds_to_c: number, hottest_c: number, fresh_to_c: number, } | { "kind": "holds-only-settled", format: Format, holds_to_c: number, hottest_c: number, } | { "kind": "on-skin", feel: SkinFeel, } | { "kind": "too-hard", usual_c: number, } | { "kind": "too-soft", usual_c: number, } | { "kind": "hard-to-take-out", coldest_c: number, } | { "kind": "too-much-perfume", perfume_percent: number, most_percent: number, };

/** How the butter travels: in exactly one of a preset, one temperature, and a course. */
export type Way = {
  /** A course from published measurements. */
  preset?: Preset,
  /** °C throughout. */
  constant_c?: number,
  /** For how long, with `constant_c`. */
  hours?: number,
  /** Corners of a course: hour and °C. */
  points?: Array<[number, number]>,
  /** Fill of one pack, mL. */
  volume_ml: number,
  /** Foam around it, mm. */
  insulation_mm: number,
  /** Cold packs in the box, g. */
  cold_pack_g: number, };

/** What one wish would have to give, or several together. */
export type WhyNot = {
  /** Which wish. */
  wish: Wish,
  /** Percent points that it is missed by when all the others are met. */
  gives_points: number,
  /** The wishes that have to give with it, where it is not enough alone. */
  with?: Array<Gives>,
  /** The recipe that does so. */
  proposal: Proposal, };

/** A wish, by name. */
export type Wish = "holds-at-hottest" | "firm-enough-at-hottest" | "firmness-at-usual" | "soft-enough-at-coldest" | "on-skin";

/** What the maker wants, in every request that judges a recipe. */
export type WishesRequest = {
  /** How it is sold. */
  format: Format,
  /** Where the jar lives. */
  storage_c: StorageC,
  /** Skin surface, °C; 32.5 unless said otherwise. */
  skin_c: number,
  /** How firm it should be in the middle of its storage range; absent: no wish. */
  firmness: Firmness | null,
  /** What should happen on skin; absent: no wish. */
  on_skin: OnSkin | null, };

/** What each question takes and gives. */
export interface Questions {
  "melt": { request: MeltRequest; answer: MeltAnswer };
  "behave": { request: BehaveRequest & WishesRequest; answer: BehaveAnswer };
  "rework": { request: ReworkRequest & WishesRequest; answer: ReworkAnswer };
  "rescue": { request: ReworkRequest & RescueRequest & WishesRequest; answer: RescueAnswer };
  "ladder": { request: ReworkRequest & WishesRequest; answer: LadderAnswer };
  "seasons": { request: ReworkRequest & SeasonsRequest; answer: SeasonsAnswer };
  "expose": { request: ExposeRequest; answer: ExposeAnswer };
  "batch": { request: BatchRequest; answer: BatchAnswer };
  "liquidus": { request: LiquidusRequest; answer: LiquidusAnswer };
  "link": { request: LinkRequest; answer: LinkAnswer };
  "open-link": { request: OpenLinkRequest; answer: OpenLinkAnswer };
  "read": { request: ReadRequest; answer: ReadAnswer };
  "scale": { request: ScaleRequest; answer: ScaleAnswer };
  "certificate": { request: TextRequest; answer: CertificateAnswer };
  "search": { request: TextRequest; answer: SearchAnswer };
  "qr": { request: QrRequest; answer: QrAnswer };
  "harden": { request: HardenRequest & WishesRequest; answer: HardenAnswer };
  "symptom": { request: SymptomRequest & WishesRequest; answer: SymptomAnswer };
  "learn": { request: LearnRequest; answer: LearnAnswer };
  "plan": { request: PlanRequest; answer: PlanAnswer };
  "notebook": { request: NotebookRequest; answer: NotebookAnswer };
  "ingredients": { request: object; answer: Array<Ingredient> };
}

// What stands for what is left out of them.
export const USUAL_STATE: State = {"name":null,"recipe":[],"format":"pot","pack":null,"storage_c":{"coldest":18.0,"hottest":25.0},"skin_c":32.5,"firmness":null,"on_skin":null,"limits":{"wax_percent":null,"fatty_acid_percent":null,"fatty_alcohol_percent":null,"powder_percent":null,"step_percent":0.5,"changes":3,"locked":[],"pantry":null,"bounds":{},"refuse":[],"actives":[],"keep_lead":true,"use_ceilings":true,"prices":{},"surety":"likely","work":null},"aim":"wishes","made":null,"rescued":null,"other_storage_c":null,"picture":null,"journey":null,"look":null,"prices":{}};
export const USUAL_WAY: Way = {"volume_ml":120.0,"insulation_mm":0.0,"cold_pack_g":0.0};
export const USUAL_PICTURE: Picture = {"hardeners":[],"swap":"oil","dose_percent":5.0};

/** From and to what the engine takes, where the page has a box for it. */
export const RANGES = {
  storage_c: [-20, 60],
  skin_c: [20, 40],
  air_c: [-40, 100],
  fill_ml: [1, 5000],
  overrun_percent: [0, 300],
} as const;

/** What is too soft, every day, for a format to keep its shape. */
export const TOO_SOFT: Record<Format, Firmness[]> = {
  "whipped": ["pourable","slack"],
  "pot": ["pourable","slack"],
  "bar": ["pourable","slack","soft","scoopable"],
  "stick": ["pourable","slack","soft"],
};
