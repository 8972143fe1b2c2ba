//! A first good recipe before the proof: by a model, not by bounds.
//!
//! A recipe that was solved tells how each figure moves with every ingredient ([`Slope`]), so what others give is known to first
//! order without solving them. Of each set of lines the recipe that misses least by that model is an idea; the most promising idea is
//! solved and, if it misses, is itself a recipe to model others by. So a few equilibria do, where some recipe is good at all.

use super::{
    grid::Grid,
    judge::{Judge, Wanted},
    problem::Problem,
    region::{Region, Support},
};
use crate::{equilibrium::Slope, ordered::sort_by};

/// How many recipes are tried for each line that may change.
const TRIES_PER_LINE: usize = 1;

/// How many recipes of the same lines are tried.
const MOST_TRIES: usize = 4;

/// How many pairs of lines are tried with a third.
const PAIRS: usize = 4;

/// How many ideas are taken from the present recipe, with two lines and with three.
const STARTS: usize = 12;

/// How many ideas are taken from a recipe that was solved.
const IDEAS: usize = 3;

/// Of how many regions an idea is refined, the most promising at first sight.
const SKETCHES: usize = 24;

/// What is left of a miss by the model for another recipe of the same lines to be worth trying.
const WORTH: f64 = 0.6;

/// What a figure may be off by, percent points: so much for every square of a point that it moves by, at most so much for every
/// point, and so much anyway. Such a margin prefers what is near.
const OFF: [f64; 3] = [0.005, 0.2, 0.05];

/// A recipe worth trying.
struct Idea {
    /// The miss that the model expects, with a margin, percent points.
    miss: f64,
    region: Region,
    /// In steps.
    point: (i32, i32),
    /// Of which base.
    base: usize,
}

/// A recipe that was solved.
struct Base {
    amounts: Vec<f64>,
    /// Percent points.
    miss: f64,
    /// Where it lies; nowhere for the present recipe.
    place: Option<(Support, (i32, i32))>,
    /// By figure.
    figures: Vec<f64>,
    /// By figure, then by candidate.
    slopes: Vec<Vec<Slope>>,
}

/// One figure over a region, by the model.
struct Plane {
    low: f64,
    high: f64,
    /// Where nothing changes, and by how much that already moved.
    start: (f64, f64),
    /// What each line adds: at 0 %, and per percent.
    lines: [(f64, f64); 3],
}

/// All figures over a region.
struct Model {
    planes: Vec<Plane>,
    /// What the changing lines share, percent.
    shared: f64,
    step: f64,
}

/// A base counts no further than another recipe that was solved is nearer, of those that change the same lines.
struct Trust {
    own: Option<(i32, i32)>,
    /// The base among them.
    others: Vec<(i32, i32)>,
}

/// A search for a good recipe.
pub(super) struct Dive<'a> {
    problem: &'a Problem,
    grid: &'a Grid<'a>,
    wanted: Vec<Wanted>,
    present: Vec<f64>,
    ideas: Vec<Idea>,
    bases: Vec<Base>,
    /// The least miss of what was tried.
    least: u64,
}

impl Plane {
    fn miss(&self, values: &[f64; 3]) -> f64 {
        let (mut figure, mut moved) = self.start;
        for ((at, slope), value) in self.lines.iter().zip(values) {
            let gain = at + slope * value;
            figure += gain;
            moved += gain.abs();
        }
        let off = (OFF[0] * moved).min(OFF[1]) * moved + OFF[2];
        (self.low - figure + off).max(figure + off - self.high).max(0.0)
    }
}

impl Model {
    /// What the model expects to be missed, with the margin.
    fn miss(&self, (b, c): (i32, i32)) -> f64 {
        let (b, c) = (f64::from(b) * self.step, f64::from(c) * self.step);
        self.planes.iter().map(|plane| plane.miss(&[self.shared - b - c, b, c])).sum()
    }
}

impl Trust {
    fn holds(&self, point: (i32, i32)) -> bool {
        let square = |of: (i32, i32)| {
            let (b, c) = (i64::from(point.0 - of.0), i64::from(point.1 - of.1));
            b * b + c * c + (b + c) * (b + c)
        };
        let own = self.own.map(square);
        self.others.iter().map(|it| square(*it)).all(|it| it > 0 && own.is_some_and(|own| own <= it))
    }
}

