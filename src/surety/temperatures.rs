//! Where the figures of each lot fall to a level: the bands of slip, clear and softening points.

use super::{
    band::{LotBand, OUTSIDE, RESOLUTION as RESOLUTION_K, range},
    lots::POWERS_PER_LOT,
    normal::NormalTable,
    odds::figure,
    widths::{ByKind, KINDS},
};
use crate::{
    behaviour::{Melting, Quantity, RANGE_C, Solids},
    equilibrium::Sweep,
    roots,
};

/// What of a recipe falls to which level, and where.
#[derive(Clone, Copy)]
pub(super) struct Fall {
    pub(super) quantity: Quantity,
    /// Percent.
    pub(super) level: f64,
    /// Where the make-up on record falls to it, °C.
    pub(super) at_c: f64,
}

/// What crystals are worth as usual.
pub(super) const AS_USUAL: ByKind = [1.0; KINDS];

/// How far from where the make-up on record falls to a level lots are looked for, K, in whole steps.
const REACH_K: i32 = 15;

/// Less than this share of a level counts as so much: below, a curve no longer
/// says how far it is to the level.
const LEAST_SHARE: f64 = 0.02;

/// A band needs no more lots than this.
const MOST_LOTS: usize = 32;

/// Nearer than this, K, the rest of the way is as on the curve of the make-up on record.
const NEAR_K: f64 = 0.5;

/// After so many states a lot is left where it is.
const MOST_STATES: u32 = 4;

/// How the make-up on record falls about a level: °C and the figure there.
pub(super) struct FallCurve {
    level: f64,
    points: Vec<(f64, f64)>,
}

impl FallCurve {
    pub(super) fn of(settled: &mut Melting<'_>, fall: &Fall, powers: &ByKind) -> FallCurve {
        // On the half degrees that a sampled recipe has been solved at already.
        let middle_c = 0.5 * libm::round(2.0 * fall.at_c);
        let point = |step: i32| {
            let at_c = middle_c + f64::from(step);
            (at_c, figure(fall.quantity, &settled.solids(at_c), powers))
        };
        FallCurve { level: fall.level, points: (-REACH_K..=REACH_K).map(point).collect() }
    }

    /// Where the curve has this figure, °C.
    fn at_c(&self, found: f64) -> f64 {
        let found = found.max(LEAST_SHARE * self.level);
        let after = self.points.partition_point(|(_, figure)| *figure >= found);
        let (Some(before), Some(after)) =
            (after.checked_sub(1).and_then(|at| self.points.get(at)), self.points.get(after))
        else {
            return self.points.get(after.min(self.points.len() - 1)).map_or(0.0, |point| point.0);
        };
        before.0 + (before.1 - found) / (before.1 - after.1) * (after.0 - before.0)
    }

    /// How much further a lot must be warmed that has this figure, K, were it to fall
    /// as the make-up on record does.
    pub(super) fn further_k(&self, found: f64) -> f64 {
        self.at_c(self.level) - self.at_c(found)
    }
}

/// Where lots fall to a level of what is solid.
pub(super) struct Sought {
    fall: Fall,
    curve: FallCurve,
    /// Of each lot where it falls to it, °C, and its solids about there.
    found: Vec<(f64, Solids)>,
}

impl Sought {
    /// What is still to be found; `settled` is the recipe as it is on record.
    pub(super) fn of(settled: &mut Melting<'_>, fall: Fall) -> Sought {
        Sought { curve: FallCurve::of(settled, &fall, &AS_USUAL), fall, found: Vec::with_capacity(MOST_LOTS) }
    }

    /// Looks into a lot, the next in its order.
    pub(super) fn look(&mut self, lot: &mut Sweep<'_>) {
        if self.found.len() == MOST_LOTS {
            return;
        }
        let mut at_c = self.fall.at_c;
        let mut solids = Solids::from(&lot.at(at_c));
        for _ in 1..MOST_STATES {
            let further_k = self.curve.further_k(figure(self.fall.quantity, &solids, &AS_USUAL));
            if further_k.abs() < NEAR_K {
                break;
            }
            at_c += further_k;
            solids = Solids::from(&lot.at(at_c));
        }
        self.found.push((at_c, solids));
    }

