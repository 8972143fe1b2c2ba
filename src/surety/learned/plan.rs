//! Which pot to make next: the one that shrinks most what is to be decided.

use super::{
    Agrees, Bench, LEAST_NOTICED_K, Learned, NINE_IN_TEN, Pot, Seen,
    crossing::{Crossing, Mixed},
    seen::{Level, Said},
    terms::{Compared, Ends, Term},
    weighted::crossings_c,
};
use crate::surety::normal::below;

/// How a pot would be looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Looked {
    /// Whether it holds overnight at this temperature, °C.
    HoldsAt(f64),
    /// Where it slips in an open tube.
    Slips,
}

/// A pot that could be made.
#[derive(Clone, Debug)]
pub struct PotCandidate {
    /// What it is made of.
    pub pot: Pot,
    /// How it would be looked at.
    pub looked: Looked,
    /// Which thermometer would tell.
    pub thermometer: usize,
}

/// A pot that is planned.
#[derive(Clone, Copy, Debug)]
pub struct Planned {
    /// Which candidate.
    pub candidate: usize,
    /// What would be left unknown, K, as a standard deviation, after it and those before it in the list.
    pub left_k: f64,
    /// Where the pot will slip or soften, by all that is known, °C.
    pub expected_c: f64,
    /// Nine in ten such readings lie so near to that, K.
    pub within_k: f64,
    /// How likely it holds; of a slip point nothing.
    pub holds: Option<f64>,
}

/// What to do next.
#[derive(Clone, Debug)]
pub struct Plan {
    /// What is unknown now of what is to be decided, K, as a standard deviation.
    pub now_k: f64,
    /// The pots, were all of them made at once, the one that tells most first.
    pub planned: Vec<Planned>,
    /// What would be left after two, where the second is chosen by what the first shows, K.
    pub one_by_one_k: Option<f64>,
    /// Whether the first pot narrows what is unknown by as much as a maker would notice.
    pub is_worth_it: bool,
}

/// A ratio series of one butter and one hardener.
#[derive(Clone, Debug)]
pub struct Series {
    /// What is unknown now of the slip points over the whole series, K, as a standard deviation
    /// (the root of the mean square).
    pub now_k: f64,
    /// The doses to make, the one that tells most first.
    pub doses: Vec<Dose>,
    /// What as many evenly spaced doses would leave, K.
    pub evenly_k: f64,
}

/// A dose of a series.
#[derive(Clone, Copy, Debug)]
pub struct Dose {
    /// Percent of the hardener.
    pub percent: u32,
    /// What is left unknown of the whole series after it and those before it, K.
    pub left_k: f64,
    /// Where it will be read to slip, by all that is known, °C.
    pub expected_c: f64,
    /// Nine in ten such readings lie so near to that, K.
    pub within_k: f64,
}

/// A reading of a slip point is told apart at these steps, in its own spread.
const STEPS: [f64; 7] = [-1.5, -1.0, -0.5, 0.0, 0.5, 1.0, 1.5];

/// What a candidate could show.
struct Could {
    /// For each outcome, how likely it is with each of the weighted lots.
    outcomes: Vec<Vec<f64>>,
    expected_c: f64,
    within_k: f64,
    holds: Option<f64>,
}

/// What is left of a pot's remainder, in its standard deviations: its mean for each of the weighted lots.
struct LeftOfRemainder {
    means: Vec<f64>,
    width: f64,
}

/// Whether two are the same pot; the format that it is sold in does not matter.
fn is_same(one: &Pot, other: &Pot) -> bool {
    one.lines == other.lines && one.state == other.state
}

/// Weights by what was shown so far.
type Cells = Vec<Vec<f64>>;

/// What is left of a figure, as a variance: its mean over what could be shown.
fn left(cells: &Cells, figure: &[f64]) -> f64 {
    let of_cell = |weights: &Vec<f64>| {
        let sums = weights.iter().zip(figure).fold((0.0, 0.0, 0.0), |sums, (weight, figure)| {
            (sums.0 + weight, sums.1 + weight * figure, sums.2 + weight * figure * figure)
        });
        if sums.0 > 0.0 { (sums.2 - sums.1 * sums.1 / sums.0).max(0.0) } else { 0.0 }
    };
    cells.iter().map(of_cell).sum()
}

/// The cells, once it is known what a candidate shows.
fn split(cells: &Cells, could: &Could) -> Cells {
    let product =
        |cell: &Vec<f64>, outcome: &Vec<f64>| cell.iter().zip(outcome).map(|(a, b)| a * b).collect();
    cells.iter().flat_map(|cell| could.outcomes.iter().map(move |outcome| product(cell, outcome))).collect()
}

