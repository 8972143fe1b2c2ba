//! What is behind a sign of trouble, and what to do about it.

use serde::Serialize;

use super::{
    feel::oil_percent,
    signs::{FEW_PERCENT, Onset, Sign, felt_on_skin, layers, onset, prone_to},
    skin::WAXY_PERCENT,
};
use crate::behaviour::{
    Firmness, Format, MeltingProfile, OnSkin, REST_C, WEEPS_BELOW_PERCENT, Where, Wishes,
};

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
    /// So much of it is felt on skin, and how much is not.
    StaysOnSkin { felt_percent: f64, waxy_percent: f64 },
    /// Next to nothing of it is.
    MeltsOnSkin,
    /// So much of it is oil in the jar, which nothing takes up.
    OilInTheJar { usual_c: f64, oil_percent: f64 },
    /// It is not for want of melting.
    NotOfMelting,
    /// What skin does not bear is not foreseen.
    NotToJudge,
    /// Water came in.
    WaterCameIn,
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
    /// Nobody uses it, and who is harmed gets help.
    StopUsing,
    /// How a burn is cooled.
    CoolBurns,
    /// What was wet for days is spoiled.
    ThrowAwayWet,
    /// Dry tools, and lids on cool butter.
    CloseCool,
    /// Less of what stays on skin, more of what melts just below it.
    LessWax,
    /// Less on a spot, and warmed between the palms.
    UseLess,
    /// Part of the oil out for a butter.
    LessOil,
    /// A little powder, which takes oil up.
    TakeOilUp,
    /// What smells of old oil is not to be mended.
    ThrowAway,
    /// Fresh oils, kept cool and dark.
    FreshOils,
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
            let needs_percent = WEEPS_BELOW_PERCENT;
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
        Sign::WaxyOnSkin => {
            let felt_percent = felt_on_skin(profile, wishes);
            vec![if felt_percent > WAXY_PERCENT {
                Cause::StaysOnSkin { felt_percent, waxy_percent: WAXY_PERCENT }
            } else {
                Cause::MeltsOnSkin
            }]
        }
        Sign::GreasyOnSkin => {
            let usual_c = wishes.temperature_c(Where::Usual);
            vec![Cause::OilInTheJar { usual_c, oil_percent: profile.read(usual_c, oil_percent) }]
        }
        Sign::SmellsOff => vec![Cause::NotOfMelting],
        Sign::HarmsSkin => vec![Cause::NotToJudge],
        Sign::WaterInIt => vec![Cause::WaterCameIn],
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
        Sign::WaxyOnSkin => vec![Remedy::LessWax, Remedy::UseLess],
        Sign::GreasyOnSkin => vec![Remedy::LessOil, Remedy::TakeOilUp, Remedy::UseLess],
        Sign::SmellsOff => vec![Remedy::ThrowAway, Remedy::FreshOils],
        Sign::HarmsSkin => vec![Remedy::StopUsing, Remedy::CoolBurns],
        Sign::WaterInIt => vec![Remedy::ThrowAwayWet, Remedy::CloseCool],
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
    /// It keeps its shape to a temperature far below that, as its verdict says: what was seen takes more.
    ShapeGoesFirst { format: Format, holds_to_c: f64, onset_c: f64 },
    /// What melts on skin does not hold where it started: a rework is for less.
    NoneHoldsThere { most_c: f64 },
}

/// How far beyond the onset a rework should hold, K: what happened went past it,
/// by how much is not known (ours).
const BEYOND_K: f64 = 2.0;

/// What is to melt on skin needs so much room below it, K: half of what a butter should have above its
/// storage (ours).
const BELOW_SKIN_K: f64 = 1.0;

/// The shape is lost so much sooner that it must be said, K (ours).
const SOONER_K: f64 = 1.5;

/// The hottest storage that a butter can be asked to bear and still melt on skin, °C; any where it need not
/// melt there.
fn bearable_c(wishes: &Wishes) -> f64 {
    let melts = match wishes.on_skin {
        Some(wish) => wish != OnSkin::Stays,
        None => matches!(wishes.format, Format::Whipped | Format::Pot),
    };
    if melts { (wishes.skin_c - BELOW_SKIN_K).floor() } else { 60.0 }
}

