//! A section with all but up to three amounts fixed, taken up by difference from a whole mixture.

use super::{
    affine::{Affine, Amounts, is_any, value},
    section::{Contribution, IsothermalSection, PhaseContribution},
};
use crate::{equilibrium::model::CorrectionSums, extremes::greater};

/// Relative slack for rounding, far above what sums of some hundred terms lose.
pub(super) const ROUNDING: f64 = 1e-10;

/// Of a sum from which a part is taken away again, less than this share is what rounding left of nothing.
pub(super) const NOTHING_LEFT: f64 = 1e-12;

/// A sum of the whole less a part of it.
#[inline(always)]
fn less(sum: f64, whole: f64, part: f64) -> f64 {
    let rest = sum - part;
    if rest > NOTHING_LEFT * whole { rest } else { 0.0 }
}

/// A whole mixture, summed.
#[derive(Default)]
struct Whole {
    amounts: Vec<f64>,
    /// By solute of the section.
    moles: Vec<f64>,
    /// By phase of the section.
    phases: Vec<PhaseContribution>,
    /// The same as parts of a slice in which nothing changes.
    fixed: Vec<SlicePhase>,
    solvent: f64,
    powder: f64,
    mass: f64,
}

impl Whole {
    fn of(section: &IsothermalSection, amounts: &[f64]) -> Whole {
        let mut whole = Whole {
            amounts: amounts.to_vec(),
            moles: vec![0.0; section.solutes.len()],
            phases: vec![PhaseContribution::default(); section.phases.len()],
            ..Whole::default()
        };
        for (ingredient, amount) in section.ingredients.iter().zip(amounts).filter(|(_, it)| **it > 0.0) {
            whole.solvent += amount * ingredient.solvent;
            whole.powder += amount * ingredient.powder;
            whole.mass += amount * ingredient.mass;
            for (solute, moles) in &ingredient.moles {
                whole.moles[*solute] += amount * moles;
            }
            for (phase, more) in &ingredient.phases {
                whole.phases[*phase].add(*amount, more);
            }
        }
        whole.fixed = whole.phases.iter().map(SlicePhase::of).collect();
        whole
    }

    fn amount(&self, ingredient: usize) -> f64 {
        greater(self.amounts.get(ingredient).copied().unwrap_or(0.0), 0.0)
    }
}

/// What is known of a phase before its solutes are looked at.
#[derive(Clone, Copy)]
pub(super) struct SlicePhase {
    pub(super) moles: Affine,
    /// What Σ n K is at most.
    most_onset: Affine,
    /// Whether an ingredient corrects it.
    pub(super) is_corrected: bool,
}

impl SlicePhase {
    fn of(whole: &PhaseContribution) -> SlicePhase {
        SlicePhase {
            moles: [whole.sums.moles, 0.0, 0.0, 0.0],
            most_onset: [whole.most_onset, 0.0, 0.0, 0.0],
            is_corrected: whole.sums.are_any(),
        }
    }

    /// Whether it may be present somewhere between these amounts, where there may be as little liquid as
    /// `liquid`, moles.
    pub(super) fn may_be_present(&self, corners: &[Amounts], liquid: f64) -> bool {
        is_any(&self.moles)
            && corners.iter().any(|corner| value(&self.most_onset, corner) * (1.0 + ROUNDING) > liquid)
    }
}

/// What decides the correction of a phase: of the fixed part, and per gram of each changing ingredient.
pub(super) type SliceSums = [CorrectionSums; 4];

/// The sums at these amounts.
pub(super) fn sums_at(parts: &SliceSums, amounts: &Amounts) -> CorrectionSums {
    let mut sums = parts[0];
    for (amount, part) in amounts.iter().zip(&parts[1..]) {
        sums.add(*amount, part);
    }
    sums
}

/// A section with all but up to three amounts fixed.
#[derive(Default)]
pub(super) struct Slice {
    /// The mixture that was loaded last, whole.
    whole: Whole,
    /// The ingredients that change.
    changing: Vec<usize>,
    /// The one that they are added in place of, if any.
    giving: Option<usize>,
    /// By solute of the section.
    pub(super) moles: Vec<Affine>,
    /// By phase of the section.
    pub(super) phases: Vec<SlicePhase>,
    /// Moles that cannot crystallise.
    pub(super) solvent: Affine,
    pub(super) powder: Affine,
    pub(super) mass: Affine,
}

