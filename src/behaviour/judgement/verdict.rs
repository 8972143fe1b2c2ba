//! The verdict: whether the butter does what is wanted.

use serde::Serialize;

use super::{Gap, SkinFeel};
use crate::behaviour::{Firmness, Format, Quantity, Solids, Where, Wishes};

/// How good the news is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Mood {
    /// It does what is wanted.
    Good,
    /// It holds, but only just, not surely, or not as it was to feel.
    Doubtful,
    /// It does not hold where it must.
    Bad,
}

/// What a verdict says, one after the other.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum VerdictFinding {
    /// More powder than its fat can bind.
    MostlyPowder { powder_percent: f64 },
    /// Its oil is set by a gel that the model does not have, and without it it would be too
    /// soft: nothing is foreseen of it.
    GelNotForeseen,
    /// Nothing in it sets enough for its format.
    NeverHolds { format: Format },
    /// It holds its shape only below the coldest storage.
    TooSoftEvenCold { format: Format, holds_to_c: f64, coldest_c: f64 },
    /// It holds its shape to below the hottest storage.
    FailsInHeat { format: Format, holds_to_c: f64, hottest_c: f64 },
    /// So little below that both would be said alike.
    FailsJustInHeat { format: Format, hottest_c: f64 },
    /// To so little above that both would be said alike.
    JustHolds { format: Format, hottest_c: f64 },
    /// It holds its shape to just above the hottest storage.
    HoldsBarely { format: Format, holds_to_c: f64, hottest_c: f64 },
    /// To above it, with less room than is usual.
    Holds { format: Format, holds_to_c: f64, hottest_c: f64 },
    /// To well above it.
    HoldsWell { format: Format, holds_to_c: f64, hottest_c: f64 },
    /// Nearly every batch holds at the hottest storage, if lots vary as published.
    NearlyEveryBatch,
    /// About so many batches in so many do.
    BatchesInSome { batches: u32, some: u32 },
    /// Hardly any does.
    HardlyAnyBatch,
    /// It holds at the hottest storage once it has settled; fresh, only to below it.
    HoldsOnceSettled { format: Format, holds_to_c: f64, hottest_c: f64, fresh_to_c: f64 },
    /// The same, where fresh it holds nowhere.
    HoldsOnlySettled { format: Format, holds_to_c: f64, hottest_c: f64 },
    /// What it does on skin.
    OnSkin { feel: SkinFeel },
    /// Harder than wanted in the middle of the storage range.
    TooHard { usual_c: f64 },
    /// Softer than wanted there.
    TooSoft { usual_c: f64 },
    /// Hard to take out at the coldest storage.
    HardToTakeOut { coldest_c: f64 },
    /// More essential oil and fragrance than is usual on skin.
    TooMuchPerfume { perfume_percent: f64, most_percent: f64 },
}

/// What is judged.
#[derive(Clone, Copy, Debug)]
pub struct Judged<'a> {
    /// What is wanted.
    pub wishes: &'a Wishes,
    /// Where the format stops keeping its shape, °C.
    pub softening_c: Option<f64>,
    /// What there is of it on skin.
    pub skin: &'a Solids,
    /// Powder in it, percent.
    pub powder_percent: f64,
    /// Whether it holds enough of what gels oil beyond the model.
    pub gels: bool,
    /// How firm it is in the middle of the storage range.
    pub usual: Firmness,
    /// Whether it is harder in the cold than the wish, or than the format can bear.
    pub too_hard_in_cold: bool,
    /// Whether any wish is missed.
    pub misses: bool,
    /// How likely a batch holds at the hottest storage, 0 to 1.
    pub holds: f64,
    /// Whether it holds there fresh.
    pub fresh_holds: bool,
    /// Where it stops keeping its shape fresh, °C.
    pub fresh_to_c: Option<f64>,
    /// Essential oil and fragrance in it, percent.
    pub perfume_percent: f64,
}

/// The most of essential oils and fragrance that is usual in what stays on skin, percent: the ceiling of both
/// in the catalogue (IFRA's certificate of each decides).
const MOST_PERFUME_PERCENT: f64 = 2.0;

/// More powder than this, percent, crumbles: powders take up about their own mass of oil (oil absorption of
/// starches and clays, common practice).
const MOSTLY_PERCENT: f64 = 50.0;

/// What holds less surely than this does not yet do what is wanted: three batches in four. Ours.
pub const LIKELY: f64 = 0.75;

/// What holds less surely than this does not hold well, however far above the hottest
/// storage: nine batches in ten. Ours.
pub const SURE: f64 = 0.9;

/// As many batches hold as do not.
pub const EVEN: f64 = 0.5;

