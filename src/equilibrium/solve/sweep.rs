//! The same states, faster, for many temperatures of one mixture.
//!
//! Newton's method on L and every σ_k at once, from the state before: each σ_k touches only L, so a step costs one pass over
//! the species that count. As in `nested`, a family's condition is written as 1/h_k(σ_k) = 1/L, which is a straight line for a
//! pure crystal (eliminated outright) and nearly one for others. Where the conditions are not met to [`ENOUGH`] in
//! [`MOST_STEPS`], the nested solver, which always converges, takes over.
//!
//! What is absent at one temperature is absent at every higher one, so a rising sweep drops families as they melt.
//! Proof: lower any K_i of a family, at fixed L; its σ falls, since h falls in σ and rises in K_i; so every other species
//! of it dissolves further and binds less in Σ n_j K_j/(1 + σ K_j), wherefore i does so too. Each K falls with temperature, so
//! the moles dissolved at fixed L rise, and L with them; a family is absent where Σ n_i K_i ≤ L, of which the left falls and the
//! right rises.

use super::{
    Equilibrium,
    nested::{self, Solution},
};
use crate::equilibrium::model::{Mixture, kelvin};

/// Violation of the conditions that counts as solved, a pure number: rounding leaves about 1e-15.
const ENOUGH: f64 = 1e-13;

/// Violation that is accepted where further steps no longer lessen it.
const ROUNDING: f64 = 1e-11;

/// Three do on average from the state before.
const MOST_STEPS: u32 = 20;

/// Solves one mixture at temperature after temperature.
pub struct Sweep<'m> {
    mixture: &'m Mixture,
    /// The state last solved for.
    solution: Solution,
    /// Families that can be present at `coldest_k` or above.
    families: Vec<Active>,
    coldest_k: f64,
    /// Of the state last solved for.
    last_k: f64,
    /// Moles of everything else.
    free: f64,
    total: f64,
}

/// A family that may be present.
#[derive(Clone, Copy)]
struct Active {
    family: usize,
    start: usize,
    end: usize,
    moles: f64,
    /// Σ n_i K_i: its h at σ = 0.
    free: f64,
    /// The step of σ, before that of L is known: dσ = own + by_liquid dL.
    own: f64,
    by_liquid: f64,
}

