//! The dive: a first good recipe before the proof, by a model and not by bounds.
//!
//! A recipe that was solved tells how each figure moves with every line ([`Slope`]), so that what others give
//! is known to first order without solving them. Of each set of lines, the recipe that misses least by that
//! model is an idea. The most promising idea is solved. If it misses, the recipe is itself one to model
//! others by: each is modelled by the solved recipe from which its figures move least, so that one oil in the
//! place of another is not tried in turn. Where some recipe is good at all, a few equilibria mostly do.

use crate::{
    equilibrium::Slope,
    extremes::{greater, lesser},
    rework::{
        bound::{Evaluator, LinearModel, Target},
        grid::{Grid, GridPoint, Percents, Region, Support},
        question::Problem,
    },
};

/// How many recipes of the same lines are solved.
const MOST_TRIES: usize = 4;

/// How many pairs of lines are looked at with a third.
const PAIRS: usize = 4;

/// How many ideas are kept from a look at all lines, both for cautious and for bold tries.
const FROM_ALL_LINES: usize = 12;

/// How many ideas are kept from lines like those of a recipe that was solved, both
/// for cautious and for bold tries.
const FROM_LIKE_LINES: usize = 3;

/// Every third try is bold: it goes where nothing may be missed, however far that is from what was solved.
const BOLD_EVERY: usize = 3;

/// What a bold try pays for every percent point that figures move.
const BOLD_COST: f64 = 0.01;

/// By the model, another recipe of the same lines must miss by less than this
/// share of what was solved of them.
const WORTH: f64 = 0.6;

/// All lines are looked at anew from a recipe that misses by less than this share of the least so far.
const ANEW: f64 = 0.5;

/// How far off the model may be, percent points: so much for every square of a point that a figure moves, at
/// most so much for every point, and so much anyway. Such a margin prefers what is near.
const ERROR: [f64; 3] = [0.005, 0.2, 0.05];

/// Gains in promise below this are rounding.
const ROUNDING: f64 = 1e-9;

/// What is expected of a recipe.
#[derive(Clone, Copy)]
struct Guess {
    /// The miss with the model's error, percent points.
    miss: f64,
    /// The miss without it.
    bare: f64,
    /// By how much the figures move from those that were solved, percent points.
    moved: f64,
}

/// What is expected where no recipe that was solved says anything.
const UNKNOWN: Guess = Guess { miss: f64::INFINITY, bare: f64::INFINITY, moved: f64::INFINITY };

impl Guess {
    /// The less, the more it promises.
    fn promise(&self, bold: bool) -> f64 {
        if bold { self.bare + BOLD_COST * self.moved } else { self.miss }
    }
}

/// A recipe that may be worth solving.
struct Idea {
    region: Region,
    point: GridPoint,
    guess: Guess,
    /// Whether this is the best of the region, and not only of some of its recipes.
    refined: bool,
}

/// A recipe that was solved.
pub(crate) struct SolvedRecipe {
    /// Percent by candidate.
    pub(crate) amounts: Vec<f64>,
    /// In [`units`](crate::rework::bound::units).
    pub(crate) miss: u64,
    /// How far its figures are outside their bands, in all, percent points.
    outside: f64,
    /// Where on the grid it lies; `None` for the present recipe.
    pub(crate) place: Option<(Support, GridPoint)>,
    /// By target.
    figures: Vec<f64>,
    /// By target, then by line.
    slopes: Vec<Vec<Slope>>,
}

/// One figure over a region, modelled by one recipe that was solved.
struct FigureModel {
    low: f64,
    high: f64,
    /// The figure where the region's lines hold as much as in the solved recipe and all others as much as
    /// now, and by how much it has moved for that.
    start: (f64, f64),
    /// What each line of the region holds in the solved recipe, percent, and what more of it adds.
    lines: [(f64, Slope); 3],
    count: usize,
}

/// All figures over a region, modelled by one recipe that was solved.
struct Model {
    figures: Vec<FigureModel>,
    /// What the changing lines share, percent.
    shared: f64,
    step: f64,
}

impl Model {
    fn guess(&self, (b, c): GridPoint) -> Guess {
        let (b, c) = (f64::from(b) * self.step, f64::from(c) * self.step);
        let shares = [self.shared - b - c, b, c];
        let mut guess = Guess { miss: 0.0, bare: 0.0, moved: 0.0 };
        for model in &self.figures {
            let (mut figure, mut moved) = model.start;
            for (share, (held, slope)) in shares.iter().zip(&model.lines).take(model.count) {
                let gain = slope.gain(share - held);
                figure += gain;
                moved += gain.abs();
            }
            let error = lesser(ERROR[0] * moved, ERROR[1]) * moved + ERROR[2];
            let miss = greater(model.low - figure, figure - model.high);
            guess.miss += greater(miss + error, 0.0);
            guess.bare += greater(miss, 0.0);
            guess.moved += moved;
        }
        guess
    }
}

