//! Whether a pack holds its butter.

use serde::Serialize;

use crate::behaviour::{Firmness, Pack, Solids};

/// Whether a pack holds its butter at the hottest storage, and why.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct PackVerdict {
    pub kind: PackKind,
    pub pack: Pack,
    pub holds: bool,
    pub hottest_c: f64,
}

/// What a pack does at the hottest storage.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum PackKind {
    /// It pours, and soaks through paper and board.
    SoaksThrough,
    /// It may pour, as far as can be told, which is too much for paper and board.
    MaySoakThrough,
    /// Oil weeps out and stains paper and board.
    Stains,
    /// It pours, and a slip lid keeps it in only upright.
    HoldsUpright,
    /// It pours, but a closed pack keeps it in.
    HoldsLiquid,
    /// It does not pour.
    Holds,
}

/// Free oil from which paper stains, percent: ours.
const STAINS_PERCENT: f64 = 1.0;

impl PackVerdict {
    /// Judges a pack of a butter with these solids at the hottest storage, °C. Paper must never see it pour,
    /// not even at the softest that the published figures allow; the rest may.
    pub fn of(pack: Pack, hottest: &Solids, hottest_c: f64) -> PackVerdict {
        let (softest, _) = hottest.structure_band_percent();
        let pours = Firmness::of(hottest.structure_percent()) == Firmness::Pourable;
        let may_pour = Firmness::of(softest) == Firmness::Pourable;
        let kind = if pack.leaks() {
            if pours {
                PackKind::SoaksThrough
            } else if may_pour {
                PackKind::MaySoakThrough
            } else if hottest.weeping_oil_percent() > STAINS_PERCENT {
                PackKind::Stains
            } else {
                PackKind::Holds
            }
        } else if !pours {
            PackKind::Holds
        } else if pack == Pack::Tin {
            PackKind::HoldsUpright
        } else {
            PackKind::HoldsLiquid
        };
        let holds = matches!(kind, PackKind::HoldsUpright | PackKind::HoldsLiquid | PackKind::Holds);
        PackVerdict { kind, pack, holds, hottest_c }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paper_never_sees_it_pour() {
        let kind = |pack, triglyceride| {
            let judged = PackVerdict::of(pack, &Solids { triglyceride, ..Solids::default() }, 31.0);
            (judged.kind, judged.holds)
        };
        for pack in [Pack::PaperTube, Pack::Wrap] {
            assert_eq!(kind(pack, 2.0), (PackKind::SoaksThrough, false));
            assert_eq!(kind(pack, 4.5), (PackKind::MaySoakThrough, false));
            assert_eq!(kind(pack, 8.0), (PackKind::Stains, false));
            assert_eq!(kind(pack, 40.0), (PackKind::Holds, true));
        }
        for pack in [Pack::Jar, Pack::GlassJar, Pack::Tube] {
            assert_eq!(kind(pack, 2.0), (PackKind::HoldsLiquid, true));
        }
        assert_eq!(kind(Pack::Tin, 2.0), (PackKind::HoldsUpright, true));
        assert_eq!(kind(Pack::Tin, 8.0), (PackKind::Holds, true));
    }
}
