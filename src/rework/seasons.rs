//! A summer and a winter version of one recipe that differ in as little as possible.

use super::{
    problem::{ON_GRID, Problem},
    proposal::{Outcome, Proposal, rework},
};

/// Both versions.
#[derive(Clone, Debug)]
pub struct Seasons {
    /// For the first of the two problems; changes are told against the present recipe.
    pub summer: Proposal,
    /// For the second.
    pub winter: Proposal,
    /// Lines in which they differ: candidate, percent in summer, percent in winter.
    pub differ: Vec<(usize, f64, f64)>,
}

/// How many versions for one season are taken on to the other.
const TAKEN_ON: usize = 6;

/// Lines that differ, the shift between, and the shift from the present recipe, in millionths.
type Key = (usize, i64, i64);

/// One recipe for both seasons where there is one, found exactly; else, of the best versions for either season, the one whose
/// smallest rework for the other (exact in turn) differs in the fewest lines, by the least shift, and then is nearest to the
/// present recipe. `None` where a season has no good version.
///
/// The problems must be of the same recipe, pantry and limits.
pub fn seasons(summer: &Problem, winter: &Problem) -> Option<Seasons> {
    let demands = summer.demands.iter().chain(&winter.demands).copied().collect();
    let both = Problem { demands, ..summer.clone() };
    if let Some(one) = rework(&both).proposals.into_iter().find(|it| it.met) {
        let winter = Proposal::of(winter, &one.amounts);
        return Some(Seasons { summer: one, winter, differ: Vec::new() });
    }
    let mut best: Option<(Key, Vec<f64>, Vec<f64>)> = None;
    for (first, second, summer_first) in [(summer, winter, true), (winter, summer, false)] {
        let Outcome { proposals, .. } = rework(first);
        for start in proposals.into_iter().filter(|it| it.met).take(TAKEN_ON) {
            let moved = second.moved_to(&start.amounts);
            let Some(end) = rework(&moved).proposals.into_iter().find(|it| it.met) else { continue };
            let whole = |shift: f64| (shift * 1e6).round() as i64;
            let key = (end.changes.len(), whole(end.shift), whole(start.shift));
            if best.as_ref().is_none_or(|(found, ..)| key < *found) {
                let (a, b) =
                    if summer_first { (start.amounts, end.amounts) } else { (end.amounts, start.amounts) };
                best = Some((key, a, b));
            }
        }
    }
    let (_, in_summer, in_winter) = best?;
    let differ = in_summer
        .iter()
        .zip(&in_winter)
        .enumerate()
        .filter(|(_, (a, b))| (**a - **b).abs() > ON_GRID)
        .map(|(line, (a, b))| (line, *a, *b))
        .collect();
    Some(Seasons {
        summer: Proposal::of(summer, &in_summer),
        winter: Proposal::of(winter, &in_winter),
        differ,
    })
}

impl Problem {
    /// The same question of another recipe of the same candidates.
    fn moved_to(&self, amounts: &[f64]) -> Problem {
        let mut moved = self.clone();
        for (candidate, amount) in moved.candidates.iter_mut().zip(amounts) {
            candidate.line.percent = *amount;
            candidate.newcomer = *amount <= 0.0;
        }
        moved
    }
}