/// Where the shape is lost long before what was seen.
fn shape_first(profile: &MeltingProfile, wishes: &Wishes, onset_c: f64) -> Option<Reading> {
    let format = wishes.format;
    let holds_to_c = profile.last_at_least(format.least_percent(), format.held_by().figure())?;
    (holds_to_c + SOONER_K < onset_c).then_some(Reading::ShapeGoesFirst { format, holds_to_c, onset_c })
}

/// What a sign that was seen says; and the coldest and the hottest storage, °C, to ask a rework for, so
/// that it does not happen again.
pub fn readings(profile: &MeltingProfile, wishes: &Wishes, sign: Sign) -> (Vec<Reading>, (f64, f64)) {
    let Wishes { mut coldest_c, mut hottest_c, .. } = *wishes;
    let found = match onset(profile, wishes, sign) {
        // Of no storage.
        _ if !sign.is_of_storage() => Vec::new(),
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
            if matches!(sign, Sign::TurnsToOil | Sign::OilPool) {
                found.extend(shape_first(profile, wishes, onset_c));
            }
            let (beyond_c, most_c) =
                ((onset_c + BEYOND_K).ceil().min(60.0), bearable_c(wishes).max(hottest_c));
            if beyond_c > most_c {
                found.push(Reading::NoneHoldsThere { most_c });
            }
            hottest_c = beyond_c.min(most_c);
            found
        }
    };
    (found, (coldest_c.min(hottest_c), hottest_c))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::behaviour::{judgement::SIGNS, profile::tests::invented};

    fn wishes(format: Format, hottest_c: f64, on_skin: Option<OnSkin>) -> Wishes {
        Wishes { format, coldest_c: 18.0, hottest_c, skin_c: 32.5, firmness: None, on_skin }
    }

    /// With wax a foam falls long before all of it is oil: both are said, and no rework is asked for that
    /// nothing on skin could melt after.
    #[test]
    fn a_rework_is_for_no_more_than_a_butter_can_bear() {
        let waxy = invented(30.0, 26.0, 2.5, 55.0);
        let (found, (coldest_c, hottest_c)) =
            readings(&waxy, &wishes(Format::Whipped, 29.0, Some(OnSkin::Melts)), Sign::TurnsToOil);
        assert_eq!((coldest_c, hottest_c), (18.0, 31.0));
        let has = |test: fn(&Reading) -> bool| found.iter().any(test);
        assert!(
            has(|it| matches!(it, Reading::WarmerThanGiven { onset_c, .. } if *onset_c > 40.0)),
            "{found:?}"
        );
        assert!(
            has(
                |it| matches!(it, Reading::ShapeGoesFirst { holds_to_c, onset_c, .. } if holds_to_c + 10.0 < *onset_c)
            ),
            "{found:?}"
        );
        assert!(has(|it| *it == Reading::NoneHoldsThere { most_c: 31.0 }), "{found:?}");
        // What need not melt on skin may be asked for more, and what was given is never lowered.
        let hottest_c = |wishes: &Wishes| readings(&waxy, wishes, Sign::TurnsToOil).1.1;
        assert!(hottest_c(&wishes(Format::Stick, 29.0, None)) > 45.0);
        assert_eq!(hottest_c(&wishes(Format::Whipped, 38.0, Some(OnSkin::Melts))), 38.0);
    }

    /// What is felt on skin, or smelled, is of no storage: none is asked for, and none is blamed.
    #[test]
    fn what_is_felt_on_skin_is_of_no_storage() {
        let waxy = invented(30.0, 26.0, 2.5, 55.0);
        let wishes = wishes(Format::Pot, 29.0, Some(OnSkin::Melts));
        for sign in SIGNS.into_iter().filter(|sign| !sign.is_of_storage()) {
            assert_eq!(readings(&waxy, &wishes, sign), (vec![], (18.0, 29.0)));
        }
        let of = |profile: &MeltingProfile| diagnose(profile, &wishes, Sign::WaxyOnSkin).causes;
        assert!(matches!(of(&waxy)[..], [Cause::StaysOnSkin { .. }]));
        assert_eq!(of(&invented(45.0, 28.0, 0.0, 50.0)), [Cause::MeltsOnSkin]);
    }
}
