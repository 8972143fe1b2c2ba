//! Recipes found, with the figures that a maker wants to see of them.

use super::{
    finding::{ReworkFinding, of_rework},
    states::{CandidateChange, Forecast, States},
};
use crate::rework::{
    grid::{Lever, Merit, tidy},
    question::{ON_GRID, Problem},
    search::{Climbed, FoundRecipe, Progress, ProofCounts, Reached, best_rung, climb},
};

/// One rework.
#[derive(Clone, Debug)]
pub struct Rework {
    /// What is foreseen of it.
    pub after: Forecast,
    /// What differs.
    pub changes: Vec<CandidateChange>,
    /// How much is shifted, percent of the recipe.
    pub shift: f64,
    /// What it costs the maker, percent of the recipe: the shift, weighed by what
    /// moves, and what newcomers cost.
    pub effort: i64,
    /// What carries it.
    pub lever: Option<Lever>,
    /// Whether it does all that was asked.
    pub met: bool,
    /// What it does, why and at what cost.
    pub findings: Vec<ReworkFinding>,
}

/// The answer to a [`Problem`].
#[derive(Clone)]
pub struct Reworks {
    /// The best first; none is dominated by another.
    pub proposals: Vec<Rework>,
    /// The question as it was put on the rung that was asked for.
    pub asked: Problem,
    /// What was done to be sure.
    pub proof: ProofCounts,
    /// Whether the search went to its end.
    pub complete: bool,
}

/// The most proposals in an answer.
const MOST_PROPOSALS: usize = 6;

/// Searches to the end, or until `report` gives `false`; it hears how far the search has come, and the best
/// so far where that is another than the last time.
pub fn rework(problem: &Problem, report: &mut dyn FnMut(Progress, Option<Rework>) -> bool) -> Reworks {
    let present = Forecast::of(problem, &problem.now()).states;
    let mut hear = |progress, best: Option<(&Problem, &FoundRecipe)>| {
        report(progress, best.map(|(_, found)| propose(problem, &present, found.clone())))
    };
    let Reached { found, asked, proof, complete } = best_rung(problem, None, &mut hear);
    let mut proposals: Vec<Rework> = Vec::new();
    for found in found {
        let proposal = propose(problem, &present, found);
        if !proposals.iter().any(|better| dominates(better, &proposal)) {
            proposals.push(proposal);
        }
    }
    proposals.truncate(MOST_PROPOSALS);
    Reworks { proposals, asked, proof, complete }
}

/// What each rung of holding costs, told.
#[derive(Clone)]
pub struct Ladder {
    /// The odds of each rung, and what reaches it for least; the least sure first.
    pub rungs: Vec<(f64, Rework)>,
    /// Whether the search went to its end.
    pub complete: bool,
}

/// What each rung of holding costs, from where the recipe is now up to the surest that there is.
/// `report` hears how far it has come.
pub fn ladder(problem: &Problem, report: &mut dyn FnMut(Progress, Option<Rework>) -> bool) -> Ladder {
    let present = Forecast::of(problem, &problem.now()).states;
    let Climbed { rungs, complete } = climb(problem, &mut |progress, _| report(progress, None));
    let tell = |(odds, found): (f64, FoundRecipe)| (odds, propose(problem, &present, found));
    Ladder { rungs: rungs.into_iter().map(tell).collect(), complete }
}

/// Whether `a`, which comes first in merit, is at least as good as `b` in every way that shows.
fn dominates(a: &Rework, b: &Rework) -> bool {
    let newcomers = |of: &Rework| of.changes.iter().filter(|change| change.from <= 0.0).count();
    let most = |of: &Rework| [of.after.states.coldest.solid_percent, of.after.states.skin.solid_percent];
    let least = |of: &Rework| of.after.states.hottest.solid_percent;
    a.changes.len() <= b.changes.len()
        && a.effort <= b.effort
        && newcomers(a) <= newcomers(b)
        && most(a).iter().zip(most(b)).all(|(a, b)| *a <= b)
        && least(a) >= least(b)
}

impl Rework {
    /// A recipe of these percentages as a proposal.
    pub fn of(problem: &Problem, amounts: &[f64]) -> Rework {
        let merit = Merit::of(problem, amounts, 0);
        let present = Forecast::of(problem, &problem.now()).states;
        propose(problem, &present, FoundRecipe { amounts: amounts.to_vec(), merit, lever: None, place: None })
    }
}

fn propose(problem: &Problem, before: &States, found: FoundRecipe) -> Rework {
    let after = Forecast::of(problem, &found.amounts);
    let changes: Vec<CandidateChange> = problem
        .candidates
        .iter()
        .zip(&found.amounts)
        .enumerate()
        .filter(|(_, (candidate, to))| (*to - candidate.now).abs() > ON_GRID)
        .map(|(at, (candidate, to))| CandidateChange { candidate: at, from: candidate.now, to: *to })
        .collect();
    let shift = tidy(changes.iter().map(|change| (change.to - change.from).max(0.0)).sum());
    let met = after.is_met();
    let findings = of_rework(problem, &changes, shift, before, &after);
    let effort = found.merit.cost.effort;
    Rework { after, changes, shift, effort, lever: found.lever, met, findings }
}

/// What a search that was run on the side found, told.
pub(super) fn told(problem: &Problem, found: FoundRecipe) -> Rework {
    let present = Forecast::of(problem, &problem.now()).states;
    propose(problem, &present, found)
}
