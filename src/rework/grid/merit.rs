//! What makes one rework better than another, and what makes two of them different.

use super::region::{SHIFT_UNITS, Support};
use crate::{
    rework::question::{Candidate, Problem},
    substances::Class,
};

/// The order of merit; the least is the best.
///
/// Strictly in order: what is missed, how many lines change, what it costs the maker, and last, so
/// that the same question has the same answer everywhere, the recipe that keeps more of the lines
/// that stand earlier in the request.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Merit {
    /// What the bands that are missed count for, millionths.
    pub miss: u64,
    /// How many lines change; a batch to which something is added counts as one.
    pub lines: u8,
    /// What it costs the maker.
    pub cost: ChangeCost,
    /// What decides between recipes that are alike in all this.
    last: Vec<i64>,
}

/// What a change costs the maker; the least is the best. Of regions, the least that any recipe can cost.
#[derive(Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct ChangeCost {
    /// Effort in whole percent of the recipe, so that a tenth decides nothing: what moves, weighed by what
    /// it is, and what newcomers cost.
    pub effort: i64,
    /// How far one has to reach for what gains, 0 to 3.
    pub reach: u8,
    /// Hundred times the price of a kilogram, millionths; 0 where a price is
    /// missing, and for additions to a batch.
    pub price: i64,
    /// How much moves, millionths of a percent; of what is added to a batch, millionths of a gram.
    pub shift: i64,
}

fn whole(value: f64) -> i64 {
    (value * SHIFT_UNITS).round() as i64
}

/// How much a percent of it that gains or loses changes a butter against a percent of oil: with wax, a free
/// acid or an alcohol a maker changes what the butter is, and what butter it is by taking butter out of it
/// (common practice, no source; the figures are ours).
fn weight(candidate: &Candidate, gains: bool) -> f64 {
    match candidate.line.class {
        Class::Wax => 3.0,
        Class::FattyAcid | Class::FattyAlcohol => 2.0,
        Class::HardButter | Class::SoftButter if !gains => 1.5,
        Class::HardButter | Class::SoftButter | Class::LiquidOil | Class::Other => 1.0,
    }
}

/// What it costs to bring something in, percent of the recipe: one more thing to buy, to weigh and to
/// declare, and the rarer, the more; and a butter without wax, acids or alcohols stays one of another kind
/// (common practice, no source; the figures are ours).
fn entry(candidate: &Candidate) -> f64 {
    if !candidate.newcomer {
        return 0.0;
    }
    let rare = match candidate.line.ingredient.map_or(1, |it| it.commonness()) {
        3.. => 4.0,
        2 => 6.0,
        _ => 10.0,
    };
    match candidate.line.class {
        Class::Wax => rare + 8.0,
        Class::FattyAcid | Class::FattyAlcohol => rare + 4.0,
        Class::HardButter | Class::SoftButter | Class::LiquidOil | Class::Other => rare,
    }
}

/// How far one reaches for what gains: more of what is there, then a butter or an oil that is not, then an
/// acid or an alcohol, then wax (common practice, no source).
fn reach(candidate: &Candidate) -> u8 {
    match candidate.line.class {
        Class::Wax => 3,
        Class::FattyAcid | Class::FattyAlcohol => 2,
        Class::HardButter | Class::SoftButter | Class::LiquidOil | Class::Other => {
            u8::from(candidate.newcomer)
        }
    }
}

/// What so much of everything costs, if everything has a price.
pub(super) fn price(problem: &Problem, amounts: &[f64]) -> Option<f64> {
    problem.candidates.iter().zip(amounts).map(|(it, percent)| it.price.map(|price| price * percent)).sum()
}

impl ChangeCost {
    /// That of a recipe with these percentages: half of what moves, each percent by its
    /// weight, and what newcomers cost.
    pub(crate) fn of(problem: &Problem, amounts: &[f64]) -> ChangeCost {
        let (mut effort, mut far, mut shift) = (0.0, 0, 0);
        for (it, then) in problem.candidates.iter().zip(amounts) {
            let moved = whole(then - it.line.percent);
            if moved == 0 {
                continue;
            }
            effort += 0.5 * weight(it, moved > 0) * (then - it.line.percent).abs();
            if moved > 0 {
                effort += entry(it);
                far = far.max(reach(it));
                shift += moved;
            }
        }
        // What rounding leaves is not a half.
        let effort = (effort + 1e-9).round() as i64;
        ChangeCost { effort, reach: far, price: price(problem, amounts).map_or(0, whole), shift }
    }

    /// The least of a region in which these candidates gain or lose, as said, and hold so much at its
    /// corners. Within the region effort and price move in a straight line; `others` is the price of what
    /// does not change, where everything has one. `shift` is the least that moves.
    pub(super) fn least(
        changing: &[(&Candidate, bool)],
        corners: &[[f64; 3]],
        others: Option<f64>,
        shift: i64,
    ) -> ChangeCost {
        let gaining = || changing.iter().filter(|(_, gains)| *gains).map(|(it, _)| *it);
        let entries: f64 = gaining().map(entry).sum();
        let (mut effort, mut price) = (f64::INFINITY, f64::INFINITY);
        for corner in corners {
            let (mut moved, mut dear) = (0.0, others.unwrap_or(0.0));
            for ((it, gains), then) in changing.iter().zip(corner) {
                let way = if *gains { 1.0 } else { -1.0 };
                moved += 0.5 * weight(it, *gains) * way * (then - it.line.percent);
                dear += it.price.unwrap_or(0.0) * then;
            }
            (effort, price) = (effort.min(moved), price.min(dear));
        }
        ChangeCost {
            effort: (entries + effort - 1e-9).round() as i64,
            reach: gaining().map(reach).max().unwrap_or(0),
            price: others.map_or(0, |_| whole(price - 1e-6)),
            shift,
        }
    }
}

impl Merit {
    /// The merit of a recipe with these percentages that misses the bands by `miss`.
    pub(crate) fn of(problem: &Problem, amounts: &[f64], miss: u64) -> Merit {
        let changes = |(it, then): &(&Candidate, &f64)| whole(**then - it.line.percent) != 0;
        Merit {
            miss,
            lines: problem.candidates.iter().zip(amounts).filter(changes).count() as u8,
            cost: ChangeCost::of(problem, amounts),
            last: amounts.iter().map(|then| -whole(*then)).collect(),
        }
    }

    /// The merit of adding so many steps of these lines to a batch. Of additions that are otherwise alike,
    /// the one of the lines that come first, and then the one with least of the first.
    pub(super) fn of_addition(added: &[u8], steps: [i32; 2], cost: ChangeCost, miss: u64) -> Merit {
        Merit {
            miss,
            lines: added.len() as u8 + 1,
            cost,
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
