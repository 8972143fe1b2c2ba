//! The search: best first over sets of recipes on the grid, each excluded by a bound, cut to what a bound leaves, or divided until few
//! recipes are left and solved: several sets at once, then one, then its halves. How figures move around the present recipe
//! ([`Effects`]) tells where a bound is worth its price and comes first, where halving tells most, and what is looked into first; what
//! is excluded, bounds alone decide.
//!
//! First the present recipe, then a dive for any that meets every band. Where it finds one, every way to change two lines comes, then
//! three if need be, in the order of their least shift: so the first recipe that meets every band is the one with the least, and the
//! others of other levers follow. Where the dive finds none, there is mostly none: all come in the order of the least they can miss
//! by, of the lines and of the shift, so that nothing is lost if a recipe turns up that misses nothing.

use std::collections::BTreeMap;

use super::{
    dive::{Base, Dive},
    merit::{Lever, Merit},
    newcomers,
    queue::{Entry, Key, Queue},
};
use crate::rework::{
    bound::{Bound, Effects, Judge, Known, Outlook, cut, in_grains, units},
    grid::{Grid, Region},
    question::{Demand, Problem},
};

/// Where nothing meets every band, others are offered that miss by this much more than the best, percent points.
const NEAR_MISS: f64 = 2.0;

/// Regions of up to so many recipes are solved one by one: a bound costs as much.
pub(crate) const FEW: u64 = 3;

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
    /// Recipes on the grid taken up so far, decided or not: it grows when more lines must change.
    pub taken_up: u64,
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
    /// Recipes decided so far.
    pub decided: u64,
    /// Recipes to be decided, as far as known.
    pub total: u64,
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
    grid: Grid<'p>,
    judge: Judge,
    stage: Stage,
    queue: Queue,
    /// How many lines change in what was taken up.
    lines: usize,
    /// The fewest lines that change in a recipe that meets every band, once one is known.
    good: Option<u8>,
    /// Whether there is none.
    none_good: bool,
    /// What a recipe may miss by at most to be of any interest.
    most: u64,
    /// Once a region is looked at.
    effects: Option<Effects>,
    best: BTreeMap<Option<Lever>, Found>,
    proof: Proof,
}

impl<'p> Search<'p> {
    /// A search that has not begun.
    pub fn new(problem: &'p Problem) -> Search<'p> {
        Search {
            problem,
            grid: Grid::new(problem),
            judge: Judge::new(problem),
            stage: Stage::Present,
            queue: Queue::default(),
            lines: 1,
            good: None,
            none_good: false,
            most: Demand::most_miss(&problem.demands).map_or(u64::MAX, units),
            effects: None,
            best: BTreeMap::new(),
            proof: Proof::default(),
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
                Stage::Regions => match self.queue.pop(self.good.is_none() && !self.none_good) {
                    Some((key, entry, known)) => {
                        let least = self.queue.least_miss();
                        self.none_good |=
                            key.0 > 0 && least.is_none_or(|least| least > 0) && self.good.is_none();
                        self.decide(key, entry, known);
                    }
                    None => self.go_on(),
                },
                Stage::Done => break,
            }
        }
        let proof = &self.proof;
        Progress { done: self.stage == Stage::Done, decided: proof.decided(), total: proof.taken_up }
    }

    /// Whether it is settled if some recipe meets every band, and which is then the best.
    pub(crate) fn has_settled_good(&self) -> bool {
        self.none_good || self.stage == Stage::Done
    }

    /// The best recipe so far, with every band met.
    pub fn best(&self) -> Option<&Found> {
        self.best.values().min_by(|a, b| a.merit.cmp(&b.merit))
    }

    /// The best recipe of each lever, best first, as far as they are as good as the best, or, where nothing meets every band, nearly: of
    /// anything else the search does not see all. What misses no less than the present recipe helps nobody; where all do, that is the one.
    pub fn found(&self) -> Vec<Found> {
        let (enough, good) = (self.enough(), self.good);
        let mut found: Vec<Found> = Vec::new();
        for it in self.best.values() {
            if it.merit.miss <= enough && good.is_none_or(|lines| it.merit.lines == lines) {
                found.push(it.clone());
            }
        }
        if let Some(present) = self.best.get(&None) {
            found.retain(|it| it.merit.miss < present.merit.miss);
            if found.is_empty() {
                found.push(present.clone());
            }
        }
        found.sort_by(|a, b| a.merit.cmp(&b.merit));
        found
    }

