//! What is asked: the limits as they were set, the lines that may take part, and what must be met.

mod candidates;
mod demands;
mod group;
mod problem;
mod rung;
mod scope;

pub use candidates::Candidate;
pub use demands::{Counts, Demand, figure};
pub use group::Group;
pub use problem::Problem;
pub use rung::Rung;
pub(crate) use scope::ON_GRID;
pub use scope::{CHANGES, MOST_WAX_PERCENT, STEP_PERCENT, Scope};