    /// The band, °C, of what was found, with what the model errs by, K.
    pub(super) fn band(&self, remainder_k: f64) -> LotBand {
        let value = |(at_c, solids): &(f64, Solids)| {
            at_c + self.curve.further_k(figure(self.fall.quantity, solids, &AS_USUAL))
        };
        let values: Vec<f64> = self.found.iter().map(value).collect();
        range(&values, remainder_k)
    }
}

/// Where lots stop holding. At every temperature the share that holds is what the odds would say there:
/// over the same lots, what their crystals are worth, and what the model errs by. What a lot holds at
/// one temperature says little of another where its curve is flat, so each lot is looked at until its
/// own share is known well enough.
pub(super) struct Softening {
    fall: Fall,
    /// What the model errs by, percentage points.
    remainder: f64,
    lots: Vec<Vec<LotAt>>,
}

/// A lot at a temperature.
struct LotAt {
    at_c: f64,
    /// What holds it, with its crystals worth each of their values, percent.
    held: [f64; POWERS_PER_LOT],
    /// The share of it that holds there.
    holds: f64,
}

impl LotAt {
    /// Whether it has anything there that could hold.
    fn is_solid(&self) -> bool {
        self.held.iter().any(|held| *held > 0.0)
    }
}

/// A lot's share is first looked for so far about where the make-up on record softens, K.
const ABOUT_K: f64 = 8.0;

/// Of less than this share of a lot it is not asked where it holds.
const LITTLE: f64 = 0.01;

/// A stretch between two temperatures is left where its length times the share
/// that is lost along it is less, K.
const WELL_ENOUGH_K: f64 = 0.5;

/// A lot is looked at in no more states than this beside those that are known.
const MOST_LOOKS: usize = 10;

impl Softening {
    /// What is still to be found.
    pub(super) fn of(fall: Fall, remainder: f64) -> Softening {
        Softening { fall, remainder, lots: Vec::with_capacity(MOST_LOTS) }
    }

    fn seen(&self, at_c: f64, solids: &Solids, powers: &[ByKind; POWERS_PER_LOT]) -> LotAt {
        let table = NormalTable::get();
        let held = powers.map(|powers| figure(self.fall.quantity, solids, &powers));
        let shares = held.map(|found| table.at((found - self.fall.level) / self.remainder));
        LotAt { at_c, held, holds: shares.iter().sum::<f64>() / POWERS_PER_LOT as f64 }
    }

    /// Looks into a lot, the next in its order, of which some states are known
    /// already, at these temperatures, °C.
    pub(super) fn look(
        &mut self,
        lot: &mut Sweep<'_>,
        known: &[(f64, Solids)],
        powers: &[ByKind; POWERS_PER_LOT],
    ) {
        if self.lots.len() == MOST_LOTS {
            return;
        }
        let mut seen: Vec<LotAt> =
            known.iter().map(|(at_c, solids)| self.seen(*at_c, solids, powers)).collect();
        seen.sort_by(|one, other| one.at_c.total_cmp(&other.at_c));
        seen.dedup_by(|one, other| one.at_c == other.at_c);
        for _ in 0..MOST_LOOKS {
            let Some(at_c) = self.next_c(&seen) else { break };
            let place = seen.partition_point(|known| known.at_c < at_c);
            seen.insert(place, self.seen(at_c, &Solids::from(&lot.at(at_c)), powers));
        }
        self.lots.push(seen);
    }

