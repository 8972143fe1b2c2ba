//! Wishes as they are asked for, and misses as they are told.

use super::{
    ErrorKind, Failure, Miss, WishesRequest,
    check::within,
    ranges::{SKIN_C, STORAGE_C},
};
use crate::behaviour::{Band, Quantity, Where, Wish, Wishes};

impl WishesRequest {
    /// The wishes, checked.
    pub(super) fn wishes(&self) -> Result<Wishes, Failure> {
        let coldest_c = within(self.storage_c.coldest, STORAGE_C, "storage_c.coldest", "°C")?;
        let hottest_c = within(self.storage_c.hottest, STORAGE_C, "storage_c.hottest", "°C")?;
        if coldest_c > hottest_c {
            return Err(Failure::new(
                ErrorKind::Conflict,
                "storage_c",
                format!(
                    "the coldest storage, {coldest_c} °C, is above the hottest, {hottest_c} °C: swap them"
                ),
            ));
        }
        Ok(Wishes {
            format: self.format,
            coldest_c,
            hottest_c,
            skin_c: within(self.skin_c, SKIN_C, "skin_c", "°C")?,
            firmness: self.firmness,
            on_skin: self.on_skin,
        })
    }
}

/// The wishes that are not met, from what the recipe gives at a place, percent.
pub(super) fn misses(wishes: &Wishes, found: impl Fn(Where, Quantity) -> f64) -> Vec<Miss> {
    let found = |band: &Band| found(band.place, band.quantity);
    let bands = wishes.bands();
    let missed = bands.iter().filter(|band| band.miss(found(band)) > 0.0);
    missed.map(|band| miss(wishes, band, found(band))).collect()
}

/// A band that is not met, as it is told.
pub(super) fn miss(wishes: &Wishes, band: &Band, found: f64) -> Miss {
    Miss {
        wish: name(band.wish).to_owned(),
        found,
        low: (band.low > 0.0).then_some(band.low),
        high: band.high.is_finite().then_some(band.high),
        words: words(wishes, band, found),
    }
}

/// The wish's name in the contract.
pub(super) fn name(wish: Wish) -> &'static str {
    match wish {
        Wish::HoldsAtHottest => "holds-at-hottest",
        Wish::FirmEnoughAtHottest => "firm-enough-at-hottest",
        Wish::FirmnessAtUsual => "firmness-at-usual",
        Wish::SoftEnoughAtColdest => "soft-enough-at-coldest",
        Wish::OnSkin => "on-skin",
    }
}

/// What a wish is about, in the middle of a sentence.
pub(super) fn thing(wish: Wish) -> &'static str {
    match wish {
        Wish::HoldsAtHottest => "keeping its shape at the hottest",
        Wish::FirmEnoughAtHottest => "the firmness at the hottest",
        Wish::FirmnessAtUsual => "the firmness in the middle of the range",
        Wish::SoftEnoughAtColdest => "the softness at the coldest",
        Wish::OnSkin => "what stays on skin",
    }
}

fn words(wishes: &Wishes, band: &Band, found: f64) -> String {
    let celsius = wishes.temperature_c(band.place);
    let short = band.low - found;
    // One figure is how it is now.
    if band.low >= band.high {
        let (less, more, what) = match band.quantity {
            Quantity::Structure => ("Softer than now", "Harder than now", "structure"),
            Quantity::Solid => ("Leaves less on skin than now", "Leaves more on skin than now", "solids"),
        };
        let how = if short > 0.0 { less } else { more };
        return format!("{how}, at {celsius} °C ({what} {found:.1} %, now {:.1} %).", band.low);
    }
    let figures = |what: &str| {
        if short > 0.0 {
            format!("{what} {found:.1} %, at least {:.1} % wanted", band.low)
        } else {
            format!("{what} {found:.1} %, at most {:.1} % wanted", band.high)
        }
    };
    match band.wish {
        Wish::HoldsAtHottest => {
            format!("Does not keep its shape at {celsius} °C ({}).", figures("structure"))
        }
        Wish::FirmEnoughAtHottest => {
            format!("Softer than wanted at {celsius} °C ({}).", figures("structure"))
        }
        Wish::FirmnessAtUsual if short > 0.0 => {
            format!("Softer than wanted at {celsius} °C ({}).", figures("structure"))
        }
        Wish::FirmnessAtUsual => format!("Harder than wanted at {celsius} °C ({}).", figures("structure")),
        Wish::SoftEnoughAtColdest => {
            format!("Harder than wanted at {celsius} °C ({}).", figures("structure"))
        }
        Wish::OnSkin if short > 0.0 => {
            format!("Melts more on skin, at {celsius} °C, than wanted ({}).", figures("solids"))
        }
        Wish::OnSkin => format!("Leaves more on skin, at {celsius} °C, than wanted ({}).", figures("solids")),
    }
}
