//! The room between the hottest storage and skin.

use serde::Serialize;

/// A butter should keep its shape to about this far above the hottest storage, K (common practice, no source).
pub const MARGIN_K: f64 = 5.0;

/// How much room there is for a butter that holds in storage and melts on skin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Regime {
    /// Storage with its usual margin stays below skin.
    Open,
    /// Storage stays below skin, but not by the usual margin.
    Closing,
    /// Storage meets or exceeds skin: nothing can hold there and still melt on skin.
    Closed,
}

impl Regime {
    /// The regime of a climate, temperatures in °C.
    pub fn of(hottest_c: f64, skin_c: f64) -> Regime {
        let room_k = skin_c - hottest_c;
        if room_k <= 0.0 {
            Regime::Closed
        } else if room_k < MARGIN_K {
            Regime::Closing
        } else {
            Regime::Open
        }
    }

    /// What it means, in a sentence; nothing where there is nothing to warn of.
    pub fn words(self, hottest_c: f64, skin_c: f64) -> Option<String> {
        let (hottest, skin) = (degrees(hottest_c), degrees(skin_c));
        match self {
            Regime::Open => None,
            Regime::Closing => Some(format!(
                "Your hottest storage, {hottest} °C, is only {} °C below skin: a butter should hold about {MARGIN_K:.0} °C above its storage, so what holds with that to spare will melt slowly on skin.",
                degrees(skin_c - hottest_c)
            )),
            Regime::Closed => Some(format!(
                "Your hottest storage, {hottest} °C, is as warm as skin ({skin} °C) or warmer, so a butter that stays solid there cannot melt on skin. What can still be had: shape in the heat, an easy scoop in the cool hours, and as little waxiness as that allows. This is outside what was checked: make trial batches."
            )),
        }
    }
}

/// Degrees for a sentence: to half a degree, without a needless zero.
pub fn degrees(celsius: f64) -> String {
    let half = (2.0 * celsius).round() / 2.0;
    if half == half.trunc() { format!("{half:.0}") } else { format!("{half:.1}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn room_closes_and_is_said() {
        assert_eq!(Regime::of(24.0, 32.5), Regime::Open);
        assert_eq!(Regime::of(27.5, 32.5), Regime::Open);
        assert_eq!(Regime::of(30.0, 32.5), Regime::Closing);
        assert_eq!(Regime::of(32.5, 32.5), Regime::Closed);
        assert_eq!(Regime::Open.words(20.0, 32.5), None);
        assert!(Regime::Closing.words(30.0, 32.5).unwrap().contains("2.5 °C below skin"));
        assert!(Regime::Closed.words(38.0, 32.5).unwrap().contains("trial batches"));
    }
}
