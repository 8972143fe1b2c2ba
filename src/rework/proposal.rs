//! Recipes found, with the figures that a maker wants to see of them.

use super::{
    demand::Demand,
    judge::{Judge, figure, of_recipe},
    merit::{Lever, Merit},
    problem::Problem,
    region::tidy,
    search::{Found, Proof, Search},
    watch::{REPORT_AFTER, Watch},
    words,
};
use crate::{
    behaviour::{self, Band, Where, Wish},
    equilibrium::{Blend, Equilibrium, Part, State},
};

/// One line that changes.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Which candidate.
    pub candidate: usize,
    /// Percent before.
    pub from: f64,
    /// Percent after.
    pub to: f64,
}

/// The states at the temperatures that decide.
#[derive(Clone, Debug)]
pub struct States {
    /// At the coldest storage.
    pub coldest: Equilibrium,
    /// In the middle of the storage range.
    pub usual: Equilibrium,
    /// At the hottest storage.
    pub hottest: Equilibrium,
    /// On skin.
    pub skin: Equilibrium,
}

impl States {
    /// The state at a place.
    pub fn at(&self, place: Where) -> &Equilibrium {
        match place {
            Where::Coldest => &self.coldest,
            Where::Usual => &self.usual,
            Where::Hottest => &self.hottest,
            Where::Skin => &self.skin,
        }
    }
}

/// A band that is not met.
#[derive(Clone, Debug)]
pub struct Miss {
    /// The band.
    pub band: Band,
    /// What the recipe gives, percent.
    pub found: f64,
}

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

/// What counts as a difference from how it is now, percent points: one lot of a natural fat differs from the next by more.
const DIFFERS: f64 = 0.5;

/// The most proposals in an answer.
const MOST_PROPOSALS: usize = 6;

/// Searches to the end.
pub fn rework(problem: &Problem) -> Outcome {
    let mut search = Search::new(problem);
    while !search.step(u32::MAX).done {}
    conclude(problem, &search)
}

/// Searches to the end, or until stopped.
fn finish(problem: &Problem, mut search: Search<'_>, watch: &mut Watch<'_>) -> Option<Outcome> {
    loop {
        let progress = search.step(REPORT_AFTER);
        if watch.passes_on(progress) {
            return None;
        }
        if progress.done {
            return Some(conclude(problem, &search));
        }
    }
}

/// What stands in the way: a wish, or several that only together give way.
#[derive(Clone, Debug)]
pub struct Spared {
    /// Which, and by how many percent points each is missed when all the others are met; at least one.
    pub wishes: Vec<(Wish, f64)>,
    /// The recipe that does so.
    pub proposal: Proposal,
}

impl Spared {
    /// What a recipe misses, if that is among these wishes.
    fn of(wishes: &[Wish], proposal: Proposal) -> Option<Spared> {
        let misses = proposal.misses.iter().map(|miss| (miss.band.wish, miss.band.miss(miss.found)));
        let misses: Vec<(Wish, f64)> = misses.collect();
        let among = misses.iter().all(|(wish, _)| wishes.contains(wish));
        (among && !misses.is_empty()).then_some(Spared { wishes: misses, proposal })
    }
}

/// For each wish, the recipe that meets all the others and misses this one by the least, where there is one. Two wishes on the same
/// figure, of which neither gives way alone, count as one. Where nothing gives way so, all that `nearest` misses, the recipe that misses the
/// least in all.
pub fn why_not(problem: &Problem, nearest: &Proposal, watch: &mut Watch<'_>) -> Vec<Spared> {
    let mut spare = |wishes: &[Wish]| {
        let demands = Demand::all_but(&problem.demands, wishes);
        let spared = Problem { demands, ..problem.clone() };
        let found = finish(&spared, Search::new(&spared), watch)?;
        Spared::of(wishes, found.proposals.into_iter().next()?)
    };
    let mut found: Vec<Spared> = Vec::new();
    let mut alone: Vec<&Demand> = Vec::new();
    for demand in &problem.demands {
        let wish = demand.band.wish;
        if let Some(spared) = spare(&[wish]) {
            found.push(spared);
            continue;
        }
        let same = |it: &&Demand| it.celsius == demand.celsius && it.band.quantity == demand.band.quantity;
        if let Some(other) = alone.iter().copied().find(same) {
            found.extend(spare(&[other.band.wish, wish]));
        }
        alone.push(demand);
    }
    if found.is_empty() && !watch.is_stopped() {
        let all: Vec<Wish> = problem.demands.iter().map(|demand| demand.band.wish).collect();
        found.extend(Spared::of(&all, nearest.clone()));
    }
    found
}

/// The best without a margin; `None` where the question has none, or the search was stopped.
pub fn without_margin(problem: &Problem, watch: &mut Watch<'_>) -> Option<Proposal> {
    let demands = Demand::of(&problem.wishes);
    let same = demands
        .iter()
        .zip(&problem.demands)
        .all(|(a, b)| a.band.wish != b.band.wish || (a.band.low == b.band.low && a.band.high == b.band.high));
    if same && !problem.any_step {
        return None;
    }
    let plain = Problem { demands, any_step: false, ..problem.clone() };
    finish(&plain, Search::new(&plain), watch)?.proposals.into_iter().next()
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

pub(super) struct Figures {
    pub(super) states: States,
    pub(super) slip_c: Option<f64>,
    pub(super) clear_c: Option<f64>,
}

impl Figures {
    pub(super) fn of(problem: &Problem, amounts: &[f64]) -> Figures {
        let parts: Vec<Part<'_>> = problem.candidates.iter().map(|candidate| candidate.line.part()).collect();
        let mixture = Blend::new(&parts, State::Settled).mixture(amounts);
        let at = |place| mixture.at(problem.wishes.temperature_c(place));
        Figures {
            states: States {
                coldest: at(Where::Coldest),
                usual: at(Where::Usual),
                hottest: at(Where::Hottest),
                skin: at(Where::Skin),
            },
            slip_c: behaviour::slip_point(&mixture).celsius,
            clear_c: behaviour::clear_point(&mixture).celsius,
        }
    }
}

impl Figures {
    /// The bands of the wishes that are not met; where it is to be as now, what differs.
    pub(super) fn misses(&self, problem: &Problem) -> Vec<Miss> {
        let found = |band: &Band| figure(band.quantity, self.states.at(band.place));
        let (bands, least) = if problem.is_as_now() {
            (problem.demands.iter().map(|demand| demand.band).collect(), DIFFERS)
        } else {
            (problem.wishes.bands(), 0.0)
        };
        bands
            .into_iter()
            .map(|band| Miss { band, found: found(&band) })
            .filter(|miss| miss.band.miss(miss.found) > least)
            .collect()
    }
}

impl Proposal {
    /// A recipe of these percentages as a proposal.
    pub fn of(problem: &Problem, amounts: &[f64]) -> Proposal {
        let mut judge = Judge::new(problem);
        let miss = judge.miss_weighed(problem, amounts, u64::MAX);
        let merit = Merit::new(problem, amounts, miss);
        let present = Figures::of(problem, &problem.now());
        propose(problem, &present, Found { amounts: amounts.to_vec(), merit, lever: None })
    }
}

fn propose(problem: &Problem, present: &Figures, found: Found) -> Proposal {
    let figures = Figures::of(problem, &found.amounts);
    let changes: Vec<Change> = problem
        .candidates
        .iter()
        .zip(&found.amounts)
        .enumerate()
        .filter(|(_, (candidate, to))| (*to - candidate.now).abs() > super::problem::ON_GRID)
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