    /// What was done so far.
    pub fn proof(&self) -> Proof {
        Proof { equilibria: self.judge.solves(), ..self.proof }
    }

    /// What a recipe may miss by to be of interest.
    fn enough(&self) -> u64 {
        let near = match (self.good, self.best()) {
            (None, Some(best)) => best.merit.miss + units(NEAR_MISS),
            (None, None) => u64::MAX,
            _ => 0,
        };
        near.min(self.most)
    }

    /// What a recipe of some regions may miss by to be of interest, and no worse than the best of its lever.
    fn enough_of(&self, entry: &Entry) -> u64 {
        let mut most = 0;
        for region in entry.regions() {
            let best = self.best.get(&Some(Lever::of(self.problem, &region.support)));
            most = best.map_or(u64::MAX, |best| best.merit.miss).max(most);
        }
        self.enough().min(most)
    }

    /// With the least that it is known to miss by, and a guess at it.
    fn push(&mut self, entry: Entry, known: Known, guess: Option<u64>) {
        let shifts = entry.regions().iter().map(|region| self.grid.least_shift(region));
        let key = (in_grains(known.miss()), entry.lines(), shifts.min().unwrap_or(0));
        self.queue.push(key, entry, known, guess);
    }

    fn present(&mut self) {
        let amounts = self.problem.amounts();
        self.proof.taken_up += 1;
        self.proof.solved += 1;
        self.stage = Stage::Dive;
        if self.problem.admits(&amounts) {
            let miss = self.miss_weighed(&amounts, u64::MAX);
            self.offer(None, amounts, miss);
            if miss == 0 {
                self.stage = Stage::Done;
            }
        }
    }

    /// Looks for a first good recipe.
    fn dive(&mut self) {
        self.stage = Stage::Regions;
        let effects =
            self.effects.get_or_insert_with(|| Effects::of(&mut self.judge, self.problem.amounts()));
        let tried = Dive::run(self.problem, &self.grid, &mut self.judge, effects);
        let least = tried.iter().map(|it| it.miss).min();
        for Base { amounts, miss, changes, .. } in &tried {
            let (Some(support), mut miss) = (changes, *miss) else { continue };
            // By a scale that errs it may miss more, which takes many equilibria to know.
            if self.problem.any_step {
                if Some(miss) > least {
                    continue;
                }
                miss = self.miss_weighed(amounts, u64::MAX);
            }
            self.offer(Some(Lever::of(self.problem, support)), amounts.clone(), miss);
        }
        self.go_on();
    }

    /// Takes up what changes more lines, if need be, or ends.
    fn go_on(&mut self) {
        let most = self.problem.changes;
        if self.lines >= most || self.good.is_some_and(|good| usize::from(good) <= self.lines) {
            self.stage = Stage::Done;
            return;
        }
        loop {
            self.lines += 1;
            self.begin(self.lines as u8);
            // Where none is good, all are taken up at once.
            if self.good.is_some() || self.lines >= most {
                return;
            }
        }
    }

    fn begin(&mut self, count: u8) {
        let regions = self.grid.regions(count);
        let newcomers = self.problem.newcomers();
        let mut coming: Vec<Region> = Vec::new();
        for directions in regions.chunk_by(|a, b| a.support.lines == b.support.lines) {
            self.proof.supports += 1;
            match directions {
                [region] if region.brings(&newcomers) => coming.push(*region),
                _ => self.begin_with(Entry::of(&self.grid, directions)),
            }
        }
        for of_one in coming.chunk_by(|a, b| a.support.lines[0] == b.support.lines[0]) {
            self.begin_with(newcomers::together(of_one, &newcomers, self.problem.step));
        }
    }

    fn begin_with(&mut self, entries: impl IntoIterator<Item = Entry>) {
        for entry in entries {
            self.proof.taken_up += entry.count();
            let promise = self.promise(&entry);
            self.push(entry, Known::default(), promise);
        }
    }

    /// Whether every recipe here is worse than the best of its lever.
    fn is_surpassed(&self, key: Key, entry: &Entry) -> bool {
        entry.regions().iter().all(|region| {
            let best = self.best.get(&Some(Lever::of(self.problem, &region.support)));
            best.is_some_and(|found| key > (found.merit.miss, found.merit.lines, found.merit.shift))
        })
    }

