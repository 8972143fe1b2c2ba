//! A window on a section: mixtures of which up to three amounts change, each solved from where the one before
//! was.

use std::sync::Arc;

use super::{
    affine::{Amounts, value},
    gathered::GatheredPhases,
    section::{IsothermalSection, Weighting},
    slice::{Slice, sums_at},
};
use crate::{
    equilibrium::{
        model::PhaseCorrection,
        solve::{self, Active, Equilibrium, EquilibriumProblem, PhaseSplit, SolidPart, SolidsByKind},
    },
    extremes::greater,
};

/// The violation of the conditions of equilibrium from which on one more step is near enough.
const NEAR: f64 = 3e-3;

/// A phase is far from present where it would take less than this share of the liquid for it to appear.
pub(super) const FAR: f64 = 0.5;

/// The state that was solved last.
#[derive(Default)]
pub(super) struct LastSolved {
    /// Moles and K of each solute that was gathered.
    pub(super) moles: Vec<f64>,
    pub(super) k: Vec<f64>,
    /// σ of each phase that was gathered.
    pub(super) sigma: Vec<f64>,
    /// Moles of liquid; none before anything was solved.
    pub(super) liquid: Option<f64>,
    /// σ of each phase of the section when it was solved for last.
    last_sigma: Vec<f64>,
}

/// An isothermal section with all but up to three amounts fixed.
///
/// ```
/// use std::sync::Arc;
///
/// use meltmargin::{
///     equilibrium::{Blend, CrystalState, IsothermalSection, Part, View},
///     substances,
/// };
///
/// let parts = ["shea-butter", "sweet-almond-oil", "cocoa-butter"].map(|id| {
///     let ingredient = substances::find(id).unwrap();
///     Part { make: ingredient.make(), corrections: ingredient.corrections() }
/// });
/// let blend = Blend::new(&parts, CrystalState::Settled);
/// let mut view = View::of(&Arc::new(IsothermalSection::new(&blend, 25.0)));
/// // Oil and cocoa butter change, shea butter stays at 60 g.
/// view.load(&[60.0, 0.0, 0.0], &[1, 2]);
/// let found = view.at(&[30.0, 10.0, 0.0]).solid_percent;
/// let mixture = blend.mixture(&[60.0, 30.0, 10.0]);
/// assert!((found - mixture.at(25.0).solid_percent).abs() < 1e-9);
/// ```
pub struct View {
    pub(super) section: Arc<IsothermalSection>,
    pub(super) slice: Slice,
    pub(super) gathered: GatheredPhases,
    pub(super) solved: LastSolved,
}

/// The mixture in the centre of a region, nearly solved.
#[derive(Clone, Copy)]
pub(crate) struct Centre {
    /// Moles of liquid.
    pub(crate) liquid: f64,
    /// Its solids, percent by mass.
    pub(crate) solids: SolidsByKind,
    /// Powder, percent by mass.
    pub(crate) powder: f64,
}

/// The mean of some corners.
pub(super) fn centroid(corners: &[Amounts]) -> Amounts {
    let share = 1.0 / corners.len() as f64;
    let mut centre = [0.0; 3];
    for corner in corners {
        for (sum, value) in centre.iter_mut().zip(corner) {
            *sum += share * value;
        }
    }
    centre
}

impl View {
    /// An empty view of a section, to be loaded.
    pub fn of(section: &Arc<IsothermalSection>) -> View {
        View {
            section: Arc::clone(section),
            slice: Slice::default(),
            gathered: GatheredPhases::default(),
            solved: LastSolved { last_sigma: vec![0.0; section.phases.len()], ..LastSolved::default() },
        }
    }

    /// The section that it is a view of.
    pub fn section(&self) -> &IsothermalSection {
        &self.section
    }

    /// Takes up fixed amounts (those of `changing` count as 0) and the ingredients that change, up to three.
    ///
    /// With four, the first pays for the other three, gram for gram. It has no amount of its own then, and
    /// mixtures must not take more of it than there is.
    pub fn load(&mut self, amounts: &[f64], changing: &[usize]) {
        self.slice.load(&self.section, amounts, changing);
        self.gathered.forget();
    }

