#![doc = include_str!("README.md")]

mod model;
mod region;
mod solve;

pub(crate) use model::shift;
pub use model::{Blend, CrystalState, Lot, Mixture, MixtureError, Part};
pub(crate) use region::{CORNERS, Slope};
pub use region::{Enclosure, IsothermalSection, View, Weighting};
pub use solve::{Equilibrium, SolidsByKind, SpeciesState, Sweep};
