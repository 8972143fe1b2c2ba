//! The verdict: whether the butter does what is wanted.

use serde::Serialize;

use super::{Gap, SkinFeel};
use crate::behaviour::{Firmness, Format, Where, Wishes};

/// How good the news is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Mood {
    /// It does what is wanted.
    Good,
    /// It nearly does, or only just.
    Doubtful,
    /// It does not.
    Bad,
}

/// What a verdict says, one after the other.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS), ts(rename = "VerdictFinding"))]
pub enum Verdict {
    /// More powder than its fat can bind.
    MostlyPowder { powder_percent: f64 },
    /// Nothing in it sets enough for its format.
    NeverHolds { format: Format },
    /// It holds its shape only below the coldest storage.
    TooSoftEvenCold { format: Format, holds_to_c: f64, coldest_c: f64 },
    /// It holds its shape to below the hottest storage.
    FailsInHeat { format: Format, holds_to_c: f64, hottest_c: f64 },
    /// So little below that both would be said alike.
    FailsJustInHeat { format: Format, hottest_c: f64 },
    /// It holds its shape to just above the hottest storage.
    HoldsBarely { format: Format, holds_to_c: f64, hottest_c: f64 },
    /// To above it, with less room than is usual.
    Holds { format: Format, holds_to_c: f64, hottest_c: f64 },
    /// To well above it.
    HoldsWell { format: Format, holds_to_c: f64, hottest_c: f64 },
    /// What it does on skin.
    OnSkin { feel: SkinFeel },
    /// Harder than wanted in the middle of the storage range.
    TooHard { usual_c: f64 },
    /// Softer than wanted there.
    TooSoft { usual_c: f64 },
    /// Hard to take out at the coldest storage.
    HardToTakeOut { coldest_c: f64 },
}

/// What is judged.
#[derive(Clone, Copy, Debug)]
pub struct Judged<'a> {
    /// What is wanted.
    pub wishes: &'a Wishes,
    /// Where the format stops keeping its shape, °C.
    pub softening_c: Option<f64>,
    /// Solids on skin, percent.
    pub skin_solid_percent: f64,
    /// Powder in it, percent.
    pub powder_percent: f64,
    /// How firm it is in the middle of the storage range.
    pub usual: Firmness,
    /// Whether it is harder in the cold than the wish, or than the format can bear.
    pub too_hard_in_cold: bool,
    /// The largest miss of any wish, percent points.
    pub worst_miss: f64,
    /// Whether any wish is missed.
    pub misses: bool,
}

/// Misses up to this, percent points, are within what the prediction can tell apart (measured fits of solid-fat
/// curves are off by 2, J Oil Palm Res 30:579, 2018): doubtful rather than bad.
const SMALL_MISS: f64 = 2.0;

/// More powder than this, percent, crumbles: powders take up about their own mass of oil (oil absorption of starches and clays,
/// common practice).
const MOSTLY_PERCENT: f64 = 50.0;

/// Closer to the hottest storage than this, K, and the prediction cannot promise that it holds: slip points are predicted
/// to about this (the mean misfit of published blends).
const NEAR_K: f64 = 1.5;

/// Closer below the hottest storage than this, K, both temperatures would be said alike, to half a degree.
const SAID_ALIKE_K: f64 = 0.5;

/// How good the news is, and what it is.
pub fn verdict(judged: &Judged<'_>) -> (Mood, Vec<Verdict>) {
    if judged.powder_percent > MOSTLY_PERCENT {
        return (Mood::Bad, vec![Verdict::MostlyPowder { powder_percent: judged.powder_percent }]);
    }
    let wishes = judged.wishes;
    let Some(softening_c) = judged.softening_c else {
        return (Mood::Bad, vec![Verdict::NeverHolds { format: wishes.format }]);
    };
    let (mut mood, holding) = holding(wishes, softening_c);
    let mut found = vec![holding, Verdict::OnSkin { feel: SkinFeel::of(judged.skin_solid_percent) }];
    if !leaves_on_skin_as_wanted(judged) && mood == Mood::Good {
        mood = Mood::Doubtful;
    }
    let usual_c = wishes.temperature_c(Where::Usual);
    let wanted = wishes.firmness.filter(|_| mood != Mood::Bad);
    if wanted.is_some_and(|wanted| judged.usual > wanted) {
        found.push(Verdict::TooHard { usual_c });
    } else if wanted.is_some_and(|wanted| judged.usual < wanted) {
        found.push(Verdict::TooSoft { usual_c });
    } else if judged.too_hard_in_cold {
        found.push(Verdict::HardToTakeOut { coldest_c: wishes.coldest_c });
    }
    if judged.misses && mood != Mood::Bad {
        mood = if judged.worst_miss <= SMALL_MISS { Mood::Doubtful } else { Mood::Bad };
    }
    if Gap::of(wishes.hottest_c, wishes.skin_c) == Gap::None && mood == Mood::Good {
        mood = Mood::Doubtful;
    }
    (mood, found)
}

