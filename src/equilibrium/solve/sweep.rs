//! One mixture at temperature after temperature.
//!
//! A phase that is absent at one temperature is absent at every higher one, so a rising sweep drops phases as
//! they melt. The proof: every K falls as it gets warmer. At fixed L, σ of a phase solves Σ n K/(1 + σK) = L,
//! of which the left side rises with each K and falls with σ; so σ falls, σK of every member falls, and each
//! member dissolves further. More dissolved at every L means more liquid in the end. And a phase is absent
//! where Σ n K ≤ L, of which the left side falls and the right side rises.

use super::{
    Equilibrium,
    nested::Solution,
    newton::{self, Active},
    problem::{EquilibriumProblem, PhaseSplit},
};
use crate::equilibrium::model::{Mixture, kelvin};

/// Solves one mixture at temperature after temperature, each from the state before, which is several times
/// as fast as [`Mixture::at`] for each.
///
/// ```
/// use meltmargin::{
///     equilibrium::{CrystalState, Sweep},
///     recipe::{Line, Recipe},
///     substances,
/// };
///
/// let cocoa_butter = Line::of(substances::find("cocoa-butter").unwrap(), 100.0);
/// let mixture = Recipe::new(vec![cocoa_butter]).unwrap().mixture(CrystalState::Settled);
/// let mut sweep = Sweep::new(&mixture);
/// let curve: Vec<f64> = (0..=8).map(|step| sweep.rising(5.0 * f64::from(step)).solid_percent).collect();
/// assert!(curve.is_sorted_by(|colder, warmer| colder >= warmer));
/// assert!(curve[4] > 60.0 && curve[8] < 1.0); // at 20 and at 40 °C
/// ```
pub struct Sweep<'m> {
    mixture: &'m Mixture,
    /// Moles by solute, and all moles.
    moles: Vec<f64>,
    total: f64,
    /// What was solved for last.
    solution: Solution,
    /// Phases that can be present at `coldest_k` or above, and the moles of everything else.
    active: Vec<Active>,
    solvent: f64,
    coldest_k: f64,
    /// The temperature that was solved for last; 0 before any was.
    last_k: f64,
}

impl<'m> Sweep<'m> {
    /// A sweep that has not started.
    pub fn new(mixture: &'m Mixture) -> Sweep<'m> {
        let total = mixture.moles();
        let mut sweep = Sweep {
            mixture,
            moles: mixture.solutes.iter().map(|solute| solute.moles).collect(),
            total,
            solution: Solution {
                k: vec![0.0; mixture.solutes.len()],
                sigma: vec![0.0; mixture.phases.len()],
                outcome: PhaseSplit { liquid: total, certificate: 0.0, steps: 0 },
            },
            active: Vec::with_capacity(mixture.phases.len()),
            solvent: 0.0,
            coldest_k: 0.0,
            last_k: 0.0,
        };
        sweep.take_all();
        sweep
    }

    /// A sweep that goes on from where another stands, whose mixture is of the same blend and nearly the
    /// same: what one lot of a recipe is like is soon found from another.
    pub(crate) fn beside(mixture: &'m Mixture, other: &Sweep<'_>) -> Sweep<'m> {
        let mut sweep = Sweep::new(mixture);
        let (own, known) = (&mut sweep.solution, &other.solution);
        if own.k.len() == known.k.len() && own.sigma.len() == known.sigma.len() {
            own.sigma.copy_from_slice(&known.sigma);
            own.outcome.liquid = known.outcome.liquid * sweep.total / other.total;
            sweep.last_k = other.last_k;
        }
        sweep
    }

    /// The equilibrium at a temperature, °C. Temperatures near the last one are found soonest.
    pub fn at(&mut self, celsius: f64) -> Equilibrium {
        self.solve(kelvin(celsius));
        Equilibrium::of(self.mixture, &self.solution)
    }

    /// The equilibrium at a temperature, °C, as [`Sweep::at`] has it; the temperatures that follow should be
    /// no colder, or cost more.
    pub fn rising(&mut self, celsius: f64) -> Equilibrium {
        let state = self.at(celsius);
        self.no_colder();
        state
    }

    /// Says that the temperatures that follow are no colder than the last one; if they are, they cost more.
    pub fn no_colder(&mut self) {
        let Sweep { active, solution, solvent, .. } = self;
        active.retain(|phase| {
            let present = solution.sigma[phase.phase] > 0.0;
            if !present {
                *solvent += phase.moles;
            }
            present
        });
        self.coldest_k = self.last_k;
    }

    /// Takes every phase into account again.
    fn take_all(&mut self) {
        self.coldest_k = 0.0;
        self.solvent = self.mixture.solvent.moles;
        self.active.clear();
        let phases = self.mixture.phases.iter().enumerate();
        self.active.extend(phases.map(|(phase, members)| Active::new(phase, members, &self.moles)));
    }

    fn solve(&mut self, kelvin: f64) {
        if kelvin < self.coldest_k {
            self.take_all();
        }
        // From nothing, the nested solver is faster.
        let is_first = self.last_k == 0.0;
        self.last_k = kelvin;
        if is_first || !self.solve_from_last(kelvin) {
            self.solution = Solution::of(self.mixture, kelvin);
        }
    }

    /// Solves by Newton's method from the last state; whether that came to an end.
    fn solve_from_last(&mut self, kelvin: f64) -> bool {
        let Solution { k, sigma, outcome } = &mut self.solution;
        for phase in &self.active {
            for at in self.mixture.phases[phase.phase].clone() {
                k[at] = self.mixture.solutes[at].distribution.at(kelvin);
            }
        }
        if !(outcome.liquid > 0.0 && outcome.liquid.is_finite()) {
            outcome.liquid = self.total;
            sigma.fill(0.0);
        }
        let problem = EquilibriumProblem {
            moles: &self.moles,
            k,
            phases: &self.mixture.phases,
            solvent: self.solvent,
            total: self.total,
        };
        let solved = newton::solve(&problem, &mut self.active, sigma, outcome.liquid, 0.0);
        if let Some(found) = solved {
            *outcome = found;
        }
        solved.is_some()
    }
}