/// Counts that people say, the surest first; odds are said as the nearest.
const COUNTS: [(u32, u32); 11] =
    [(9, 10), (7, 8), (4, 5), (3, 4), (2, 3), (3, 5), (1, 2), (2, 5), (1, 3), (1, 4), (1, 10)];

/// How surely a butter can be asked to hold (`rework`). Odds below one of these are never told as a count
/// that reaches it, however near they are.
const RUNGS: [f64; 3] = [SURE, LIKELY, EVEN];

/// From here on nearly every batch does.
const NEARLY_EVERY: f64 = 0.97;

/// Closer above the hottest storage than this, K, it holds just above it: a maker's thermometer and
/// cupboard differ by as much. Ours.
const JUST_ABOVE_K: f64 = 1.5;

/// Closer to the hottest storage than this, K, both temperatures would be said alike, to half a degree.
const SAID_ALIKE_K: f64 = 0.5;

/// How good the news is, and what it is. What may harm skin is told whatever else there is to say, and is no
/// good news.
pub fn verdict(judged: &Judged<'_>) -> (Mood, Vec<VerdictFinding>) {
    let (mood, mut found) = butter(judged);
    let perfume_percent = judged.perfume_percent;
    if perfume_percent <= MOST_PERFUME_PERCENT {
        return (mood, found);
    }
    found.push(VerdictFinding::TooMuchPerfume { perfume_percent, most_percent: MOST_PERFUME_PERCENT });
    (if mood == Mood::Good { Mood::Doubtful } else { mood }, found)
}

/// The same of the butter alone.
fn butter(judged: &Judged<'_>) -> (Mood, Vec<VerdictFinding>) {
    if judged.powder_percent > MOSTLY_PERCENT {
        return (Mood::Bad, vec![VerdictFinding::MostlyPowder { powder_percent: judged.powder_percent }]);
    }
    let wishes = judged.wishes;
    // A gel only makes it firmer: what holds or is too hard without it does so with it.
    let holds = judged.softening_c.is_some_and(|softening_c| softening_c >= wishes.hottest_c);
    if judged.gels && (!holds || wishes.firmness.is_some_and(|wanted| judged.usual < wanted)) {
        return (Mood::Doubtful, vec![VerdictFinding::GelNotForeseen]);
    }
    let Some(softening_c) = judged.softening_c else {
        return (Mood::Bad, vec![VerdictFinding::NeverHolds { format: wishes.format }]);
    };
    let (mut mood, holding) = holding(wishes, softening_c, judged.holds);
    let mut found = vec![holding, in_counts(judged.holds)];
    // What holds only later is said in the same breath as where it holds, for a maker must do something about
    // it.
    if mood != Mood::Bad && !judged.fresh_holds {
        found[0] = once_settled(wishes, softening_c, judged.fresh_to_c);
    }
    found.push(VerdictFinding::OnSkin { feel: SkinFeel::of(judged.skin) });
    if !leaves_on_skin_as_wanted(judged) && mood == Mood::Good {
        mood = Mood::Doubtful;
    }
    let usual_c = wishes.temperature_c(Where::Usual);
    let wanted = wishes.firmness.filter(|_| mood != Mood::Bad);
    if wanted.is_some_and(|wanted| judged.usual > wanted) {
        found.push(VerdictFinding::TooHard { usual_c });
    } else if wanted.is_some_and(|wanted| judged.usual < wanted) {
        found.push(VerdictFinding::TooSoft { usual_c });
    } else if judged.too_hard_in_cold {
        found.push(VerdictFinding::HardToTakeOut { coldest_c: wishes.temperature_c(Where::Coldest) });
        if mood == Mood::Good {
            mood = Mood::Doubtful;
        }
    }
    // What holds, and is only not as it was to feel, is no failure: often nobody chose how.
    if judged.misses && mood == Mood::Good {
        mood = Mood::Doubtful;
    }
    if Gap::of(wishes.hottest_c, wishes.skin_c) == Gap::None && mood == Mood::Good {
        mood = Mood::Doubtful;
    }
    (mood, found)
}

/// Odds in plain counts.
pub fn in_counts(odds: f64) -> VerdictFinding {
    if odds >= NEARLY_EVERY {
        return VerdictFinding::NearlyEveryBatch;
    }
    let share = |(batches, some): (u32, u32)| f64::from(batches) / f64::from(some);
    let claims_too_much = |count| RUNGS.iter().any(|rung| share(count) >= *rung && odds < *rung);
    let nearest = COUNTS
        .into_iter()
        .filter(|count| !claims_too_much(*count))
        .min_by(|one, other| (share(*one) - odds).abs().total_cmp(&(share(*other) - odds).abs()));
    match nearest {
        // Nearer to none at all than to the least that is counted.
        Some(count) if odds >= 0.5 * share(count) => {
            VerdictFinding::BatchesInSome { batches: count.0, some: count.1 }
        }
        _ => VerdictFinding::HardlyAnyBatch,
    }
}

