//! What each species of a mixture does, so that the solver can be checked by other means.

use super::nested::Solution;
use crate::{
    equilibrium::model::{Distribution, Mixture, Solute, Solvent, kelvin},
    substances::SpeciesKind,
};

/// One species of a mixture at one temperature.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct SpeciesState {
    /// Moles in all, for amounts in grams.
    pub moles: f64,
    /// g/mol.
    pub molar_mass: f64,
    /// The solid phase that it shares with the species of the same number.
    pub phase: usize,
    /// ln K: K is the ratio of its fraction in the crystal to that in the liquid.
    pub log_distribution: f64,
    /// Moles that are solid.
    pub solid_moles: f64,
}

impl Mixture {
    /// Every species that can crystallise, at a temperature, °C.
    pub fn species_at(&self, celsius: f64) -> Vec<SpeciesState> {
        let solution = Solution::of(self, kelvin(celsius));
        let mut species = Vec::with_capacity(self.solutes.len());
        for (phase, (members, sigma)) in self.phases.iter().zip(&solution.sigma).enumerate() {
            species.extend(members.clone().map(|i| {
                let solute = &self.solutes[i];
                let share = if *sigma > 0.0 { solution.solid_share(*sigma, i) } else { 0.0 };
                SpeciesState {
                    moles: solute.moles,
                    molar_mass: solute.molar_mass,
                    phase,
                    log_distribution: libm::log(solution.k[i]),
                    solid_moles: share * solute.moles,
                }
            }));
        }
        species
    }

    /// The mixture of species whose distribution is known and the same at every temperature, with so many
    /// moles of what is always liquid: a bare problem for the solver, without substances. Species of one
    /// phase must follow one another; `solid_moles` is not looked at.
    pub fn of_known_distribution(species: &[SpeciesState], solvent_moles: f64) -> Mixture {
        let mut phases: Vec<std::ops::Range<usize>> = Vec::new();
        for (at, one) in species.iter().enumerate() {
            match phases.last_mut() {
                Some(members) if at > 0 && species[at - 1].phase == one.phase => members.end = at + 1,
                _ => phases.push(at..at + 1),
            }
        }
        let solutes: Vec<Solute> = species
            .iter()
            .map(|one| Solute {
                moles: one.moles,
                molar_mass: one.molar_mass,
                kind: SpeciesKind::Triglyceride,
                distribution: Distribution { slope_k: 0.0, offset: -one.log_distribution },
                latent_j_mol: 0.0,
            })
            .collect();
        let mass = solutes.iter().map(|solute| solute.moles * solute.molar_mass).sum();
        let solvent = Solvent { moles: solvent_moles, mass: 0.0 };
        Mixture { solutes, phases, solvent, powder: 0.0, mass }
    }
}
