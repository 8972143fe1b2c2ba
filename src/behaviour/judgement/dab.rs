//! How fast a dab melts, for a hand that waits for it.

use serde::Serialize;

use crate::behaviour::dab::Melted;

/// What a still dab does on skin and between palms.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum DabMelts {
    /// There is next to nothing solid in it.
    NothingSolid { start_c: f64 },
    /// Half of its solids go on skin, and between palms.
    Both { film_mm: f64, skin_s: f64, palms_s: f64 },
    /// Only between palms.
    BetweenPalms { palms_s: f64 },
    /// In neither place.
    Neither,
    /// More of it stays on skin than counts as melting.
    LeavesFilm,
}

impl DabMelts {
    /// What a dab so thick, that was so warm before, does.
    pub fn of(on_skin: &Melted, between_palms: &Melted, film_mm: f64, start_c: f64) -> DabMelts {
        match (on_skin.half_s, between_palms.half_s) {
            (Some(0.0), _) => DabMelts::NothingSolid { start_c },
            (Some(skin_s), Some(palms_s)) => DabMelts::Both { film_mm, skin_s, palms_s },
            (None, Some(palms_s)) => DabMelts::BetweenPalms { palms_s },
            (_, None) => DabMelts::Neither,
        }
    }
}
