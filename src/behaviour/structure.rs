//! One figure for what the solids do: structure, percent.

use crate::equilibrium::{Equilibrium, SolidsByKind};

/// Solids by what they are, percent by mass of the whole; or a figure for each.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Solids {
    /// Triglyceride crystals.
    pub triglyceride: f64,
    /// Free fatty acid crystals.
    pub acid: f64,
    /// Fatty alcohol crystals.
    pub alcohol: f64,
    /// Crystals of mono- and diglycerides and their like.
    pub glyceride: f64,
    /// Wax crystals of long esters: sunflower and rice bran wax, hydrogenated jojoba oil.
    pub ester: f64,
    /// Wax crystals of hydrocarbons: paraffin, ozokerite, petrolatum.
    pub alkane: f64,
    /// Wax crystals of short esters: cetyl palmitate, lanolin.
    pub short_ester: f64,
    /// Crystals of beeswax, but for its free acids and alcohols.
    pub beeswax: f64,
    /// Crystals of candelilla wax, but for its free acids and alcohols.
    pub candelilla: f64,
    /// Crystals of carnauba wax, but for its free acids and alcohols.
    pub carnauba: f64,
    /// Inert powder.
    pub powder: f64,
}

/// How many percent of triglyceride crystals a solid is worth: x percent of it are worth `s·ln(1 + p·x/s)`.
/// The first percent is worth p and each further one less, so that twice the wax is never more than twice as
/// firm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Power {
    /// p: what the first percent is worth.
    pub usual: f64,
    /// The same, by the least that the sources allow.
    pub low: f64,
    /// The same, by the most.
    pub high: f64,
    /// s, percent: where the worth is so much, another percent is worth p/e; infinite where each is worth p.
    pub levels_off: f64,
}

impl Power {
    /// A power that every percent has alike.
    const fn steady(low: f64, usual: f64, high: f64) -> Power {
        Power { usual, low, high, levels_off: f64::INFINITY }
    }

    /// What so many percent are worth, percent of triglyceride crystals.
    pub fn worth(&self, percent: f64) -> f64 {
        if self.levels_off.is_finite() {
            self.levels_off * libm::log1p(self.usual * percent / self.levels_off)
        } else {
            self.usual * percent
        }
    }

    /// What another percent is worth where there are so many.
    fn slope(&self, percent: f64) -> f64 {
        self.usual / (1.0 + self.usual * percent / self.levels_off)
    }

    /// What each of so many percent is worth in the mean: of fewer, each is worth no less.
    fn mean(&self, percent: f64) -> f64 {
        if percent > 0.0 { self.worth(percent) / percent } else { self.usual }
    }
}

/// Triglyceride crystals are the measure. Fats of the same solid content differ by a factor 3 to 5 in
/// hardness (Domingues et al., about 2015, Food Research International, read in part), and hardness goes as
/// solids to a power of about 1.6 to 8 (Narine & Marangoni 1999, from memory): at a power of 3, a factor 4
/// in hardness is ±25 % in solids.
const TRIGLYCERIDE: Power = Power::steady(0.8, 1.0, 1.25);

/// Behenic acid alone sets oils weakly, and with behenyl alcohol 3 to 4 times as hard (Callau et al. 2021);
/// no figure against triglyceride crystals was found: ours.
const ACID: Power = Power::steady(0.8, 1.2, 2.0);

/// See [`ACID`].
const ALCOHOL: Power = Power::steady(0.8, 1.3, 3.0);

/// Monoglycerides set oils at a few percent (oleogel literature, from memory): ours.
const GLYCERIDE: Power = Power::steady(0.8, 1.3, 3.0);

/// Wax: each with its own power where something is published of how firm it makes an oil, from the least dose
/// that sets one up to half. The figures, with their sources, are in `tests/behaviour/data/wax.csv`, and
/// `tests/behaviour/wax.rs` fits p and s to them anew. Waxes do not add up (mixed, they mostly do more than
/// each alone), and the cooling rate matters as much as the dose (Hwang et al. 2012). This is the power of
/// sunflower and rice bran wax. The least is from the largest dose that is published as needed to set an oil;
/// the most from 1 % of it being as firm as 18 % hardened soybean oil (Hwang).
const ESTER: Power = Power { usual: 15.0, low: 6.0, high: 27.0, levels_off: 16.0 };

/// See [`ESTER`]; the least and the most are from 3 and 1 % that set an oil.
const BEESWAX: Power = Power { usual: 6.8, low: 3.3, high: 11.5, levels_off: 20.5 };