impl Learned {
    /// Where pots fall to levels, for each of the weighted lots, °C: pot by pot.
    fn found_c(&self, bench: &Bench, pots: &[(&Pot, Level)]) -> Vec<Vec<f64>> {
        let mixed: Vec<Mixed> = pots.iter().map(|(pot, _)| Mixed::of(pot, &bench.lots)).collect();
        let centre = &self.likeliest.z[..self.unknown.shared()];
        let crossings: Vec<Crossing> = mixed
            .iter()
            .zip(pots)
            .map(|(mixed, (_, level))| Crossing::of(mixed, *level, &self.unknown, centre))
            .collect();
        let of_pots: Vec<(usize, &Crossing)> = crossings.iter().enumerate().collect();
        let by_lots = crossings_c(&mixed, &self.unknown, &of_pots, centre, &self.weighted.z);
        (0..pots.len()).map(|pot| by_lots.iter().map(|found| found[pot]).collect()).collect()
    }

    /// The mean and the variance of a figure of the weighted lots.
    fn spread(&self, figure: &[f64]) -> (f64, f64) {
        let weights = &self.weighted.weights;
        let mean: f64 = weights.iter().zip(figure).map(|(weight, figure)| weight * figure).sum();
        let squares = weights.iter().zip(figure).map(|(weight, it)| weight * (it - mean) * (it - mean));
        (mean, squares.sum())
    }

    /// Where a pot softens, °C: the mean and what is left unknown of it by its lots, as a standard deviation.
    pub fn softens_c(&self, bench: &Bench, pot: &Pot) -> (f64, f64) {
        let found = self.found_c(bench, &[(pot, shape(pot))]);
        let (mean, variance) = self.spread(&found[0]);
        (mean, variance.sqrt())
    }

    /// What readings of a pot say of its remainder, for each of the weighted lots: another look at the pot
    /// meets the same one. What held or slumped says little of it, and is left aside.
    fn remainder(&self, bench: &Bench, pot: &Pot) -> LeftOfRemainder {
        let mut left = LeftOfRemainder { means: vec![0.0; self.weighted.z.len()], width: 1.0 };
        let Some(at) = bench.pots.iter().position(|known| is_same(known, pot)) else { return left };
        let remainders: Vec<_> = bench.pots.iter().map(|pot| Mixed::of(pot, &bench.lots).remainder).collect();
        let (terms, levels) = Term::all(bench, &remainders);
        let mut precision = 1.0;
        for (term, doubt) in terms.iter().zip(&self.looks) {
            let is_learned = matches!(doubt.agrees, Agrees::Yes | Agrees::Strained);
            let Compared::Read(crossing) = term.compared else { continue };
            if term.pot != at || !term.counts || !is_learned {
                continue;
            }
            let slope = term.remainder_k / term.noise_k;
            precision += slope * slope;
            let found = self.found_c(bench, &[(pot, levels[crossing].1)]);
            let place = self.unknown.thermometer(term.thermometer);
            for ((mean, found), z) in left.means.iter_mut().zip(&found[0]).zip(&self.weighted.z) {
                let Ends::Read(off) = term.ends(&|_| *found, z[place], 0.0) else { continue };
                *mean -= slope * off;
            }
        }
        left.means.iter_mut().for_each(|mean| *mean /= precision);
        left.width = 1.0 / precision.sqrt();
        left
    }

    fn could(
        &self,
        bench: &Bench,
        candidate: &PotCandidate,
        found_c: &[f64],
        left: &LeftOfRemainder,
    ) -> Could {
        let place = self.unknown.thermometer(candidate.thermometer);
        let measured = bench.thermometers[candidate.thermometer];
        let seen = match candidate.looked {
            Looked::HoldsAt(_) => Seen::Held,
            Looked::Slips => Seen::Slipped,
        };
        let noise_k = libm::hypot(measured.reading_k(), seen.judged_k());
        let remainder_k = Mixed::of(&candidate.pot, &bench.lots).remainder.slip_k;
        let all_k = libm::hypot(noise_k, remainder_k * left.width);
        let read: Vec<f64> = found_c
            .iter()
            .zip(&self.weighted.z)
            .zip(&left.means)
            .map(|((found, z), mean)| found + remainder_k * mean + measured.reading_k() * z[place])
            .collect();
        let (expected_c, variance) = self.spread(&read);
        let within_k = NINE_IN_TEN * libm::hypot(variance.sqrt(), all_k);
        match candidate.looked {
            Looked::HoldsAt(at_c) => {
                let holds: Vec<f64> = read.iter().map(|read| below((read - at_c) / all_k)).collect();
                let slumps = holds.iter().map(|holds| 1.0 - holds).collect();
                let odds = self.spread(&holds).0;
                Could { outcomes: vec![holds, slumps], expected_c, within_k, holds: Some(odds) }
            }
            Looked::Slips => {
                let width = libm::hypot(variance.sqrt(), all_k);
                let share = |read: f64, step: usize| {
                    let end = |at: usize| {
                        STEPS.get(at).map_or(1.0, |step| below((expected_c + step * width - read) / all_k))
                    };
                    end(step) - if step == 0 { 0.0 } else { end(step - 1) }
                };
                let outcomes = (0..=STEPS.len())
                    .map(|step| read.iter().map(|read| share(*read, step)).collect())
                    .collect();
                Could { outcomes, expected_c, within_k, holds: None }
            }
        }
    }

