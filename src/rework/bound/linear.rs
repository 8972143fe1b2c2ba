//! A linear model of the figures around the present recipe. It is a guess: it tells a search where to look
//! first, where to halve and which bound to ask for first, and never what to exclude.

use super::evaluator::{Evaluator, Target};
use crate::{
    equilibrium::{CORNERS, Slope},
    extremes::{greater, lesser},
    rework::grid::Region,
};

/// The amount over which the slope of a line is taken, percent: enough for a family that the
/// line brings in to crystallise.
const AMOUNT: f64 = 5.0;

/// How far off a figure is taken to be: so much of all that moves it, and so many percent points anyway.
const ERROR: (f64, f64) = (0.05, 0.05);

/// The figures that bands are on, as linear functions of what lines hold.
pub(crate) struct LinearModel {
    /// The recipe now, percent by line.
    present: Vec<f64>,
    pub(crate) targets: Vec<Target>,
    /// By target: the figure of the present recipe.
    pub(crate) figures: Vec<f64>,
    /// By target and line: how the figure moves, to first order and where a further family sets in.
    pub(crate) slopes: Vec<Vec<Slope>>,
    /// By target and line: what a percent more of the line adds to the figure, percent points.
    gains: Vec<Vec<f64>>,
}

/// What is expected of a region at one temperature.
pub(crate) struct Expected {
    pub(crate) temperature: usize,
    /// How far all of its recipes lie outside a band, percent points.
    outside: f64,
    /// Whether some of its recipes meet every band.
    pub(crate) meets: bool,
}

/// What one figure is over a region.
struct FigureRange {
    low: f64,
    high: f64,
    /// By how much its lines move the figure, one and all: the more, the less the model is to be trusted.
    moved: f64,
}

impl FigureRange {
    /// How far it overlaps with the band; negative where it does not.
    fn overlap(&self, target: &Target) -> f64 {
        lesser(self.high - target.low, target.high - self.low)
    }

    fn error(&self) -> f64 {
        ERROR.0 * self.moved + ERROR.1
    }
}

impl LinearModel {
    pub(crate) fn around(evaluator: &mut Evaluator, present: Vec<f64>) -> LinearModel {
        let targets = evaluator.targets();
        let (_, figures) = evaluator.figures(&targets, &[], &[0.0; 3]);
        let slopes = evaluator.slopes(&targets, &[0.0; 3]);
        let gains = |slopes: &Vec<Slope>| slopes.iter().map(|slope| slope.gain(AMOUNT) / AMOUNT).collect();
        let gains = slopes.iter().map(gains).collect();
        LinearModel { present, targets, figures, slopes, gains }
    }

    /// The range of one figure where these lines hold a mixture of what they hold at the corners. Of four
    /// lines, the first gives what the others take.
    fn range(&self, target: usize, lines: &[usize], corners: &[[f64; 3]]) -> FigureRange {
        let gains = &self.gains[target];
        let (lost, lines) = match lines {
            [giving, taking @ ..] if taking.len() > 2 => (gains[*giving], taking),
            _ => (0.0, lines),
        };
        let mut range = FigureRange { low: f64::INFINITY, high: f64::NEG_INFINITY, moved: 0.0 };
        for corner in corners {
            let (mut figure, mut moved) = (self.figures[target], 0.0);
            for (line, percent) in lines.iter().zip(corner) {
                let gain = (gains[*line] - lost) * (percent - self.present[*line]);
                figure += gain;
                moved += gain.abs();
            }
            range.low = lesser(range.low, figure);
            range.high = greater(range.high, figure);
            range.moved = greater(range.moved, moved);
        }
        range
    }

    /// How widely all figures together range over a region, percent points for steps of 1 %.
    pub(crate) fn spread(&self, region: &Region) -> f64 {
        let (lines, count) = region.support.lines();
        let mut corners = [[0.0; 3]; CORNERS];
        let points = region.corners();
        for (corner, (b, c)) in corners.iter_mut().zip(points.points()) {
            *corner = [f64::from(-b - c), f64::from(*b), f64::from(*c)];
        }
        let mut spread = 0.0;
        for target in 0..self.targets.len() {
            let range = self.range(target, &lines[..count], &corners[..points.points().len()]);
            spread += range.high - range.low;
        }
        spread
    }

    /// What is expected at each temperature, the one first at which recipes miss by most.
    pub(crate) fn expected(&self, lines: &[usize], corners: &[[f64; 3]]) -> Vec<Expected> {
        let mut expected: Vec<Expected> = Vec::new();
        for (at, target) in self.targets.iter().enumerate() {
            let range = self.range(at, lines, corners);
            let overlap = range.overlap(target);
            let meets = overlap > range.error();
            match expected.iter_mut().find(|it| it.temperature == target.temperature) {
                Some(it) => {
                    it.outside = greater(it.outside, -overlap);
                    it.meets &= meets;
                }
                None => {
                    expected.push(Expected { temperature: target.temperature, outside: -overlap, meets });
                }
            }
        }
        expected.sort_by(|a, b| b.outside.total_cmp(&a.outside));
        expected
    }

    /// Where each band is met by some recipe between the corners: a number, percent points, that is the less,
    /// the further the figures reach into the bands.
    pub(crate) fn promise(&self, lines: &[usize], corners: &[[f64; 3]]) -> Option<f64> {
        let mut promise = 0.0;
        for (at, target) in self.targets.iter().enumerate() {
            let overlap = self.range(at, lines, corners).overlap(target);
            if overlap < 0.0 {
                return None;
            }
            // At most 100, so that no promise comes before a centre that was seen to miss little.
            promise += 100.0 - lesser(overlap, 100.0);
        }
        Some(promise)
    }
}
