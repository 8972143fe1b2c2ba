//! A mixture, laid out for the solver.

use std::collections::BTreeMap;
use std::ops::Range;

use crate::ordered::sort_by;
use crate::substances::{
    Correction, Crystal, Family, GAS_CONSTANT, Kind, OuterChains, Species, SpeciesError, ZERO_CELSIUS_K,
};

/// Moles of one species.
pub(crate) struct Constituent {
    pub(crate) moles: f64,
    pub(crate) molar_mass: f64,
    pub(crate) kind: Kind,
    pub(crate) crystal: Crystal,
    /// Of a species that crystallises alone.
    pub(crate) correction: FamilyCorrection,
    /// The part of its family's disorder that its crystals feel.
    pub(crate) disorder: f64,
}

/// A correction averaged over a family.
#[derive(Clone, Copy, Default)]
pub(crate) struct FamilyCorrection {
    /// K.
    pub(crate) shift_k: f64,
    /// Factor on the enthalpy of fusion, less one.
    pub(crate) enthalpy_excess: f64,
    /// The share whose fresh crystals melt as settled ones.
    pub(crate) sets_at_once: f64,
}

impl FamilyCorrection {
    /// Adds what an ingredient brings, weighted by its moles.
    pub(crate) fn add(&mut self, moles: f64, correction: &Correction) {
        self.shift_k += moles * correction.shift_k;
        self.enthalpy_excess += moles * (correction.enthalpy_factor - 1.0);
        self.sets_at_once += if correction.sets_at_once { moles } else { 0.0 };
    }

    /// Turns the sums into means over all the moles.
    pub(crate) fn divide(&mut self, moles: f64) {
        if moles > 0.0 {
            self.shift_k /= moles;
            self.enthalpy_excess /= moles;
            self.sets_at_once /= moles;
        }
    }
}

/// A species in the solver's layout: ln K = slope/T − offset.
#[derive(Clone)]
pub(crate) struct Solute {
    pub(crate) moles: f64,
    pub(crate) molar_mass: f64,
    pub(crate) kind: Kind,
    /// ΔH/R, K.
    pub(crate) slope: f64,
    /// ΔH/(R T_m).
    pub(crate) offset: f64,
    /// What melting a mole of it takes, J: ΔH without what was fitted to the shape of a curve.
    pub(crate) latent_j_mol: f64,
}

/// A mixture of known amounts.
#[derive(Clone)]
pub struct Mixture {
    /// Species that can crystallise, family by family.
    pub(crate) solutes: Vec<Solute>,
    /// Where each family's species lie in `solutes`.
    pub(crate) families: Vec<Range<usize>>,
    /// Moles that are always liquid, and their mass.
    pub(crate) liquid: (f64, f64),
    /// Mass of powder that neither melts nor dissolves.
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

/// Temperatures below this are treated as this, K (−100 °C): a butter holds nothing that still changes there, and K stays
/// within what a double holds.
const COLDEST_K: f64 = 173.15;

/// °C as K, within what is considered.
pub(crate) fn kelvin(celsius: f64) -> f64 {
    (celsius + ZERO_CELSIUS_K).max(COLDEST_K)
}

impl Mixture {
    /// The mixture of these moles by species id, nothing fitted.
    pub fn from_moles(moles: &BTreeMap<String, f64>) -> Result<Mixture, MixtureError> {
        let mut constituents = Vec::new();
        let mut liquid = (0.0, 0.0);
        let mut powder = 0.0;
        for (id, amount) in moles {
            if !amount.is_finite() || *amount < 0.0 {
                return Err(MixtureError::Amount { id: id.clone(), amount: *amount });
            }
            let species = Species::find(id).map_err(MixtureError::Species)?;
            if *amount == 0.0 {
                continue;
            }
            match species.settled {
                _ if species.kind == Kind::Powder => powder += amount * species.molar_mass,
                None => {
                    liquid.0 += amount;
                    liquid.1 += amount * species.molar_mass;
                }
                Some(crystal) => constituents.push(Constituent {
                    moles: *amount,
                    molar_mass: species.molar_mass,
                    kind: species.kind,
                    crystal,
                    correction: FamilyCorrection::default(),
                    disorder: 1.0,
                }),
            }
        }
        Ok(Mixture::assemble(constituents, liquid, powder, &[]))
    }

