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

/// A line that a note is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum DoseLine {
    /// Where the format stops keeping its shape.
    Softens,
    /// Where it slips.
    Slip,
    /// Where it is clear.
    Clear,
    /// What is solid at the hottest storage.
    Hottest,
}

/// What a class will ask about a line of a hardener.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum DoseNote {
    /// Why it hardly moves: the hardener itself melts about where the butter gives way, or before.
    MeltsThere { of: DoseLine, alone_c: f64, moves_k: f64 },
    /// Why it falls: likewise, and what it takes the place of stayed solid longer.
    MeltsSooner { of: DoseLine, alone_c: f64 },
    /// Why it does little in a whipped butter: it is a wax, which stiffens, and holds no air.
    HoldsNoAir { of: DoseLine },
    /// Why it falls in a whipped butter: likewise, and what it takes the place of did hold air.
    DisplacesAir { of: DoseLine },
    /// Why it begins flat: up to this dose too little of it is solid there.
    Idle { of: DoseLine, to_percent: f64 },
    /// Why it falls at first, up to this dose: it dissolves, and with it the rest melts sooner.
    Thins { of: DoseLine, to_percent: f64 },
    /// Why it falls at first, up to this dose: it dissolves, and what it takes the place of was solid.
    Displaces { of: DoseLine, to_percent: f64 },
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
    /// What is solid at the hottest storage, percent.
    pub hottest_percent: &'a [f64],
    /// Whether it is a wax in what is held by its other crystals.
    pub holds_no_air: bool,
    /// Whether something else than oil gives way to it.
    pub takes_solids: bool,
    /// Where the hardener alone is clear, °C.
    pub alone_c: Option<f64>,
    /// The hottest storage, °C.
    pub hottest_c: f64,
}

/// A line of a temperature hardly moves where all its doses lie within this, K: two steps of what is shown.
const HARDLY_K: f64 = 1.0;

/// What by itself melts no more than this above where the butter gives way, K, has dissolved in
/// the butter's oil by then: ours.
const NEAR_K: f64 = 9.0;

/// A line is flat where it stays within this of where it begins, K: half of what is shown.
const FLAT_K: f64 = 0.25;

/// The same of a share, percent: half of what is shown.
const FLAT_PERCENT: f64 = 0.5;

/// What begins flat bends where it rises this many times as steeply afterwards: ours.
const BENDS: f64 = 3.0;

impl DoseNote {
    /// What there is to say of these doses, at most once of each line.
    pub fn of(dosed: &Dosed) -> Vec<DoseNote> {
        let hottest: Vec<_> = dosed.hottest_percent.iter().copied().map(Some).collect();
        [
            (DoseLine::Softens, dosed.softens_c, None, FLAT_K),
            (DoseLine::Slip, dosed.slip_c, None, FLAT_K),
            (DoseLine::Clear, dosed.clear_c, None, FLAT_K),
            (DoseLine::Hottest, &hottest, Some(dosed.hottest_c), FLAT_PERCENT),
        ]
        .into_iter()
        .filter_map(|(of, figures, at_c, flat)| note(dosed, of, figures, at_c, flat))
        .collect()
    }
}

/// What there is to say of a line; it is a temperature unless it is of one, °C.
fn note(
    dosed: &Dosed,
    of: DoseLine,
    figures: &[Option<f64>],
    at_c: Option<f64>,
    flat: f64,
) -> Option<DoseNote> {
    let figures: Vec<f64> = figures.iter().map_while(|one| *one).collect();
    let [none, .., last] = figures[..] else { return None };
    let lowest = figures.iter().copied().fold(f64::INFINITY, f64::min);
    let highest = figures.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let falls = last < none - flat && highest <= none + flat;
    if dosed.holds_no_air && of == DoseLine::Softens {
        return Some(if falls { DoseNote::DisplacesAir { of } } else { DoseNote::HoldsNoAir { of } });
    }
    let alone_c = dosed.alone_c?;
    let near = alone_c <= at_c.unwrap_or(lowest) + NEAR_K;
    if near && falls && dosed.takes_solids {
        return Some(DoseNote::MeltsSooner { of, alone_c });
    }
    let moves_k = highest - lowest;
    if near && at_c.is_none() && moves_k <= HARDLY_K {
        return Some(DoseNote::MeltsThere { of, alone_c, moves_k });
    }
    if lowest < none - flat {
        let to_percent = dosed.doses_percent[figures.iter().position(|one| *one == lowest)?];
        return Some(if dosed.takes_solids {
            DoseNote::Displaces { of, to_percent }
        } else {
            DoseNote::Thins { of, to_percent }
        });
    }
    (!near)
        .then(|| idle_to(dosed.doses_percent, &figures, flat))?
        .map(|to_percent| DoseNote::Idle { of, to_percent })
}

