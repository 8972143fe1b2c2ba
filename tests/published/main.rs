//! Predictions against published figures: `data/` holds the figures, one file a source.
//!
//! `cargo test --test published -- --nocapture misfits` prints every prediction beside what was measured.

// The lints' own exception for tests does not reach the helpers of a test crate.
#![allow(clippy::panic, clippy::unwrap_used)]

mod ask;
mod bands;
mod binaries;
mod blends;
mod catalogue;
mod figure;
mod fresh;
mod liquid_models;
mod misfit;
mod ranges;
mod slip_series;
mod solids;
mod waxes;
