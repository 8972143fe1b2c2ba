//! The searches: one best-first loop, and what each of them is after.

mod at_most;
mod best_first;
mod best_rung;
mod climb;
mod dive;
mod on_rung;
mod pairs;
mod progress;
mod queue;
mod rescue;
mod season;
mod smallest;
mod trios;

pub(crate) use at_most::{Hottest, finish, holds_at_most, meets_all};
pub(crate) use best_rung::{Reached, best_rung};
pub(crate) use climb::{Climbed, climb};
pub(crate) use pairs::{ClosestPair, closest_pair, pair_as_demanded};
pub use progress::{Progress, ProofCounts, REPORT_AFTER, Report, Watch};
pub(crate) use rescue::{FoundAddition, LeastAddition, least_addition};
pub use smallest::{FoundRecipe, Search};
