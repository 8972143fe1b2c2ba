//! What it is packed in, and whether that holds it.

use serde::{Deserialize, Serialize};

use super::{Firmness, Solids, regime::degrees};

/// What it is packed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Pack {
    /// A plastic jar with a screw lid.
    Jar,
    /// A glass jar with a screw lid.
    GlassJar,
    /// A metal tin with a slip lid.
    Tin,
    /// A plastic stick or tube.
    Tube,
    /// A paperboard tube.
    PaperTube,
    /// A bar in a paper wrap or a carton.
    Wrap,
}

/// Whether a pack holds its butter.
#[derive(Clone, Debug, Serialize)]
pub struct PackVerdict {
    /// Which.
    pub pack: Pack,
    /// Whether it holds it at the hottest storage.
    pub holds: bool,
    /// In a sentence.
    pub words: String,
}

impl Pack {
    /// Whether it lets a liquid through: paper and board soak and open.
    pub fn leaks(self) -> bool {
        matches!(self, Pack::PaperTube | Pack::Wrap)
    }

    /// Whether it holds a butter with these solids at the hottest storage, °C. Paper must never see it pour, not even at
    /// the softest that the published figures allow; the rest may.
    pub fn holds(self, hottest: &Solids, hottest_c: f64) -> PackVerdict {
        let (softest, _) = hottest.structure_band_percent();
        let pours = Firmness::of(hottest.structure_percent()) == Firmness::Pourable;
        let may_pour = Firmness::of(softest) == Firmness::Pourable;
        let weeps = hottest.weeping_oil_percent() > WEEPS_PERCENT;
        let hot = degrees(hottest_c);
        let (holds, words) = match (self, pours, may_pour, weeps) {
            (Pack::PaperTube | Pack::Wrap, true, ..) => {
                (false, format!("At {hot} °C it pours: paper and board would soak through and leak."))
            }
            (Pack::PaperTube | Pack::Wrap, _, true, _) => (
                false,
                format!("At {hot} °C it may pour, as far as can be told: too risky for paper and board."),
            ),
            (Pack::PaperTube | Pack::Wrap, _, _, true) => {
                (false, format!("At {hot} °C oil weeps out of it and will stain paper and board."))
            }
            (Pack::Tin, true, ..) => (
                true,
                format!(
                    "At {hot} °C it pours: a tin with a slip lid keeps it in only while it stands upright."
                ),
            ),
            (_, true, ..) => (true, format!("At {hot} °C it pours, but a closed pack keeps it in.")),
            _ => (true, format!("It does not pour at {hot} °C, so the pack holds it.")),
        };
        PackVerdict { pack: self, holds, words }
    }
}

/// Free oil from which paper stains, percent: ours.
const WEEPS_PERCENT: f64 = 1.0;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paper_never_sees_it_pour() {
        let fat = |triglyceride| Solids { triglyceride, ..Solids::default() };
        for pack in [Pack::PaperTube, Pack::Wrap] {
            assert!(!pack.holds(&fat(2.0), 31.0).holds);
            assert!(!pack.holds(&fat(4.5), 31.0).holds);
            assert!(!pack.holds(&fat(8.0), 31.0).holds);
            assert!(pack.holds(&fat(40.0), 31.0).holds);
            assert!(pack.leaks());
        }
        for pack in [Pack::Jar, Pack::GlassJar, Pack::Tin, Pack::Tube] {
            assert!(pack.holds(&fat(2.0), 31.0).holds);
        }
    }
}
