//! Signs of trouble: what they are, and from when on a recipe shows them.

use serde::{Deserialize, Serialize};

use super::skin::WAXY_PERCENT;
use crate::behaviour::{Firmness, Format, MeltingProfile, Solids, WEEPS_BELOW_PERCENT, Where, Wishes};

/// What a maker sees.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Sign {
    /// All of it is oil.
    TurnsToOil,
    /// Lumps in a pool of oil.
    OilPool,
    /// Soft and wet on top, firm below.
    SoftTop,
    /// A firm layer and an oily one.
    SeparatedLayers,
    /// Grains that roll under the finger.
    Grainy,
    /// Too hard to take out in the cold.
    TooHardInTheCold,
    /// It drags on skin, or stays there as a film.
    WaxyOnSkin,
    /// It leaves skin oily.
    GreasyOnSkin,
    /// It smells of old oil, or otherwise than it should.
    SmellsOff,
    /// Skin does not bear it.
    HarmsSkin,
    /// Drops of water are in it or on it.
    WaterInIt,
}

impl Sign {
    /// Whether warmth brings it on, or cold: then a storage can be named that it shows in.
    pub fn is_of_storage(self) -> bool {
        !matches!(
            self,
            Sign::WaxyOnSkin | Sign::GreasyOnSkin | Sign::SmellsOff | Sign::HarmsSkin | Sign::WaterInIt
        )
    }
}

/// Every sign.
pub const SIGNS: [Sign; 11] = [
    Sign::TurnsToOil,
    Sign::OilPool,
    Sign::SoftTop,
    Sign::SeparatedLayers,
    Sign::Grainy,
    Sign::TooHardInTheCold,
    Sign::WaxyOnSkin,
    Sign::GreasyOnSkin,
    Sign::SmellsOff,
    Sign::HarmsSkin,
    Sign::WaterInIt,
];

/// When a recipe shows a sign.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Onset {
    /// At any temperature considered.
    Always,
    /// From this temperature on, °C; for [`Sign::TooHardInTheCold`], from it down.
    From(f64),
    /// At none.
    Never,
}

impl Onset {
    fn is_past(self, hottest_c: f64) -> bool {
        match self {
            Onset::Always => true,
            Onset::From(onset_c) => hottest_c > onset_c,
            Onset::Never => false,
        }
    }
}

/// Share of the solids at usual storage that a hot day may melt before what is left seeds grains: ours.
const MELTS_SHARE: f64 = 1.0 / 3.0;
/// And the share below which too little is left to seed them: ours.
const LEFT_SHARE: f64 = 0.05;
/// Structure, percent, below which a warm top gets wet: between the limit of weeping
/// (10) and of good body (18, ours).
const WET_TOP_PERCENT: f64 = 14.0;
/// Triglyceride solids, percent, below which there are too few crystals to feel as grains: ours.
pub(super) const FEW_PERCENT: f64 = 5.0;
/// A top gets wet only where warmth melts this much of it, percent of the whole: ours.
const FALLS_PERCENT: f64 = 1.0;
/// Two melting ranges this far apart, K, set one after the other: ours.
const APART_K: f64 = 8.0;

