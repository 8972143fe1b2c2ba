//! What a change does to the feel, as far as a maker would notice it.

use serde::Serialize;

use super::skin::WAXY_PERCENT;
use crate::behaviour::{Firmness, Solids};

/// What is felt of a butter.
#[derive(Clone, Copy, Debug)]
pub struct Felt {
    /// Its solids at the coldest storage.
    pub coldest: Solids,
    /// In the middle of the storage range.
    pub usual: Solids,
    /// On skin, rubbed in.
    pub skin: Solids,
    /// Seconds until a still dab on skin has lost half of its solids; `None` where it never does.
    pub half_s: Option<f64>,
    /// What makes it matt: beeswax, free fatty acids and powder, percent of the recipe.
    pub matting_percent: f64,
}

/// What would be felt to differ.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Feel {
    /// More stays on skin, and drags.
    MoreDrag { from_percent: f64, to_percent: f64 },
    /// Less does.
    LessDrag { from_percent: f64, to_percent: f64 },
    /// More of it is oil in the jar, which no powder takes up.
    Greasier { from_percent: f64, to_percent: f64 },
    /// Less is.
    Drier { from_percent: f64, to_percent: f64 },
    /// It melts more slowly on skin.
    SlowerToMelt { from_s: f64, to_s: f64 },
    /// It melts faster.
    FasterToMelt { from_s: f64, to_s: f64 },
    /// Firmer at the coldest storage.
    FirmerInTheCold { coldest_c: f64, from: Firmness, to: Firmness },
    /// Softer there.
    SofterInTheCold { coldest_c: f64, from: Firmness, to: Firmness },
    /// Its surface shines less.
    MoreMatt { from_percent: f64, to_percent: f64 },
    /// It shines more.
    Glossier { from_percent: f64, to_percent: f64 },
}

/// What stays on skin must differ by so much, percent of fat crystals, to be told by a finger: our judgement,
/// and as much as predictions of solids tell apart. Where neither is above [`WAXY_PERCENT`], neither drags.
const DRAG_PERCENT: f64 = 2.0;

/// The oil in a jar must differ by so much, percent, for one to be called greasier: our judgement.
const OIL_PERCENT: f64 = 8.0;

/// A dab must take half as long again to be called slower: our judgement.
const SLOWER: f64 = 1.5;

/// Structure must differ by a quarter to be felt within a class: hardness goes as its third power or so, and
/// is twice as much then (see [`Solids`]).
const FIRMER: f64 = 1.25;

/// From one class to the next it need not be as much, but a step over the limit alone is none: our judgement.
const FIRMER_BY_CLASS: f64 = 1.1;

/// What makes it matt must differ by so much, percent: that beeswax, stearic acid and powders take the shine
/// off a butter is common practice, no source; how much it takes is our judgement. Candelilla and carnauba
/// wax shine, and are not counted.
const MATTING_PERCENT: f64 = 2.0;

/// What a maker would feel to differ, of a butter whose coldest storage is given; nothing of what nobody
/// would.
pub fn feels(before: &Felt, after: &Felt, coldest_c: f64) -> Vec<Feel> {
    let mut found = Vec::new();
    let of = |figure: &dyn Fn(&Felt) -> f64| (figure(before), figure(after));
    let (from_percent, to_percent) = of(&|felt| felt.skin.on_skin_percent());
    if (to_percent - from_percent).abs() >= DRAG_PERCENT && from_percent.max(to_percent) > WAXY_PERCENT {
        found.push(if to_percent > from_percent {
            Feel::MoreDrag { from_percent, to_percent }
        } else {
            Feel::LessDrag { from_percent, to_percent }
        });
    }
    if let Some((from_s, to_s)) = before.half_s.zip(after.half_s) {
        // What is liquid already melts at once, and nothing is a share of that.
        if to_s >= SLOWER * from_s && to_s >= LEAST_S {
            found.push(Feel::SlowerToMelt { from_s, to_s });
        } else if from_s >= SLOWER * to_s && from_s >= LEAST_S {
            found.push(Feel::FasterToMelt { from_s, to_s });
        }
    }
    let (from_percent, to_percent) = of(&|felt| oil_percent(&felt.usual));
    if (to_percent - from_percent).abs() >= OIL_PERCENT {
        found.push(if to_percent > from_percent {
            Feel::Greasier { from_percent, to_percent }
        } else {
            Feel::Drier { from_percent, to_percent }
        });
    }
    let (low, high) = of(&|felt| felt.coldest.structure_percent());
    let (from, to) = (Firmness::of(low), Firmness::of(high));
    let enough = if from == to { FIRMER } else { FIRMER_BY_CLASS };
    if from.max(to) > Firmness::Pourable && high >= enough * low {
        found.push(Feel::FirmerInTheCold { coldest_c, from, to });
    } else if from.max(to) > Firmness::Pourable && low >= enough * high {
        found.push(Feel::SofterInTheCold { coldest_c, from, to });
    }
    let (from_percent, to_percent) = of(&|felt| felt.matting_percent);
    if (to_percent - from_percent).abs() >= MATTING_PERCENT {
        found.push(if to_percent > from_percent {
            Feel::MoreMatt { from_percent, to_percent }
        } else {
            Feel::Glossier { from_percent, to_percent }
        });
    }
    found
}

