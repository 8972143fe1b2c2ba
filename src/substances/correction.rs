//! What a natural fat's crystals are less than pure ones.

use super::Family;

/// What was fitted to an ingredient's own published curve of solids or melting range, for one crystal family.
///
/// The crystals of a natural fat are less perfect than those of the pure species. The shift moves the
/// family's melting points; the factor scales its enthalpies of fusion, and with a smaller one it dissolves
/// earlier below its melting point.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Correction {
    /// Of which family.
    pub family: Family,
    /// K, added to the melting points.
    pub shift_k: f64,
    /// Multiplies the enthalpies of fusion.
    pub enthalpy_factor: f64,
    /// Whether its fresh crystals already melt as the settled ones: the curve that it was fitted to was
    /// measured half an hour after chilling, or the fat stays in the form that it sets in.
    pub sets_at_once: bool,
}