/// When a recipe shows a sign.
pub fn onset(profile: &MeltingProfile, wishes: &Wishes, sign: Sign) -> Onset {
    let from = |onset_c: Option<f64>| onset_c.map_or(Onset::Never, Onset::From);
    let structure_below = |percent| match profile.last_at_least(percent, Solids::structure_percent) {
        None => Onset::Always,
        // So much is left even at the hot end.
        onset_c if onset_c == profile.at_c().last().copied() => Onset::Never,
        Some(onset_c) => Onset::From(onset_c),
    };
    match sign {
        Sign::TurnsToOil => structure_below(Firmness::Pourable.limits().1),
        Sign::OilPool => structure_below(WEEPS_BELOW_PERCENT),
        Sign::SoftTop => {
            let onset = structure_below(WET_TOP_PERCENT);
            let falls = profile.solid_percent(wishes.temperature_c(Where::Coldest))
                - profile.solid_percent(wishes.hottest_c);
            // What is thin already in the cold gets no wetter where nothing melts.
            if onset.is_past(wishes.temperature_c(Where::Coldest)) && falls < FALLS_PERCENT {
                Onset::Never
            } else {
                onset
            }
        }
        Sign::SeparatedLayers => from(layers(profile).map(|(low, _)| low)),
        Sign::Grainy => {
            let solid = profile.read(wishes.temperature_c(Where::Usual), |solids| solids.triglyceride);
            let left = (1.0 - MELTS_SHARE) * solid;
            from(
                (solid >= FEW_PERCENT)
                    .then(|| profile.last_at_least(left, |solids| solids.triglyceride))
                    .flatten(),
            )
        }
        Sign::TooHardInTheCold => {
            let hard = hardest(wishes).map(|class| class.limits().1);
            from(hard.and_then(|percent| profile.last_at_least(percent, Solids::structure_percent)))
        }
        Sign::WaxyOnSkin if felt_on_skin(profile, wishes) > WAXY_PERCENT => Onset::Always,
        Sign::WaxyOnSkin | Sign::GreasyOnSkin | Sign::SmellsOff | Sign::HarmsSkin | Sign::WaterInIt => {
            Onset::Never
        }
    }
}

/// What of it is felt on skin, percent.
pub(super) fn felt_on_skin(profile: &MeltingProfile, wishes: &Wishes) -> f64 {
    profile.read(wishes.temperature_c(Where::Skin), Solids::on_skin_percent)
}

/// The hardest class that the maker can want in the cold; a bar may be hard, but beyond that it is brittle.
fn hardest(wishes: &Wishes) -> Option<Firmness> {
    match (wishes.firmness, wishes.format) {
        (Some(wanted), _) => Some(wanted.harder()),
        (None, Format::Bar | Format::Stick) => Some(Firmness::Hard),
        (None, Format::Whipped | Format::Pot) => Some(Firmness::Firm),
    }
}

/// Between which temperatures the melt can part: from where it flows up to where its last solids clear, which
/// are of another kind, if that is a wide range.
pub(super) fn layers(profile: &MeltingProfile) -> Option<(f64, f64)> {
    let flows_c = profile.last_at_least(Firmness::Pourable.limits().1, Solids::structure_percent)?;
    let clear_c = profile.last_at_least(0.2, Solids::fat_percent)?;
    (clear_c - flows_c >= APART_K).then_some((flows_c, clear_c))
}

/// The signs that a recipe is prone to in its climate.
pub fn prone_to(profile: &MeltingProfile, wishes: &Wishes) -> Vec<Sign> {
    let passed = |sign: Sign| onset(profile, wishes, sign).is_past(wishes.hottest_c);
    SIGNS
        .into_iter()
        .filter(|sign| match sign {
            Sign::TurnsToOil => passed(Sign::TurnsToOil),
            Sign::OilPool => passed(Sign::OilPool) && !passed(Sign::TurnsToOil),
            Sign::SoftTop => passed(Sign::SoftTop) && !passed(Sign::OilPool),
            Sign::SeparatedLayers => {
                layers(profile).is_some_and(|(low, high)| wishes.hottest_c > low && wishes.hottest_c < high)
            }
            Sign::Grainy => regrows(profile, wishes),
            Sign::TooHardInTheCold => {
                wishes.too_hard(Firmness::of(profile.structure_percent(wishes.temperature_c(Where::Coldest))))
            }
            // Of no climate; the verdict says what it does on skin.
            Sign::WaxyOnSkin | Sign::GreasyOnSkin | Sign::SmellsOff | Sign::HarmsSkin | Sign::WaterInIt => {
                false
            }
        })
        .collect()
}