/// The guess of the model in which the figures move least.
fn nearest(models: &[Model], point: GridPoint) -> Guess {
    let mut best = UNKNOWN;
    for model in models {
        let guess = model.guess(point);
        if guess.moved < best.moved {
            best = guess;
        }
    }
    best
}

/// A search for a good recipe.
pub(crate) struct Dive<'a> {
    problem: &'a Problem,
    grid: &'a Percents<'a>,
    targets: &'a [Target],
    /// The recipe now, percent by candidate.
    present: Vec<f64>,
    ideas: Vec<Idea>,
    solved: Vec<SolvedRecipe>,
    /// The least miss of what was tried, percent points.
    least: f64,
}

impl<'a> Dive<'a> {
    /// What was solved: if a good recipe was found, it is the last.
    pub(crate) fn run(
        problem: &'a Problem,
        grid: &'a Percents<'a>,
        evaluator: &mut Evaluator,
        linear: &'a LinearModel,
    ) -> Vec<SolvedRecipe> {
        let targets = &linear.targets;
        // A band of one figure is hardly ever met to the digit.
        if targets.iter().any(|it| it.low >= it.high) {
            return Vec::new();
        }
        let present = SolvedRecipe {
            amounts: problem.amounts(),
            miss: u64::MAX,
            outside: f64::INFINITY,
            place: None,
            figures: linear.figures.clone(),
            slopes: linear.slopes.clone(),
        };
        let mut dive = Dive {
            problem,
            grid,
            targets,
            present: problem.amounts(),
            ideas: Vec::new(),
            solved: vec![present],
            least: f64::INFINITY,
        };
        let pairs = grid.regions(2);
        dive.look_at_all_lines(0, &pairs);
        let free = problem.candidates.iter().filter(|it| !it.fixed).count();
        // One recipe is solved for each line that may change.
        for attempt in 0..free {
            let Some(idea) = dive.next(attempt % BOLD_EVERY == BOLD_EVERY - 1) else { break };
            if dive.solve(evaluator, &idea, &pairs) {
                break;
            }
        }
        dive.solved
    }

    /// Ideas from all lines, modelled by one recipe that was solved.
    fn look_at_all_lines(&mut self, by: usize, pairs: &[Region]) {
        let mut ideas = self.sketches(by, pairs);
        if self.problem.changes > 2 {
            ideas.sort_by(|a, b| a.guess.miss.total_cmp(&b.guess.miss));
            let mut regions = if ideas.is_empty() { self.grid.regions(3) } else { Vec::new() };
            for Idea { region, .. } in ideas.iter().take(PAIRS) {
                self.grid.beside(&region.support, &mut regions);
            }
            ideas.extend(self.sketches(by, &regions));
        }
        self.keep(ideas, FROM_ALL_LINES);
    }

    /// Keeps the most promising ideas, of either way to promise.
    fn keep(&mut self, mut ideas: Vec<Idea>, most: usize) {
        for bold in [false, true] {
            ideas.sort_by(|a, b| a.guess.promise(bold).total_cmp(&b.guess.promise(bold)));
            let rest = ideas.split_off(most.min(ideas.len()));
            self.ideas.append(&mut ideas);
            ideas = rest;
        }
    }

    /// The most promising idea.
    fn next(&mut self, bold: bool) -> Option<Idea> {
        loop {
            let promise = |at: &usize| self.ideas[*at].guess.promise(bold);
            let best = (0..self.ideas.len()).min_by(|a, b| promise(a).total_cmp(&promise(b)));
            let idea = self.ideas.swap_remove(best?);
            if idea.refined {
                return Some(idea);
            }
            let refined = self.refine(idea, bold);
            self.ideas.extend(refined.filter(|idea| self.is_worth_solving(idea)));
        }
    }

