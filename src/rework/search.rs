//! The search: best first over sets of recipes on the grid, each excluded by a bound, or divided until few are left and solved: several
//! sets at once, then one, then its halves. How figures move around the present recipe ([`Effects`]) tells where a bound is worth its
//! price and comes first, where halving tells most, and what is looked into first; what is excluded, bounds alone decide.
//!
//! First the present recipe, then every way to change two lines, then three: at the first count at which some recipe meets every
//! band, the regions come in the order of their least shift, so the first recipe that meets them is the one with the least, and the
//! others of other levers follow. If none does, the regions come again in the order of the least they can miss by.

use super::{
    dive::Dive,
    effects::Effects,
    grid::Grid,
    judge::Judge,
    known::Known,
    merit::{Lever, Merit},
    newcomers,
    problem::Problem,
    queue::{Entry, Key, Queue},
    region::Region,
};
use crate::ordered::{Ordered, sort_by};

/// Where nothing meets every band, others are offered that miss by this much more than the best, percent points.
const NEAR_MISS: f64 = 2.0;

/// Regions of up to so many recipes are solved one by one: a bound costs as much.
pub(super) const FEW: u64 = 3;

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

/// An entry as it is bounded.
struct Sight {
    lines: Vec<usize>,
    corners: Vec<[f64; 3]>,
    /// The temperatures, as bits, at which it is not.
    open: u16,
    /// The temperature at which it is first, if at any.
    first: Option<usize>,
}

