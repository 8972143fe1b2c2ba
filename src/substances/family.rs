//! Which species share a crystal.

#![allow(
    clippy::needless_range_loop,
    reason = "plain loops stay fast in the page's engine, which is compiled for size"
)]

use super::{Chain, Triglyceride, species::Kind};
use crate::extremes::{greater, lesser};

/// A crystal family: its members form one solid solution; nothing crosses families.
///
/// Evidence: saturated–oleoyl–saturated triglycerides interact strongly and template one another's forms (Ghazani &
/// Marangoni 2021; Wille & Lutton 1966), trisaturated ones of like length mix and of unlike length do not (Knoester
/// et al. 1972; Wesdorp's degree of isomorphism), cis-unsaturated chains do not share a beta crystal with saturated
/// ones (Lu et al. 2019), PPO and POO make compound crystals that take 17 months to come apart (Bayés-García et al.
/// 2015), acids, alcohols, alkanes, wax esters and triglycerides keep apart (J. Jpn. Oil Chem. Soc. 28:480,
/// 1979; Serrato-Palacios et al. 2015; Tavernier et al. 2017), and each of alkanes and long wax esters mixes
/// with its like (Dirand et al. 2002; Tavernier et al. 2017).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Family {
    /// A pure crystal, all its own.
    Own,
    /// Two outer long saturated chains around one oleic: SOS, POS, POP, SOA ..
    SatOleicSat,
    /// Two long saturated chains beside an outer oleic: SSO, PSO, PPO; and POO, which shares their crystals.
    SatSatOleic,
    /// Three saturated chains of 14 carbons or more, 46 carbons or more in all.
    LongTrisaturated,
    /// Three saturated chains with 28 to 33 carbons in all.
    Lauric30,
    /// With 34 to 37.
    Lauric36,
    /// With 38 to 41.
    Lauric40,
    /// With 42 and more, one of the chains short, and trimyristin's like.
    Lauric44,
    /// Two saturated chains, one of them of 14 carbons or fewer, and one unsaturated: LaLaO, LaMO, PLaO ..
    LauricUnsaturated,
    /// Hydrocarbon waxes.
    Alkanes,
    /// Long saturated wax esters.
    WaxEsters,
    /// Saturated mono- and diglycerides.
    PartialGlycerides,
}

/// All of them.
const ALL: [Family; 12] = [
    Family::Own,
    Family::SatOleicSat,
    Family::SatSatOleic,
    Family::LongTrisaturated,
    Family::Lauric30,
    Family::Lauric36,
    Family::Lauric40,
    Family::Lauric44,
    Family::LauricUnsaturated,
    Family::Alkanes,
    Family::WaxEsters,
    Family::PartialGlycerides,
];

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

/// K by which an unlikeness of 1 lowers the melting points of SOS, POS, POP ..; see [`Family::disorder`].
const LOWERING_K: f64 = 5.85;

/// The share of them that it leaves out.
const LEFT_OUT: f64 = 0.0788;

/// The outer chains of a family's members.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct OuterChains {
    /// Moles by length: up to 16, 18, 20, and more carbons; a mole of triglyceride has one mole. Then moles of triglycerides whose
    /// two are unlike, by the pair of lengths: 01, 02, 12, 03, 13, 23.
    moles: [f64; LENGTHS + PAIRS],
}

/// Lengths that are told apart, and pairs of two of them.
const LENGTHS: usize = 4;
const PAIRS: usize = 6;

/// What a share of the chains contributes to their unlikeness.
fn differ(share: f64) -> f64 {
    2.0 * share * (1.0 - share)
}

