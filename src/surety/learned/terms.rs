//! How likely what was seen is.

use super::{
    Bench,
    crossing::Unknown,
    seen::{Level, Said},
};
use crate::surety::{
    Remainder,
    normal::{NormalTable, below},
};

/// What one look is compared with.
pub(super) enum Compared {
    /// A temperature that was read: of this crossing.
    Read(usize),
    /// The one lies above what was read, the other below.
    Between { above: Option<usize>, below: Option<usize> },
}

/// One look, as a factor of the likelihood.
pub(super) struct Term {
    pub(super) compared: Compared,
    /// °C.
    pub(super) at_c: f64,
    /// What the reading and the eye err by, K.
    pub(super) noise_k: f64,
    /// What the pot's remainder amounts to, K.
    pub(super) remainder_k: f64,
    pub(super) pot: usize,
    /// What the thermometer reads too high, K, for one of its unknown.
    pub(super) bias_k: f64,
    pub(super) thermometer: usize,
    pub(super) counts: bool,
}

/// What of the remainder concerns a level. A fresh butter was measured too
/// rarely to say: twice as much, ours.
fn remainder_k(level: Level, remainder: Remainder, is_fresh: bool) -> f64 {
    let settled_k = if level.percent.is_none() { remainder.clear_k } else { remainder.slip_k };
    if is_fresh { 2.0 * settled_k } else { settled_k }
}

impl Term {
    /// The term of each look, and the crossings that they are compared with, each with its pot.
    pub(super) fn all(bench: &Bench, remainders: &[Remainder]) -> (Vec<Term>, Vec<(usize, Level)>) {
        let mut crossings: Vec<(usize, Level)> = Vec::new();
        let mut term = |look: &super::Look| {
            let pot = &bench.pots[look.pot];
            let is_fresh = pot.state == crate::equilibrium::CrystalState::Fresh;
            let mut crossing = |level: Level| {
                let one = (look.pot, level);
                crossings.iter().position(|known| *known == one).unwrap_or_else(|| {
                    crossings.push(one);
                    crossings.len() - 1
                })
            };
            let said = look.seen.said(pot.format);
            let any = match &said {
                Said::Here(level) => Some(*level),
                Said::Between { no_colder, no_hotter } => no_colder.or(*no_hotter),
            };
            let compared = match said {
                Said::Here(level) => Compared::Read(crossing(level)),
                Said::Between { no_colder, no_hotter } => Compared::Between {
                    above: no_colder.map(&mut crossing),
                    below: no_hotter.map(&mut crossing),
                },
            };
            let measured = bench.thermometers[look.thermometer];
            Term {
                compared,
                at_c: look.at_c + look.seen.warmer_k(),
                noise_k: libm::hypot(measured.reading_k(), look.seen.judged_k()),
                remainder_k: any.map_or(0.0, |level| remainder_k(level, remainders[look.pot], is_fresh)),
                pot: look.pot,
                bias_k: measured.reading_k(),
                thermometer: look.thermometer,
                counts: look.counts,
            }
        };
        let terms = bench.looks.iter().map(&mut term).collect();
        (terms, crossings)
    }

    /// How much further up than what was read a crossing lies, in units of what is read wrong.
    fn further(&self, crossing_c: f64, bias: f64, remainder: f64) -> f64 {
        (crossing_c + self.remainder_k * remainder + self.bias_k * bias - self.at_c) / self.noise_k
    }

    /// The ends that the term compares with, as [`Term::further`] has them.
    pub(super) fn ends(&self, crossing_c: &dyn Fn(usize) -> f64, bias: f64, remainder: f64) -> Ends {
        let further = |at: usize| self.further(crossing_c(at), bias, remainder);
        match self.compared {
            Compared::Read(at) => Ends::Read(further(at)),
            Compared::Between { above, below } => Ends::Between {
                high: above.map_or(f64::INFINITY, further),
                low: below.map_or(f64::NEG_INFINITY, further),
            },
        }
    }

    /// Which of all unknowns move an end, and by how much: those that its crossing's slopes
    /// have, the thermometer and the pot.
    pub(super) fn gradient(&self, slopes: &[f64], unknown: &Unknown) -> Vec<f64> {
        let mut gradient = vec![0.0; unknown.all()];
        for (gradient, slope) in gradient.iter_mut().zip(slopes) {
            *gradient = slope / self.noise_k;
        }
        gradient[unknown.thermometer(self.thermometer)] += self.bias_k / self.noise_k;
        gradient[unknown.pot(self.pot)] += self.remainder_k / self.noise_k;
        gradient
    }
}

/// Where the crossings of a look lie, in units of what is read wrong, from what was read.
#[derive(Clone, Copy, Debug)]
pub(super) enum Ends {
    /// A reading: so far off.
    Read(f64),
    /// So far above what was read the one that should lie above, and the one that should lie below.
    Between { high: f64, low: f64 },
}

/// A logarithm of a likelihood with its slopes and the negative of its curvature,
/// in the high and in the low end.
pub(super) struct Log {
    pub(super) value: f64,
    pub(super) slope: [f64; 2],
    pub(super) curved: [[f64; 2]; 2],
}

