//! A mixture of known amounts, laid out for the solver.

use std::{collections::BTreeMap, ops::Range};

use super::{
    correction::{CorrectionSums, Distribution, PhaseCorrection},
    phase::{self, Phase},
};
use crate::substances::{Crystal, Fusion, Species, SpeciesError, SpeciesKind, ZERO_CELSIUS_K};

/// A species that can crystallise, in a mixture.
#[derive(Clone)]
pub(crate) struct Solute {
    pub(crate) moles: f64,
    /// g/mol.
    pub(crate) molar_mass: f64,
    pub(crate) kind: SpeciesKind,
    pub(crate) distribution: Distribution,
    /// What melting a mole of it takes, J: the enthalpy of fusion without what was fitted to the shape of a
    /// curve.
    pub(crate) latent_j_mol: f64,
}

/// What is liquid at every temperature.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Solvent {
    pub(crate) moles: f64,
    pub(crate) mass: f64,
}

/// A mixture of known amounts.
///
/// ```
/// use std::collections::BTreeMap;
///
/// use meltmargin::equilibrium::Mixture;
///
/// // A tenth of stearic acid in triolein, by moles.
/// let moles = [("stearic-acid", 0.1), ("OOO", 0.9)].map(|(id, moles)| (id.to_owned(), moles));
/// let mixture = Mixture::from_moles(&BTreeMap::from(moles)).unwrap();
/// let clear_c = mixture.liquidus_c().unwrap();
/// assert!((30.0..50.0).contains(&clear_c));
/// // A degree above there is nothing solid, a degree below there is.
/// assert_eq!(mixture.at(clear_c + 1.0).solid_percent, 0.0);
/// assert!(mixture.at(clear_c - 1.0).solid_percent > 0.0);
/// ```
#[derive(Clone)]
pub struct Mixture {
    /// The solutes, phase by phase.
    pub(crate) solutes: Vec<Solute>,
    /// Where the solutes of each solid phase lie.
    pub(crate) phases: Vec<Range<usize>>,
    pub(crate) solvent: Solvent,
    /// Mass of powder, which neither melts nor dissolves.
    pub(crate) powder: f64,
    /// Mass of everything.
    pub(crate) mass: f64,
}

/// Why a mixture cannot be made.
#[derive(Clone, PartialEq, Debug)]
pub enum MixtureError {
    /// A species id is not known.
    Species(SpeciesError),
    /// An amount is negative or not a number.
    Amount {
        /// Of which species.
        id: String,
        /// The amount.
        amount: f64,
    },
}

/// A member of a phase, for [`Mixture::add_phase`].
pub(super) struct Member {
    pub(super) moles: f64,
    pub(super) molar_mass: f64,
    pub(super) kind: SpeciesKind,
    pub(super) fusion: Fusion,
}

/// Colder temperatures are taken as this, K (−100 °C): nothing in a butter still changes there, and K stays
/// within what a double holds.
pub(crate) const COLDEST_K: f64 = 173.15;

/// °C as K, within what is considered.
pub(crate) fn kelvin(celsius: f64) -> f64 {
    (celsius + ZERO_CELSIUS_K).max(COLDEST_K)
}

impl Mixture {
    /// The mixture of so many moles of each species by its id, with nothing fitted to any ingredient.
    ///
    /// # Errors
    /// Where a species is not known, or an amount is negative or not finite.
    pub fn from_moles(moles: &BTreeMap<String, f64>) -> Result<Mixture, MixtureError> {
        let mut solvent = Solvent::default();
        let mut powder = 0.0;
        let mut crystals: Vec<(Species, Crystal, f64)> = Vec::new();
        for (id, amount) in moles {
            if !amount.is_finite() || *amount < 0.0 {
                return Err(MixtureError::Amount { id: id.clone(), amount: *amount });
            }
            let species = Species::find(id).map_err(MixtureError::Species)?;
            let mass = amount * species.molar_mass;
            match species.settled {
                _ if *amount == 0.0 => {}
                _ if species.kind == SpeciesKind::Powder => powder += mass,
                None => solvent.add(*amount, mass),
                Some(crystal) => crystals.push((species, crystal, *amount)),
            }
        }
        let (order, phases) = phase::group(crystals.len(), |at| crystals[at].1.family);
        let mut mixture = Mixture::of_solvent(solvent, powder);
        for Phase { family, members } in phases {
            let members = || order[members.clone()].iter().map(|at| &crystals[*at]);
            let mut sums = CorrectionSums::default();
            for (_, crystal, moles) in members() {
                sums.count(family, *moles, &crystal.outer);
            }
            let members = members().map(|(species, crystal, moles)| Member {
                moles: *moles,
                molar_mass: species.molar_mass,
                kind: species.kind,
                fusion: crystal.fusion,
            });
            mixture.add_phase(members, &sums.correction(family));
        }
        Ok(mixture.weighed())
    }

    /// A mixture that phases are still to be added to.
    pub(super) fn of_solvent(solvent: Solvent, powder: f64) -> Mixture {
        Mixture { solutes: Vec::new(), phases: Vec::new(), solvent, powder, mass: 0.0 }
    }

    /// Adds a phase of these members, if there are any.
    pub(super) fn add_phase(&mut self, members: impl Iterator<Item = Member>, correction: &PhaseCorrection) {
        let start = self.solutes.len();
        for Member { moles, molar_mass, kind, fusion } in members {
            let left_out = moles * correction.left_out;
            self.solvent.add(left_out, left_out * molar_mass);
            self.solutes.push(Solute {
                moles: moles * (1.0 - correction.left_out),
                molar_mass,
                kind,
                distribution: correction.distribution(fusion),
                latent_j_mol: fusion.enthalpy_j_mol,
            });
        }
        if self.solutes.len() > start {
            self.phases.push(start..self.solutes.len());
        }
    }

    /// The mixture once all of it is there.
    pub(super) fn weighed(mut self) -> Mixture {
        let solutes: f64 = self.solutes.iter().map(|solute| solute.moles * solute.molar_mass).sum();
        self.mass = solutes + self.solvent.mass + self.powder;
        self
    }

    /// The same mixture with every crystal melting this many kelvin higher.
    pub fn shifted(mut self, shift_k: f64) -> Mixture {
        for solute in &mut self.solutes {
            solute.distribution = solute.distribution.shifted(shift_k);
        }
        self
    }

    /// Mass of the whole, in the unit that its amounts were given in.
    pub fn mass(&self) -> f64 {
        self.mass
    }

    /// Moles of what is always liquid, for amounts in grams.
    pub fn solvent_moles(&self) -> f64 {
        self.solvent.moles
    }

    /// Moles of everything that is or can become liquid.
    pub(crate) fn moles(&self) -> f64 {
        self.solvent.moles + self.solutes.iter().map(|solute| solute.moles).sum::<f64>()
    }
}

impl Solvent {
    /// Adds some.
    pub(super) fn add(&mut self, moles: f64, mass: f64) {
        self.moles += moles;
        self.mass += mass;
    }
}
