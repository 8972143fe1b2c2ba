//! The parts that several requests share.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::{ErrorKind, Failure, check::named, ranges::*};
use crate::{
    behaviour::{Firmness, Format, OnSkin, SKIN_C},
    equilibrium::Lot,
    quote::quoted,
    recipe::{self, KnownLot, Line, Own, Recipe},
    substances::{self, Class, Rule},
};

/// One line of a recipe: a catalogue ingredient, or one that brings its own make-up.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS), ts(optional_fields))]
pub struct Item {
    /// The catalogue id; absent for an own ingredient.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// What the maker calls it; for an own ingredient also what locks and changes refer to it by.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Percent by mass of the recipe, 0 to 100.
    pub percent: f64,
    /// The own make-up: percent by mass over species ids, summing to 100.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub composition: Option<BTreeMap<String, f64>>,
    /// Another own make-up: percent by mass over fatty acids (`C16:0`, `palmitic`, .. and `other`), as a
    /// certificate of analysis states them, summing to 100 within 2; the triglycerides follow from `spread`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fatty_acids: Option<BTreeMap<String, f64>>,
    /// With `fatty_acids`: `seed` (saturated acids kept off the middle position; the default but for lauric
    /// fats), `pulp` (partly: palm and other fruit-pulp fats) or `random` (interesterified and lauric fats).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spread: Option<Rule>,
    /// With `fatty_acids`: free fatty acids, percent by mass; 0.3 unless said otherwise.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub free_acid_percent: Option<f64>,
    /// With `fatty_acids`: unsaponifiable matter, percent by mass; 1 unless said otherwise.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unsaponifiable_percent: Option<f64>,
    /// With `fatty_acids`: diglycerides, percent by mass; 1.5 unless said otherwise.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub diglyceride_percent: Option<f64>,
    /// A third own make-up: measured solid fat content, [°C, percent] each, met within 0.5 points.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub solid_points: Option<Vec<(f64, f64)>>,
    /// With an own make-up: the catalogue ingredient whose class and fitted correction this one shares;
    /// without one, whose make-up too.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub like: Option<String>,
    /// The slip point of an own ingredient, °C: all its crystals are moved alike to meet it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub melts_at_c: Option<f64>,
    /// The class of an own ingredient; that of `like`, else `other`, unless said otherwise.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub class: Option<Class>,
    /// What is known of the lot that it is taken from, by what it was seen to do (`learn`); absent: any lot.
    /// A line of 0 % tells the lot of what a rework may add.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lot: Option<ItemLot>,
}

/// What is known of one lot of an ingredient, as the answer to `learn` tells it. How it goes together
/// with other lots is not carried.
#[derive(Clone, Copy, Debug, Default, PartialEq, Deserialize, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct ItemLot {
    /// K by which all its crystals melt higher than on record.
    pub shift_k: f64,
    /// The natural logarithm of how many times as much of it crystallises.
    pub share_log: f64,
    /// What is left unknown of the shift, K, as a standard deviation.
    pub shift_left_k: f64,
    /// What is left unknown of the share, likewise.
    pub share_left_log: f64,
    /// How the two go together in what is left, -1 to 1.
    #[serde(default)]
    pub together: f64,
}

/// What each figure of an [`ItemLot`] may be.
pub(super) const LOT: &[(&str, Range)] = &[
    ("shift_k", LOT_SHIFT_K),
    ("share_log", LOT_SHARE_LOG),
    ("shift_left_k", LOT_SHIFT_LEFT_K),
    ("share_left_log", LOT_SHARE_LEFT_LOG),
    ("together", TOGETHER),
];

impl ItemLot {
    /// Its figures, in the order of [`LOT`].
    fn figures(&self) -> [f64; 5] {
        let ItemLot { shift_k, share_log, shift_left_k, share_left_log, together } = *self;
        [shift_k, share_log, shift_left_k, share_left_log, together]
    }

    /// What is known of the lot; `at` is where it is told.
    pub(super) fn known(&self, at: &str) -> Result<KnownLot, Failure> {
        for (figure, (name, (least, most))) in self.figures().iter().zip(LOT) {
            if !(least..=most).contains(&figure) {
                return Err(Failure::new(
                    ErrorKind::OutOfRange,
                    format!("{at}.{name}"),
                    format!(
                        "a lot cannot differ by {figure} here: give a number from {least} to {most}, as learned"
                    ),
                ));
            }
        }
        Ok(KnownLot {
            lot: Lot { melts_higher_k: self.shift_k, crystallises_log: self.share_log },
            left: Lot { melts_higher_k: self.shift_left_k, crystallises_log: self.share_left_log },
            together: self.together,
        })
    }
}

