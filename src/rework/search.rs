//! The search: best first over regions of the grid, each excluded by a bound, or halved until one recipe is left and solved.
//!
//! First the present recipe, then every way to change two lines, then three: at the first count at which some recipe meets every
//! band, the regions come in the order of their least shift, so the first recipe that meets them is the one with the least, and the
//! others of other levers follow. If none does, the regions come again in the order of the least they can miss by.

use std::{cmp::Reverse, collections::BinaryHeap};

use super::{
    dive::Dive,
    grid::Grid,
    judge::Judge,
    known::Known,
    merit::{Lever, Merit},
    problem::Problem,
    region::Region,
};
use crate::ordered::{Ordered, sort_by};

/// Where nothing meets every band, others are offered that miss by this much more than the best, percent points.
const NEAR_MISS: f64 = 2.0;

/// Regions of up to so many recipes are solved one by one: a bound costs as much.
pub(super) const FEW: u64 = 3;

/// How many regions are looked into by a guess before the order of merit has its turn.
const GUESSES: u32 = 150;

/// A recipe found.
#[derive(Clone, Debug)]
pub struct Found {
    /// Percentages in the order of the candidates.
    pub amounts: Vec<f64>,
    /// How good it is.
    pub merit: Merit,
    /// What carries it; `None` for the present recipe.
    pub lever: Option<Lever>,
}

/// What was done to be sure.
#[derive(Clone, Copy, Default, PartialEq, Eq, Debug)]
pub struct Proof {
    /// Sets of changing lines looked at.
    pub supports: u64,
    /// Recipes on the grid decided.
    pub examined: u64,
    /// Recipes excluded by a bound on a region.
    pub excluded_by_bound: u64,
    /// Recipes left out because a better one was known: more lines or a greater shift.
    pub excluded_by_merit: u64,
    /// Recipes solved.
    pub solved: u64,
    /// Equilibria solved, those for bounds included.
    pub equilibria: u64,
}

/// How far a search has come.
#[derive(Clone, Copy, Debug)]
pub struct Progress {
    /// Whether it is finished.
    pub done: bool,
    /// Recipes decided so far, and known to be left at the present count of lines.
    pub decided: u64,
    /// Recipes to be decided, as far as known.
    pub total: u64,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Stage {
    Present,
    Dive,
    Lines(u8),
    Misses,
    Done,
}

/// The order in which regions come.
type Key = (u64, u8, i64);

/// A search that can be stopped and taken up again; it reads no clock.
pub struct Search<'p> {
    problem: &'p Problem,
    grid: Grid<'p>,
    judge: Judge,
    stage: Stage,
    heap: BinaryHeap<(Reverse<Key>, Reverse<usize>)>,
    /// Those of them that are halves, by a guess at their miss: a first good recipe may come from here.
    by_guess: BinaryHeap<(Reverse<u64>, Reverse<usize>)>,
    guesses: u32,
    /// A good recipe that was dived for, though fewer lines may do.
    first: Option<Found>,
    entries: Vec<Option<(Region, Known)>>,
    /// Regions that meet no band wholly.
    excluded: Vec<(Region, Known)>,
    best: Ordered<Option<Lever>, Found>,
    proof: Proof,
    /// Whether the least miss is looked for from the start, so that nothing is decided yet.
    from_start: bool,
}

