//! The best rework: first the present recipe, then a dive for any recipe that meets every
//! band, then all regions, best first.
//!
//! Where the dive finds a good recipe, the regions of two lines come in the order of the least that
//! they cost, then those of three lines if need be: so the first recipe that meets every band is the
//! one that costs least, and the best of other levers follow. Where the dive finds none, there mostly
//! is none. Then all regions come at once, in the order of the least that they can miss, of the lines
//! and of the cost. Nothing is lost if a good recipe turns up after all, since what misses nothing
//! comes first in that order too.

use std::collections::BTreeMap;

use super::{
    best_first::{BestFirst, Goal, GridRecipe},
    dive::{Dive, SolvedRecipe},
    progress::{Progress, ProofCounts},
    queue::Key,
};
use crate::rework::{
    bound::{Evaluator, units},
    grid::{Batch, Grams, Grid, GridPoint, Lever, Merit, Percents, Region, Support},
    question::{Demand, Problem},
};

/// To be as now is hardly ever met to the digit: then others are offered that miss by this much more
/// than the best, percent points.
const NEAR_MISS: f64 = 2.0;

/// A recipe found.
#[derive(Clone, Debug)]
pub struct FoundRecipe {
    /// Percentages in the order of the candidates.
    pub amounts: Vec<f64>,
    /// How good it is.
    pub merit: Merit,
    /// What carries it; `None` for the present recipe.
    pub lever: Option<Lever>,
    /// Where on the grid it lies; `None` for the present recipe.
    pub(crate) place: Option<(Support, GridPoint)>,
}

/// The goal of this search: the best recipe of each lever.
struct BestOfEachLever<'p> {
    problem: &'p Problem,
    best: BTreeMap<Option<Lever>, FoundRecipe>,
    /// The fewest lines that change in a recipe that meets every band, once one is known.
    good: Option<u8>,
    /// By how much more than the best a recipe may miss and still be offered, in [`units`].
    near_miss: u64,
    /// What a recipe may miss by at most to be of any interest.
    most: u64,
}

impl BestOfEachLever<'_> {
    fn best(&self) -> Option<&FoundRecipe> {
        self.best.values().min_by(|a, b| a.merit.cmp(&b.merit))
    }

    fn of(&self, region: &Region) -> Option<&FoundRecipe> {
        self.best.get(&Some(Lever::of(self.problem, &region.support)))
    }

    /// What a recipe may miss by, whatever its lever.
    fn enough(&self) -> u64 {
        let near = match (self.good, self.best()) {
            (None, Some(best)) => best.merit.miss + self.near_miss,
            (None, None) => u64::MAX,
            _ => 0,
        };
        near.min(self.most)
    }

    /// Takes a recipe as the best of its lever if it is.
    fn offer(&mut self, found: FoundRecipe) {
        if found.merit.miss > self.most {
            return;
        }
        if found.merit.miss == 0 {
            let lines = found.merit.lines;
            self.good = Some(self.good.map_or(lines, |good| good.min(lines)));
        }
        if self.best.get(&found.lever).is_none_or(|best| found.merit < best.merit) {
            self.best.insert(found.lever, found);
        }
    }
}

impl Goal for BestOfEachLever<'_> {
    fn may_miss(&self, regions: &[Region]) -> u64 {
        let best = |region| self.of(region).map_or(u64::MAX, |best| best.merit.miss);
        self.enough().min(regions.iter().map(best).max().unwrap_or(0))
    }

    fn has_better(&self, key: Key, regions: &[Region]) -> bool {
        let surpassed = |it: &FoundRecipe| key > (it.merit.miss, it.merit.lines, it.merit.cost);
        let more_lines = |it: &FoundRecipe| key.0 == it.merit.miss && key.1 > it.merit.lines;
        self.good.is_some_and(|lines| key.1 > lines)
            || (self.near_miss == 0 && self.best().is_some_and(more_lines))
            || regions.iter().all(|region| self.of(region).is_some_and(surpassed))
    }

    fn wants_good(&self) -> bool {
        self.good.is_none()
    }

    fn take(&mut self, grid: &dyn Grid, GridRecipe { support, point, amounts, miss }: GridRecipe) {
        let merit = grid.merit(&support, point, &amounts, miss);
        let lever = Some(Lever::of(self.problem, &support));
        self.offer(FoundRecipe { amounts, merit, lever, place: Some((support, point)) });
    }
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Stage {
    Present,
    Dive,
    Regions,
    Done,
}

/// A search that can be stopped and taken up again; it reads no clock.
pub struct Search<'p> {
    problem: &'p Problem,
    search: BestFirst<'p>,
    goal: BestOfEachLever<'p>,
    stage: Stage,
    /// How many lines change in what was taken up last.
    lines: usize,
    dives: bool,
}

