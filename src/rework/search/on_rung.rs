//! Looks for recipes on one rung of holding.
//!
//! A rung is looked for by an allowance that can be bounded, and what is found there is judged by lots. Where
//! the best of it does not reach the rung by lots, it is looked for again with as much more room as it lacks.

use super::{
    progress::{Progress, ProofCounts, REPORT_AFTER},
    smallest::{FoundRecipe, Search},
};
use crate::{
    rework::{
        grid::{Batch, Merit},
        question::{Problem, Rung},
    },
    surety::deviations,
};

/// How often a rung is looked for with more room.
pub(super) const TRIES: u32 = 6;

/// By how many standard deviations more at least.
const MORE: f64 = 0.08;

/// With how much more room a rung is looked for again, standard deviations, after
/// what was found reached these odds.
pub(super) fn more_room(rung: Rung, odds: f64) -> f64 {
    (deviations(rung.odds) - deviations(odds)).max(MORE)
}

/// Hears how far a search has come and the best so far, if it is another than
/// the last time; `false` stops it.
pub(crate) type Hear<'h> = &'h mut dyn FnMut(Progress, Option<(&Problem, &FoundRecipe)>) -> bool;

/// Searches, one after the other.
pub(super) struct Searches<'h> {
    /// What becomes of a batch is looked for, not what its recipe may be.
    pub(super) batch: Option<Batch>,
    pub(super) proof: ProofCounts,
    pub(super) complete: bool,
    pub(super) hear: Hear<'h>,
}

impl Searches<'_> {
    /// What a search finds.
    pub(super) fn run(&mut self, problem: &Problem) -> Vec<FoundRecipe> {
        let mut search = match self.batch {
            Some(batch) => Search::of_batch(problem, batch),
            None => Search::new(problem),
        };
        let mut told = None;
        loop {
            let progress = search.step(REPORT_AFTER);
            if progress.done {
                break;
            }
            let done = self.proof.decided();
            let progress =
                Progress { done: false, decided: done + progress.decided, total: done + progress.total };
            let best = search.best().filter(|best| told.as_ref() != Some(&best.merit));
            told = best.map(|best| best.merit.clone()).or(told);
            let most = problem.work.unwrap_or(u64::MAX);
            let spent = self.proof.equilibria + search.proof().equilibria >= most;
            if spent || !(self.hear)(progress, best.map(|best| (problem, best))) {
                self.complete = false;
                break;
            }
        }
        self.proof = self.proof.and(search.proof());
        search.found()
    }

    /// What reaches a rung, the best first, with the odds of the best; where
    /// nothing does, what comes nearest.
    pub(super) fn on(&mut self, problem: &Problem, rung: Rung) -> (f64, Vec<FoundRecipe>) {
        let mut room = rung.deviations();
        let mut surest: (f64, Vec<FoundRecipe>) = (0.0, Vec::new());
        for _ in 0..TRIES {
            let mut found = self.run(&problem.on(rung, room)).into_iter();
            let Some(first) = found.next() else { break };
            let odds = problem.odds(&first.amounts, rung);
            if odds >= rung.odds {
                let others = found.filter(|it| problem.odds(&it.amounts, rung) >= rung.odds);
                return (odds, std::iter::once(first).chain(others).collect());
            }
            room += more_room(rung, odds);
            if odds > surest.0 {
                surest = (odds, vec![first]);
            }
            if !self.complete {
                break;
            }
        }
        surest
    }
}

/// The recipe as it is, if it may stay so; what it misses is not looked at.
pub(super) fn stays(problem: &Problem, batch: Option<Batch>) -> Option<FoundRecipe> {
    let amounts = problem.amounts();
    let may = batch.is_some() || problem.admits(&amounts);
    may.then(|| FoundRecipe {
        merit: Merit::of(problem, &amounts, u64::MAX),
        amounts,
        lever: None,
        place: None,
    })
}
