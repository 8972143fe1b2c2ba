//! What makes one rework better than another, and what makes two of them different.

use std::cmp::Reverse;

use crate::{
    rework::{
        grid::{SHIFT_UNITS, Support},
        question::Problem,
    },
    substances::Class,
};

/// The order of merit; the least is the best.
///
/// Strictly in order: the total miss of the bands, how many lines change, how much is shifted, how many ingredients are
/// newcomers, how much of them, the price where every ingredient has one, and last, so that the same question has the same answer
/// everywhere, the recipe that keeps most of the lines that come first.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Merit {
    /// Millionths of a percent point.
    pub miss: u64,
    /// How many lines change.
    pub lines: u8,
    /// Millionths of a percent.
    pub shift: i64,
    /// How many ingredients were not in the recipe.
    pub newcomers: usize,
    /// How much of them, millionths of a percent.
    pub newcomer_amount: i64,
    /// Hundred times the price of a kilogram, millionths; 0 where a price is missing.
    pub price: i64,
    order: Vec<Reverse<i64>>,
}

fn whole(value: f64) -> i64 {
    (value * SHIFT_UNITS).round() as i64
}

impl Merit {
    /// The merit of a recipe with these percentages that misses the bands by `miss`.
    pub(crate) fn new(problem: &Problem, amounts: &[f64], miss: u64) -> Merit {
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
            order: amounts.iter().map(|then| Reverse(whole(*then))).collect(),
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
            let count = usize::from(support.count);
            (0..count)
                .filter(|at| support.gains[*at])
                .map(|at| &problem.candidates[usize::from(support.lines[at])])
        };
        let class = STRENGTH
            .into_iter()
            .find(|class| gaining().any(|it| it.line.class == *class))
            .unwrap_or(Class::Other);
        Lever { class, newcomer: gaining().any(|it| it.newcomer) }
    }
}