impl<'a> Dive<'a> {
    /// The first good recipe that is found, in a region and in steps. `pairs` are the regions in which two lines change.
    pub(super) fn run(
        problem: &'a Problem,
        grid: &'a Grid<'a>,
        judge: &mut Judge,
        pairs: &[Region],
    ) -> Option<(Region, (i32, i32))> {
        let present = problem.amounts();
        let wanted = judge.wanted();
        // A band of one figure is hardly ever met to the digit.
        if wanted.iter().any(|it| it.low >= it.high) {
            return None;
        }
        let (ideas, bases) = (Vec::new(), Vec::new());
        let mut dive = Dive { problem, grid, wanted, present, ideas, bases, least: u64::MAX };
        dive.start(judge, pairs)?;
        let free = problem.candidates.iter().filter(|it| !it.fixed).count();
        for _ in 0..TRIES_PER_LINE * free {
            let idea = dive.next()?;
            if dive.attempt(judge, &idea) {
                return Some((idea.region, idea.point));
            }
        }
        None
    }

    /// Ideas from the present recipe.
    fn start(&mut self, judge: &mut Judge, pairs: &[Region]) -> Option<()> {
        let first = pairs.first().map_or([0, 1], |it| [it.support.lines[0], it.support.lines[1]]);
        let lines = first.map(usize::from);
        let values = [*self.present.get(lines[0])?, *self.present.get(lines[1])?, 0.0];
        let (_, figures) = judge.read(&self.wanted, &lines, &values);
        let slopes = judge.slopes(&self.wanted, &values);
        self.bases.push(Base { amounts: self.present.clone(), miss: 0.0, place: None, figures, slopes });
        let mut ideas = self.ideas_from(0, pairs, STARTS);
        if self.problem.changes > 2 {
            let mut regions = Vec::new();
            for Idea { region, .. } in ideas.iter().take(PAIRS) {
                self.grid.beside(&region.support, &mut regions);
            }
            if ideas.is_empty() {
                regions = self.grid.regions(3);
            }
            ideas.extend(self.ideas_from(0, &regions, STARTS));
        }
        self.ideas = ideas;
        Some(())
    }

    /// The most promising idea.
    fn next(&mut self) -> Option<Idea> {
        loop {
            let best =
                (0..self.ideas.len()).min_by(|a, b| self.ideas[*a].miss.total_cmp(&self.ideas[*b].miss));
            let idea = self.ideas.swap_remove(best?);
            if self.trust(idea.base, &idea.region.support).holds(idea.point) {
                return Some(idea);
            }
            // Another recipe has been solved nearer to it.
            let again = self.ideas_from(idea.base, &[idea.region], 1);
            self.ideas.extend(again);
        }
    }

    /// Solves an idea: whether it is good. If not, more come from it.
    fn attempt(&mut self, judge: &mut Judge, idea: &Idea) -> bool {
        let Idea { region, point, .. } = *idea;
        let support = region.support;
        let (lines, count) = support.lines();
        let values = self.grid.point(&support, point);
        let (miss, figures) = judge.read(&self.wanted, &lines[..count], &values);
        let amounts = self.grid.amounts(&support, point);
        let slopes =
            if miss > 0 || self.problem.any_step { judge.slopes(&self.wanted, &values) } else { Vec::new() };
        let miss = if miss == 0 && self.problem.any_step {
            judge.miss_weighed(self.problem, &amounts, 0)
        } else {
            miss
        };
        if miss == 0 {
            return true;
        }
        self.bases.push(Base {
            amounts,
            miss: miss as f64 * 1e-6,
            place: Some((support, point)),
            figures,
            slopes,
        });
        let base = self.bases.len() - 1;
        let mut regions = vec![region];
        if count == 2 && self.problem.changes > 2 {
            self.grid.beside(&support, &mut regions);
        } else if count == 3 && miss < self.least {
            for left_out in 0..3 {
                self.grid.instead(&support, left_out, &mut regions);
            }
        }
        self.least = self.least.min(miss);
        let ideas = self.ideas_from(base, &regions, IDEAS);
        self.ideas.extend(ideas);
        false
    }

