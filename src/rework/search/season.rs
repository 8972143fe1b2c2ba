//! One season of two: which of its recipes are good, and how small a change they are.

use std::collections::BTreeSet;

use super::{
    best_first::{BestFirst, Goal, GridRecipe},
    progress::{ProofCounts, Watch},
    queue::{Key, Node, Queue},
};
use crate::rework::{
    bound::{Evaluator, LeastMiss},
    grid::{ChangeCost, Grid, Percents, Region, Support},
    question::Problem,
};

/// Recipes of one region: a single good one, or some of which none is known to be good.
#[derive(Clone, Copy)]
pub(crate) struct Branch {
    pub(crate) region: Region,
    /// The least that any of them moves, millionths of a percent.
    pub(crate) shift: i64,
    /// Whether it is a single recipe, and good.
    pub(crate) good: bool,
}

/// Sets of changing lines, with their directions, in which some recipe is good: the goal is to know of each.
#[derive(Default)]
struct SomeGoodOfEach {
    supports: BTreeSet<Support>,
    first: Option<Vec<f64>>,
}

impl Goal for SomeGoodOfEach {
    fn may_miss(&self, _: &[Region]) -> u64 {
        0
    }

    fn has_better(&self, _: Key, regions: &[Region]) -> bool {
        regions.iter().all(|region| self.supports.contains(&region.support))
    }

    fn wants_good(&self) -> bool {
        true
    }

    fn take(&mut self, _: &dyn Grid, recipe: GridRecipe) {
        self.supports.insert(recipe.support);
        self.first.get_or_insert(recipe.amounts);
    }
}

/// Good recipes of which none moves more than the least: the goal is to know all that move least.
struct AllOfLeastShift {
    good: Vec<Branch>,
    least: i64,
}

impl Goal for AllOfLeastShift {
    fn may_miss(&self, _: &[Region]) -> u64 {
        0
    }

    fn has_better(&self, _: Key, _: &[Region]) -> bool {
        false
    }

    fn wants_good(&self) -> bool {
        false
    }

    fn take(&mut self, grid: &dyn Grid, GridRecipe { support, point, .. }: GridRecipe) {
        let branch = Branch::of(grid, Region::only(support, point), true);
        self.least = self.least.min(branch.shift);
        self.good.push(branch);
    }
}

impl Branch {
    fn of(grid: &dyn Grid, region: Region, good: bool) -> Branch {
        Branch { region, shift: grid.least_shift(&region), good }
    }
}

/// A season: its question, and what is known of it.
pub(crate) struct Season<'p> {
    pub(crate) grid: Percents<'p>,
    search: BestFirst<'p>,
    /// By how many lines change, once it is known: the regions in which some recipe is good.
    branches: [Option<Vec<Branch>>; 4],
    /// A good recipe, the first that came.
    pub(crate) any: Option<Vec<f64>>,
}

impl<'p> Season<'p> {
    pub(crate) fn new(problem: &'p Problem) -> Season<'p> {
        let (grid, evaluator) = (Percents::by_shift(problem), Evaluator::new(problem));
        let mut search = BestFirst::new(Box::new(Percents::by_shift(problem)), evaluator);
        let now = problem.amounts();
        let good = grid.keeps_present() && search.evaluator.miss_of(&now) == 0;
        let present = good.then(|| Branch { region: Region::present(), shift: 0, good });
        let branches = [Some(present.into_iter().collect()), None, None, None];
        Season { grid, search, branches, any: good.then_some(now) }
    }

    /// Equilibria solved so far.
    pub(crate) fn equilibria(&self) -> u64 {
        self.search.evaluator.equilibria()
    }

    /// The regions of so many changing lines (0, 2 or 3) in which some recipe is good.
    pub(crate) fn branches(&mut self, count: usize, watch: &mut Watch<'_>) -> Vec<Branch> {
        if let Some(known) = &self.branches[count] {
            return known.clone();
        }
        let mut goal = SomeGoodOfEach::default();
        self.search.proof = ProofCounts::default();
        self.search.take_up(count as u8, &goal);
        watch.expect(self.search.proof.taken_up);
        loop {
            let (decided, solved) = (self.search.proof.decided(), self.equilibria());
            if watch.stops() || !self.search.step(&mut goal) {
                break;
            }
            watch.decide(self.search.proof.decided() - decided);
            watch.spends(self.equilibria() - solved);
        }
        self.search.queue = Queue::default();
        if self.any.is_none() {
            self.any = goal.first;
        }
        let mut regions = self.grid.regions(count as u8);
        regions.retain(|region| goal.supports.contains(&region.support));
        let found: Vec<Branch> =
            regions.into_iter().map(|region| Branch::of(&self.grid, region, false)).collect();
        self.branches[count] = Some(found.clone());
        found
    }

    /// Looks into branches until all their good recipes that move least are known; gives what these move, or
    /// `None` where no recipe is good.
    pub(crate) fn settle(&mut self, branches: &mut Vec<Branch>, watch: &mut Watch<'_>) -> Option<i64> {
        let (good, open): (Vec<Branch>, Vec<Branch>) = branches.iter().partition(|it| it.good);
        let least = good.iter().map(|it| it.shift).min().unwrap_or(i64::MAX);
        let mut goal = AllOfLeastShift { good, least };
        for branch in open {
            self.search.push(Node::Region(branch.region), LeastMiss::default(), None);
        }
        let mut stopped = None;
        while let Some((_, _, ChangeCost { shift, .. })) =
            self.search.queue.first_key().filter(|key| key.2.shift <= goal.least)
        {
            if watch.stops() {
                stopped = Some(shift);
                break;
            }
            let solved = self.equilibria();
            self.search.step(&mut goal);
            watch.spends(self.equilibria() - solved);
        }
        let left = std::mem::take(&mut self.search.queue).into_nodes();
        *branches = goal.good;
        for open in left {
            let regions = open.node.regions().iter();
            branches.extend(regions.map(|region| Branch::of(&self.grid, *region, false)));
        }
        stopped.or((goal.least < i64::MAX).then_some(goal.least))
    }

    /// The recipe of a branch that is a single one.
    pub(crate) fn amounts(&self, branch: &Branch) -> Vec<f64> {
        self.grid.amounts(&branch.region.support, (branch.region.b.0, branch.region.c.0))
    }

    /// What of a branch holds so much of a line, percent.
    pub(crate) fn within(&self, branch: Branch, line: u8, range: (f64, f64)) -> Option<Branch> {
        let region = self.grid.within(branch.region, line, range)?;
        Some(Branch::of(&self.grid, region, branch.good))
    }
}