    /// Which of these pots to make, at most so many, to know best where a recipe softens; or, beside
    /// another recipe, which of the two softens higher. No two looks at one pot are planned at once:
    /// they share what the model errs by.
    pub fn plan(
        &self,
        bench: &Bench,
        recipe: &Pot,
        beside: Option<&Pot>,
        candidates: &[PotCandidate],
        most: usize,
    ) -> Plan {
        let level = |candidate: &PotCandidate| match candidate.looked {
            Looked::HoldsAt(_) => shape(&candidate.pot),
            Looked::Slips => slip(&candidate.pot),
        };
        // Looks at one pot at several temperatures ask for one crossing.
        let mut asked: Vec<(&Pot, Level)> = vec![(recipe, shape(recipe))];
        asked.extend(beside.map(|pot| (pot, shape(pot))));
        let firsts = asked.len();
        let mut place_of = Vec::with_capacity(candidates.len());
        for candidate in candidates {
            let one = (&candidate.pot, level(candidate));
            let same = |known: &(&Pot, Level)| {
                known.0.lines == one.0.lines && known.1 == one.1 && known.0.state == one.0.state
            };
            place_of.push(asked.iter().position(same).unwrap_or_else(|| {
                asked.push(one);
                asked.len() - 1
            }));
        }
        let found = self.found_c(bench, &asked);
        let figure: Vec<f64> = match firsts {
            1 => found[0].clone(),
            _ => found[0].iter().zip(&found[1]).map(|(one, other)| one - other).collect(),
        };
        let mut met: Vec<(&Pot, LeftOfRemainder)> = Vec::new();
        for PotCandidate { pot, .. } in candidates {
            if !met.iter().any(|(known, _)| is_same(known, pot)) {
                met.push((pot, self.remainder(bench, pot)));
            }
        }
        let left_of = |pot: &Pot| met.iter().find(|(known, _)| is_same(known, pot)).map(|(_, left)| left);
        let could: Vec<Could> = candidates
            .iter()
            .zip(&place_of)
            .filter_map(|(candidate, place)| {
                Some(self.could(bench, candidate, &found[*place], left_of(&candidate.pot)?))
            })
            .collect();
        let mut cells: Cells = vec![self.weighted.weights.clone()];
        let now_k = left(&cells, &figure).sqrt();
        let best = |cells: &Cells, open: &dyn Fn(usize) -> bool| {
            (0..could.len())
                .filter(|at| open(*at))
                .map(|at| (at, left(&split(cells, &could[at]), &figure)))
                .min_by(|one, other| one.1.total_cmp(&other.1))
        };
        let mut planned: Vec<Planned> = Vec::new();
        let mut one_by_one_k = None;
        while planned.len() < most {
            let open = |at: usize| {
                planned
                    .iter()
                    .all(|it: &Planned| candidates[it.candidate].pot.lines != candidates[at].pot.lines)
            };
            let Some((at, variance)) = best(&cells, &open) else { break };
            if planned.len() == 1 {
                let of_cell =
                    |cell: &Vec<f64>| best(&vec![cell.clone()], &open).map_or(0.0, |(_, left)| left);
                one_by_one_k = Some(cells.iter().map(of_cell).sum::<f64>().sqrt());
            }
            let Could { expected_c, within_k, holds, .. } = could[at];
            planned.push(Planned { candidate: at, left_k: variance.sqrt(), expected_c, within_k, holds });
            cells = split(&cells, &could[at]);
        }
        let narrowed_k = planned.first().map_or(0.0, |first| now_k - first.left_k);
        Plan { now_k, planned, one_by_one_k, is_worth_it: NINE_IN_TEN * narrowed_k >= LEAST_NOTICED_K }
    }

    /// What would be left of where a recipe softens after these candidates,
    /// whatever they show, K: for comparison.
    pub fn left_after_k(&self, bench: &Bench, recipe: &Pot, candidates: &[&PotCandidate]) -> f64 {
        let figure = &self.found_c(bench, &[(recipe, shape(recipe))])[0];
        let mut cells: Cells = vec![self.weighted.weights.clone()];
        for candidate in candidates {
            let level = match candidate.looked {
                Looked::HoldsAt(_) => shape(&candidate.pot),
                Looked::Slips => slip(&candidate.pot),
            };
            let found = self.found_c(bench, &[(&candidate.pot, level)]);
            let of_remainder = self.remainder(bench, &candidate.pot);
            cells = split(&cells, &self.could(bench, candidate, &found[0], &of_remainder));
        }
        left(&cells, figure).sqrt()
    }

