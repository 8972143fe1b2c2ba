//! `rework`: the smallest change of a recipe that meets the wishes.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::Item;

/// `{"ask":"rework"}`; its wishes (`format`, `storage_c`, ..) are read as [`super::WishesRequest`].
#[derive(Clone, Debug, Deserialize)]
pub struct ReworkRequest {
    /// The recipe as it is; percentages sum to 100 within 0.01.
    pub recipe: Vec<Item>,
    /// What may be changed.
    #[serde(default)]
    pub limits: Limits,
}

/// What a rework may change.
#[derive(Clone, Debug, Deserialize)]
#[serde(default)]
pub struct Limits {
    /// The most wax, percent; at most 10, so that it stays a butter.
    pub wax_percent: f64,
    /// The most free fatty acid, percent.
    pub fatty_acid_percent: f64,
    /// The step of the scale, percent.
    pub step_percent: f64,
    /// The most lines that may change.
    pub changes: usize,
    /// Ingredients, by id or by own name, that stay as they are.
    pub locked: Vec<String>,
    /// Catalogue ids that may be added.
    pub pantry: Vec<String>,
    /// Bounds, percent, by id or by own name.
    pub bounds: BTreeMap<String, Bounds>,
}

impl Default for Limits {
    fn default() -> Self {
        Limits {
            wax_percent: 3.0,
            fatty_acid_percent: 6.0,
            step_percent: 0.5,
            changes: 3,
            locked: Vec::new(),
            pantry: Vec::new(),
            bounds: BTreeMap::new(),
        }
    }
}

/// The least and the most of one ingredient, percent.
#[derive(Clone, Copy, Debug, Deserialize, Serialize)]
pub struct Bounds {
    /// The least.
    #[serde(default)]
    pub min: f64,
    /// The most.
    #[serde(default = "hundred")]
    pub max: f64,
}

fn hundred() -> f64 {
    100.0
}

/// The answer to [`ReworkRequest`].
#[derive(Clone, Debug, Serialize)]
pub struct ReworkAnswer {
    /// The best first; each differs in kind from the others.
    pub proposals: Vec<Proposal>,
    /// How many recipes were examined.
    pub examined: u64,
}

/// One rework.
#[derive(Clone, Debug, Serialize)]
pub struct Proposal {
    /// The new recipe.
    pub recipe: Vec<Item>,
    /// What differs from the old one; empty when nothing needs to change.
    pub changes: Vec<Change>,
    /// Whether every wish is met.
    pub meets_all: bool,
    /// The wishes that are not met, and by how much.
    pub misses: Vec<Miss>,
    /// Slip point, °C.
    pub slip_c: Option<f64>,
    /// Clear point, °C.
    pub clear_c: Option<f64>,
    /// Solid fat content where it matters, percent by mass.
    pub solid_percent: SolidAt,
    /// What it does and why, in a sentence.
    pub words: String,
}

/// One line that changes.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Change {
    /// The catalogue id, or the own name.
    pub id: String,
    /// Percent before; 0 for a newcomer.
    pub from_percent: f64,
    /// Percent after; 0 for one that leaves.
    pub to_percent: f64,
}

/// A wish that is not met.
#[derive(Clone, Debug, Serialize)]
pub struct Miss {
    /// Which wish, such as `firm-enough-at-hottest`.
    pub wish: String,
    /// What the recipe gives.
    pub found: f64,
    /// The least that would do, where there is one.
    pub low: Option<f64>,
    /// The most that would do, where there is one.
    pub high: Option<f64>,
    /// The same in a sentence.
    pub words: String,
}

/// Solid fat content where it matters, percent by mass.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct SolidAt {
    /// At the coldest storage.
    pub coldest: f64,
    /// In the middle of the storage range.
    pub usual: f64,
    /// At the hottest storage.
    pub hottest: f64,
    /// At skin temperature.
    pub skin: f64,
}
