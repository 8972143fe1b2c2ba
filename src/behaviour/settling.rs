//! What a butter is like in its first days, while its crystals settle.

use serde::Serialize;

use super::{Firmness, Melting, Solids, Where, Wishes, regime::degrees};

/// A fresh butter, chilled hours ago, against the settled one that it becomes.
#[derive(Clone, Debug, Serialize)]
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
    /// What to expect, in a sentence or two.
    pub remark: String,
}

/// A fresh butter at one temperature.
#[derive(Clone, Copy, Debug, Serialize)]
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
}

/// Less growth of structure than this, percent, is not felt: a third of the narrowest class that a butter is sold in. Ours.
const FELT_PERCENT: f64 = 3.0;

/// How long settling takes depends on the fat and its storage: cocoa butter leaves form IV within days at room temperature
/// (from memory). Kinetics are not modelled.
const WHEN: &str = "in the first days to weeks";

/// Compares the fresh mixture with the settled one, whose solids at each place are given.
pub fn settling(
    fresh: &mut Melting<'_>,
    settled: impl Fn(Where) -> Solids,
    settled_slip_c: Option<f64>,
    wishes: &Wishes,
) -> Fresh {
    let mut place = |place: Where| {
        let at_c = wishes.temperature_c(place);
        let solids = fresh.solids(at_c);
        let structure_percent = solids.structure_percent();
        FreshPlace {
            at_c,
            solid_percent: solids.fat_percent(),
            structure_percent,
            firmness: Firmness::of(structure_percent),
            firms_by_percent: (settled(place).structure_percent() - structure_percent).max(0.0),
        }
    };
    let [coldest, usual, hottest, skin] =
        [Where::Coldest, Where::Usual, Where::Hottest, Where::Skin].map(&mut place);
    let slip_c = fresh.slip_c();
    Fresh {
        remark: remark(&[coldest, usual, hottest], slip_c, settled_slip_c, wishes),
        coldest,
        usual,
        hottest,
        skin,
        slip_c,
    }
}

impl Fresh {
    /// Whether it firms up enough in its first days, somewhere in storage, to be felt.
    pub fn firms(&self) -> bool {
        [&self.coldest, &self.usual, &self.hottest].iter().any(|place| place.firms_by_percent >= FELT_PERCENT)
    }
}

fn remark(
    storage: &[FreshPlace; 3],
    slip_c: Option<f64>,
    settled_slip_c: Option<f64>,
    wishes: &Wishes,
) -> String {
    let [_, usual, hottest] = storage;
    let most = storage
        .iter()
        .fold(usual, |most, place| if place.firms_by_percent > most.firms_by_percent { place } else { most });
    if most.firms_by_percent < FELT_PERCENT {
        return "It settles at once: what you feel on the day after making is about what stays.".to_owned();
    }
    let settled = |place: &FreshPlace| place.structure_percent + place.firms_by_percent;
    let (from, to) = (most.firmness, Firmness::of(settled(most)));
    let mut remark = format!(
        "It will firm up {WHEN}: by about {:.0} points of structure at {} °C",
        most.firms_by_percent,
        degrees(most.at_c)
    );
    if from == to {
        remark.push_str(", within its class.");
    } else {
        remark.push_str(&format!(
            ", from \u{201c}{}\u{201d} to \u{201c}{}\u{201d}.",
            from.words(),
            to.words()
        ));
    }
    if let Some((fresh_c, settled_c)) = slip_c.zip(settled_slip_c)
        && settled_c - fresh_c >= 1.0
    {
        remark.push_str(&format!(
            " Its slip point rises from {} to {} °C.",
            degrees(fresh_c),
            degrees(settled_c)
        ));
    }
    let holds = wishes.format.least_structure_percent();
    if hottest.structure_percent < holds && settled(hottest) >= holds {
        remark.push_str(&format!(
            " Keep it cool until then: fresh, it does not hold its shape at {} °C.",
            degrees(hottest.at_c)
        ));
    } else {
        remark.push_str(" Judge it then, not on the day.");
    }
    remark
}
