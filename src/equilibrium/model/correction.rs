//! How the members of a phase melt, against pure crystals of their own.

use crate::substances::{Correction, Family, Fusion, GAS_CONSTANT, OuterChains};

/// What ingredients bring to one phase, summed over moles. Its means decide how the phase melts: a crystal
/// does not remember which ingredient its molecules came from.
#[derive(Clone, Copy, Default)]
pub(crate) struct CorrectionSums {
    /// Moles of the phase's species.
    pub(crate) moles: f64,
    /// Moles times the shift of the melting points, mol·K.
    pub(crate) shift: f64,
    /// Moles times the excess of the enthalpies of fusion (the factor less one), mol.
    pub(crate) enthalpy_excess: f64,
    /// Moles whose fresh crystals melt as settled ones.
    pub(crate) sets_at_once: f64,
    /// The outer chains, where the phase's family can be disordered.
    pub(crate) outer: OuterChains,
}

impl CorrectionSums {
    /// Counts this many moles of a species.
    pub(crate) fn count(&mut self, family: Family, moles: f64, outer: &OuterChains) {
        self.moles += moles;
        if family.is_disordered() {
            self.outer.add(moles, outer);
        }
    }

    /// Counts what was fitted to the ingredient that brings this many moles.
    pub(crate) fn correct(&mut self, moles: f64, fitted: &Correction) {
        self.shift += moles * fitted.shift_k;
        self.enthalpy_excess += moles * (fitted.enthalpy_factor - 1.0);
        self.sets_at_once += if fitted.sets_at_once { moles } else { 0.0 };
    }

    /// Adds so many times as much as `more`.
    pub(crate) fn add(&mut self, amount: f64, more: &CorrectionSums) {
        self.moles += amount * more.moles;
        self.shift += amount * more.shift;
        self.enthalpy_excess += amount * more.enthalpy_excess;
        self.sets_at_once += amount * more.sets_at_once;
        if more.outer.are_any() {
            self.outer.add(amount, &more.outer);
        }
    }

    /// Whether anything was fitted to what they are brought by.
    pub(crate) fn are_fitted(&self) -> bool {
        self.shift != 0.0 || self.enthalpy_excess != 0.0
    }

    /// Whether they change how the phase melts, whatever the amounts.
    pub(crate) fn are_any(&self) -> bool {
        self.are_fitted() || self.outer.are_any()
    }

    /// The share of the moles, 0 to 1, whose fresh crystals melt as settled ones.
    pub(crate) fn settled_share(&self) -> f64 {
        if self.moles > 0.0 { self.sets_at_once / self.moles } else { 0.0 }
    }

    /// The correction of a phase of this family, in settled crystals.
    pub(crate) fn correction(&self, family: Family) -> PhaseCorrection {
        if self.moles <= 0.0 {
            return PhaseCorrection::default();
        }
        let disorder = family.disorder(self.outer);
        PhaseCorrection {
            shift_k: self.shift / self.moles,
            lowering_k: disorder.lowering_k,
            enthalpy_excess: self.enthalpy_excess / self.moles,
            left_out: disorder.left_out,
        }
    }
}

/// How the members of a phase differ from pure crystals. Nothing is corrected by default.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct PhaseCorrection {
    /// K that are added to the melting points: the mean of what was fitted to the ingredients.
    pub(crate) shift_k: f64,
    /// K that unlike members take off the melting points again.
    pub(crate) lowering_k: f64,
    /// The factor on the enthalpies of fusion, less one: the mean of what was fitted.
    pub(crate) enthalpy_excess: f64,
    /// The share of every member, 0 to 1, that unlike members keep out of the crystals, so that it stays
    /// liquid.
    pub(crate) left_out: f64,
}

impl PhaseCorrection {
    /// K by which the melting points are higher in all.
    pub(crate) fn net_shift_k(&self) -> f64 {
        self.shift_k - self.lowering_k
    }

    /// The distribution of a member whose pure crystal melts so.
    pub(crate) fn distribution(&self, pure: Fusion) -> Distribution {
        let slope_k = pure.enthalpy_j_mol * (1.0 + self.enthalpy_excess) / GAS_CONSTANT;
        Distribution { slope_k, offset: slope_k / (pure.melting_k + self.shift_k - self.lowering_k) }
    }
}

/// The distribution of a species between its crystal and the liquid by the Schröder–van Laar equation:
/// ln K = ΔH/R (1/T − 1/T_m), K = x(crystal)/x(liquid).
#[derive(Clone, Copy, Debug)]
pub(crate) struct Distribution {
    /// ΔH/R, K.
    pub(crate) slope_k: f64,
    /// ΔH/(R T_m).
    pub(crate) offset: f64,
}

impl Distribution {
    /// K at this temperature, kept within e^±600, so that no product of two overflows.
    pub(crate) fn at(&self, kelvin: f64) -> f64 {
        libm::exp((self.slope_k / kelvin - self.offset).clamp(-600.0, 600.0))
    }

    /// The same with the melting point this many kelvin higher.
    pub(super) fn shifted(&self, shift_k: f64) -> Distribution {
        Distribution { offset: self.slope_k / (self.slope_k / self.offset + shift_k), ..*self }
    }
}
