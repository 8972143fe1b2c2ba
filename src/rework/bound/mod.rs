//! What is known of a recipe, and of every recipe of a region at once.

mod cut;
mod evaluator;
mod least_miss;
mod linear;

pub(crate) use cut::cut;
pub(crate) use evaluator::{Bound, Evaluator, Target, in_grains, units};
pub(crate) use least_miss::LeastMiss;
pub(crate) use linear::{Expected, LinearModel};
