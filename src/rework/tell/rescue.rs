//! What to melt into a batch that is made, told.

use super::{
    finding::{ReworkFinding, of_rescue},
    states::Forecast,
};
use crate::rework::{
    grid::Batch,
    question::Problem,
    search::{FoundAddition, LeastAddition, ProofCounts, Report, least_addition},
};

/// What can be melted in.
#[derive(Clone, Debug)]
pub struct Rescue {
    /// Candidates with grams.
    pub add: Vec<(usize, f64)>,
    /// What is foreseen of the batch then.
    pub after: Forecast,
    /// What it does, why and at what cost.
    pub findings: Vec<ReworkFinding>,
}

/// What was found for a batch.
#[derive(Clone, Debug)]
pub struct Rescued {
    /// The best for each kind of ingredient, best first. Where the batch is fine as it is, or nothing that
    /// may be added helps, one with nothing to add.
    pub found: Vec<Rescue>,
    /// What was done to be sure.
    pub proof: ProofCounts,
    /// Whether the search went to its end; where it was stopped, less may do,
    /// and nothing may have been found.
    pub complete: bool,
}

/// The least to melt into a batch for it to meet the demands of `problem`.
/// `report` hears how far it has come.
pub fn rescue<'p>(problem: &'p Problem, batch: Batch, report: Report<'p>) -> Rescued {
    let LeastAddition { found, proof, complete } =
        least_addition(problem, batch, &mut |progress, _| report(progress));
    let before = Forecast::of(problem, &problem.amounts()).states;
    let tell = |FoundAddition { add, amounts }: FoundAddition| {
        let after = Forecast::of(problem, &amounts);
        let findings = of_rescue(problem, &add, batch, &before, &after);
        Rescue { add, after, findings }
    };
    Rescued { found: found.into_iter().map(tell).collect(), proof, complete }
}