    /// Solves an idea: whether it is good. If not, more ideas come from it.
    fn solve(&mut self, evaluator: &mut Evaluator, idea: &Idea, pairs: &[Region]) -> bool {
        let Idea { region, point, .. } = *idea;
        let support = region.support;
        let (lines, count) = support.lines();
        let shares = self.grid.shares(&support, point);
        let (miss, figures) = evaluator.figures(self.targets, &lines[..count], &shares);
        let amounts = self.grid.amounts(&support, point);
        let slopes = if miss > 0 { evaluator.slopes(self.targets, &shares) } else { Vec::new() };
        let outside = self.outside(&figures);
        self.solved.push(SolvedRecipe {
            amounts,
            miss,
            outside,
            place: Some((support, point)),
            figures,
            slopes,
        });
        if miss == 0 {
            return true;
        }
        let miss = outside;
        let newest = self.solved.len() - 1;
        let mut regions = vec![region];
        if count == 2 && self.problem.changes > 2 {
            self.grid.beside(&support, &mut regions);
        } else if count == 3 && miss < self.least {
            for left_out in 0..3 {
                self.grid.instead(&support, left_out, &mut regions);
            }
        }
        self.guess_anew(newest);
        let ideas = self.sketches(newest, &regions);
        self.keep(ideas, FROM_LIKE_LINES);
        if miss < ANEW * self.least {
            self.look_at_all_lines(newest, pairs);
        }
        self.least = lesser(self.least, miss);
        false
    }

    /// How far figures are outside their bands, in all, percent points.
    fn outside(&self, figures: &[f64]) -> f64 {
        let outside = |(it, found): (&Target, &f64)| greater(greater(it.low - found, found - it.high), 0.0);
        self.targets.iter().zip(figures).map(outside).sum()
    }

    /// Models the ideas by a recipe that was solved where that is nearer than those before.
    fn guess_anew(&mut self, by: usize) {
        for at in 0..self.ideas.len() {
            let Idea { region, point, guess, .. } = self.ideas[at];
            let news = self.model(by, &region).guess(point);
            if news.moved < guess.moved {
                self.ideas[at].guess = news;
                self.ideas[at].refined = false;
            }
        }
    }

    /// The best of some recipes spread over each region, modelled by one recipe that was solved.
    fn sketches(&self, by: usize, regions: &[Region]) -> Vec<Idea> {
        let sketch = |region: &Region| {
            let model = self.model(by, region);
            let mut best = Idea { region: *region, point: (0, 0), guess: UNKNOWN, refined: false };
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

    fn is_worth_solving(&self, idea: &Idea) -> bool {
        let support = idea.region.support;
        let same_lines = |it: &&SolvedRecipe| it.place.is_some_and(|(of, _)| of == support);
        let tried = self.solved.iter().filter(same_lines);
        let least = tried.clone().map(|it| it.outside).fold(f64::INFINITY, lesser);
        lesser(idea.guess.miss, idea.guess.bare + ERROR[2]) < WORTH * (least + ERROR[2])
            && tried.count() < MOST_TRIES
            && self.grid.admits(&support, &self.grid.amounts(&support, idea.point))
    }

    /// Moves an idea to where it promises most, or nearly, each point modelled by the nearest
    /// recipe that was solved: from some points spread over the region, then from neighbour to
    /// neighbour with ever shorter strides.
    fn refine(&self, idea: Idea, bold: bool) -> Option<Idea> {
        let region = idea.region;
        let models: Vec<Model> = (0..self.solved.len()).map(|by| self.model(by, &region)).collect();
        let mut best = (nearest(&models, idea.point), idea.point);
        let look = |best: &mut (Guess, GridPoint), point: GridPoint| {
            if region.holds(point) {
                let guess = nearest(&models, point);
                if guess.promise(bold) < best.0.promise(bold) - ROUNDING {
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

    fn model(&self, by: usize, region: &Region) -> Model {
        let solved = &self.solved[by];
        let (lines, count) = region.support.lines();
        let lines = &lines[..count];
        let figures = self.targets.iter().zip(&solved.figures).zip(&solved.slopes);
        let figures = figures.map(|((target, figure), slopes)| {
            let mut model = FigureModel {
                low: target.low,
                high: target.high,
                start: (*figure, 0.0),
                lines: [0, 1, 2].map(|at| {
                    let line = lines[at.min(count - 1)];
                    (solved.amounts[line], slopes[line])
                }),
                count,
            };
            // What the solved recipe changes and the region leaves as it is now.
            let (changed, count) = solved.place.map_or(([0; 3], 0), |(support, _)| support.lines());
            for line in changed[..count].iter().copied().filter(|it| !lines.contains(it)) {
                let gain = slopes[line].gain(self.present[line] - solved.amounts[line]);
                model.start.0 += gain;
                model.start.1 += gain.abs();
            }
            model
        });
        let figures = figures.collect();
        Model { figures, shared: self.grid.shares(&region.support, (0, 0))[0], step: self.problem.step }
    }
}
