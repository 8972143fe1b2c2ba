//! Predictions against published figures: `data/` holds the figures, one file a source.
//!
//! `REPORT.md` has every prediction beside what was measured; `README.md` tells how far to trust them, and
//! why.

// The lints' own exception for tests does not reach the helpers of a test crate.
#![allow(clippy::panic, clippy::unwrap_used)]

mod ask;
mod bands;
mod binaries;
mod blends;
mod catalogue;
mod figure;
mod fresh;
mod learned;
mod liquid_models;
mod lots;
mod misfit;
mod ranges;
mod report;
mod slip_series;
mod solids;
mod waxes;

#[path = "../support/ask.rs"]
mod replies;
