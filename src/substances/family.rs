//! Which species share a crystal.

use serde::Deserialize;

use super::{Chain, SpeciesKind, Triglyceride};

/// A crystal family: its members form one solid solution, and nothing crosses families.
///
/// The evidence, family by family, is in the chapter of this module ("Families").
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
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
    #[serde(rename = "lauric-30")]
    Lauric30,
    /// With 34 to 37.
    #[serde(rename = "lauric-36")]
    Lauric36,
    /// With 38 to 41.
    #[serde(rename = "lauric-40")]
    Lauric40,
    /// With 42 and more, one of the chains short, and trimyristin's like.
    #[serde(rename = "lauric-44")]
    Lauric44,
    /// Two saturated chains, one of them of 14 carbons or fewer, and one unsaturated: LaLaO, LaMO, PLaO ..
    LauricUnsaturated,
    /// Hydrocarbon waxes.
    Alkanes,
    /// Long saturated wax esters.
    WaxEsters,
    /// Saturated mono- and diglycerides.
    PartialGlycerides,
    /// Long straight chains, at least one of them elaidic, the others saturated: SSE, SES, PSE, SEE, EEE ..
    Elaidic,
}

impl Family {
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
        if triglyceride.chains().iter().all(|chain| long(*chain) || *chain == Chain::E) {
            return Family::Elaidic;
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

    /// The family that a species other than a triglyceride crystallises in.
    pub fn of_kind(kind: SpeciesKind) -> Family {
        match kind {
            SpeciesKind::Alkane | SpeciesKind::BeeswaxAlkane | SpeciesKind::CandelillaAlkane => {
                Family::Alkanes
            }
            SpeciesKind::WaxEster | SpeciesKind::BeeswaxEster | SpeciesKind::CandelillaEster => {
                Family::WaxEsters
            }
            SpeciesKind::MixedEster | SpeciesKind::CarnaubaEster => Family::WaxEsters,
            SpeciesKind::Glyceride => Family::PartialGlycerides,
            SpeciesKind::Triglyceride
            | SpeciesKind::Acid
            | SpeciesKind::Alcohol
            | SpeciesKind::Liquid
            | SpeciesKind::Powder => Family::Own,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

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
}
