//! The state of one mixture: at one temperature, or at many.

mod nested;
mod species;
mod state;
mod sweep;

pub(crate) use nested::{Layout, Phases, solid_share};
pub use species::SpeciesState;
pub(crate) use state::SolidPart;
pub use state::{Equilibrium, SolidsByKind};
pub use sweep::Sweep;
