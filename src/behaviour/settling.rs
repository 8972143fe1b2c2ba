//! What a butter is like in its first days, while its crystals settle.

use serde::Serialize;

use super::{Firmness, Melting, Solids, Where, Wishes};

/// A fresh butter, chilled hours ago, against the settled one that it becomes.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Fresh {
    /// At the coldest storage.
    pub coldest: FreshPlace,
    /// In the middle of the storage range.
    pub usual: FreshPlace,
    /// At the hottest storage.
    pub hottest: FreshPlace,
    /// On skin.
    pub skin: FreshPlace,
    /// Slip point of the fresh butter, °C; `null` where it is liquid at every temperature considered.
    pub slip_c: Option<f64>,
}

/// A fresh butter at one temperature.
#[derive(Clone, Copy, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct FreshPlace {
    /// °C.
    pub at_c: f64,
    /// Solid fat content, percent by mass.
    pub solid_percent: f64,
    /// Structure, percent.
    pub structure_percent: f64,
    /// The class that the structure falls in.
    pub firmness: Firmness,
    /// By how much structure grows as it settles, percent.
    pub firms_by_percent: f64,
    /// By how much solid fat content grows, percent by mass.
    pub sets_by_percent: f64,
    /// Whether the format keeps its shape while it is fresh.
    pub holds: bool,
    /// Whether it does once settled.
    pub will_hold: bool,
}

/// Less growth of structure or solids than this, percent, is not felt: a third of the narrowest class
/// that a butter is sold in. Ours.
const FELT_PERCENT: f64 = 3.0;

impl Fresh {
    /// Compares the fresh mixture with the settled one, whose solids at each place are given.
    pub fn of(fresh: &mut Melting<'_>, settled: impl Fn(Where) -> Solids, wishes: &Wishes) -> Fresh {
        let mut place = |place: Where| {
            let at_c = wishes.temperature_c(place);
            let solids = fresh.solids(at_c);
            let structure_percent = solids.structure_percent();
            let settled = settled(place);
            FreshPlace {
                at_c,
                solid_percent: solids.fat_percent(),
                structure_percent,
                firmness: Firmness::of(structure_percent),
                firms_by_percent: (settled.structure_percent() - structure_percent).max(0.0),
                sets_by_percent: (settled.fat_percent() - solids.fat_percent()).max(0.0),
                holds: wishes.format.holds(&solids),
                will_hold: wishes.format.holds(&settled),
            }
        };
        let [coldest, usual, hottest, skin] =
            [Where::Coldest, Where::Usual, Where::Hottest, Where::Skin].map(&mut place);
        Fresh { coldest, usual, hottest, skin, slip_c: fresh.slip_c() }
    }

    /// Whether it sets further in its first days, somewhere in storage, by so much that it is felt.
    pub fn firms(&self) -> bool {
        let felt = |it: &&FreshPlace| it.firms_by_percent.max(it.sets_by_percent) >= FELT_PERCENT;
        [&self.coldest, &self.usual, &self.hottest].iter().any(felt)
    }
}
