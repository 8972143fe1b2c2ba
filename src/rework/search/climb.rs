//! The search of a ladder: the best recipe of every rung, from the recipe as it is up to the surest there is.

use super::{
    on_rung::{Hear, Searches, stays},
    progress::ProofCounts,
    smallest::FoundRecipe,
};
use crate::{
    rework::question::{Problem, Rung},
    surety::Surety,
};

/// The best recipe of each rung.
pub(crate) struct Climbed {
    /// The odds of a rung, and the recipe that reaches it for least, the least sure first. The first is the
    /// recipe as it is, where it may stay so, at the odds of the rung that it is on, or 0.
    pub(crate) rungs: Vec<(f64, FoundRecipe)>,
    /// Whether the search went to its end.
    pub(crate) complete: bool,
}

/// What each rung costs, from where the recipe is now up to the surest that there is.
pub(crate) fn climb(problem: &Problem, hear: Hear<'_>) -> Climbed {
    let mut searches = Searches { batch: None, proof: ProofCounts::default(), complete: true, hear };
    let mut ladder = Rung::from(Surety::Sure, &problem.wishes);
    ladder.retain(|rung| rung.cooler_k == 0.0);
    let mut rungs: Vec<(f64, FoundRecipe)> = Vec::new();
    if let Some(present) = stays(problem, None) {
        let odds = problem.odds(&present.amounts, Rung { odds: 1.0, cooler_k: 0.0 });
        let on = ladder.iter().find(|rung| odds >= rung.odds).map_or(0.0, |rung| rung.odds);
        rungs.push((on, present));
    }
    for rung in ladder.into_iter().rev() {
        if rungs.last().is_some_and(|(reached, _)| *reached >= rung.odds) {
            continue;
        }
        let (odds, found) = searches.on(problem, rung);
        let Some(best) = found.into_iter().next() else { break };
        if odds < rung.odds || !searches.complete {
            break;
        }
        // What reaches a rung may reach the next as well.
        if rungs.last().is_none_or(|(_, last)| last.amounts != best.amounts) {
            rungs.push((rung.odds, best));
        } else if let Some(last) = rungs.last_mut() {
            last.0 = rung.odds;
        }
    }
    Climbed { rungs, complete: searches.complete }
}
