//! Recipes found, with the figures that a maker wants to see of them.

use super::{
    finding::{Finding, of_rework},
    states::{Change, Foreseen, States},
};
use crate::rework::{
    bound::{Evaluator, of_recipe},
    grid::{Lever, Merit, tidy},
    question::{ON_GRID, Problem},
    search::{Found, Proof, Search},
};

/// One rework.
#[derive(Clone, Debug)]
pub struct Proposal {
    /// What is foreseen of it.
    pub after: Foreseen,
    /// What differs.
    pub changes: Vec<Change>,
    /// How much is shifted, percent of the recipe.
    pub shift: f64,
    /// What carries it.
    pub lever: Option<Lever>,
    /// Whether every demand is met.
    pub met: bool,
    /// What it does, why and at what cost.
    pub findings: Vec<Finding>,
}

/// The answer to a [`Problem`].
#[derive(Clone, Debug)]
pub struct Outcome {
    /// The best first; none is dominated by another.
    pub proposals: Vec<Proposal>,
    /// What was done to be sure.
    pub proof: Proof,
}

/// The most proposals in an answer.
const MOST_PROPOSALS: usize = 6;

/// Searches to the end.
pub fn rework(problem: &Problem) -> Outcome {
    let mut search = Search::new(problem);
    while !search.step(u32::MAX).done {}
    conclude(problem, &search)
}

/// What a finished search amounts to.
pub fn conclude(problem: &Problem, search: &Search<'_>) -> Outcome {
    let present = Foreseen::of(problem, &problem.now()).states;
    let mut proposals: Vec<Proposal> = Vec::new();
    for found in search.found() {
        let proposal = propose(problem, &present, found);
        if !proposals.iter().any(|better| dominates(better, &proposal)) {
            proposals.push(proposal);
        }
    }
    proposals.truncate(MOST_PROPOSALS);
    Outcome { proposals, proof: search.proof() }
}

/// Whether `a`, which comes first in merit, is at least as good as `b` in every way that shows.
fn dominates(a: &Proposal, b: &Proposal) -> bool {
    let newcomers = |of: &Proposal| of.changes.iter().filter(|change| change.from <= 0.0).count();
    let miss = |of: &Proposal| of_recipe(of.after.misses.iter().map(|miss| miss.band.miss(miss.found)).sum());
    let most = |of: &Proposal| [of.after.states.coldest.solid_percent, of.after.states.skin.solid_percent];
    let least = |of: &Proposal| of.after.states.hottest.solid_percent;
    miss(a) <= miss(b)
        && a.changes.len() <= b.changes.len()
        && a.shift <= b.shift
        && newcomers(a) <= newcomers(b)
        && most(a).iter().zip(most(b)).all(|(a, b)| *a <= b)
        && least(a) >= least(b)
}

impl Proposal {
    /// A recipe of these percentages as a proposal.
    pub fn of(problem: &Problem, amounts: &[f64]) -> Proposal {
        let mut evaluator = Evaluator::new(problem);
        let miss = evaluator.miss_weighed(problem, amounts, u64::MAX);
        let merit = Merit::of(problem, amounts, miss);
        let present = Foreseen::of(problem, &problem.now()).states;
        propose(problem, &present, Found { amounts: amounts.to_vec(), merit, lever: None, place: None })
    }
}

fn propose(problem: &Problem, before: &States, found: Found) -> Proposal {
    let after = Foreseen::of(problem, &found.amounts);
    let changes: Vec<Change> = problem
        .candidates
        .iter()
        .zip(&found.amounts)
        .enumerate()
        .filter(|(_, (candidate, to))| (*to - candidate.now).abs() > ON_GRID)
        .map(|(at, (candidate, to))| Change { candidate: at, from: candidate.now, to: *to })
        .collect();
    let shift = tidy(changes.iter().map(|change| (change.to - change.from).max(0.0)).sum());
    let misses = !after.misses.is_empty();
    let mut findings = of_rework(problem, &changes, shift, before, &after.states, misses);
    let met = found.merit.miss == 0;
    // How it is now is hardly ever met to the digit.
    if !met && !misses && !problem.is_as_now() {
        findings.push(Finding::WithoutMargin);
    }
    Proposal { after, changes, shift, lever: found.lever, met, findings }
}
