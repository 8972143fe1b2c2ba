//! Recipes found, with the figures that a maker wants to see of them.

use super::{
    states::{Change, Figures, Miss, States},
    words,
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
    /// Percentages in the order of the candidates.
    pub amounts: Vec<f64>,
    /// What differs.
    pub changes: Vec<Change>,
    /// How much is shifted, percent of the recipe.
    pub shift: f64,
    /// What carries it.
    pub lever: Option<Lever>,
    /// Whether every demand is met.
    pub met: bool,
    /// Bands of the wishes that are not met; where it is to be as now, what differs.
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
    let present = Figures::of(problem, &problem.now());
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
    let miss = |of: &Proposal| of_recipe(of.misses.iter().map(|miss| miss.band.miss(miss.found)).sum());
    let most = |of: &Proposal| [of.states.coldest.solid_percent, of.states.skin.solid_percent];
    let least = |of: &Proposal| of.states.hottest.solid_percent;
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
        let present = Figures::of(problem, &problem.now());
        propose(problem, &present, Found { amounts: amounts.to_vec(), merit, lever: None, place: None })
    }
}

fn propose(problem: &Problem, present: &Figures, found: Found) -> Proposal {
    let figures = Figures::of(problem, &found.amounts);
    let changes: Vec<Change> = problem
        .candidates
        .iter()
        .zip(&found.amounts)
        .enumerate()
        .filter(|(_, (candidate, to))| (*to - candidate.now).abs() > ON_GRID)
        .map(|(at, (candidate, to))| Change { candidate: at, from: candidate.now, to: *to })
        .collect();
    let misses = figures.misses(problem);
    let shift = tidy(changes.iter().map(|change| (change.to - change.from).max(0.0)).sum());
    let mut words =
        words::describe(problem, &changes, shift, &present.states, &figures.states, !misses.is_empty());
    let met = found.merit.miss == 0;
    // How it is now is hardly ever met to the digit.
    if !met && misses.is_empty() && !problem.is_as_now() {
        words.push_str(" It meets every wish, but not with the margin that was asked for.");
    }
    Proposal {
        amounts: found.amounts,
        changes,
        shift,
        lever: found.lever,
        met,
        misses,
        slip_c: figures.slip_c,
        clear_c: figures.clear_c,
        states: figures.states,
        words,
    }
}