/// See [`ESTER`]; the least and the most are twice either way, ours.
const CANDELILLA: Power = Power { usual: 8.0, low: 4.0, high: 16.0, levels_off: 55.0 };

/// See [`ESTER`]: nothing published lets it level off. The least is from 5 % of it setting an oil, the most
/// from its being as firm as twice as much beeswax. What decides is the shape of its crystals, and lots
/// differ more than other waxes' (Doan et al. 2015).
const CARNAUBA: Power = Power::steady(1.0, 2.7, 4.5);

/// Petrolatum, of which an eighth is crystals, spreads at a touch or scoops, and three parts of
/// paraffin stiffen seven of it to an ointment (British Pharmacopoeia 1898): ours, for no series was
/// found. In sticks paraffin is harder than candelilla and rice bran wax (Endo & Shibata 2019, and
/// of candelilla 2022, abstracts).
const ALKANE: Power = Power { usual: 3.0, low: 1.5, high: 6.0, levels_off: 18.0 };

/// No wax of short esters (cetyl palmitate, lanolin: 34 carbons and fewer) is published to set
/// an oil at a few percent: ours.
const SHORT_ESTER: Power = Power::steady(0.6, 1.2, 2.4);

/// A powder thickens but does not knit. By Einstein's law (2.5 times its share by volume) ten percent of
/// starch makes what ten percent of crystals hold a sixth more, which is 0.16 for each percent. Alone it
/// holds nothing until it is a paste of some two fifths. Ours. Fumed silica gels an oil from about 2 % at any
/// temperature (Handbook of Pharmaceutical Excipients), and 4 % are said to have taken a shea butter's
/// melting from 34 to 36 °C (from memory, no source found): too little to fit a power to, so it counts as
/// powder, and a remark says that it does more.
const POWDER: Power = Power::steady(0.0, 0.1, 0.3);

impl From<&Equilibrium> for Solids {
    fn from(state: &Equilibrium) -> Solids {
        Solids::of(&state.by_kind, state.powder_percent)
    }
}

impl Solids {
    /// The solids of a state, and the powder in it, percent by mass.
    pub fn of(by_kind: &SolidsByKind, powder: f64) -> Solids {
        Solids {
            triglyceride: by_kind.triglyceride,
            acid: by_kind.acid,
            alcohol: by_kind.alcohol,
            glyceride: by_kind.glyceride,
            ester: by_kind.ester,
            alkane: by_kind.alkane,
            short_ester: by_kind.mixed_ester,
            beeswax: by_kind.beeswax_ester + by_kind.beeswax_alkane,
            candelilla: by_kind.candelilla_ester + by_kind.candelilla_alkane,
            carnauba: by_kind.carnauba_ester,
            powder,
        }
    }

    /// A figure for each kind of crystal as one for each kind of molecule.
    pub fn by_kind(&self) -> SolidsByKind {
        SolidsByKind {
            triglyceride: self.triglyceride,
            acid: self.acid,
            alcohol: self.alcohol,
            glyceride: self.glyceride,
            ester: self.ester,
            alkane: self.alkane,
            mixed_ester: self.short_ester,
            beeswax_ester: self.beeswax,
            beeswax_alkane: self.beeswax,
            candelilla_ester: self.candelilla,
            candelilla_alkane: self.candelilla,
            carnauba_ester: self.carnauba,
        }
    }

    /// A figure for each, from how much there is of it and its power.
    fn each(&self, figure: impl Fn(f64, &Power) -> f64) -> Solids {
        Solids {
            triglyceride: figure(self.triglyceride, &TRIGLYCERIDE),
            acid: figure(self.acid, &ACID),
            alcohol: figure(self.alcohol, &ALCOHOL),
            glyceride: figure(self.glyceride, &GLYCERIDE),
            ester: figure(self.ester, &ESTER),
            alkane: figure(self.alkane, &ALKANE),
            short_ester: figure(self.short_ester, &SHORT_ESTER),
            beeswax: figure(self.beeswax, &BEESWAX),
            candelilla: figure(self.candelilla, &CANDELILLA),
            carnauba: figure(self.carnauba, &CARNAUBA),
            powder: figure(self.powder, &POWDER),
        }
    }

    /// 1 of each.
    pub const ONE_EACH: Solids = Solids {
        ester: 1.0,
        alkane: 1.0,
        short_ester: 1.0,
        beeswax: 1.0,
        candelilla: 1.0,
        carnauba: 1.0,
        powder: 1.0,
        ..Solids::CRYSTALS
    };

