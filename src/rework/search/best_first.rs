//! The one loop of all searches: branch and bound, best first.
//!
//! A node is a region of recipes, or several. It is left out if it cannot be of interest any more; else
//! bounded, and excluded, cut to what the bound leaves, or halved, until few recipes are left, which are
//! solved. What is of interest is for the search's [`Goal`] to say.

use super::{
    progress::ProofCounts,
    queue::{Key, Node, Open, Queue},
    trios,
};
use crate::rework::{
    bound::{Bound, Evaluator, Expected, LeastMiss, LinearModel, cut, in_grains, units},
    grid::{Grid, GridPoint, Region, Support},
};

/// Regions of up to so many recipes are solved one by one: a bound costs as much.
const FEW: u64 = 3;

/// What a search is after.
pub(crate) trait Goal {
    /// What a recipe of these regions may miss by at most and still be of interest, in [`units`].
    fn may_miss(&self, regions: &[Region]) -> u64;

    /// Whether something better is known than every recipe of these regions, which come
    /// at `key` in the order of merit.
    fn has_better(&self, key: Key, regions: &[Region]) -> bool;

    /// Whether any recipe that meets every band would be news.
    fn wants_good(&self) -> bool;

    /// Takes a recipe that misses by no more than it may.
    fn take(&mut self, grid: &dyn Grid, recipe: GridRecipe);
}

/// A recipe that was solved.
pub(crate) struct GridRecipe {
    pub(crate) support: Support,
    pub(crate) point: GridPoint,
    /// Percent by candidate.
    pub(crate) amounts: Vec<f64>,
    /// In [`units`].
    pub(crate) miss: u64,
}

/// A search under way, whatever its goal.
pub(crate) struct BestFirst<'p> {
    pub(crate) grid: Box<dyn Grid + 'p>,
    pub(crate) evaluator: Evaluator,
    /// Once it is needed.
    linear: Option<LinearModel>,
    pub(crate) queue: Queue,
    pub(crate) proof: ProofCounts,
    /// Whether it is known that no recipe meets every band.
    pub(crate) none_good: bool,
}