    /// Where a lot is looked at next: beyond what is known while more than a little of it may soften there,
    /// then within the stretch that says least.
    fn next_c(&self, seen: &[LotAt]) -> Option<f64> {
        let (Some(coldest), Some(hottest)) = (seen.first(), seen.last()) else { return Some(self.fall.at_c) };
        if hottest.holds > LITTLE && hottest.is_solid() && hottest.at_c < RANGE_C.1 {
            return Some((hottest.at_c + ABOUT_K).max(self.fall.at_c).min(RANGE_C.1));
        }
        if coldest.holds < 1.0 - LITTLE && coldest.at_c > RANGE_C.0 {
            return Some((coldest.at_c - ABOUT_K).min(self.fall.at_c).max(RANGE_C.0));
        }
        let unknown = |pair: &[LotAt]| (pair[1].at_c - pair[0].at_c) * (pair[0].holds - pair[1].holds).abs();
        let worst = seen.windows(2).max_by(|one, other| unknown(one).total_cmp(&unknown(other)))?;
        (unknown(worst) > WELL_ENOUGH_K).then(|| 0.5 * (worst[0].at_c + worst[1].at_c))
    }

    /// The band, °C: five lots in a hundred have softened at its low end, and all but five at its high end.
    /// What the model errs by is known in points at a temperature and in kelvins at a level: on a flat curve
    /// the points are wider, as the odds have them, on a steep one the kelvins, and the wider is told. It
    /// ends where the last crystal of any lot has melted.
    pub(super) fn band(&self, remainder_k: f64) -> Option<LotBand> {
        let holds = |at_c: f64| {
            self.lots.iter().map(|seen| between(seen, at_c, |seen| seen.holds)).sum::<f64>()
                / self.lots.len() as f64
        };
        let least_c = self.lots.iter().flatten().map(|seen| seen.at_c).reduce(f64::min)?;
        // The coldest temperature at which a lot is known to be all melted, else the
        // hottest that it was looked at.
        let melted_c = |seen: &Vec<LotAt>| {
            seen.iter().find(|known| !known.is_solid()).or(seen.last()).map(|known| known.at_c)
        };
        let most_c = self.lots.iter().filter_map(melted_c).reduce(f64::max)?;
        let end = |share: f64| roots::bisect((least_c, most_c), RESOLUTION_K, |at_c| holds(at_c) > share);
        let crossings: Vec<f64> = self
            .lots
            .iter()
            .flat_map(|seen| (0..POWERS_PER_LOT).map(|power| self.crossing_c(seen, power)))
            .collect();
        let (low_c, high_c) = range(&crossings, remainder_k);
        Some((end(1.0 - OUTSIDE).min(low_c), end(OUTSIDE).max(high_c).min(most_c)))
    }

    /// Where a lot falls to the level, with its crystals worth one of their values; the coldest that it was
    /// looked at where it has less there.
    fn crossing_c(&self, seen: &[LotAt], power: usize) -> f64 {
        let after = seen.partition_point(|known| known.held[power] > self.fall.level);
        let (Some(before), Some(after)) = (after.checked_sub(1).and_then(|at| seen.get(at)), seen.get(after))
        else {
            return seen.get(after).or(seen.last()).map_or(self.fall.at_c, |known| known.at_c);
        };
        let (above, below) = (before.held[power], after.held[power]);
        before.at_c + (above - self.fall.level) / (above - below) * (after.at_c - before.at_c)
    }
}

/// A figure of a lot between two temperatures that it was looked at, in a straight line.
fn between(seen: &[LotAt], at_c: f64, figure: fn(&LotAt) -> f64) -> f64 {
    let after = seen.partition_point(|known| known.at_c <= at_c);
    match (after.checked_sub(1).and_then(|before| seen.get(before)), seen.get(after)) {
        (Some(before), Some(after)) => {
            let along = (at_c - before.at_c) / (after.at_c - before.at_c);
            figure(before) + along * (figure(after) - figure(before))
        }
        (Some(only), None) | (None, Some(only)) => figure(only),
        (None, None) => 0.0,
    }
}