/// How far it holds against the storage that it must bear, and how surely.
fn holding(wishes: &Wishes, holds_to_c: f64, holds: f64) -> (Mood, VerdictFinding) {
    let Wishes { format, coldest_c, hottest_c, .. } = *wishes;
    let room_k = holds_to_c - hottest_c;
    if holds_to_c < coldest_c {
        (Mood::Bad, VerdictFinding::TooSoftEvenCold { format, holds_to_c, coldest_c })
    } else if room_k <= -SAID_ALIKE_K {
        (Mood::Bad, VerdictFinding::FailsInHeat { format, holds_to_c, hottest_c })
    } else if room_k < 0.0 {
        (Mood::Bad, VerdictFinding::FailsJustInHeat { format, hottest_c })
    } else {
        let finding = if room_k < SAID_ALIKE_K {
            VerdictFinding::JustHolds { format, hottest_c }
        } else if room_k < JUST_ABOVE_K {
            VerdictFinding::HoldsBarely { format, holds_to_c, hottest_c }
        } else if room_k < super::MARGIN_K || holds < SURE {
            VerdictFinding::Holds { format, holds_to_c, hottest_c }
        } else {
            VerdictFinding::HoldsWell { format, holds_to_c, hottest_c }
        };
        (if holds < LIKELY { Mood::Doubtful } else { Mood::Good }, finding)
    }
}

/// How far it holds once it has settled, and where it must be kept till then.
fn once_settled(wishes: &Wishes, holds_to_c: f64, fresh_to_c: Option<f64>) -> VerdictFinding {
    let Wishes { format, hottest_c, .. } = *wishes;
    match fresh_to_c {
        Some(fresh_to_c) => VerdictFinding::HoldsOnceSettled { format, holds_to_c, hottest_c, fresh_to_c },
        None => VerdictFinding::HoldsOnlySettled { format, holds_to_c, hottest_c },
    }
}

