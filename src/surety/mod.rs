#![doc = include_str!("README.md")]

mod lots;
mod normal;
mod odds;
mod points;
mod spread;
mod temperatures;
mod widths;

#[cfg(test)]
mod tests;

pub use lots::{LOTS, Unknowns};
pub use odds::Odds;
pub use spread::{PlaceSpread, Range, Spread};
pub use widths::{Remainder, Width};