/// How far it holds against the storage that it must bear.
fn holding(wishes: &Wishes, holds_to_c: f64) -> (Mood, Verdict) {
    let Wishes { format, coldest_c, hottest_c, .. } = *wishes;
    let room_k = holds_to_c - hottest_c;
    if holds_to_c < coldest_c {
        (Mood::Bad, Verdict::TooSoftEvenCold { format, holds_to_c, coldest_c })
    } else if room_k <= -SAID_ALIKE_K {
        (Mood::Bad, Verdict::FailsInHeat { format, holds_to_c, hottest_c })
    } else if room_k < 0.0 {
        (Mood::Bad, Verdict::FailsJustInHeat { format, hottest_c })
    } else if room_k < NEAR_K {
        (Mood::Doubtful, Verdict::HoldsBarely { format, holds_to_c, hottest_c })
    } else if room_k < super::MARGIN_K {
        (Mood::Good, Verdict::Holds { format, holds_to_c, hottest_c })
    } else {
        (Mood::Good, Verdict::HoldsWell { format, holds_to_c, hottest_c })
    }
}

fn leaves_on_skin_as_wanted(judged: &Judged<'_>) -> bool {
    judged.wishes.on_skin.is_none_or(|wish| {
        let (low, high) = wish.limits();
        (low..=high).contains(&judged.skin_solid_percent)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::behaviour::OnSkin;

    fn judged(wishes: &Wishes, softening_c: Option<f64>, skin_solid_percent: f64) -> Judged<'_> {
        Judged {
            wishes,
            softening_c,
            skin_solid_percent,
            powder_percent: 0.0,
            usual: Firmness::Scoopable,
            too_hard_in_cold: false,
            worst_miss: 0.0,
            misses: false,
        }
    }

    const WISHES: Wishes = Wishes {
        format: Format::Pot,
        coldest_c: 16.0,
        hottest_c: 31.0,
        skin_c: 32.5,
        firmness: None,
        on_skin: Some(OnSkin::Melts),
    };

    #[test]
    fn slumping_comes_first_and_then_the_skin() {
        let (mood, found) = verdict(&judged(&WISHES, Some(29.1), 1.0));
        assert_eq!(mood, Mood::Bad);
        let slumps = Verdict::FailsInHeat { format: Format::Pot, holds_to_c: 29.1, hottest_c: 31.0 };
        assert_eq!(found, [slumps, Verdict::OnSkin { feel: SkinFeel::Melts }]);
    }

    #[test]
    fn a_hair_below_the_hottest_day_is_told_from_it() {
        let (_, found) = verdict(&judged(&WISHES, Some(30.9), 1.0));
        assert_eq!(found[0], Verdict::FailsJustInHeat { format: Format::Pot, hottest_c: 31.0 });
    }

    #[test]
    fn moods_follow_the_figures() {
        let cool = Wishes { hottest_c: 24.0, ..WISHES };
        let mood = |judged: &Judged<'_>| verdict(judged).0;
        assert_eq!(mood(&judged(&cool, Some(30.0), 2.0)), Mood::Good);
        assert_eq!(mood(&judged(&cool, Some(24.5), 2.0)), Mood::Doubtful);
        assert_eq!(mood(&judged(&cool, Some(30.0), 30.0)), Mood::Doubtful);
        assert_eq!(mood(&judged(&cool, None, 0.0)), Mood::Bad);
        let missed = Judged { misses: true, worst_miss: 8.0, ..judged(&cool, Some(30.0), 2.0) };
        assert_eq!(mood(&missed), Mood::Bad);
        let firm = Wishes { firmness: Some(Firmness::Firm), ..cool };
        let hard =
            Judged { usual: Firmness::Hard, misses: true, worst_miss: 8.0, ..judged(&firm, Some(30.0), 2.0) };
        assert_eq!(verdict(&hard).1.last(), Some(&Verdict::TooHard { usual_c: 20.0 }));
        let hot = Wishes { hottest_c: 36.0, on_skin: None, ..WISHES };
        assert_eq!(mood(&judged(&hot, Some(50.0), 40.0)), Mood::Doubtful);
    }
}
