//! The search: best first over regions, each excluded by a bound, cut to what a bound leaves, or divided.

mod dive;
mod merit;
mod newcomers;
mod queue;
mod rescue;
mod season;
mod seasons;
mod smallest;
mod watch;

pub use merit::{Lever, Merit};
pub use rescue::Batch;
pub(crate) use rescue::{Addition, Least, least_addition};
pub(crate) use seasons::{Closest, closest_pair};
pub use smallest::{Found, Progress, Proof, Search};
pub use watch::{REPORT_AFTER, Report, Watch};
