//! One figure for what the solids do: structure, percent.

use crate::equilibrium::Equilibrium;

/// Solids by what they are, percent by mass of the whole.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Solids {
    /// Triglyceride crystals.
    pub triglyceride: f64,
    /// Free fatty acid crystals.
    pub acid: f64,
    /// Fatty alcohol crystals.
    pub alcohol: f64,
    /// Wax crystals: long esters and hydrocarbons.
    pub wax: f64,
    /// Crystals of mono- and diglycerides and their like.
    pub glyceride: f64,
    /// Inert powder.
    pub powder: f64,
}

/// How many percent of triglyceride crystals one percent of a solid is worth: usual, and the least and most that the
/// sources allow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Power {
    /// The figure used.
    pub usual: f64,
    /// The least.
    pub low: f64,
    /// The most.
    pub high: f64,
}

/// Triglyceride crystals are the measure. Fats of the same solid content differ by a factor 3 to 5 in hardness
/// (Domingues et al., about 2015, Food Research International, read in part), and hardness goes as solids to a power of about 1.6 to 8 (Narine &
/// Marangoni 1999, from memory): at a power of 3, a factor 4 in hardness is ±25 % in solids.
const TRIGLYCERIDE: Power = Power { usual: 1.0, low: 0.8, high: 1.25 };

/// Behenic acid alone sets oils weakly, and with behenyl alcohol 3 to 4 times as hard (Callau et al. 2021); no
/// figure against triglyceride crystals was found: ours.
const ACID: Power = Power { usual: 1.2, low: 0.8, high: 2.0 };

/// See [`ACID`].
const ALCOHOL: Power = Power { usual: 1.3, low: 0.8, high: 3.0 };

/// 1 to 6 % sunflower wax is as firm as 18 to 30 % hardened soybean oil (Hwang et al. 2012): 18 for one at the low end, 5 at
/// the high. Other waxes are weaker: oil sets at 0.5–1 % sunflower or rice bran wax, 1–3 % beeswax, 2 % candelilla,
/// 4 % carnauba (Hwang, Blake, Dassanayake, Doan, Patel: abstracts, cited in tests/published/data), against about 8 % of a
/// fat: 8–16, 3–8, 4 and 2 for one. The usual figure is the middle of the common waxes; waxes do not add up, and the
/// cooling rate matters as much as the dose (Hwang).
const WAX: Power = Power { usual: 4.0, low: 2.0, high: 10.0 };

/// Monoglycerides set oils at a few percent (oleogel literature, from memory): ours.
const GLYCERIDE: Power = Power { usual: 1.3, low: 0.8, high: 3.0 };

/// A powder thickens but does not knit: ours, no source.
const POWDER: Power = Power { usual: 0.3, low: 0.0, high: 0.6 };

impl From<&Equilibrium> for Solids {
    fn from(state: &Equilibrium) -> Solids {
        Solids {
            triglyceride: state.by_kind.triglyceride,
            acid: state.by_kind.acid,
            alcohol: state.by_kind.alcohol,
            wax: state.by_kind.wax,
            glyceride: state.by_kind.glyceride,
            powder: state.powder_percent,
        }
    }
}

impl Solids {
    fn parts(&self) -> [(f64, Power); 6] {
        [
            (self.triglyceride, TRIGLYCERIDE),
            (self.acid, ACID),
            (self.alcohol, ALCOHOL),
            (self.wax, WAX),
            (self.glyceride, GLYCERIDE),
            (self.powder, POWDER),
        ]
    }

    /// All solids but powder, percent by mass: the solid fat content.
    pub fn fat_percent(&self) -> f64 {
        self.triglyceride + self.acid + self.alcohol + self.wax + self.glyceride
    }

    /// Structure, percent, at most 100.
    pub fn structure_percent(&self) -> f64 {
        self.parts().iter().map(|(solid, power)| solid * power.usual).sum::<f64>().min(100.0)
    }

    /// The least and the most structure, percent, that the sources allow.
    pub fn structure_band_percent(&self) -> (f64, f64) {
        let sum = |of: fn(&Power) -> f64| {
            self.parts().iter().map(|(solid, power)| solid * of(power)).sum::<f64>().min(100.0)
        };
        (sum(|power| power.low), sum(|power| power.high))
    }

    /// Oil that the crystals cannot hold, percent by mass of the whole. Margarine weeps below about 10 % solids
    /// (margarine practice, Krawczyk 1996 and others, from memory), so each percent of structure is taken to hold up to nine of liquid.
    pub fn weeping_oil_percent(&self) -> f64 {
        let liquid = (100.0 - self.fat_percent() - self.powder).max(0.0);
        (liquid - HOLDS_LIQUID * self.structure_percent()).max(0.0)
    }
}

/// How much liquid one part of structure holds: 90 to 10.
const HOLDS_LIQUID: f64 = 9.0;

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn hwang_lies_within_the_band_of_wax() {
        // 1 to 6 % sunflower wax against 18 to 30 % hardened soybean oil (Hwang et al. 2012). The band reaches 6 %; the
        // strongest figure, at 1 %, is beyond it, because weaker waxes share the class.
        let six = Solids { wax: 6.0, ..Solids::default() };
        let (low, high) = six.structure_band_percent();
        assert!(low <= 30.0 && 30.0 <= high);
        assert!(six.structure_percent() >= 18.0 && six.structure_percent() <= 30.0);
    }

    #[test]
    fn every_power_has_its_usual_figure_within_its_band() {
        for (_, power) in Solids::default().parts() {
            assert!(power.low <= power.usual && power.usual <= power.high);
        }
    }

    #[test]
    fn oil_weeps_below_ten_percent_only() {
        let fat = |triglyceride| Solids { triglyceride, ..Solids::default() };
        assert_abs_diff_eq!(fat(10.0).weeping_oil_percent(), 0.0, epsilon = 1e-9);
        assert_abs_diff_eq!(fat(30.0).weeping_oil_percent(), 0.0);
        assert_abs_diff_eq!(fat(5.0).weeping_oil_percent(), 50.0, epsilon = 1e-9);
        assert_abs_diff_eq!(fat(0.0).weeping_oil_percent(), 100.0);
    }
}
