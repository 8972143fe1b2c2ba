//! The backward search against a plain walk over the whole grid, and as a maker asks it.

#![allow(clippy::unwrap_used, reason = "a test that cannot be set up fails")]

mod ask;
mod brute;
