#![doc = include_str!("README.md")]

mod allowance;
mod asked;
mod band;
mod class;
pub mod learned;
mod lots;
mod normal;
mod odds;
mod sobol;
mod spread;
mod temperatures;
mod widths;

#[cfg(test)]
mod tests;

pub use allowance::{Allowance, deviations};
pub use asked::Surety;
pub use band::LotBand;
pub use class::RecipeClass;
pub use lots::{LOTS, Unknowns};
pub use odds::Odds;
pub use spread::{PlaceSpread, Spread};
pub use widths::{Remainder, Width};
