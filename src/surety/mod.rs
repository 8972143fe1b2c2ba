#![doc = include_str!("README.md")]

mod band;
pub mod learned;
mod lots;
mod normal;
mod odds;
mod points;
mod spread;
mod temperatures;
mod widths;

#[cfg(test)]
mod tests;

pub use band::Range;
pub use lots::{LOTS, Unknowns};
pub use odds::Odds;
pub use spread::{PlaceSpread, Spread};
pub use widths::{Remainder, Width};
