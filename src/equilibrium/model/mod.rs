//! What is mixed: ingredients, the blends of them, and mixtures laid out for the solver.

mod blend;
mod mixture;

pub use blend::{Blend, Part, State};
pub use mixture::{Mixture, MixtureError};
pub(crate) use mixture::{Solute, kelvin};
