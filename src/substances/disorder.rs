//! What unlike outer chains do to the crystals of SOS, POS, POP and their like.
//!
//! Outer chains of unlike length pack badly, and what packs badly melts lower or stays liquid. The chapter of
//! this module has the formulae and the evidence ("Unlike chains").

#![allow(
    clippy::needless_range_loop,
    reason = "plain loops stay fast in the page's engine, which is compiled for size"
)]

use super::{Family, Triglyceride};
use crate::extremes::{greater, lesser};

/// K by which an unlikeness of 1 lowers the melting points of SOS, POS, POP ..; fitted to one curve,
/// that of cocoa butter from Ghana.
const LOWERING_K: f64 = 5.85;

/// The share of the family that an unlikeness of 1 leaves out of the crystals; fitted with [`LOWERING_K`].
const LEFT_OUT: f64 = 0.0788;

/// What unlike members do to a family's crystals.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Disorder {
    /// K, off the melting points.
    pub lowering_k: f64,
    /// The share of the family, 0 to 1, that stays liquid among the crystals.
    pub left_out: f64,
}

impl Disorder {
    fn by(unlikeness: f64) -> Disorder {
        Disorder { lowering_k: LOWERING_K * unlikeness, left_out: LEFT_OUT * unlikeness }
    }
}

/// The outer chains of a family's members.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct OuterChains {
    /// Moles by length: up to 16, 18, 20, and more carbons; a mole of triglyceride has one mole. Then moles
    /// of triglycerides whose two are unlike, by the pair of lengths: 01, 02, 12, 03, 13, 23.
    moles: [f64; LENGTHS + PAIRS],
}

/// Lengths that are told apart, and pairs of two of them.
const LENGTHS: usize = 4;
const PAIRS: usize = 6;

impl OuterChains {
    /// Those of one mole of a triglyceride, which has one outer chain and the other in equal parts.
    pub fn of(triglyceride: Triglyceride) -> OuterChains {
        let mut chains = OuterChains::default();
        let [one, other] = [triglyceride.outer, triglyceride.other].map(|chain| match chain.carbons() {
            0..=16 => 0,
            17..=18 => 1,
            19..=20 => 2,
            _ => 3,
        });
        for length in [one, other] {
            chains.moles[length] += 0.5;
        }
        if one != other {
            let (short, long) = (usize::min(one, other), usize::max(one, other));
            chains.moles[LENGTHS + long * (long - 1) / 2 + short] = 1.0;
        }
        chains
    }

    /// Adds so many times as much as `more`.
    pub fn add(&mut self, amount: f64, more: &OuterChains) {
        for at in 0..self.moles.len() {
            self.moles[at] += amount * more.moles[at];
        }
    }

    /// Whether there are any; also where moles are negative, as in a difference.
    pub fn are_any(&self) -> bool {
        self.moles[0] != 0.0 || self.moles[1] != 0.0 || self.moles[2] != 0.0 || self.moles[3] != 0.0
    }

    /// Twice the chance that two of them differ, at most 1.5; but two unlike chains of one molecule do not
    /// count where it lies among its own kind only, as in pure POS, whose crystals are in order.
    pub fn unlikeness(&self) -> f64 {
        self.shares().unlikeness_of_shares()
    }

    /// The same as shares; all 0 where there are none.
    fn shares(&self) -> OuterChains {
        let sum = self.moles[0] + self.moles[1] + self.moles[2] + self.moles[3];
        let mut shares = OuterChains::default();
        if sum > 0.0 {
            for at in 0..self.moles.len() {
                shares.moles[at] = self.moles[at] / sum;
            }
        }
        shares
    }

    fn unlikeness_of_shares(&self) -> f64 {
        let mut sum = 0.0;
        for at in 0..LENGTHS {
            sum += differ(self.moles[at]);
        }
        for at in LENGTHS..self.moles.len() {
            sum += ordered(self.moles[at]);
        }
        sum
    }
}

/// What a share of the chains contributes to their unlikeness.
fn differ(share: f64) -> f64 {
    2.0 * share * (1.0 - share)
}

/// What a share of molecules with unlike chains takes off the unlikeness again: the chance that one lies
/// among six of its kind, which is how many neighbours it has in a layer of close-packed molecules.
fn ordered(share: f64) -> f64 {
    let cube = share * share * share;
    -cube * cube * share
}

