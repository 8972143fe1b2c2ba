//! A batch that is made: nothing can be taken out of it, so what is the least to melt in?

use super::{
    best_rung::{Reached, best_rung},
    on_rung::Hear,
    progress::ProofCounts,
};
use crate::rework::{
    grid::{Batch, Grams},
    question::Problem,
};

/// What can be melted in.
pub(crate) struct FoundAddition {
    /// Candidates with grams; none where nothing needs to be added, or nothing that may be helps.
    pub(crate) add: Vec<(usize, f64)>,
    /// Percentages in the order of the candidates, afterwards.
    pub(crate) amounts: Vec<f64>,
}

/// What was found for a batch.
pub(crate) struct LeastAddition {
    /// The best for each kind of ingredient, best first; where nothing meets
    /// every wish, the one that does best.
    pub(crate) found: Vec<FoundAddition>,
    /// What was done to be sure.
    pub(crate) proof: ProofCounts,
    /// Whether the search went to its end.
    pub(crate) complete: bool,
}

/// How many lines change at most: the batch, and two additions.
const LINES: usize = 3;

/// The least to melt into a batch for it to meet the demands of `problem`. `hear` hears how far it has come.
pub(crate) fn least_addition(problem: &Problem, batch: Batch, hear: Hear<'_>) -> LeastAddition {
    // How many lines of a recipe may change is not asked of a batch.
    let problem = Problem { changes: LINES, ..problem.clone() };
    let Reached { mut found, proof, complete, .. } = best_rung(&problem, Some(batch), hear);
    if found.iter().any(|it| it.merit.miss > 0) {
        found.truncate(1);
        // Only at its end does a search know that nothing helps.
        found.retain(|it| complete || it.lever.is_some());
    }
    let grid = Grams::new(&problem, batch);
    let found = found.into_iter().map(|it| FoundAddition {
        add: it.place.map_or_else(Vec::new, |(support, point)| grid.additions(&support, point)),
        amounts: it.amounts,
    });
    LeastAddition { found: found.collect(), proof, complete }
}
