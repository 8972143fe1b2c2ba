//! How it feels and how it fares, by the public contract.

#![allow(clippy::panic, clippy::unwrap_used, reason = "a test that cannot be set up fails")]

mod ask;
mod batch;
mod climate;
mod expose;
mod harm;
mod properties;
mod settling;
mod symptom;
mod wax;

#[path = "../support/random.rs"]
mod random;
#[path = "../support/ask.rs"]
mod replies;
