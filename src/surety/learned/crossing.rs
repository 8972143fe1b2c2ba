//! Where a figure of a pot falls to a level, as a function of what is not known.

use super::{Bench, Pot, seen::Level};
use crate::{
    behaviour::{Melting, Quantity, RANGE_C, Solids},
    equilibrium::{Blend, Lot, Mixture, Part, Sweep},
    recipe::{Line, Recipe},
    surety::{
        Remainder, Width,
        odds::figure,
        temperatures::{AS_USUAL, Fall, FallCurve},
        widths::{ByKind, KINDS, powers},
    },
};

/// Where each unknown stands among all of them: two of each lot, what crystals of each kind are
/// worth, what each thermometer reads wrong, and the remainder of each pot; all of them standard
/// normal before anything is seen.
pub(super) struct Unknown {
    pub(super) widths: Vec<Width>,
    pub(super) powers: ByKind,
    pub(super) thermometers: usize,
    pub(super) pots: usize,
}

impl Unknown {
    pub(super) fn of(bench: &Bench) -> Unknown {
        Unknown {
            widths: bench.lots.iter().map(Width::of).collect(),
            powers: powers(),
            thermometers: bench.thermometers.len(),
            pots: bench.pots.len(),
        }
    }

    pub(super) fn power(&self, kind: usize) -> usize {
        2 * self.widths.len() + kind
    }

    pub(super) fn thermometer(&self, at: usize) -> usize {
        self.power(KINDS) + at
    }

    /// Those of a pot's remainder come last.
    pub(super) fn pot(&self, at: usize) -> usize {
        self.thermometer(self.thermometers) + at
    }

    /// How many there are but for the remainders of pots.
    pub(super) fn shared(&self) -> usize {
        self.pot(0)
    }

    pub(super) fn all(&self) -> usize {
        self.pot(self.pots)
    }

    pub(super) fn lot(&self, lot: usize, z: &[f64]) -> Lot {
        self.widths[lot].lot(z[2 * lot], z[2 * lot + 1])
    }

    /// What crystals of each kind are worth, as factors.
    pub(super) fn worth(&self, z: &[f64]) -> ByKind {
        std::array::from_fn(|kind| libm::exp(self.powers[kind] * z[self.power(kind)]))
    }
}

/// A pot, ready to be mixed of any lots.
pub(super) struct Mixed {
    pub(super) blend: Blend,
    amounts: Vec<f64>,
    lot_of: Vec<usize>,
    pub(super) remainder: Remainder,
}

impl Mixed {
    pub(super) fn of(pot: &Pot, lots: &[Line]) -> Mixed {
        let line = |(lot, percent): &(usize, f64)| {
            let mut line = lots[*lot].clone();
            line.percent = *percent;
            line
        };
        let recipe = Recipe::of_parts(pot.lines.iter().map(line));
        let parts: Vec<Part<'_>> = pot.lines.iter().map(|(lot, _)| lots[*lot].part()).collect();
        Mixed {
            blend: Blend::new(&parts, pot.state),
            amounts: pot.lines.iter().map(|(_, percent)| *percent).collect(),
            lot_of: pot.lines.iter().map(|(lot, _)| *lot).collect(),
            remainder: Remainder::of(&recipe),
        }
    }

    pub(super) fn mixture(&self, unknown: &Unknown, z: &[f64]) -> Mixture {
        let lots: Vec<Lot> = self.lot_of.iter().map(|lot| unknown.lot(*lot, z)).collect();
        self.blend.mixture_of_lots(&self.amounts, &lots)
    }

    /// The lots that are in it, each once.
    pub(super) fn lots(&self) -> Vec<usize> {
        let mut lots = self.lot_of.clone();
        lots.sort_unstable();
        lots.dedup();
        lots
    }
}

/// Where a figure falls to a level, about a centre.
pub(super) struct Crossing {
    quantity: Quantity,
    /// How the figure falls at the centre; `None` where it is below the level even
    /// in the cold, which says nothing.
    curve: Option<FallCurve>,
    /// Where it falls to the level at the centre, °C.
    pub(super) at_c: f64,
    /// By how much that moves for one of each of the shared unknowns, K.
    pub(super) slopes: Vec<f64>,
}

/// Nearer than this, K, the last step of a search suffices.
const NEAR_K: f64 = 0.1;
/// After so many states a search ends where it is.
const MOST_STATES: u32 = 5;
/// The longest step of a search by secants, K.
const MOST_STEP_K: f64 = 10.0;

/// So closely is it found at the centre, K.
const CLOSELY_K: f64 = 1e-3;

