//! One-dimensional heat conduction with latent heat, by the enthalpy method.
//!
//! A [`ThermalChain`] of finite volumes holds enthalpy; temperature follows from each cell's own [`Enthalpy`]
//! table, so that a melting range needs no front to be tracked. A step is two backward Euler stages (the
//! L-stable, singly diagonally implicit Runge–Kutta method of second order: Alexander 1977, from memory); its
//! difference from a step of first order sets the length of the next. What one cell loses its neighbour
//! gains, so energy is conserved to rounding whatever the step.

mod body;
mod chain;
mod enthalpy;
#[cfg(test)]
mod tests;

pub use body::{Body, in_series, power};
pub use chain::{Ambient, Cell, ChainState, Control, Outside, ThermalChain, ThermalRun};
pub use enthalpy::Enthalpy;
