//! Signs of trouble, each with the physics behind it.

use serde::{Deserialize, Serialize};

use super::{Firmness, Format, Profile, Solids, Wishes, regime::degrees};

/// What a maker sees.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
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
}

/// Every sign.
pub const SIGNS: [Sign; 6] = [
    Sign::TurnsToOil,
    Sign::OilPool,
    Sign::SoftTop,
    Sign::SeparatedLayers,
    Sign::Grainy,
    Sign::TooHardInTheCold,
];

/// A sign that a recipe is prone to in its climate, or that was seen.
#[derive(Clone, Debug, Serialize)]
pub struct Trouble {
    /// Which.
    pub sign: Sign,
    /// Why it happens, with this recipe's figures.
    pub cause: String,
    /// What to do.
    pub remedies: Vec<&'static str>,
}

/// When a recipe shows a sign.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shows {
    /// At any temperature considered.
    Always,
    /// From this temperature on, °C; for [`Sign::TooHardInTheCold`], from it down.
    From(f64),
    /// At none.
    Never,
}

impl Shows {
    fn at(self, hottest_c: f64) -> bool {
        match self {
            Shows::Always => true,
            Shows::From(onset_c) => hottest_c > onset_c,
            Shows::Never => false,
        }
    }
}

/// Share of the solids at usual storage that a hot day may melt before what is left seeds grains: ours.
const MELTS_SHARE: f64 = 1.0 / 3.0;
/// And the share below which too little is left to seed them: ours.
const LEFT_SHARE: f64 = 0.05;
/// Structure, percent, below which a warm top gets wet: between the limit of weeping (10) and of good body (18, ours).
const WET_TOP_PERCENT: f64 = 14.0;
/// Triglyceride solids, percent, below which there are too few crystals to feel as grains: ours.
const FEW_PERCENT: f64 = 5.0;
/// A top gets wet only where warmth melts this much of it, percent of the whole: ours.
const FALLS_PERCENT: f64 = 1.0;
/// Two melting ranges this far apart, K, set one after the other: ours.
const APART_K: f64 = 8.0;

/// When a recipe shows a sign.
pub fn shows(profile: &Profile, wishes: &Wishes, sign: Sign) -> Shows {
    let from = |onset_c: Option<f64>| onset_c.map_or(Shows::Never, Shows::From);
    let structure_below = |percent| match profile.last_at_least(percent, Solids::structure_percent) {
        None => Shows::Always,
        // So much is left even at the hot end.
        onset_c if onset_c == profile.at_c().last().copied() => Shows::Never,
        Some(onset_c) => Shows::From(onset_c),
    };
    match sign {
        Sign::TurnsToOil => structure_below(Firmness::Pourable.limits().1),
        Sign::OilPool => structure_below(Firmness::Slack.limits().1),
        Sign::SoftTop => {
            let shows = structure_below(WET_TOP_PERCENT);
            let falls = profile.solid_percent(wishes.coldest_c) - profile.solid_percent(wishes.hottest_c);
            // What is thin already in the cold gets no wetter where nothing melts.
            if shows.at(wishes.coldest_c) && falls < FALLS_PERCENT { Shows::Never } else { shows }
        }
        Sign::SeparatedLayers => from(layers(profile).map(|(low, _)| low)),
        Sign::Grainy => {
            let solid = profile.read(wishes.temperature_c(super::Where::Usual), |solids| solids.triglyceride);
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
    }
}

/// The hardest class that the maker can want in the cold; a bar may be hard, but beyond that it is brittle.
fn hardest(wishes: &Wishes) -> Option<Firmness> {
    match (wishes.firmness, wishes.format) {
        (Some(wanted), _) => Some(wanted.harder()),
        (None, Format::Bar) => Some(Firmness::Hard),
        (None, Format::Whipped | Format::Pot) => Some(Firmness::Firm),
    }
}

/// Where the melt can part: from where it flows up to where its last, other solids clear, if that is a wide range.
fn layers(profile: &Profile) -> Option<(f64, f64)> {
    let flows_c = profile.last_at_least(Firmness::Pourable.limits().1, Solids::structure_percent)?;
    let clear_c = profile.last_at_least(0.2, Solids::fat_percent)?;
    (clear_c - flows_c >= APART_K).then_some((flows_c, clear_c))
}

/// The signs that a recipe is prone to in its climate.
pub fn troubles(profile: &Profile, wishes: &Wishes) -> Vec<Trouble> {
    let passed = |sign: Sign| shows(profile, wishes, sign).at(wishes.hottest_c);
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
                wishes.too_hard(Firmness::of(profile.structure_percent(wishes.coldest_c)))
            }
        })
        .map(|sign| trouble(profile, wishes, sign))
        .collect()
}

