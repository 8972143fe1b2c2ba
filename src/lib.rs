//! Predicts how a water-free body butter melts and feels, and finds the smallest rework of its recipe for a
//! climate.
//!
//! Arrows point one way: `substances` ← `equilibrium` ← `behaviour` ← `surety` ← `rework` ← `contract`, which
//! the program (`main.rs`), the page (`web.rs`, wasm32 only) and the tests all speak. The engine knows no
//! browser, no clock and no files.

mod apportion;
#[cfg(test)]
#[path = "../tests/support/random.rs"]
mod random;

pub mod behaviour;
pub mod contract;
mod decimal;
pub mod equilibrium;
mod extremes;
mod failure;
mod quote;
pub mod reading;
pub mod recipe;
pub mod rework;
mod roots;
pub mod substances;
pub mod surety;
#[cfg(target_arch = "wasm32")]
pub mod web;
