//! The solver that always converges: two nested problems of one variable each.
//!
//! Inside, at given moles of liquid L, each phase is alone. One that is present obeys h(σ) = Σ n K/(1 + σ K)
//! = L. The reciprocal of h is concave and rises with σ (it is a parallel sum of straight lines), so Newton's
//! method on 1/h approaches the root from the left wherever it starts, and needs no bracket; for a pure
//! crystal it is exact at once.
//!
//! Outside, L is the root of F(L) = Σ n/(1 + σ(L) K) − L, which is positive below the root and negative above
//! it because Φ is concave; where all crystals are pure, F is piecewise straight. Newton's method is
//! safeguarded by the bracket that these signs give.

use super::problem::{EquilibriumProblem, PhaseSplit, sigma_step, solid_share};
use crate::{equilibrium::model::Mixture, extremes::greater};

/// The equilibrium of a mixture at one temperature, as solved for.
pub(super) struct Solution {
    /// K by solute.
    pub(super) k: Vec<f64>,
    /// σ by phase; infinite where there is no liquid.
    pub(super) sigma: Vec<f64>,
    pub(super) outcome: PhaseSplit,
}

/// Five times as many as any mixture met in tests takes; the certificate tells if it ever is not enough.
const MOST_STEPS: u32 = 200;

/// An iterate that moves by less than this share of itself no longer moves.
const CONVERGED: f64 = 4.0 * f64::EPSILON;

impl Solution {
    /// Solves `mixture` at `kelvin` from nothing.
    pub(super) fn of(mixture: &Mixture, kelvin: f64) -> Solution {
        let k: Vec<f64> = mixture.solutes.iter().map(|solute| solute.distribution.at(kelvin)).collect();
        let moles: Vec<f64> = mixture.solutes.iter().map(|solute| solute.moles).collect();
        let mut sigma = vec![0.0; mixture.phases.len()];
        let problem = EquilibriumProblem {
            moles: &moles,
            k: &k,
            phases: &mixture.phases,
            solvent: mixture.solvent.moles,
            total: mixture.moles(),
        };
        let outcome = solve(&problem, &mut sigma, None);
        Solution { k, sigma, outcome }
    }

    /// The share of a solute that is solid, where its phase is present with `sigma` > 0.
    pub(super) fn solid_share(&self, sigma: f64, solute: usize) -> f64 {
        solid_share(sigma, self.k[solute])
    }
}

/// Solves a problem. σ of each phase goes to `sigma`, which is also where the iteration starts, as is `guess`
/// for the moles of liquid.
pub(crate) fn solve(problem: &EquilibriumProblem<'_>, sigma: &mut [f64], guess: Option<f64>) -> PhaseSplit {
    let total = problem.total;
    if total <= 0.0 || problem.solvent <= 0.0 && all_solid(problem) <= 1.0 {
        sigma.fill(if total > 0.0 { f64::INFINITY } else { 0.0 });
        return PhaseSplit { liquid: 0.0, certificate: 0.0, steps: 0 };
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
        let (dissolved, slope) = dissolve(problem, liquid, sigma, &mut inner);
        let excess = dissolved - liquid;
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
    dissolve(problem, liquid, sigma, &mut inner);
    PhaseSplit { liquid, certificate: certificate(problem, liquid, sigma), steps: outer + inner }
}

/// Σ n/(S K) over all solutes, S being the moles of their phase, were everything solid: a first drop of
/// liquid would form where it is above 1.
fn all_solid(problem: &EquilibriumProblem<'_>) -> f64 {
    let of_phase = |phase: &std::ops::Range<usize>| {
        let moles: f64 = problem.moles[phase.clone()].iter().sum();
        let sum: f64 = phase.clone().map(|i| problem.moles[i] / problem.k[i]).sum();
        if moles > 0.0 { sum / moles } else { 0.0 }
    };
    problem.phases.iter().map(of_phase).sum()
}

/// The moles that so much liquid leaves dissolved, and their slope in it; sets `sigma`.
fn dissolve(problem: &EquilibriumProblem<'_>, liquid: f64, sigma: &mut [f64], inner: &mut u32) -> (f64, f64) {
    let EquilibriumProblem { moles: n, k, .. } = *problem;
    let (mut dissolved, mut slope) = (problem.solvent, 0.0);
    for (phase, sigma) in problem.phases.iter().zip(sigma) {
        let onset: f64 = phase.clone().map(|i| n[i] * k[i]).sum();
        if onset <= liquid {
            *sigma = 0.0;
            dissolved += n[phase.clone()].iter().sum::<f64>();
            continue;
        }
        if phase.len() == 1 {
            let i = phase.start;
            *sigma = n[i] / liquid - 1.0 / k[i];
            dissolved += liquid / k[i];
            slope += 1.0 / k[i];
            continue;
        }
        let mut x = *sigma;
        for _ in 0..MOST_STEPS {
            *inner += 1;
            let (mut saturated, mut fall) = (0.0, 0.0);
            for i in phase.clone() {
                let kq = k[i] / (1.0 + x * k[i]);
                saturated += n[i] * kq;
                fall += n[i] * kq * kq;
            }
            let next = greater(x + sigma_step(saturated, fall, saturated / liquid), 0.0);
            let moved = (next - x).abs();
            x = next;
            if moved <= CONVERGED * x {
                break;
            }
        }
        *sigma = x;
        let (mut dissolved_fall, mut saturated_fall) = (0.0, 0.0);
        for i in phase.clone() {
            let q = 1.0 / (1.0 + x * k[i]);
            dissolved += n[i] * q;
            dissolved_fall += n[i] * k[i] * q * q;
            saturated_fall += n[i] * k[i] * k[i] * q * q;
        }
        slope += dissolved_fall / saturated_fall;
    }
    (dissolved, slope)
}

/// The largest violation of the conditions of equilibrium, from the conditions themselves.
fn certificate(problem: &EquilibriumProblem<'_>, liquid: f64, sigma: &[f64]) -> f64 {
    let mut dissolved_moles = problem.solvent;
    let mut violation: f64 = 0.0;
    for (phase, sigma) in problem.phases.iter().zip(sigma) {
        let mut ratio = 0.0;
        for i in phase.clone() {
            let dissolved = problem.moles[i] / (1.0 + sigma * problem.k[i]);
            dissolved_moles += dissolved;
            ratio += dissolved * problem.k[i] / liquid;
        }
        violation = violation.max(if *sigma > 0.0 { (ratio - 1.0).abs() } else { ratio - 1.0 });
    }
    violation.max((dissolved_moles / liquid - 1.0).abs())
}
