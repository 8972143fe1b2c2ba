//! What to expect of a butter in its first days.

use serde::Serialize;

use crate::behaviour::{Firmness, Fresh, FreshPlace};

/// What to expect, one after the other. How long settling takes depends on the fat and its
/// storage, days to weeks: cocoa butter leaves form IV within days at room temperature (from
/// memory). Kinetics are not modelled.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Settling {
    /// The day after making it is what it stays.
    AtOnce,
    /// It firms up, within its class.
    FirmsALittle { at_c: f64, class: Firmness },
    /// It firms up, from one class to another.
    Firms { at_c: f64, from: Firmness, to: Firmness },
    /// Its slip point rises.
    SlipRises { from_c: f64, to_c: f64 },
    /// Fresh, it does not hold where it will once settled.
    KeepCool { hottest_c: f64 },
    /// It is to be judged once settled.
    JudgeThen,
}

/// What to expect of a fresh butter that settles to this slip point, °C.
pub fn settles(fresh: &Fresh, settled_slip_c: Option<f64>) -> Vec<Settling> {
    if !fresh.firms() {
        return vec![Settling::AtOnce];
    }
    let Fresh { coldest, usual, hottest, .. } = fresh;
    let most = [coldest, usual, hottest]
        .into_iter()
        .fold(usual, |most, place| if place.firms_by_percent > most.firms_by_percent { place } else { most });
    let settled = |place: &FreshPlace| place.structure_percent + place.firms_by_percent;
    let (at_c, from, to) = (most.at_c, most.firmness, Firmness::of(settled(most)));
    let mut found = vec![if from == to {
        Settling::FirmsALittle { at_c, class: to }
    } else {
        Settling::Firms { at_c, from, to }
    }];
    if let Some((from_c, to_c)) = fresh.slip_c.zip(settled_slip_c)
        && to_c - from_c >= SLIP_FELT_K
    {
        found.push(Settling::SlipRises { from_c, to_c });
    }
    found.push(if !hottest.holds && hottest.will_hold {
        Settling::KeepCool { hottest_c: hottest.at_c }
    } else {
        Settling::JudgeThen
    });
    found
}

/// A rise of the slip point worth telling, K: ours.
const SLIP_FELT_K: f64 = 1.0;
