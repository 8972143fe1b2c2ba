//! The parts that several requests share.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

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

/// How the butter is sold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Format {
    /// Whipped with air, in a jar.
    Whipped,
    /// Poured in a pot, jar or tin.
    Pot,
    /// A free-standing bar, or a stick in a tube.
    Bar,
}

/// How firm a butter is, from liquid to brittle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Firmness {
    /// Flows like an oil.
    Pourable,
    /// Slumps; oil weeps out of it.
    Slack,
    /// Holds a peak, spreads at a touch.
    Soft,
    /// Scoops and spreads.
    Scoopable,
    /// Needs pressing to take some out.
    Firm,
    /// Must be scraped or rubbed.
    Hard,
    /// Snaps.
    Snapping,
}

/// What should happen on skin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum OnSkin {
    /// Melts away: next to nothing solid is left.
    Melts,
    /// Melts slowly and leaves some body.
    Lingers,
    /// Stays as a protective film.
    Stays,
}
