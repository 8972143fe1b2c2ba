//! What a journey in the heat did to a packed butter, what becomes of it, and what helps.

use serde::Serialize;

use crate::behaviour::{Air, Exposure, Format, Pack};

/// How it came through.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Journey {
    /// With its shape.
    ComesThrough { air: Air, melted_percent: f64 },
    /// With its shape, but its outside softened.
    OutsideSoftens { air: Air, melted_percent: f64, lost_percent: f64 },
    /// It slumps.
    Slumps { air: Air, after_h: f64, melted_percent: f64, lost_percent: f64 },
    /// It is too soft for its format before anything happens.
    TooSoftFromTheStart,
}

/// What becomes of it afterwards.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Afterwards {
    /// It stays as it was.
    Unchanged,
    /// It sets again as it was, but for its skin.
    SmootherSkin,
    /// What melted sets again on the rest, and grains may grow.
    MayGrain,
    /// It never held its shape.
    AsBefore,
    /// It sets again, without its air.
    LosesAir,
    /// All of it melted: it sets again with nothing to seed it.
    SetsUnseeded,
    /// It sets again on what crystals are left.
    SetsCoarse,
    /// It sets again out of shape.
    OutOfShape,
    /// All of it poured, and paper leaks.
    Leaks,
    /// All of it poured, and only a tight lid keeps it in.
    NeedsTightLid,
}

/// What helps.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Advice {
    /// A rework to the storage that it sees first.
    ReworkFirst,
    /// Its outer tenth gets as warm as skin: no butter that melts on skin comes through.
    NoButterComesThrough { rind_c: f64, skin_c: f64 },
    /// A rework that holds so far can come through.
    Rework { rind_c: f64, skin_c: f64, holds_to_c: f64 },
    /// So packed it keeps its shape.
    Pack { packing: Packing },
    /// Even so packed it does not.
    PackingIsNotEnough { packing: Packing, after_h: f64 },
    /// As it is packed, it must be out of the heat in time.
    Hurry { within_h: f64 },
    /// The cool months.
    Season,
    /// A product that does not depend on melting.
    AnotherProduct,
}

/// What is put around a pack.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Packing {
    /// Foam.
    Foam { foam_mm: f64 },
    /// Foam and cold packs.
    FoamAndCold { foam_mm: f64, cold_g: f64 },
}

impl Packing {
    /// So much foam, mm, with so many cold packs, g.
    pub fn of(foam_mm: f64, cold_g: f64) -> Packing {
        if cold_g > 0.0 { Packing::FoamAndCold { foam_mm, cold_g } } else { Packing::Foam { foam_mm } }
    }
}

impl Journey {
    /// How it came through this air.
    pub fn of(exposure: &Exposure, air: Air) -> Journey {
        let (melted_percent, lost_percent) = (exposure.most_melted_percent, exposure.lost_percent);
        match exposure.slumps_at_h {
            None if lost_percent > 0.0 => Journey::OutsideSoftens { air, melted_percent, lost_percent },
            None => Journey::ComesThrough { air, melted_percent },
            Some(after_h) if after_h <= 0.0 => Journey::TooSoftFromTheStart,
            Some(after_h) => Journey::Slumps { air, after_h, melted_percent, lost_percent },
        }
    }
}

/// Share of the solids, percent, at which all counts as melted.
const ALL_PERCENT: f64 = 99.0;

/// Share of the solids that may melt and set again before grains are to be feared, percent: ours.
const REGROWS_PERCENT: f64 = 100.0 / 3.0;

impl Afterwards {
    /// What becomes of it, one after the other.
    pub fn of(exposure: &Exposure, format: Format, pack: Pack) -> Vec<Afterwards> {
        let Some(slumps_at_h) = exposure.slumps_at_h else {
            return vec![if exposure.most_melted_percent >= REGROWS_PERCENT {
                Afterwards::MayGrain
            } else if exposure.lost_percent > 0.0 {
                Afterwards::SmootherSkin
            } else {
                Afterwards::Unchanged
            }];
        };
        if slumps_at_h <= 0.0 {
            return vec![Afterwards::AsBefore];
        }
        let all = exposure.most_melted_percent >= ALL_PERCENT;
        let mut found = vec![match format {
            Format::Whipped => Afterwards::LosesAir,
            Format::Pot | Format::Stick if all => Afterwards::SetsUnseeded,
            Format::Pot | Format::Stick => Afterwards::SetsCoarse,
            Format::Bar => Afterwards::OutOfShape,
        }];
        if exposure.poured {
            found.push(if pack.leaks() { Afterwards::Leaks } else { Afterwards::NeedsTightLid });
        }
        found
    }
}

impl Advice {
    /// What helps a parcel that slumped, best first; `packed` says of each better packing when
    /// it slumps in that, if it does.
    pub fn of(exposure: &Exposure, skin_c: f64, packed: &[(Packing, Option<f64>)]) -> Vec<Advice> {
        let Some(within_h) = exposure.slumps_at_h else { return Vec::new() };
        if within_h <= 0.0 {
            return vec![Advice::ReworkFirst];
        }
        let rind_c = exposure.hottest_rind_c;
        let as_warm_as_skin = rind_c >= skin_c;
        let mut advice = vec![if as_warm_as_skin {
            Advice::NoButterComesThrough { rind_c, skin_c }
        } else {
            Advice::Rework { rind_c, skin_c, holds_to_c: rind_c.ceil() }
        }];
        match (packed.iter().find(|(_, slumps)| slumps.is_none()), packed.last()) {
            (Some((packing, _)), _) => advice.push(Advice::Pack { packing: *packing }),
            (None, Some((packing, Some(after_h)))) => {
                advice.push(Advice::PackingIsNotEnough { packing: *packing, after_h: *after_h });
            }
            _ => {}
        }
        advice.extend([Advice::Hurry { within_h }, Advice::Season]);
        if as_warm_as_skin {
            advice.push(Advice::AnotherProduct);
        }
        advice
    }
}
