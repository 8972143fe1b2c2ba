//! What was done for a proof, as it is told.

use serde::Serialize;

use crate::rework as engine;

/// What was done to be sure that nothing better is on the grid.
#[derive(Clone, Copy, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Proof {
    /// Sets of changing lines looked at.
    pub supports: u64,
    /// Recipes excluded by a bound that holds for a whole region of them.
    pub excluded_by_bound: u64,
    /// Recipes left out because a better one was known: more lines or a greater cost.
    pub excluded_by_merit: u64,
    /// Recipes solved one by one.
    pub solved: u64,
    /// Equilibria solved in all, those for bounds included.
    pub equilibria: u64,
}

impl From<engine::ProofCounts> for Proof {
    fn from(proof: engine::ProofCounts) -> Proof {
        Proof {
            supports: proof.supports,
            excluded_by_bound: proof.excluded_by_bound,
            excluded_by_merit: proof.excluded_by_merit,
            solved: proof.solved,
            equilibria: proof.equilibria,
        }
    }
}
