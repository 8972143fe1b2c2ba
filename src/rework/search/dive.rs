//! A first good recipe before the proof: by a model, not by bounds.
//!
//! A recipe that was solved tells how each figure moves with every ingredient ([`Slope`]), so what others give is known to first
//! order without solving them. Of each set of lines the recipe that misses least by that model is an idea; the most promising idea is
//! solved and, if it misses, is itself a recipe to model others by: each by the one from which the figures move least, so that one
//! oil in the place of another is not tried in turn. So a few equilibria do, where some recipe is good at all.

use crate::{
    equilibrium::Slope,
    extremes::{greater, lesser},
    rework::{
        bound::{Effects, Judge, Wanted, points},
        grid::{Grid, Region, Support},
        question::Problem,
    },
};

/// How many recipes are tried for each line that may change.
const TRIES_PER_LINE: usize = 1;

/// How many recipes of the same lines are tried.
const MOST_TRIES: usize = 4;

/// How many pairs of lines are tried with a third.
const PAIRS: usize = 4;

/// How many ideas are taken from a look at all lines, by either promise.
const STARTS: usize = 12;

/// How many ideas are taken from a recipe that was solved, likewise.
const IDEAS: usize = 3;

/// Every so many tries are bold: where nothing may be missed, however far from what was solved.
const BOLDLY: usize = 3;

/// How much less bold for every point that figures move.
const BOLD: f64 = 0.01;

/// What is left of a miss by the model for another recipe of the same lines to be worth trying.
const WORTH: f64 = 0.6;

/// All lines are looked at anew from a recipe that misses so much less than those before.
const ANEW: f64 = 0.5;

/// What a figure may be off by, percent points: so much for every square of a point that it moves by, at most so much for every
/// point, and so much anyway. Such a margin prefers what is near.
const OFF: [f64; 3] = [0.005, 0.2, 0.05];

/// A recipe worth trying.
struct Idea {
    region: Region,
    /// In steps.
    point: (i32, i32),
    guess: Guess,
    /// Whether this is the best of the region, and not only of some of its recipes.
    refined: bool,
}

/// A recipe that was solved.
pub(crate) struct Base {
    pub(crate) amounts: Vec<f64>,
    /// In [`units`](super::judge::units).
    pub(crate) miss: u64,
    /// Which lines it changes; none in the present recipe.
    pub(crate) changes: Option<Support>,
    /// By figure.
    figures: Vec<f64>,
    /// By figure, then by candidate.
    slopes: Vec<Vec<Slope>>,
}

/// One figure over a region, as one base has it.
struct Plane {
    low: f64,
    high: f64,
    /// Where nothing changes, and by how much that already moved.
    start: (f64, f64),
    /// What each line holds in the base, percent, and what more of it adds.
    lines: [(f64, Slope); 3],
    count: usize,
}

/// All figures over a region, as one base has them.
struct Model {
    planes: Vec<Plane>,
    /// What the changing lines share, percent.
    shared: f64,
    step: f64,
}

/// What is expected of a recipe.
#[derive(Clone, Copy)]
struct Guess {
    /// The miss, with a margin, percent points.
    miss: f64,
    /// The same without.
    bare: f64,
    /// By how much the figures move from those of the base, percent points.
    moved: f64,
}

/// What no base has anything on.
const NOTHING: Guess = Guess { miss: f64::INFINITY, bare: f64::INFINITY, moved: f64::INFINITY };

impl Guess {
    /// What it promises: the least miss, or, where that is looked for, what may miss nothing at all.
    fn promise(&self, boldly: bool) -> f64 {
        if boldly { self.bare + BOLD * self.moved } else { self.miss }
    }
}

/// A search for a good recipe.
pub(crate) struct Dive<'a> {
    problem: &'a Problem,
    grid: &'a Grid<'a>,
    wanted: Vec<Wanted>,
    present: Vec<f64>,
    ideas: Vec<Idea>,
    bases: Vec<Base>,
    /// The least miss of what was tried, percent points.
    least: f64,
}

