//! An isothermal section: all mixtures of a blend at one temperature.
//!
//! What cannot crystallise at the temperature is lumped with the solvent. That is exact: a phase whose
//! members all melt below the temperature, with every correction that the blend can bring, has Σ n K ≤ Σ n ≤
//! L and never appears.

use crate::{
    equilibrium::{
        model::{Blend, BlendSpecies, Composition, CorrectionSums, Phase, PhaseCorrection, kelvin},
        solve::SolidsByKind,
    },
    extremes::{greater, lesser},
    substances::{Family, Fusion, GAS_CONSTANT, SpeciesKind},
};

/// A species that may crystallise at the temperature.
pub(super) struct SectionSolute {
    /// How its pure crystal melts.
    fusion: Fusion,
    /// ΔH/R of the pure crystal, K.
    slope_k: f64,
    /// g/mol.
    pub(super) molar_mass: f64,
    pub(super) kind: SpeciesKind,
    /// K of the pure crystal.
    pub(super) pure_k: f64,
    /// The greatest K that the corrections of the blend can give it.
    most_k: f64,
}

/// What one gram of an ingredient brings to one phase.
#[derive(Clone, Copy, Default)]
pub(super) struct PhaseContribution {
    pub(super) sums: CorrectionSums,
    /// What it adds at most to Σ n K, the moles of liquid below which the phase appears.
    pub(super) most_onset: f64,
}

impl PhaseContribution {
    /// Adds so many times as much as `more`.
    pub(super) fn add(&mut self, amount: f64, more: &PhaseContribution) {
        self.sums.add(amount, &more.sums);
        self.most_onset += amount * more.most_onset;
    }
}

/// What one gram of an ingredient brings at the temperature.
#[derive(Default)]
pub(super) struct Contribution {
    /// Moles of the solutes, by their place in [`IsothermalSection::solutes`].
    pub(super) moles: Vec<(usize, f64)>,
    /// Moles that cannot crystallise.
    pub(super) solvent: f64,
    pub(super) powder: f64,
    pub(super) mass: f64,
    /// By place in [`IsothermalSection::phases`].
    pub(super) phases: Vec<(usize, PhaseContribution)>,
}

/// What solids count for in a figure that is a weighted sum of them, such as structure.
pub struct Weighting {
    /// Of a mole of each solute of the section.
    pub(super) solutes: Vec<f64>,
    /// Of a gram of powder.
    pub(super) powder: f64,
}

/// All mixtures of a blend at one temperature: an isothermal section of its phase diagram. For a search that
/// looks at many of them; a [`View`](super::View) of it solves them.
pub struct IsothermalSection {
    kelvin: f64,
    pub(super) solutes: Vec<SectionSolute>,
    pub(super) phases: Vec<Phase>,
    pub(super) ingredients: Vec<Contribution>,
}

impl IsothermalSection {
    /// The section at a temperature, °C, with settled crystals whatever the state of the blend.
    pub fn new(blend: &Blend, celsius: f64) -> IsothermalSection {
        let mut section = IsothermalSection {
            kelvin: kelvin(celsius),
            solutes: Vec::new(),
            phases: Vec::new(),
            ingredients: Vec::new(),
        };
        // The place in the section of each species of the blend, and of its phase.
        let mut places = vec![None; blend.species.len()];
        for Phase { family, members } in &blend.phases {
            let extremes = Extremes::of(blend, *family);
            let species = &blend.species[members.clone()];
            if species.iter().all(|it| it.settled.melting_k + extremes.most_shift_k <= section.kelvin) {
                continue;
            }
            let start = section.solutes.len();
            for (place, species) in places[members.clone()].iter_mut().zip(species) {
                *place = Some((section.solutes.len(), section.phases.len()));
                let solute = section.solute(species, &extremes);
                section.solutes.push(solute);
            }
            section.phases.push(Phase { family: *family, members: start..section.solutes.len() });
        }
        section.ingredients =
            blend.ingredients.iter().map(|it| section.contribution(blend, it, &places)).collect();
        section
    }

    fn solute(&self, species: &BlendSpecies, extremes: &Extremes) -> SectionSolute {
        let fusion = species.settled;
        let k = |correction: PhaseCorrection| correction.distribution(fusion).at(self.kelvin);
        let pure_k = k(PhaseCorrection::default());
        // K rises with the shift and ln K is straight in the excess; disorder only lowers it.
        let most_k = extremes.excess.map(|enthalpy_excess| {
            k(PhaseCorrection { shift_k: extremes.most_shift_k, enthalpy_excess, ..Default::default() })
        });
        SectionSolute {
            fusion,
            slope_k: fusion.enthalpy_j_mol / GAS_CONSTANT,
            molar_mass: species.molar_mass,
            kind: species.kind,
            pure_k,
            most_k: greater(pure_k, greater(most_k[0], most_k[1])),
        }
    }

    fn contribution(
        &self,
        blend: &Blend,
        composition: &Composition,
        places: &[Option<(usize, usize)>],
    ) -> Contribution {
        let mut found = Contribution {
            solvent: composition.solvent.moles,
            powder: composition.powder,
            mass: composition.solvent.mass + composition.powder,
            ..Contribution::default()
        };
        for (at, moles) in &composition.moles {
            let species = &blend.species[*at];
            found.mass += moles * species.molar_mass;
            let Some((solute, phase)) = places[*at] else {
                found.solvent += moles;
                continue;
            };
            found.moles.push((solute, *moles));
            let family = self.phases[phase].family;
            let mut sums = CorrectionSums::default();
            sums.count(family, *moles, &species.crystal.outer);
            for fitted in composition.corrections.iter().filter(|it| it.family == family) {
                sums.correct(*moles, fitted);
            }
            let more = PhaseContribution { sums, most_onset: moles * self.solutes[solute].most_k };
            match found.phases.iter_mut().find(|(known, _)| *known == phase) {
                Some((_, brought)) => brought.add(1.0, &more),
                None => found.phases.push((phase, more)),
            }
        }
        found
    }

