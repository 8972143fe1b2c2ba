//! The recipes that a search looks among: regions of a grid, and which of its recipes is better.

mod grams;
mod merit;
mod percents;
mod recipes;
mod region;

pub use grams::Batch;
pub(crate) use grams::Grams;
pub use merit::{ChangeCost, Lever, Merit};
pub(crate) use percents::Percents;
pub(crate) use recipes::{Grid, GridPoint};
pub(crate) use region::{Across, Region, SHIFT_UNITS, Support, meet, tidy};
