//! Firmness from structure.

use serde::{Deserialize, Serialize};

use super::{Quantity, Solids};

/// How the butter is sold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Format {
    /// Whipped with air, in a jar.
    Whipped,
    /// Poured in a pot, jar or tin.
    Pot,
    /// A free-standing bar.
    Bar,
    /// A stick in a push-up tube.
    Stick,
}

impl Format {
    /// What keeps its shape, percent: a foam its crystals but wax, all else its structure.
    pub fn held_by(self) -> Quantity {
        match self {
            Format::Whipped => Quantity::Crystals,
            Format::Pot | Format::Bar | Format::Stick => Quantity::Structure,
        }
    }

    /// Whether it is taken out of a jar, so that one may find it too hard in the cold; a bar and a stick
    /// are rubbed on as they are.
    pub fn is_scooped(self) -> bool {
        matches!(self, Format::Whipped | Format::Pot)
    }

    /// The least of it, percent, at which the format keeps its shape. In a jar that is where a butter ceases
    /// to be slack, 12 %: a foam needs at least 10 % crystals to hold its air (oleofoam literature, 10 to
    /// 30 %, from memory, low confidence), oil weeps out of a fat below about 10 % solids and one spreads
    /// well from 15 (margarine practice). Where between these a jar that was firm lets go is common practice,
    /// no source: a master's verdicts (`tests/trade/`) agree best with 11 to 13. The rest is common practice
    /// too: a bar must be all but firm, 32 %, so that one of a fifth of beeswax stands on a table at 30 °C,
    /// where bars of shea butter alone, of shea and cocoa butter, and of cocoa butter with oil do not; a
    /// stick is held by its tube but must not smear, 20 %, where butters begin to scoop.
    pub fn least_percent(self) -> f64 {
        match self {
            Format::Whipped | Format::Pot => SLACK_BELOW,
            Format::Bar => 32.0,
            Format::Stick => 20.0,
        }
    }

    /// Whether it keeps its shape with these solids.
    pub fn holds(self, solids: &Solids) -> bool {
        self.held_by().of(solids) >= self.least_percent()
    }
}

/// How firm a butter is, from liquid to brittle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
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

/// The structure, percent, below which a butter slumps.
const SLACK_BELOW: f64 = 12.0;

/// The classes, softest first, each with the structure, percent, at which it ends. Oil weeps below
/// about 10 % solids, 15 to 35 % spreads, above 50 to 60 % snaps (margarine and chocolate
/// literature); where exactly is ours.
const CLASSES: [(Firmness, f64); 7] = [
    (Firmness::Pourable, 4.0),
    (Firmness::Slack, SLACK_BELOW),
    (Firmness::Soft, 18.0),
    (Firmness::Scoopable, 35.0),
    (Firmness::Firm, 50.0),
    (Firmness::Hard, 65.0),
    (Firmness::Snapping, f64::INFINITY),
];

impl Firmness {
    /// The class that a structure, percent, falls in.
    pub fn of(structure_percent: f64) -> Firmness {
        CLASSES
            .iter()
            .find(|(_, end)| structure_percent < *end)
            .map_or(Firmness::Snapping, |(class, _)| *class)
    }

    /// The structure, percent, at which the class begins and ends.
    pub fn limits(self) -> (f64, f64) {
        let at = self as usize;
        let low = if at == 0 { 0.0 } else { CLASSES[at - 1].1 };
        (low, CLASSES[at].1)
    }

    /// The yield value that Haighton's scale (JAOCS 36:345, 1959; table as reproduced later, from memory)
    /// gives the class of this name, kPa: below 50 g/cm² just pourable, to 100 very soft, to 200 soft, to
    /// 800 plastic and spreadable, to 1500 hard to the limit of spreading, above too hard. `None` where the
    /// scale ends. It ties the words to a measurement; structure does not predict it to better than a
    /// factor of four (see [`super::Solids`]).
    pub fn yield_value_kpa(self) -> (Option<f64>, Option<f64>) {
        let kpa = |g_per_cm2: f64| Some(g_per_cm2 * 0.098_066_5);
        match self {
            Firmness::Pourable => (Some(0.0), kpa(50.0)),
            Firmness::Slack => (kpa(50.0), kpa(100.0)),
            Firmness::Soft => (kpa(100.0), kpa(200.0)),
            Firmness::Scoopable => (kpa(200.0), kpa(800.0)),
            Firmness::Firm => (kpa(800.0), kpa(1500.0)),
            Firmness::Hard => (kpa(1500.0), None),
            Firmness::Snapping => (None, None),
        }
    }

    /// One class softer, or itself at the soft end.
    pub fn softer(self) -> Firmness {
        CLASSES[(self as usize).saturating_sub(1)].0
    }

    /// Whether a butter that is so every day is too soft for a format to keep its shape, but for the firmest
    /// quarter of the class at most: warmth only softens.
    pub fn is_too_soft_for(self, format: Format) -> bool {
        let (low, high) = self.limits();
        format.least_percent() >= high - 0.25 * (high - low)
    }

    /// One class harder, or itself at the hard end.
    pub fn harder(self) -> Firmness {
        CLASSES[(self as usize + 1).min(CLASSES.len() - 1)].0
    }
}
