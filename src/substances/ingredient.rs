//! Ingredients: compositions over species, with what a label and a maker need to know.

use serde::{Deserialize, Serialize};

use std::sync::OnceLock;

use super::{
    Family, Fat, FattyAcid, Species,
    tables::{self, IngredientRow, SOURCES},
};

/// What kind of ingredient it is.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
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

/// What was fitted to an ingredient's own published solid-fat curve, for one crystal family.
///
/// Real crystals of a natural fat are less perfect than those of the pure species. The shift moves the family's melting
/// points, the factor scales its enthalpies of fusion (a smaller one dissolves earlier below the melting point).
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Correction {
    /// Of which family.
    pub family: Family,
    /// K, added to the melting points.
    pub shift_k: f64,
    /// Multiplies the enthalpies of fusion.
    pub enthalpy_factor: f64,
    /// Whether its fresh crystals already melt as the settled ones: the curve that it was fitted to was measured half an hour
    /// after chilling, or the fat stays in the form that it sets in.
    pub sets_at_once: bool,
}

/// What an ingredient is made of: species with percent by mass, summing to 100.
pub type Make = Vec<(Species, f64)>;

/// An ingredient of the catalogue.
pub struct Ingredient {
    row: IngredientRow,
    corrections: Vec<Correction>,
    make: OnceLock<Make>,
}

impl Ingredient {
    /// The id that recipes use.
    pub fn id(&self) -> &'static str {
        self.row.id
    }
    /// The plain name.
    pub fn name(&self) -> &'static str {
        self.row.name
    }
    /// The name on a label, by the International Nomenclature of Cosmetic Ingredients.
    pub fn inci(&self) -> &'static str {
        self.row.inci
    }
    /// What kind of ingredient it is.
    pub fn class(&self) -> Class {
        self.row.class
    }
    /// The melting range that suppliers and pharmacopoeias promise, °C.
    pub fn melting_c(&self) -> Option<(f64, f64)> {
        self.row.melting_c
    }
    /// Which melting figure [`Self::melting_c`] is: slip, clear, drop, congealing or melting-range.
    pub fn melting_kind(&self) -> &'static str {
        self.row.melting_kind
    }
    /// Where [`Self::melting_c`] comes from, a key of [`sources`].
    pub fn melting_source(&self) -> &'static str {
        tables::cited(self.row.id).0
    }
    /// Density of the solid, g/mL.
    pub fn density_solid_g_ml(&self) -> Option<f64> {
        self.row.density_solid_g_ml
    }
    /// Density of the liquid, g/mL.
    pub fn density_liquid_g_ml(&self) -> Option<f64> {
        self.row.density_liquid_g_ml
    }
    /// Allergen groups, such as `tree-nut` or `bee`.
    pub fn allergens(&self) -> &[&'static str] {
        &self.row.allergens
    }
    /// The most that the trade uses, percent, where it has a ceiling.
    pub fn use_ceiling_percent(&self) -> Option<f64> {
        self.row.use_ceiling_percent
    }
    /// What else to know.
    pub fn note(&self) -> &'static str {
        self.row.note
    }
    /// Where the make-up comes from, keys of [`sources`].
    pub fn make_sources(&self) -> Vec<&'static str> {
        tables::cited(self.row.id).1.collect()
    }
    /// What was fitted to its own solid-fat curve.
    pub fn corrections(&self) -> &[Correction] {
        &self.corrections
    }
    /// What it is made of; worked out when first asked for.
    pub fn make(&self) -> &Make {
        self.make.get_or_init(|| make(&self.row))
    }
}

fn make(row: &IngredientRow) -> Make {
    let made = row.make();
    match made.rule {
        // The build refuses ids that are not species, so nothing is dropped here.
        None => made
            .parts
            .iter()
            .filter_map(|(id, percent)| Species::find(id).ok().map(|found| (found, *percent)))
            .collect(),
        Some(rule) => Fat {
            rule: rule.rule,
            fatty_acids: made
                .parts
                .iter()
                .map(|(name, percent)| (FattyAcid::named(name).unwrap_or(FattyAcid::OTHER), *percent))
                .collect(),
            non_glyceride_percent: rule.non_glyceride_percent,
            free_acid_percent: rule.free_acid_percent,
            diglyceride_percent: rule.diglyceride_percent,
        }
        .make(),
    }
}

/// Every ingredient, by id.
pub fn catalogue() -> &'static [Ingredient] {
    static CATALOGUE: OnceLock<Vec<Ingredient>> = OnceLock::new();
    CATALOGUE.get_or_init(|| {
        tables::ingredients()
            .into_iter()
            .map(|row| Ingredient { corrections: row.corrections(), row, make: OnceLock::new() })
            .collect()
    })
}

/// The ingredient of this id.
pub fn find(id: &str) -> Option<&'static Ingredient> {
    let catalogue = catalogue();
    catalogue.binary_search_by(|ingredient| ingredient.id().cmp(id)).ok().map(|at| &catalogue[at])
}

/// Where figures come from: key, citation, link (a DOI, or empty).
pub fn sources() -> &'static [(&'static str, &'static str, &'static str)] {
    SOURCES
}