/// What melts sooner than this, s, melts at once: our judgement.
const LEAST_S: f64 = 2.0;

/// What is liquid and not taken up: a powder takes up about its own mass of oil (common practice).
pub(super) fn oil_percent(solids: &Solids) -> f64 {
    (100.0 - solids.fat_percent() - 2.0 * solids.powder).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn felt(coldest: f64, usual: f64, skin: f64, half_s: f64, matting_percent: f64) -> Felt {
        let fat = |triglyceride: f64| Solids { triglyceride, ..Solids::default() };
        let half_s = Some(half_s);
        Felt { coldest: fat(coldest), usual: fat(usual), skin: fat(skin), half_s, matting_percent }
    }

    #[test]
    fn only_what_is_felt_is_told() {
        let now = felt(40.0, 25.0, 3.0, 20.0, 0.0);
        let cases: [(Felt, &[&str]); 14] = [
            (now, &[]),
            // Less than anyone would tell apart.
            (felt(42.0, 28.0, 4.0, 25.0, 1.0), &[]),
            (felt(40.0, 25.0, 5.5, 20.0, 0.0), &["more-drag"]),
            (felt(40.0, 25.0, 3.0, 31.0, 0.0), &["slower-to-melt"]),
            (felt(40.0, 25.0, 3.0, 10.0, 0.0), &["faster-to-melt"]),
            (felt(40.0, 16.0, 3.0, 20.0, 0.0), &["greasier"]),
            (felt(40.0, 34.0, 3.0, 20.0, 0.0), &["drier"]),
            // A quarter within a class, a tenth from one to the next.
            (felt(49.0, 25.0, 3.0, 20.0, 0.0), &[]),
            (felt(51.0, 25.0, 3.0, 20.0, 0.0), &["firmer-in-the-cold"]),
            (felt(36.0, 25.0, 3.0, 20.0, 0.0), &[]),
            (felt(31.0, 25.0, 3.0, 20.0, 0.0), &["softer-in-the-cold"]),
            (felt(40.0, 25.0, 3.0, 20.0, 2.0), &["more-matt"]),
            (felt(40.0, 25.0, 0.0, 20.0, 0.0), &[]),
            (
                felt(60.0, 40.0, 9.0, 90.0, 3.0),
                &["more-drag", "slower-to-melt", "drier", "firmer-in-the-cold", "more-matt"],
            ),
        ];
        for (after, told) in cases {
            let kinds = |feels: Vec<Feel>| -> Vec<String> {
                let kind = |it: &Feel| serde_json::to_value(it).unwrap()["kind"].as_str().unwrap().to_owned();
                feels.iter().map(kind).collect()
            };
            assert_eq!(kinds(feels(&now, &after, 16.0)), told, "{after:?}");
            // And the other way round it is the opposite.
            let opposite = |kind: &&str| match *kind {
                "more-drag" => "less-drag",
                "slower-to-melt" => "faster-to-melt",
                "faster-to-melt" => "slower-to-melt",
                "greasier" => "drier",
                "drier" => "greasier",
                "firmer-in-the-cold" => "softer-in-the-cold",
                "softer-in-the-cold" => "firmer-in-the-cold",
                _ => "glossier",
            };
            let back: Vec<&str> = told.iter().map(opposite).collect();
            assert_eq!(kinds(feels(&after, &now, 16.0)), back, "{after:?}");
        }
    }

    #[test]
    fn powder_takes_oil_up_and_a_film_that_stays_has_no_time() {
        let now = felt(40.0, 25.0, 3.0, 20.0, 0.0);
        let powdered = Felt { usual: Solids { powder: 5.0, ..now.usual }, ..now };
        let found = feels(&now, &powdered, 16.0);
        assert_eq!(found, [Feel::Drier { from_percent: 75.0, to_percent: 65.0 }]);
        assert_eq!(feels(&now, &Felt { half_s: None, ..now }, 16.0), []);
        let liquid = Felt { half_s: Some(0.0), ..now };
        assert_eq!(feels(&liquid, &Felt { half_s: Some(1.0), ..now }, 16.0), []);
    }
}
