//! Mixtures as linear combinations of ingredients, so that a search can make thousands of them cheaply.

use serde::{Deserialize, Serialize};

use super::Mixture;
use super::mixture::{Constituent, FamilyCorrection};
use crate::substances::{Correction, Crystal, Family, Fusion, Kind, Make, Species};

/// How long the butter has had to settle.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// Days to weeks after making: every family in its stable form.
    #[default]
    Settled,
    /// Chilled hours ago: every family in beta-prime, unless it sets at once in the form that it keeps.
    Fresh,
}

impl State {
    fn crystal(self, species: &Species) -> Option<Crystal> {
        match self {
            State::Settled => species.settled,
            State::Fresh => species.fresh,
        }
    }

    /// The part that its crystals feel of what unlike members take off the melting points.
    fn disorder(self) -> f64 {
        match self {
            State::Settled => 1.0,
            State::Fresh => FRESH_DISORDER,
        }
    }
}

/// Of what unlike members take off in beta, so much is taken off in beta-prime, as if its looser packing minded them less. Fitted to
/// cocoa butter alone: untempered it slips at 26.7 °C (Jin et al. 2017), and its form IV melts at 27.5 (Wille & Lutton 1966, by
/// a secondary source); it slips and clears here as far above the one as below the other.
const FRESH_DISORDER: f64 = 0.875;

/// One ingredient, as far as melting goes.
#[derive(Clone, Copy)]
pub struct Part<'a> {
    /// Species with percent by mass.
    pub make: &'a Make,
    /// What was fitted to it.
    pub corrections: &'a [Correction],
}

pub(crate) struct Member {
    /// How it crystallises in the state of the blend.
    pub(crate) crystal: Crystal,
    /// How it melts once settled.
    pub(crate) settled: Fusion,
    pub(crate) kind: Kind,
    pub(crate) molar_mass: f64,
}

pub(crate) struct Column {
    /// Species by place in [`Blend::species`], mol per gram of ingredient.
    pub(crate) moles_per_gram: Vec<(usize, f64)>,
    /// Grams of powder per gram of ingredient.
    pub(crate) powder: f64,
    /// Moles that never crystallise, per gram of ingredient, and their grams.
    pub(crate) liquid: (f64, f64),
    pub(crate) corrections: Vec<Correction>,
}

/// Several ingredients over one list of species.
pub struct Blend {
    state: State,
    pub(crate) species: Vec<Member>,
    pub(crate) columns: Vec<Column>,
}