impl<'p> Search<'p> {
    /// A search among the recipes that differ from the present one, which has not begun.
    pub fn new(problem: &'p Problem) -> Search<'p> {
        let (grid, evaluator) = (Percents::new(problem), Evaluator::new(problem));
        Search::among(problem, Box::new(grid), evaluator, true)
    }

    /// A search among what a batch of the present recipe can become. Its grid is small,
    /// so that no dive is worth while.
    pub(crate) fn of_batch(problem: &'p Problem, batch: Batch) -> Search<'p> {
        let grid = Grams::new(problem, batch);
        let evaluator = Evaluator::of_batch(problem, grid.present());
        Search::among(problem, Box::new(grid), evaluator, false)
    }

    fn among(
        problem: &'p Problem,
        grid: Box<dyn Grid + 'p>,
        evaluator: Evaluator,
        dives: bool,
    ) -> Search<'p> {
        // Matters of feel are met or not; only what is counted by points can be nearly as good.
        let near_miss = if problem.is_as_now() { units(NEAR_MISS) } else { 0 };
        let goal = BestOfEachLever {
            problem,
            best: BTreeMap::new(),
            good: None,
            near_miss,
            most: Demand::most_miss(&problem.demands).map_or(u64::MAX, units),
        };
        let search = BestFirst::new(grid, evaluator);
        Search { problem, search, goal, stage: Stage::Present, lines: 1, dives }
    }

    /// Goes on for about `budget` regions.
    pub fn step(&mut self, budget: u32) -> Progress {
        for _ in 0..budget {
            match self.stage {
                Stage::Present => self.present(),
                Stage::Dive => {
                    self.dive();
                    // What it found is told at once.
                    break;
                }
                Stage::Regions => {
                    if !self.search.step(&mut self.goal) {
                        self.go_on();
                    }
                }
                Stage::Done => break,
            }
        }
        let proof = &self.search.proof;
        Progress { done: self.stage == Stage::Done, decided: proof.decided(), total: proof.taken_up }
    }

    /// Whether it is settled if some recipe meets every band, and which is then the best.
    pub(crate) fn has_settled_good(&self) -> bool {
        self.search.none_good || self.stage == Stage::Done
    }

    /// The best recipe so far.
    pub fn best(&self) -> Option<&FoundRecipe> {
        self.goal.best()
    }

    /// The best recipe of each lever, best first, as far as they are as good as the best, or, where nothing
    /// meets every band, nearly: of anything else the search does not see all. What misses no less than the
    /// present recipe helps nobody; where all do, that is the one.
    pub fn found(&self) -> Vec<FoundRecipe> {
        let BestOfEachLever { best, good, .. } = &self.goal;
        let enough = self.goal.enough();
        let of_best = || self.goal.best().map(|it| it.merit.lines);
        let lines = if self.goal.near_miss == 0 { of_best() } else { *good };
        let mut found: Vec<FoundRecipe> = Vec::new();
        for it in best.values() {
            if it.merit.miss <= enough && lines.is_none_or(|lines| it.merit.lines == lines) {
                found.push(it.clone());
            }
        }
        if let Some(present) = best.get(&None).filter(|present| present.merit.miss <= enough) {
            found.retain(|it| it.merit.miss < present.merit.miss);
            if found.is_empty() {
                found.push(present.clone());
            }
        }
        found.sort_by(|a, b| a.merit.cmp(&b.merit));
        found
    }

    /// What was done so far.
    pub fn proof(&self) -> ProofCounts {
        ProofCounts { equilibria: self.search.evaluator.equilibria(), ..self.search.proof }
    }

    fn present(&mut self) {
        self.search.proof.taken_up += 1;
        self.search.proof.solved += 1;
        self.stage = if self.dives { Stage::Dive } else { Stage::Regions };
        if self.search.grid.keeps_present() {
            let amounts = self.problem.amounts();
            let miss = self.search.evaluator.miss_of(&amounts);
            let merit = Merit::of(self.problem, &amounts, miss);
            self.goal.offer(FoundRecipe { amounts, merit, lever: None, place: None });
            if miss == 0 {
                self.stage = Stage::Done;
            }
        }
    }

    /// Looks for a first good recipe.
    fn dive(&mut self) {
        self.stage = Stage::Regions;
        let grid = Percents::new(self.problem);
        let (evaluator, linear) = self.search.model();
        let solved = Dive::run(self.problem, &grid, evaluator, linear);
        for SolvedRecipe { place, amounts, miss, .. } in solved {
            let Some((support, point)) = place else { continue };
            self.goal.take(&grid, GridRecipe { support, point, amounts, miss });
        }
        self.go_on();
    }

    /// Takes up what changes more lines, if need be, or ends.
    fn go_on(&mut self) {
        let most = self.problem.changes;
        if self.lines >= most || self.goal.good.is_some_and(|good| usize::from(good) <= self.lines) {
            self.stage = Stage::Done;
            return;
        }
        loop {
            self.lines += 1;
            self.search.take_up(self.lines as u8, &self.goal);
            // Where none is good, all are taken up at once.
            if self.goal.good.is_some() || self.lines >= most {
                return;
            }
        }
    }
}
