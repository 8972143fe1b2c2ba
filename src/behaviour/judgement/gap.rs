//! The gap between the hottest storage and skin.

use serde::Serialize;

/// A butter should keep its shape to about this far above the hottest storage,
/// K (common practice, no source).
pub const MARGIN_K: f64 = 5.0;

/// How much room a climate leaves for a butter that holds in storage and melts on skin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Gap {
    /// Storage with its usual margin stays below skin.
    Wide,
    /// Storage stays below skin, but not by the usual margin.
    Narrow,
    /// Storage meets or exceeds skin: nothing can hold there and still melt on skin.
    None,
}

impl Gap {
    /// The gap of a climate, temperatures in °C.
    pub fn of(hottest_c: f64, skin_c: f64) -> Gap {
        let room_k = skin_c - hottest_c;
        if room_k <= 0.0 {
            Gap::None
        } else if room_k < MARGIN_K {
            Gap::Narrow
        } else {
            Gap::Wide
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_gap_closes_as_it_gets_hotter() {
        let gaps = [24.0, 27.5, 30.0, 32.4, 32.5, 38.0].map(|hottest_c| Gap::of(hottest_c, 32.5));
        assert_eq!(gaps, [Gap::Wide, Gap::Wide, Gap::Narrow, Gap::Narrow, Gap::None, Gap::None]);
    }
}