impl Item {
    /// What its line goes by: the catalogue id; for an own ingredient what the maker calls it.
    pub(super) fn key(&self) -> &str {
        match &self.id {
            Some(id) if self.own().is_empty() => id,
            id => self.name.as_deref().or(id.as_deref()).unwrap_or("own ingredient"),
        }
    }

    fn own(&self) -> Own<'_> {
        Own {
            composition: self.composition.as_ref(),
            fatty_acids: self.fatty_acids.as_ref(),
            spread: self.spread,
            free_acid_percent: self.free_acid_percent,
            unsaponifiable_percent: self.unsaponifiable_percent,
            diglyceride_percent: self.diglyceride_percent,
            solid_points: self.solid_points.as_deref(),
            like: self.like.as_deref(),
            melts_at_c: self.melts_at_c,
            class: self.class,
        }
    }
}

/// The coldest and the hottest that the jar will see, °C.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct StorageC {
    /// °C.
    pub coldest: f64,
    /// °C.
    pub hottest: f64,
}

/// What the maker wants, in every request that judges a recipe.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct WishesRequest {
    /// How it is sold.
    pub format: Format,
    /// Where the jar lives.
    pub storage_c: StorageC,
    /// Skin surface, °C; 32.5 unless said otherwise.
    #[serde(default = "skin_c")]
    pub skin_c: f64,
    /// How firm it should be in the middle of its storage range; absent: no wish.
    pub firmness: Option<Firmness>,
    /// What should happen on skin; absent: no wish.
    pub on_skin: Option<OnSkin>,
}

/// Skin unless said otherwise, °C.
pub(super) fn skin_c() -> f64 {
    SKIN_C
}

/// Reads the items of a request as a recipe.
pub(super) fn recipe(items: &[Item]) -> Result<Recipe, Failure> {
    let lines = items.iter().enumerate().map(|(at, item)| line(item, at)).collect::<Result<_, Failure>>()?;
    let lines: Vec<Line> = lines;
    // A rework takes lines of one name for one ingredient.
    let torn = |at: &usize| {
        let line = &lines[*at];
        lines[..*at].iter().any(|before| before.key == line.key && before.lot != line.lot)
    };
    if let Some(at) = (0..lines.len()).find(torn) {
        return Err(Failure::new(
            ErrorKind::Conflict,
            format!("recipe[{at}].lot"),
            format!(
                "two lines of {} are of different lots: keep one lot, or describe the other as your own ingredient that is like it",
                quoted(&lines[at].key)
            ),
        ));
    }
    Ok(Recipe::new(lines)?)
}

/// Reads one item; `line` is which of the recipe it is.
pub(super) fn line(item: &Item, line: usize) -> Result<Line, Failure> {
    named(item.name.as_deref(), || format!("recipe[{line}].name"))?;
    let any = line_of_any_lot(item, line)?;
    match &item.lot {
        Some(lot) => Ok(any.of_lot(lot.known(&format!("recipe[{line}].lot"))?)),
        None => Ok(any),
    }
}

fn line_of_any_lot(item: &Item, line: usize) -> Result<Line, Failure> {
    let own = item.own();
    match &item.id {
        Some(id) if own.is_empty() => {
            let ingredient = substances::find(id)
                .ok_or_else(|| recipe::unknown_ingredient(id, format!("recipe[{line}].id")))?;
            Ok(Line::of(ingredient, item.percent))
        }
        // An id that says nothing of a make-up is a catalogue ingredient, and those are as they are.
        Some(id) if own.says_no_make() => Err(Failure::new(
            ErrorKind::Conflict,
            format!("recipe[{line}].id"),
            format!(
                "`{id}` is a catalogue ingredient as it is: for your own lot of it, leave its id out, give it a name of its own, and say what it is like"
            ),
        )),
        None if own.is_empty() => Err(Failure::new(
            ErrorKind::Empty,
            format!("recipe[{line}]"),
            format!(
                "line {} of the recipe says neither which ingredient it is nor what it is made of: choose one of the catalogue, or describe your own",
                line + 1
            ),
        )),
        _ => Ok(Line::own(item.key(), item.percent, &own, line)?),
    }
}