impl<'p> Search<'p> {
    /// A search that has not begun.
    pub fn new(problem: &'p Problem) -> Search<'p> {
        Search {
            problem,
            grid: Grid::new(problem),
            judge: Judge::new(problem),
            stage: Stage::Present,
            heap: BinaryHeap::new(),
            by_guess: BinaryHeap::new(),
            guesses: 0,
            first: None,
            entries: Vec::new(),
            excluded: Vec::new(),
            best: Ordered::new(),
            proof: Proof::default(),
            from_start: false,
        }
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
                Stage::Lines(count) => match self.pop() {
                    Some((key, (region, _))) => self.by_shift(key, region),
                    None => self.after_lines(count),
                },
                Stage::Misses => match self.pop() {
                    Some((key, (region, known))) => self.by_miss(key, region, known),
                    None => self.after_misses(),
                },
                Stage::Done => break,
            }
        }
        let proof = self.proof();
        Progress {
            done: self.stage == Stage::Done,
            decided: proof.excluded_by_bound + proof.excluded_by_merit + proof.solved,
            total: proof.examined,
        }
    }

    /// Whether it is settled if some recipe meets every band, and which is then the best.
    pub(super) fn has_settled_good(&self) -> bool {
        matches!(self.stage, Stage::Misses | Stage::Done)
    }

    /// The best recipe so far, with every band met.
    pub fn best(&self) -> Option<&Found> {
        self.best.values().chain(&self.first).min_by(|a, b| a.merit.cmp(&b.merit))
    }

    /// The best recipe of each lever, best first.
    pub fn found(&self) -> Vec<Found> {
        let mut found: Vec<Found> = self.best.values().chain(&self.first).cloned().collect();
        sort_by(&mut found, |a, b| a.merit.cmp(&b.merit));
        found
    }

    /// What was done so far.
    pub fn proof(&self) -> Proof {
        Proof { equilibria: self.judge.solves(), ..self.proof }
    }

    /// Whether a recipe that meets every band is found.
    fn is_good(&self) -> bool {
        self.first.is_some() || self.best.values().any(|found| found.merit.miss == 0)
    }

    fn push(&mut self, key: Key, region: Region, known: Known) {
        self.entries.push(Some((region, known)));
        self.heap.push((Reverse(key), Reverse(self.entries.len() - 1)));
    }

    fn pop(&mut self) -> Option<(Key, (Region, Known))> {
        // First some by the guess alone, then turn about.
        self.guesses += 1;
        if !self.is_good() && (self.guesses < GUESSES || self.guesses.is_multiple_of(2)) {
            while let Some((_, Reverse(at))) = self.by_guess.pop() {
                if let Some((region, known)) = self.entries[at].take() {
                    let key = (0, region.support.count, self.grid.least_shift(&region));
                    return Some((key, (region, known)));
                }
            }
        }
        loop {
            let (Reverse(key), Reverse(at)) = self.heap.pop()?;
            if let Some(entry) = self.entries[at].take() {
                return Some((key, entry));
            }
        }
    }

    fn present(&mut self) {
        let amounts = self.problem.amounts();
        self.proof.examined += 1;
        self.proof.solved += 1;
        self.stage = Stage::Dive;
        if self.problem.admits(&amounts) {
            let miss = self.miss_weighed(&amounts, u64::MAX);
            let merit = Merit::new(self.problem, &amounts, miss);
            self.best.insert(None, Found { amounts, merit, lever: None });
            if miss == 0 {
                self.stage = Stage::Done;
                return;
            }
        }
        self.begin(2);
    }

    /// Looks for a first good recipe.
    fn dive(&mut self) {
        self.stage = Stage::Lines(2);
        let pairs: Vec<Region> = self.entries.iter().flatten().map(|(region, _)| *region).collect();
        if let Some((region, point)) = Dive::run(self.problem, &self.grid, &mut self.judge, &pairs) {
            let amounts = self.grid.amounts(&region.support, point);
            let lever = Some(Lever::of(self.problem, &region.support));
            let merit = Merit::new(self.problem, &amounts, 0);
            self.first = Some(Found { amounts, merit, lever });
            self.take_first(2);
        }
    }

    /// The first good recipe becomes one of the best once the lines that it changes are looked at, and not before: it would shut
    /// out what changes fewer.
    fn take_first(&mut self, count: u8) {
        if let Some(found) = self.first.take_if(|found| found.merit.lines <= count) {
            self.best.insert(found.lever, found);
        }
    }

    /// A search for the least miss from the start, where nothing is expected to meet every band.
    pub fn nearest(problem: &'p Problem) -> Search<'p> {
        let mut search = Search::new(problem);
        search.present();
        if search.stage != Stage::Done {
            for count in 3..=problem.changes {
                search.begin(count as u8);
            }
            search.stage = Stage::Misses;
            search.from_start = true;
        }
        search
    }

    fn begin(&mut self, count: u8) {
        let regions = self.grid.regions(count);
        let mut last = None;
        for region in regions {
            self.proof.examined += region.count();
            if last != Some(region.support.lines) {
                last = Some(region.support.lines);
                self.proof.supports += 1;
            }
            let key = (0, count, self.grid.least_shift(&region));
            self.push(key, region, Known::default());
        }
    }

    fn after_lines(&mut self, count: u8) {
        self.entries.clear();
        self.by_guess.clear();
        self.guesses = 0;
        if self.best.values().any(|found| found.merit.miss == 0) {
            self.best.retain(|found| found.merit.miss == 0);
            self.first = None;
            self.stage = Stage::Done;
        } else if usize::from(count) < self.problem.changes {
            self.stage = Stage::Lines(count + 1);
            self.begin(count + 1);
            self.take_first(count + 1);
        } else {
            self.stage = Stage::Misses;
            for (region, known) in std::mem::take(&mut self.excluded) {
                // Nothing is excluded yet: these are ordered now by what they miss.
                let key = (known.miss(), region.support.count, self.grid.least_shift(&region));
                self.push(key, region, known);
            }
        }
    }

    /// Keeps what is nearly as good as the best; of anything else the search has not seen all.
    fn after_misses(&mut self) {
        self.stage = Stage::Done;
        if let Some(near) = self.best().map(|best| best.merit.miss + super::judge::units(NEAR_MISS)) {
            self.best.retain(|found| found.merit.miss <= near);
        }
    }

    /// One region, while recipes that meet every band are looked for.
    fn by_shift(&mut self, key: Key, region: Region) {
        let lever = Lever::of(self.problem, &region.support);
        if self.best.get(&Some(lever)).is_some_and(|found| key.2 > found.merit.shift) {
            self.proof.excluded_by_merit += region.count();
            return;
        }
        if region.count() > FEW {
            match self.misses_somewhere(&region) {
                Err((station, miss)) => {
                    self.proof.excluded_by_bound += region.count();
                    self.excluded.push((region, Known::at(station, miss)));
                }
                Ok(guess) => {
                    for half in region.halves().into_iter().flatten() {
                        self.push((0, key.1, self.grid.least_shift(&half)), half, Known::default());
                        self.by_guess.push((Reverse(guess), Reverse(self.entries.len() - 1)));
                    }
                }
            }
            return;
        }
        let mut least: Option<u64> = None;
        for point in region.points() {
            self.proof.solved += 1;
            let amounts = self.grid.amounts(&region.support, point);
            if !self.problem.leads(&amounts) {
                continue;
            }
            match self.meets(&region, point) {
                // Met, but perhaps not by a scale that errs.
                Ok(()) => match if self.problem.any_step { self.miss_weighed(&amounts, 0) } else { 0 } {
                    0 => self.offer(Some(lever), amounts, 0),
                    miss => least = Some(least.map_or(miss, |least| least.min(miss))),
                },
                Err(miss) => least = Some(least.map_or(miss, |least| least.min(miss))),
            }
        }
        self.excluded.extend(least.map(|miss| (region, Known::at(0, miss))));
    }

    /// One region, while the least miss is looked for.
    fn by_miss(&mut self, key: Key, region: Region, mut known: Known) {
        let lever = Lever::of(self.problem, &region.support);
        let far = self.best().is_some_and(|best| key.0 > best.merit.miss + super::judge::units(NEAR_MISS));
        let surpassed = self
            .best
            .get(&Some(lever))
            .is_some_and(|found| key > (found.merit.miss, found.merit.lines, found.merit.shift));
        if far || surpassed {
            if self.from_start {
                self.proof.excluded_by_bound += region.count();
            }
            return;
        }
        if self.from_start && region.count() <= FEW {
            self.proof.solved += region.count();
        }
        if region.count() <= FEW {
            for point in region.points() {
                let amounts = self.grid.amounts(&region.support, point);
                if self.problem.leads(&amounts) {
                    let miss = if self.problem.any_step {
                        self.miss_weighed(&amounts, u64::MAX)
                    } else {
                        self.miss(&region, point)
                    };
                    self.offer(Some(lever), amounts, miss);
                }
            }
            return;
        }
        // One more temperature, as long as there is one; then in halves, which miss by no less.
        if let Some(station) = self.judge.next(known.bounded) {
            let (lines, count) = region.support.lines();
            let miss = self.judge.misses_at(station, &lines[..count], &self.grid.corners(&region));
            known.learn(station, miss);
            self.push((known.miss().max(key.0), key.1, key.2), region, known);
            return;
        }
        known.bounded = 0;
        for half in region.halves().into_iter().flatten() {
            self.push((key.0, key.1, self.grid.least_shift(&half)), half, known);
        }
    }

    fn meets(&mut self, region: &Region, point: (i32, i32)) -> Result<(), u64> {
        let (lines, count) = region.support.lines();
        self.judge.meets(&lines[..count], &self.grid.point(&region.support, point))
    }

    /// What a whole recipe misses by; with [`Problem::any_step`], when weighed as badly as may be. That is no less, so that bounds hold
    /// for it. Above `enough` it need not be found out.
    fn miss_weighed(&mut self, amounts: &[f64], enough: u64) -> u64 {
        self.judge.miss_weighed(self.problem, amounts, enough)
    }

    fn miss(&mut self, region: &Region, point: (i32, i32)) -> u64 {
        let (lines, count) = region.support.lines();
        self.judge.miss(&lines[..count], &self.grid.point(&region.support, point))
    }

    fn misses_somewhere(&mut self, region: &Region) -> Result<u64, (usize, u64)> {
        let (lines, count) = region.support.lines();
        self.judge.misses_somewhere(&lines[..count], &self.grid.corners(region))
    }

    /// Takes a recipe as the best of its lever if it is.
    fn offer(&mut self, lever: Option<Lever>, amounts: Vec<f64>, miss: u64) {
        let merit = Merit::new(self.problem, &amounts, miss);
        if self.best.get(&lever).is_none_or(|found| merit < found.merit) {
            self.best.insert(lever, Found { amounts, merit, lever });
        }
    }
}
