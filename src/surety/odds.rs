//! How likely wishes are met.

use std::collections::BTreeMap;

use serde::Serialize;

use super::{
    lots::{Drawn, POWERS_PER_LOT},
    normal::NormalTable,
    widths::{ByKind, by_kind},
};
use crate::behaviour::{Band, Quantity, Solids, Where, Wish};

/// How likely it is that a batch does what is wanted, if lots vary as published; each from 0 to 1.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Odds {
    /// That it keeps its shape at the hottest storage.
    pub holds: f64,
    /// That every wish is met at once.
    pub all: f64,
    /// That each wish is met, by its name.
    pub wishes: BTreeMap<Wish, f64>,
}

/// What is wanted at one place, and which probe is there.
pub(super) struct Wanted<'a> {
    pub(super) probe: usize,
    pub(super) bands: Vec<&'a Band>,
}

/// The bands, place by place.
pub(super) fn wanted<'a>(bands: &'a [Band], probe: impl Fn(Where) -> usize) -> Vec<Wanted<'a>> {
    let mut wanted: Vec<Wanted<'a>> = Vec::new();
    for band in bands {
        let probe = probe(band.place);
        match wanted.iter_mut().find(|known| known.probe == probe) {
            Some(known) => known.bands.push(band),
            None => wanted.push(Wanted { probe, bands: vec![band] }),
        }
    }
    wanted
}

/// The figure that a band is on, of solids whose crystals are worth so many times as much as usual.
pub(super) fn figure(quantity: Quantity, solids: &Solids, powers: &ByKind) -> f64 {
    match quantity {
        Quantity::Structure => {
            let worth = by_kind(&solids.worth());
            worth.iter().zip(powers).map(|(worth, power)| worth * power).sum::<f64>().min(100.0)
        }
        Quantity::Solid | Quantity::Crystals | Quantity::OnSkin => quantity.of(solids),
    }
}

/// The remainders that keep a figure within a band.
pub(super) fn room(band: &Band, found: f64) -> (f64, f64) {
    let low = if band.low > 0.0 { band.low - found } else { f64::NEG_INFINITY };
    let high = if band.high < 100.0 { band.high - found } else { f64::INFINITY };
    (low, high)
}

/// The odds of these lots. What the model errs by at a place, `remainder` percentage points, is
/// one number there and independent of the other places; over it and over what crystals are
/// worth is integrated, not drawn.
pub(super) fn odds(drawn: &Drawn, wanted: &[Wanted<'_>], remainder: f64) -> Odds {
    let below = NormalTable::get();
    let within = |(low, high): (f64, f64)| (below.at(high / remainder) - below.at(low / remainder)).max(0.0);
    let mut odds = Odds::default();
    let share = 1.0 / (drawn.lots.len() * POWERS_PER_LOT) as f64;
    for (lot, powers) in drawn.lots.iter().zip(&drawn.powers) {
        for powers in powers {
            let mut all = share;
            for place in wanted {
                let mut together = (f64::NEG_INFINITY, f64::INFINITY);
                for band in &place.bands {
                    let room = room(band, figure(band.quantity, &lot[place.probe], powers));
                    *odds.wishes.entry(band.wish).or_default() += share * within(room);
                    together = (together.0.max(room.0), together.1.min(room.1));
                }
                all *= within(together);
            }
            odds.all += all;
        }
    }
    odds.holds = odds.wishes.get(&Wish::HoldsAtHottest).copied().unwrap_or_default();
    odds
}