fn leaves_on_skin_as_wanted(judged: &Judged<'_>) -> bool {
    judged.wishes.on_skin.is_none_or(|wish| {
        let (low, high) = wish.limits();
        (low..=high).contains(&Quantity::OnSkin.of(judged.skin))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::behaviour::OnSkin;

    fn judged(wishes: &Wishes, softening_c: Option<f64>, skin_percent: f64) -> Judged<'_> {
        let skin = Solids { triglyceride: skin_percent, ..Solids::default() };
        Judged {
            wishes,
            softening_c,
            skin: Box::leak(Box::new(skin)),
            powder_percent: 0.0,
            gels: false,
            usual: Firmness::Scoopable,
            too_hard_in_cold: false,
            misses: false,
            holds: 0.9,
            fresh_holds: true,
            fresh_to_c: None,
            perfume_percent: 0.0,
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
        let slumps = VerdictFinding::FailsInHeat { format: Format::Pot, holds_to_c: 29.1, hottest_c: 31.0 };
        let counts = VerdictFinding::BatchesInSome { batches: 9, some: 10 };
        assert_eq!(found, [slumps, counts, VerdictFinding::OnSkin { feel: SkinFeel::Melts }]);
    }

    #[test]
    fn a_gel_is_not_said_to_be_too_soft() {
        let gels = |softening_c| verdict(&Judged { gels: true, ..judged(&WISHES, softening_c, 1.0) });
        for softening_c in [None, Some(10.0), Some(29.1), Some(30.9)] {
            assert_eq!(gels(softening_c), (Mood::Doubtful, vec![VerdictFinding::GelNotForeseen]));
        }
        assert_eq!(gels(Some(40.0)), verdict(&judged(&WISHES, Some(40.0), 1.0)));
    }

    #[test]
    fn a_hair_below_the_hottest_day_is_told_from_it() {
        let (_, found) = verdict(&judged(&WISHES, Some(30.9), 1.0));
        assert_eq!(found[0], VerdictFinding::FailsJustInHeat { format: Format::Pot, hottest_c: 31.0 });
        let (_, found) = verdict(&judged(&WISHES, Some(31.2), 1.0));
        assert_eq!(found[0], VerdictFinding::JustHolds { format: Format::Pot, hottest_c: 31.0 });
    }

    #[test]
    fn odds_are_said_as_the_nearest_count_and_claim_no_rung_that_is_not_reached() {
        for (odds, batches, some) in [
            (0.96, 9, 10),
            (0.9, 9, 10),
            (0.896, 7, 8),
            (0.83, 4, 5),
            (0.75, 3, 4),
            (0.749, 2, 3),
            (0.661, 2, 3),
            (0.5, 1, 2),
            (0.499, 2, 5),
            (0.29, 1, 4),
            (0.12, 1, 10),
            (0.06, 1, 10),
        ] {
            assert_eq!(in_counts(odds), VerdictFinding::BatchesInSome { batches, some }, "{odds}");
        }
        assert_eq!(in_counts(0.99), VerdictFinding::NearlyEveryBatch);
        assert_eq!(in_counts(0.04), VerdictFinding::HardlyAnyBatch);
        // Whatever the odds, a count is off by less than half of the widest step, and never across a rung.
        for odds in (0..970).map(|thousandths| 0.001 * f64::from(thousandths)) {
            let told = match in_counts(odds) {
                VerdictFinding::BatchesInSome { batches, some } => f64::from(batches) / f64::from(some),
                VerdictFinding::HardlyAnyBatch => 0.0,
                other => panic!("{odds}: {other:?}"),
            };
            assert!((told - odds).abs() <= 0.1, "{odds} is told as {told}");
            assert!(RUNGS.iter().all(|rung| odds >= *rung || told < *rung), "{odds} is told as {told}");
        }
    }

    #[test]
    fn well_is_said_from_nine_batches_in_ten_on() {
        let told = |holds| verdict(&Judged { holds, ..judged(&WISHES, Some(45.0), 1.0) }).1[0].clone();
        let (format, holds_to_c, hottest_c) = (Format::Pot, 45.0, 31.0);
        assert_eq!(told(0.9), VerdictFinding::HoldsWell { format, holds_to_c, hottest_c });
        assert_eq!(told(0.89), VerdictFinding::Holds { format, holds_to_c, hottest_c });
    }

    #[test]
    fn what_slumps_only_fresh_is_to_be_kept_cool() {
        let cool = Wishes { hottest_c: 24.0, ..WISHES };
        let fresh = |softening_c, fresh_to_c| {
            let wishes = if softening_c < 30.0 { &WISHES } else { &cool };
            let judged = judged(wishes, Some(softening_c), 2.0);
            verdict(&Judged { fresh_holds: false, fresh_to_c, ..judged }).1[0].clone()
        };
        let (format, holds_to_c, hottest_c) = (Format::Pot, 30.0, 24.0);
        assert_eq!(
            fresh(30.0, Some(22.5)),
            VerdictFinding::HoldsOnceSettled { format, holds_to_c, hottest_c, fresh_to_c: 22.5 }
        );
        assert_eq!(fresh(30.0, None), VerdictFinding::HoldsOnlySettled { format, holds_to_c, hottest_c });
        // What fails settled as well is not told to be kept cool only at first.
        assert!(matches!(fresh(29.1, Some(22.5)), VerdictFinding::FailsInHeat { .. }));
    }

    #[test]
    fn moods_follow_the_figures() {
        let cool = Wishes { hottest_c: 24.0, ..WISHES };
        let mood = |judged: &Judged<'_>| verdict(judged).0;
        assert_eq!(mood(&judged(&cool, Some(30.0), 2.0)), Mood::Good);
        let unsure = Judged { holds: 0.7, ..judged(&cool, Some(30.0), 2.0) };
        assert_eq!(mood(&unsure), Mood::Doubtful);
        assert_eq!(mood(&judged(&cool, Some(30.0), 30.0)), Mood::Doubtful);
        assert_eq!(mood(&judged(&cool, None, 0.0)), Mood::Bad);
        // What holds is never bad for how it feels.
        let missed = Judged { misses: true, ..judged(&cool, Some(30.0), 2.0) };
        assert_eq!(mood(&missed), Mood::Doubtful);
        let slumps = Judged { misses: true, ..judged(&cool, Some(23.0), 2.0) };
        assert_eq!(mood(&slumps), Mood::Bad);
        let firm = Wishes { firmness: Some(Firmness::Firm), ..cool };
        let hard = Judged { usual: Firmness::Hard, misses: true, ..judged(&firm, Some(30.0), 2.0) };
        assert_eq!(verdict(&hard).1.last(), Some(&VerdictFinding::TooHard { usual_c: 20.0 }));
        let hot = Wishes { hottest_c: 36.0, on_skin: None, ..WISHES };
        assert_eq!(mood(&judged(&hot, Some(50.0), 40.0)), Mood::Doubtful);
    }
}
