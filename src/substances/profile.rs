//! Triglycerides from a fatty-acid profile, for fats whose triglycerides nobody published.
//!
//! The 1,3-random-2-random rule (Vander Wal 1960): the acids at sn-2 and those at sn-1 and sn-3 are
//! each spread at random. Seed fats keep saturated acids off sn-2 (cocoa butter: 3 to 5 % of its sn-2
//! acids are saturated where 60 % of all are), palm pulp less so (11 to 18 % where 50 % are); both from
//! memory of the lipid literature.

use super::{Chain, Rule, Triglyceride};

impl Rule {
    /// The saturated share at sn-2, as a part of the saturated share over all positions.
    fn saturates_at_middle(self) -> f64 {
        match self {
            Rule::Seed => 0.03,
            Rule::Pulp => 0.3,
            Rule::Random => 1.0,
        }
    }
}

/// A fatty-acid profile.
#[derive(Clone, PartialEq, Debug)]
pub struct FattyAcidProfile {
    /// How the acids are spread.
    pub rule: Rule,
    /// Percent by mass of the fatty acids, by chain.
    pub fatty_acids: Vec<(Chain, f64)>,
}

/// Triglycerides rarer than this, percent by mass, are left out and the rest scaled up: they move nothing.
const NEGLIGIBLE_PERCENT: f64 = 0.02;

/// The triglycerides of a profile, percent by mass, summing to 100; empty for an empty profile.
pub fn triglycerides(profile: &FattyAcidProfile) -> Vec<(Triglyceride, f64)> {
    let moles: Vec<(Chain, f64)> = profile
        .fatty_acids
        .iter()
        .filter(|(_, percent)| *percent > 0.0)
        .map(|(chain, percent)| (*chain, percent / chain.acid_molar_mass()))
        .collect();
    let total: f64 = moles.iter().map(|(_, moles)| moles).sum();
    if total <= 0.0 {
        return Vec::new();
    }
    let share: Vec<(Chain, f64)> = moles.iter().map(|(chain, moles)| (*chain, moles / total)).collect();
    let saturated: f64 = share.iter().filter(|(chain, _)| chain.is_saturated()).map(|(_, x)| x).sum();
    let unsaturated = 1.0 - saturated;
    // Where unsaturated acids are too few to fill sn-2, saturated ones must.
    let middle_saturated = (profile.rule.saturates_at_middle() * saturated).max(1.0 - 3.0 * unsaturated);
    let middle: Vec<f64> = share
        .iter()
        .map(|(chain, x)| {
            if chain.is_saturated() {
                x * middle_saturated / saturated
            } else {
                x * (1.0 - middle_saturated) / unsaturated
            }
        })
        .collect();
    let outer: Vec<f64> =
        share.iter().zip(&middle).map(|((_, x), m)| (0.5 * (3.0 * x - m)).max(0.0)).collect();

    let mut found: Vec<(Triglyceride, f64)> = Vec::new();
    for (i, (first, _)) in share.iter().enumerate() {
        for (k, (third, _)) in share.iter().enumerate().skip(i) {
            let ways = if i == k { 1.0 } else { 2.0 };
            for (j, (centre, _)) in share.iter().enumerate() {
                let triglyceride = Triglyceride::new(*first, *centre, *third);
                let mass = ways * outer[i] * outer[k] * middle[j] * triglyceride.molar_mass();
                match found.iter_mut().find(|(known, _)| *known == triglyceride) {
                    Some((_, sum)) => *sum += mass,
                    None => found.push((triglyceride, mass)),
                }
            }
        }
    }
    let all: f64 = found.iter().map(|(_, mass)| mass).sum();
    found.retain(|(_, mass)| 100.0 * mass / all >= NEGLIGIBLE_PERCENT);
    let kept: f64 = found.iter().map(|(_, mass)| mass).sum();
    for (_, mass) in &mut found {
        *mass *= 100.0 / kept;
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    fn percent_of(found: &[(Triglyceride, f64)], letters: &str) -> f64 {
        let wanted = Triglyceride::parse(letters).unwrap();
        found.iter().find(|(triglyceride, _)| *triglyceride == wanted).map_or(0.0, |(_, percent)| *percent)
    }

    #[test]
    fn cocoa_butter_s_acids_give_cocoa_butter_s_triglycerides() {
        // Acids of a typical cocoa butter, from memory; main triglycerides over published analyses: POP
        // 13.6 to 19.6, POS 33.7 to 40.5, SOS 22.7 to 31.2 % (an acetone-fractionation study; Akhter et
        // al. 2016, doi 10.1038/srep32050).
        let acids =
            vec![(Chain::P, 26.0), (Chain::S, 35.5), (Chain::O, 34.5), (Chain::L, 3.0), (Chain::A, 1.0)];
        let found = triglycerides(&FattyAcidProfile { rule: Rule::Seed, fatty_acids: acids });
        assert!((13.6..=19.6).contains(&percent_of(&found, "POP")), "{}", percent_of(&found, "POP"));
        assert!((33.7..=40.5).contains(&percent_of(&found, "POS")), "{}", percent_of(&found, "POS"));
        assert!((22.7..=31.2).contains(&percent_of(&found, "SOS")), "{}", percent_of(&found, "SOS"));
        assert_abs_diff_eq!(found.iter().map(|(_, percent)| percent).sum::<f64>(), 100.0, epsilon = 1e-9);
    }

    #[test]
    fn saturated_alone_and_unsaturated_alone_work() {
        for chain in [Chain::S, Chain::O] {
            let found =
                triglycerides(&FattyAcidProfile { rule: Rule::Seed, fatty_acids: vec![(chain, 100.0)] });
            assert_eq!(found.len(), 1);
            assert_abs_diff_eq!(found[0].1, 100.0, epsilon = 1e-9);
        }
        assert!(triglycerides(&FattyAcidProfile { rule: Rule::Seed, fatty_acids: Vec::new() }).is_empty());
    }
}