impl Slice {
    /// Takes up other amounts and changing ingredients: see [`View::load`](super::View::load).
    pub(super) fn load(&mut self, section: &IsothermalSection, amounts: &[f64], changing: &[usize]) {
        let (giving, changing) = match changing {
            [giving, others @ ..] if others.len() >= 3 => (Some(*giving), others),
            _ => (None, changing),
        };
        let changing = &changing[..changing.len().min(3)];
        if self.whole.amounts != amounts || self.moles.is_empty() {
            self.whole = Whole::of(section, amounts);
            self.moles = self.whole.moles.iter().map(|moles| [*moles, 0.0, 0.0, 0.0]).collect();
        }
        let whole = &self.whole;
        // What changed before is fixed again.
        let before = self.changing.iter().chain(&self.giving);
        for (solute, _) in before.flat_map(|at| &section.ingredients[*at].moles) {
            self.moles[*solute] = [whole.moles[*solute], 0.0, 0.0, 0.0];
        }
        self.changing.clear();
        self.changing.extend_from_slice(changing);
        self.giving = giving;
        self.phases.clear();
        self.phases.extend_from_slice(&whole.fixed);
        self.solvent = [whole.solvent, 0.0, 0.0, 0.0];
        self.powder = [whole.powder, 0.0, 0.0, 0.0];
        self.mass = [whole.mass, 0.0, 0.0, 0.0];
        for (slot, at) in changing.iter().enumerate() {
            let ingredient = &section.ingredients[*at];
            let amount = whole.amount(*at);
            self.solvent[0] = less(self.solvent[0], whole.solvent, amount * ingredient.solvent);
            self.powder[0] = less(self.powder[0], whole.powder, amount * ingredient.powder);
            self.mass[0] = less(self.mass[0], whole.mass, amount * ingredient.mass);
            self.solvent[slot + 1] = ingredient.solvent;
            self.powder[slot + 1] = ingredient.powder;
            self.mass[slot + 1] = ingredient.mass;
            for (solute, moles) in &ingredient.moles {
                let parts = &mut self.moles[*solute];
                parts[0] = less(parts[0], whole.moles[*solute], amount * moles);
                parts[slot + 1] = *moles;
            }
            for (phase, more) in &ingredient.phases {
                let (phase, whole) = (&mut self.phases[*phase], &whole.phases[*phase]);
                phase.moles[0] = less(phase.moles[0], whole.sums.moles, amount * more.sums.moles);
                phase.moles[slot + 1] = more.sums.moles;
                phase.most_onset[0] = less(phase.most_onset[0], whole.most_onset, amount * more.most_onset);
                phase.most_onset[slot + 1] = more.most_onset;
                phase.is_corrected |= more.sums.are_any();
            }
        }
        if let Some(at) = giving {
            self.take_away(&section.ingredients[at]);
        }
    }

    /// Takes a gram of this away for a gram of each changing ingredient.
    fn take_away(&mut self, giving: &Contribution) {
        for part in 1..4 {
            self.solvent[part] -= giving.solvent;
            self.powder[part] -= giving.powder;
            self.mass[part] -= giving.mass;
            for (solute, moles) in &giving.moles {
                self.moles[*solute][part] -= moles;
            }
            for (phase, less) in &giving.phases {
                self.phases[*phase].moles[part] -= less.sums.moles;
                self.phases[*phase].most_onset[part] -= less.most_onset;
            }
        }
    }

    /// What decides the correction of a phase of the section.
    pub(super) fn sums(&self, section: &IsothermalSection, phase: usize) -> SliceSums {
        let brought_by = |at: usize| {
            let found = section.ingredients[at].phases.iter().find(|(known, _)| *known == phase);
            found.map(|(_, brought)| &brought.sums)
        };
        let whole = self.whole.phases[phase].sums;
        let mut parts = SliceSums::default();
        parts[0] = whole;
        for (slot, at) in self.changing.iter().enumerate() {
            let Some(more) = brought_by(*at) else { continue };
            let amount = self.whole.amount(*at);
            let rest = less(parts[0].moles, whole.moles, amount * more.moles);
            parts[0].add(-amount, more);
            parts[0] = if rest > 0.0 {
                CorrectionSums { moles: rest, ..parts[0] }
            } else {
                CorrectionSums::default()
            };
            parts[slot + 1] = *more;
        }
        if let Some(less) = self.giving.and_then(brought_by) {
            parts[1..].iter_mut().for_each(|part| part.add(-1.0, less));
        }
        parts
    }
}
