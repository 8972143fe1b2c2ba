//! A fixed set of lots about the likeliest values, each weighted by how likely it is.

use super::{
    centre::Likeliest,
    crossing::{Crossing, Mixed, Unknown},
    matrix::Factor,
    terms::{Term, log_of_pot},
};
use crate::{equilibrium::Sweep, surety::sobol::standard};

/// How many there are. A power of two, since the numbers fill space evenly in such.
pub(super) const WEIGHTED: usize = 512;

/// The seeds of the numbers of each unknown begin here.
const SEED: u32 = 0x6c6f_7473;

/// Values of the shared unknowns, with weights that sum to 1.
pub(super) struct Weighted {
    pub(super) z: Vec<Vec<f64>>,
    pub(super) weights: Vec<f64>,
}

/// Where these mixtures' crossings are for each of the values.
pub(super) fn crossings_c(
    mixed: &[Mixed],
    unknown: &Unknown,
    crossings: &[(usize, &Crossing)],
    centre: &[f64],
    z: &[Vec<f64>],
) -> Vec<Vec<f64>> {
    let mut found = vec![vec![0.0; crossings.len()]; z.len()];
    for (pot, mixed) in mixed.iter().enumerate() {
        let of_pot: Vec<usize> = (0..crossings.len()).filter(|at| crossings[*at].0 == pot).collect();
        let Some(first) = of_pot.first() else { continue };
        let at_centre = mixed.mixture(unknown, centre);
        let mut beside = Sweep::new(&at_centre);
        beside.at(crossings[*first].1.at_c);
        for (z, found) in z.iter().zip(&mut found) {
            let mixture = mixed.mixture(unknown, z);
            let worth = unknown.worth(z);
            let mut sweep = Sweep::beside(&mixture, &beside);
            for at in &of_pot {
                let crossing = crossings[*at].1;
                found[*at] = crossing.found_c(&mut sweep, &worth, crossing.expected_c(centre, z));
            }
        }
    }
    found
}

impl Weighted {
    /// Those about these values, by what was seen.
    pub(super) fn about(
        likeliest: &Likeliest,
        unknown: &Unknown,
        mixed: &[Mixed],
        crossings: &[(usize, &Crossing)],
        centre: &[f64],
        terms: &[Term],
    ) -> Weighted {
        let shared = unknown.shared();
        let left = Factor::of(likeliest.curved.inverse(shared), shared);
        let number = |point: usize, at: usize| standard(point as u32, 0, SEED.wrapping_add(at as u32));
        let numbers: Vec<Vec<f64>> =
            (0..WEIGHTED).map(|point| (0..shared).map(|at| number(point, at)).collect()).collect();
        let z: Vec<Vec<f64>> = numbers
            .iter()
            .map(|numbers| left.times(numbers).iter().zip(&likeliest.z).map(|(away, z)| z + away).collect())
            .collect();
        let found = crossings_c(mixed, unknown, crossings, centre, &z);
        let pots: Vec<Vec<&Term>> = (0..mixed.len())
            .map(|pot| terms.iter().filter(|term| term.counts && term.pot == pot).collect())
            .collect();
        let mut logs: Vec<f64> = Vec::with_capacity(WEIGHTED);
        for ((z, numbers), found) in z.iter().zip(&numbers).zip(&found) {
            let prior: f64 = z.iter().map(|z| -0.5 * z * z).sum();
            let drawn: f64 = numbers.iter().map(|number| -0.5 * number * number).sum();
            let seen: f64 = pots
                .iter()
                .filter(|looks| !looks.is_empty())
                .map(|looks| log_of_pot(looks, &|at| found[at], &|at| z[unknown.thermometer(at)]))
                .sum();
            logs.push(prior + seen - drawn);
        }
        let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let mut weights: Vec<f64> = logs.iter().map(|log| libm::exp(log - most)).collect();
        let sum: f64 = weights.iter().sum();
        weights.iter_mut().for_each(|weight| *weight /= sum);
        Weighted { z, weights }
    }

    /// How many equally weighted ones would tell as much.
    pub(super) fn worth(&self) -> f64 {
        1.0 / self.weights.iter().map(|weight| weight * weight).sum::<f64>()
    }

    /// The mean of a figure.
    pub(super) fn mean(&self, figure: &dyn Fn(&[f64]) -> f64) -> f64 {
        self.weights.iter().zip(&self.z).map(|(weight, z)| weight * figure(z)).sum()
    }
}