    /// The equilibrium at these amounts of the changing ingredients.
    pub fn at(&mut self, amounts: &[f64; 3]) -> Equilibrium {
        self.gather_all();
        let outcome = self.solve(amounts);
        let view = &*self;
        let present = view.gathered.phases.iter().zip(&view.solved.sigma).filter(|(_, sigma)| **sigma > 0.0);
        let solids = present.flat_map(|(members, sigma)| {
            members.clone().map(move |at| {
                let solute = view.gathered.solutes[at];
                SolidPart {
                    moles: view.solved.moles[at] * solve::solid_share(*sigma, view.solved.k[at]),
                    molar_mass: view.section.solutes[solute].molar_mass,
                    kind: view.section.solutes[solute].kind,
                    latent_j_mol: view.section.latent_j_mol(solute),
                }
            })
        });
        let Slice { mass, powder, .. } = &view.slice;
        Equilibrium::sum(solids, value(mass, amounts), value(powder, amounts), &outcome)
    }

    /// Nearly solves the mixture in the centre of a region. `None` where it cannot be solved.
    pub(crate) fn centre(&mut self, corners: &[Amounts]) -> Option<Centre> {
        let amounts = centroid(corners);
        self.gather(corners, FAR * self.solved.liquid.unwrap_or(0.0));
        let mut liquid = self.solve_nearly(&amounts)?;
        if liquid <= self.gathered.down_to {
            self.gather_all();
            liquid = self.solve_nearly(&amounts)?;
        }
        let (solids, powder) = self.solids(&amounts);
        Some(Centre { liquid, solids, powder })
    }

    /// Gathers the phases that may be present somewhere between these amounts, where there may be as little
    /// liquid as `down_to`, moles.
    fn gather(&mut self, corners: &[Amounts], down_to: f64) {
        if !self.gathered.choose(&self.slice, corners, down_to) {
            return;
        }
        let solved = &mut self.solved;
        let sigma = self.gathered.places.iter().zip(&solved.sigma);
        for (place, sigma) in sigma.filter(|(_, sigma)| sigma.is_finite()) {
            solved.last_sigma[*place] = *sigma;
        }
        self.gathered.gather(&self.section, &self.slice);
        solved.sigma.clear();
        solved.sigma.extend(self.gathered.places.iter().map(|place| solved.last_sigma[*place]));
        // Where nothing is corrected, K stays so.
        solved.k.clear();
        solved.k.extend(self.gathered.solutes.iter().map(|solute| self.section.solutes[*solute].pure_k));
        solved.moles.resize(solved.k.len(), 0.0);
    }

    /// Gathers every phase.
    pub(super) fn gather_all(&mut self) {
        self.gather(&[[0.0; 3]], -1.0);
    }

    /// The correction of a phase that was gathered, at these amounts.
    pub(super) fn correction(&self, phase: usize, amounts: &Amounts) -> PhaseCorrection {
        let Some(sums) = &self.gathered.sums[phase] else { return PhaseCorrection::default() };
        sums_at(sums, amounts).correction(self.section.phases[self.gathered.places[phase]].family)
    }

    /// Sets moles and K of every solute at these amounts, K exactly or about; gives the moles of solvent.
    fn set(&mut self, amounts: &Amounts, exactly: bool) -> f64 {
        let mut solvent = value(&self.gathered.solvent, amounts);
        for phase in 0..self.gathered.phases.len() {
            let members = self.gathered.phases[phase].clone();
            if self.gathered.sums[phase].is_none() {
                let parts = &self.gathered.moles[members.clone()];
                for (moles, parts) in self.solved.moles[members].iter_mut().zip(parts) {
                    *moles = value(parts, amounts);
                }
                continue;
            }
            let correction = self.correction(phase, amounts);
            for at in members {
                let moles = value(&self.gathered.moles[at], amounts);
                solvent += moles * correction.left_out;
                self.solved.moles[at] = moles * (1.0 - correction.left_out);
                let solute = self.gathered.solutes[at];
                self.solved.k[at] = if exactly {
                    self.section.k(solute, &correction)
                } else {
                    self.section.k_about(solute, &correction)
                };
            }
        }
        solvent
    }

