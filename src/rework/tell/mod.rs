//! What was found, told: proposals with the figures that a maker wants to see of them.

mod cannot_be;
mod finding;
mod proposal;
mod rescue;
mod seasons;
mod states;
mod why_not;

pub use cannot_be::{AtMost, AtMostFound, GivenUp, holds_at_most, is_felt, meets_all};
pub use finding::{Carrier, ReworkFinding};
pub use proposal::{Ladder, Rework, Reworks, ladder, rework};
pub use rescue::{Rescue, Rescued, rescue};
pub use seasons::{Pair, Seasons, seasons, seasons_as_demanded};
pub use states::{CandidateChange, Forecast, MissedBand, States};
pub use why_not::{Spared, Standing, further, why_not};
