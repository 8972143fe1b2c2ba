//! What a batch that is made can become: grams of one or two additions, on a scale that weighs in grams.
//!
//! Nothing can be taken out of a batch of mass G. With additions of β and γ grams the batch itself is the
//! first line and holds 100 G / (G + β + γ) percent, the additions hold 100 β / (G + β + γ) and 100 γ / (G +
//! β + γ). This maps straight lines to straight lines and corners to corners, so that a bound on a mixture of
//! corners serves here as it does where percentages change.

use super::{
    merit::{ChangeCost, Merit},
    recipes::{Grid, GridPoint},
    region::{Region, SHIFT_UNITS, Support, tidy},
};
use crate::rework::question::{Group, ON_GRID, Problem};

/// A batch on the bench.
#[derive(Clone, Copy, Debug)]
pub struct Batch {
    /// What is there, g.
    pub grams: f64,
    /// The step of the scale, g.
    pub step_grams: f64,
    /// The most to melt in, g.
    pub most_grams: f64,
}

/// What a batch of the present recipe can become.
pub(crate) struct Grams<'p> {
    problem: &'p Problem,
    batch: Batch,
}

impl<'p> Grams<'p> {
    pub(crate) fn new(problem: &'p Problem, batch: Batch) -> Grams<'p> {
        Grams { problem, batch }
    }

    /// Additions with their grams.
    pub(crate) fn additions(&self, support: &Support, (b, c): GridPoint) -> Vec<(usize, f64)> {
        added(support)
            .iter()
            .zip([b, c])
            .map(|(line, steps)| (usize::from(*line), tidy(self.grams(steps))))
            .collect()
    }

    fn grams(&self, steps: i32) -> f64 {
        f64::from(steps) * self.batch.step_grams
    }

    /// Candidates of which something may be added.
    fn free(&self) -> impl Iterator<Item = u8> {
        let may = |at: &u8| {
            let it = &self.problem.candidates[usize::from(*at)];
            !it.fixed && it.bounds.1 > it.line.percent
        };
        (0..self.line()).filter(may)
    }

    /// The number of the batch among the lines.
    fn line(&self) -> u8 {
        self.problem.candidates.len() as u8
    }

    /// Whether a recipe holds more of an addition than its bound.
    fn exceeds_bound(&self, line: u8, amounts: &[f64]) -> bool {
        let line = usize::from(line);
        amounts[line] > self.problem.candidates[line].bounds.1 + ON_GRID
    }

    /// Whether a recipe holds more of a group than its cap.
    fn exceeds_cap(&self, (group, cap): &(Group, f64), amounts: &[f64]) -> bool {
        let of_group = self.problem.candidates.iter().zip(amounts).filter(|(it, _)| it.is_of(*group));
        of_group.map(|(_, amount)| amount).sum::<f64>() > cap + ON_GRID
    }

    /// The caps that count one of the additions. What the batch holds of other groups cannot be helped.
    fn caps(&self, support: &Support) -> impl Iterator<Item = &(Group, f64)> {
        let counts = move |line: &u8, group: Group| self.problem.candidates[usize::from(*line)].is_of(group);
        let support = *support;
        self.problem
            .caps
            .iter()
            .filter(move |(group, _)| added(&support).iter().any(|line| counts(line, *group)))
    }
}

/// The lines that are added to the batch.
fn added(support: &Support) -> &[u8] {
    &support.lines[1..usize::from(support.count)]
}

impl Grid for Grams<'_> {
    fn present(&self) -> Vec<f64> {
        let mut present = vec![0.0; self.problem.candidates.len()];
        present.push(100.0);
        present
    }

    fn keeps_present(&self) -> bool {
        true
    }

    fn newcomers(&self) -> Vec<usize> {
        self.free().map(usize::from).collect()
    }

    fn regions(&self, count: u8) -> Vec<Region> {
        let most = (self.batch.most_grams / self.batch.step_grams + ON_GRID).floor() as i32;
        let region = |b: u8, c: u8, steps_of_c| Region {
            support: Support { lines: [self.line(), b, c], count, gains: [false, true, count == 3] },
            b: (1, most),
            c: steps_of_c,
            s: (i32::from(count) - 1, most),
        };
        let free: Vec<u8> = self.free().collect();
        let mut regions = Vec::new();
        for (at, b) in free.iter().enumerate() {
            if count == 2 {
                regions.extend(region(*b, *b, (0, 0)).tighten());
            } else {
                regions.extend(free[at + 1..].iter().filter_map(|c| region(*b, *c, (1, most)).tighten()));
            }
        }
        regions
    }

    fn least_shift(&self, region: &Region) -> i64 {
        (self.grams(region.s.0) * SHIFT_UNITS).round() as i64
    }

    fn least_cost(&self, region: &Region) -> ChangeCost {
        ChangeCost { shift: self.least_shift(region), ..ChangeCost::default() }
    }

    fn forbids(&self, region: &Region) -> bool {
        let support = &region.support;
        let corners: Vec<Vec<f64>> =
            region.corners().points().iter().map(|corner| self.amounts(support, *corner)).collect();
        let all = |exceeds: &dyn Fn(&[f64]) -> bool| corners.iter().all(|amounts| exceeds(amounts));
        added(support).iter().any(|line| all(&|amounts| self.exceeds_bound(*line, amounts)))
            || self.caps(support).any(|cap| all(&|amounts| self.exceeds_cap(cap, amounts)))
    }

    fn admits(&self, support: &Support, amounts: &[f64]) -> bool {
        !added(support).iter().any(|line| self.exceeds_bound(*line, amounts))
            && !self.caps(support).any(|cap| self.exceeds_cap(cap, amounts))
    }

    fn shares(&self, _: &Support, (b, c): GridPoint) -> [f64; 3] {
        let (b, c) = (self.grams(b), self.grams(c));
        let all = self.batch.grams + b + c;
        [100.0 * self.batch.grams / all, 100.0 * b / all, 100.0 * c / all]
    }

    fn share_alone(&self, steps: i32) -> f64 {
        let grams = self.grams(steps);
        100.0 * grams / (self.batch.grams + grams)
    }

    fn steps(&self, [b, c]: [f64; 2]) -> [f64; 2] {
        let steps_a_percent = self.batch.grams / ((100.0 - b - c) * self.batch.step_grams);
        [b * steps_a_percent, c * steps_a_percent]
    }

    fn amounts(&self, support: &Support, point: GridPoint) -> Vec<f64> {
        let [batch, shares @ ..] = self.shares(support, point);
        let of_batch = |percent: f64| percent * batch / 100.0;
        let mut amounts: Vec<f64> =
            self.problem.candidates.iter().map(|it| of_batch(it.line.percent)).collect();
        for (line, share) in added(support).iter().zip(shares) {
            amounts[usize::from(*line)] += share;
        }
        amounts
    }

    fn merit(&self, support: &Support, (b, c): GridPoint, _: &[f64], miss: u64) -> Merit {
        let shift = (self.grams(b + c) * SHIFT_UNITS).round() as i64;
        Merit::of_addition(added(support), [b, c], ChangeCost { shift, ..ChangeCost::default() }, miss)
    }
}