impl Model {
    fn guess(&self, (b, c): (i32, i32)) -> Guess {
        let (b, c) = (f64::from(b) * self.step, f64::from(c) * self.step);
        let values = [self.shared - b - c, b, c];
        let mut guess = Guess { miss: 0.0, bare: 0.0, moved: 0.0 };
        for plane in &self.planes {
            let (mut figure, mut moved) = plane.start;
            for (value, (held, slope)) in values.iter().zip(&plane.lines).take(plane.count) {
                let gain = slope.gain(value - held);
                figure += gain;
                moved += gain.abs();
            }
            let off = lesser(OFF[0] * moved, OFF[1]) * moved + OFF[2];
            let miss = greater(plane.low - figure, figure - plane.high);
            guess.miss += greater(miss + off, 0.0);
            guess.bare += greater(miss, 0.0);
            guess.moved += moved;
        }
        guess
    }
}

/// What the base expects from which the figures move least.
fn nearest(models: &[Model], point: (i32, i32)) -> Guess {
    let mut best = NOTHING;
    for model in models {
        let guess = model.guess(point);
        if guess.moved < best.moved {
            best = guess;
        }
    }
    best
}

impl<'a> Dive<'a> {
    /// What was solved: if a good recipe was found, it is the last.
    pub(crate) fn run(
        problem: &'a Problem,
        grid: &'a Grid<'a>,
        judge: &mut Judge,
        effects: &Effects,
    ) -> Vec<Base> {
        let present = problem.amounts();
        let wanted = effects.wanted();
        // A band of one figure is hardly ever met to the digit.
        if wanted.iter().any(|it| it.low >= it.high) {
            return Vec::new();
        }
        let (ideas, bases) = (Vec::new(), Vec::new());
        let mut dive = Dive { problem, grid, wanted, present, ideas, bases, least: f64::INFINITY };
        let pairs = grid.regions(2);
        dive.start(effects, &pairs);
        let free = problem.candidates.iter().filter(|it| !it.fixed).count();
        for attempt in 0..TRIES_PER_LINE * free {
            let Some(idea) = dive.next(attempt % BOLDLY == BOLDLY - 1) else { break };
            if dive.attempt(judge, &idea, &pairs) {
                break;
            }
        }
        dive.bases
    }

    /// Ideas from the present recipe.
    fn start(&mut self, effects: &Effects, pairs: &[Region]) {
        let (figures, slopes) = (effects.figures.clone(), effects.slopes.clone());
        self.bases.push(Base {
            amounts: self.present.clone(),
            miss: u64::MAX,
            changes: None,
            figures,
            slopes,
        });
        self.survey(0, pairs);
    }

    /// Ideas from a look at all lines.
    fn survey(&mut self, base: usize, pairs: &[Region]) {
        let mut ideas = self.sketches(base, pairs);
        if self.problem.changes > 2 {
            ideas.sort_by(|a, b| a.guess.miss.total_cmp(&b.guess.miss));
            let mut regions = if ideas.is_empty() { self.grid.regions(3) } else { Vec::new() };
            for Idea { region, .. } in ideas.iter().take(PAIRS) {
                self.grid.beside(&region.support, &mut regions);
            }
            ideas.extend(self.sketches(base, &regions));
        }
        self.take(ideas, STARTS);
    }

    /// Keeps the most promising ideas, either way.
    fn take(&mut self, mut ideas: Vec<Idea>, most: usize) {
        for boldly in [false, true] {
            ideas.sort_by(|a, b| a.guess.promise(boldly).total_cmp(&b.guess.promise(boldly)));
            let rest = ideas.split_off(most.min(ideas.len()));
            self.ideas.append(&mut ideas);
            ideas = rest;
        }
    }

    /// The most promising idea.
    fn next(&mut self, boldly: bool) -> Option<Idea> {
        loop {
            let promise = |at: &usize| self.ideas[*at].guess.promise(boldly);
            let best = (0..self.ideas.len()).min_by(|a, b| promise(a).total_cmp(&promise(b)));
            let idea = self.ideas.swap_remove(best?);
            if idea.refined {
                return Some(idea);
            }
            let again = self.think(idea, boldly);
            self.ideas.extend(again.filter(|idea| self.worth(idea)));
        }
    }

    /// What a recipe that was solved says of the ideas there are.
    fn learn(&mut self, base: usize) {
        for at in 0..self.ideas.len() {
            let Idea { region, point, guess, .. } = self.ideas[at];
            let news = self.model(base, &region).guess(point);
            if news.moved < guess.moved {
                self.ideas[at].guess = news;
                self.ideas[at].refined = false;
            }
        }
    }

