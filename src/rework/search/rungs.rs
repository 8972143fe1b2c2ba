//! The search of a rework: on the rung of holding that is asked for, else on the best there is.
//!
//! A rung is looked for by an allowance that can be bounded, and what is found there is judged by lots. Where
//! the best of it does not reach the rung by lots, it is looked for again with as much more room as it lacks.

use super::{
    progress::{Progress, ProofCounts, REPORT_AFTER},
    smallest::{FoundRecipe, Search},
};
use crate::{
    behaviour::Wishes,
    recipe::Recipe,
    rework::{
        bound::Evaluator,
        grid::{Batch, Merit},
        question::{Problem, Rung},
    },
    surety::{Surety, Unknowns, deviations},
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

/// What was found.
pub(crate) struct Reached {
    /// The best of each lever, best first: as many matters of feel met in each, and as many lines changed.
    pub(crate) found: Vec<FoundRecipe>,
    /// The question as it was put last, on the rung that was asked for.
    pub(crate) asked: Problem,
    pub(crate) proof: ProofCounts,
    /// Whether the search went to its end.
    pub(crate) complete: bool,
}

/// Hears how far a search has come and the best so far, if it is another than
/// the last time; `false` stops it.
pub(crate) type Hear<'h> = &'h mut dyn FnMut(Progress, Option<(&Problem, &FoundRecipe)>) -> bool;

/// Searches, one after the other.
struct Searches<'h> {
    /// What becomes of a batch is looked for, not what its recipe may be.
    batch: Option<Batch>,
    proof: ProofCounts,
    complete: bool,
    hear: Hear<'h>,
}

impl Searches<'_> {
    /// What a search finds.
    fn run(&mut self, problem: &Problem) -> Vec<FoundRecipe> {
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
    fn on(&mut self, problem: &Problem, rung: Rung) -> (f64, Vec<FoundRecipe>) {
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

impl Problem {
    /// The odds by lots that a recipe holds at the temperature of a rung.
    pub(crate) fn odds(&self, amounts: &[f64], rung: Rung) -> f64 {
        let hottest_c = self.wishes.hottest_c - rung.cooler_k;
        let wishes = Wishes { hottest_c, ..self.wishes };
        Unknowns::of(&self.recipe(amounts)).odds(&wishes).holds
    }

    /// Whether a recipe holds as surely as was asked, by lots.
    pub(crate) fn holds_as_asked(&self, amounts: &[f64]) -> bool {
        let odds = self.surety.odds();
        self.odds(amounts, Rung { odds, cooler_k: 0.0 }) >= odds
    }

    /// The recipe of these amounts.
    pub fn recipe(&self, amounts: &[f64]) -> Recipe {
        let held = self.candidates.iter().zip(amounts).filter(|(_, percent)| **percent > 0.0);
        Recipe::of_parts(held.map(|(found, percent)| {
            let mut line = found.line.clone();
            line.percent = *percent;
            line
        }))
    }
}

/// The recipe as it is, if it may stay so; what it misses is not looked at.
fn stays(problem: &Problem, batch: Option<Batch>) -> Option<FoundRecipe> {
    let amounts = problem.amounts();
    let may = batch.is_some() || problem.admits(&amounts);
    may.then(|| FoundRecipe {
        merit: Merit::of(problem, &amounts, u64::MAX),
        amounts,
        lever: None,
        place: None,
    })
}

/// The recipe as it is, if it does all that is wanted: judged by lots, as what is found is.
fn as_it_is(problem: &Problem, batch: Option<Batch>, rung: Rung) -> Option<FoundRecipe> {
    let mut present = stays(problem, batch)?;
    let feels = Evaluator::new(&problem.without_holding()).miss_of(&present.amounts) == 0;
    present.merit.miss = 0;
    (feels && problem.odds(&present.amounts, rung) >= rung.odds).then_some(present)
}

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