impl Blend {
    /// The blend of these ingredients; amounts come later, in [`Blend::mixture`].
    pub fn new(parts: &[Part<'_>], state: State) -> Blend {
        let mut ids: Vec<&str> = Vec::new();
        let mut species = Vec::new();
        let columns = parts
            .iter()
            .map(|part| {
                let mut column = Column {
                    moles_per_gram: Vec::new(),
                    powder: 0.0,
                    liquid: (0.0, 0.0),
                    corrections: part.corrections.to_vec(),
                };
                for (found, percent) in part.make {
                    let grams = percent / 100.0;
                    match state.crystal(found) {
                        _ if found.kind == Kind::Powder => column.powder += grams,
                        None => {
                            column.liquid.0 += grams / found.molar_mass;
                            column.liquid.1 += grams;
                        }
                        Some(crystal) => {
                            let at = ids.iter().position(|id| *id == found.id).unwrap_or_else(|| {
                                ids.push(&found.id);
                                species.push(Member {
                                    crystal,
                                    settled: found.settled.map_or(crystal.fusion, |settled| settled.fusion),
                                    kind: found.kind,
                                    molar_mass: found.molar_mass,
                                });
                                ids.len() - 1
                            });
                            column.moles_per_gram.push((at, grams / found.molar_mass));
                        }
                    }
                }
                column
            })
            .collect();
        Blend { state, species, columns }
    }

    /// How many ingredients it has.
    pub fn len(&self) -> usize {
        self.columns.len()
    }

    /// Whether it has no ingredient.
    pub fn is_empty(&self) -> bool {
        self.columns.is_empty()
    }

    /// The mixture with these amounts, in grams or in any other unit of mass, one for each ingredient in the order of
    /// [`Blend::new`]; missing ones count as 0.
    ///
    /// Corrections are averaged over a family (over one species, where it crystallises alone) by the moles that each
    /// ingredient brings to it: a crystal does not remember where its molecules came from. So is the share of fresh crystals
    /// that melt as settled ones.
    pub fn mixture(&self, amounts: &[f64]) -> Mixture {
        let mut moles = vec![0.0; self.species.len()];
        let mut liquid = (0.0, 0.0);
        let mut powder = 0.0;
        let mut fitted: Vec<(Family, FamilyCorrection)> = Vec::new();
        // Pure crystals share nothing, so theirs is averaged species by species; empty where no ingredient has one.
        let mut alone: Vec<FamilyCorrection> = Vec::new();
        for (column, amount) in self.columns.iter().zip(amounts) {
            if *amount <= 0.0 {
                continue;
            }
            powder += amount * column.powder;
            liquid.0 += amount * column.liquid.0;
            liquid.1 += amount * column.liquid.1;
            for (at, per_gram) in &column.moles_per_gram {
                moles[*at] += amount * per_gram;
            }
            for correction in &column.corrections {
                if correction.family == Family::Own {
                    alone.resize(self.species.len(), FamilyCorrection::default());
                    for (at, per_gram) in &column.moles_per_gram {
                        if self.species[*at].crystal.family == Family::Own {
                            alone[*at].add(amount * per_gram, correction);
                        }
                    }
                    continue;
                }
                let brought: f64 = column
                    .moles_per_gram
                    .iter()
                    .filter(|(at, _)| self.species[*at].crystal.family == correction.family)
                    .map(|(_, per_gram)| amount * per_gram)
                    .sum();
                let found = match fitted.iter_mut().find(|(family, _)| *family == correction.family) {
                    Some((_, found)) => found,
                    None => {
                        fitted.push((correction.family, FamilyCorrection::default()));
                        let last = fitted.len() - 1;
                        &mut fitted[last].1
                    }
                };
                found.add(brought, correction);
            }
        }
        for (family, correction) in &mut fitted {
            let all: f64 = moles
                .iter()
                .zip(&self.species)
                .filter(|(_, member)| member.crystal.family == *family)
                .map(|(moles, _)| moles)
                .sum();
            correction.divide(all);
        }
        let constituents = moles
            .iter()
            .zip(&self.species)
            .enumerate()
            .filter(|(_, (moles, _))| **moles > 0.0)
            .map(|(at, (moles, member))| {
                let mut correction = alone.get(at).copied().unwrap_or_default();
                correction.divide(*moles);
                let family = member.crystal.family;
                let share = fitted
                    .iter()
                    .find(|(found, _)| *found == family)
                    .map_or(correction.sets_at_once, |(_, correction)| correction.sets_at_once);
                Constituent {
                    moles: *moles,
                    molar_mass: member.molar_mass,
                    kind: member.kind,
                    crystal: Crystal {
                        fusion: between(member.crystal.fusion, member.settled, share),
                        ..member.crystal
                    },
                    correction,
                    disorder: mean(self.state.disorder(), 1.0, share),
                }
            })
            .collect();
        Mixture::assemble(constituents, liquid, powder, &fitted)
    }
}

/// The crystals of which this share are `settled` and the rest `fresh`.
fn between(fresh: Fusion, settled: Fusion, share: f64) -> Fusion {
    Fusion {
        melting_k: mean(fresh.melting_k, settled.melting_k, share),
        enthalpy_j_mol: mean(fresh.enthalpy_j_mol, settled.enthalpy_j_mol, share),
    }
}

fn mean(fresh: f64, settled: f64, share: f64) -> f64 {
    fresh + share * (settled - fresh)
}
