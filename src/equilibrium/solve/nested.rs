//! The solver: two nested one-dimensional problems.
//!
//! With σ_k = S_k/L, a family that is present obeys h_k(σ_k) = Σ n_i K_i/(1 + σ_k K_i) = L. Its reciprocal is concave and
//! rises with σ_k (a parallel sum of straight lines), so Newton's method on 1/h_k approaches the root from the left
//! from wherever it starts, and needs no bracket; for a pure crystal it is exact at once. Outside, L is the root of
//! F(L) = Σ n_i/(1 + σ_k(L) K_i) − L, positive below and negative above it because Φ is concave; for pure crystals F is
//! piecewise straight. Newton's method is safeguarded by the bracket that the signs give.

use std::ops::Range;

use crate::{equilibrium::model::Mixture, ordered::greater};

/// A solution, as the solver has it.
pub(crate) struct Solution {
    /// K by species.
    pub(crate) k: Vec<f64>,
    /// σ by family; infinite where there is no liquid.
    pub(crate) sigma: Vec<f64>,
    /// L, mol.
    pub(crate) liquid: f64,
    /// The largest violation of the optimality conditions.
    pub(crate) certificate: f64,
    /// Steps taken.
    pub(crate) steps: u32,
}

/// Enough for any mixture met in tests by a factor of five; the certificate tells if it ever is not.
const MOST_STEPS: u32 = 200;

/// Relative step below which an iterate no longer moves.
const CONVERGED: f64 = 4.0 * f64::EPSILON;

/// Solves `mixture` at `kelvin`.
pub(crate) fn solve(mixture: &Mixture, kelvin: f64) -> Solution {
    let k: Vec<f64> = mixture.solutes.iter().map(|solute| solute.distribution(kelvin)).collect();
    let n: Vec<f64> = mixture.solutes.iter().map(|solute| solute.moles).collect();
    let mut sigma = vec![0.0; mixture.families.len()];
    let layout = Layout { n: &n, k: &k, families: &mixture.families, inert: mixture.liquid.0 };
    let Phases { liquid, certificate, steps } = layout.solve(&mut sigma, None);
    Solution { k, sigma, liquid, certificate, steps }
}

/// What the solver works on.
pub(crate) struct Layout<'a> {
    /// Moles of each species that can crystallise.
    pub(crate) n: &'a [f64],
    /// Their K.
    pub(crate) k: &'a [f64],
    /// Where each family lies.
    pub(crate) families: &'a [Range<usize>],
    /// Moles that are always liquid.
    pub(crate) inert: f64,
}

/// What it finds, besides σ.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Phases {
    /// Moles of liquid.
    pub(crate) liquid: f64,
    /// The largest violation of the optimality conditions.
    pub(crate) certificate: f64,
    /// Steps taken.
    pub(crate) steps: u32,
}

