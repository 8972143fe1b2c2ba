//! The solver against its own conditions, against a slow general method, and against SciPy; what must hold of
//! any recipe; and requests that mean no good.

// The lints' own exception for tests does not reach the helpers of a test crate.
#![allow(clippy::panic, clippy::unwrap_used)]

mod certificate;
mod hostile;
mod interior_point;
mod properties;
mod recipes;
mod reference;
mod twin;

#[path = "../support/random.rs"]
mod random;
