//! The backward search: the smallest change of a recipe that meets the wishes, proven on the grid of the scale.

mod check;
mod cut;
mod demand;
mod dive;
mod effects;
mod grid;
mod group;
mod judge;
mod known;
mod merit;
mod newcomers;
mod problem;
mod proposal;
mod queue;
mod region;
mod rescue;
mod search;
mod season;
mod seasons;
mod watch;
mod words;

pub use demand::Demand;
pub use group::Group;
pub use judge::figure;
pub use merit::{Lever, Merit};
pub use problem::{CHANGES, Candidate, MOST_WAX_PERCENT, Problem, Scope};
pub use proposal::{
    Change, Miss, Outcome, Proposal, Spared, States, conclude, rework, why_not, without_margin,
};
pub use rescue::{Batch, Rescue, Rescued, rescue};
pub use search::{Found, Progress, Proof, Search};
pub use seasons::{Pair, Seasons, seasons};
pub use watch::{REPORT_AFTER, Report, Watch};
