//! What the maker wants, as bands on predicted figures: one reading for the verdict and for the search.

use serde::{Deserialize, Serialize};

use super::{Firmness, Format, Quantity};

/// What should happen on skin. No published limit was found; the figures are an assumption, to be
/// tested: up to 8 % is rubbed in at once; from 20 % on a film stays.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum OnSkin {
    /// Melts away: little solid is left.
    Melts,
    /// Melts slowly and leaves some body.
    Lingers,
    /// Stays as a protective film.
    Stays,
}

impl OnSkin {
    /// What is felt when it is rubbed in, percent of fat crystals, that counts as this.
    pub fn limits(self) -> (f64, f64) {
        match self {
            OnSkin::Melts => (0.0, 8.0),
            OnSkin::Lingers => (5.0, 20.0),
            OnSkin::Stays => (15.0, 100.0),
        }
    }
}

/// One of the temperatures that decide.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Where {
    /// The coldest storage.
    Coldest,
    /// The middle of the storage range.
    Usual,
    /// The hottest storage.
    Hottest,
    /// On skin, rubbed in.
    Skin,
}

/// By how much skin under a rubbing hand is warmer than in the open, K: neutral skin that nothing cools
/// runs at 34.4 (hand), 34.6 (forearm), 35.2 (cheek) and 35.3 °C (finger; Arens & Zhang 2006, table),
/// where 32.5 is taken for what lies open. So shea butter, of which a fifth is solid at 32.5 °C, melts
/// when it is rubbed, as makers know.
pub const RUBBED_K: f64 = 2.5;

/// Frost is for transit and for freezers: nobody takes butter out of a jar below this,
/// °C (common practice, no source).
const IN_USE_FROM_C: f64 = 0.0;

/// A wish, by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Wish {
    /// The format keeps its shape at the hottest storage.
    HoldsAtHottest,
    /// At the hottest storage no more than one class softer than wanted.
    FirmEnoughAtHottest,
    /// The wanted class in the middle of the storage range.
    FirmnessAtUsual,
    /// At the coldest storage no more than one class harder than wanted; not of what is rubbed on as it is, a
    /// bar or a stick.
    SoftEnoughAtColdest,
    /// What should happen on skin.
    OnSkin,
}

/// One band: a figure at a place must lie within `low..=high`.
#[derive(Clone, Copy, Debug)]
pub struct Band {
    /// The wish it stands for.
    pub wish: Wish,
    /// Where.
    pub place: Where,
    /// Of what.
    pub quantity: Quantity,
    /// The least, percent.
    pub low: f64,
    /// The most, percent; infinite where there is none.
    pub high: f64,
}

impl Band {
    /// How far a figure is outside the band, percent points; 0 inside.
    pub fn miss(&self, found: f64) -> f64 {
        (self.low - found).max(found - self.high).max(0.0)
    }
}

/// What the maker wants.
#[derive(Clone, Copy, Debug)]
pub struct Wishes {
    /// How it is sold.
    pub format: Format,
    /// °C.
    pub coldest_c: f64,
    /// °C; not below the coldest.
    pub hottest_c: f64,
    /// °C.
    pub skin_c: f64,
    /// How firm in the middle of the storage range.
    pub firmness: Option<Firmness>,
    /// What on skin.
    pub on_skin: Option<OnSkin>,
}

impl Wishes {
    /// The temperature of a place, °C.
    pub fn temperature_c(&self, place: Where) -> f64 {
        let coldest_c = self.coldest_c.max(IN_USE_FROM_C).min(self.hottest_c);
        match place {
            Where::Coldest => coldest_c,
            Where::Usual => 0.5 * (coldest_c + self.hottest_c),
            Where::Hottest => self.hottest_c,
            Where::Skin => self.skin_c + RUBBED_K,
        }
    }

    /// Whether what is wanted every day is too soft for its format to keep its shape.
    pub fn contradict(&self) -> bool {
        self.firmness.is_some_and(|wanted| wanted.is_too_soft_for(self.format))
    }

    /// Whether a class in the cold is harder than the maker can want: more than one class above the wish, or,
    /// without one, what cannot be taken out of a jar by hand.
    pub fn too_hard(&self, coldest: Firmness) -> bool {
        match (self.firmness, self.format.is_scooped()) {
            (_, false) => false,
            (Some(wanted), true) => coldest > wanted.harder(),
            (None, true) => coldest >= Firmness::Hard,
        }
    }

    /// The bands that these wishes amount to.
    pub fn bands(&self) -> Vec<Band> {
        let structure =
            |wish, place, low, high| Band { wish, place, quantity: Quantity::Structure, low, high };
        let least = self.format.least_percent();
        let holds = structure(Wish::HoldsAtHottest, Where::Hottest, least, f64::INFINITY);
        let mut bands = vec![Band { quantity: self.format.held_by(), ..holds }];
        if let Some(firmness) = self.firmness {
            let (low, high) = firmness.limits();
            bands.push(structure(Wish::FirmnessAtUsual, Where::Usual, low, high));
            let (softest, _) = firmness.softer().limits();
            bands.push(structure(Wish::FirmEnoughAtHottest, Where::Hottest, softest, f64::INFINITY));
            if self.format.is_scooped() {
                let (_, hardest) = firmness.harder().limits();
                bands.push(structure(Wish::SoftEnoughAtColdest, Where::Coldest, 0.0, hardest));
            }
        }
        if let Some(on_skin) = self.on_skin {
            let (low, high) = on_skin.limits();
            bands.push(Band {
                wish: Wish::OnSkin,
                place: Where::Skin,
                quantity: Quantity::OnSkin,
                low,
                high,
            });
        }
        bands
    }
}
