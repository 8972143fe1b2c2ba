//! The backward search: the smallest change of a recipe that meets the wishes, proven on the grid of the scale.
//!
//! Arrows point one way: `question` ← `grid` ← `bound` ← `search` ← `tell`.

mod bound;
mod grid;
mod question;
mod search;
mod tell;

pub use question::{
    CHANGES, Candidate, Demand, Group, MOST_WAX_PERCENT, Problem, STEP_PERCENT, Scope, figure,
};
pub use search::{Batch, Found, Lever, Merit, Progress, Proof, REPORT_AFTER, Report, Search, Watch};
pub use tell::{
    Change, Miss, Outcome, Pair, Proposal, Rescue, Rescued, Seasons, Spared, States, conclude, rescue,
    rework, seasons, why_not, without_margin,
};
