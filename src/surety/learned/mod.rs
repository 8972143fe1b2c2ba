//! What own lots taught: the same unknowns, narrowed by what was seen of pots.

mod centre;
mod crossing;
mod doubts;
mod matrix;
mod plan;
mod seen;
mod taught;
mod terms;
#[cfg(test)]
mod tests;
mod weighted;

pub use doubts::{Agrees, Because, Doubt};
pub use plan::{Dose, Looked, Plan, Planned, PotCandidate, Series};
pub use seen::{Look, Measured, Pot, Seen};
pub use taught::{Known, Taught};

use self::{
    centre::{Likeliest, Straight},
    crossing::{Crossing, Mixed, Unknown},
    seen::Level,
    terms::Term,
    weighted::Weighted,
};
use crate::{
    equilibrium::Lot,
    recipe::{KnownLot, Line},
};

/// Lots, pots that were made of them, and what was seen.
#[derive(Clone, Default)]
pub struct Bench {
    /// Each lot as a line of 100 %: what it is of, and what is known of it already.
    pub lots: Vec<Line>,
    /// The pots.
    pub pots: Vec<Pot>,
    /// The thermometers.
    pub thermometers: Vec<Measured>,
    /// What was seen.
    pub looks: Vec<Look>,
}

/// What a thermometer reads too high.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bias {
    /// K.
    pub reads_high_k: f64,
    /// What is left unknown of it, K, as a standard deviation.
    pub left_k: f64,
}

/// What was learned.
pub struct Learned {
    /// Of each lot.
    pub lots: Vec<KnownLot>,
    /// Of each thermometer.
    pub thermometers: Vec<Bias>,
    /// How each look agrees with the others.
    pub looks: Vec<Doubt>,
    /// How many of the 512 weighted lots tell something.
    pub effective_lots: f64,
    unknown: Unknown,
    likeliest: Likeliest,
    weighted: Weighted,
}

/// What a maker would not notice of how sure a temperature is, K, nine times in ten (ours): a kitchen
/// thermometer shows tenths and errs by more.
pub const LEAST_NOTICED_K: f64 = 0.1;

/// Nine in ten of what is normal lie within so many standard deviations.
const NINE_IN_TEN: f64 = 1.645;

/// About the centre lines are drawn so often: at first on record, then where the lots were found.
const CENTRES: usize = 2;

/// Fewer weighted lots than this that tell something, and Laplace's step tells more.
const LEAST_WORTH: f64 = 20.0;

impl Bench {
    /// What is learned of the lots.
    pub fn learn(&self) -> Learned {
        let unknown = Unknown::of(self);
        let mixed: Vec<Mixed> = self.pots.iter().map(|pot| Mixed::of(pot, &self.lots)).collect();
        let remainders: Vec<_> = mixed.iter().map(|mixed| mixed.remainder).collect();
        let (mut terms, levels) = Term::all(self, &remainders);
        let crossings_about = |centre: &[f64]| -> Vec<Crossing> {
            let of = |(pot, level): &(usize, Level)| Crossing::of(&mixed[*pot], *level, &unknown, centre);
            levels.iter().map(of).collect()
        };
        let mut centre = vec![0.0; unknown.all()];
        let mut crossings = crossings_about(&centre);
        for _ in 1..CENTRES {
            let straight = Straight::about(&unknown, &terms, &crossings, &centre);
            let doubted = doubts::doubted(self, &straight, &centre);
            centre = straight.likeliest(&|at| terms[at].counts && !doubted.out.contains(&at), &centre).z;
            // A pot's remainder moves no crossing.
            centre[unknown.shared()..].fill(0.0);
            crossings = crossings_about(&centre);
        }
        let straight = Straight::about(&unknown, &terms, &crossings, &centre);
        let doubted = doubts::doubted(self, &straight, &centre);
        let likeliest = straight.likeliest(&|at| terms[at].counts && !doubted.out.contains(&at), &centre);
        let looks = doubts::told(self, &straight, &mixed, &doubted, &likeliest);
        for at in &doubted.out {
            terms[*at].counts = false;
        }
        let of_pots: Vec<(usize, &Crossing)> =
            levels.iter().zip(&crossings).map(|((pot, _), crossing)| (*pot, crossing)).collect();
        let weighted = Weighted::about(&likeliest, &unknown, &mixed, &of_pots, &centre, &terms);
        let effective_lots = weighted.worth();
        let lots = (0..self.lots.len()).map(|lot| self.known(lot, &unknown, &likeliest, &weighted)).collect();
        let thermometers = (0..self.thermometers.len())
            .map(|at| {
                let (reading_k, place) = (self.thermometers[at].reading_k(), unknown.thermometer(at));
                let (mean, left) = narrowed(&likeliest, &weighted, place, place);
                Bias { reads_high_k: reading_k * mean[0], left_k: reading_k * left[0].max(0.0).sqrt() }
            })
            .collect();
        Learned { lots, thermometers, looks, effective_lots, unknown, likeliest, weighted }
    }

