//! What is behind a sign of trouble, and what to do about it.

use serde::Serialize;

use super::signs::{FEW_PERCENT, Onset, Sign, layers, onset, prone_to};
use crate::behaviour::{Firmness, MeltingProfile, REST_C, Where, Wishes};

/// A sign with its causes in this recipe's figures, and what to do.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Diagnosis {
    pub sign: Sign,
    pub causes: Vec<Cause>,
    pub remedies: Vec<Remedy>,
}

/// Why a sign shows, or does not.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Cause {
    /// From a temperature on, nearly all crystals have dissolved.
    Dissolves { onset_c: f64 },
    /// There are never enough crystals to set it.
    NeverSets,
    /// It is held together at any temperature considered.
    AlwaysKnit,
    /// How much structure it has at the hottest, and what is needed to knit at all.
    Knits { hottest_c: f64, structure_percent: f64, needs_percent: f64 },
    /// From a temperature on, too few crystals are left to hold the oil.
    OilLoose { onset_c: f64 },
    /// There are too few at any temperature.
    OilAlwaysLoose,
    /// There are enough at any temperature considered.
    OilAlwaysHeld,
    /// At the hottest, lumps lie in free oil.
    Lumps { hottest_c: f64, structure_percent: f64, needs_percent: f64 },
    /// At the hottest, the oil is held.
    OilHeld { hottest_c: f64, structure_percent: f64, needs_percent: f64 },
    /// From a temperature on, the net of crystals is thin.
    NetThin { onset_c: f64 },
    /// It is thin at any temperature.
    NetAlwaysThin,
    /// It is not thin, or nothing melts further in this storage.
    NetHolds,
    /// Warmth melts the outside first.
    WarmedFromOutside,
    /// Between two temperatures it flows, with crystals that sink or float.
    Parts { from_c: f64, to_c: f64 },
    /// There is next to no such range.
    DoesNotPart,
    /// It has next to no fat crystals.
    FewCrystals { solid_percent: f64 },
    /// A warm day dissolves part of the crystals, which sets again on the rest.
    Regrows { solid_percent: f64, hottest_c: f64, left_percent: f64 },
    /// Below a temperature, crystals knit it stiff.
    Stiff { onset_c: f64 },
    /// They do not.
    NotStiff,
    /// How much structure it has in the cold.
    ColdStructure { coldest_c: f64, structure_percent: f64 },
}

/// What to do about a sign.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Remedy {
    /// A butter that melts higher in the place of oil, or a little of what hardens.
    MeltHigher,
    /// What has turned to oil can be melted and set anew.
    MeltAnew,
    /// Store and send it cooler.
    KeepCooler,
    /// More that stays solid in the heat.
    HoldMoreOil,
    /// The oil is not to be stirred back in.
    DoNotStirIn,
    /// Out of the sun, and filled to the rim.
    FillToRim,
    /// A little more that stays solid, and no steep fall just there.
    FlatterFall,
    /// Melt it out, fill it cool, and stir.
    FillCool,
    /// Closer melting ranges.
    CloserRanges,
    /// Melt it out, then cool it quickly, and keep it even.
    CoolFast { rest_from_c: f64, rest_to_c: f64 },
    /// A rework, so that fewer crystals melt in the heat.
    MeltLess,
    /// Unlike fats set finer.
    BlendUnlike,
    /// Less hard butter.
    LessHard,
    /// Time at room temperature, or a whip.
    LetItWarm,
}

/// A sign with its causes in this recipe's figures.
pub fn diagnose(profile: &MeltingProfile, wishes: &Wishes, sign: Sign) -> Diagnosis {
    Diagnosis { sign, causes: causes(profile, wishes, sign), remedies: remedies(sign) }
}

