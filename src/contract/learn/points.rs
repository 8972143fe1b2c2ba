//! Where a recipe softens and slips, with the bands that its lots leave.

use serde::Serialize;

use crate::{
    behaviour::{Format, Melting, Wishes},
    contract::item::skin_c,
    equilibrium::CrystalState,
    recipe::{Line, Recipe},
    surety::{LotBand, Unknowns, learned::Known},
};

/// A temperature and its band.
#[derive(Clone, Copy, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct PointBand {
    /// °C; `null` where there is none.
    pub at_c: Option<f64>,
    /// Nine in ten lie within, °C; likewise.
    pub band_c: Option<LotBand>,
}

impl PointBand {
    /// A slip point with the half of its band.
    pub(super) fn known(&self) -> Option<Known> {
        let (Some(slip_c), Some(band_c)) = (self.at_c, self.band_c) else { return None };
        Some(Known { slip_c, within_k: 0.5 * (band_c.1 - band_c.0) })
    }
}

/// Where a recipe slips, and softens in a format.
pub(super) fn points(recipe: &Recipe, format: Format) -> [PointBand; 2] {
    let mixture = recipe.mixture(CrystalState::Settled);
    let mut settled = Melting::of(&mixture);
    let softening_c = settled.softens_c(format.least_percent(), format.held_by().figure());
    let slip_c = settled.slip_c();
    // The climate decides nothing here but where lots are looked at.
    let about_c = softening_c.or(slip_c).unwrap_or(25.0);
    let wishes = Wishes {
        format,
        coldest_c: about_c - 8.0,
        hottest_c: about_c,
        skin_c: skin_c(),
        firmness: None,
        on_skin: None,
    };
    let spread = Unknowns::of(recipe).spread(&wishes, &mut settled);
    [
        PointBand { at_c: softening_c, band_c: spread.softening_c },
        PointBand { at_c: slip_c, band_c: spread.slip_c },
    ]
}

/// The slip point of a line alone.
pub(super) fn slip(line: &Line) -> PointBand {
    let recipe = Recipe::of_parts([line.clone()].into_iter());
    let mixture = recipe.mixture(CrystalState::Settled);
    let mut settled = Melting::of(&mixture);
    let at_c = settled.slip_c();
    PointBand { at_c, band_c: Unknowns::of(&recipe).points_c(&mut settled)[0] }
}
