//! The recipes that are looked among: regions of a grid whose steps are those of the scale.

mod percents;
mod region;

pub(crate) use percents::Grid;
pub(crate) use region::{Across, CORNERS, Region, SHIFT_UNITS, Support, meet, tidy};