impl<'p> BestFirst<'p> {
    pub(crate) fn new(grid: Box<dyn Grid + 'p>, evaluator: Evaluator) -> BestFirst<'p> {
        BestFirst {
            grid,
            evaluator,
            linear: None,
            queue: Queue::default(),
            proof: ProofCounts::default(),
            none_good: false,
        }
    }

    /// The linear model around the present recipe, and what solves recipes.
    pub(crate) fn model(&mut self) -> (&mut Evaluator, &LinearModel) {
        let evaluator = &mut self.evaluator;
        let linear = self.linear.get_or_insert_with(|| LinearModel::around(evaluator, self.grid.present()));
        (evaluator, linear)
    }

    fn linear(&mut self) -> &LinearModel {
        self.model().1
    }

    /// Takes up all recipes in which so many lines change.
    pub(crate) fn take_up(&mut self, count: u8, goal: &dyn Goal) {
        let regions = self.grid.regions(count);
        let newcomers = self.grid.newcomers();
        let mut joining: Vec<Region> = Vec::new();
        for directions in regions.chunk_by(|a, b| a.support.lines == b.support.lines) {
            self.proof.supports += 1;
            match directions {
                [region] if region.brings(&newcomers) => joining.push(*region),
                _ => self.take_up_nodes(Node::of_directions(&*self.grid, directions), goal),
            }
        }
        for of_one_line in joining.chunk_by(|a, b| a.support.lines[0] == b.support.lines[0]) {
            let share_alone = |steps| self.grid.share_alone(steps);
            let nodes = trios::together(&share_alone, of_one_line, &newcomers);
            self.take_up_nodes(nodes, goal);
        }
    }

    fn take_up_nodes(&mut self, nodes: impl IntoIterator<Item = Node>, goal: &dyn Goal) {
        for node in nodes {
            self.proof.taken_up += node.count();
            let promise = if goal.wants_good() { self.promise(&node) } else { None };
            self.push(node, LeastMiss::default(), promise);
        }
    }

    pub(crate) fn push(&mut self, node: Node, least: LeastMiss, promise: Option<u64>) {
        let key = node.key(&*self.grid, in_grains(least.sum()));
        self.queue.push(Open { key, node, least }, promise);
    }

    /// How much a node promises a recipe that meets every band, as the linear model has it.
    fn promise(&mut self, node: &Node) -> Option<u64> {
        let (lines, corners) = node.corners(&*self.grid);
        self.linear().promise(&lines, &corners).map(units)
    }

    /// Decides the next node: leaves it out, excludes it, solves its recipes, or puts what is left of it
    /// back. `false` where none waits.
    pub(crate) fn step(&mut self, goal: &mut dyn Goal) -> bool {
        let Some(Open { key, node, least }) = self.queue.pop(goal.wants_good() && !self.none_good) else {
            return false;
        };
        let others_miss = self.queue.first_key().is_none_or(|first| first.0 > 0);
        self.none_good |= goal.wants_good() && key.0 > 0 && others_miss;
        let (count, may_miss) = (node.count(), goal.may_miss(node.regions()));
        if key.0 > may_miss {
            self.proof.excluded_by_bound += count;
        } else if goal.has_better(key, node.regions()) {
            self.proof.excluded_by_merit += count;
        } else {
            self.branch(&node, least, may_miss, goal);
        }
        true
    }

    /// Bounds a node at one temperature after the other, and goes on with what is left of it.
    fn branch(&mut self, node: &Node, mut least: LeastMiss, may_miss: u64, goal: &mut dyn Goal) {
        let count = node.count();
        let is_one = matches!(node, Node::Region(_));
        let mut regions = node.regions().to_vec();
        regions.retain(|region| !self.grid.forbids(region));
        let mut at_centre = 0.0;
        if count > FEW && !regions.is_empty() {
            let (lines, mut corners) = node.corners(&*self.grid);
            let expected = self.linear().expected(&lines, &corners);
            let leaves_open = least.may_leave_open(expected.iter().any(|it| it.meets));
            for Expected { temperature, meets, .. } in expected {
                if leaves_open && meets {
                    continue;
                }
                if let (true, [region]) = (is_one, &regions[..]) {
                    corners = self.grid.corners(region);
                }
                let bound: Bound = self.evaluator.bound(temperature, &lines, &corners);
                at_centre += bound.at_centre;
                let elsewhere = least.raise(temperature, bound.least);
                if least.sum() > may_miss {
                    regions.clear();
                } else {
                    let may_miss_here = may_miss.saturating_sub(elsewhere);
                    let slacks = &self.evaluator.slacks;
                    let steps = |shares| self.grid.steps(shares);
                    cut(&mut regions, &lines, &corners, &steps, slacks, may_miss_here);
                }
                if regions.is_empty() {
                    break;
                }
            }
        }
        let left: u64 = regions.iter().map(Region::count).sum();
        self.proof.excluded_by_bound += count - left;
        let promises = goal.wants_good() && least.sum() == 0;
        let at_centre = promises.then(|| units(at_centre));
        for region in regions {
            if region.count() <= FEW {
                self.solve(&region, may_miss, goal);
            } else if is_one && 2 * left > count {
                let linear = self.linear();
                let halves = region.halves_by(&|part| linear.spread(part));
                for half in halves.into_iter().flatten() {
                    self.push(Node::Region(half), least, at_centre);
                }
            } else {
                let node = Node::Region(region);
                let promise = if is_one || !promises { at_centre } else { self.promise(&node) };
                self.push(node, least, promise);
            }
        }
    }

    /// Solves every recipe of a region, as far as it is of interest.
    fn solve(&mut self, region: &Region, may_miss: u64, goal: &mut dyn Goal) {
        let support = region.support;
        let (lines, count) = support.lines();
        let lines = &lines[..count];
        for point in region.points() {
            self.proof.solved += 1;
            let amounts = self.grid.amounts(&support, point);
            if !self.grid.admits(&support, &amounts) {
                continue;
            }
            let shares = self.grid.shares(&support, point);
            let miss = match self.evaluator.meets(lines, &shares) {
                Err(miss) if miss <= may_miss => self.evaluator.miss(lines, &shares),
                Err(miss) => miss,
                Ok(()) => 0,
            };
            if miss <= may_miss {
                goal.take(&*self.grid, GridRecipe { support, point, amounts, miss });
            }
        }
    }
}