    /// Lays out constituents family by family.
    pub(crate) fn assemble(
        mut constituents: Vec<Constituent>,
        liquid: (f64, f64),
        powder: f64,
        corrections: &[(Family, FamilyCorrection)],
    ) -> Mixture {
        sort_by(&mut constituents, |a, b| a.crystal.family.cmp(&b.crystal.family));
        let mut families: Vec<Range<usize>> = Vec::new();
        let mut last = None;
        for (at, constituent) in constituents.iter().enumerate() {
            let family = constituent.crystal.family;
            match families.last_mut() {
                Some(range) if family != Family::Own && last == Some(family) => range.end = at + 1,
                _ => families.push(at..at + 1),
            }
            last = Some(family);
        }
        let mut liquid = liquid;
        let mut solutes: Vec<Solute> = Vec::with_capacity(constituents.len());
        for range in &families {
            let members = &constituents[range.clone()];
            let family = members[0].crystal.family;
            let mut outer = OuterChains::default();
            for member in members {
                outer.add(member.moles, &member.crystal.outer);
            }
            let disorder = family.disorder(outer);
            let fitted = corrections.iter().find(|(found, _)| *found == family);
            for member in members {
                let correction = fitted.map_or(member.correction, |(_, correction)| *correction);
                let (fusion, lowering_k) = (member.crystal.fusion, member.disorder * disorder.lowering_k);
                let slope = fusion.enthalpy_j_mol * (1.0 + correction.enthalpy_excess) / GAS_CONSTANT;
                liquid.0 += member.moles * disorder.left_out;
                liquid.1 += member.moles * disorder.left_out * member.molar_mass;
                solutes.push(Solute {
                    moles: member.moles * (1.0 - disorder.left_out),
                    molar_mass: member.molar_mass,
                    kind: member.kind,
                    slope,
                    offset: slope / (fusion.melting_k + correction.shift_k - lowering_k),
                    latent_j_mol: fusion.enthalpy_j_mol,
                });
            }
        }
        let crystallising: f64 = solutes.iter().map(|solute| solute.moles * solute.molar_mass).sum();
        Mixture { solutes, families, liquid, powder, mass: crystallising + liquid.1 + powder }
    }

    /// The temperature, °C, at which the last crystal dissolves; `None` where nothing crystallises.
    ///
    /// A family is about to appear where Σ x_i K_i = 1; the sum falls with temperature, so the highest root over the families
    /// is bracketed and halved.
    pub fn liquidus_c(&self) -> Option<f64> {
        let moles = self.liquid.0 + self.solutes.iter().map(|solute| solute.moles).sum::<f64>();
        let supersaturated = |celsius: f64| {
            let kelvin = kelvin(celsius);
            self.families.iter().any(|family| {
                let sum: f64 = self.solutes[family.clone()]
                    .iter()
                    .map(|solute| solute.moles * solute.distribution(kelvin))
                    .sum();
                sum > moles
            })
        };
        let (mut cold, mut hot) = (COLDEST_K - ZERO_CELSIUS_K, 200.0);
        if !supersaturated(cold) {
            return None;
        }
        while hot - cold > 1e-9 {
            let middle = 0.5 * (cold + hot);
            if supersaturated(middle) { cold = middle } else { hot = middle }
        }
        Some(0.5 * (cold + hot))
    }

    /// The same mixture with every crystal melting that many kelvin higher.
    pub fn shifted(mut self, shift_k: f64) -> Mixture {
        for solute in &mut self.solutes {
            solute.offset = solute.slope / (solute.slope / solute.offset + shift_k);
        }
        self
    }

    /// Mass of the whole, in the unit that its amounts were given in.
    pub fn mass(&self) -> f64 {
        self.mass
    }
}

impl Solute {
    /// K at a temperature: the ratio of its fraction in the crystal to that in the liquid.
    pub(crate) fn distribution(&self, kelvin: f64) -> f64 {
        libm::exp((self.slope / kelvin - self.offset).clamp(-600.0, 600.0))
    }
}
