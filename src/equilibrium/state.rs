//! The state of a mixture at one temperature, as its users see it.

use super::{Mixture, solve::Solution};
use crate::substances::Kind;

/// The state of a mixture at one temperature.
#[derive(Clone, Debug)]
pub struct Equilibrium {
    /// Solids, percent of the whole mass, powders not counted.
    pub solid_percent: f64,
    /// The same by kind of crystal.
    pub by_kind: SolidsByKind,
    /// Powder, percent of the whole mass.
    pub powder_percent: f64,
    /// Moles of liquid, for amounts in grams.
    pub liquid_moles: f64,
    /// Heat that melting the solids would take, J per gram of the whole.
    pub latent_j_per_g: f64,
    /// The largest violation of the optimality conditions, a pure number.
    pub certificate: f64,
    /// Steps of the iteration.
    pub steps: u32,
}

/// Solids by kind of crystal, percent of the whole mass.
#[derive(Clone, Copy, Default, PartialEq, Debug)]
pub struct SolidsByKind {
    /// Triglycerides.
    pub triglyceride: f64,
    /// Free fatty acids.
    pub acid: f64,
    /// Fatty alcohols.
    pub alcohol: f64,
    /// Wax esters and hydrocarbons.
    pub wax: f64,
    /// Mono- and diglycerides.
    pub glyceride: f64,
}

impl Equilibrium {
    pub(super) fn of(mixture: &Mixture, solution: &Solution) -> Equilibrium {
        let mut by_kind = SolidsByKind::default();
        let mut latent = 0.0;
        let per_mass = if mixture.mass > 0.0 { 1.0 / mixture.mass } else { 0.0 };
        for (family, sigma) in mixture.families.iter().zip(&solution.sigma) {
            if *sigma <= 0.0 {
                continue;
            }
            for i in family.clone() {
                let solute = &mixture.solutes[i];
                let moles = solute.moles * solution.solid_share(*sigma, i);
                *by_kind.of_mut(solute.kind) += 100.0 * moles * solute.molar_mass * per_mass;
                latent += moles * solute.latent_j_mol * per_mass;
            }
        }
        Equilibrium {
            solid_percent: by_kind.sum(),
            by_kind,
            powder_percent: 100.0 * mixture.powder * per_mass,
            liquid_moles: solution.liquid,
            latent_j_per_g: latent,
            certificate: solution.certificate,
            steps: solution.steps,
        }
    }
}

impl SolidsByKind {
    fn of_mut(&mut self, kind: Kind) -> &mut f64 {
        match kind {
            Kind::Acid => &mut self.acid,
            Kind::Alcohol => &mut self.alcohol,
            Kind::Alkane | Kind::WaxEster => &mut self.wax,
            Kind::Glyceride => &mut self.glyceride,
            Kind::Triglyceride | Kind::Liquid | Kind::Powder => &mut self.triglyceride,
        }
    }

    /// All of them.
    pub fn sum(&self) -> f64 {
        self.triglyceride + self.acid + self.alcohol + self.wax + self.glyceride
    }
}
