//! What is in equilibrium: blends of ingredients, and mixtures of species laid out for the solver.

mod blend;
mod correction;
mod lot;
mod mixture;
mod phase;

pub use blend::{Blend, CrystalState, Part};
pub(crate) use blend::{BlendSpecies, Composition};
pub(crate) use correction::{CorrectionSums, Distribution, PhaseCorrection};
pub use lot::Lot;
pub(crate) use lot::shift;
pub(crate) use mixture::{COLDEST_K, Solute, Solvent, kelvin};
pub use mixture::{Mixture, MixtureError};
pub(crate) use phase::Phase;
