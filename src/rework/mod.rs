#![doc = include_str!("README.md")]

mod bound;
mod grid;
mod question;
mod search;
mod tell;

pub use grid::{Batch, ChangeCost, Lever, Merit};
pub use question::{
    CHANGES, Candidate, Counts, Demand, Group, MOST_WAX_PERCENT, Problem, Rung, STEP_PERCENT, Scope, figure,
};
pub use search::{FoundRecipe, Progress, ProofCounts, REPORT_AFTER, Report, Search, Watch};
pub use tell::{
    AtMost, AtMostFound, CandidateChange, Carrier, Forecast, GivenUp, Ladder, MissedBand, Pair, Rescue,
    Rescued, Rework, ReworkFinding, Reworks, Seasons, Spared, Standing, States, further, holds_at_most,
    is_felt, ladder, meets_all, rescue, rework, seasons, seasons_as_demanded, why_not,
};