/// Whether a hot day melts much of the crystals, but leaves seeds.
fn regrows(profile: &Profile, wishes: &Wishes) -> bool {
    let triglyceride = |solids: &Solids| solids.triglyceride;
    let usual = profile.read(wishes.temperature_c(super::Where::Usual), triglyceride);
    let hottest = profile.read(wishes.hottest_c, triglyceride);
    usual >= FEW_PERCENT && hottest <= (1.0 - MELTS_SHARE) * usual && hottest >= LEFT_SHARE * usual
}

/// A sign with its cause in this recipe's figures.
pub fn trouble(profile: &Profile, wishes: &Wishes, sign: Sign) -> Trouble {
    let hottest = degrees(wishes.hottest_c);
    let structure = profile.structure_percent(wishes.hottest_c);
    let shows = shows(profile, wishes, sign);
    let told = |from: &str, always: &str, never: &str| match shows {
        Shows::From(onset_c) => {
            let (before, after) = from.split_once('#').unwrap_or((from, ""));
            format!("{before}{}{after}", degrees(onset_c))
        }
        Shows::Always => always.to_owned(),
        Shows::Never => never.to_owned(),
    };
    let cause = match sign {
        Sign::TurnsToOil => format!(
            "{}: what is solid at {hottest} °C is worth {structure:.0} %, and below about 4 % nothing knits together.",
            told(
                "Nearly all crystals have dissolved above # °C",
                "There are never enough crystals to set it",
                "What is solid holds it together at any temperature considered"
            )
        ),
        Sign::OilPool => format!(
            "{} to hold the oil between them (about a tenth of the butter is needed): at {hottest} °C there is {structure:.0} % structure{}.",
            told(
                "Above # °C, too few crystals are left",
                "At any temperature there are too few crystals",
                "At any temperature considered enough is solid"
            ),
            if structure < Firmness::Slack.limits().1 { ", and lumps lie in free oil" } else { ", enough to hold it" }
        ),
        Sign::SoftTop => format!(
            "{} Warmth comes in from the lid and the wall first, melts crystals there and lets oil out, while the middle is still firm.",
            told(
                "Above # °C the net of crystals is thin.",
                "At any temperature the net of crystals is thin.",
                "This needs a thin net of crystals that warmth melts further, which this recipe has not in your storage."
            )
        ),
        Sign::SeparatedLayers => match layers(profile) {
            Some((low, high)) => format!(
                "Between {} and {} °C it flows, yet a high-melting part is solid: those crystals sink or float in the melt, and it sets again in layers.",
                degrees(low),
                degrees(high)
            ),
            None => "Layers form where crystals of a high-melting part swim in a melt. This recipe has next to no such range: it was perhaps filled or stirred while only partly melted.".to_owned(),
        },
        Sign::Grainy => {
            let usual = profile.read(wishes.temperature_c(super::Where::Usual), |solids| solids.triglyceride);
            let left = profile.read(wishes.hottest_c, |solids| solids.triglyceride);
            if usual < FEW_PERCENT {
                return Trouble {
                    sign,
                    cause: format!(
                        "It has next to no fat crystals to grow into grains ({usual:.0} % at usual storage). Grains in it are wax, fatty acid or alcohol that set slowly and coarsely, or that was not melted out."
                    ),
                    remedies: remedies(sign),
                };
            }
            format!(
                "Of {usual:.0} % fat crystals at usual storage, {left:.0} % are left at {hottest} °C. What a warm day dissolves sets again on the survivors, slowly and coarsely, the highest-melting fat first. The same happens when a fresh batch cools slowly through that range."
            )
        }
        Sign::TooHardInTheCold => format!(
            "{}: at {} °C there is {:.0} % structure.",
            told("Crystals knit it stiff below # °C", "", "It does not get stiff by this recipe's crystals"),
            degrees(wishes.coldest_c),
            profile.structure_percent(wishes.coldest_c)
        ),
    };
    Trouble { sign, cause, remedies: remedies(sign) }
}

