//! A fixed set of lots of a recipe, each solved by the full engine.

use super::{
    normal::quantile,
    sobol::{share, standard},
    widths::{ByKind, KINDS, Remainder, Width, by_kind, powers},
};
use crate::{
    behaviour::Solids,
    equilibrium::{Blend, CrystalState, Lot, Mixture, Part, Sweep},
    recipe::{Line, Recipe},
};

/// How many lots are drawn. A power of two, since the sequence fills space evenly in such.
pub const LOTS: usize = 64;

/// For each lot, so many values of what its crystals are worth are looked at: they cost no equilibrium.
pub(super) const POWERS_PER_LOT: usize = 4;

/// Lots are spread evenly along so many directions at most: more, and each is filled less well.
const MOST_DIRECTIONS: usize = 4;

/// A direction that lies so much within those before, as a share of its length, is none of its own.
const OWN_SHARE: f64 = 0.1;

/// What is not known of a recipe: how the lot of each ingredient differs from the make-up on record, what its
/// crystals are worth, and what the model errs by.
pub struct Unknowns {
    blend: Blend,
    amounts: Vec<f64>,
    /// Of each line, its place among `ingredients`.
    ingredient_of: Vec<usize>,
    /// The ingredients, each once however many lines are of it.
    ingredients: Vec<(u32, Width)>,
    powers: ByKind,
    remainder: Remainder,
}

/// A temperature that lots are looked at.
pub(super) struct Probe {
    /// °C.
    pub(super) celsius: f64,
    /// The figure there that lots are to lie evenly for, if any.
    pub(super) figure: Option<fn(&Solids) -> f64>,
}

/// The lots of a recipe at some temperatures.
pub(super) struct Drawn {
    /// Those of each lot, at each probe.
    pub(super) lots: Vec<Vec<Solids>>,
    /// For each lot, what crystals of each kind are worth, as factors.
    pub(super) powers: Vec<[ByKind; POWERS_PER_LOT]>,
}

/// Looks further into a lot, of which the solids at each probe are known, and what its crystals are worth.
pub(super) type LookFurther<'a> = dyn FnMut(&mut Sweep<'_>, &[Solids], &[ByKind; POWERS_PER_LOT]) + 'a;

impl Unknowns {
    /// Those of a recipe, settled.
    pub fn of(recipe: &Recipe) -> Unknowns {
        let lines = recipe.lines();
        let parts: Vec<Part<'_>> = lines.iter().map(Line::part).collect();
        let mut keys: Vec<&str> = Vec::new();
        let mut ingredients = Vec::new();
        let ingredient_of = lines.iter().map(|line| {
            keys.iter().position(|known| *known == line.key).unwrap_or_else(|| {
                keys.push(&line.key);
                ingredients.push((seed(&line.key), Width::of(line)));
                keys.len() - 1
            })
        });
        Unknowns {
            ingredient_of: ingredient_of.collect(),
            ingredients,
            amounts: lines.iter().map(|line| line.percent).collect(),
            blend: Blend::new(&parts, CrystalState::Settled),
            powers: powers(),
            remainder: Remainder::of(recipe),
        }
    }

    /// What the model errs by beside the lots.
    pub fn remainder(&self) -> Remainder {
        self.remainder
    }

    /// The same with another remainder: what it is set by asks so.
    pub fn with_remainder(self, remainder: Remainder) -> Unknowns {
        Unknowns { remainder, ..self }
    }

    /// The recipe made of lots that lie so many widths off: of each ingredient two numbers, of how high its
    /// crystals melt and of how much crystallises.
    fn mixture(&self, off: &[f64]) -> Mixture {
        let lots: Vec<Lot> = self
            .ingredient_of
            .iter()
            .map(|at| self.ingredients[*at].1.lot(off[2 * at], off[2 * at + 1]))
            .collect();
        self.blend.mixture_of_lots(&self.amounts, &lots)
    }

    /// The solids at each probe; `order` has the probes by temperature.
    fn solids(sweep: &mut Sweep<'_>, probes: &[Probe], order: &[usize]) -> Vec<Solids> {
        let mut solids = vec![Solids::default(); probes.len()];
        for (place, at) in order.iter().enumerate() {
            solids[*at] = Solids::from(&sweep.at(probes[*at].celsius));
            // What has melted in the middle of the storage range is of no more account; further
            // up, lots are looked into again.
            if 2 * place < order.len() {
                sweep.no_colder();
            }
        }
        solids
    }