/// The logarithm of the share of the normal distribution below x, however far down.
fn log_below(x: f64) -> f64 {
    if x > -30.0 {
        libm::log(below(x).max(f64::MIN_POSITIVE))
    } else {
        // The first terms of the asymptotic series.
        -0.5 * x * x - libm::log(-x) - HALF_LOG_2_PI + libm::log1p(-1.0 / (x * x))
    }
}

pub(super) const HALF_LOG_2_PI: f64 = 0.918_938_533_204_672_8;

/// The logarithm of the standard normal density.
fn log_density(x: f64) -> f64 {
    if x.is_finite() { -0.5 * x * x - HALF_LOG_2_PI } else { f64::NEG_INFINITY }
}

impl Ends {
    /// The logarithm of how likely it is, up to a constant.
    pub(super) fn log(self) -> Log {
        let (high, low) = match self {
            Ends::Read(off) => {
                return Log { value: -0.5 * off * off, slope: [-off, 0.0], curved: [[1.0, 0.0], [0.0, 0.0]] };
            }
            // What must lie above lies above what must lie below, but for what a straight line makes of them.
            Ends::Between { high, low } => (high.max(low + 1e-3), low),
        };
        // Both on the side where differences keep their digits.
        let value = if low > 0.0 { difference(-low, -high) } else { difference(high, low) };
        let [at_high, at_low] = [high, low].map(|end| libm::exp(log_density(end) - value));
        let (one, other) = (at_high, -at_low);
        let turned = |end: f64, slope: f64| if slope == 0.0 { 0.0 } else { end * slope + slope * slope };
        Log {
            value,
            slope: [one, other],
            curved: [[turned(high, one), one * other], [one * other, turned(low, other)]],
        }
    }

    /// How surprising it is: the share of what could have been seen that is at least so far
    /// off, on both sides of a reading. `spread` is what all else leaves open of the high and
    /// of the low end, in the same units.
    pub(super) fn share_as_far_off(self, spread: [f64; 2]) -> f64 {
        let [of_high, of_low] = spread.map(|spread| libm::hypot(1.0, spread));
        match self {
            Ends::Read(off) => 2.0 * below(-off.abs() / of_high),
            Ends::Between { high, low } => below(high / of_high).min(below(-low / of_low)),
        }
    }
}

/// The logarithm of the share between two points, the higher one first.
fn difference(high: f64, low: f64) -> f64 {
    let up_to_high = log_below(high);
    if low == f64::NEG_INFINITY {
        return up_to_high;
    }
    up_to_high + libm::log1p(-libm::exp(log_below(low) - up_to_high).min(1.0 - 1e-12))
}

/// The share below a point, quickly.
fn share_below(x: f64) -> f64 {
    if x.abs() < 5.0 { NormalTable::get().at(x) } else { below(x) }
}

/// So many values of a pot's remainder are looked at where several looks share it, over so
/// many of its standard deviations.
const REMAINDERS: i32 = 15;
const REACH: f64 = 3.5;

/// The logarithm of how likely all looks at one pot are, whatever its remainder: over that is integrated, for
/// readings in closed form, for what lies between as a sum.
pub(super) fn log_of_pot(
    looks: &[&Term],
    crossing_c: &dyn Fn(usize) -> f64,
    bias: &dyn Fn(usize) -> f64,
) -> f64 {
    let ends = |term: &Term, remainder: f64| term.ends(crossing_c, bias(term.thermometer), remainder);
    let slope = |term: &Term| term.remainder_k / term.noise_k;
    // Of the remainder after the readings: precision, and precision times mean.
    let (mut precision, mut pulled, mut log) = (1.0, 0.0, 0.0);
    let mut between: Vec<&Term> = Vec::new();
    for term in looks {
        match ends(term, 0.0) {
            Ends::Read(off) => {
                log -= 0.5 * off * off;
                precision += slope(term) * slope(term);
                pulled -= slope(term) * off;
            }
            Ends::Between { .. } => between.push(term),
        }
    }
    log += 0.5 * pulled * pulled / precision - 0.5 * libm::log(precision);
    let (mean, width) = (pulled / precision, 1.0 / precision.sqrt());
    let share = |term: &Term, remainder: f64, all: f64| match ends(term, remainder) {
        Ends::Between { high, low } => {
            let share = share_below(high / all) - share_below(low / all);
            share.max(1e-300)
        }
        Ends::Read(_) => 1.0,
    };
    match &between[..] {
        [] => log,
        [one] => log + libm::log(share(one, mean, libm::hypot(1.0, slope(one) * width))),
        several => {
            let (mut sum, mut weights) = (0.0, 0.0);
            for step in -REMAINDERS / 2..=REMAINDERS / 2 {
                let away = REACH * f64::from(step) / f64::from(REMAINDERS / 2);
                let weight = libm::exp(-0.5 * away * away);
                let all: f64 = several.iter().map(|term| share(term, mean + width * away, 1.0)).product();
                sum += weight * all;
                weights += weight;
            }
            log + libm::log((sum / weights).max(1e-300))
        }
    }
}
