//! What makes one rework better than another, and what makes two of them different.

use super::region::{SHIFT_UNITS, Support};
use crate::{rework::question::Problem, substances::Class};

/// The order of merit; the least is the best.
///
/// Strictly in order: the total miss of the bands, how many lines change, how much is shifted, how many ingredients are
/// newcomers, how much of them, the price where every ingredient has one, and last, so that the same question has the same answer
/// everywhere, the recipe that keeps more of the lines that stand earlier in the request.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Merit {
    /// Millionths of a percent point, rounded up to hundredths of a point.
    pub miss: u64,
    /// How many lines change; a batch to which something is added counts as one.
    pub lines: u8,
    /// Millionths of a percent; of what is added to a batch, millionths of a gram.
    pub shift: i64,
    /// How many ingredients were not in the recipe.
    pub newcomers: usize,
    /// How much of them, millionths of a percent; additions to a batch are not told apart by it.
    pub newcomer_amount: i64,
    /// Hundred times the price of a kilogram, millionths; 0 where a price is missing, and for additions to a batch.
    pub price: i64,
    /// What decides between recipes that are alike in all this.
    last: Vec<i64>,
}

fn whole(value: f64) -> i64 {
    (value * SHIFT_UNITS).round() as i64
}

impl Merit {
    /// The merit of a recipe with these percentages that misses the bands by `miss`.
    pub(crate) fn of(problem: &Problem, amounts: &[f64], miss: u64) -> Merit {
        let pairs = || problem.candidates.iter().zip(amounts.iter().copied());
        let changed = |now: f64, then: f64| whole(then - now) != 0;
        let new = || pairs().filter(|(it, then)| it.newcomer && *then > 0.0);
        let price: Option<f64> = pairs().map(|(it, then)| it.price.map(|price| price * then)).sum();
        Merit {
            miss,
            lines: pairs().filter(|(it, then)| changed(it.line.percent, *then)).count() as u8,
            shift: pairs().map(|(it, then)| whole((then - it.line.percent).max(0.0))).sum(),
            newcomers: new().count(),
            newcomer_amount: new().map(|(_, then)| whole(then)).sum(),
            price: price.map_or(0, whole),
            last: amounts.iter().map(|then| -whole(*then)).collect(),
        }
    }

    /// The merit of adding so many steps of these lines to a batch. Of additions that are otherwise alike, the one of the lines that
    /// come first, and then the one with least of the first.
    pub(super) fn of_addition(
        problem: &Problem,
        added: &[u8],
        steps: [i32; 2],
        shift: i64,
        miss: u64,
    ) -> Merit {
        let is_new = |line: &&u8| problem.candidates[usize::from(**line)].newcomer;
        Merit {
            miss,
            lines: added.len() as u8 + 1,
            shift,
            newcomers: added.iter().filter(is_new).count(),
            newcomer_amount: 0,
            price: 0,
            last: added.iter().map(|line| i64::from(*line)).chain([i64::from(steps[0])]).collect(),
        }
    }
}

/// What carries a rework: proposals differ in it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Lever {
    /// The class of what gains; the strongest structurer where several gain.
    pub class: Class,
    /// Whether an ingredient joins that was not there.
    pub newcomer: bool,
}

/// Classes by how strongly a little of them acts.
const STRENGTH: [Class; 7] = [
    Class::Wax,
    Class::FattyAcid,
    Class::FattyAlcohol,
    Class::Other,
    Class::HardButter,
    Class::SoftButter,
    Class::LiquidOil,
];

impl Lever {
    pub(crate) fn of(problem: &Problem, support: &Support) -> Lever {
        let gaining = || {
            let changing = support.lines.iter().zip(support.gains).take(usize::from(support.count));
            changing.filter(|(_, gains)| *gains).map(|(line, _)| &problem.candidates[usize::from(*line)])
        };
        let class = STRENGTH
            .into_iter()
            .find(|class| gaining().any(|it| it.line.class == *class))
            .unwrap_or(Class::Other);
        Lever { class, newcomer: gaining().any(|it| it.newcomer) }
    }
}
