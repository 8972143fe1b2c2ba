//! What a maker says of lots, of pots made of them, and of what was seen of those.

use serde::{Deserialize, Serialize};

use crate::{
    behaviour::{Firmness, Format},
    contract::ItemLot,
    surety::learned::Measured,
};

/// A lot that the maker has.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LotRequest {
    /// What the maker calls it.
    pub name: String,
    /// The catalogue id of what it is a lot of.
    pub id: String,
    /// What is known of it already, as from a link; absent: nothing.
    pub lot: Option<ItemLot>,
}

/// A line of a pot: of one of the lots, or of a catalogue ingredient of which no lot is named. All pots are
/// then taken to have it from one jar.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS), ts(optional_fields))]
pub struct PotLine {
    /// The name of a lot.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lot: Option<String>,
    /// Or else a catalogue id.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// Percent by mass.
    pub percent: f64,
}

/// What was seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum SeenSign {
    /// It kept its shape overnight.
    Held,
    /// It did not.
    Slumped,
    /// It had just melted clear.
    Clear,
    /// It slipped in an open tube.
    Slipped,
    /// It was of the class `firmness`.
    Firmness,
    /// Oil lay on top.
    OilOnTop,
    /// On skin there was still a film after a minute.
    Film,
    /// On skin it melted away.
    MeltsAway,
    /// A laboratory found `solid_percent` solid.
    Solid,
}

/// What was seen of a pot.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Observation {
    /// What the pot is made of, summing to 100: one lot alone, or a blend.
    pub recipe: Vec<PotLine>,
    /// What the pot is called; looks at pots of one name are looks at one pot. Absent: pots of one recipe are
    /// one.
    pub pot: Option<String>,
    /// What it is; a pot unless said otherwise.
    #[serde(default = "pot_format")]
    pub format: Format,
    /// What was seen.
    pub seen: SeenSign,
    /// With `seen` `firmness`: the class.
    pub firmness: Option<Firmness>,
    /// With `seen` `solid`: percent by mass.
    pub solid_percent: Option<f64>,
    /// °C, as it was read; on skin that of skin in the open, 32.5 unless said otherwise.
    pub at_c: Option<f64>,
    /// How many days after making; below 2 it counts as fresh, and absent as settled.
    pub after_days: Option<f64>,
    /// How the temperature was measured; with a kitchen thermometer unless said otherwise.
    #[serde(default)]
    pub measured: Measured,
    /// Which thermometer of that kind; all without a name are one.
    pub thermometer: Option<String>,
    /// Whether the maker leaves it out.
    #[serde(default)]
    pub left_out: bool,
    /// Whether the maker stands by it, whatever the others say.
    #[serde(default)]
    pub insist: bool,
}

pub(super) fn pot_format() -> Format {
    Format::Pot
}