    /// Each times the other's.
    #[must_use]
    pub fn times(&self, other: &Solids) -> Solids {
        Solids {
            triglyceride: self.triglyceride * other.triglyceride,
            acid: self.acid * other.acid,
            alcohol: self.alcohol * other.alcohol,
            glyceride: self.glyceride * other.glyceride,
            ester: self.ester * other.ester,
            alkane: self.alkane * other.alkane,
            short_ester: self.short_ester * other.short_ester,
            beeswax: self.beeswax * other.beeswax,
            candelilla: self.candelilla * other.candelilla,
            carnauba: self.carnauba * other.carnauba,
            powder: self.powder * other.powder,
        }
    }

    fn wax(&self) -> f64 {
        self.ester + self.alkane + self.short_ester + self.beeswax + self.candelilla + self.carnauba
    }

    /// By what carries a butter: fat, acids, alcohols, wax, mono- and diglycerides, powder.
    pub fn carriers(&self) -> [f64; 6] {
        [self.triglyceride, self.acid, self.alcohol, self.wax(), self.glyceride, self.powder]
    }

    fn sum(&self) -> f64 {
        self.carriers().iter().sum()
    }

    /// All solids but powder, percent by mass: the solid fat content.
    pub fn fat_percent(&self) -> f64 {
        Solids { powder: 0.0, ..*self }.sum()
    }

    /// Crystals but wax, percent by mass: what coats bubbles. Waxes make foams in a laboratory (Wettlaufer &
    /// Flöter 2022, abstract: most of their crystals lie in the oil, not around the air); in a bowl a little
    /// wax stiffens a butter and holds no air (common practice, no source).
    pub fn crystals_percent(&self) -> f64 {
        self.triglyceride + self.acid + self.alcohol + self.glyceride
    }

    /// What is felt of it on skin, percent: fat crystals one for one, wax `WAX_ON_SKIN` for one whatever its
    /// dose, since what skin leaves is rubbed thin. Powder is meant to stay.
    pub fn on_skin_percent(&self) -> f64 {
        self.crystals_percent() + WAX_ON_SKIN * self.wax()
    }

    /// Whether more than half of what is felt of it on skin is wax.
    pub fn is_mostly_wax(&self) -> bool {
        WAX_ON_SKIN * self.wax() > self.crystals_percent()
    }

    /// What a percent of each adds to [`Solids::fat_percent`].
    pub(crate) const FAT: Solids = Solids {
        ester: 1.0,
        alkane: 1.0,
        short_ester: 1.0,
        beeswax: 1.0,
        candelilla: 1.0,
        carnauba: 1.0,
        ..Solids::CRYSTALS
    };

    /// What a percent of each adds to [`Solids::on_skin_percent`].
    pub(crate) const ON_SKIN: Solids = Solids {
        ester: WAX_ON_SKIN,
        alkane: WAX_ON_SKIN,
        short_ester: WAX_ON_SKIN,
        beeswax: WAX_ON_SKIN,
        candelilla: WAX_ON_SKIN,
        carnauba: WAX_ON_SKIN,
        ..Solids::CRYSTALS
    };

    /// What a percent of each adds to [`Solids::crystals_percent`].
    pub(crate) const CRYSTALS: Solids = Solids {
        triglyceride: 1.0,
        acid: 1.0,
        alcohol: 1.0,
        glyceride: 1.0,
        ester: 0.0,
        alkane: 0.0,
        short_ester: 0.0,
        beeswax: 0.0,
        candelilla: 0.0,
        carnauba: 0.0,
        powder: 0.0,
    };

    /// What each adds to the structure, percent.
    pub fn worth(&self) -> Solids {
        self.each(|percent, power| power.worth(percent))
    }

    /// Structure, percent, at most 100.
    pub fn structure_percent(&self) -> f64 {
        self.worth().sum().min(100.0)
    }

    /// Structure, percent, at most 100, where a crystal of each kind is worth so many times as much as usual.
    pub fn structure_percent_at(&self, worth: &Solids) -> f64 {
        self.worth().times(worth).sum().min(100.0)
    }

    /// The same of what melts: powder thickens, but does not keep a melt from flowing.
    pub fn crystal_structure_percent(&self) -> f64 {
        Solids { powder: 0.0, ..*self }.structure_percent()
    }