    /// Excludes an entry, solves its recipes, or takes up what is left of it.
    fn decide(&mut self, key: Key, entry: Entry, mut known: Known) {
        let (count, enough) = (entry.count(), self.enough_of(&entry));
        if key.0 > enough {
            self.proof.excluded_by_bound += count;
            return;
        }
        if self.good.is_some_and(|lines| key.1 > lines) || self.is_surpassed(key, &entry) {
            self.proof.excluded_by_merit += count;
            return;
        }
        let mut regions = entry.regions().to_vec();
        let whole = matches!(entry, Entry::Region(_));
        let (mut guess, mut left) = (0.0, count);
        if count > FEW {
            let (lines, mut corners) = entry.corners(&self.grid);
            let order = self.effects().order(&lines, &corners);
            let open = known.leaves_open(order.iter().any(|it| it.met));
            for Outlook { station, met, .. } in &order {
                if open && *met {
                    continue;
                }
                if let (true, [region]) = (whole, &regions[..]) {
                    corners = self.grid.corners(region);
                }
                let Bound { least, middle } = self.judge.bound(*station, &lines, &corners);
                guess += middle;
                let others = known.learn(*station, least);
                if known.miss() > enough {
                    regions.clear();
                } else {
                    let may_miss = enough.saturating_sub(others);
                    cut(&mut regions, &lines, &corners, self.problem.step, &self.judge.limits, may_miss);
                }
                left = regions.iter().map(Region::count).sum();
                if left == 0 {
                    break;
                }
            }
            self.proof.excluded_by_bound += count - left;
        }
        let guess = (self.good.is_none() && known.miss() == 0).then(|| units(guess));
        for region in regions {
            if region.count() <= FEW {
                self.solve(&region, enough);
            } else if whole && 2 * left > count {
                let halves =
                    region.halves_by(&|part| self.effects.as_ref().map_or(0.0, |it| it.spread(part)));
                for half in halves.into_iter().flatten() {
                    self.push(Entry::Region(half), known, guess);
                }
            } else {
                let region = Entry::Region(region);
                let guess = if whole { guess } else { guess.and_then(|_| self.promise(&region)) };
                self.push(region, known, guess);
            }
        }
    }

    /// Solves every recipe of a region, as far as it is of interest.
    fn solve(&mut self, region: &Region, enough: u64) {
        let lever = Some(Lever::of(self.problem, &region.support));
        let (lines, count) = region.support.lines();
        let lines = &lines[..count];
        for point in region.points() {
            self.proof.solved += 1;
            let amounts = self.grid.amounts(&region.support, point);
            if !self.problem.leads(&amounts) {
                continue;
            }
            let values = self.grid.point(&region.support, point);
            let mut miss = match self.judge.meets(lines, &values) {
                Err(_) if enough > 0 => self.judge.miss(lines, &values),
                Err(miss) => miss,
                Ok(()) => 0,
            };
            // By a scale that errs it may miss more.
            if self.problem.any_step && miss <= enough {
                miss = self.miss_weighed(&amounts, enough);
            }
            if miss <= enough {
                self.offer(lever, amounts, miss);
            }
        }
    }

    fn effects(&mut self) -> &Effects {
        self.effects.get_or_insert_with(|| Effects::of(&mut self.judge, self.problem.amounts()))
    }

    /// A guess at how soon an entry is to be looked into for a recipe that meets every band, as long as none is known; none where there
    /// seems to be none.
    fn promise(&mut self, entry: &Entry) -> Option<u64> {
        if self.good.is_some() {
            return None;
        }
        let (lines, corners) = entry.corners(&self.grid);
        self.effects().promise(&lines, &corners).map(units)
    }

    /// What a whole recipe misses by; with [`Problem::any_step`], when weighed as badly as may be. That is no less, so that bounds hold
    /// for it. Above `enough` it need not be found out.
    fn miss_weighed(&mut self, amounts: &[f64], enough: u64) -> u64 {
        self.judge.miss_weighed(self.problem, amounts, enough)
    }

    /// Takes a recipe as the best of its lever if it is.
    fn offer(&mut self, lever: Option<Lever>, amounts: Vec<f64>, miss: u64) {
        let merit = Merit::new(self.problem, &amounts, miss);
        if miss == 0 {
            self.good = Some(self.good.map_or(merit.lines, |lines| lines.min(merit.lines)));
        }
        if self.best.get(&lever).is_none_or(|found| merit < found.merit) {
            self.best.insert(lever, Found { amounts, merit, lever });
        }
    }
}

impl Proof {
    /// Recipes decided: all that were taken up, once a search is complete.
    pub fn decided(&self) -> u64 {
        self.excluded_by_bound + self.excluded_by_merit + self.solved
    }
}
