//! Where a hardened recipe stops being a butter.

use serde::Serialize;

use crate::behaviour::{Firmness, OnSkin};

/// Why it is no butter any more.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum NoButter {
    /// It snaps at usual storage.
    Snaps,
    /// It stays on skin as a film.
    Film { skin_percent: f64, most_percent: f64 },
    /// It is mostly held by wax.
    Balm { wax_percent: f64, most_percent: f64 },
}

/// Wax up to which it stays a butter, percent: the cap that a rework never passes (common practice, no source).
pub const MOST_WAX_PERCENT: f64 = 10.0;

impl NoButter {
    /// Why a recipe is none, if it is none.
    pub fn of(usual: Firmness, skin_percent: f64, wax_percent: f64) -> Option<NoButter> {
        let (_, most_percent) = OnSkin::Lingers.limits();
        if usual == Firmness::Snapping {
            Some(NoButter::Snaps)
        } else if skin_percent > most_percent {
            Some(NoButter::Film { skin_percent, most_percent })
        } else {
            (wax_percent > MOST_WAX_PERCENT)
                .then_some(NoButter::Balm { wax_percent, most_percent: MOST_WAX_PERCENT })
        }
    }
}
