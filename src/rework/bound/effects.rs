//! How the figures that bands are on move with every candidate, as the present recipe has it: a guess, which decides where a search
//! looks and where it halves, and never what it excludes.

use super::judge::{Judge, Wanted};
use crate::{
    equilibrium::Slope,
    extremes::{greater, lesser},
    rework::grid::{CORNERS, Region},
};

/// The amount that an ingredient's effect is taken over, percent: enough for a family that it brings to come in.
const AMOUNT: f64 = 5.0;

/// What a figure is taken to be off by: so much of all that moves it, and so many percent points anyway.
const OFF: (f64, f64) = (0.05, 0.05);

/// A figure that must lie within a band.
struct Effect {
    wanted: Wanted,
    /// What more of each candidate adds to it, percent points per percent.
    gains: Vec<f64>,
}

/// All figures that bands are on.
pub(crate) struct Effects {
    present: Vec<f64>,
    effects: Vec<Effect>,
    /// What they are in the present recipe.
    pub(crate) figures: Vec<f64>,
    /// By figure, then by candidate.
    pub(crate) slopes: Vec<Vec<Slope>>,
}

/// What recipes seem to miss by at one temperature.
pub(crate) struct Outlook {
    pub(crate) station: usize,
    /// How far they lie outside a band at least, percent points.
    gap: f64,
    /// Whether some of them seem to meet every band.
    pub(crate) met: bool,
}

/// What a figure is over a region, as far as known.
struct Reach {
    low: f64,
    high: f64,
    /// By how much its ingredients move it at most, one and all.
    moved: f64,
}

impl Reach {
    /// How far it overlaps with the band; less than 0 where it does not.
    fn within(&self, effect: &Effect) -> f64 {
        lesser(self.high - effect.wanted.low, effect.wanted.high - self.low)
    }

    /// What it may be off by.
    fn off(&self) -> f64 {
        OFF.0 * self.moved + OFF.1
    }
}

impl Effects {
    /// Around the present recipe.
    pub(crate) fn of(judge: &mut Judge, present: Vec<f64>) -> Effects {
        let wanted = judge.wanted();
        let (_, figures) = judge.read(&wanted, &[], &[0.0; 3]);
        let slopes = judge.slopes(&wanted, &[0.0; 3]);
        let effect = |(wanted, slopes): (Wanted, &Vec<Slope>)| Effect {
            wanted,
            gains: slopes.iter().map(|slope| slope.gain(AMOUNT) / AMOUNT).collect(),
        };
        let effects = wanted.into_iter().zip(&slopes).map(effect).collect();
        Effects { present, effects, figures, slopes }
    }

    /// What is wanted of the figures.
    pub(crate) fn wanted(&self) -> Vec<Wanted> {
        self.effects.iter().map(|effect| effect.wanted).collect()
    }

    fn reach(&self, at: usize, lines: &[usize], corners: &[[f64; 3]]) -> Reach {
        let effect = &self.effects[at];
        // Of four lines, the others come in place of the first.
        let places = usize::from(lines.len() > 3);
        let given = if places > 0 { effect.gains[lines[0]] } else { 0.0 };
        let mut reach = Reach { low: f64::INFINITY, high: f64::NEG_INFINITY, moved: 0.0 };
        for corner in corners {
            let (mut figure, mut moved) = (self.figures[at], 0.0);
            for (line, percent) in lines[places..].iter().zip(corner) {
                let gain = (effect.gains[*line] - given) * (percent - self.present[*line]);
                figure += gain;
                moved += gain.abs();
            }
            reach.low = lesser(reach.low, figure);
            reach.high = greater(reach.high, figure);
            reach.moved = greater(reach.moved, moved);
        }
        reach
    }

    /// By how much all figures together vary over a region, percent points for steps of 1 %.
    pub(crate) fn spread(&self, region: &Region) -> f64 {
        let (lines, count) = region.support.lines();
        let mut corners = [[0.0; 3]; CORNERS];
        let points = region.corners();
        for (corner, (b, c)) in corners.iter_mut().zip(points.points()) {
            *corner = [f64::from(-b - c), f64::from(*b), f64::from(*c)];
        }
        let mut spread = 0.0;
        for at in 0..self.effects.len() {
            let reach = self.reach(at, &lines[..count], &corners[..points.points().len()]);
            spread += reach.high - reach.low;
        }
        spread
    }

    /// The temperatures, the one first at which recipes between these corners seem to miss the bands by most, and whether some recipe
    /// seems to meet them all there: then a bound would hardly exclude them all.
    pub(crate) fn order(&self, lines: &[usize], corners: &[[f64; 3]]) -> Vec<Outlook> {
        let mut order: Vec<Outlook> = Vec::new();
        for (at, effect) in self.effects.iter().enumerate() {
            let reach = self.reach(at, lines, corners);
            let (within, station) = (reach.within(effect), effect.wanted.station);
            let met = within > reach.off();
            match order.iter_mut().find(|it| it.station == station) {
                Some(it) => {
                    it.gap = greater(it.gap, -within);
                    it.met &= met;
                }
                None => order.push(Outlook { station, gap: -within, met }),
            }
        }
        order.sort_by(|a, b| b.gap.total_cmp(&a.gap));
        order
    }

    /// Where each band seems to be met by some recipe between these corners: the less, the further the figures reach into the bands, percent
    /// points.
    pub(crate) fn promise(&self, lines: &[usize], corners: &[[f64; 3]]) -> Option<f64> {
        let mut short = 0.0;
        for (at, effect) in self.effects.iter().enumerate() {
            let within = self.reach(at, lines, corners).within(effect);
            if within < 0.0 {
                return None;
            }
            // No figure reaches further than 100, and so none promises more than a middle that misses little.
            short += 100.0 - lesser(within, 100.0);
        }
        Some(short)
    }
}
