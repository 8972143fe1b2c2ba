// The engine's forms by the names that the page has for them. The forms themselves are written from the
// engine's structs, into forms.ts: nothing of a form is declared here.

import type {
  BatchAnswer,
  BehaveAnswer,
  ExposeAnswer,
  Fault,
  Item,
  MeltAnswer,
  Picture,
  Places,
  Questions,
  ReadAnswer,
  ReworkAnswer,
  ReworkProgress,
  SearchAnswer,
  SeasonsAnswer,
  StorageC,
  SymptomAnswer,
  Unit,
  Way,
  WishesRequest,
} from "./forms.js";

export type {
  Added,
  Addition,
  AtMost,
  Bounds,
  Change,
  Class,
  Cost,
  Curve,
  DoseNote,
  Firmness,
  Format,
  GivenUp,
  Gives,
  Hardener,
  Ingredient,
  Item,
  ItemLot,
  LadderRung,
  LimitInTheWay,
  Limits,
  LineCorrection,
  Measured,
  Miss,
  OnSkin,
  Pack,
  Place,
  PlannedPot,
  PotLine,
  Preset,
  Proposal,
  ReadLine,
  Rule,
  SeenSign,
  Sign,
  State,
  Surety,
  Swap,
  UsualLimits,
  Way,
} from "./forms.js";

export type Air = Omit<Way, "volume_ml" | "insulation_mm" | "cold_pack_g">;
export type Batch = BatchAnswer;
export type Behaviour = BehaveAnswer;
export type Failure = Fault;
export type HardenerPicture = Picture;
export type Found = SearchAnswer;
export type Journey = ExposeAnswer;
export type Melt = MeltAnswer;
export type PlaceName = keyof Places;
export type Progress = ReworkProgress;
export type Reading = ReadAnswer;
export type ReadUnit = Unit;
export type Rework = ReworkAnswer;
export type Seasons = SeasonsAnswer;
export type Storage = StorageC;
export type Symptom = SymptomAnswer;
export type Wishes = WishesRequest;

/** What is known of an ingredient that the catalogue lacks. */
export type Own = Omit<Item, "id" | "name" | "percent">;

/** A part of a form: what is left out of it, at any depth, is as the engine says. */
type Part<Form> = Form extends readonly unknown[]
  ? Form
  : Form extends object
    ? { [Name in keyof Form]?: Part<Form[Name]> }
    : Form;

export type Question = keyof Questions;
export type Answers = { [Q in Question]: Questions[Q]["answer"] };
export type Asked<Q extends Question> = Part<Questions[Q]["request"]>;
export type Request<Q extends Question = Question> = { ask: Q } & Asked<Q>;
export type Reply<Q extends Question = Question> = { answer: Answers[Q] } | { error: Failure };
