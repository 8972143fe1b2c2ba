//! A batch that is made: nothing can be taken out of it, so what is the least to melt in?
//!
//! One or two ingredients, in whole steps of the scale in grams. What the batch becomes is a mixture of the batch and of what joins
//! it, so the bounds of the rework serve here too: dividing by the new weight maps corners to corners.

use std::{cmp::Reverse, collections::BinaryHeap};

use super::{
    merit::Lever,
    smallest::{FEW, Proof},
    watch::{Report, Watch},
};
use crate::rework::{
    bound::{Judge, in_grains},
    grid::{Region, Support, tidy},
    question::{Group, ON_GRID, Problem},
};

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

/// How good: the miss, how many join, grams in steps, how many of them are new, and the order of the candidates.
type Merit = (u64, u8, i32, usize, [u8; 2], i32);

struct Bench<'p> {
    problem: &'p Problem,
    watch: Watch<'p>,
    batch: Batch,
    judge: Judge,
    proof: Proof,
    best: Vec<(Lever, Merit, [f64; 3])>,
}

/// What can be melted in.
pub(crate) struct Addition {
    /// Candidates with grams; none where nothing needs to be added, or nothing that may be helps.
    pub(crate) add: Vec<(usize, f64)>,
    /// Percentages in the order of the candidates, afterwards.
    pub(crate) amounts: Vec<f64>,
}

/// What was found for a batch.
pub(crate) struct Least {
    /// The best for each kind of ingredient, best first.
    pub(crate) found: Vec<Addition>,
    /// What was done to be sure.
    pub(crate) proof: Proof,
    /// Whether the search went to its end.
    pub(crate) complete: bool,
}

/// The least to melt into a batch for it to meet the demands of `problem`. `report` hears how far it has come.
pub(crate) fn least_addition<'p>(problem: &'p Problem, batch: Batch, report: Report<'p>) -> Least {
    let mut bench = Bench {
        problem,
        watch: Watch::new(report),
        batch,
        judge: Judge::of_batch(problem),
        proof: Proof::default(),
        best: Vec::new(),
    };
    let untouched = [100.0, 0.0, 0.0];
    bench.proof.taken_up = 1;
    bench.proof.solved = 1;
    let line = problem.candidates.len();
    let now = bench.judge.miss(&[line], &untouched);
    if now == 0 {
        return bench.end(vec![bench.tell(&[], &untouched)]);
    }
    bench.search();
    bench.best.retain(|(_, merit, _)| merit.0 < now);
    if bench.best.is_empty() && !bench.watch.is_stopped() {
        return bench.end(vec![bench.tell(&[], &untouched)]);
    }
    bench.best.sort_by(|a, b| a.1.cmp(&b.1));
    let found: Vec<([f64; 3], Vec<usize>)> = bench
        .best
        .iter()
        .map(|(_, merit, amounts)| {
            let lines = merit.4[..usize::from(merit.1)].iter().map(|line| usize::from(*line)).collect();
            (*amounts, lines)
        })
        .collect();
    bench.end(found.iter().map(|(amounts, lines)| bench.tell(lines, amounts)).collect())
}

