//! The dab of `behave`: how fast a little of it melts on skin.

use serde::{Deserialize, Serialize};

use super::{
    Failure,
    check::within,
    ranges::{DAB_G, FILM_MM, STORAGE_C},
};
use crate::behaviour::{
    MeltingProfile, OnSkin, Quantity, Where, Wishes,
    dab::{self, Dab, Melted},
    judgement::DabMelts,
};

/// A dab laid on skin, or rubbed between two palms.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(default)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct DabRequest {
    /// g, 0.01 to 100; sets only how much skin it covers.
    pub mass_g: f64,
    /// mm, 0.1 to 10.
    pub film_mm: f64,
    /// Its temperature before, °C; absent: room, within the storage range.
    pub start_c: Option<f64>,
}

impl Default for DabRequest {
    fn default() -> Self {
        DabRequest { mass_g: dab::DAB_G, film_mm: dab::FILM_MM, start_c: None }
    }
}

/// How fast a dab melts.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct DabAnswer {
    /// g.
    pub mass_g: f64,
    /// mm.
    pub film_mm: f64,
    /// Its temperature before, °C.
    pub start_c: f64,
    /// On skin, under a fingertip.
    pub on_skin: DabTimes,
    /// Between two palms.
    pub between_palms: DabTimes,
    /// What it does.
    pub melts: DabMelts,
}

/// How fast a dab melts in one place.
#[derive(Clone, Copy, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct DabTimes {
    /// Skin under a rubbing hand, °C.
    pub skin_c: f64,
    /// How thick it lies, mm: between palms the mean of before and after it is rubbed over one of them.
    pub film_mm: f64,
    /// Seconds until half of its solids are gone; `null` where that never happens within an hour, and where
    /// more stays on skin than counts as melting.
    pub half_s: Option<f64>,
    /// Seconds until only the residue is left; `null` likewise.
    pub residue_s: Option<f64>,
    /// Solids that skin does not melt, percent by mass.
    pub residue_percent: f64,
    /// Skin covered, cm².
    pub area_cm2: f64,
}

/// Follows the dab on skin and between palms.
pub(super) fn follow(
    request: &DabRequest,
    profile: &MeltingProfile,
    wishes: &Wishes,
) -> Result<DabAnswer, Failure> {
    let mass_g = within(request.mass_g, DAB_G, "dab.mass_g", "the dab", "g")?;
    let film_mm = within(request.film_mm, FILM_MM, "dab.film_mm", "the film of the dab", "mm")?;
    let start_c = match request.start_c {
        Some(start_c) => within(start_c, STORAGE_C, "dab.start_c", "the dab before it is spread", "°C")?,
        None => dab::ROOM_C.clamp(wishes.coldest_c, wishes.hottest_c),
    };
    let fat = profile.enthalpy();
    // As warm as what is left on skin is judged at: a dab is rubbed.
    let skin_c = wishes.temperature_c(Where::Skin);
    let leaves = profile.read(skin_c, Quantity::OnSkin.figure()) > OnSkin::Melts.limits().1;
    let melt = |both_sides| {
        let melted = dab::melt(&fat, &Dab { mass_g, film_mm, start_c, skin_c, both_sides });
        // Half of what is solid may go, and what makers call melting does not
        // happen: no time is told of that.
        if leaves { Melted { half_s: None, residue_s: None, ..melted } } else { melted }
    };
    let (on_skin, between_palms) = (melt(false), melt(true));
    Ok(DabAnswer {
        mass_g,
        film_mm,
        start_c,
        melts: if leaves {
            DabMelts::LeavesFilm
        } else {
            DabMelts::of(&on_skin, &between_palms, film_mm, start_c)
        },
        on_skin: DabTimes::of(&on_skin, skin_c),
        between_palms: DabTimes::of(&between_palms, skin_c),
    })
}

impl DabTimes {
    fn of(melted: &Melted, skin_c: f64) -> DabTimes {
        DabTimes {
            skin_c,
            film_mm: melted.film_mm,
            half_s: melted.half_s,
            residue_s: melted.residue_s,
            residue_percent: melted.residue_percent,
            area_cm2: melted.area_cm2,
        }
    }
}
