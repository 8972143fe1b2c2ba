//! Where a hardened recipe stops being a butter, and why some doses do nothing.

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

/// Wax up to which it stays a butter, percent: the cap that a rework never
/// passes (common practice, no source).
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

/// What a class will ask about the line of a hardener.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum DoseNote {
    /// Why it is flat: the hardener itself melts about where the butter gives way.
    MeltsThere { alone_c: f64, moves_k: f64 },
    /// Why it does little in a whipped butter: it is a wax, which stiffens, and holds no air.
    HoldsNoAir,
    /// Why it begins idle: up to this dose the warm butter dissolves it.
    Dissolves { to_percent: f64, at_c: f64 },
    /// Why the clear point begins flat: up to this dose too little of it is solid where the butter is clear.
    ClearsAsBefore { to_percent: f64, at_c: f64 },
    /// Why the slip point begins flat: up to this dose too little of it is solid where the butter slips.
    SlipsAsBefore { to_percent: f64, at_c: f64 },
}

/// What the doses of a hardener do, column by column.
pub struct Dosed<'a> {
    /// Percent, rising.
    pub doses_percent: &'a [f64],
    /// Where the format stops keeping its shape, °C.
    pub softens_c: &'a [Option<f64>],
    /// Where it slips, °C.
    pub slip_c: &'a [Option<f64>],
    /// Where it is clear, °C.
    pub clear_c: &'a [Option<f64>],
    /// Of what keeps the shape, at the hottest storage, percent.
    pub holds_percent: &'a [f64],
    /// Whether it is a wax in what is held by its other crystals.
    pub holds_no_air: bool,
    /// Where the hardener alone is clear, °C.
    pub alone_c: Option<f64>,
    /// The hottest storage, °C.
    pub hottest_c: f64,
}

/// A line is called flat where it moves no more than this over all its doses, K: two steps of what is shown.
const FLAT_K: f64 = 1.5;

/// What by itself melts no more than this above where the butter gives way, K, has dissolved in
/// the butter's oil by then: ours.
const NEAR_K: f64 = 9.0;

/// A dose that adds less than this to what holds a warm jar is idle, percent: ours,
/// less than is seen on the picture.
const IDLE_PERCENT: f64 = 0.5;

/// A dose that raises a melting point by less than this is idle, K: as closely as one is shown.
const IDLE_K: f64 = 0.5;

impl DoseNote {
    /// What there is to say of these doses; each has a figure.
    pub fn of(dosed: &Dosed) -> Vec<DoseNote> {
        let Some(alone_c) = dosed.alone_c else { return Vec::new() };
        if dosed.holds_no_air {
            return vec![DoseNote::HoldsNoAir];
        }
        let softens_c: Option<Vec<f64>> = dosed.softens_c.iter().copied().collect();
        if let Some(softens_c) = softens_c.filter(|all| all.len() > 1) {
            let lowest_c = softens_c.iter().copied().fold(f64::INFINITY, f64::min);
            let highest_c = softens_c.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            let moves_k = highest_c - lowest_c;
            if moves_k <= FLAT_K && alone_c < lowest_c + NEAR_K {
                return vec![DoseNote::MeltsThere { alone_c, moves_k }];
            }
        }
        let holds: Vec<_> = dosed.holds_percent.iter().copied().map(Some).collect();
        let (doses, hottest_c) = (dosed.doses_percent, dosed.hottest_c);
        let mut notes = Vec::new();
        if alone_c > hottest_c + NEAR_K {
            let idle = idle_to(doses, &holds, IDLE_PERCENT);
            notes.extend(idle.map(|to_percent| DoseNote::Dissolves { to_percent, at_c: hottest_c }));
        }
        let point = |points_c: &[Option<f64>]| {
            let at_c = points_c.first().copied().flatten().filter(|at_c| alone_c > at_c + NEAR_K)?;
            Some((idle_to(doses, points_c, IDLE_K)?, at_c))
        };
        notes.extend(
            point(dosed.clear_c).map(|(to_percent, at_c)| DoseNote::ClearsAsBefore { to_percent, at_c }),
        );
        notes.extend(
            point(dosed.slip_c).map(|(to_percent, at_c)| DoseNote::SlipsAsBefore { to_percent, at_c }),
        );
        notes
    }
}

/// The dose up to which a figure rises by less than `least` over what it is without any; `None` where it
/// rises with the first doses, or where no dose raises it.
fn idle_to(doses_percent: &[f64], figures: &[Option<f64>], least: f64) -> Option<f64> {
    let none = figures.first().copied().flatten()?;
    let last = figures.iter().take_while(|one| one.is_some_and(|one| one < none + least)).count() - 1;
    (last > 1 && last + 1 < figures.len()).then(|| doses_percent[last])
}
