//! The phases of a slice that may appear in a region: their solutes, side by side, and their corrections.

use std::ops::Range;

use super::{
    affine::{Affine, Amounts, is_any},
    section::IsothermalSection,
    slice::{Slice, SliceSums},
};

/// The phases of a slice that may be present in a region. All others count with the solvent.
#[derive(Default)]
pub(super) struct GatheredPhases {
    /// Moles of liquid down to which those that were left out are absent.
    pub(super) down_to: f64,
    /// By phase of the section, whether it was gathered; empty before any were.
    chosen: Vec<bool>,
    /// The place in the section of each phase.
    pub(super) places: Vec<usize>,
    /// Where the solutes of each phase lie.
    pub(super) phases: Vec<Range<usize>>,
    /// What decides the correction of each phase; none where nothing is corrected, whatever the amounts.
    pub(super) sums: Vec<Option<SliceSums>>,
    /// The place in the section of each solute.
    pub(super) solutes: Vec<usize>,
    /// Moles of each solute.
    pub(super) moles: Vec<Affine>,
    /// Moles of all else, but for powder.
    pub(super) solvent: Affine,
}

impl GatheredPhases {
    /// Forgets which phases were gathered, since the slice has changed.
    pub(super) fn forget(&mut self) {
        self.chosen.clear();
    }

    /// Chooses the phases that may be present somewhere between these amounts, where there may be as little
    /// liquid as `down_to`, moles; whether they are others than before, so that they must be gathered.
    pub(super) fn choose(&mut self, slice: &Slice, corners: &[Amounts], down_to: f64) -> bool {
        self.down_to = down_to;
        let mut are_others = self.chosen.len() != slice.phases.len();
        self.chosen.resize(slice.phases.len(), false);
        for (chosen, phase) in self.chosen.iter_mut().zip(&slice.phases) {
            let choose = phase.may_be_present(corners, down_to);
            are_others |= choose != *chosen;
            *chosen = choose;
        }
        are_others
    }

    /// Gathers the phases that were chosen.
    pub(super) fn gather(&mut self, section: &IsothermalSection, slice: &Slice) {
        self.places.clear();
        self.phases.clear();
        self.sums.clear();
        self.solutes.clear();
        self.moles.clear();
        self.solvent = slice.solvent;
        for (place, phase) in slice.phases.iter().enumerate() {
            if !self.chosen[place] {
                for (sum, moles) in self.solvent.iter_mut().zip(&phase.moles) {
                    *sum += moles;
                }
                continue;
            }
            let start = self.solutes.len();
            for solute in section.phases[place].members.clone() {
                let moles = &slice.moles[solute];
                if is_any(moles) {
                    self.solutes.push(solute);
                    self.moles.push(*moles);
                }
            }
            self.places.push(place);
            self.phases.push(start..self.solutes.len());
            self.sums.push(phase.is_corrected.then(|| slice.sums(section, place)));
        }
    }
}