    /// Solves an idea: whether it is good. If not, more come from it.
    fn attempt(&mut self, judge: &mut Judge, idea: &Idea, pairs: &[Region]) -> bool {
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
        self.bases.push(Base { amounts, miss, changes: Some(support), figures, slopes });
        if miss == 0 {
            return true;
        }
        let miss = points(miss);
        let base = self.bases.len() - 1;
        let mut regions = vec![region];
        if count == 2 && self.problem.changes > 2 {
            self.grid.beside(&support, &mut regions);
        } else if count == 3 && miss < self.least {
            for left_out in 0..3 {
                self.grid.instead(&support, left_out, &mut regions);
            }
        }
        self.learn(base);
        let ideas = self.sketches(base, &regions);
        self.take(ideas, IDEAS);
        if miss < ANEW * self.least {
            self.survey(base, pairs);
        }
        self.least = lesser(self.least, miss);
        false
    }

    /// The best of some recipes spread over each region, as one base has them.
    fn sketches(&self, base: usize, regions: &[Region]) -> Vec<Idea> {
        let sketch = |region: &Region| {
            let model = self.model(base, region);
            let mut best = Idea { region: *region, point: (0, 0), guess: NOTHING, refined: false };
            for point in region.spread() {
                if !region.holds(point) {
                    continue;
                }
                let guess = model.guess(point);
                if guess.miss < best.guess.miss {
                    (best.guess, best.point) = (guess, point);
                }
            }
            best.guess.miss.is_finite().then_some(best)
        };
        regions.iter().filter_map(sketch).collect()
    }

    /// Whether an idea is worth solving.
    fn worth(&self, idea: &Idea) -> bool {
        let same = |base: &&Base| base.changes == Some(idea.region.support);
        let tried = self.bases.iter().filter(same);
        let least = tried.clone().map(|base| points(base.miss)).fold(f64::INFINITY, lesser);
        lesser(idea.guess.miss, idea.guess.bare + OFF[2]) < WORTH * (least + OFF[2])
            && tried.count() < MOST_TRIES
            && self.problem.leads(&self.grid.amounts(&idea.region.support, idea.point))
    }

    /// Moves an idea to where it promises most, or nearly, each recipe as the base has it that is nearest.
    fn think(&self, idea: Idea, boldly: bool) -> Option<Idea> {
        let region = idea.region;
        let models: Vec<Model> = (0..self.bases.len()).map(|base| self.model(base, &region)).collect();
        let mut best = (nearest(&models, idea.point), idea.point);
        let look = |best: &mut (Guess, (i32, i32)), point: (i32, i32)| {
            if region.holds(point) {
                let guess = nearest(&models, point);
                if guess.promise(boldly) < best.0.promise(boldly) - 1e-9 {
                    *best = (guess, point);
                }
            }
        };
        for point in region.spread() {
            look(&mut best, point);
        }
        let widest = (region.b.1 - region.b.0).max(region.c.1 - region.c.0);
        let mut stride = (widest / 4).max(1);
        while stride > 0 {
            let (before, (b, c)) = (best.1, best.1);
            for (to_b, to_c) in [(1, 0), (-1, 0), (0, 1), (0, -1), (1, -1), (-1, 1)] {
                look(&mut best, (b + to_b * stride, c + to_c * stride));
            }
            if best.1 == before {
                stride /= 2;
            }
        }
        let (guess, point) = best;
        guess.miss.is_finite().then_some(Idea { region, point, guess, refined: true })
    }

    /// What a base has of a region.
    fn model(&self, at: usize, region: &Region) -> Model {
        let base = &self.bases[at];
        let (lines, count) = region.support.lines();
        let lines = &lines[..count];
        let planes = self.wanted.iter().zip(&base.figures).zip(&base.slopes);
        let planes = planes.map(|((wanted, figure), slopes)| {
            let mut plane = Plane {
                low: wanted.low,
                high: wanted.high,
                start: (*figure, 0.0),
                lines: [0, 1, 2].map(|at| {
                    let line = lines[at.min(count - 1)];
                    (base.amounts[line], slopes[line])
                }),
                count,
            };
            // What the base changed and the region leaves as it is.
            let (changed, count) = base.changes.map_or(([0; 3], 0), |it| it.lines());
            for line in changed[..count].iter().copied().filter(|it| !lines.contains(it)) {
                let gain = slopes[line].gain(self.present[line] - base.amounts[line]);
                plane.start.0 += gain;
                plane.start.1 += gain.abs();
            }
            plane
        });
        let planes = planes.collect();
        Model { planes, shared: self.grid.point(&region.support, (0, 0))[0], step: self.problem.step }
    }
}
