//! Which species share a crystal.

use super::{Chain, Triglyceride, species::Kind};

/// A crystal family: its members form one solid solution; nothing crosses families.
///
/// Evidence: saturated–oleoyl–saturated triglycerides interact strongly and template one another's forms (Ghazani &
/// Marangoni 2021; Wille & Lutton 1966), trisaturated ones of like length mix and of unlike length do not (Knoester
/// et al. 1972; Wesdorp's degree of isomorphism), cis-unsaturated chains do not share a beta crystal with saturated
/// ones (Lu et al. 2019), acids, alcohols, alkanes, wax esters and triglycerides keep apart (J. Jpn. Oil Chem. Soc. 28:480,
/// 1979; Serrato-Palacios et al. 2015; Tavernier et al. 2017), and each of alcohols, alkanes and long wax esters mixes
/// with its like (Dirand et al. 2002; Tavernier et al. 2017).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Family {
    /// A pure crystal, all its own.
    Own,
    /// Two outer long saturated chains around one oleic: SOS, POS, POP, SOA ..
    SatOleicSat,
    /// Two long saturated chains beside an outer oleic: SSO, PSO, PPO.
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
    /// Fatty alcohols.
    Alcohols,
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
    Family::Alcohols,
    Family::Alkanes,
    Family::WaxEsters,
    Family::PartialGlycerides,
];

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
            Family::Alcohols => "alcohols",
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
        if long(outer) && long(other) && middle == Chain::O {
            return Family::SatOleicSat;
        }
        if long(middle) && (long(outer) && other == Chain::O || long(other) && outer == Chain::O) {
            return Family::SatSatOleic;
        }
        Family::Own
    }

    /// The family that a species other than a triglyceride crystallises in.
    pub fn of_kind(kind: Kind) -> Family {
        match kind {
            Kind::Alcohol => Family::Alcohols,
            Kind::Alkane => Family::Alkanes,
            Kind::WaxEster => Family::WaxEsters,
            Kind::Glyceride => Family::PartialGlycerides,
            Kind::Triglyceride | Kind::Acid | Kind::Liquid | Kind::Powder => Family::Own,
        }
    }
}