impl Family {
    /// How much lower a family melts, and how much of it stays out of the crystals, for
    /// the outer chains of its members.
    ///
    /// Both are proportional to [`OuterChains::unlikeness`]. They depend on what the whole mixture holds of
    /// the family, not on what has crystallised, so that the equilibrium stays a concave problem.
    pub fn disorder(self, outer: OuterChains) -> Disorder {
        if self.is_disordered() { Disorder::by(outer.unlikeness()) } else { Disorder::default() }
    }

    /// Whether [`Family::disorder`] is ever anything.
    pub(crate) fn is_disordered(self) -> bool {
        self == Family::SatOleicSat
    }

    /// The least and the most of [`Self::disorder`] for any mixture of these.
    ///
    /// Every term of unlikeness is concave in a share, so no mixture has less than the least of the ends. A
    /// term exceeds the mean of the ends by at most half its greatest curvature times the spread of the
    /// share, and that is at most a quarter of the square of its range.
    pub fn disorder_between(self, ends: &[OuterChains]) -> (Disorder, Disorder) {
        if !self.is_disordered() || ends.is_empty() {
            return (Disorder::default(), Disorder::default());
        }
        let (mut least, mut most) = (f64::INFINITY, 0.0_f64);
        let (mut low, mut high) = ([1.0_f64; LENGTHS + PAIRS], [0.0_f64; LENGTHS + PAIRS]);
        for end in ends {
            let shares = end.shares();
            let unlikeness = shares.unlikeness_of_shares();
            (least, most) = (lesser(least, unlikeness), greater(most, unlikeness));
            for at in 0..low.len() {
                low[at] = lesser(low[at], shares.moles[at]);
                high[at] = greater(high[at], shares.moles[at]);
            }
        }
        let (mut spread, mut apart) = (0.0, 0.0);
        for at in 0..low.len() {
            let range = high[at] - low[at];
            if at < LENGTHS {
                spread += 0.5 * range * range;
                apart += differ(lesser(greater(0.5, low[at]), high[at]));
            } else {
                // The greatest curvature of x⁷ is 42·x⁵, and 42 / 8 = 5.25.
                spread += 5.25 * high[at] * high[at] * high[at] * high[at] * high[at] * range * range;
                apart += ordered(low[at]);
            }
        }
        let most = lesser(apart, most + spread);
        (Disorder::by(lesser(least, most)), Disorder::by(most))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    fn chains(parts: &[(&str, f64)]) -> OuterChains {
        let mut outer = OuterChains::default();
        for (letters, moles) in parts {
            outer.add(*moles, &OuterChains::of(Triglyceride::parse(letters).unwrap()));
        }
        outer
    }

    #[test]
    fn unlikeness_is_twice_the_chance_that_outer_chains_of_a_disordered_crystal_differ() {
        for (parts, unlikeness) in [
            (vec![("SOS", 2.0)], 0.0),
            // The middle chain does not count.
            (vec![("SOS", 1.0), ("SLS", 3.0)], 0.0),
            (vec![("POP", 1.0), ("SOS", 1.0)], 1.0),
            (vec![("POP", 1.0), ("SOS", 3.0)], 0.75),
            (vec![("POP", 1.0), ("SOS", 1.0), ("AOA", 1.0)], 4.0 / 3.0),
            (vec![("POP", 1.0), ("SOS", 1.0), ("AOA", 1.0), ("BOB", 1.0)], 1.5),
            // Alone it is in order, among others hardly.
            (vec![("POS", 1.0)], 0.0),
            (vec![("SOA", 5.0)], 0.0),
            (vec![("POS", 2.0), ("POP", 1.0), ("SOS", 1.0)], 1.0 - 1.0 / 128.0),
            (vec![], 0.0),
        ] {
            assert_abs_diff_eq!(chains(&parts).unlikeness(), unlikeness, epsilon = 1e-12);
        }
    }

    #[test]
    fn only_sos_and_its_like_are_disturbed() {
        let outer = chains(&[("POP", 1.0), ("SOS", 1.0)]);
        assert!(Family::SatOleicSat.disorder(outer).lowering_k > 5.0);
        assert_eq!(Family::LongTrisaturated.disorder(outer), Disorder::default());
    }
}
