//! A summer and a winter version of one recipe, told.

use super::proposal::Rework;
use crate::rework::{
    question::{ON_GRID, Problem},
    search::{ClosestPair, ProofCounts, Report, closest_pair, pair_as_demanded},
};

/// What was found for two seasons.
#[derive(Clone, Debug)]
pub struct Seasons {
    /// The pair; `None` where a season has no good version, or none was found before the search was stopped.
    pub pair: Option<Pair>,
    /// No pair differs in fewer lines than this.
    pub at_least: usize,
    /// Which of the two has no good version.
    pub lacks: Option<usize>,
    /// Whether the search went to its end: then the pair is the best by the order of merit.
    pub complete: bool,
    /// Of the search for one recipe for both; its equilibria are those of the whole.
    pub proof: ProofCounts,
}

/// Both versions.
#[derive(Clone, Debug)]
pub struct Pair {
    /// For the first of the two problems; changes are told against the present recipe.
    pub summer: Rework,
    /// For the second.
    pub winter: Rework,
    /// Lines in which they differ: candidate, percent in summer, percent in winter.
    pub differ: Vec<(usize, f64, f64)>,
}

/// The best pair within the limits: each version changes at most as many lines of the present recipe as may
/// be. Both hold on the rung that is asked for, else on the best on which there is a pair. `report` hears how
/// far it has come, and stops it with `false`.
///
/// The problems must be of the same recipe, pantry and limits.
pub fn seasons(summer: &Problem, winter: &Problem, report: Report<'_>) -> Seasons {
    tell(summer, winter, closest_pair(summer, winter, report))
}

/// The same for what the problems demand as they stand, whatever the rung: what is held
/// against a walk over all pairs.
pub fn seasons_as_demanded(summer: &Problem, winter: &Problem, report: Report<'_>) -> Seasons {
    tell(summer, winter, pair_as_demanded(summer, winter, report))
}

fn tell(summer: &Problem, winter: &Problem, found: ClosestPair) -> Seasons {
    let ClosestPair { pair, at_least, lacks, complete, proof } = found;
    let tell = |[a, b]: &[Vec<f64>; 2]| {
        let lines = a.iter().zip(b).enumerate();
        let differ = lines.filter(|(_, (a, b))| (**a - **b).abs() > ON_GRID);
        Pair {
            summer: Rework::of(summer, a),
            winter: Rework::of(winter, b),
            differ: differ.map(|(line, (a, b))| (line, *a, *b)).collect(),
        }
    };
    Seasons { pair: pair.as_ref().map(tell), at_least, lacks, complete, proof }
}
