//! Solid–liquid equilibrium of a mixture.
//!
//! At a temperature T the ratio of species i in its crystal family to the liquid is K_i = exp(ΔH_i/R (1/T − 1/T_m,i)), for an
//! ideal liquid and ideal families. The state of lowest Gibbs energy is where
//!
//! Φ(L, S_1..S_K) = Σ_i n_i ln(L + S_k(i) K_i) − L − Σ_k S_k,  L, S_k ≥ 0
//!
//! is largest: L moles of liquid, S_k moles of family k. Φ is concave, so the answer is unique up to families that hold
//! nothing, and it is certified afterwards: Σ x_i = 1 in the liquid, Σ x_i K_i = 1 in every family that is present and ≤ 1 in
//! every one that is absent.

mod model;
mod region;
mod solve;

pub use model::{Blend, Mixture, MixtureError, Part, State};
pub(crate) use region::Slope;
pub use region::{Enclosure, IsothermalSection, View, Weighting};
pub use solve::{Equilibrium, SolidsByKind, SpeciesState, Sweep};
