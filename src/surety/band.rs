//! The band of a figure over the lots: nine in ten lie within.

use super::normal::NormalTable;
use crate::roots;

/// A band: nine in ten lots lie from the first to the second.
pub type LotBand = (f64, f64);

/// The share of lots that lie below a band, and that lie above it.
pub(super) const OUTSIDE: f64 = 0.05;

/// How closely the ends of a band are found, in its unit.
pub(super) const RESOLUTION: f64 = 0.005;

/// The band of these values, each smeared by a remainder.
pub(super) fn range(values: &[f64], remainder: f64) -> LotBand {
    let table = NormalTable::get();
    let share_below = |limit: f64| {
        values.iter().map(|value| table.at((limit - value) / remainder)).sum::<f64>() / values.len() as f64
    };
    let least = values.iter().copied().fold(f64::INFINITY, f64::min) - 4.0 * remainder;
    let most = values.iter().copied().fold(f64::NEG_INFINITY, f64::max) + 4.0 * remainder;
    let end = |share: f64| roots::bisect((least, most), RESOLUTION, |limit| share_below(limit) < share);
    (end(OUTSIDE), end(1.0 - OUTSIDE))
}

/// A band of percentages, which end at nothing and at all.
pub(super) fn percent((low, high): LotBand) -> LotBand {
    (low.clamp(0.0, 100.0), high.clamp(0.0, 100.0))
}
