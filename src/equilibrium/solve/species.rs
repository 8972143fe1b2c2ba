//! What each species of a mixture does, for checks by other means.

use super::nested;
use crate::{
    equilibrium::model::{Mixture, Solute, kelvin},
    substances::Kind,
};

/// One species of a mixture at one temperature.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct SpeciesState {
    /// Moles in all, for amounts in grams.
    pub moles: f64,
    /// g/mol.
    pub molar_mass: f64,
    /// The crystals that it shares with those of the same number.
    pub family: usize,
    /// ln K: K is the ratio of its fraction in the crystal to that in the liquid.
    pub log_distribution: f64,
    /// Moles that are solid.
    pub solid_moles: f64,
}

impl Mixture {
    /// Every species that can crystallise, at a temperature, °C.
    pub fn species_at(&self, celsius: f64) -> Vec<SpeciesState> {
        let kelvin = kelvin(celsius);
        let solution = nested::solve(self, kelvin);
        let mut species = Vec::with_capacity(self.solutes.len());
        for (at, (family, sigma)) in self.families.iter().zip(&solution.sigma).enumerate() {
            species.extend(family.clone().map(|i| {
                let solute = &self.solutes[i];
                let share = if *sigma > 0.0 { solution.solid_share(*sigma, i) } else { 0.0 };
                SpeciesState {
                    moles: solute.moles,
                    molar_mass: solute.molar_mass,
                    family: at,
                    log_distribution: libm::log(solution.k[i]),
                    solid_moles: share * solute.moles,
                }
            }));
        }
        species
    }

    /// The mixture of species whose distribution is known and the same at every temperature, with so many moles of what is
    /// always liquid: a bare problem for the solver, without substances. Species of one family must follow one another;
    /// `solid_moles` is not looked at.
    pub fn of_known_distribution(species: &[SpeciesState], liquid_remainder_moles: f64) -> Mixture {
        let mut families: Vec<std::ops::Range<usize>> = Vec::new();
        for (at, one) in species.iter().enumerate() {
            match families.last_mut() {
                Some(range) if at > 0 && species[at - 1].family == one.family => range.end = at + 1,
                _ => families.push(at..at + 1),
            }
        }
        let solutes: Vec<Solute> = species
            .iter()
            .map(|one| Solute {
                moles: one.moles,
                molar_mass: one.molar_mass,
                kind: Kind::Triglyceride,
                slope: 0.0,
                latent_j_mol: 0.0,
                offset: -one.log_distribution,
            })
            .collect();
        let mass = solutes.iter().map(|solute| solute.moles * solute.molar_mass).sum();
        Mixture { solutes, families, liquid: (liquid_remainder_moles, 0.0), powder: 0.0, mass }
    }

    /// Moles of what is always liquid, for amounts in grams.
    pub fn liquid_remainder_moles(&self) -> f64 {
        self.liquid.0
    }
}
