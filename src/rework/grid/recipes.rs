//! What a search asks of the recipes that it looks among, whatever they are counted in.

use super::{
    merit::{ChangeCost, Merit},
    region::{Region, Support},
};

/// Where a recipe lies in a region: steps of its second and of its third line.
pub(crate) type GridPoint = (i32, i32);

/// The recipes that a search looks among. Each changes a few lines, the first of which takes up the
/// remainder to 100 %, while the others lie on whole steps of a scale. A line is a number: a candidate, or
/// the one after them, which is a batch.
pub(crate) trait Grid {
    /// What each line holds now, percent.
    fn present(&self) -> Vec<f64>;

    /// Whether the recipe may stay as it is.
    fn keeps_present(&self) -> bool;

    /// Lines that can only gain, because nothing is there of which to take.
    fn newcomers(&self) -> Vec<usize>;

    /// Every region in which exactly `count` lines change.
    fn regions(&self, count: u8) -> Vec<Region>;

    /// The least that any recipe of a region moves, in the units of [`ChangeCost::shift`].
    fn least_shift(&self, region: &Region) -> i64;

    /// The least that any recipe of a region costs.
    fn least_cost(&self, region: &Region) -> ChangeCost;

    /// Whether a limit that the intervals of a region cannot express leaves none of its recipes.
    fn forbids(&self, region: &Region) -> bool;

    /// Whether a recipe keeps the limits that the intervals of a region cannot express.
    fn admits(&self, support: &Support, amounts: &[f64]) -> bool;

    /// What the changing lines hold at a point, percent.
    fn shares(&self, support: &Support, point: GridPoint) -> [f64; 3];

    /// What the second line holds after so many steps if the third holds nothing, percent.
    fn share_alone(&self, steps: i32) -> f64;

    /// Where the second and the third line hold so much: the inverse of
    /// [`Grid::shares`], in fractions of steps.
    fn steps(&self, shares: [f64; 2]) -> [f64; 2];

    /// The whole recipe at a point, percent by candidate.
    fn amounts(&self, support: &Support, point: GridPoint) -> Vec<f64>;

    /// How good the recipe at a point is.
    fn merit(&self, support: &Support, point: GridPoint, amounts: &[f64], miss: u64) -> Merit;

    /// What the changing lines hold at the corners of a region, percent.
    fn corners(&self, region: &Region) -> Vec<[f64; 3]> {
        region.corners().points().iter().map(|corner| self.shares(&region.support, *corner)).collect()
    }
}
