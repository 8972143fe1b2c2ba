#![doc = include_str!("README.md")]

mod bound;
mod grid;
mod question;
mod search;
mod tell;

pub use grid::{Batch, Lever, Merit};
pub use question::{
    CHANGES, Candidate, Demand, Group, MOST_WAX_PERCENT, Problem, STEP_PERCENT, Scope, figure,
};
pub use search::{Found, Progress, Proof, REPORT_AFTER, Report, Search, Watch};
pub use tell::{
    Carrier, Change, Finding, Foreseen, Miss, Outcome, Pair, Proposal, Rescue, Rescued, Seasons, Spared,
    States, conclude, rescue, rework, seasons, why_not, without_margin,
};
