//! The backward search: the smallest change of a recipe that meets the wishes, proven on the grid of the scale.

mod judge;
mod merit;
mod problem;
mod proposal;
mod region;
mod search;
mod words;

pub use judge::figure;
pub use merit::{Lever, Merit};
pub use problem::{Candidate, MOST_WAX_PERCENT, Problem, Scope};
pub use proposal::{Change, Miss, Outcome, Proposal, States, conclude, rework};
pub use search::{Found, Progress, Proof, Search};