fn causes(profile: &MeltingProfile, wishes: &Wishes, sign: Sign) -> Vec<Cause> {
    let hottest_c = wishes.hottest_c;
    let structure_percent = profile.structure_percent(hottest_c);
    let onset = onset(profile, wishes, sign);
    let one_of = |from: fn(f64) -> Cause, always: Cause, never: Cause| match onset {
        Onset::From(onset_c) => from(onset_c),
        Onset::Always => always,
        Onset::Never => never,
    };
    match sign {
        Sign::TurnsToOil => vec![
            one_of(|onset_c| Cause::Dissolves { onset_c }, Cause::NeverSets, Cause::AlwaysKnit),
            Cause::Knits { hottest_c, structure_percent, needs_percent: Firmness::Pourable.limits().1 },
        ],
        Sign::OilPool => {
            let needs_percent = Firmness::Slack.limits().1;
            vec![
                one_of(|onset_c| Cause::OilLoose { onset_c }, Cause::OilAlwaysLoose, Cause::OilAlwaysHeld),
                if structure_percent < needs_percent {
                    Cause::Lumps { hottest_c, structure_percent, needs_percent }
                } else {
                    Cause::OilHeld { hottest_c, structure_percent, needs_percent }
                },
            ]
        }
        Sign::SoftTop => vec![
            one_of(|onset_c| Cause::NetThin { onset_c }, Cause::NetAlwaysThin, Cause::NetHolds),
            Cause::WarmedFromOutside,
        ],
        Sign::SeparatedLayers => vec![match layers(profile) {
            Some((from_c, to_c)) => Cause::Parts { from_c, to_c },
            None => Cause::DoesNotPart,
        }],
        Sign::Grainy => {
            let triglyceride = |at_c| profile.read(at_c, |solids| solids.triglyceride);
            let solid_percent = triglyceride(wishes.temperature_c(Where::Usual));
            let left_percent = triglyceride(hottest_c);
            vec![if solid_percent < FEW_PERCENT {
                Cause::FewCrystals { solid_percent }
            } else {
                Cause::Regrows { solid_percent, hottest_c, left_percent }
            }]
        }
        Sign::TooHardInTheCold => vec![
            // There is no warmth at which it is stiff always: the range ends liquid.
            one_of(|onset_c| Cause::Stiff { onset_c }, Cause::NotStiff, Cause::NotStiff),
            Cause::ColdStructure {
                coldest_c: wishes.temperature_c(Where::Coldest),
                structure_percent: profile.structure_percent(wishes.temperature_c(Where::Coldest)),
            },
        ],
    }
}

fn remedies(sign: Sign) -> Vec<Remedy> {
    match sign {
        Sign::TurnsToOil => vec![Remedy::MeltHigher, Remedy::MeltAnew, Remedy::KeepCooler],
        Sign::OilPool => vec![Remedy::HoldMoreOil, Remedy::DoNotStirIn],
        Sign::SoftTop => vec![Remedy::FillToRim, Remedy::FlatterFall],
        Sign::SeparatedLayers => vec![Remedy::FillCool, Remedy::CloserRanges],
        Sign::Grainy => vec![
            Remedy::CoolFast { rest_from_c: REST_C.0, rest_to_c: REST_C.1 },
            Remedy::MeltLess,
            Remedy::BlendUnlike,
        ],
        Sign::TooHardInTheCold => vec![Remedy::LessHard, Remedy::LetItWarm],
    }
}

/// What a sign that was seen says about the storage that the jar really saw.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Reading {
    /// This recipe does that at any temperature considered.
    Always,
    /// It goes further than that in this storage.
    GoesFurther,
    /// It does not show that at any temperature considered.
    Never,
    /// It gets that hard below a temperature.
    HardBelow { onset_c: f64 },
    /// It starts above the hottest storage, so that the jar was warmer.
    WarmerThanGiven { onset_c: f64, hottest_c: f64 },
    /// At the hottest storage it has only just begun.
    JustBegun { onset_c: f64, hottest_c: f64 },
    /// The hottest storage is enough for it.
    HotEnough { onset_c: f64, hottest_c: f64 },
    /// Or the batch cooled slowly when it was made.
    CooledSlowly,
}

/// How far beyond the onset a rework should hold, K: what happened went past it,
/// by how much is not known (ours).
const BEYOND_K: f64 = 2.0;

/// What a sign that was seen says; and the coldest and the hottest storage, °C, to ask a rework for, so
/// that it does not happen again.
pub fn readings(profile: &MeltingProfile, wishes: &Wishes, sign: Sign) -> (Vec<Reading>, (f64, f64)) {
    let Wishes { mut coldest_c, mut hottest_c, .. } = *wishes;
    let found = match onset(profile, wishes, sign) {
        Onset::Always if prone_to(profile, wishes).contains(&sign) => vec![Reading::Always],
        Onset::Always => vec![Reading::GoesFurther],
        Onset::Never => vec![Reading::Never],
        Onset::From(onset_c) if sign == Sign::TooHardInTheCold => {
            coldest_c = coldest_c.min((onset_c - BEYOND_K).floor()).max(-20.0);
            vec![Reading::HardBelow { onset_c }]
        }
        Onset::From(onset_c) if onset_c + BEYOND_K <= hottest_c => {
            vec![Reading::HotEnough { onset_c, hottest_c }]
        }
        Onset::From(onset_c) => {
            let mut found = vec![if onset_c > hottest_c {
                Reading::WarmerThanGiven { onset_c, hottest_c }
            } else {
                Reading::JustBegun { onset_c, hottest_c }
            }];
            if sign == Sign::Grainy {
                found.push(Reading::CooledSlowly);
            }
            hottest_c = (onset_c + BEYOND_K).ceil().min(60.0);
            found
        }
    };
    (found, (coldest_c.min(hottest_c), hottest_c))
}