    /// Of these regions the best ideas, the most promising first.
    fn ideas_from(&self, base: usize, regions: &[Region], most: usize) -> Vec<Idea> {
        let mut ideas: Vec<Idea> = regions.iter().filter_map(|region| self.sketch(base, *region)).collect();
        sort_by(&mut ideas, |a, b| a.miss.total_cmp(&b.miss));
        ideas.truncate(SKETCHES);
        for idea in &mut ideas {
            self.refine(idea);
        }
        let left = WORTH * self.bases[base].miss;
        ideas.retain(|idea| {
            let again = self.bases[base].place.is_some_and(|it| it.0 == idea.region.support);
            let amounts = self.grid.amounts(&idea.region.support, idea.point);
            idea.miss.is_finite() && (!again || idea.miss <= left) && self.problem.leads(&amounts)
        });
        sort_by(&mut ideas, |a, b| a.miss.total_cmp(&b.miss));
        ideas.truncate(most);
        ideas
    }

    /// The best of some recipes spread over a region; none where enough of its lines were tried.
    fn sketch(&self, base: usize, region: Region) -> Option<Idea> {
        let trust = self.trust(base, &region.support);
        if trust.others.len() >= MOST_TRIES {
            return None;
        }
        let model = self.model(base, &region);
        let own = self.bases[base].place.filter(|it| it.0 == region.support).map(|it| it.1);
        let mut best =
            Idea { miss: f64::INFINITY, region, point: own.unwrap_or((region.b.0, region.c.0)), base };
        for point in region.spread().filter(|point| trust.holds(*point)) {
            let miss = model.miss(point);
            if miss < best.miss {
                best = Idea { miss, point, ..best };
            }
        }
        Some(best)
    }

    /// Moves an idea to where the model misses least, or nearly.
    fn refine(&self, idea: &mut Idea) {
        let region = idea.region;
        let (trust, model) = (self.trust(idea.base, &region.support), self.model(idea.base, &region));
        let widest = (region.b.1 - region.b.0).max(region.c.1 - region.c.0);
        let mut stride = (widest / 4).max(1);
        while stride > 0 {
            let before = idea.miss;
            let (b, c) = idea.point;
            for (to_b, to_c) in [(1, 0), (-1, 0), (0, 1), (0, -1), (1, -1), (-1, 1)] {
                let point = (b + to_b * stride, c + to_c * stride);
                if region.holds(point) && trust.holds(point) {
                    let miss = model.miss(point);
                    if miss < idea.miss - 1e-9 {
                        (idea.miss, idea.point) = (miss, point);
                    }
                }
            }
            if idea.miss == before {
                stride /= 2;
            }
        }
    }

    /// Where a base may be the model of recipes that change these lines.
    fn trust(&self, base: usize, support: &Support) -> Trust {
        let of = |base: &Base| base.place.filter(|it| it.0 == *support).map(|it| it.1);
        Trust { own: of(&self.bases[base]), others: self.bases.iter().filter_map(of).collect() }
    }

    /// The model over a region.
    fn model(&self, base: usize, region: &Region) -> Model {
        let shared = self.grid.point(&region.support, (0, 0))[0];
        Model { planes: self.planes(&self.bases[base], region), shared, step: self.problem.step }
    }

    fn planes(&self, base: &Base, region: &Region) -> Vec<Plane> {
        let (lines, count) = region.support.lines();
        let lines = &lines[..count];
        let most = self.most(region);
        let planes = self.wanted.iter().zip(&base.figures).zip(&base.slopes);
        planes
            .map(|((wanted, figure), slopes)| {
                let mut plane = Plane {
                    low: wanted.low,
                    high: wanted.high,
                    start: (*figure, 0.0),
                    lines: [(0.0, 0.0); 3],
                };
                // What the base changed and the region leaves as it is.
                let (changed, count) = base.place.map_or(([0; 3], 0), |it| it.0.lines());
                for line in changed[..count].iter().copied().filter(|it| !lines.contains(it)) {
                    let gain = slopes[line].gain(self.present[line] - base.amounts[line]);
                    plane.start.0 += gain;
                    plane.start.1 += gain.abs();
                }
                for ((line, most), plane) in lines.iter().zip(most).zip(&mut plane.lines) {
                    let now = base.amounts[*line];
                    let (at, slope) = slopes[*line].line(most - now);
                    *plane = (at - slope * now, slope);
                }
                plane
            })
            .collect()
    }

    /// The most of each line in a region, percent.
    fn most(&self, region: &Region) -> [f64; 3] {
        let step = self.problem.step;
        let shared = self.grid.point(&region.support, (0, 0))[0];
        let [s, b, c] = [region.s.0, region.b.1, region.c.1].map(|it| f64::from(it) * step);
        [shared - s, b, c]
    }
}
