//! Wishes that are not met.

use serde::Serialize;

use crate::behaviour::{Band, Quantity, Wish, Wishes};

/// A wish that is not met, and how.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Miss {
    pub kind: MissKind,
    pub wish: Wish,
    pub at_c: f64,
    /// What the recipe gives.
    pub found_percent: f64,
    /// The least that would do, where there is one.
    pub low_percent: Option<f64>,
    /// The most that would do, where there is one.
    pub high_percent: Option<f64>,
}

/// How a wish is not met.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum MissKind {
    /// It does not keep its shape.
    DoesNotHold,
    /// It has too few crystals besides wax to hold its air.
    LosesAir,
    /// Softer than wanted.
    Softer,
    /// Harder than wanted.
    Harder,
    /// Less stays on skin than wanted.
    LeavesLess,
    /// More stays on skin than wanted.
    LeavesMore,
    /// Softer than it is now, where it is to be as now.
    SofterThanNow,
    /// Harder than it is now.
    HarderThanNow,
    /// Less stays on skin than does now.
    LeavesLessThanNow,
    /// More stays on skin than does now.
    LeavesMoreThanNow,
}

impl Miss {
    /// How a band is missed by what the recipe gives, percent.
    pub fn of(wishes: &Wishes, band: &Band, found_percent: f64) -> Miss {
        let short = band.low > found_percent;
        // A band without width is how it is now.
        let kind = match (band.quantity, short, band.low >= band.high) {
            (Quantity::Structure, true, true) => MissKind::SofterThanNow,
            (Quantity::Structure, false, true) => MissKind::HarderThanNow,
            (Quantity::OnSkin, true, true) => MissKind::LeavesLessThanNow,
            (Quantity::OnSkin, false, true) => MissKind::LeavesMoreThanNow,
            // Nothing is asked to have no more of them, nor as many as now; no band is on all solids.
            (Quantity::Crystals | Quantity::Solid, _, _) => MissKind::LosesAir,
            (Quantity::Structure, true, false) if band.wish == Wish::HoldsAtHottest => MissKind::DoesNotHold,
            (Quantity::Structure, true, false) => MissKind::Softer,
            (Quantity::Structure, false, false) => MissKind::Harder,
            (Quantity::OnSkin, true, false) => MissKind::LeavesLess,
            (Quantity::OnSkin, false, false) => MissKind::LeavesMore,
        };
        Miss {
            kind,
            wish: band.wish,
            at_c: wishes.temperature_c(band.place),
            found_percent,
            low_percent: (band.low > 0.0).then_some(band.low),
            high_percent: band.high.is_finite().then_some(band.high),
        }
    }

    /// How far it is off, percent points.
    pub fn points(&self) -> f64 {
        let short = self.low_percent.map_or(0.0, |low| low - self.found_percent);
        let over = self.high_percent.map_or(0.0, |high| self.found_percent - high);
        short.max(over)
    }
}
