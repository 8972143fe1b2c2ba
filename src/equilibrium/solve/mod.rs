//! The equilibrium of one mixture: at one temperature or at many, and where its last crystal dissolves.

mod equilibrium;
mod liquidus;
mod nested;
mod newton;
mod problem;
mod species;
mod sweep;

pub(crate) use equilibrium::SolidPart;
pub use equilibrium::{Equilibrium, SolidsByKind};
pub(crate) use nested::solve as nested;
pub(crate) use newton::{Active, solve as newton};
pub(crate) use problem::{EquilibriumProblem, PhaseSplit, PhaseSums, sigma_step, solid_share};
pub use species::SpeciesState;
pub use sweep::Sweep;
