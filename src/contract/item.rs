//! The parts that several requests share.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::{
    behaviour::{Firmness, Format, OnSkin},
    failure::{ErrorKind, Failure},
    recipe::{self, Line, Recipe},
    substances,
};

/// One line of a recipe: a catalogue ingredient, or one that brings its own make-up.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Item {
    /// The catalogue id; absent for an ingredient that brings its own `composition`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// What the maker calls it; for an own ingredient also what locks and changes refer to it by.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Percent by mass of the recipe, 0 to 100.
    pub percent: f64,
    /// The own make-up: percent by mass over species ids, summing to 100.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub composition: Option<BTreeMap<String, f64>>,
    /// With `composition`: the catalogue ingredient whose fitted correction this one shares.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub like: Option<String>,
}

/// The coldest and the hottest that the jar will see, °C.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct StorageC {
    /// °C.
    pub coldest: f64,
    /// °C.
    pub hottest: f64,
}

/// What the maker wants, shared by `behave` and `rework`.
#[derive(Clone, Debug, Deserialize)]
pub struct WishesRequest {
    /// How it is sold.
    pub format: Format,
    /// Where the jar lives.
    pub storage_c: StorageC,
    /// Skin surface, °C; 32.5 unless said otherwise.
    #[serde(default = "default_skin_c")]
    pub skin_c: f64,
    /// How firm it should be in the middle of its storage range; absent: no wish.
    #[serde(default)]
    pub firmness: Option<Firmness>,
    /// What should happen on skin; absent: no wish.
    #[serde(default)]
    pub on_skin: Option<OnSkin>,
}

fn default_skin_c() -> f64 {
    crate::behaviour::SKIN_C
}

/// Reads the items of a request as a recipe.
pub(super) fn recipe(items: &[Item]) -> Result<Recipe, Failure> {
    let lines = items
        .iter()
        .enumerate()
        .map(|(at, item)| line(item, &format!("recipe[{at}]")))
        .collect::<Result<_, _>>()?;
    Recipe::new(lines)
}

/// Reads one item; `at` is its place in the request.
pub(super) fn line(item: &Item, at: &str) -> Result<Line, Failure> {
    match (&item.id, &item.composition) {
        (_, Some(composition)) => {
            let name = item.name.as_deref().or(item.id.as_deref()).unwrap_or("own ingredient");
            Line::own(name, item.percent, composition, item.like.as_deref(), at)
        }
        (Some(id), None) => {
            let ingredient =
                substances::find(id).ok_or_else(|| recipe::unknown_ingredient(id, format!("{at}.id")))?;
            Ok(Line::of(ingredient, item.percent))
        }
        (None, None) => Err(Failure::new(
            ErrorKind::Empty,
            at,
            "this line says neither which ingredient it is nor what it is made of: give an `id` or a `composition`",
        )),
    }
}
