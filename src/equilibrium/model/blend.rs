//! Mixtures as linear combinations of ingredients, so that a search can make thousands of them cheaply.

use serde::{Deserialize, Serialize};

use super::{
    correction::CorrectionSums,
    lot::{CRYSTALLISES_ABOVE_K, Lot},
    mixture::{Member, Mixture, Solvent},
    phase::{self, Phase},
};
use crate::substances::{Correction, Crystal, Fusion, Make, Species, SpeciesKind};

/// How long the butter has had to settle.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum CrystalState {
    /// Days to weeks after making: every family in its stable form.
    #[default]
    Settled,
    /// Chilled hours ago: every family in beta-prime, unless it sets at once in the form that it keeps.
    Fresh,
}

impl CrystalState {
    fn crystal(self, species: &Species) -> Option<Crystal> {
        match self {
            CrystalState::Settled => species.settled,
            CrystalState::Fresh => species.fresh,
        }
    }

    /// The factor on what unlike members take off the melting points of its crystals.
    fn disorder(self) -> f64 {
        match self {
            CrystalState::Settled => 1.0,
            CrystalState::Fresh => FRESH_DISORDER,
        }
    }
}

/// Of what unlike members take off the melting points in beta, this much is taken off in beta-prime, as if
/// its looser packing minded them less. It was fitted to cocoa butter alone: untempered it slips at 26.7 °C
/// (Jin et al. 2017), and its form IV melts at 27.5 °C (Wille & Lutton 1966, by a secondary source); here it
/// slips and clears as far above the one as below the other.
const FRESH_DISORDER: f64 = 0.875;

/// One ingredient, as far as melting goes.
#[derive(Clone, Copy)]
pub struct Part<'a> {
    /// Its species with percent by mass.
    pub make: &'a Make,
    /// What was fitted to it, at most once for each family.
    pub corrections: &'a [Correction],
}

/// A species of a blend that can crystallise.
#[derive(Clone, Copy)]
pub(crate) struct BlendSpecies {
    /// How it crystallises in the state of the blend.
    pub(crate) crystal: Crystal,
    /// How its crystal melts once settled.
    pub(crate) settled: Fusion,
    pub(crate) kind: SpeciesKind,
    /// g/mol.
    pub(crate) molar_mass: f64,
}

impl BlendSpecies {
    /// Whether it counts as what crystallises of an ingredient, for its lots.
    fn crystallises(&self) -> bool {
        self.settled.melting_k > CRYSTALLISES_ABOVE_K
    }
}

/// What one gram of an ingredient holds.
pub(crate) struct Composition {
    /// Moles of the species that can crystallise, by their place in [`Blend::species`].
    pub(crate) moles: Vec<(usize, f64)>,
    pub(crate) solvent: Solvent,
    /// Grams of powder.
    pub(crate) powder: f64,
    /// Grams of the species that count as what crystallises of it, and of the rest but powder.
    pub(crate) crystallising: f64,
    pub(crate) rest: f64,
    /// What was fitted to the ingredient.
    pub(crate) corrections: Vec<Correction>,
}

impl Composition {
    /// Moles in a gram of its solutes.
    fn moles_per_gram(&self) -> f64 {
        let moles: f64 = self.moles.iter().map(|(_, moles)| moles).sum();
        let grams = self.crystallising + self.rest - self.solvent.mass;
        if grams > 0.0 { moles / grams } else { 0.0 }
    }
}

/// Several ingredients over one list of species.
///
/// ```
/// use meltmargin::{
///     equilibrium::{Blend, CrystalState, Part},
///     substances,
/// };
///
/// let parts = ["shea-butter", "sweet-almond-oil"].map(|id| {
///     let ingredient = substances::find(id).unwrap();
///     Part { make: ingredient.make(), corrections: ingredient.corrections() }
/// });
/// let blend = Blend::new(&parts, CrystalState::Settled);
/// // The more oil, the less is solid.
/// let solid_percent = |shea, oil| blend.mixture(&[shea, oil]).at(20.0).solid_percent;
/// assert!(solid_percent(80.0, 20.0) > solid_percent(60.0, 40.0));
/// ```
pub struct Blend {
    state: CrystalState,
    /// Phase by phase.
    pub(crate) species: Vec<BlendSpecies>,
    pub(crate) phases: Vec<Phase>,
    /// The phase of each species.
    phase_of: Vec<usize>,
    pub(crate) ingredients: Vec<Composition>,
}