/// Whether a hot day melts much of the crystals, but leaves seeds.
fn regrows(profile: &MeltingProfile, wishes: &Wishes) -> bool {
    let triglyceride = |solids: &Solids| solids.triglyceride;
    let usual = profile.read(wishes.temperature_c(Where::Usual), triglyceride);
    let hottest = profile.read(wishes.hottest_c, triglyceride);
    usual >= FEW_PERCENT && hottest <= (1.0 - MELTS_SHARE) * usual && hottest >= LEFT_SHARE * usual
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::behaviour::{grid_c, profile::tests::invented};

    fn wishes(coldest_c: f64, hottest_c: f64) -> Wishes {
        Wishes { format: Format::Pot, coldest_c, hottest_c, skin_c: 32.5, firmness: None, on_skin: None }
    }

    fn signs(profile: &MeltingProfile, coldest_c: f64, hottest_c: f64) -> Vec<Sign> {
        prone_to(profile, &wishes(coldest_c, hottest_c))
    }

    #[test]
    fn each_sign_has_its_trigger() {
        let plain = invented(45.0, 28.0, 0.0, 50.0);
        assert_eq!(signs(&plain, 20.0, 22.0), vec![]);
        assert!(signs(&plain, 18.0, 40.0).contains(&Sign::TurnsToOil));
        assert!(signs(&plain, 18.0, 31.5).contains(&Sign::OilPool));
        assert!(signs(&plain, 18.0, 30.0).contains(&Sign::SoftTop));
        assert!(signs(&plain, 18.0, 28.5).contains(&Sign::Grainy));
        assert!(signs(&invented(80.0, 28.0, 0.0, 50.0), 10.0, 20.0).contains(&Sign::TooHardInTheCold));
        let waxy = invented(40.0, 26.0, 0.2, 52.0);
        assert!(signs(&waxy, 18.0, 42.0).contains(&Sign::SeparatedLayers));
    }

    /// What never sets does so always, what no warmth loosens never.
    #[test]
    fn always_and_never_are_told_apart() {
        let flat = |solids: Solids| MeltingProfile::new(grid_c().map(|c| (c, solids, 0.0)));
        let oil = flat(Solids::default());
        for sign in [Sign::TurnsToOil, Sign::OilPool] {
            assert_eq!(onset(&oil, &wishes(15.0, 30.0), sign), Onset::Always);
        }
        assert_eq!(onset(&oil, &wishes(15.0, 30.0), Sign::TooHardInTheCold), Onset::Never);
        assert_eq!(signs(&oil, 15.0, 30.0), vec![Sign::TurnsToOil]);
        // 12 % of a fat that stays solid, or the wax worth as much, holds the oil but thinly enough
        // for a wet top: yet nothing melts.
        for solids in
            [Solids { triglyceride: 12.0, ..Solids::default() }, Solids { ester: 1.2, ..Solids::default() }]
        {
            let thick = flat(solids);
            assert_eq!(signs(&thick, 15.0, 30.0), vec![]);
            assert_eq!(onset(&thick, &wishes(15.0, 30.0), Sign::SoftTop), Onset::Never);
            assert_eq!(onset(&thick, &wishes(15.0, 30.0), Sign::OilPool), Onset::Never);
        }
        let wasting = invented(13.0, 32.0, 0.0, 50.0);
        assert_eq!(onset(&wasting, &wishes(10.0, 30.0), Sign::SoftTop), Onset::Always);
        assert_eq!(signs(&wasting, 10.0, 28.0), vec![Sign::SoftTop]);
    }

    #[test]
    fn hotter_is_never_less_oily() {
        let profile = invented(45.0, 28.0, 0.0, 50.0);
        let rank = |hottest: f64| {
            signs(&profile, 10.0, hottest)
                .iter()
                .map(|sign| match sign {
                    Sign::TurnsToOil => 3,
                    Sign::OilPool => 2,
                    Sign::SoftTop => 1,
                    _ => 0,
                })
                .max()
                .unwrap_or(0)
        };
        let ranks: Vec<i32> = (15..50).map(|c| rank(f64::from(c))).collect();
        assert!(ranks.windows(2).all(|pair| pair[0] <= pair[1]), "{ranks:?}");
        assert_eq!(ranks.last(), Some(&3));
    }
}