fn remedies(sign: Sign) -> Vec<&'static str> {
    match sign {
        Sign::TurnsToOil => vec![
            "Take part of the oil out for a butter that melts higher, or add a little fatty acid, alcohol or wax: ask for a rework to the hottest that it sees.",
            "What has turned to oil can be melted fully and cooled quickly, and used if it is clean and unspoiled. A whipped one must be whipped anew: its air is gone.",
            "Store and send it cooler.",
        ],
        Sign::OilPool => vec![
            "Raise what stays solid in the heat: some hard butter in place of oil, or a little wax, which holds several times its weight of oil.",
            "Do not stir the oil back in: melt it out, cool it quickly and stir.",
        ],
        Sign::SoftTop => vec![
            "Keep the jar from sun and warm shelves, and fill to the rim: a warm head of air melts the top.",
            "A little more that stays solid at the hottest storage; avoid a recipe whose solids fall steeply just there.",
        ],
        Sign::SeparatedLayers => vec![
            "Melt it out fully before filling, fill as cool as it still flows, and stir until it clouds.",
            "Bring the melting ranges closer: less wax or fatty acid, more of a butter that melts between.",
        ],
        Sign::Grainy => vec![
            "Melt it out fully, hold it, then cool it quickly with stirring to 15 to 20 °C, and keep it there: no slow cooling, no partial melting.",
            "Ask for a rework to the hottest that it sees, so that fewer crystals melt there.",
            "A blend of unlike fats (one such as coconut with one such as mango, say) sets finer than one fat alone (common practice).",
        ],
        Sign::TooHardInTheCold => vec![
            "Swap some hard butter for oil, or for a soft butter whose solids change less with temperature, and make up for the heat with a little wax.",
            "Let it stand at room temperature before use; whipped, the same fat feels softer.",
        ],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::behaviour::profile::tests::invented;

    fn wishes(coldest_c: f64, hottest_c: f64) -> Wishes {
        Wishes { format: Format::Pot, coldest_c, hottest_c, skin_c: 32.5, firmness: None, on_skin: None }
    }

    fn signs(profile: &Profile, coldest_c: f64, hottest_c: f64) -> Vec<Sign> {
        troubles(profile, &wishes(coldest_c, hottest_c)).iter().map(|trouble| trouble.sign).collect()
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
        let waxy = invented(40.0, 26.0, 0.6, 52.0);
        assert!(signs(&waxy, 18.0, 42.0).contains(&Sign::SeparatedLayers));
    }

    /// What never sets does so always, what no warmth loosens never.
    #[test]
    fn always_and_never_are_told_apart() {
        let flat = |solids: Solids| Profile::new(crate::behaviour::grid_c().map(|c| (c, solids, 0.0)));
        let oil = flat(Solids::default());
        for sign in [Sign::TurnsToOil, Sign::OilPool] {
            assert_eq!(shows(&oil, &wishes(15.0, 30.0), sign), Shows::Always);
        }
        assert_eq!(shows(&oil, &wishes(15.0, 30.0), Sign::TooHardInTheCold), Shows::Never);
        assert_eq!(signs(&oil, 15.0, 30.0), vec![Sign::TurnsToOil]);
        // 12 % of a fat that stays solid, or the wax worth as much, holds the oil but thinly enough for a wet top: yet nothing melts.
        for solids in
            [Solids { triglyceride: 12.0, ..Solids::default() }, Solids { ester: 2.2, ..Solids::default() }]
        {
            let thick = flat(solids);
            assert_eq!(signs(&thick, 15.0, 30.0), vec![]);
            assert_eq!(shows(&thick, &wishes(15.0, 30.0), Sign::SoftTop), Shows::Never);
            assert_eq!(shows(&thick, &wishes(15.0, 30.0), Sign::OilPool), Shows::Never);
        }
        let wasting = invented(13.0, 32.0, 0.0, 50.0);
        assert_eq!(shows(&wasting, &wishes(10.0, 30.0), Sign::SoftTop), Shows::Always);
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
