//! One season of two: which of its recipes are good, and how small a change they are.

use super::{smallest::FEW, watch::Watch};
use crate::rework::{
    bound::Judge,
    grid::{Grid, Region, Support},
    question::Problem,
};

/// Recipes of a region: one good recipe, or some of which none is known to be.
#[derive(Clone, Copy)]
pub(crate) struct Lot {
    /// Where they lie.
    pub(crate) region: Region,
    /// The least shift among them, millionths of a percent.
    pub(crate) shift: i64,
    /// Whether it is one recipe, and good.
    pub(crate) good: bool,
}

/// A season: its problem, and what is known of it.
pub(crate) struct Season<'p> {
    problem: &'p Problem,
    pub(crate) grid: Grid<'p>,
    judge: Judge,
    /// By how many lines change: the regions in which some recipe is good.
    lots: [Option<Vec<Lot>>; 4],
    /// A good recipe, the first that came.
    pub(crate) any: Option<Vec<f64>>,
}

impl<'p> Season<'p> {
    pub(crate) fn new(problem: &'p Problem) -> Season<'p> {
        let mut season = Season {
            problem,
            grid: Grid::new(problem),
            judge: Judge::new(problem),
            lots: [const { None }; 4],
            any: None,
        };
        let nothing = Region {
            support: Support { lines: [0; 3], count: 0, gains: [false; 3] },
            b: (0, 0),
            c: (0, 0),
            s: (0, 0),
        };
        let now = problem.amounts();
        let good = problem.admits(&now) && season.judge.miss_weighed(problem, &now, 0) == 0;
        season.any = good.then_some(now);
        season.lots[0] = Some(good.then_some(Lot { region: nothing, shift: 0, good }).into_iter().collect());
        season
    }

    /// Equilibria solved so far.
    pub(crate) fn solves(&self) -> u64 {
        self.judge.solves()
    }

    /// The regions of so many changing lines (0, 2 or 3) in which some recipe is good.
    pub(crate) fn lots(&mut self, count: usize, watch: &mut Watch<'_>) -> Vec<Lot> {
        if self.lots[count].is_none() {
            let regions = self.grid.regions(count as u8);
            watch.expect(regions.iter().map(Region::count).sum());
            let mut lots = Vec::new();
            for region in regions {
                if self.holds_good(region, watch) {
                    lots.push(self.lot(region));
                }
            }
            self.lots[count] = Some(lots);
        }
        self.lots[count].clone().unwrap_or_default()
    }

    fn lot(&self, region: Region) -> Lot {
        Lot { region, shift: self.grid.least_shift(&region), good: false }
    }

    /// Whether some recipe of a region is good; looks first where a guess says that one may be.
    fn holds_good(&mut self, region: Region, watch: &mut Watch<'_>) -> bool {
        let mut open = vec![(0, region)];
        while let Some(at) = (0..open.len()).min_by_key(|at| open[*at].0) {
            let (_, part) = open.swap_remove(at);
            if watch.stops() {
                return false;
            }
            if part.count() > FEW {
                if let Some(guess) = self.may_be_good(&part) {
                    open.extend(part.halves().into_iter().flatten().map(|half| (guess, half)));
                }
            } else if let Some(point) = part.points().into_iter().find(|point| self.is_good(&part, *point)) {
                if self.any.is_none() {
                    self.any = Some(self.grid.amounts(&part.support, point));
                }
                watch.decide(region.count());
                return true;
            }
        }
        watch.decide(region.count());
        false
    }

    /// `None` where no recipe of a region is good; else a guess at what its middle misses by.
    fn may_be_good(&mut self, region: &Region) -> Option<u64> {
        let (lines, count) = region.support.lines();
        self.judge.misses_somewhere(&lines[..count], &self.grid.corners(region)).ok()
    }

    fn is_good(&mut self, region: &Region, point: (i32, i32)) -> bool {
        let (lines, count) = region.support.lines();
        let amounts = self.grid.amounts(&region.support, point);
        self.problem.leads(&amounts)
            && self.judge.meets(&lines[..count], &self.grid.point(&region.support, point)).is_ok()
            && (!self.problem.any_step || self.judge.miss_weighed(self.problem, &amounts, 0) == 0)
    }

    /// Looks into the lots until all those of the least shift are good; gives that shift, or `None` where no recipe is good.
    pub(crate) fn settle(&mut self, lots: &mut Vec<Lot>, watch: &mut Watch<'_>) -> Option<i64> {
        loop {
            let least = |good: bool| {
                let of = (0..lots.len()).filter(|at| lots[*at].good == good);
                of.min_by_key(|at| lots[*at].shift).map(|at| (lots[at].shift, at))
            };
            let (found, open) = (least(true), least(false));
            let Some((shift, at)) = open.filter(|(shift, _)| found.is_none_or(|(good, _)| *shift <= good))
            else {
                return found.map(|(shift, _)| shift);
            };
            if watch.stops() {
                return Some(shift);
            }
            let region = lots.swap_remove(at).region;
            if region.count() <= FEW {
                for point in region.points() {
                    if self.is_good(&region, point) {
                        lots.push(Lot { good: true, ..self.lot(region.only(point)) });
                    }
                }
            } else if self.may_be_good(&region).is_some() {
                lots.extend(region.halves().into_iter().flatten().map(|half| self.lot(half)));
            }
        }
    }

    /// The recipe of a lot that is one.
    pub(crate) fn amounts(&self, lot: &Lot) -> Vec<f64> {
        self.grid.amounts(&lot.region.support, (lot.region.b.0, lot.region.c.0))
    }

    /// What of a lot holds so much of a line, percent.
    pub(crate) fn within(&self, lot: Lot, line: u8, range: (f64, f64)) -> Option<Lot> {
        let region = self.grid.within(lot.region, line, range)?;
        Some(Lot { good: lot.good, ..self.lot(region) })
    }
}
