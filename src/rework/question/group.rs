//! What a cap counts: a class, or powders, which are of no class of their own.

use crate::{
    failure::{FaultPlace, Limit},
    recipe::Line,
    substances::{Class, SpeciesKind},
};

/// Ingredients that share a cap.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Group {
    /// Those of a class.
    Class(Class),
    /// Those that are powder by half or more: starch, clay, zinc oxide.
    Powder,
}

impl Group {
    /// Whether a line counts.
    pub fn counts(self, line: &Line) -> bool {
        match self {
            Group::Class(class) => line.class == class,
            Group::Powder => {
                let powder = line.make().iter().filter(|(species, _)| species.kind == SpeciesKind::Powder);
                powder.map(|(_, percent)| percent).sum::<f64>() >= 50.0
            }
        }
    }

    /// In words.
    pub(super) fn words(self) -> &'static str {
        match self {
            Group::Class(class) => class_words(class),
            Group::Powder => "powder",
        }
    }

    /// Where its cap is.
    pub(super) fn place(self) -> FaultPlace {
        FaultPlace::Limits(match self {
            Group::Class(Class::Wax) => Limit::Wax,
            Group::Class(Class::FattyAcid) => Limit::FattyAcid,
            Group::Class(Class::FattyAlcohol) => Limit::FattyAlcohol,
            // Only the groups of `Scope::caps` have one.
            Group::Class(_) => Limit::All,
            Group::Powder => Limit::Powder,
        })
    }
}

/// A class in words.
fn class_words(class: Class) -> &'static str {
    match class {
        Class::HardButter => "hard butter",
        Class::SoftButter => "soft butter",
        Class::LiquidOil => "liquid oil",
        Class::FattyAcid => "fatty acid",
        Class::FattyAlcohol => "fatty alcohol",
        Class::Wax => "wax",
        Class::Other => "other ingredients",
    }
}