impl Blend {
    /// The blend of these ingredients; amounts come later, in [`Blend::mixture`].
    pub fn new(parts: &[Part<'_>], state: CrystalState) -> Blend {
        let mut ids: Vec<&str> = Vec::new();
        let mut found_species: Vec<BlendSpecies> = Vec::new();
        let mut ingredients: Vec<Composition> = Vec::with_capacity(parts.len());
        for part in parts {
            let mut composition = Composition {
                moles: Vec::new(),
                solvent: Solvent::default(),
                powder: 0.0,
                crystallising: 0.0,
                rest: 0.0,
                corrections: part.corrections.to_vec(),
            };
            for (species, percent) in part.make {
                let grams = percent / 100.0;
                let moles = grams / species.molar_mass;
                match state.crystal(species) {
                    _ if species.kind == SpeciesKind::Powder => composition.powder += grams,
                    None => {
                        composition.solvent.add(moles, grams);
                        composition.rest += grams;
                    }
                    Some(crystal) => {
                        let at = ids.iter().position(|id| *id == species.id).unwrap_or_else(|| {
                            ids.push(&species.id);
                            found_species.push(BlendSpecies {
                                crystal,
                                settled: species.settled.map_or(crystal.fusion, |settled| settled.fusion),
                                kind: species.kind,
                                molar_mass: species.molar_mass,
                            });
                            ids.len() - 1
                        });
                        composition.moles.push((at, moles));
                        if found_species[at].crystallises() {
                            composition.crystallising += grams;
                        } else {
                            composition.rest += grams;
                        }
                    }
                }
            }
            ingredients.push(composition);
        }
        let (order, phases) = phase::group(found_species.len(), |at| found_species[at].crystal.family);
        let mut place = vec![0; order.len()];
        for (new, old) in order.iter().enumerate() {
            place[*old] = new;
        }
        for (at, _) in ingredients.iter_mut().flat_map(|ingredient| &mut ingredient.moles) {
            *at = place[*at];
        }
        let species: Vec<BlendSpecies> = order.iter().map(|old| found_species[*old]).collect();
        let mut phase_of = vec![0; species.len()];
        for (at, phase) in phases.iter().enumerate() {
            phase_of[phase.members.clone()].fill(at);
        }
        Blend { state, species, phases, phase_of, ingredients }
    }

    /// How many ingredients it has.
    pub fn len(&self) -> usize {
        self.ingredients.len()
    }

    /// Whether it has no ingredient.
    pub fn is_empty(&self) -> bool {
        self.ingredients.is_empty()
    }

    /// The mixture of these amounts, in grams or in any other unit of mass, one for each ingredient in the
    /// order of [`Blend::new`]; missing ones count as 0.
    ///
    /// What was fitted to the ingredients is averaged over each phase, by the moles that each ingredient
    /// brings to it. So is the share of fresh crystals that melt as settled ones.
    pub fn mixture(&self, amounts: &[f64]) -> Mixture {
        self.mixture_of_lots(amounts, &[])
    }

    /// The same of certain lots of the ingredients, in the order of [`Blend::new`];
    /// missing ones are as on record.
    ///
    /// What a lot melts higher by is averaged over each phase as what was fitted is.
    pub fn mixture_of_lots(&self, amounts: &[f64], lots: &[Lot]) -> Mixture {
        let mut moles = vec![0.0; self.species.len()];
        let mut sums = vec![CorrectionSums::default(); self.phases.len()];
        let mut solvent = Solvent::default();
        let mut powder = 0.0;
        for (at, (ingredient, amount)) in self.ingredients.iter().zip(amounts).enumerate() {
            if *amount <= 0.0 {
                continue;
            }
            let lot = lots.get(at).copied().unwrap_or_default();
            let parts = lot.parts(ingredient.crystallising, ingredient.rest);
            let brought = |at: usize, per_gram: f64| {
                let is_crystallising = self.species[at].crystallises();
                amount * per_gram * if is_crystallising { parts.crystallising } else { parts.rest }
            };
            powder += amount * ingredient.powder;
            let liquid = amount * parts.rest;
            solvent.add(liquid * ingredient.solvent.moles, liquid * ingredient.solvent.mass);
            solvent.add(amount * parts.melted * ingredient.moles_per_gram(), amount * parts.melted);
            for (at, per_gram) in &ingredient.moles {
                moles[*at] += brought(*at, *per_gram);
            }
            if lot.melts_higher_k != 0.0 {
                for (at, per_gram) in &ingredient.moles {
                    sums[self.phase_of[*at]].shift += lot.melts_higher_k * brought(*at, *per_gram);
                }
            }
            for fitted in &ingredient.corrections {
                for (phase, sums) in self.phases.iter().zip(&mut sums) {
                    if phase.family == fitted.family {
                        let members = ingredient.moles.iter().filter(|(at, _)| phase.members.contains(at));
                        sums.correct(members.map(|(at, per_gram)| brought(*at, *per_gram)).sum(), fitted);
                    }
                }
            }
        }
        let mut mixture = Mixture::of_solvent(solvent, powder);
        for (Phase { family, members }, mut sums) in self.phases.iter().zip(sums) {
            let members = || {
                let species = self.species[members.clone()].iter();
                species.zip(&moles[members.clone()]).filter(|(_, moles)| **moles > 0.0)
            };
            for (species, moles) in members() {
                sums.count(*family, *moles, &species.crystal.outer);
            }
            let settled = sums.settled_share();
            let mut correction = sums.correction(*family);
            correction.lowering_k *= between(self.state.disorder(), 1.0, settled);
            let members = members().map(|(species, moles)| Member {
                moles: *moles,
                molar_mass: species.molar_mass,
                kind: species.kind,
                fusion: Fusion {
                    melting_k: between(species.crystal.fusion.melting_k, species.settled.melting_k, settled),
                    enthalpy_j_mol: between(
                        species.crystal.fusion.enthalpy_j_mol,
                        species.settled.enthalpy_j_mol,
                        settled,
                    ),
                },
            });
            mixture.add_phase(members, &correction);
        }
        mixture.weighed()
    }
}

/// The figure of crystals of which this share are settled and the rest as they set.
fn between(fresh: f64, settled: f64, share: f64) -> f64 {
    fresh + share * (settled - fresh)
}