/// Slopes are taken over so many standard deviations either way.
const STEP: f64 = 0.7;

impl Crossing {
    /// That of a pot about a centre.
    pub(super) fn of(mixed: &Mixed, level: Level, unknown: &Unknown, centre: &[f64]) -> Crossing {
        let mut slopes = vec![0.0; unknown.shared()];
        let (mixture, worth) = (mixed.mixture(unknown, centre), unknown.worth(centre));
        let mut melting = Melting::of(&mixture);
        let quantity = level.quantity;
        let (percent, found) = match level.percent {
            Some(percent) => (percent, melting.falls_to(percent, CLOSELY_K, quantity.figure())),
            None => {
                let clear_c = melting.clear_c();
                (clear_c.map_or(0.0, |at_c| melting.solids(at_c).fat_percent()), clear_c)
            }
        };
        let Some(usual_c) = found.filter(|_| percent > 0.0) else {
            return Crossing { quantity, curve: None, at_c: RANGE_C.0, slopes };
        };
        let curve = FallCurve::of(&mut melting, &Fall { quantity, level: percent, at_c: usual_c }, &worth);
        let mut sweep = Sweep::new(&mixture);
        let mut at_c = usual_c;
        for _ in 0..8 {
            let further_k = curve.further_k(figure(quantity, &Solids::from(&sweep.at(at_c)), &worth));
            at_c += further_k;
            if further_k.abs() < CLOSELY_K {
                break;
            }
        }
        let solids = Solids::from(&sweep.at(at_c));
        let crossing = Crossing { quantity, curve: Some(curve), at_c, slopes: Vec::new() };
        let mut moved = centre.to_vec();
        for lot in mixed.lots() {
            for at in [2 * lot, 2 * lot + 1] {
                let [less, more] = [-STEP, STEP].map(|step| {
                    moved[at] = centre[at] + step;
                    let mixture = mixed.mixture(unknown, &moved);
                    crossing.found_c(&mut Sweep::beside(&mixture, &sweep), &worth, at_c)
                });
                moved[at] = centre[at];
                slopes[at] = (more - less) / (2.0 * STEP);
            }
        }
        if quantity == Quantity::Structure {
            for kind in 0..KINDS {
                let at = unknown.power(kind);
                let [less, more] = [-STEP, STEP].map(|step| {
                    let mut worth = worth;
                    worth[kind] *= libm::exp(step * unknown.powers[kind]);
                    crossing.further_k(&solids, &worth)
                });
                slopes[at] = (more - less) / (2.0 * STEP);
            }
        }
        Crossing { slopes, ..crossing }
    }

    fn further_k(&self, solids: &Solids, worth: &ByKind) -> f64 {
        let found = match self.quantity {
            Quantity::Structure => figure(self.quantity, solids, worth),
            Quantity::Solid | Quantity::Crystals | Quantity::OnSkin => {
                figure(self.quantity, solids, &AS_USUAL)
            }
        };
        self.curve.as_ref().map_or(0.0, |curve| curve.further_k(found))
    }

    /// Where a mixture falls to the level, °C, looked for from about where it is expected.
    pub(super) fn found_c(&self, sweep: &mut Sweep<'_>, worth: &ByKind, about_c: f64) -> f64 {
        if self.curve.is_none() {
            return self.at_c;
        }
        let mut at_c = about_c.clamp(RANGE_C.0, RANGE_C.1);
        let mut before: Option<(f64, f64)> = None;
        for _ in 0..MOST_STATES {
            let further_k = self.further_k(&Solids::from(&sweep.at(at_c)), worth);
            // By the curve at the centre, what is still missing falls by about a kelvin for each
            // kelvin warmer: a secant finds it.
            let step_k = match before {
                Some((before_c, before_k)) if before_k != further_k => {
                    (-further_k * (at_c - before_c) / (further_k - before_k)).clamp(-MOST_STEP_K, MOST_STEP_K)
                }
                _ => further_k,
            };
            before = Some((at_c, further_k));
            at_c = (at_c + step_k).clamp(RANGE_C.0, RANGE_C.1);
            if further_k.abs() < NEAR_K {
                break;
            }
        }
        at_c
    }

    /// Where it is expected, °C, as a straight line has it.
    pub(super) fn expected_c(&self, centre: &[f64], z: &[f64]) -> f64 {
        let moved = self.slopes.iter().zip(z.iter().zip(centre));
        self.at_c + moved.map(|(slope, (z, centre))| slope * (z - centre)).sum::<f64>()
    }
}
