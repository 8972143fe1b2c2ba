//! The solver that is fast from a state nearby: Newton's method on L and every σ at once.
//!
//! Each σ touches only L, so a step costs one pass over the solutes. As in [`nested`](mod@super::nested), the
//! condition of a phase is written as 1/h(σ) = 1/L, which is straight for a pure crystal (it is eliminated
//! outright) and nearly straight for others. It may fail; then the nested solver takes over.

use std::ops::Range;

use super::problem::{EquilibriumProblem, PhaseSplit, PhaseSums, sigma_step};

/// A violation of the conditions of equilibrium that counts as solved: rounding leaves about 1e-15.
const SOLVED: f64 = 1e-13;

/// A violation that is accepted where further steps no longer lessen it.
const SOLVED_AT_BEST: f64 = 1e-11;

/// Three do on average from a state nearby.
const MOST_STEPS: u32 = 20;

/// A phase that may be present.
#[derive(Clone, Copy)]
pub(crate) struct Active {
    /// Its place among the phases of the problem.
    pub(crate) phase: usize,
    start: usize,
    end: usize,
    pub(crate) moles: f64,
    /// Σ n K: the phase appears where there is less liquid than this, moles.
    onset: f64,
    /// The step of σ were L to stay, and what is added to it for each mole by which L moves.
    step: f64,
    step_by_liquid: f64,
}

impl Active {
    /// The phase at this place, whose solutes are these; the moles are those of all solutes.
    pub(crate) fn new(phase: usize, members: &Range<usize>, moles: &[f64]) -> Active {
        let Range { start, end } = *members;
        let moles = moles[start..end].iter().sum();
        Active { phase, start, end, moles, onset: 0.0, step: 0.0, step_by_liquid: 0.0 }
    }

    fn is_pure(&self) -> bool {
        self.end - self.start == 1
    }
}

/// Where the iteration stands.
struct Residual {
    /// The largest violation of the conditions.
    violation: f64,
    /// Dissolved moles above L, once every σ has made its step.
    excess: f64,
    /// How much more is dissolved for each mole by which L moves.
    slope: f64,
}

/// Solves a problem of which only these phases can be present; the moles of all others must be part of the
/// solvent. `sigma` and `liquid` are where the iteration starts; σ of the active phases goes to `sigma`.
///
/// It ends where the conditions are met to rounding, or one step after they are met to `nearly`: such a step
/// about squares what is left. `None` where it does not come to an end, or there may be no liquid at all.
pub(crate) fn solve(
    problem: &EquilibriumProblem<'_>,
    active: &mut [Active],
    sigma: &mut [f64],
    mut liquid: f64,
    nearly: f64,
) -> Option<PhaseSplit> {
    if problem.solvent <= 0.0 {
        return None;
    }
    for phase in active.iter_mut() {
        let members = phase.start..phase.end;
        phase.onset = 0.0;
        for (moles, k) in problem.moles[members.clone()].iter().zip(&problem.k[members]) {
            phase.onset += moles * k;
        }
    }
    let mut before = f64::INFINITY;
    for steps in 1..=MOST_STEPS {
        let Residual { violation, excess, slope } = residual(problem, active, sigma, liquid);
        if violation <= SOLVED || violation <= SOLVED_AT_BEST && violation > 0.5 * before {
            set_pure(problem, active, sigma, liquid);
            return Some(PhaseSplit { liquid, certificate: violation, steps });
        }
        before = violation;
        // Past a bend of F the slope can exceed 1: head back to where it does not.
        let moved = if slope < 1.0 { excess / (1.0 - slope) } else { problem.total - liquid };
        let next = (liquid + moved).clamp(0.1 * liquid, problem.total);
        for phase in active.iter().filter(|phase| !phase.is_pure()) {
            let sigma = &mut sigma[phase.phase];
            *sigma = (*sigma + phase.step + phase.step_by_liquid * (next - liquid)).max(0.0);
        }
        liquid = next;
        if violation <= nearly {
            set_pure(problem, active, sigma, liquid);
            return Some(PhaseSplit { liquid, certificate: violation, steps });
        }
    }
    None
}

/// The residual where the iteration stands; sets the steps of the phases.
fn residual(problem: &EquilibriumProblem<'_>, active: &mut [Active], sigma: &[f64], liquid: f64) -> Residual {
    let (mut dissolved, mut stepped, mut slope) = (problem.solvent, 0.0, 0.0);
    let mut violation: f64 = 0.0;
    for phase in active {
        let sigma = sigma[phase.phase];
        (phase.step, phase.step_by_liquid) = (0.0, 0.0);
        if phase.is_pure() {
            if phase.onset > liquid {
                let per_k = 1.0 / problem.k[phase.start];
                dissolved += liquid * per_k;
                slope += per_k;
            } else {
                dissolved += phase.moles;
            }
            continue;
        }
        if sigma <= 0.0 && phase.onset <= liquid {
            dissolved += phase.moles;
            continue;
        }
        let members = phase.start..phase.end;
        let sums = PhaseSums::at(sigma, &problem.moles[members.clone()], &problem.k[members]);
        let ratio = sums.saturated / liquid;
        violation = violation.max((ratio - 1.0).abs());
        phase.step = sigma_step(sums.saturated, sums.saturated_fall, ratio);
        phase.step_by_liquid = -ratio * ratio / sums.saturated_fall;
        dissolved += sums.dissolved;
        stepped -= sums.dissolved_fall * phase.step;
        slope -= sums.dissolved_fall * phase.step_by_liquid;
    }
    violation = violation.max((dissolved / liquid - 1.0).abs());
    Residual { violation, excess: dissolved + stepped - liquid, slope }
}

/// Sets σ of pure crystals, which the steps did without.
fn set_pure(problem: &EquilibriumProblem<'_>, active: &[Active], sigma: &mut [f64], liquid: f64) {
    for phase in active.iter().filter(|phase| phase.is_pure()) {
        sigma[phase.phase] = if phase.onset > liquid {
            (phase.moles / liquid - 1.0 / problem.k[phase.start]).max(0.0)
        } else {
            0.0
        };
    }
}