    /// What is known of a lot: what was known before, moved and narrowed.
    fn known(&self, lot: usize, unknown: &Unknown, likeliest: &Likeliest, weighted: &Weighted) -> KnownLot {
        let (mean, [of_melts, of_share, of_both]) = narrowed(likeliest, weighted, 2 * lot, 2 * lot + 1);
        let width = unknown.widths[lot];
        let Lot { melts_higher_k, crystallises_log } = width.lot(mean[0], mean[1]);
        let (own, with) = (width.melts_k, width.melts_with_share_k);
        let melts_k =
            (own * own * of_melts + 2.0 * own * with * of_both + with * with * of_share).max(0.0).sqrt();
        let share_log = width.crystallises_log * of_share.max(0.0).sqrt();
        let both = width.crystallises_log * (own * of_both + with * of_share);
        let scale = melts_k * share_log;
        let before = self.lots[lot].lot.unwrap_or_default().lot;
        KnownLot {
            lot: Lot {
                melts_higher_k: before.melts_higher_k + melts_higher_k,
                crystallises_log: before.crystallises_log + crystallises_log,
            },
            left: Lot { melts_higher_k: melts_k, crystallises_log: share_log },
            together: if scale > 0.0 { (both / scale).clamp(-1.0, 1.0) } else { 0.0 },
        }
    }
}

/// The means of two unknowns, and what is left of the first, of the second, and of both together, as
/// variances. Nothing that can be seen widens what is left, since all likelihoods are concave: what is above
/// 1 is the fixed set's own error, and is cut off.
fn narrowed(likeliest: &Likeliest, weighted: &Weighted, one: usize, other: usize) -> ([f64; 2], [f64; 3]) {
    let (mean, [first, second, both]) = narrowed_as_found(likeliest, weighted, one, other);
    let [cut_first, cut_second] = [first, second].map(|found| 1.0 / found.max(1.0).sqrt());
    (mean, [first.min(1.0), second.min(1.0), both * cut_first * cut_second])
}

fn narrowed_as_found(
    likeliest: &Likeliest,
    weighted: &Weighted,
    one: usize,
    other: usize,
) -> ([f64; 2], [f64; 3]) {
    if weighted.worth() < LEAST_WORTH {
        let size = one.max(other) + 1;
        let left = likeliest.curved.inverse(size);
        return (
            [likeliest.z[one], likeliest.z[other]],
            [left[one * size + one], left[other * size + other], left[one * size + other]],
        );
    }
    let mean = [one, other].map(|at| weighted.mean(&|z| z[at]));
    let left = |a: usize, b: usize, of: [f64; 2]| weighted.mean(&|z| (z[a] - of[0]) * (z[b] - of[1]));
    let [first, second] = mean;
    (mean, [left(one, one, [first; 2]), left(other, other, [second; 2]), left(one, other, mean)])
}
