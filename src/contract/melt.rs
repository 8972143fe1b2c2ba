//! `melt`, `liquidus` and `ingredients`.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::{ErrorKind, Failure, Item};

/// `{"ask":"melt"}`: how a recipe melts.
#[derive(Clone, Debug, Deserialize)]
pub struct MeltRequest {
    /// The recipe; percentages sum to 100 within 0.01.
    pub recipe: Vec<Item>,
    /// The temperatures to report solids at, °C.
    #[serde(default)]
    pub at_c: Vec<f64>,
}

/// The answer to [`MeltRequest`].
#[derive(Clone, Debug, Serialize)]
pub struct MeltAnswer {
    /// Solid fat content at each `at_c`, percent by mass.
    pub solid_percent: Vec<f64>,
    /// Slip point, °C; `null` where the recipe is liquid at every temperature considered.
    pub slip_c: Option<f64>,
    /// Clear point, °C; `null` likewise.
    pub clear_c: Option<f64>,
    /// The largest violation of the optimality conditions over every state solved for this answer.
    pub certificate: f64,
}

/// `{"ask":"liquidus"}`: the temperature at which the last crystal of a mixture dissolves.
#[derive(Clone, Debug, Deserialize)]
pub struct LiquidusRequest {
    /// Mole percent by species id, summing to 100.
    pub mole_percent: BTreeMap<String, f64>,
}

/// The answer to [`LiquidusRequest`].
#[derive(Clone, Debug, Serialize)]
pub struct LiquidusAnswer {
    /// °C.
    pub liquidus_c: f64,
}

/// One entry of the answer to `{"ask":"ingredients"}`.
#[derive(Clone, Debug, Serialize)]
pub struct Ingredient {
    /// The id that recipes use.
    pub id: String,
    /// The plain name.
    pub name: String,
    /// The name on a label, by the International Nomenclature of Cosmetic Ingredients.
    pub inci: String,
    /// What kind of ingredient it is.
    pub class: String,
}

pub(super) fn melt(request: MeltRequest) -> Result<MeltAnswer, Failure> {
    let _ = request;
    Err(Failure::new(ErrorKind::Empty, "", "not built yet"))
}
pub(super) fn liquidus(request: LiquidusRequest) -> Result<LiquidusAnswer, Failure> {
    let _ = request;
    Err(Failure::new(ErrorKind::Empty, "", "not built yet"))
}
pub(super) fn ingredients() -> Vec<Ingredient> {
    Vec::new()
}