    /// The fixed set of lots, at these probes: the same for the same recipe wherever and whenever it is
    /// asked, in whatever order its lines stand.
    ///
    /// Each ingredient has numbers of its own, drawn by its name. But what decides is how the figures that
    /// are asked for move: along those few directions lots are spread evenly, and only across them by each
    /// ingredient's own numbers. So 64 lots do what several hundred would.
    ///
    /// `look` is given each lot, to look further into it.
    pub(super) fn drawn(&self, probes: &[Probe], look: &mut LookFurther<'_>) -> Drawn {
        let mut order: Vec<usize> = (0..probes.len()).collect();
        order.sort_by(|a, b| probes[*a].celsius.total_cmp(&probes[*b].celsius));
        let count = 2 * self.ingredients.len();
        let mut off = vec![0.0; count];
        let on_record = self.mixture(&off);
        let mut coldest = Sweep::new(&on_record);
        if let Some(first) = order.first() {
            coldest.at(probes[*first].celsius);
        }
        let centre = Self::solids(&mut Sweep::beside(&on_record, &coldest), probes, &order);
        let mut slopes = vec![vec![0.0; count]; probes.len()];
        for at in 0..count {
            off[at] = 1.0;
            let mixture = self.mixture(&off);
            let moved = Self::solids(&mut Sweep::beside(&mixture, &coldest), probes, &order);
            off[at] = 0.0;
            for (slopes, (probe, (moved, centre))) in
                slopes.iter_mut().zip(probes.iter().zip(moved.iter().zip(&centre)))
            {
                slopes[at] = probe.figure.map_or(0.0, |figure| figure(moved) - figure(centre));
            }
        }
        let directions = directions(slopes);
        let worth = probes.iter().zip(&centre).map(|(_, solids)| by_kind(&solids.worth()));
        let stiffest =
            worth.fold([0.0; KINDS], |sum, worth| std::array::from_fn(|kind| sum[kind] + worth[kind]));
        let along = unit(std::array::from_fn(|kind| stiffest[kind] * self.powers[kind]));
        let (mut lots, mut powers) = (Vec::new(), Vec::new());
        for lot in 0..LOTS as u32 {
            for (numbers, (seed, _)) in off.chunks_exact_mut(2).zip(&self.ingredients) {
                for (dimension, number) in numbers.iter_mut().enumerate() {
                    *number = standard(lot, dimension, *seed);
                }
            }
            for (dimension, direction) in directions.iter().enumerate() {
                let now: f64 = direction.iter().zip(&off).map(|(direction, off)| direction * off).sum();
                let wanted = standard(lot, dimension, EVENLY);
                for (off, direction) in off.iter_mut().zip(direction) {
                    *off += (wanted - now) * direction;
                }
            }
            let mixture = self.mixture(&off);
            let mut sweep = Sweep::beside(&mixture, &coldest);
            let (solids, worth) = (Self::solids(&mut sweep, probes, &order), self.powers_of(lot, &along));
            look(&mut sweep, &solids, &worth);
            lots.push(solids);
            powers.push(worth);
        }
        Drawn { lots, powers }
    }

    /// What crystals of each kind are worth in a lot, as factors: several values, which over all lots lie
    /// evenly along the direction in which this recipe's structure moves most.
    fn powers_of(&self, lot: u32, along: &ByKind) -> [ByKind; POWERS_PER_LOT] {
        let own: ByKind = std::array::from_fn(|kind| standard(lot, 0, POWER_SEED + kind as u32));
        let now: f64 = along.iter().zip(&own).map(|(along, own)| along * own).sum();
        let first = share(lot, MOST_DIRECTIONS, EVENLY);
        std::array::from_fn(|at| {
            let wanted = quantile((at as f64 + first) / POWERS_PER_LOT as f64);
            std::array::from_fn(|kind| {
                libm::exp(self.powers[kind] * (own[kind] + (wanted - now) * along[kind]))
            })
        })
    }
}

/// The seed of the numbers that lie evenly along the directions.
const EVENLY: u32 = 0;

/// The seeds of what crystals are worth begin here, one for each kind; names of
/// ingredients have theirs from [`seed`].
const POWER_SEED: u32 = 1;

/// The seed of an ingredient, from its name: FNV-1a (Fowler, Noll & Vo), 32 bits.
fn seed(key: &str) -> u32 {
    key.bytes().fold(0x811c_9dc5, |seed, byte| (seed ^ u32::from(byte)).wrapping_mul(0x0100_0193))
}

/// The directions of these slopes, each of length 1 and across those before it (Gram and Schmidt).
fn directions(slopes: Vec<Vec<f64>>) -> Vec<Vec<f64>> {
    let length = |of: &[f64]| of.iter().map(|part| part * part).sum::<f64>().sqrt();
    let mut directions: Vec<Vec<f64>> = Vec::new();
    for slope in slopes {
        if directions.len() == MOST_DIRECTIONS {
            break;
        }
        let (before, mut left) = (length(&slope), slope);
        for direction in &directions {
            let along: f64 = direction.iter().zip(&left).map(|(direction, left)| direction * left).sum();
            for (left, direction) in left.iter_mut().zip(direction) {
                *left -= along * direction;
            }
        }
        let after = length(&left);
        if before > 0.0 && after > OWN_SHARE * before {
            directions.push(left.iter().map(|part| part / after).collect());
        }
    }
    directions
}

/// A vector at the length of 1; nothing stays nothing.
fn unit(vector: ByKind) -> ByKind {
    let length = vector.iter().map(|part| part * part).sum::<f64>().sqrt();
    vector.map(|part| if length > 0.0 { part / length } else { 0.0 })
}

/// A lot at random, for the tests of the fixed set.
#[cfg(test)]
pub(super) struct RandomLot {
    /// Its solids at each temperature.
    pub(super) solids: Vec<Solids>,
    /// What its crystals are worth, as factors.
    pub(super) powers: ByKind,
    /// What the model errs by at each temperature, percentage points.
    pub(super) remainders: Vec<f64>,
}

#[cfg(test)]
impl Unknowns {
    /// A lot, drawn with shares between 0 and 1.
    pub(super) fn at_random(&self, at_c: &[f64], share: &mut dyn FnMut() -> f64) -> RandomLot {
        let mut normal = || quantile(share());
        let off: Vec<f64> = (0..2 * self.ingredients.len()).map(|_| normal()).collect();
        let mixture = self.mixture(&off);
        let powers = self.powers.map(|width| libm::exp(width * normal()));
        let remainders = at_c.iter().map(|_| self.remainder.solid_percent * normal()).collect();
        let mut sweep = Sweep::new(&mixture);
        let solids = at_c.iter().map(|at_c| Solids::from(&sweep.at(*at_c))).collect();
        RandomLot { solids, powers, remainders }
    }
}
