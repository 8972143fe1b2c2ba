//! What things are made of: species with their crystal forms, the families they crystallise in, and ingredients.
//!
//! Figures live in `data/`, one file a source; the build checks them and turns them into static texts.

mod chain;
mod correlation;
mod family;
mod fat;
mod ingredient;
mod profile;
mod species;
mod tables;

pub use chain::{Chain, Triglyceride};
pub use correlation::{Form, Fusion, wesdorp};
pub use family::{Disorder, Family, OuterChains};
pub use fat::{Fat, FattyAcid};
pub use ingredient::{Class, Correction, Ingredient, Make, catalogue, find, sources};
pub use profile::{Profile, Rule, triglycerides};
pub use species::{Crystal, Kind, Species, SpeciesError};

/// The molar gas constant, J/(mol K) (SI, exact to the digits given).
pub const GAS_CONSTANT: f64 = 8.314_462_618;

/// 0 °C in kelvin (SI, exact).
pub const ZERO_CELSIUS_K: f64 = 273.15;