/// A search that can be stopped and taken up again; it reads no clock.
pub struct Search<'p> {
    problem: &'p Problem,
    grid: Grid<'p>,
    judge: Judge,
    stage: Stage,
    queue: Queue,
    /// A good recipe that was dived for, though fewer lines may do.
    first: Option<Found>,
    /// Those that meet no band wholly.
    excluded: Vec<(Entry, Known)>,
    /// Once a region is looked at.
    effects: Option<Effects>,
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
            queue: Queue::default(),
            first: None,
            excluded: Vec::new(),
            effects: None,
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
                Stage::Lines(count) => match self.queue.pop(!self.is_good()) {
                    Some((key, entry, known)) => self.by_shift(key, entry, known),
                    None => self.after_lines(count),
                },
                Stage::Misses => match self.queue.pop(false) {
                    Some((key, entry, known)) => self.by_miss(key, entry, known),
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

    /// With the least that it is known to miss by, and a guess at it.
    fn push(&mut self, least: u64, entry: Entry, known: Known, guess: Option<u64>) {
        let shifts = entry.regions().iter().map(|region| self.grid.least_shift(region));
        let key = (least, entry.lines(), shifts.min().unwrap_or(0));
        self.queue.push(key, entry, known, guess);
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
        let pairs = self.queue.regions();
        let effects =
            self.effects.get_or_insert_with(|| Effects::of(&mut self.judge, self.problem.amounts()));
        let found = Dive::run(self.problem, &self.grid, &mut self.judge, effects, &pairs);
        if let Some((region, point)) = found {
            let amounts = self.grid.amounts(&region.support, point);
            let lever = Some(Lever::of(self.problem, &region.support));
            let merit = Merit::new(self.problem, &amounts, 0);
            self.first = Some(Found { amounts, merit, lever });
            self.take_first(2);
        }
    }

    /// The first good recipe is one of the best once as many lines are looked at as it changes; before, it would shut out fewer.
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
            self.proof.examined += entry.count();
            let promise = self.promise(&entry);
            self.push(0, entry, Known::default(), promise);
        }
    }

    fn after_lines(&mut self, count: u8) {
        self.queue = Queue::default();
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
            for (entry, known) in std::mem::take(&mut self.excluded) {
                // Nothing is excluded yet: these are ordered now by what they miss.
                self.push(known.miss(), entry, known, None);
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

    /// Whether every recipe here is worse than the best of its lever.
    fn is_surpassed(&self, key: Key, entry: &Entry) -> bool {
        entry.regions().iter().all(|region| {
            let best = self.best.get(&Some(Lever::of(self.problem, &region.support)));
            best.is_some_and(|found| key > (found.merit.miss, found.merit.lines, found.merit.shift))
        })
    }

    /// While recipes that meet every band are looked for.
    fn by_shift(&mut self, key: Key, entry: Entry, mut known: Known) {
        if self.is_good() && self.is_surpassed(key, &entry) {
            self.proof.excluded_by_merit += entry.count();
            return;
        }
        let count = entry.count();
        if count <= FEW {
            for region in entry.regions() {
                self.solve(region);
            }
            return;
        }
        let Sight { lines, corners, open, first } = self.look(&entry, &mut known);
        match self.judge.misses_somewhere(&lines, &corners, open, first) {
            Err((station, miss)) => {
                self.proof.excluded_by_bound += count;
                self.excluded.push((entry, Known::at(station, miss)));
            }
            Ok(guess) => self.divide(&entry, 0, known, Some(guess)),
        }
    }

    /// Solves every recipe of a region, while recipes that meet every band are looked for.
    fn solve(&mut self, region: &Region) {
        let lever = Some(Lever::of(self.problem, &region.support));
        let mut least: Option<u64> = None;
        for point in region.points() {
            self.proof.solved += 1;
            let amounts = self.grid.amounts(&region.support, point);
            if !self.problem.leads(&amounts) {
                continue;
            }
            match self.meets(region, point) {
                // Met, but perhaps not by a scale that errs.
                Ok(()) => match if self.problem.any_step { self.miss_weighed(&amounts, 0) } else { 0 } {
                    0 => self.offer(lever, amounts, 0),
                    miss => least = Some(least.map_or(miss, |least| least.min(miss))),
                },
                Err(miss) => least = Some(least.map_or(miss, |least| least.min(miss))),
            }
        }
        self.excluded.extend(least.map(|miss| (Entry::Region(*region), Known::at(0, miss))));
    }

    fn effects(&mut self) -> &Effects {
        self.effects.get_or_insert_with(|| Effects::of(&mut self.judge, self.problem.amounts()))
    }

    /// What is to be bounded, and where.
    fn look(&mut self, entry: &Entry, known: &mut Known) -> Sight {
        let (lines, corners) = entry.corners(&self.grid);
        let effects = self.effects();
        let open = known.open(|| effects.may_meet(&lines, &corners));
        let first = effects.farthest(&lines, &corners, open);
        Sight { lines, corners, open, first }
    }

    /// What recipes that seem to meet every band may miss by, as long as none that does is known.
    fn promise(&mut self, entry: &Entry) -> Option<u64> {
        if self.is_good() {
            return None;
        }
        let (lines, corners) = entry.corners(&self.grid);
        self.effects().promise(&lines, &corners).map(super::judge::units)
    }

    /// In its regions, or one region in halves, which miss by no less.
    fn divide(&mut self, entry: &Entry, least: u64, known: Known, guess: Option<u64>) {
        let known = known.of_parts();
        match entry {
            Entry::Together(together) => {
                for region in &together.regions {
                    let region = Entry::Region(*region);
                    let promise = guess.and_then(|_| self.promise(&region));
                    self.push(least, region, known, promise);
                }
            }
            Entry::Region(region) => {
                let halves = region.halves_by(|part| self.effects.as_ref().map_or(0.0, |it| it.spread(part)));
                for half in halves.into_iter().flatten() {
                    self.push(least, Entry::Region(half), known, guess);
                }
            }
        }
    }

    /// While the least miss is looked for.
    fn by_miss(&mut self, key: Key, entry: Entry, mut known: Known) {
        let far = self.best().is_some_and(|best| key.0 > best.merit.miss + super::judge::units(NEAR_MISS));
        let count = entry.count();
        if far || self.is_surpassed(key, &entry) {
            if self.from_start {
                self.proof.excluded_by_bound += count;
            }
            return;
        }
        if count <= FEW {
            if self.from_start {
                self.proof.solved += count;
            }
            for region in entry.regions() {
                let lever = Some(Lever::of(self.problem, &region.support));
                for point in region.points() {
                    let amounts = self.grid.amounts(&region.support, point);
                    if self.problem.leads(&amounts) {
                        let miss = if self.problem.any_step {
                            self.miss_weighed(&amounts, u64::MAX)
                        } else {
                            self.miss(region, point)
                        };
                        self.offer(lever, amounts, miss);
                    }
                }
            }
            return;
        }
        // One more temperature, as long as there is one.
        let Sight { lines, corners, first, .. } = self.look(&entry, &mut known);
        let Some(station) = first else {
            self.divide(&entry, key.0, known, None);
            return;
        };
        known.learn(station, self.judge.misses_at(station, &lines, &corners));
        self.push(known.miss().max(key.0), entry, known, None);
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

    /// Takes a recipe as the best of its lever if it is.
    fn offer(&mut self, lever: Option<Lever>, amounts: Vec<f64>, miss: u64) {
        let merit = Merit::new(self.problem, &amounts, miss);
        if self.best.get(&lever).is_none_or(|found| merit < found.merit) {
            self.best.insert(lever, Found { amounts, merit, lever });
        }
    }
}
