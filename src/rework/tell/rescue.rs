//! What to melt into a batch that is made, told.

use super::{
    states::{Figures, Miss, States},
    words,
};
use crate::rework::{
    grid::Batch,
    question::Problem,
    search::{Addition, LeastAddition, Proof, Report, least_addition},
};

/// What can be melted in.
#[derive(Clone, Debug)]
pub struct Rescue {
    /// Candidates with grams.
    pub add: Vec<(usize, f64)>,
    /// Percentages in the order of the candidates, afterwards.
    pub amounts: Vec<f64>,
    /// Bands that are not met.
    pub misses: Vec<Miss>,
    /// Slip point, °C.
    pub slip_c: Option<f64>,
    /// Clear point, °C.
    pub clear_c: Option<f64>,
    /// The states that decide.
    pub states: States,
    /// What it does, why and at what cost.
    pub words: String,
}

/// What was found for a batch.
#[derive(Clone, Debug)]
pub struct Rescued {
    /// The best for each kind of ingredient, best first. Where the batch is fine as it is, or nothing that may be added helps, one with
    /// nothing to add.
    pub found: Vec<Rescue>,
    /// What was done to be sure.
    pub proof: Proof,
    /// Whether the search went to its end; where it was stopped, less may do, and nothing may have been found.
    pub complete: bool,
}

/// The least to melt into a batch for it to meet the demands of `problem`. `report` hears how far it has come.
pub fn rescue<'p>(problem: &'p Problem, batch: Batch, report: Report<'p>) -> Rescued {
    let LeastAddition { found, proof, complete } = least_addition(problem, batch, report);
    let before = Figures::of(problem, &problem.amounts());
    let tell = |Addition { add, amounts }: Addition| {
        let after = Figures::of(problem, &amounts);
        let misses = after.misses(problem);
        let words =
            words::rescue(problem, &add, batch.grams, &before.states, &after.states, !misses.is_empty());
        Rescue {
            add,
            amounts,
            misses,
            slip_c: after.slip_c,
            clear_c: after.clear_c,
            states: after.states,
            words,
        }
    };
    Rescued { found: found.into_iter().map(tell).collect(), proof, complete }
}