    /// Solves at these amounts.
    fn solve(&mut self, amounts: &Amounts) -> PhaseSplit {
        let solvent = self.set(amounts, true);
        let LastSolved { moles, k, sigma, liquid, .. } = &mut self.solved;
        let total = solvent + moles.iter().sum::<f64>();
        let problem = EquilibriumProblem { moles, k, phases: &self.gathered.phases, solvent, total };
        let outcome = solve::nested(&problem, sigma, *liquid);
        *liquid = Some(outcome.liquid);
        outcome
    }

    /// Solves at these amounts to a thousandth or so. Gives the moles of liquid, if there are any.
    pub(super) fn solve_nearly(&mut self, amounts: &Amounts) -> Option<f64> {
        let solvent = self.set(amounts, false);
        let LastSolved { moles, k, sigma, liquid, .. } = &mut self.solved;
        let phases = self.gathered.phases.iter().enumerate();
        let mut active: Vec<Active> =
            phases.map(|(phase, members)| Active::new(phase, members, moles)).collect();
        let total = solvent + active.iter().map(|phase| phase.moles).sum::<f64>();
        for sigma in sigma.iter_mut().filter(|sigma| !sigma.is_finite()) {
            *sigma = 0.0;
        }
        let problem = EquilibriumProblem { moles, k, phases: &self.gathered.phases, solvent, total };
        let start = liquid.filter(|liquid| *liquid > 0.0 && *liquid < total).unwrap_or(total);
        if let Some(outcome) = solve::newton(&problem, &mut active, sigma, start, NEAR) {
            *liquid = Some(outcome.liquid);
            return Some(outcome.liquid);
        }
        let outcome = self.solve(amounts);
        (outcome.liquid > 0.0 && outcome.certificate <= 1e-6).then_some(outcome.liquid)
    }

    /// Solids and powder where the view was solved last, which was at these amounts, percent by mass.
    pub(crate) fn solids(&self, amounts: &Amounts) -> (SolidsByKind, f64) {
        let LastSolved { moles, k, sigma, .. } = &self.solved;
        let per_mass = 100.0 / value(&self.slice.mass, amounts);
        let mut found = SolidsByKind::default();
        for (members, sigma) in self.gathered.phases.iter().zip(sigma).filter(|(_, sigma)| **sigma > 0.0) {
            for at in members.clone() {
                let solute = &self.section.solutes[self.gathered.solutes[at]];
                let mass = moles[at] * solute.molar_mass * solve::solid_share(*sigma, k[at]);
                *found.of_mut(solute.kind) += per_mass * mass;
            }
        }
        (found, per_mass * value(&self.slice.powder, amounts))
    }

    /// The most of each kind that can be solid in any mixture between these corners, percent by mass: all
    /// that can crystallise at the temperature.
    pub(crate) fn most_solid(&self, corners: &[Amounts]) -> SolidsByKind {
        let mut most = SolidsByKind::default();
        for corner in corners {
            let per_mass = 100.0 / value(&self.slice.mass, corner);
            let mut here = SolidsByKind::default();
            for (solute, parts) in self.section.solutes.iter().zip(&self.slice.moles) {
                *here.of_mut(solute.kind) +=
                    greater(value(parts, corner), 0.0) * solute.molar_mass * per_mass;
            }
            // A quotient of sums that are affine in the amounts is extreme at corners.
            most = most.greater(&here);
        }
        most
    }

    /// Weighted solids and powder where the view was solved last, which was at these amounts, percent by
    /// mass.
    pub(super) fn weighted(&self, amounts: &Amounts, weighting: &Weighting) -> f64 {
        let LastSolved { moles, k, sigma, .. } = &self.solved;
        let mut sum = weighting.powder * value(&self.slice.powder, amounts);
        for (members, sigma) in self.gathered.phases.iter().zip(sigma).filter(|(_, sigma)| **sigma > 0.0) {
            for at in members.clone() {
                let weight = weighting.solutes[self.gathered.solutes[at]];
                sum += weight * moles[at] * solve::solid_share(*sigma, k[at]);
            }
        }
        100.0 * sum / value(&self.slice.mass, amounts)
    }
}
