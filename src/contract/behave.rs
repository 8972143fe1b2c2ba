//! `behave`: what a maker notices of a recipe in its climate.

use serde::{Deserialize, Serialize};

use super::Item;
use crate::behaviour::Firmness;

/// `{"ask":"behave"}`; its wishes (`format`, `storage_c`, ..) are read as [`super::WishesRequest`].
#[derive(Clone, Debug, Deserialize)]
pub struct BehaveRequest {
    /// The recipe; percentages sum to 100 within 0.01.
    pub recipe: Vec<Item>,
}

/// The answer to [`BehaveRequest`].
#[derive(Clone, Debug, Serialize)]
pub struct BehaveAnswer {
    /// The verdict, in words.
    pub verdict: Verdict,
    /// What it is like at each of the temperatures that decide.
    pub places: Places,
    /// The wishes that are not met; empty when all are.
    pub misses: Vec<super::Miss>,
    /// Where the jar stops holding its shape, °C: the structure falls to the least that the format needs; `null`
    /// where it never holds.
    pub softening_c: Option<f64>,
    /// Slip point, °C; `null` where the recipe is liquid at every temperature considered.
    pub slip_c: Option<f64>,
    /// Clear point, °C; `null` likewise.
    pub clear_c: Option<f64>,
    /// Solids over temperature.
    pub curve: Curve,
    /// The largest violation of the optimality conditions over every state solved for this answer.
    pub certificate: f64,
}

/// The verdict, in words: a sentence before it is a number.
#[derive(Clone, Debug, Serialize)]
pub struct Verdict {
    /// `good`, `doubtful` or `bad`.
    pub mood: String,
    /// One sentence that says whether the recipe does what is wanted.
    pub sentence: String,
    /// Further sentences: reasons, warnings, what was not checked.
    pub remarks: Vec<String>,
}

/// The recipe at the temperatures that decide.
#[derive(Clone, Debug, Serialize)]
pub struct Places {
    /// The coldest storage.
    pub coldest: Place,
    /// The middle of the storage range.
    pub usual: Place,
    /// The hottest storage.
    pub hottest: Place,
    /// On skin.
    pub skin: Place,
}

/// The recipe at one temperature.
#[derive(Clone, Debug, Serialize)]
pub struct Place {
    /// °C.
    pub at_c: f64,
    /// Solid fat content, percent by mass.
    pub solid_percent: f64,
    /// Structure, percent: solids counted by what they do; a wax crystal counts several times.
    pub structure_percent: f64,
    /// The class that the structure falls in.
    pub firmness: Firmness,
    /// Whether the format keeps its shape here.
    pub holds: bool,
    /// A short phrase for it.
    pub words: String,
}

/// Solids over temperature, column by column.
#[derive(Clone, Debug, Serialize)]
pub struct Curve {
    /// °C, rising.
    pub at_c: Vec<f64>,
    /// Solid fat content, percent by mass.
    pub solid_percent: Vec<f64>,
    /// Structure, percent.
    pub structure_percent: Vec<f64>,
}