    /// Which doses of a hardener in a butter, from 0 to `most_percent`, tell most of where all of them slip.
    pub fn series(
        &self,
        bench: &Bench,
        (butter, hardener): (usize, usize),
        most_percent: u32,
        doses: usize,
        thermometer: usize,
    ) -> Series {
        let pots: Vec<Pot> = (0..=most_percent)
            .map(|dose| Pot {
                lines: vec![(butter, 100.0 - f64::from(dose)), (hardener, f64::from(dose))],
                format: crate::behaviour::Format::Pot,
                state: crate::equilibrium::CrystalState::Settled,
            })
            .collect();
        let asked: Vec<(&Pot, Level)> = pots.iter().map(|pot| (pot, slip(pot))).collect();
        let found = self.found_c(bench, &asked);
        let measured = bench.thermometers[thermometer];
        let place = self.unknown.thermometer(thermometer);
        let bias: Vec<f64> = self.weighted.z.iter().map(|z| measured.reading_k() * z[place]).collect();
        let noise_k = libm::hypot(measured.reading_k(), Seen::Slipped.judged_k());
        let noises: Vec<f64> = pots
            .iter()
            .map(|pot| libm::hypot(noise_k, Mixed::of(pot, &bench.lots).remainder.slip_k))
            .map(|all_k| all_k * all_k)
            .collect();
        // How the slip points and the thermometer go together; the thermometer is last.
        let figures: Vec<&Vec<f64>> = found.iter().chain([&bias]).collect();
        let means: Vec<f64> = figures.iter().map(|figure| self.spread(figure).0).collect();
        let together = |a: usize, b: usize| -> f64 {
            let pairs = figures[a].iter().zip(figures[b]).zip(&self.weighted.weights);
            pairs.map(|((one, other), weight)| weight * (one - means[a]) * (other - means[b])).sum()
        };
        let size = figures.len();
        let row = |a: usize| (0..size).map(|b| together(a, b)).collect();
        let mut all: Vec<Vec<f64>> = (0..size).map(row).collect();
        let rms = |all: &[Vec<f64>]| {
            let count = size - 1;
            ((0..count).map(|at| all[at][at].max(0.0)).sum::<f64>() / count as f64).sqrt()
        };
        let known = |all: &[Vec<f64>], dose: usize| -> Vec<Vec<f64>> {
            let of: Vec<f64> = (0..size).map(|at| all[at][dose] + all[at][size - 1]).collect();
            let variance = of[dose] + of[size - 1] + noises[dose];
            let entry = |a: usize, b: usize| all[a][b] - of[a] * of[b] / variance;
            (0..size).map(|a| (0..size).map(|b| entry(a, b)).collect()).collect()
        };
        let evenly = (0..doses)
            .fold(all.clone(), |all, at| known(&all, (size - 2) * at / doses.saturating_sub(1).max(1)));
        let now_k = rms(&all);
        let last = size - 1;
        // What a reading of a dose is expected to be, before any is made.
        let within: Vec<f64> = (0..last)
            .map(|at| {
                NINE_IN_TEN
                    * (all[at][at] + 2.0 * all[at][last] + all[last][last] + noises[at]).max(0.0).sqrt()
            })
            .collect();
        // Were doses as near as they like, five pots of next to no hardener would tell most where the butter
        // is what is unknown; a class sees a series (ours): half as far apart as evenly spaced ones.
        let apart = ((size - 2) / (2 * doses.max(1))).max(1);
        let mut chosen: Vec<Dose> = Vec::new();
        for _ in 0..doses.min(size - 1) {
            let is_apart = |at: usize| chosen.iter().all(|dose| at.abs_diff(dose.percent as usize) >= apart);
            let open = (0..size - 1).filter(|at| is_apart(*at));
            let next =
                open.map(|at| (at, rms(&known(&all, at)))).min_by(|one, other| one.1.total_cmp(&other.1));
            let Some((at, left_k)) = next else { break };
            all = known(&all, at);
            let expected_c = means[at] + means[last];
            chosen.push(Dose { percent: at as u32, left_k, expected_c, within_k: within[at] });
        }
        Series { now_k, doses: chosen, evenly_k: rms(&evenly) }
    }
}

/// Where a pot softens.
fn shape(pot: &Pot) -> Level {
    Level { quantity: pot.format.held_by(), percent: Some(pot.format.least_percent()) }
}

/// Where it slips.
fn slip(pot: &Pot) -> Level {
    match Seen::Slipped.said(pot.format) {
        Said::Here(level) => level,
        Said::Between { .. } => shape(pot),
    }
}
