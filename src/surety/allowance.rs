//! How much more than the bare least a recipe must have so that it holds as surely as is wanted: an estimate
//! that can be bounded over whole regions of recipes, which odds cannot.

use super::{
    normal::quantile,
    widths::{from_kinds, named_remainder, powers},
};
use crate::behaviour::Solids;

/// What a butter is to bear, with some odds: to be warmer, its crystals to be
/// worth less, and the model to err.
///
/// Independent spreads add up as squares, which no bound over a region could do. So each is taken at a
/// share of itself, and they are added plainly. Where all the spread comes from one unknown, that asks
/// for a fifth too little; where three are equally large, for a third too much. Over the recipes of
/// the 300 usual questions, eight in ten of those that just bear it at 3 in 4 hold with odds of 0.68
/// to 0.83 by lots, and all with 0.63 to 0.91 (`tests/rework/allowance.rs`). So a search goes by this,
/// and what is told goes by lots.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Allowance {
    /// How much warmer, K.
    pub warmer_k: f64,
    /// What a crystal of each kind still counts for, as a factor.
    pub worth: Solids,
    /// Factor of what is counted by mass, whatever its crystals are worth.
    pub mass: f64,
    /// What the model errs by, percent points.
    pub points: f64,
}

/// The share of each spread that is added.
const SHARE: f64 = 0.8;

/// One standard deviation of how high lots melt, which counts as so much more warmth, K: in the middle
/// between a blend of two or three butters of 1.2 to 1.5 each, and one alone.
const LOTS_K: f64 = 1.0;

/// How much fewer crystals a lot has, one standard deviation of the logarithm: that of a hard
/// butter whose lots are not known.
const CRYSTALLISES_LOG: f64 = 0.08;

impl Allowance {
    /// Nothing to bear.
    pub const NONE: Allowance = Allowance { warmer_k: 0.0, worth: Solids::ONE_EACH, mass: 1.0, points: 0.0 };

    /// That of these odds, above 0 and below 1; below an even chance it is less than nothing.
    pub fn of_odds(odds: f64) -> Allowance {
        Allowance::of_deviations(quantile(odds))
    }

    /// That of so many standard deviations.
    pub fn of_deviations(deviations: f64) -> Allowance {
        let each = SHARE * deviations;
        let fewer = libm::exp(-each * CRYSTALLISES_LOG);
        Allowance {
            warmer_k: each * LOTS_K,
            worth: from_kinds(&powers().map(|power| fewer * libm::exp(-each * power))),
            mass: fewer,
            points: each * named_remainder("solids"),
        }
    }
}

/// How many standard deviations of a normal spread lie between an even chance and these odds.
pub fn deviations(odds: f64) -> f64 {
    quantile(odds.clamp(1e-6, 1.0 - 1e-6))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::surety::widths::by_kind;

    #[test]
    fn surer_asks_for_more_of_everything() {
        let allowances = [0.25, 0.5, 0.75, 0.9].map(Allowance::of_odds);
        for pair in allowances.windows(2) {
            assert!(pair[0].warmer_k < pair[1].warmer_k && pair[0].points < pair[1].points);
            assert!(pair[0].mass > pair[1].mass);
            let kinds = by_kind(&pair[0].worth).into_iter().zip(by_kind(&pair[1].worth));
            assert!(kinds.into_iter().all(|(less, more)| less > more));
        }
        assert_eq!(Allowance::of_deviations(0.0).worth, Allowance::NONE.worth);
    }
}
