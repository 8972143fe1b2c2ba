//! What is left on skin, as it feels.

use serde::Serialize;

use crate::behaviour::{OnSkin, Solids};

/// What a butter does on skin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum SkinFeel {
    /// It melts.
    Melts,
    /// It melts and leaves a light film.
    LightFilm,
    /// It does not melt, held by wax: it rubs out and leaves a film.
    RubsOut,
    /// It melts slowly and leaves some body.
    Lingers,
    /// It stays as a waxy film.
    Waxy,
}

/// Percent of fat crystals on skin from which they are felt as waxy: margarine should have less than 3.5 %
/// solids at 33.3 °C (Krawczyk 1996 and others, from memory).
pub(super) const WAXY_PERCENT: f64 = 3.5;

impl SkinFeel {
    /// What a butter with these solids on skin does.
    pub fn of(on_skin: &Solids) -> SkinFeel {
        let felt = on_skin.on_skin_percent();
        if felt <= WAXY_PERCENT {
            SkinFeel::Melts
        } else if felt <= OnSkin::Melts.limits().1 {
            SkinFeel::LightFilm
        } else if felt > OnSkin::Lingers.limits().1 {
            SkinFeel::Waxy
        } else if on_skin.is_mostly_wax() {
            SkinFeel::RubsOut
        } else {
            SkinFeel::Lingers
        }
    }
}
