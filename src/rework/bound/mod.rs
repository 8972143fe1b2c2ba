//! What is known of a recipe, and of every recipe of a region at once.

mod cut;
mod effects;
mod judge;
mod known;

pub(crate) use cut::cut;
pub(crate) use effects::{Effects, Outlook};
pub(crate) use judge::{Bound, Judge, Wanted, in_grains, of_recipe, points, units};
pub(crate) use known::Known;