    /// Adds the mixture of these amounts of the ingredients as one more ingredient, after the others: a batch
    /// that is already made.
    pub fn merge(&mut self, amounts: &[f64]) {
        let sum: f64 = amounts.iter().sum();
        let mut merged = Contribution::default();
        let mut moles = vec![0.0; self.solutes.len()];
        let mut phases = vec![PhaseContribution::default(); self.phases.len()];
        for (ingredient, amount) in self.ingredients.iter().zip(amounts).filter(|(_, amount)| **amount > 0.0)
        {
            let share = amount / sum;
            merged.solvent += share * ingredient.solvent;
            merged.powder += share * ingredient.powder;
            merged.mass += share * ingredient.mass;
            for (solute, more) in &ingredient.moles {
                moles[*solute] += share * more;
            }
            for (phase, more) in &ingredient.phases {
                phases[*phase].add(share, more);
            }
        }
        merged.moles = moles.into_iter().enumerate().filter(|(_, moles)| *moles > 0.0).collect();
        merged.phases = phases.into_iter().enumerate().filter(|(_, it)| it.sums.moles > 0.0).collect();
        self.ingredients.push(merged);
    }

    /// Whether some of what may crystallise is wax.
    pub(crate) fn holds_wax(&self) -> bool {
        self.solutes.iter().any(|solute| solute.kind.is_wax())
    }

    /// What solids count for in the figure `weights`·solids + `powder`·powder. Weights must not be negative.
    pub fn weighting(&self, weights: &SolidsByKind, powder: f64) -> Weighting {
        let solutes = self.solutes.iter().map(|solute| weights.of(solute.kind) * solute.molar_mass).collect();
        Weighting { solutes, powder }
    }

    /// The enthalpy of fusion of a solute's pure crystal, J/mol.
    pub(super) fn latent_j_mol(&self, solute: usize) -> f64 {
        self.solutes[solute].fusion.enthalpy_j_mol
    }

    /// K of a solute in a phase that is corrected so.
    pub(super) fn k(&self, solute: usize, correction: &PhaseCorrection) -> f64 {
        let solute = &self.solutes[solute];
        if correction.net_shift_k() == 0.0 && correction.enthalpy_excess == 0.0 {
            return solute.pure_k;
        }
        correction.distribution(solute.fusion).at(self.kelvin)
    }

    /// The same within [`ABOUT`], and several times faster.
    pub(super) fn k_about(&self, solute: usize, correction: &PhaseCorrection) -> f64 {
        let SectionSolute { fusion, slope_k, pure_k, .. } = &self.solutes[solute];
        let shift_k = correction.net_shift_k();
        let exponent = slope_k * shift_k / (fusion.melting_k * (fusion.melting_k + shift_k));
        if correction.enthalpy_excess == 0.0 && exponent.abs() <= 2.0 {
            pure_k * small_exp(exponent)
        } else {
            self.k(solute, correction)
        }
    }

    /// How ln K of a solute rises with the shift of the melting point, per K, and with the excess of the
    /// enthalpy.
    pub(super) fn log_k_slopes(&self, solute: usize, correction: &PhaseCorrection) -> (f64, f64) {
        let SectionSolute { fusion, slope_k, .. } = &self.solutes[solute];
        let melting_k = fusion.melting_k + correction.net_shift_k();
        let by_shift = slope_k * (1.0 + correction.enthalpy_excess) / (melting_k * melting_k);
        (by_shift, slope_k * (1.0 / self.kelvin - 1.0 / melting_k))
    }
}

/// How far the corrections of a blend can move a family, as means over ingredients of which some bring none.
struct Extremes {
    most_shift_k: f64,
    /// The least and the greatest excess of the enthalpies of fusion.
    excess: [f64; 2],
}

impl Extremes {
    fn of(blend: &Blend, family: Family) -> Extremes {
        let mut extremes = Extremes { most_shift_k: 0.0, excess: [0.0; 2] };
        let fitted = blend.ingredients.iter().flat_map(|ingredient| &ingredient.corrections);
        for fitted in fitted.filter(|it| it.family == family) {
            let excess = fitted.enthalpy_factor - 1.0;
            let [least, most] = extremes.excess;
            extremes.most_shift_k = greater(extremes.most_shift_k, fitted.shift_k);
            extremes.excess = [lesser(least, excess), greater(most, excess)];
        }
        extremes
    }
}

/// The relative error of [`IsothermalSection::k_about`], at most.
pub(super) const ABOUT: f64 = 1e-5;

const THIRD: f64 = 1.0 / 3.0;

/// e^x for |x| ≤ 2. With y = x/16, at most 1/8, five terms of the series leave y⁵/120 or less, 3.3e-7 of the
/// sum, and the sixteenth power leaves 16 times as much.
#[inline(always)]
fn small_exp(x: f64) -> f64 {
    let y = x * 0.0625;
    let power = 1.0 + y * (1.0 + 0.5 * y * (1.0 + THIRD * y * (1.0 + 0.25 * y)));
    let power = power * power;
    let power = power * power;
    let power = power * power;
    power * power
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_small_power_is_within_its_error() {
        for step in -200..=200 {
            let x = f64::from(step) * 0.01;
            assert!((small_exp(x) / libm::exp(x) - 1.0).abs() <= 0.6 * ABOUT, "{x}");
        }
    }
}
