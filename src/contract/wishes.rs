//! Wishes as they are asked for, and misses as they are told.

use super::{
    ErrorKind, Failure, WishesRequest,
    check::within,
    ranges::{SKIN_C, STORAGE_C},
};
use crate::behaviour::{Band, Quantity, Where, Wishes, judgement::Miss};

impl WishesRequest {
    /// The wishes, checked.
    pub(super) fn wishes(&self) -> Result<Wishes, Failure> {
        let coldest_c =
            within(self.storage_c.coldest, STORAGE_C, "storage_c.coldest", "the coldest storage", "°C")?;
        let hottest_c =
            within(self.storage_c.hottest, STORAGE_C, "storage_c.hottest", "the hottest storage", "°C")?;
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
            skin_c: within(self.skin_c, SKIN_C, "skin_c", "skin", "°C")?,
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
    missed.map(|band| Miss::of(wishes, band, found(band))).collect()
}
