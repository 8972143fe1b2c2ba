//! What is left on skin, as it feels.

use serde::Serialize;

use crate::behaviour::OnSkin;

/// What a butter does on skin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum SkinFeel {
    /// It melts.
    Melts,
    /// It melts and leaves a light film.
    LightFilm,
    /// It melts slowly and leaves some body.
    Lingers,
    /// It stays as a waxy film.
    Waxy,
}

/// Solids at skin temperature from which they are felt as waxy, percent: margarine should be below 3.5 at 33.3 °C
/// (Krawczyk 1996 and others, from memory).
const WAXY_PERCENT: f64 = 3.5;

impl SkinFeel {
    /// What this much solid on skin, percent, amounts to.
    pub fn of(solid_percent: f64) -> SkinFeel {
        if solid_percent <= WAXY_PERCENT {
            SkinFeel::Melts
        } else if solid_percent <= OnSkin::Melts.limits().1 {
            SkinFeel::LightFilm
        } else if solid_percent <= OnSkin::Lingers.limits().1 {
            SkinFeel::Lingers
        } else {
            SkinFeel::Waxy
        }
    }
}
