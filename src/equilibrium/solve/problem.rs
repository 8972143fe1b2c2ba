//! The problem that is solved at one temperature, and the sums that every method of solving it takes.

use std::ops::Range;

/// An equilibrium at one temperature: moles, their distribution between crystal and liquid, and who
/// crystallises with whom.
#[derive(Clone, Copy)]
pub(crate) struct EquilibriumProblem<'a> {
    /// Moles of each solute.
    pub(crate) moles: &'a [f64],
    /// K of each solute: the ratio of its fraction in the crystal to that in the liquid.
    pub(crate) k: &'a [f64],
    /// Where the solutes of each solid phase lie.
    pub(crate) phases: &'a [Range<usize>],
    /// Moles that are liquid whatever happens.
    pub(crate) solvent: f64,
    /// All moles.
    pub(crate) total: f64,
}

/// What was found, beside σ of each phase.
#[derive(Clone, Copy, Debug)]
pub(crate) struct PhaseSplit {
    /// Moles of liquid.
    pub(crate) liquid: f64,
    /// The largest violation of the conditions of equilibrium, a pure number.
    pub(crate) certificate: f64,
    /// Steps taken.
    pub(crate) steps: u32,
}

/// Sums over the solutes of one phase at one σ. With q = 1/(1 + σK), the share of a solute that is dissolved:
#[derive(Clone, Copy, Default)]
pub(crate) struct PhaseSums {
    /// Σ n q, the moles that are dissolved.
    pub(crate) dissolved: f64,
    /// Σ n K q, the moles of liquid that those just saturate: with less liquid the phase grows, with more it
    /// dissolves.
    pub(crate) saturated: f64,
    /// Σ n K q²: how `dissolved` falls with σ.
    pub(crate) dissolved_fall: f64,
    /// Σ n K² q²: how `saturated` falls with σ.
    pub(crate) saturated_fall: f64,
}

impl PhaseSums {
    /// The sums over solutes of these moles and these K.
    #[inline(always)]
    pub(crate) fn at(sigma: f64, moles: &[f64], k: &[f64]) -> PhaseSums {
        let mut sums = PhaseSums::default();
        for (moles, k) in moles.iter().zip(k) {
            let q = 1.0 / (1.0 + sigma * k);
            let (dissolved, kq) = (moles * q, k * q);
            sums.dissolved += dissolved;
            sums.saturated += dissolved * k;
            sums.dissolved_fall += dissolved * kq;
            sums.saturated_fall += dissolved * k * kq;
        }
        sums
    }
}

/// The step of σ towards saturation by Newton's method on the reciprocal of `saturated`, which is concave in
/// σ: it never passes the root. `ratio` is `saturated` over the moles of liquid.
#[inline(always)]
pub(crate) fn sigma_step(saturated: f64, saturated_fall: f64, ratio: f64) -> f64 {
    saturated * (ratio - 1.0) / saturated_fall
}

/// The share of a solute that is solid, where its phase is present with `sigma` > 0.
pub(crate) fn solid_share(sigma: f64, k: f64) -> f64 {
    let solid_to_dissolved = sigma * k;
    if solid_to_dissolved.is_finite() { solid_to_dissolved / (1.0 + solid_to_dissolved) } else { 1.0 }
}