    /// The least and the most structure, percent, that the sources allow.
    pub fn structure_band_percent(&self) -> (f64, f64) {
        let sum = |of: fn(&Power) -> f64| {
            self.each(|percent, power| power.worth(percent) * of(power) / power.usual).sum().min(100.0)
        };
        (sum(|power| power.low), sum(|power| power.high))
    }

    /// The tangent of [`Solids::structure_percent_at`] at these solids: what a percent of each adds, and its
    /// value where there are none. It is nowhere below that function, as long as that is below 100.
    pub fn tangent(&self, worth: &Solids) -> (Solids, f64) {
        let slopes = self.each(|percent, power| power.slope(percent)).times(worth);
        let below = self.each(|percent, power| power.worth(percent) - power.slope(percent) * percent);
        (slopes, below.times(worth).sum())
    }

    /// The least that a percent of each adds to [`Solids::structure_percent_at`], as long as there is no more
    /// of any than here, and that function is below 100.
    pub fn secant(&self, worth: &Solids) -> Solids {
        self.each(|percent, power| power.mean(percent)).times(worth)
    }

    /// Oil that the crystals cannot hold, percent by mass of the whole. Margarine weeps below about 10 %
    /// solids (margarine practice, Krawczyk 1996 and others, from memory), so each percent of structure is
    /// taken to hold up to nine of liquid.
    pub fn weeping_oil_percent(&self) -> f64 {
        let liquid = (100.0 - self.fat_percent() - self.powder).max(0.0);
        (liquid - HOLDS_LIQUID * self.structure_percent()).max(0.0)
    }
}

/// How many percent of fat crystals one percent of wax is felt as on skin: so that a twentieth of beeswax
/// does not melt there, and three percent do (common practice, no source).
const WAX_ON_SKIN: f64 = 5.0;

/// How much liquid one part of structure holds: 90 to 10.
const HOLDS_LIQUID: f64 = 9.0;

/// Structure, percent, below which oil weeps, where all else is liquid.
pub(crate) const WEEPS_BELOW_PERCENT: f64 = 100.0 / (1.0 + HOLDS_LIQUID);

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    /// So much of each, by turns.
    fn some(percent: f64) -> Solids {
        let mut at = 0.0;
        let mut take = || {
            at += 1.0;
            percent * (1.0 + at % 3.0)
        };
        Solids {
            triglyceride: take(),
            acid: take(),
            alcohol: take(),
            glyceride: take(),
            ester: take(),
            alkane: take(),
            short_ester: take(),
            beeswax: take(),
            candelilla: take(),
            carnauba: take(),
            powder: take(),
        }
    }

    #[test]
    fn every_power_has_its_usual_figure_within_its_band() {
        some(1.0).each(|_, power| {
            assert!(power.low <= power.usual && power.usual <= power.high && power.levels_off > 0.0);
            0.0
        });
    }

    /// The tangent at any solids is never below structure, the secant up to any
    /// solids never above that of fewer.
    #[test]
    fn tangents_lie_above_and_secants_below() {
        let sum = |weights: &Solids, solids: &Solids| {
            weights.triglyceride * solids.triglyceride
                + weights.acid * solids.acid
                + weights.alcohol * solids.alcohol
                + weights.glyceride * solids.glyceride
                + weights.ester * solids.ester
                + weights.alkane * solids.alkane
                + weights.short_ester * solids.short_ester
                + weights.beeswax * solids.beeswax
                + weights.candelilla * solids.candelilla
                + weights.carnauba * solids.carnauba
                + weights.powder * solids.powder
        };
        let half = Solids { triglyceride: 0.9, ester: 0.5, beeswax: 0.7, powder: 1.2, ..Solids::ONE_EACH };
        for worth in [Solids::ONE_EACH, half] {
            let structure = |percent: f64| some(percent).structure_percent_at(&worth);
            for at in [0.0, 0.01, 0.1, 0.3, 0.45] {
                let (slopes, none) = some(at).tangent(&worth);
                let secant = some(at).secant(&worth);
                assert_abs_diff_eq!(sum(&slopes, &some(at)) + none, structure(at), epsilon = 1e-9);
                for other in [0.0, 0.005, 0.1, 0.2, 0.45] {
                    assert!(sum(&slopes, &some(other)) + none >= structure(other) - 1e-9, "{at} {other}");
                    if other <= at {
                        assert!(sum(&secant, &some(other)) <= structure(other) + 1e-9, "{at} {other}");
                    }
                }
                assert_abs_diff_eq!(sum(&secant, &some(at)), structure(at), epsilon = 1e-9);
            }
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
