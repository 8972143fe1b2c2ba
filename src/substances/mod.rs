#![doc = include_str!("README.md")]

mod chain;
mod correction;
mod correlation;
mod disorder;
mod family;
mod fat;
mod fatty_acid;
mod ingredient;
mod kinds;
mod minor;
mod profile;
mod species;
mod tables;

pub use chain::{Chain, Triglyceride};
pub use correction::Correction;
pub use correlation::{Fusion, wesdorp};
pub use disorder::{Disorder, OuterChains};
pub use family::Family;
pub use fat::Fat;
pub use fatty_acid::FattyAcid;
pub(crate) use ingredient::ALIASES;
pub use ingredient::{Ingredient, catalogue, find, sources};
pub use kinds::{Class, Form, Rule, SourceKind, SpeciesKind};
pub use minor::{DIGLYCERIDE_PERCENT, FREE_ACID_PERCENT, UNSAPONIFIABLE_PERCENT};
pub use profile::{FattyAcidProfile, triglycerides};
pub use species::{Crystal, Make, Species, SpeciesError};
pub use tables::Source;

/// The molar gas constant, J/(mol K) (SI, exact to the digits given).
pub const GAS_CONSTANT: f64 = 8.314_462_618;

/// 0 °C in kelvin (SI, exact).
pub const ZERO_CELSIUS_K: f64 = 273.15;
