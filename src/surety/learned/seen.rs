//! What a maker saw of a pot, and how it was measured.

use serde::{Deserialize, Serialize};

use crate::{
    behaviour::{Firmness, Format, OnSkin, Quantity, RUBBED_K, SLIP_SOLID_PERCENT, WEEPS_BELOW_PERCENT},
    equilibrium::CrystalState,
};

/// How a temperature was measured.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Measured {
    /// A kitchen thermometer, ± 1 °C.
    #[default]
    Kitchen,
    /// A probe, ± 0.3 °C.
    Probe,
    /// A guess at the room, ± 2 °C.
    RoomGuess,
}

impl Measured {
    /// What one reading errs by, K, as a standard deviation, where nine in ten lie within the
    /// stated figure; what the thermometer itself reads wrong, each time alike, is of the same
    /// size (common practice, no source).
    pub fn reading_k(self) -> f64 {
        let within_k = match self {
            Measured::Kitchen => 1.0,
            Measured::Probe => 0.3,
            Measured::RoomGuess => 2.0,
        };
        within_k / super::NINE_IN_TEN
    }
}

/// What a maker saw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Seen {
    /// It kept its shape overnight.
    Held,
    /// It did not.
    Slumped,
    /// It had just melted clear.
    Clear,
    /// It slipped in an open tube.
    Slipped,
    /// It was of this class.
    Firmness(Firmness),
    /// Oil lay on top.
    OilOnTop,
    /// On skin there was still a film after a minute.
    Film,
    /// On skin it melted away.
    MeltsAway,
    /// So much of it was solid, percent by mass, as a laboratory measured.
    Solid(f64),
}

/// One look at a pot.
#[derive(Clone, Copy, Debug)]
pub struct Look {
    /// Which pot.
    pub pot: usize,
    /// What was seen.
    pub seen: Seen,
    /// °C, as it was read; of what was seen on skin, that of skin in the open.
    pub at_c: f64,
    /// Which thermometer.
    pub thermometer: usize,
    /// Whether it teaches anything: the maker may leave it out.
    pub counts: bool,
    /// Whether the maker stands by it, whatever the others say.
    pub insisted: bool,
}

/// A pot that is looked at.
#[derive(Clone, Debug)]
pub struct Pot {
    /// Which lot each line is of, and its percentage; they sum to 100.
    pub lines: Vec<(usize, f64)>,
    /// What it is, for whether it held.
    pub format: Format,
    /// Whether it has settled.
    pub state: CrystalState,
}

/// What a look is compared with: where a figure of the pot falls to a level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Level {
    pub(super) quantity: Quantity,
    /// Percent; `None`: that of the clear point.
    pub(super) percent: Option<f64>,
}

/// What a look says of where figures fall to levels.
pub(super) enum Said {
    /// It is here.
    Here(Level),
    /// It is not colder than here, and not hotter.
    Between { no_colder: Option<Level>, no_hotter: Option<Level> },
}

impl Seen {
    pub(super) fn said(self, format: Format) -> Said {
        let level = |quantity, percent| Some(Level { quantity, percent: Some(percent) });
        let between = |no_colder, no_hotter| Said::Between { no_colder, no_hotter };
        let shape = level(format.held_by(), format.least_percent());
        let (_, melts) = OnSkin::Melts.limits();
        match self {
            Seen::Held => between(shape, None),
            Seen::Slumped => between(None, shape),
            Seen::Clear => Said::Here(Level { quantity: Quantity::Solid, percent: None }),
            Seen::Slipped => {
                Said::Here(Level { quantity: Quantity::Solid, percent: Some(SLIP_SOLID_PERCENT) })
            }
            Seen::Firmness(class) => {
                let (low, high) = class.limits();
                let of = |percent: f64| {
                    let is_one = percent > 0.0 && percent.is_finite();
                    if is_one { level(Quantity::Structure, percent) } else { None }
                };
                between(of(low), of(high))
            }
            Seen::OilOnTop => between(None, level(Quantity::Structure, WEEPS_BELOW_PERCENT)),
            Seen::Film => between(level(Quantity::OnSkin, melts), None),
            Seen::MeltsAway => between(None, level(Quantity::OnSkin, melts)),
            Seen::Solid(percent) => Said::Here(Level { quantity: Quantity::Solid, percent: Some(percent) }),
        }
    }

    /// How far apart two makers would call it, K, as a standard deviation: ours.
    pub(super) fn judged_k(self) -> f64 {
        match self {
            Seen::Slipped | Seen::Solid(_) => 0.2,
            Seen::Held | Seen::Slumped | Seen::Clear => 0.5,
            Seen::OilOnTop | Seen::Firmness(_) | Seen::Film | Seen::MeltsAway => 1.0,
        }
    }

    /// How much warmer the butter was than what was read, K.
    pub(super) fn warmer_k(self) -> f64 {
        if matches!(self, Seen::Film | Seen::MeltsAway) { RUBBED_K } else { 0.0 }
    }
}
