//! The likeliest values of all unknowns, as straight lines about a centre have it (Laplace's step).

use super::{
    crossing::{Crossing, Unknown},
    matrix::Factor,
    terms::{Compared, Ends, Log, Term},
};

/// What was seen, on straight lines about a centre.
pub(super) struct Straight<'a> {
    pub(super) unknown: &'a Unknown,
    pub(super) terms: &'a [Term],
    pub(super) crossings: &'a [Crossing],
    pub(super) centre: &'a [f64],
    /// Of each term, how its high and its low end move with all unknowns.
    gradients: Vec<[Vec<f64>; 2]>,
}

/// The likeliest values, and how they are curved there.
pub(super) struct Likeliest {
    pub(super) z: Vec<f64>,
    pub(super) curved: Factor,
}

/// Steps at most, and the step that ends them.
const MOST_STEPS: usize = 40;
const ENDS_AT: f64 = 1e-6;

impl<'a> Straight<'a> {
    pub(super) fn about(
        unknown: &'a Unknown,
        terms: &'a [Term],
        crossings: &'a [Crossing],
        centre: &'a [f64],
    ) -> Self {
        let of = |term: &Term, at: Option<usize>| {
            at.map_or(Vec::new(), |at| term.gradient(&crossings[at].slopes, unknown))
        };
        let gradients = terms.iter().map(|term| match term.compared {
            Compared::Read(at) => [of(term, Some(at)), Vec::new()],
            Compared::Between { above, below } => [of(term, above), of(term, below)],
        });
        Straight { unknown, terms, crossings, centre, gradients: gradients.collect() }
    }

    /// The ends of a term.
    pub(super) fn ends(&self, at: usize, z: &[f64]) -> Ends {
        let term = &self.terms[at];
        let bias = z[self.unknown.thermometer(term.thermometer)];
        let crossing_c = |at: usize| self.crossings[at].expected_c(self.centre, z);
        term.ends(&crossing_c, bias, z[self.unknown.pot(term.pot)])
    }

    /// What these leave open of the ends of a term, as standard deviations.
    pub(super) fn left(&self, at: usize, curved: &Factor) -> [f64; 2] {
        [0, 1].map(|end| {
            curved.divide(&self.gradients[at][end]).iter().map(|part| part * part).sum::<f64>().sqrt()
        })
    }

    /// The ends of a term, and what everything that counts but the term itself leaves open of them, as
    /// standard deviations: what was found with the term, less a parabola that stands for it.
    pub(super) fn without(&self, at: usize, likeliest: &Likeliest) -> (Ends, [f64; 2]) {
        let ends = self.ends(at, &likeliest.z);
        let Log { slope, curved, .. } = ends.log();
        let divided = [0, 1].map(|end| likeliest.curved.divide(&self.gradients[at][end]));
        let product = |one: usize, other: usize| -> f64 {
            divided[one].iter().zip(&divided[other]).map(|(one, other)| one * other).sum()
        };
        let with = [[product(0, 0), product(0, 1)], [product(1, 0), product(1, 1)]];
        // (1 - with · curved)⁻¹ · with, two by two.
        let entry = |row: usize, column: usize| {
            let taken = with[row][0] * curved[0][column] + with[row][1] * curved[1][column];
            f64::from(u8::from(row == column)) - taken
        };
        let (a, b, c, d) = (entry(0, 0), entry(0, 1), entry(1, 0), entry(1, 1));
        let scale = (a * d - b * c).max(1e-6);
        let open = |column: usize| {
            let (one, other) = (with[0][column], with[1][column]);
            [(d * one - b * other) / scale, (a * other - c * one) / scale]
        };
        let (first, second) = (open(0), open(1));
        let moved = [first[0] * slope[0] + second[0] * slope[1], first[1] * slope[0] + second[1] * slope[1]];
        let ends = match ends {
            Ends::Read(off) => Ends::Read(off - moved[0]),
            Ends::Between { high, low } => Ends::Between { high: high - moved[0], low: low - moved[1] },
        };
        (ends, [first[0].max(0.0).sqrt(), second[1].max(0.0).sqrt()])
    }

    /// The same before anything was seen, where only the pot's own lots and
    /// remainder and the thermometer are open.
    pub(super) fn left_at_first(&self, at: usize) -> [f64; 2] {
        [0, 1].map(|end| self.gradients[at][end].iter().map(|part| part * part).sum::<f64>().sqrt())
    }

    /// What counts against these values: the negative logarithm of how likely they are.
    fn against(&self, counts: &dyn Fn(usize) -> bool, z: &[f64]) -> f64 {
        let prior: f64 = z.iter().map(|z| 0.5 * z * z).sum();
        let terms = (0..self.terms.len()).filter(|at| counts(*at));
        prior - terms.map(|at| self.ends(at, z).log().value).sum::<f64>()
    }

    /// The likeliest values where these terms count, looked for from a first guess, by Newton's method.
    pub(super) fn likeliest(&self, counts: &dyn Fn(usize) -> bool, first: &[f64]) -> Likeliest {
        let size = self.unknown.all();
        let mut z = first.to_vec();
        let mut against = self.against(counts, &z);
        for _ in 0..MOST_STEPS {
            let (slope, curved) = self.shape(counts, &z);
            let curved = Factor::of(curved, size);
            let step = curved.solve(&slope);
            let (mut part, mut moved) = (1.0, z.clone());
            let mut found = against;
            for _ in 0..20 {
                for (moved, (z, step)) in moved.iter_mut().zip(z.iter().zip(&step)) {
                    *moved = z - part * step;
                }
                found = self.against(counts, &moved);
                if found <= against {
                    break;
                }
                part *= 0.5;
            }
            let longest = step.iter().map(|step| (part * step).abs()).fold(0.0, f64::max);
            let is_better = found <= against;
            if is_better {
                (z, against) = (moved, found);
            }
            if longest < ENDS_AT || !is_better {
                break;
            }
        }
        let (_, curved) = self.shape(counts, &z);
        Likeliest { z, curved: Factor::of(curved, size) }
    }

    /// The slope of what counts against these values, and its curvature.
    fn shape(&self, counts: &dyn Fn(usize) -> bool, z: &[f64]) -> (Vec<f64>, Vec<f64>) {
        let size = self.unknown.all();
        let mut slope = z.to_vec();
        let mut curved = vec![0.0; size * size];
        for at in 0..size {
            curved[at * size + at] = 1.0;
        }
        for at in (0..self.terms.len()).filter(|at| counts(*at)) {
            let Log { slope: of_ends, curved: of_both, .. } = self.ends(at, z).log();
            let ends = &self.gradients[at];
            for (one, of_one) in ends.iter().zip(of_ends) {
                for (slope, one) in slope.iter_mut().zip(one) {
                    *slope -= of_one * one;
                }
            }
            for (one, of_row) in ends.iter().zip(&of_both) {
                for (other, of_both) in ends.iter().zip(of_row) {
                    if *of_both == 0.0 || one.is_empty() || other.is_empty() {
                        continue;
                    }
                    for (row, one) in one.iter().enumerate().filter(|(_, one)| **one != 0.0) {
                        for (column, other) in other.iter().enumerate().take(row + 1) {
                            curved[row * size + column] += of_both * one * other;
                        }
                    }
                }
            }
        }
        (slope, curved)
    }
}
