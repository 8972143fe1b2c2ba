//! The searches: one best-first loop, and what each of them is after.

mod best_first;
mod dive;
mod pairs;
mod progress;
mod queue;
mod rescue;
mod rungs;
mod season;
mod smallest;
mod trios;

pub(crate) use pairs::{ClosestPair, closest_pair, pair_as_demanded};
pub use progress::{Progress, ProofCounts, REPORT_AFTER, Report, Watch};
pub(crate) use rescue::{FoundAddition, LeastAddition, least_addition};
pub(crate) use rungs::{Climbed, Reached, best_rung, climb};
pub use smallest::{FoundRecipe, Search};
