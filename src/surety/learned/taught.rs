//! What a lot's looks taught of where it slips, as it may be told.

use serde::Serialize;

use super::{LEAST_NOTICED_K, NINE_IN_TEN};

/// Where a lot slips, °C, and the half of the band that nine in ten lie in, K.
#[derive(Clone, Copy, Debug)]
pub struct Known {
    /// °C.
    pub slip_c: f64,
    /// K.
    pub within_k: f64,
}

/// What was learned of a lot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Taught {
    /// No look at it counts.
    Nothing,
    /// None counts, since they contradict each other.
    Disputed,
    /// It has no slip point of its own.
    NoSlip,
    /// Less than a maker would notice.
    Little,
    /// It slips farther from what is typical than lots ever do: whatever that comes from, it is nothing to go
    /// by.
    TooFar,
    /// It melts as is typical, and that is surer now.
    Typical,
    /// It melts lower than is typical.
    Lower,
    /// It melts higher.
    Higher,
}

/// Lots do not differ by more than so many of their standard deviations: one in 370 would.
const FARTHEST: f64 = 3.0;

/// Where it is as unsure as before, a lot that moved by less than this share of that was not seen to move
/// (ours).
const LITTLE: f64 = 0.1;

/// A lot that slips within a tenth of what is typical melts so, K (ours).
const AS_TYPICAL_K: f64 = 0.05;

impl Taught {
    /// That of so many looks that count, and so many that are disputed.
    pub fn of(counting: usize, disputed: usize, before: Option<Known>, now: Option<Known>) -> Taught {
        if counting == 0 {
            return if disputed > 0 { Taught::Disputed } else { Taught::Nothing };
        }
        let (Some(before), Some(now)) = (before, now) else { return Taught::NoSlip };
        let moved_k = now.slip_c - before.slip_c;
        let surer_k = before.within_k - now.within_k;
        if moved_k.abs() > FARTHEST * before.within_k / NINE_IN_TEN {
            Taught::TooFar
        } else if surer_k < LEAST_NOTICED_K && moved_k.abs() < LITTLE * before.within_k {
            Taught::Little
        } else if moved_k.abs() < AS_TYPICAL_K {
            Taught::Typical
        } else if moved_k < 0.0 {
            Taught::Lower
        } else {
            Taught::Higher
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn taught(before: (f64, f64), now: (f64, f64)) -> Taught {
        let known = |(slip_c, within_k)| Some(Known { slip_c, within_k });
        Taught::of(1, 0, known(before), known(now))
    }

    #[test]
    fn what_nobody_would_notice_is_little() {
        assert_eq!(taught((24.0, 1.2), (24.02, 1.3)), Taught::Little);
        assert_eq!(taught((33.0, 2.5), (33.2, 2.45)), Taught::Little);
        assert_eq!(taught((33.0, 2.5), (33.02, 1.9)), Taught::Typical);
        assert_eq!(taught((33.0, 2.5), (33.2, 2.2)), Taught::Higher);
        assert_eq!(taught((33.0, 2.5), (32.1, 2.5)), Taught::Lower);
        assert_eq!(taught((33.0, 2.5), (34.1, 1.0)), Taught::Higher);
    }

    #[test]
    fn what_lots_never_are_is_too_far() {
        assert_eq!(taught((33.0, 3.3), (41.5, 2.2)), Taught::TooFar);
        assert_eq!(taught((33.0, 3.3), (27.5, 2.2)), Taught::Lower);
    }

    #[test]
    fn what_does_not_count_teaches_nothing() {
        let known = Some(Known { slip_c: 33.0, within_k: 2.0 });
        assert_eq!(Taught::of(0, 0, known, known), Taught::Nothing);
        assert_eq!(Taught::of(0, 3, known, known), Taught::Disputed);
        assert_eq!(Taught::of(1, 0, None, None), Taught::NoSlip);
    }
}
