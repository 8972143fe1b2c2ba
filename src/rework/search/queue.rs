//! What a search has yet to decide, and in which order.

use std::{cmp::Reverse, collections::BinaryHeap};

use crate::rework::{
    bound::LeastMiss,
    grid::{ChangeCost, Grid, Region},
};

/// How many nodes are taken by promise alone before the order of merit has its turn.
const BY_PROMISE: u32 = 600;

/// The order of merit of nodes, in that of recipes: the least they miss by, how many lines
/// change, the least that it costs.
pub(crate) type Key = (u64, u8, ChangeCost);

/// Recipes that are decided together.
pub(crate) enum Node {
    /// Those of one region.
    Region(Region),
    /// Those of several regions that one bound may exclude at once.
    Regions(Together),
}

/// Regions that are bounded at once, as many lines changing in each.
pub(crate) struct Together {
    /// The lines that change in any, as [`View::load`](crate::equilibrium::View::load) has them.
    pub(crate) lines: Vec<usize>,
    /// What these hold at corners between which all the regions lie, percent;
    /// other recipes may lie there too.
    pub(crate) corners: Vec<[f64; 3]>,
    pub(crate) regions: Vec<Region>,
}

impl Node {
    /// Of the directions in which some lines change: most lines do not do, whichever of them gain, and then
    /// one bound around all directions excludes up to six regions.
    pub(crate) fn of_directions(grid: &dyn Grid, regions: &[Region]) -> Option<Node> {
        match regions {
            [] => None,
            [region] => Some(Node::Region(*region)),
            [first, others @ ..] => {
                let around = Node::Region(Region::around(first, others));
                let (lines, corners) = around.corners(grid);
                Some(Node::Regions(Together { lines, corners, regions: regions.to_vec() }))
            }
        }
    }

    pub(crate) fn regions(&self) -> &[Region] {
        match self {
            Node::Region(region) => std::slice::from_ref(region),
            Node::Regions(together) => &together.regions,
        }
    }

    /// The lines that change, and what they hold at corners between which all the recipes lie, percent.
    pub(crate) fn corners(&self, grid: &dyn Grid) -> (Vec<usize>, Vec<[f64; 3]>) {
        match self {
            Node::Region(region) => {
                let (lines, count) = region.support.lines();
                (lines[..count].to_vec(), grid.corners(region))
            }
            Node::Regions(together) => (together.lines.clone(), together.corners.clone()),
        }
    }

    pub(crate) fn key(&self, grid: &dyn Grid, least_miss: u64) -> Key {
        let cost = self.regions().iter().map(|region| grid.least_cost(region)).min();
        let lines = self.regions().first().map_or(0, |region| region.support.count);
        (least_miss, lines, cost.unwrap_or_default())
    }

    /// How many recipes.
    pub(crate) fn count(&self) -> u64 {
        self.regions().iter().map(Region::count).sum()
    }
}

/// A node that waits to be decided.
pub(crate) struct Open {
    pub(crate) key: Key,
    pub(crate) node: Node,
    pub(crate) least: LeastMiss,
}

/// The nodes that wait.
#[derive(Default)]
pub(crate) struct Queue {
    nodes: Vec<Option<Open>>,
    by_key: BinaryHeap<Reverse<(Key, usize)>>,
    /// Those that promise a recipe that meets every band, the most promising first.
    by_promise: BinaryHeap<Reverse<(u64, usize)>>,
    taken: u32,
}

impl Queue {
    /// Takes up a node; `promise` is the less, the more likely it holds a recipe that meets every band.
    pub(crate) fn push(&mut self, open: Open, promise: Option<u64>) {
        let at = self.nodes.len();
        self.by_key.push(Reverse((open.key, at)));
        self.nodes.push(Some(open));
        if let Some(promise) = promise {
            self.by_promise.push(Reverse((promise, at)));
        }
    }

    /// The next node: in the order of merit, or, where a first good recipe is wanted, first some by promise
    /// alone, and then in either order by turns.
    pub(crate) fn pop(&mut self, wants_good: bool) -> Option<Open> {
        self.taken += 1;
        if wants_good && (self.taken < BY_PROMISE || self.taken.is_multiple_of(2)) {
            // What was taken in the one order is still in the heap of the other.
            while let Some(Reverse((_, at))) = self.by_promise.pop() {
                if let Some(open) = self.nodes[at].take() {
                    return Some(open);
                }
            }
        }
        while let Some(Reverse((_, at))) = self.by_key.pop() {
            if let Some(open) = self.nodes[at].take() {
                return Some(open);
            }
        }
        None
    }

    /// No node that waits comes before this in the order of merit. It may itself have been taken by promise.
    pub(crate) fn first_key(&self) -> Option<Key> {
        self.by_key.peek().map(|Reverse((key, _))| *key)
    }

    /// The nodes that are left.
    pub(crate) fn into_nodes(self) -> impl Iterator<Item = Open> {
        self.nodes.into_iter().flatten()
    }
}