impl Bench<'_> {
    fn end(&self, found: Vec<Addition>) -> Least {
        let proof = Proof { equilibria: self.judge.solves(), ..self.proof };
        Least { found, proof, complete: !self.watch.is_stopped() }
    }

    /// The regions of so many additions.
    fn regions(&self, count: u8) -> Vec<Region> {
        let most = (self.batch.most_grams / self.batch.step_grams + ON_GRID).floor() as i32;
        let free: Vec<u8> = (0..self.problem.candidates.len())
            .filter(|at| {
                let it = &self.problem.candidates[*at];
                !it.fixed && it.bounds.1 > it.line.percent
            })
            .filter_map(|at| u8::try_from(at).ok())
            .collect();
        let mut regions = Vec::new();
        for (i, b) in free.iter().enumerate() {
            let region = |c: u8, range| Region {
                support: Support { lines: [0, *b, c], count: count + 1, gains: [false, true, count == 2] },
                b: (1, most),
                c: range,
                s: (i32::from(count), most),
            };
            if count == 1 {
                regions.extend(region(*b, (0, 0)).tighten());
            } else {
                regions.extend(free[i + 1..].iter().filter_map(|c| region(*c, (1, most)).tighten()));
            }
        }
        regions
    }

    /// The lines that a region changes, as the judge counts them.
    fn lines(&self, region: &Region) -> ([usize; 3], usize) {
        let (mut lines, count) = region.support.lines();
        lines[0] = self.problem.candidates.len();
        (lines, count)
    }

    /// Percent of the batch and of what joins, at a point in steps.
    fn point(&self, (b, c): (i32, i32)) -> [f64; 3] {
        let step = self.batch.step_grams;
        let (b, c) = (f64::from(b) * step, f64::from(c) * step);
        let all = self.batch.grams + b + c;
        [100.0 * self.batch.grams / all, 100.0 * b / all, 100.0 * c / all]
    }

    /// The recipe that it becomes.
    fn amounts(&self, lines: &[usize], shares: &[f64; 3]) -> Vec<f64> {
        let mut amounts: Vec<f64> =
            self.problem.candidates.iter().map(|it| it.line.percent * shares[0] / 100.0).collect();
        for (line, share) in lines.iter().zip(&shares[1..]) {
            amounts[*line] += share;
        }
        amounts
    }

    /// Whether a recipe keeps the caps and bounds of what is added. What the batch holds already cannot be helped.
    fn admits(&self, lines: &[usize], shares: &[f64; 3]) -> bool {
        let amounts = self.amounts(lines, shares);
        let within =
            lines.iter().all(|line| amounts[*line] <= self.problem.candidates[*line].bounds.1 + ON_GRID);
        within
            && self.problem.caps.iter().all(|(group, cap)| {
                let of = |line: &usize| self.problem.candidates[*line].is_of(*group);
                !lines.iter().any(of) || self.held(*group, &amounts) <= cap + ON_GRID
            })
    }

    fn held(&self, group: Group, amounts: &[f64]) -> f64 {
        let of_class = self.problem.candidates.iter().zip(amounts).filter(|(it, _)| it.is_of(group));
        of_class.map(|(_, amount)| amount).sum()
    }

    /// Looks for what meets every demand, in the order of how many additions and of the grams; where nothing does, for the least miss.
    fn search(&mut self) {
        let mut heap = BinaryHeap::new();
        let mut entries: Vec<Region> = Vec::new();
        for count in 1..=2 {
            for region in self.regions(count) {
                self.proof.supports += 1;
                self.proof.taken_up += region.count();
                heap.push((Reverse((0, region.support.count, region.s.0)), Reverse(entries.len())));
                entries.push(region);
            }
        }
        self.watch.expect(self.proof.taken_up);
        let mut good = false;
        while let Some((Reverse(key), Reverse(at))) = heap.pop() {
            // What misses something is accounted for; of it, the first is the best, and nothing that misses by more is offered.
            let missed = key.0 > 0;
            let worse = |(_, merit, _): &(Lever, Merit, _)| key > (merit.0, merit.1 + 1, merit.2);
            if missed && (good || self.best.iter().any(worse)) || self.watch.stops() {
                break;
            }
            let region = entries[at];
            let count = region.count();
            let lever = Lever::of(self.problem, &region.support);
            let more = |(_, merit, _): &(Lever, Merit, _)| key.1 > merit.1 + 1;
            let beaten = self.best.iter().any(|it| more(it) || it.0 == lever && worse(it));
            if !missed && good && beaten {
                self.proof.excluded_by_merit += count;
                self.watch.decide(count);
                continue;
            }
            let mut parts = Vec::new();
            if count <= FEW {
                if let Some(least) = self.solve(&region, lever, !missed) {
                    parts.push((least, region));
                }
                if !missed {
                    good = !self.best.is_empty();
                    self.watch.decide(count);
                }
            } else {
                let miss = match (missed, self.forbidden(&region)) {
                    (_, true) => u64::MAX,
                    (true, _) => self.bound(&region, true).max(key.0),
                    (false, _) => self.bound(&region, false),
                };
                if miss > 0 && !missed {
                    self.proof.excluded_by_bound += count;
                    self.watch.decide(count);
                    parts.push((miss, region));
                } else {
                    parts.extend(region.halves().into_iter().flatten().map(|half| (miss, half)));
                }
            }
            for (miss, part) in parts {
                if miss < u64::MAX {
                    heap.push((Reverse((miss, part.support.count, part.s.0)), Reverse(entries.len())));
                    entries.push(part);
                }
            }
        }
        if !good {
            self.best.sort_by(|a, b| a.1.cmp(&b.1));
            self.best.truncate(1);
        }
    }

    /// Whether every corner breaks the same cap or bound: then so does everything between.
    fn forbidden(&self, region: &Region) -> bool {
        let (lines, count) = self.lines(region);
        let added = &lines[1..count];
        let corners: Vec<Vec<f64>> = region
            .corners()
            .points()
            .iter()
            .map(|corner| self.amounts(added, &self.point(*corner)))
            .collect();
        let bound = added.iter().any(|line| {
            corners.iter().all(|amounts| amounts[*line] > self.problem.candidates[*line].bounds.1 + ON_GRID)
        });
        bound
            || self.problem.caps.iter().any(|(group, cap)| {
                added.iter().any(|line| self.problem.candidates[*line].is_of(*group))
                    && corners.iter().all(|amounts| self.held(*group, amounts) > cap + ON_GRID)
            })
    }

    fn bound(&mut self, region: &Region, all: bool) -> u64 {
        let (lines, count) = self.lines(region);
        let corners: Vec<[f64; 3]> =
            region.corners().points().iter().map(|corner| self.point(*corner)).collect();
        in_grains(if all {
            self.judge.misses_in_all(&lines[..count], &corners)
        } else {
            self.judge.misses_somewhere(&lines[..count], &corners).err().unwrap_or(0)
        })
    }

    /// Solves the recipes of a small region; gives the least miss seen of those that may be.
    fn solve(&mut self, region: &Region, lever: Lever, first_only: bool) -> Option<u64> {
        let (lines, count) = self.lines(region);
        let mut least = None;
        for point in region.points() {
            self.proof.solved += u64::from(first_only);
            let shares = self.point(point);
            if !self.admits(&lines[1..count], &shares) {
                continue;
            }
            let miss = if first_only {
                self.judge.meets(&lines[..count], &shares).err().unwrap_or(0)
            } else {
                self.judge.miss(&lines[..count], &shares)
            };
            if miss > 0 && first_only {
                least = Some(least.map_or(miss, |least: u64| least.min(miss)));
                continue;
            }
            let added = [region.support.lines[1], region.support.lines[2]];
            let new = added[..count - 1]
                .iter()
                .filter(|line| self.problem.candidates[usize::from(**line)].newcomer);
            let merit = (miss, count as u8 - 1, point.0 + point.1, new.count(), added, point.0);
            match self.best.iter_mut().find(|(found, ..)| *found == lever) {
                Some(found) if merit < found.1 => *found = (lever, merit, shares),
                Some(_) => {}
                None => self.best.push((lever, merit, shares)),
            }
        }
        least
    }

    fn tell(&self, lines: &[usize], shares: &[f64; 3]) -> Addition {
        let all = 100.0 * self.batch.grams / shares[0];
        let add =
            lines.iter().zip(&shares[1..]).map(|(line, share)| (*line, tidy(share * all / 100.0))).collect();
        Addition { add, amounts: self.amounts(lines, shares) }
    }
}
