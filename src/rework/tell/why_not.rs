//! What stands in the way of every wish being met: the same question with less asked, or with less forbidden.

use super::proposal::{Rework, rework, told};
use crate::{
    behaviour::Wish,
    rework::{
        question::{Demand, Problem, Rung},
        search::{Watch, finish},
    },
};

/// What stands in the way: a wish, or several that only together give way.
#[derive(Clone, Debug)]
pub struct Spared {
    /// Which, and by how many percent points each is missed when all the others are met; at least one.
    pub wishes: Vec<(Wish, f64)>,
    /// The recipe that does so.
    pub proposal: Rework,
}

impl Spared {
    /// What a recipe misses, if that is among these wishes.
    fn of(wishes: &[Wish], proposal: Rework) -> Option<Spared> {
        let misses = proposal.after.misses.iter().map(|miss| (miss.band.wish, miss.band.miss(miss.found)));
        let misses: Vec<(Wish, f64)> = misses.collect();
        let among = misses.iter().all(|(wish, _)| wishes.contains(wish));
        (among && !misses.is_empty()).then_some(Spared { wishes: misses, proposal })
    }
}

/// For each wish, the recipe that meets all the others and misses this one by the least, where there is one.
///
/// Where neither of two wishes on the same figure can be given up alone, the two are given up
/// together. Where nothing can be given up so, what is told is all that `nearest` misses, the
/// recipe that misses the least in all.
pub fn why_not(problem: &Problem, nearest: &Rework, watch: &mut Watch<'_>) -> Vec<Spared> {
    let mut spare = |wishes: &[Wish]| {
        let demands = Demand::all_but(&problem.demands, wishes);
        let spared = Problem { demands, ..problem.clone() };
        let found = finish(&spared, watch)?;
        Spared::of(wishes, told(&spared, found))
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

/// How far a recipe gets with what is wanted; the less, the better.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Standing {
    /// How many rungs of holding lie above the one that it reaches by lots.
    rungs_missed: usize,
    /// How many wishes it misses.
    wishes_missed: usize,
}

impl Standing {
    /// The same, where all rungs from this one down count alike.
    pub(super) fn with_rungs(self, rungs: usize) -> Standing {
        Standing { rungs_missed: self.rungs_missed.min(rungs), ..self }
    }

    /// How far a proposal gets.
    pub fn of(problem: &Problem, proposal: &Rework) -> Standing {
        let rungs = Rung::from(problem.surety, &problem.wishes);
        // Several rungs are of one temperature, where the odds are worked out once.
        let mut at: Option<(f64, f64)> = None;
        let reaches = |rung: &Rung| {
            let known = at.filter(|(cooler_k, _)| *cooler_k == rung.cooler_k).map(|(_, odds)| odds);
            let odds = known.unwrap_or_else(|| problem.odds(&proposal.after.amounts, *rung));
            at = Some((rung.cooler_k, odds));
            odds >= rung.odds
        };
        Standing {
            rungs_missed: rungs.iter().position(reaches).unwrap_or(rungs.len()),
            wishes_missed: proposal.after.misses.len(),
        }
    }
}

/// The best rework of a question of which one limit is lifted, and how far it gets, if that is further than
/// what was found with all of them.
pub fn further(lifted: &Problem, with_all: Standing, watch: &mut Watch<'_>) -> Option<(Standing, Rework)> {
    if watch.is_stopped() {
        return None;
    }
    let lifted = &Problem { work: watch.work(), ..lifted.clone() };
    let outcome = rework(lifted, &mut |progress, _| !watch.passes_on(progress));
    watch.spends(outcome.proof.equilibria);
    watch.passes_on(outcome.proof.progress());
    let found = outcome.complete.then(|| outcome.proposals.into_iter().next()).flatten()?;
    let standing = Standing::of(lifted, &found);
    (standing < with_all).then_some((standing, found))
}