/// What a share of molecules with unlike chains takes off it again: the chance of one among six of its kind.
fn ordered(share: f64) -> f64 {
    let cube = share * share * share;
    -cube * cube * share
}

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

    /// All of them, moles.
    fn sum(&self) -> f64 {
        self.moles[0] + self.moles[1] + self.moles[2] + self.moles[3]
    }

    /// Whether there are any; of a difference too.
    pub fn are_any(&self) -> bool {
        self.moles[0] != 0.0 || self.moles[1] != 0.0 || self.moles[2] != 0.0 || self.moles[3] != 0.0
    }

    /// The same as shares; all 0 where there are none.
    fn shares(&self) -> OuterChains {
        let sum = self.sum();
        let mut shares = OuterChains::default();
        if sum > 0.0 {
            for at in 0..self.moles.len() {
                shares.moles[at] = self.moles[at] / sum;
            }
        }
        shares
    }

    /// Twice the chance that two of them differ, 4·p·(1 − p) for shares p and 1 − p of two lengths, at most 1.5; but two unlike
    /// chains of one molecule do not count where it lies among its own kind only, as in pure POS. In a layer of close-packed molecules
    /// it has six neighbours.
    pub fn unlikeness(&self) -> f64 {
        self.shares().unlikeness_of_shares()
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

impl Family {
    /// The family of that name.
    pub fn named(name: &str) -> Option<Family> {
        ALL.into_iter().find(|family| family.name() == name)
    }

    /// Its name in the data files.
    pub fn name(self) -> &'static str {
        match self {
            Family::Own => "own",
            Family::SatOleicSat => "sat-oleic-sat",
            Family::SatSatOleic => "sat-sat-oleic",
            Family::LongTrisaturated => "long-trisaturated",
            Family::Lauric30 => "lauric-30",
            Family::Lauric36 => "lauric-36",
            Family::Lauric40 => "lauric-40",
            Family::Lauric44 => "lauric-44",
            Family::LauricUnsaturated => "lauric-unsaturated",
            Family::Alkanes => "alkanes",
            Family::WaxEsters => "wax-esters",
            Family::PartialGlycerides => "partial-glycerides",
        }
    }

    /// The family that a triglyceride crystallises in.
    pub fn of_triglyceride(triglyceride: Triglyceride) -> Family {
        let [outer, middle, other] = triglyceride.chains();
        let long = |chain: Chain| chain.is_saturated() && chain.carbons() >= 14;
        let carbons = triglyceride.carbons();
        if triglyceride.is_saturated() {
            return match carbons {
                0..=27 => Family::Own,
                28..=33 => Family::Lauric30,
                34..=37 => Family::Lauric36,
                38..=41 => Family::Lauric40,
                _ if carbons < 46 || !triglyceride.chains().iter().all(|chain| long(*chain)) => {
                    Family::Lauric44
                }
                _ => Family::LongTrisaturated,
            };
        }
        let saturated = triglyceride.chains().iter().filter(|chain| chain.is_saturated()).count();
        let shortest = triglyceride.chains().iter().map(|chain| chain.carbons()).min().unwrap_or(0);
        if saturated == 2 && shortest <= 14 {
            return Family::LauricUnsaturated;
        }
        if long(outer) && long(other) && middle == Chain::O {
            return Family::SatOleicSat;
        }
        if long(middle) && (long(outer) && other == Chain::O || long(other) && outer == Chain::O) {
            return Family::SatSatOleic;
        }
        if middle == Chain::O && [outer, other].contains(&Chain::P) && [outer, other].contains(&Chain::O) {
            return Family::SatSatOleic;
        }
        Family::Own
    }

    /// How much lower a family melts, and how much of it stays out of the crystals, when its members' outer chains
    /// differ: `outer` is what shares of them have each length.
    ///
    /// An ideal solid solution of SOS, POS and POP melts 6 K above cocoa butter and is 7 points too solid below: outer
    /// chains of unlike length pack badly, and what packs badly is left out. Both effects are taken as proportional to
    /// how often two outer chains differ, [`OuterChains::unlikeness`], which vanishes for a pure species, and depend on what the whole mixture holds of the family, not on what has crystallised: the problem stays concave. The two factors were
    /// fitted to one curve, that of cocoa butter from Ghana (76, 69.6, 45, 1.1 % at 20, 25, 30, 35 °C, tempered NMR), and to
    /// nothing else; its outer chains are palmitic and stearic, and an arachidic one is taken to disturb as much.
    pub fn disorder(self, outer: OuterChains) -> Disorder {
        if self.is_disordered() { Disorder::by(outer.unlikeness()) } else { Disorder::default() }
    }

    /// Whether [`Family::disorder`] is ever anything.
    pub(crate) fn is_disordered(self) -> bool {
        self == Family::SatOleicSat
    }

    /// The least and the most of [`Self::disorder`] for any mixture of these.
    ///
    /// Every term of unlikeness is concave in a share, so no mixture has less than the least of the ends. A term exceeds the
    /// mean of the ends by at most half its greatest curvature times the spread of the share, and that is at most a quarter
    /// of the square of its range.
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
                spread += 5.25 * high[at] * high[at] * high[at] * high[at] * high[at] * range * range;
                apart += ordered(low[at]);
            }
        }
        let most = lesser(apart, most + spread);
        (Disorder::by(lesser(least, most)), Disorder::by(most))
    }

    /// The family that a species other than a triglyceride crystallises in.
    pub fn of_kind(kind: Kind) -> Family {
        match kind {
            Kind::Alcohol => Family::Own,
            Kind::Alkane => Family::Alkanes,
            Kind::WaxEster | Kind::MixedEster => Family::WaxEsters,
            Kind::Glyceride => Family::PartialGlycerides,
            Kind::Triglyceride | Kind::Acid | Kind::Liquid | Kind::Powder => Family::Own,
        }
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
    fn poo_lies_in_the_crystals_of_ppo_alone() {
        let family = |letters| Family::of_triglyceride(Triglyceride::parse(letters).unwrap());
        for letters in ["PPO", "OPP", "SSO", "POO", "OOP"] {
            assert_eq!(family(letters), Family::SatSatOleic, "{letters}");
        }
        for letters in ["SOO", "OPO", "PLO", "PLP", "OOO", "PEO"] {
            assert_eq!(family(letters), Family::Own, "{letters}");
        }
    }

    #[test]
    fn only_sos_and_its_like_are_disturbed() {
        let outer = chains(&[("POP", 1.0), ("SOS", 1.0)]);
        assert!(Family::SatOleicSat.disorder(outer).lowering_k > 5.0);
        assert_eq!(Family::LongTrisaturated.disorder(outer), Disorder::default());
    }
}
