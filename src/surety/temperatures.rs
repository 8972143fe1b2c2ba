//! Where the figures of each lot fall to a level: the bands of slip, clear and softening points.

use super::{
    band::{Range, range},
    lots::{Drawn, POWERS_PER_LOT},
    odds::figure,
    widths::{ByKind, KINDS},
};
use crate::{
    behaviour::{Melting, Quantity, Solids},
    equilibrium::Sweep,
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

/// Less than this share of a level counts as so much: below, a curve no longer says how far it is to the level.
const LEAST_SHARE: f64 = 0.02;

/// A band needs no more lots than this.
const MOST_LOTS: usize = 32;

/// Nearer than this, K, the rest of the way is as on the curve of the make-up on record.
const NEAR_K: f64 = 0.5;

/// After so many states a lot is left where it is.
const MOST_STATES: u32 = 4;

/// How the make-up on record falls about a level: °C and the figure there.
pub(super) struct Curve {
    level: f64,
    points: Vec<(f64, f64)>,
}

impl Curve {
    pub(super) fn of(settled: &mut Melting<'_>, fall: &Fall, powers: &ByKind) -> Curve {
        // On the half degrees that a sampled recipe has been solved at already.
        let middle_c = 0.5 * libm::round(2.0 * fall.at_c);
        let point = |step: i32| {
            let at_c = middle_c + f64::from(step);
            (at_c, figure(fall.quantity, &settled.solids(at_c), powers))
        };
        Curve { level: fall.level, points: (-REACH_K..=REACH_K).map(point).collect() }
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

    /// How much further a lot must be warmed that has this figure, K, were it to fall as the make-up on record does.
    pub(super) fn further_k(&self, found: f64) -> f64 {
        self.at_c(self.level) - self.at_c(found)
    }
}

/// Where lots fall to a level.
pub(super) struct Sought {
    fall: Fall,
    curve: Curve,
    /// Of each lot where it falls to it, °C, and its solids about there.
    found: Vec<(f64, Solids)>,
}

impl Sought {
    /// What is still to be found; `settled` is the recipe as it is on record.
    pub(super) fn of(settled: &mut Melting<'_>, fall: Fall) -> Sought {
        Sought { curve: Curve::of(settled, &fall, &AS_USUAL), fall, found: Vec::with_capacity(MOST_LOTS) }
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
    pub(super) fn band(&self, drawn: &Drawn, remainder_k: f64) -> Range {
        let mut values = Vec::with_capacity(self.found.len() * POWERS_PER_LOT);
        for ((at_c, solids), powers) in self.found.iter().zip(&drawn.powers) {
            let value = |powers| at_c + self.curve.further_k(figure(self.fall.quantity, solids, powers));
            match self.fall.quantity {
                Quantity::Structure => values.extend(powers.iter().map(value)),
                // Counted by mass, or as on skin, whatever crystals are worth.
                Quantity::Solid | Quantity::Crystals | Quantity::OnSkin => values.push(value(&AS_USUAL)),
            }
        }
        range(&values, remainder_k)
    }
}
