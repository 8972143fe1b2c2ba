//! What a rework may change.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::{behaviour::Format, recipe::Recipe, rework::Group, substances::Class, surety::Surety};

/// What a rework may change.
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
#[serde(default)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Limits {
    /// The most wax, percent, at most 35; unless said otherwise 3, 25 in a bar and 35 in a stick, or what the
    /// recipe holds where that is more.
    pub wax_percent: Option<f64>,
    /// The most free fatty acid, percent; unless said otherwise 6, or what the
    /// recipe holds where that is more.
    pub fatty_acid_percent: Option<f64>,
    /// The most fatty alcohol, percent; unless said otherwise 6, or what the recipe holds where that is more.
    pub fatty_alcohol_percent: Option<f64>,
    /// The most powder, percent; unless said otherwise 10, or what the recipe holds where that is more.
    pub powder_percent: Option<f64>,
    /// The step of the scale, percent.
    pub step_percent: f64,
    /// The most lines that may change.
    pub changes: u32,
    /// Ingredients, by id or by own name, that stay as they are.
    pub locked: Vec<String>,
    /// Catalogue ids that may be added; absent: none, and on the page its usual ones.
    pub pantry: Option<Vec<String>>,
    /// Bounds, percent, by id or by own name.
    pub bounds: BTreeMap<String, Bounds>,
    /// What may not be in it: an id, a class such as `wax`, or an allergen group such as `bee`, `tree-nut`,
    /// `palm` or `coconut`. What the recipe holds of it must leave.
    pub refuse: Vec<String>,
    /// Actives, by id or by own name: they never move.
    pub actives: Vec<String>,
    /// Whether the butter that leads goes on to: no other butter comes to exceed it, and nothing at all where
    /// nothing does now; true unless said otherwise.
    pub keep_lead: bool,
    /// Whether nothing is raised above what the trade uses of it (`use_ceiling_percent` of
    /// `ingredients`); true unless said otherwise.
    pub use_ceilings: bool,
    /// Prices per kilogram, in any currency, by id or by own name: of proposals that are otherwise alike, the
    /// cheaper one. They count only where every ingredient has one.
    pub prices: BTreeMap<String, f64>,
    /// How surely it is to keep its shape at the hottest storage; `likely` (3
    /// batches in 4) unless said otherwise.
    pub surety: Surety,
    /// The most equilibria that a search may take, from 1,000 on; past it the best so far is told,
    /// and `complete` is false. Unless said otherwise the program stops after 1,000,000, and the
    /// page when its reader stops it.
    pub work: Option<u64>,
}

impl Default for Limits {
    fn default() -> Self {
        Limits {
            wax_percent: None,
            fatty_acid_percent: None,
            fatty_alcohol_percent: None,
            powder_percent: None,
            step_percent: 0.5,
            changes: 3,
            locked: Vec::new(),
            pantry: None,
            bounds: BTreeMap::new(),
            refuse: Vec::new(),
            actives: Vec::new(),
            keep_lead: true,
            use_ceilings: true,
            prices: BTreeMap::new(),
            surety: Surety::default(),
            work: None,
        }
    }
}

/// The most wax unless said otherwise, percent, so that it stays a butter (common practice, no source).
pub(super) const WAX_PERCENT: f64 = 3.0;

/// The most free fatty acid unless said otherwise, percent (common practice, no source).
pub(super) const FATTY_ACID_PERCENT: f64 = 6.0;

/// The most wax unless said otherwise, percent: bars are made with up to a quarter, sticks and lotion bars
/// with a third (common practice, no source).
pub(super) fn usual_wax_percent(format: Format) -> f64 {
    match format {
        Format::Whipped | Format::Pot => WAX_PERCENT,
        Format::Bar => 25.0,
        Format::Stick => 35.0,
    }
}

/// The most fatty alcohol unless said otherwise, percent: the most that the trade uses of cetyl alcohol in a
/// butter (common practice, no source).
pub(super) const FATTY_ALCOHOL_PERCENT: f64 = 6.0;

/// The most powder unless said otherwise, percent: what the trade uses of starch or kaolin; more is a
/// paste (common practice, no source).
pub(super) const POWDER_PERCENT: f64 = 10.0;

/// What stands for a cap that was not set, percent: what is usual, or what the
/// recipe holds where that is more.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct UsualLimits {
    /// The most wax.
    pub wax_percent: f64,
    /// The most free fatty acid.
    pub fatty_acid_percent: f64,
    /// The most fatty alcohol.
    pub fatty_alcohol_percent: f64,
    /// The most powder.
    pub powder_percent: f64,
}

impl UsualLimits {
    /// Those of a recipe.
    pub(super) fn of(recipe: &Recipe, format: Format) -> UsualLimits {
        let most = |group: Group, cap: f64| {
            let held = recipe.lines().iter().filter(|line| group.counts(line)).map(|line| line.percent);
            held.sum::<f64>().max(cap)
        };
        UsualLimits {
            wax_percent: most(Group::Class(Class::Wax), usual_wax_percent(format)),
            fatty_acid_percent: most(Group::Class(Class::FattyAcid), FATTY_ACID_PERCENT),
            fatty_alcohol_percent: most(Group::Class(Class::FattyAlcohol), FATTY_ALCOHOL_PERCENT),
            powder_percent: most(Group::Powder, POWDER_PERCENT),
        }
    }
}

/// The least and the most of one ingredient, percent.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
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