/// The dose up to which a line is flat before it bends upwards; `None` where it rises with the first doses,
/// or where no dose raises it.
fn idle_to(doses_percent: &[f64], figures: &[f64], flat: f64) -> Option<f64> {
    let (none, end) = (figures[0], figures.len() - 1);
    let to = figures.iter().take_while(|one| (*one - none).abs() <= flat).count() - 1;
    if to < 2 || to == end {
        return None;
    }
    let slope =
        |from: usize, to: usize| (figures[to] - figures[from]) / (doses_percent[to] - doses_percent[from]);
    (slope(to, end) >= BENDS * slope(0, to).abs() && slope(to, end) > 0.0).then(|| doses_percent[to])
}

#[cfg(test)]
mod tests {
    use super::*;

    const DOSES: [f64; 6] = [0.0, 2.0, 4.0, 6.0, 8.0, 10.0];
    const LEVEL: [Option<f64>; 6] = [Some(30.0); 6];

    fn softens(figures: [f64; 6], alone_c: f64, takes_solids: bool, holds_no_air: bool) -> Vec<DoseNote> {
        DoseNote::of(&Dosed {
            doses_percent: &DOSES,
            softens_c: &figures.map(Some),
            slip_c: &[None; 6],
            clear_c: &[None; 6],
            hottest_percent: &[0.0; 6],
            holds_no_air,
            takes_solids,
            alone_c: Some(alone_c),
            hottest_c: 30.0,
        })
    }

    /// What is said to be flat is flat, and of what falls it is said why.
    #[test]
    fn a_note_says_what_its_line_does() {
        let of = DoseLine::Softens;
        let bends = [30.0, 29.9, 30.0, 30.2, 32.0, 34.0];
        assert_eq!(softens(bends, 60.0, false, false), [DoseNote::Idle { of, to_percent: 6.0 }]);
        let dips = [30.0, 29.5, 29.2, 30.2, 32.0, 34.0];
        assert_eq!(softens(dips, 60.0, false, false), [DoseNote::Thins { of, to_percent: 4.0 }]);
        assert_eq!(softens(dips, 60.0, true, false), [DoseNote::Displaces { of, to_percent: 4.0 }]);
        // It rises evenly: nothing to say.
        let rises = [30.0, 30.1, 30.2, 30.3, 30.4, 30.5];
        assert_eq!(softens(rises, 60.0, false, false), []);
        let falls = [30.0, 29.8, 29.6, 29.4, 29.2, 29.0];
        assert_eq!(softens(falls, 34.0, true, false), [DoseNote::MeltsSooner { of, alone_c: 34.0 }]);
        assert!(matches!(softens(rises, 34.0, false, false)[..], [DoseNote::MeltsThere { .. }]));
        assert_eq!(softens(falls, 60.0, true, true), [DoseNote::DisplacesAir { of }]);
        assert_eq!(softens(rises, 60.0, true, true), [DoseNote::HoldsNoAir { of }]);
    }

    /// Each line has a note of its own, or none.
    #[test]
    fn a_line_that_never_moves_has_a_reason_only_where_it_melts_there() {
        let told = DoseNote::of(&Dosed {
            doses_percent: &DOSES,
            softens_c: &LEVEL,
            slip_c: &[None; 6],
            clear_c: &LEVEL,
            hottest_percent: &[5.0, 4.0, 3.0, 4.0, 6.0, 9.0],
            holds_no_air: false,
            takes_solids: false,
            alone_c: Some(60.0),
            hottest_c: 30.0,
        });
        assert_eq!(told, [DoseNote::Thins { of: DoseLine::Hottest, to_percent: 4.0 }]);
    }
}
