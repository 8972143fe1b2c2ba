//! The equilibrium of a mixture at one temperature, as its users see it.

use super::{nested::Solution, problem::PhaseSplit};
use crate::{
    equilibrium::model::{Mixture, kelvin},
    extremes::greater,
    substances::SpeciesKind,
};

/// The equilibrium of a mixture at one temperature.
#[derive(Clone, Debug)]
pub struct Equilibrium {
    /// Solids, percent by mass of the whole, powders not counted.
    pub solid_percent: f64,
    /// The same by kind of crystal.
    pub by_kind: SolidsByKind,
    /// Powder, percent by mass of the whole.
    pub powder_percent: f64,
    /// Moles of liquid, for amounts in grams.
    pub liquid_moles: f64,
    /// The heat that melting the solids would take, J per gram of the whole.
    pub latent_j_per_g: f64,
    /// The largest violation of the conditions of equilibrium, a pure number: rounding leaves up to some
    /// 1e-13.
    pub certificate: f64,
    /// Steps that the solver took.
    pub steps: u32,
}

/// Solids by kind of crystal, percent by mass of the whole.
#[derive(Clone, Copy, Default, PartialEq, Debug)]
pub struct SolidsByKind {
    /// Triglycerides.
    pub triglyceride: f64,
    /// Free fatty acids.
    pub acid: f64,
    /// Fatty alcohols.
    pub alcohol: f64,
    /// Wax esters.
    pub ester: f64,
    /// Wax hydrocarbons.
    pub alkane: f64,
    /// Short wax esters, and such as come with hydroxy esters and aromatic diesters.
    pub mixed_ester: f64,
    /// Esters of beeswax.
    pub beeswax_ester: f64,
    /// Hydrocarbons of beeswax.
    pub beeswax_alkane: f64,
    /// Esters of candelilla wax.
    pub candelilla_ester: f64,
    /// Hydrocarbons of candelilla wax.
    pub candelilla_alkane: f64,
    /// Esters of carnauba wax.
    pub carnauba_ester: f64,
    /// Mono- and diglycerides.
    pub glyceride: f64,
}

/// Solid moles of one species, with what the sums need.
pub(crate) struct SolidPart {
    pub(crate) moles: f64,
    pub(crate) molar_mass: f64,
    pub(crate) kind: SpeciesKind,
    pub(crate) latent_j_mol: f64,
}

impl Mixture {
    /// The equilibrium at a temperature, °C. Below −100 °C it is that of −100 °C.
    pub fn at(&self, celsius: f64) -> Equilibrium {
        Equilibrium::of(self, &Solution::of(self, kelvin(celsius)))
    }
}

impl Equilibrium {
    pub(super) fn of(mixture: &Mixture, solution: &Solution) -> Equilibrium {
        let present = mixture.phases.iter().zip(&solution.sigma).filter(|(_, sigma)| **sigma > 0.0);
        let solids = present.flat_map(|(phase, sigma)| {
            phase.clone().map(|i| {
                let solute = &mixture.solutes[i];
                SolidPart {
                    moles: solute.moles * solution.solid_share(*sigma, i),
                    molar_mass: solute.molar_mass,
                    kind: solute.kind,
                    latent_j_mol: solute.latent_j_mol,
                }
            })
        });
        Equilibrium::sum(solids, mixture.mass, mixture.powder, &solution.outcome)
    }

    /// Sums over the solids of a mixture of this mass.
    pub(crate) fn sum(
        solids: impl Iterator<Item = SolidPart>,
        mass: f64,
        powder: f64,
        outcome: &PhaseSplit,
    ) -> Equilibrium {
        let mut by_kind = SolidsByKind::default();
        let mut latent = 0.0;
        let per_mass = if mass > 0.0 { 1.0 / mass } else { 0.0 };
        // The phases are loops within a loop; `for_each` runs them from inside, which takes half the time.
        solids.for_each(|solid| {
            *by_kind.of_mut(solid.kind) += 100.0 * solid.moles * solid.molar_mass * per_mass;
            latent += solid.moles * solid.latent_j_mol * per_mass;
        });
        Equilibrium {
            solid_percent: by_kind.sum(),
            by_kind,
            powder_percent: 100.0 * powder * per_mass,
            liquid_moles: outcome.liquid,
            latent_j_per_g: latent,
            certificate: outcome.certificate,
            steps: outcome.steps,
        }
    }
}

impl SolidsByKind {
    pub(crate) fn of_mut(&mut self, kind: SpeciesKind) -> &mut f64 {
        match kind {
            SpeciesKind::Acid => &mut self.acid,
            SpeciesKind::Alcohol => &mut self.alcohol,
            SpeciesKind::WaxEster => &mut self.ester,
            SpeciesKind::Alkane => &mut self.alkane,
            SpeciesKind::MixedEster => &mut self.mixed_ester,
            SpeciesKind::BeeswaxEster => &mut self.beeswax_ester,
            SpeciesKind::BeeswaxAlkane => &mut self.beeswax_alkane,
            SpeciesKind::CandelillaEster => &mut self.candelilla_ester,
            SpeciesKind::CandelillaAlkane => &mut self.candelilla_alkane,
            SpeciesKind::CarnaubaEster => &mut self.carnauba_ester,
            SpeciesKind::Glyceride => &mut self.glyceride,
            SpeciesKind::Triglyceride | SpeciesKind::Liquid | SpeciesKind::Powder => &mut self.triglyceride,
        }
    }

    /// The figure of a kind.
    pub fn of(&self, kind: SpeciesKind) -> f64 {
        let mut copy = *self;
        *copy.of_mut(kind)
    }

    /// Of each kind the greater figure.
    pub(crate) fn greater(mut self, other: &SolidsByKind) -> SolidsByKind {
        for kind in SpeciesKind::CRYSTALS {
            let figure = self.of_mut(kind);
            *figure = greater(*figure, other.of(kind));
        }
        self
    }

    /// All of them.
    pub fn sum(&self) -> f64 {
        self.triglyceride + self.acid + self.alcohol + self.wax() + self.glyceride
    }

    /// All waxes.
    pub fn wax(&self) -> f64 {
        let ester = self.ester + self.beeswax_ester + self.candelilla_ester;
        let alkane = self.alkane + self.beeswax_alkane + self.candelilla_alkane;
        ester + alkane + (self.mixed_ester + self.carnauba_ester)
    }
}
