//! The search of a rework: on the rung of holding that is asked for, else on the best there is.

use super::{
    on_rung::{Hear, Searches, stays},
    progress::ProofCounts,
    smallest::FoundRecipe,
};
use crate::rework::{
    bound::Evaluator,
    grid::Batch,
    question::{Problem, Rung},
};

/// What was found.
pub(crate) struct Reached {
    /// The best of each lever, best first. All of them meet as many matters of feel and change as many lines.
    pub(crate) found: Vec<FoundRecipe>,
    /// The question as it was put last, on the rung that was asked for.
    pub(crate) asked: Problem,
    pub(crate) proof: ProofCounts,
    /// Whether the search went to its end.
    pub(crate) complete: bool,
}

/// The recipe as it is, if it does all that is wanted: judged by lots, as what is found is.
pub(super) fn as_it_is(problem: &Problem, batch: Option<Batch>, rung: Rung) -> Option<FoundRecipe> {
    let mut present = stays(problem, batch)?;
    let feels = Evaluator::new(&problem.without_holding()).miss_of(&present.amounts) == 0;
    present.merit.miss = 0;
    (feels && problem.odds(&present.amounts, rung) >= rung.odds).then_some(present)
}

/// The best rework, or the best addition to a batch, on the best rung that can be
/// reached, up to the one asked for.
pub(crate) fn best_rung(problem: &Problem, batch: Option<Batch>, hear: Hear<'_>) -> Reached {
    let mut searches = Searches { batch, proof: ProofCounts::default(), complete: true, hear };
    let tell = |searches: Searches<'_>, found, asked| Reached {
        found,
        asked,
        proof: searches.proof,
        complete: searches.complete,
    };
    if problem.is_as_now() {
        let found = searches.run(problem);
        return tell(searches, found, problem.clone());
    }
    let rungs = Rung::from(problem.surety, &problem.wishes);
    let asked = rungs.first().map_or_else(|| problem.clone(), |rung| problem.on(*rung, rung.deviations()));
    if let Some(rung) = rungs.first().copied()
        && let Some(present) = as_it_is(problem, batch, rung)
    {
        return tell(searches, vec![present], asked);
    }
    for rung in rungs {
        let (_, found) = searches.on(problem, rung);
        if !found.is_empty() {
            return tell(searches, found, asked);
        }
        if !searches.complete {
            return tell(searches, stays(problem, batch).into_iter().collect(), asked);
        }
    }
    let found = searches.run(&problem.without_holding());
    tell(searches, found, asked)
}
