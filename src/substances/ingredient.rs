//! Ingredients: compositions over species, with what a label and a maker need to know.

use std::sync::OnceLock;

use serde::Serialize;

use super::{
    Chain, Family, Profile, Species,
    profile::triglycerides,
    tables::{INGREDIENTS, IngredientRow, MakeRow, SOURCES},
};

/// What kind of ingredient it is.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Serialize)]
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
}

/// What an ingredient is made of: species with percent by mass, summing to 100.
pub type Make = Vec<(Species, f64)>;

/// An ingredient of the catalogue.
pub struct Ingredient {
    row: &'static IngredientRow,
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
        self.row.melting_source
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
    pub fn allergens(&self) -> &'static [&'static str] {
        self.row.allergens
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
    pub fn make_sources(&self) -> &'static [&'static str] {
        self.row.sources
    }
    /// What was fitted to its own solid-fat curve.
    pub fn corrections(&self) -> &[Correction] {
        &self.corrections
    }
    /// What it is made of; worked out when first asked for.
    pub fn make(&self) -> &Make {
        self.make.get_or_init(|| make(&self.row.make))
    }
}

fn make(row: &MakeRow) -> Make {
    match row {
        // The build refuses ids that are not species, so nothing is dropped here.
        MakeRow::Species(parts) => parts
            .iter()
            .filter_map(|(id, percent)| Species::find(id).ok().map(|found| (found, *percent)))
            .collect(),
        MakeRow::Profile {
            rule,
            fatty_acids,
            non_glyceride_percent,
            free_acid_percent,
            diglyceride_percent,
        } => {
            let chains: Vec<(Chain, f64)> = fatty_acids
                .iter()
                .filter_map(|(name, percent)| chain(name).map(|chain| (chain, *percent)))
                .collect();
            let named: f64 = fatty_acids.iter().map(|(_, percent)| percent).sum();
            let known: f64 = chains.iter().map(|(_, percent)| percent).sum();
            let free: Make = fatty_acids
                .iter()
                .filter_map(|(name, percent)| {
                    let acid = Species::find(acid(name)?).ok()?;
                    Some((acid, percent * free_acid_percent / named))
                })
                .collect();
            let free_sum: f64 = free.iter().map(|(_, percent)| percent).sum();
            let fat = (100.0 - non_glyceride_percent - diglyceride_percent - free_sum).max(0.0);
            let crystallising = fat * known / named;
            let mut parts: Make = triglycerides(&Profile { rule: *rule, fatty_acids: chains })
                .into_iter()
                .map(|(triglyceride, percent)| {
                    (Species::triglyceride(triglyceride), percent * crystallising / 100.0)
                })
                .collect();
            parts.extend(free);
            let rest = 100.0 - parts.iter().map(|(_, percent)| percent).sum::<f64>();
            if rest > 0.0 {
                parts.extend(Species::find("liquid").ok().map(|liquid| (liquid, rest)));
            }
            parts
        }
    }
}

/// The chain that stands for a fatty acid in triglycerides; `None` for those that keep a fat liquid.
fn chain(fatty_acid: &str) -> Option<Chain> {
    Some(match fatty_acid {
        "C6:0" => Chain::Co,
        "C8:0" => Chain::Cy,
        "C10:0" => Chain::Ca,
        "C12:0" => Chain::La,
        "C14:0" => Chain::M,
        "C16:0" => Chain::P,
        "C18:0" => Chain::S,
        "C20:0" => Chain::A,
        "C22:0" => Chain::B,
        "C24:0" => Chain::Lg,
        // Other monounsaturated chains melt near oleic's, and are few where it matters.
        "C18:1" | "C16:1" | "C20:1" | "C22:1" => Chain::O,
        "C18:1t" => Chain::E,
        "C18:2" => Chain::L,
        "C18:3" => Chain::Ln,
        _ => return None,
    })
}

/// The free acid of that name.
fn acid(fatty_acid: &str) -> Option<&'static str> {
    Some(match fatty_acid {
        "C8:0" => "caprylic-acid",
        "C10:0" => "capric-acid",
        "C12:0" => "lauric-acid",
        "C14:0" => "myristic-acid",
        "C16:0" => "palmitic-acid",
        "C18:0" => "stearic-acid",
        "C20:0" => "arachidic-acid",
        "C22:0" => "behenic-acid",
        "C24:0" => "lignoceric-acid",
        "C18:1" => "oleic-acid",
        "C18:2" => "linoleic-acid",
        "C18:3" => "linolenic-acid",
        _ => return None,
    })
}

/// Every ingredient, by id.
pub fn catalogue() -> &'static [Ingredient] {
    static CATALOGUE: OnceLock<Vec<Ingredient>> = OnceLock::new();
    CATALOGUE.get_or_init(|| {
        INGREDIENTS
            .iter()
            .map(|row| Ingredient {
                row,
                corrections: row
                    .corrections
                    .iter()
                    .filter_map(|correction| {
                        Some(Correction {
                            family: Family::named(correction.family)?,
                            shift_k: correction.shift_k,
                            enthalpy_factor: correction.enthalpy_factor,
                        })
                    })
                    .collect(),
                make: OnceLock::new(),
            })
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