impl<'m> Sweep<'m> {
    /// A sweep that has not started.
    pub fn new(mixture: &'m Mixture) -> Sweep<'m> {
        let total = mixture.liquid.0 + mixture.solutes.iter().map(|solute| solute.moles).sum::<f64>();
        let mut sweep = Sweep {
            mixture,
            solution: Solution {
                k: vec![0.0; mixture.solutes.len()],
                sigma: vec![0.0; mixture.families.len()],
                liquid: total,
                certificate: 0.0,
                steps: 0,
            },
            families: Vec::with_capacity(mixture.families.len()),
            coldest_k: 0.0,
            last_k: 0.0,
            free: 0.0,
            total,
        };
        sweep.take_all();
        sweep
    }

    /// The state at a temperature, °C. Temperatures near the last one are found soonest.
    pub fn at(&mut self, celsius: f64) -> Equilibrium {
        self.solve(kelvin(celsius));
        Equilibrium::of(self.mixture, &self.solution)
    }

    /// The state at a temperature, °C, as [`Sweep::at`] has it; those that follow are no colder, or cost more.
    pub fn rising(&mut self, celsius: f64) -> Equilibrium {
        let state = self.at(celsius);
        self.no_colder();
        state
    }

    /// Says that what follows is no colder than the last temperature, or may cost more.
    pub fn no_colder(&mut self) {
        let Sweep { families, solution, free, .. } = self;
        families.retain(|family| {
            let present = solution.sigma[family.family] > 0.0;
            if !present {
                *free += family.moles;
            }
            present
        });
        self.coldest_k = self.last_k;
    }

    /// Takes every family into account again.
    fn take_all(&mut self) {
        self.coldest_k = 0.0;
        self.free = self.mixture.liquid.0;
        self.families.clear();
        self.families.extend(self.mixture.families.iter().enumerate().map(|(family, range)| Active {
            family,
            start: range.start,
            end: range.end,
            moles: self.mixture.solutes[range.clone()].iter().map(|solute| solute.moles).sum(),
            free: 0.0,
            own: 0.0,
            by_liquid: 0.0,
        }));
    }

    fn solve(&mut self, kelvin: f64) {
        if kelvin < self.coldest_k {
            self.take_all();
        }
        // From nothing, the nested solver is faster.
        let first = self.last_k == 0.0;
        self.last_k = kelvin;
        for family in &mut self.families {
            family.free = 0.0;
            for i in family.start..family.end {
                let solute = &self.mixture.solutes[i];
                let k = solute.distribution(kelvin);
                self.solution.k[i] = k;
                family.free += solute.moles * k;
            }
        }
        if first || !self.newton() {
            self.solution = nested::solve(self.mixture, kelvin);
        }
    }

    /// Steps until the conditions are met; whether they are.
    fn newton(&mut self) -> bool {
        if self.free <= 0.0 {
            // Perhaps without any liquid: see `nested`.
            return false;
        }
        if !(self.solution.liquid > 0.0 && self.solution.liquid.is_finite()) {
            self.solution.liquid = self.total;
            self.solution.sigma.fill(0.0);
        }
        let mut before = f64::INFINITY;
        for step in 1..=MOST_STEPS {
            let (violation, excess, slope) = self.residual();
            if violation <= ENOUGH || violation <= ROUNDING && violation > 0.5 * before {
                self.solution.certificate = violation;
                self.solution.steps = step;
                self.set_pure();
                return true;
            }
            before = violation;
            let liquid = self.solution.liquid;
            // Past a bend of F the slope can exceed 1: head back to where it does not.
            let moved = if slope < 1.0 { excess / (1.0 - slope) } else { self.total - liquid };
            let next = (liquid + moved).clamp(0.1 * liquid, self.total);
            for family in self.families.iter().filter(|family| family.end - family.start > 1) {
                let sigma = &mut self.solution.sigma[family.family];
                *sigma = (*sigma + family.own + family.by_liquid * (next - liquid)).max(0.0);
            }
            self.solution.liquid = next;
        }
        false
    }

    /// The largest violation at the state as it stands; the liquid's excess with every σ stepped, relative to no move of L;
    /// and how that excess's root moves with L.
    fn residual(&mut self) -> (f64, f64, f64) {
        let liquid = self.solution.liquid;
        let (mut dissolved, mut stepped, mut slope) = (self.free, 0.0, 0.0);
        let mut violation: f64 = 0.0;
        for family in &mut self.families {
            let sigma = self.solution.sigma[family.family];
            (family.own, family.by_liquid) = (0.0, 0.0);
            if family.end - family.start == 1 {
                if family.free > liquid {
                    let per_k = 1.0 / self.solution.k[family.start];
                    dissolved += liquid * per_k;
                    slope += per_k;
                } else {
                    dissolved += family.moles;
                }
                continue;
            }
            if sigma <= 0.0 && family.free <= liquid {
                dissolved += family.moles;
                continue;
            }
            let (mut h, mut falls, mut held, mut up) = (0.0, 0.0, 0.0, 0.0);
            for i in family.start..family.end {
                let k = self.solution.k[i];
                let q = 1.0 / (1.0 + sigma * k);
                let n = self.mixture.solutes[i].moles * q;
                let kq = k * q;
                held += n;
                h += n * k;
                up += n * kq;
                falls += n * k * kq;
            }
            let ratio = h / liquid;
            violation = violation.max((ratio - 1.0).abs());
            family.own = h * (ratio - 1.0) / falls;
            family.by_liquid = -ratio * ratio / falls;
            dissolved += held;
            stepped -= up * family.own;
            slope -= up * family.by_liquid;
        }
        violation = violation.max((dissolved / liquid - 1.0).abs());
        (violation, dissolved + stepped - liquid, slope)
    }

    /// Sets the σ of pure crystals, which the steps did without.
    fn set_pure(&mut self) {
        let liquid = self.solution.liquid;
        for family in self.families.iter().filter(|family| family.end - family.start == 1) {
            self.solution.sigma[family.family] = if family.free > liquid {
                (family.moles / liquid - 1.0 / self.solution.k[family.start]).max(0.0)
            } else {
                0.0
            };
        }
    }
}