impl Layout<'_> {
    /// The state; σ of each family goes to `sigma`, which is also where the iteration starts, as is `guess` for the liquid.
    pub(crate) fn solve(&self, sigma: &mut [f64], guess: Option<f64>) -> Phases {
        let total: f64 = self.inert + self.n.iter().sum::<f64>();
        if total <= 0.0 || self.inert <= 0.0 && self.all_solid() <= 1.0 {
            sigma.fill(if total > 0.0 { f64::INFINITY } else { 0.0 });
            return Phases { liquid: 0.0, certificate: 0.0, steps: 0 };
        }
        for sigma in sigma.iter_mut().filter(|sigma| !sigma.is_finite()) {
            *sigma = 0.0;
        }
        let mut inner = 0;
        let (mut low, mut high) = (0.0, total);
        let mut liquid = guess.filter(|guess| *guess > 0.0 && *guess < total).unwrap_or(total);
        let mut outer = 0;
        while outer < MOST_STEPS {
            outer += 1;
            let (moles, slope) = self.held(liquid, sigma, &mut inner);
            let excess = moles - liquid;
            if excess >= 0.0 {
                low = liquid;
            }
            if excess <= 0.0 {
                high = liquid;
            }
            let newton = liquid - excess / (slope - 1.0);
            let next = if newton > low && newton < high {
                newton
            } else if newton == liquid || low == high {
                liquid
            } else {
                // The low end starts at 0, which has no geometric mean with anything.
                (low.max(1e-15 * total) * high).sqrt()
            };
            let moved = (next - liquid).abs();
            if moved <= CONVERGED * liquid {
                break;
            }
            liquid = next;
        }
        self.held(liquid, sigma, &mut inner);
        Phases { liquid, certificate: self.certificate(liquid, sigma), steps: outer + inner }
    }

    /// Σ n_i/(S_k K_i) over all families, were everything solid: at most 1 where no liquid can form.
    fn all_solid(&self) -> f64 {
        self.families
            .iter()
            .map(|family| {
                let moles: f64 = self.n[family.clone()].iter().sum();
                let sum: f64 = family.clone().map(|i| self.n[i] / self.k[i]).sum();
                if moles > 0.0 { sum / moles } else { 0.0 }
            })
            .sum()
    }

    /// The liquid moles that L moles of liquid would hold, and their slope in L; sets `sigma`.
    fn held(&self, liquid: f64, sigma: &mut [f64], inner: &mut u32) -> (f64, f64) {
        let (n, k) = (self.n, self.k);
        let (mut moles, mut slope) = (self.inert, 0.0);
        for (family, sigma) in self.families.iter().zip(sigma) {
            let free: f64 = family.clone().map(|i| n[i] * k[i]).sum();
            if free <= liquid {
                *sigma = 0.0;
                moles += n[family.clone()].iter().sum::<f64>();
                continue;
            }
            if family.len() == 1 {
                let i = family.start;
                *sigma = n[i] / liquid - 1.0 / k[i];
                moles += liquid / k[i];
                slope += 1.0 / k[i];
                continue;
            }
            let mut x = *sigma;
            for _ in 0..MOST_STEPS {
                *inner += 1;
                let (mut h, mut falls) = (0.0, 0.0);
                for i in family.clone() {
                    let part = k[i] / (1.0 + x * k[i]);
                    h += n[i] * part;
                    falls += n[i] * part * part;
                }
                let next = greater(x + h * (h / liquid - 1.0) / falls, 0.0);
                let moved = (next - x).abs();
                x = next;
                if moved <= CONVERGED * x {
                    break;
                }
            }
            *sigma = x;
            let (mut up, mut down) = (0.0, 0.0);
            for i in family.clone() {
                let q = 1.0 / (1.0 + x * k[i]);
                moles += n[i] * q;
                up += n[i] * k[i] * q * q;
                down += n[i] * k[i] * k[i] * q * q;
            }
            slope += up / down;
        }
        (moles, slope)
    }

    /// The largest violation, from the conditions themselves.
    fn certificate(&self, liquid: f64, sigma: &[f64]) -> f64 {
        let mut held_moles = self.inert;
        let mut violation: f64 = 0.0;
        for (family, sigma) in self.families.iter().zip(sigma) {
            let mut sum = 0.0;
            for i in family.clone() {
                let dissolved = self.n[i] / (1.0 + sigma * self.k[i]);
                held_moles += dissolved;
                sum += dissolved * self.k[i] / liquid;
            }
            violation = violation.max(if *sigma > 0.0 { (sum - 1.0).abs() } else { sum - 1.0 });
        }
        violation.max((held_moles / liquid - 1.0).abs())
    }
}

/// The share of a species that is solid, where its family is present with `sigma` > 0.
pub(crate) fn solid_share(sigma: f64, k: f64) -> f64 {
    let bound = sigma * k;
    if bound.is_finite() { bound / (1.0 + bound) } else { 1.0 }
}

impl Solution {
    /// The same of species `i`.
    pub(crate) fn solid_share(&self, sigma: f64, i: usize) -> f64 {
        solid_share(sigma, self.k[i])
    }
}
