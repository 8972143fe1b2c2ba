//! The words of the data files: kinds of ingredients, of molecules, of crystals and of sources.
//!
//! The build reads the files with the same types as the engine, so that a word it does not know stops it.

use serde::{Deserialize, Serialize};

/// What kind of ingredient it is.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Class {
    /// Cocoa butter and the like.
    HardButter,
    /// Shea, mango, coconut and the like.
    SoftButter,
    /// Liquid in any room.
    LiquidOil,
    /// Stearic acid and the like.
    FattyAcid,
    /// Cetyl alcohol and the like.
    FattyAlcohol,
    /// Beeswax and the like.
    Wax,
    /// Emulsifiers, powders, vitamins, fragrance.
    Other,
}

impl Class {
    /// Each of them.
    pub const ALL: [Class; 7] = [
        Class::HardButter,
        Class::SoftButter,
        Class::LiquidOil,
        Class::FattyAcid,
        Class::FattyAlcohol,
        Class::Wax,
        Class::Other,
    ];

    /// Its name in the contract and the data files.
    pub fn name(self) -> &'static str {
        match self {
            Class::HardButter => "hard-butter",
            Class::SoftButter => "soft-butter",
            Class::LiquidOil => "liquid-oil",
            Class::FattyAcid => "fatty-acid",
            Class::FattyAlcohol => "fatty-alcohol",
            Class::Wax => "wax",
            Class::Other => "other",
        }
    }

    /// The class of that name.
    pub fn named(name: &str) -> Option<Class> {
        Class::ALL.into_iter().find(|class| class.name() == name)
    }
}

/// What kind of molecule a species is.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SpeciesKind {
    /// Three chains on glycerol.
    Triglyceride,
    /// A free fatty acid.
    Acid,
    /// A free fatty alcohol.
    Alcohol,
    /// A hydrocarbon wax component.
    Alkane,
    /// A long saturated ester of an acid and an alcohol.
    WaxEster,
    /// The same of 34 carbons or fewer (cetyl palmitate, lanolin), or among hydroxy esters and aromatic
    /// diesters (carnauba): it packs and melts alike, but its crystals knit an oil far less.
    MixedEster,
    /// An ester of beeswax: its waxes knit an oil each in its own way, and are told
    /// apart by the wax that they come in.
    BeeswaxEster,
    /// A hydrocarbon of beeswax.
    BeeswaxAlkane,
    /// An ester of candelilla wax.
    CandelillaEster,
    /// A hydrocarbon of candelilla wax.
    CandelillaAlkane,
    /// An ester of carnauba wax.
    CarnaubaEster,
    /// A mono- or diglyceride, and the hydroxystearate triglyceride.
    Glyceride,
    /// A powder that neither melts nor dissolves.
    Powder,
    /// Liquid in any butter.
    Liquid,
}

impl SpeciesKind {
    /// The kinds that can crystallise.
    pub const CRYSTALS: [SpeciesKind; 12] = [
        SpeciesKind::Triglyceride,
        SpeciesKind::Acid,
        SpeciesKind::Alcohol,
        SpeciesKind::Glyceride,
        SpeciesKind::WaxEster,
        SpeciesKind::Alkane,
        SpeciesKind::MixedEster,
        SpeciesKind::BeeswaxEster,
        SpeciesKind::BeeswaxAlkane,
        SpeciesKind::CandelillaEster,
        SpeciesKind::CandelillaAlkane,
        SpeciesKind::CarnaubaEster,
    ];

    /// The same kind as it comes in this ingredient.
    pub fn in_ingredient(self, id: &str) -> SpeciesKind {
        match (id, self) {
            ("beeswax", SpeciesKind::WaxEster) => SpeciesKind::BeeswaxEster,
            ("beeswax", SpeciesKind::Alkane) => SpeciesKind::BeeswaxAlkane,
            ("candelilla-wax", SpeciesKind::WaxEster) => SpeciesKind::CandelillaEster,
            ("candelilla-wax", SpeciesKind::Alkane) => SpeciesKind::CandelillaAlkane,
            ("carnauba-wax", SpeciesKind::MixedEster) => SpeciesKind::CarnaubaEster,
            _ => self,
        }
    }

    /// Whether its crystals are wax.
    pub fn is_wax(self) -> bool {
        match self {
            SpeciesKind::Alkane | SpeciesKind::BeeswaxAlkane | SpeciesKind::CandelillaAlkane => true,
            SpeciesKind::WaxEster | SpeciesKind::BeeswaxEster | SpeciesKind::CandelillaEster => true,
            SpeciesKind::MixedEster | SpeciesKind::CarnaubaEster => true,
            SpeciesKind::Triglyceride | SpeciesKind::Acid | SpeciesKind::Alcohol | SpeciesKind::Glyceride => {
                false
            }
            SpeciesKind::Powder | SpeciesKind::Liquid => false,
        }
    }
}

/// A crystal form.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Form {
    /// The first to form, the lowest melting.
    Alpha,
    /// Between.
    BetaPrime,
    /// The stable form of most triglycerides.
    Beta,
}

/// How the saturated fatty acids of a fat are spread over the three positions of its triglycerides.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Rule {
    /// Saturated acids are kept off sn-2, as in seed fats.
    Seed,
    /// Partly, as in palm oil and other fruit-pulp oils.
    Pulp,
    /// At random over all three, as in interesterified fats and, nearly, lauric ones.
    Random,
}

/// How much a source is worth.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SourceKind {
    /// A paper, a book or a data collection; it, or its abstract, was read.
    Published,
    /// A pharmacopoeia, the Codex Alimentarius, a regulation or a trade association's standard; it was read.
    Standard,
    /// Knowledge of the trade: a supplier's sheet, or common practice without a source.
    Trade,
    /// Remembered, not looked up.
    Memory,
    /// Worked out here from figures of others; not a measurement.
    WorkedOut,
    /// Fitted here to measured figures.
    Fitted,
    /// True by what the words mean.
    Definition,
}
