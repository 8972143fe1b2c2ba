//! Ingredients: compositions over species, with what a label and a maker need to know.

use std::sync::{LazyLock, OnceLock};

use super::{
    Class, Correction, Fat, FattyAcid, Make, Species,
    tables::{self, CITED, INGREDIENTS, IngredientRow, MakeUp, SOURCES, Source},
};

/// An ingredient of the catalogue.
pub struct Ingredient {
    row: &'static IngredientRow,
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
        cited(self.row.id).0
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
    /// How often makers use it: 3 every day, 2 usually, 1 rarely. Common practice, no source.
    pub fn commonness(&self) -> u8 {
        self.row.commonness
    }
    /// Where the make-up comes from, keys of [`sources`].
    pub fn make_sources(&self) -> &'static [&'static str] {
        cited(self.row.id).1
    }
    /// What was fitted to its own solid-fat curve.
    pub fn corrections(&self) -> &[Correction] {
        self.row.corrections
    }
    /// What it is made of; worked out when first asked for.
    pub fn make(&self) -> &Make {
        self.make.get_or_init(|| make(self.row))
    }
}

fn make(row: &IngredientRow) -> Make {
    match &row.make_up {
        MakeUp::Species(parts) => scaled(parts)
            // The build refuses what is no species, so that nothing is dropped here.
            .filter_map(|(id, percent)| Some((Species::find(id).ok()?.in_ingredient(row.id), percent)))
            .collect(),
        MakeUp::FattyAcids {
            spread,
            fatty_acids,
            unsaponifiable_percent,
            free_acid_percent,
            diglyceride_percent,
        } => Fat {
            rule: *spread,
            fatty_acids: scaled(fatty_acids)
                .filter_map(|(name, percent)| Some((FattyAcid::named(name)?, percent)))
                .collect(),
            unsaponifiable_percent: *unsaponifiable_percent,
            free_acid_percent: *free_acid_percent,
            diglyceride_percent: *diglyceride_percent,
        }
        .make(),
    }
}

/// Parts that sum to 100 but for rounding, scaled to sum to it.
fn scaled(parts: &[(&'static str, f64)]) -> impl Iterator<Item = (&'static str, f64)> {
    let sum: f64 = parts.iter().map(|(_, percent)| percent).sum();
    parts.iter().map(move |(name, percent)| (*name, percent * (100.0 / sum)))
}

/// Where the figures of an ingredient come from.
fn cited(id: &str) -> (&'static str, &'static [&'static str]) {
    CITED.iter().find(|cited| cited.id == id).map_or(("", &[]), |cited| (cited.melting, cited.make_up))
}

/// Every ingredient, by id.
pub fn catalogue() -> &'static [Ingredient] {
    static CATALOGUE: LazyLock<Vec<Ingredient>> =
        LazyLock::new(|| INGREDIENTS.iter().map(|row| Ingredient { row, make: OnceLock::new() }).collect());
    &CATALOGUE
}

/// What ingredients are called in the trade beside what the catalogue says, in the languages of
/// `data/aliases.csv`: a line for each, in the order of the [`catalogue`], its names parted by semicolons;
/// the last line is water and what is mostly water.
pub(crate) static ALIASES: &str = tables::ALIASES;

/// The ingredient of this id.
pub fn find(id: &str) -> Option<&'static Ingredient> {
    let catalogue = catalogue();
    catalogue.binary_search_by(|ingredient| ingredient.id().cmp(id)).ok().map(|at| &catalogue[at])
}

/// Where figures come from, by key.
pub fn sources() -> &'static [Source] {
    SOURCES
}
