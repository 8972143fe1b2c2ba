#![doc = include_str!("README.md")]

mod asked;
mod band;
pub mod learned;
mod lots;
mod margin;
mod normal;
mod odds;
mod points;
mod spread;
mod temperatures;
mod widths;

#[cfg(test)]
mod tests;

pub use asked::Surety;
pub use band::Range;
pub use lots::{LOTS, Unknowns};
pub use margin::{Margin, deviations};
pub use odds::Odds;
pub use spread::{PlaceSpread, Spread};
pub use widths::{Remainder, Width};
