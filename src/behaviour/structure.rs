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
    /// Wax crystals of long esters.
    pub ester: f64,
    /// Wax crystals of hydrocarbons.
    pub alkane: f64,
    /// Wax crystals of esters that knit an oil less: short ones, and long ones among hydroxy esters and aromatic diesters (carnauba).
    pub mixed_ester: f64,
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

/// Wax is told apart by what its crystals are, from the least dose at which it sets an oil (abstracts, cited in
/// tests/published/data; `tests/behaviour/wax.rs` recomputes them): there its crystals are worth the 4 % at which
/// pourable ends. Doses less what is dissolved, of 0.5–1 % sunflower and rice bran wax and 1–3 % beeswax, give 4.3–8.8 and 2.4–11 for one;
/// 1 to 6 % sunflower wax as firm as 18 to 30 % hardened soybean oil (Hwang et al. 2012) gives 19 at 1 % and 5 at 6 %. Waxes do not add
/// up, and the cooling rate matters as much as the dose (Hwang).
const ESTER: Power = Power { usual: 5.5, low: 2.4, high: 19.0 };

/// Candelilla sets oil at 2 % (Toro-Vazquez and others): 3.3 to 3.7 for one, by one published dose; twice either way is
/// ours.
const ALKANE: Power = Power { usual: 3.5, low: 1.8, high: 7.0 };

/// Carnauba sets oil at 4 %, though nearly all of it is crystals: 1.2 for one; twice either way is ours. Short esters (cetyl
/// palmitate, lanolin: 34 carbons and less) are of no wax that is published to set oil at a few percent, and count the same: ours.
const MIXED_ESTER: Power = Power { usual: 1.2, low: 0.6, high: 2.4 };

/// Monoglycerides set oils at a few percent (oleogel literature, from memory): ours.
const GLYCERIDE: Power = Power { usual: 1.3, low: 0.8, high: 3.0 };

/// A powder thickens but does not knit: by Einstein's law (2.5 times its share by volume) ten percent of starch makes what a tenth
/// of crystals hold a sixth more, 0.16 for one; alone it holds nothing until it is a paste of some two fifths. Ours.
const POWDER: Power = Power { usual: 0.1, low: 0.0, high: 0.3 };

impl From<&Equilibrium> for Solids {
    fn from(state: &Equilibrium) -> Solids {
        Solids {
            triglyceride: state.by_kind.triglyceride,
            acid: state.by_kind.acid,
            alcohol: state.by_kind.alcohol,
            ester: state.by_kind.ester,
            alkane: state.by_kind.alkane,
            mixed_ester: state.by_kind.mixed_ester,
            glyceride: state.by_kind.glyceride,
            powder: state.powder_percent,
        }
    }
}

impl Solids {
    fn parts(&self) -> [(f64, &'static Power); 8] {
        [
            (self.triglyceride, &TRIGLYCERIDE),
            (self.acid, &ACID),
            (self.alcohol, &ALCOHOL),
            (self.ester, &ESTER),
            (self.alkane, &ALKANE),
            (self.mixed_ester, &MIXED_ESTER),
            (self.glyceride, &GLYCERIDE),
            (self.powder, &POWDER),
        ]
    }

    /// All solids but powder, percent by mass: the solid fat content.
    pub fn fat_percent(&self) -> f64 {
        self.masses().iter().sum()
    }

    /// Each by mass, percent, in the order of the fields; powder counts for nothing.
    pub fn masses(&self) -> [f64; 8] {
        Solids { powder: 0.0, ..*self }.parts().map(|(solid, _)| solid)
    }

    /// What each adds to the structure, percent, in the order of the fields.
    pub fn worth(&self) -> [f64; 8] {
        self.parts().map(|(solid, power)| solid * power.usual)
    }

    /// Structure, percent, at most 100.
    pub fn structure_percent(&self) -> f64 {
        self.worth().iter().sum::<f64>().min(100.0)
    }

    /// The same of what melts: powder thickens, but does not keep a melt from flowing.
    pub fn crystal_structure_percent(&self) -> f64 {
        Solids { powder: 0.0, ..*self }.structure_percent()
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
        // 1 to 6 % sunflower wax against 18 to 30 % hardened soybean oil (Hwang et al. 2012).
        for (wax, fat) in [(1.0, 18.0), (6.0, 30.0)] {
            let (low, high) = Solids { ester: wax, ..Solids::default() }.structure_band_percent();
            assert!(low <= fat && fat <= high, "{wax}: {low} {high}");
        }
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
