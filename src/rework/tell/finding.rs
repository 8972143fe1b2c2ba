//! What a rework or a rescue does, why it works and what it costs, as findings.

use serde::Serialize;

use super::states::{CandidateChange, Forecast, States};
use crate::{
    behaviour::{Firmness, Format, Solids, Where},
    equilibrium::{Blend, CrystalState, Equilibrium, Part},
    rework::{
        grid::Batch,
        question::{Problem, figure},
    },
    substances::Class,
};

/// What there is to say of a rework or a rescue; several, one after the other.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
#[allow(missing_docs, reason = "a figure is what its name says, in the unit that its name ends in")]
pub enum ReworkFinding {
    /// It is to be as it is now, and stays so.
    StaysAsNow,
    /// It meets every wish as it is.
    GoodAsItIs,
    /// Nothing comes nearer to the wishes than the recipe as it is.
    NothingNearer,
    /// So much of the recipe moves.
    Moves { shift_percent: f64, from_ids: Vec<String>, to_ids: Vec<String> },
    /// The batch meets every wish as it is.
    BatchIsGood,
    /// Nothing that may be added brings the batch nearer to the wishes.
    NothingHelps,
    /// So much of an ingredient is melted into the batch.
    MeltIn { id: String, added_g: f64 },
    /// What the batch weighs then.
    BatchGrows { batch_g: f64, whole_g: f64 },
    /// Crystals of a kind, or powder, make it firmer where that was asked for.
    Firmer { carrier: Carrier, at_c: f64, from_percent: f64, to_percent: f64 },
    /// Fewer of them make it softer.
    Softer { carrier: Carrier, at_c: f64, from_percent: f64, to_percent: f64 },
    /// Its structure does not move.
    AsFirm { at_c: f64, structure_percent: f64 },
    /// More of a kind stays solid on skin, where that was asked for.
    MoreOnSkin { carrier: Carrier, from_percent: f64, to_percent: f64 },
    /// Less of it stays solid on skin.
    LessOnSkin { carrier: Carrier, from_percent: f64, to_percent: f64 },
    /// As much stays solid on skin.
    AsMuchOnSkin { solid_percent: f64 },
    /// The crystals, or the powder, come with lines that gain.
    WithMoreOf { ids: Vec<String> },
    /// They go with lines that lose.
    WithLessOf { ids: Vec<String> },
    /// What gains is liquid, and dissolves fewer of the crystals than what it replaces.
    DissolvesLess { ids: Vec<String> },
    /// It dissolves more of them.
    DissolvesMore { ids: Vec<String> },
    /// In the cold it stays in its class.
    ColdStays { coldest_c: f64, class: Firmness, from_percent: f64, to_percent: f64 },
    /// In the cold it changes its class.
    ColdChanges { coldest_c: f64, from: Firmness, to: Firmness, from_percent: f64, to_percent: f64 },
    /// What stays solid on skin, where that was not asked for.
    OnSkin { from_percent: f64, to_percent: f64 },
    /// No recipe is just as it is now; this is the nearest of its kind.
    NearestToNow,
    /// No recipe meets every wish; this one misses by the least of its kind.
    Nearest,
    /// It meets every wish as it is on record, and holds less surely than was asked; nothing reaches that.
    HoldsLessSurely,
    /// These leave because of what is refused.
    LeaveAsRefused { ids: Vec<String> },
    /// No addition meets every wish; this one misses by the least.
    NearestRescue,
    /// So much wax turns it towards a balm.
    TowardsBalm { wax_percent: f64 },
    /// More wax goes into what is to be whipped: it stiffens, and holds no air.
    WaxHoldsNoAir,
    /// What gains grows grains where it cools slowly.
    GrowsGrains { ids: Vec<String> },
}

/// What carries a change.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
#[allow(missing_docs)]
pub enum Carrier {
    FatCrystals,
    FattyAcidCrystals,
    FattyAlcoholCrystals,
    WaxCrystals,
    GlycerideCrystals,
    Powder,
}

/// What carries a change, in the order of [`Solids::carriers`].
const CARRIERS: [Carrier; 6] = [
    Carrier::FatCrystals,
    Carrier::FattyAcidCrystals,
    Carrier::FattyAlcoholCrystals,
    Carrier::WaxCrystals,
    Carrier::GlycerideCrystals,
    Carrier::Powder,
];

/// From this much wax on a butter turns towards a balm, percent (common practice, no source).
const TOWARDS_BALM_PERCENT: f64 = 5.0;

/// How much of a line, by itself, are crystals of the kind that carries a change, from which on it may be
/// named for it, percent.
const CARRIES_PERCENT: f64 = 5.0;

/// A line that gains or loses.
struct Move {
    candidate: usize,
    /// Percent of the new recipe.
    gain_percent: f64,
}

impl Move {
    fn gains(&self) -> bool {
        self.gain_percent > 0.0
    }
}

/// A figure that moves by less is said to stay, percent points: half of what one decimal shows.
const STAYS_POINTS: f64 = 0.05;

fn structure_percent(state: &Equilibrium) -> f64 {
    Solids::from(state).structure_percent()
}

/// What a proposal does, why it works, and what it costs.
pub(super) fn of_rework(
    problem: &Problem,
    changes: &[CandidateChange],
    shift_percent: f64,
    before: &States,
    after: &Forecast,
) -> Vec<ReworkFinding> {
    let as_now = problem.is_as_now();
    let falls_short = match (after.is_met(), after.misses.is_empty()) {
        (true, _) => None,
        (false, true) => Some(ReworkFinding::HoldsLessSurely),
        (false, false) if as_now => Some(ReworkFinding::NearestToNow),
        (false, false) => Some(ReworkFinding::Nearest),
    };
    if changes.is_empty() {
        return vec![match (as_now, falls_short) {
            (true, _) => ReworkFinding::StaysAsNow,
            (false, None) => ReworkFinding::GoodAsItIs,
            (false, Some(_)) => ReworkFinding::NothingNearer,
        }];
    }
    let moved: Vec<Move> =
        changes.iter().map(|it| Move { candidate: it.candidate, gain_percent: it.to - it.from }).collect();
    let ids =
        |gains: bool| keys(problem, moved.iter().filter(|it| it.gains() == gains).map(|it| it.candidate));
    let mut findings = vec![ReworkFinding::Moves { shift_percent, from_ids: ids(false), to_ids: ids(true) }];
    let refused = changes.iter().map(|it| it.candidate).filter(|at| problem.candidates[*at].bounds.1 <= 0.0);
    let refused = keys(problem, refused);
    if !refused.is_empty() {
        findings.push(ReworkFinding::LeaveAsRefused { ids: refused });
    }
    findings.extend(why_and_cost(problem, &moved, before, after));
    findings.extend(falls_short);
    let is_wax = |candidate: usize| problem.candidates[candidate].line.class == Class::Wax;
    let held = |candidate: usize| {
        let change = changes.iter().find(|change| change.candidate == candidate);
        change.map_or(problem.candidates[candidate].now, |change| change.to)
    };
    let wax_percent: f64 = (0..problem.candidates.len()).filter(|at| is_wax(*at)).map(held).sum();
    if wax_percent >= TOWARDS_BALM_PERCENT && moved.iter().any(|it| it.gains() && is_wax(it.candidate)) {
        findings.push(ReworkFinding::TowardsBalm { wax_percent });
    }
    findings.extend(holds_no_air(problem, moved.iter().filter(|it| it.gains()).map(|it| it.candidate)));
    findings.extend(grows_grains(
        problem,
        moved.iter().filter(|it| it.gain_percent > 0.0).map(|it| it.candidate),
    ));
    findings
}

/// What melting in does, why it works, and what it costs.
pub(super) fn of_rescue(
    problem: &Problem,
    add: &[(usize, f64)],
    batch: Batch,
    before: &States,
    after: &Forecast,
) -> Vec<ReworkFinding> {
    let misses = !after.is_met();
    if add.is_empty() {
        return vec![if misses { ReworkFinding::NothingHelps } else { ReworkFinding::BatchIsGood }];
    }
    let melt_in = |(line, grams): &(usize, f64)| ReworkFinding::MeltIn {
        id: problem.candidates[*line].line.key.clone(),
        added_g: *grams,
    };
    let mut findings: Vec<ReworkFinding> = add.iter().map(melt_in).collect();
    let whole_g = batch.grams + add.iter().map(|(_, grams)| grams).sum::<f64>();
    findings.push(ReworkFinding::BatchGrows { batch_g: batch.grams, whole_g });
    let added: Vec<Move> = add
        .iter()
        .map(|(line, grams)| Move { candidate: *line, gain_percent: 100.0 * grams / whole_g })
        .collect();
    findings.extend(why_and_cost(problem, &added, before, after));
    if misses {
        findings.push(ReworkFinding::NearestRescue);
    }
    findings.extend(holds_no_air(problem, added.iter().map(|it| it.candidate)));
    findings.extend(grows_grains(problem, added.iter().map(|it| it.candidate)));
    findings
}

/// What is to be whipped gains wax.
fn holds_no_air(problem: &Problem, mut gaining: impl Iterator<Item = usize>) -> Option<ReworkFinding> {
    let whips = problem.wishes.format == Format::Whipped;
    (whips && gaining.any(|line| problem.candidates[line].line.class == Class::Wax))
        .then_some(ReworkFinding::WaxHoldsNoAir)
}

/// Of the lines that gain, those whose crystals are mostly of one species that sets coarsely.
fn grows_grains(problem: &Problem, gaining: impl Iterator<Item = usize>) -> Option<ReworkFinding> {
    let is_rich = |line: &usize| {
        let make = problem.candidates[*line].line.make();
        make.iter().any(|(species, percent)| species.id == SETS_COARSELY && *percent >= GRAINY_PERCENT)
    };
    let ids = keys(problem, gaining.filter(is_rich));
    (!ids.is_empty()).then_some(ReworkFinding::GrowsGrains { ids })
}

/// The species that sets coarsely, with a stearic acid at either end and an oleic in the middle.
const SETS_COARSELY: &str = "SOS";

/// A butter with so much of it, percent, grows grains where it cools slowly, is part melted, or is warmed and
/// cooled in turn. In stearic-rich fats the grains are of SOS that turns to its stable form (studies of
/// interesterified soy fats), and makers know it of shea, which has a third (common practice); kokum, mango,
/// sal and illipe have as much or more, cocoa butter a quarter. Where it begins is our judgement.
const GRAINY_PERCENT: f64 = 30.0;

/// What lines are called by.
fn keys(problem: &Problem, lines: impl Iterator<Item = usize>) -> Vec<String> {
    lines.map(|line| problem.candidates[line].line.key.clone()).collect()
}

/// What changes at the place that asked for it and whose crystals do that; then what it costs elsewhere.
fn why_and_cost(problem: &Problem, moved: &[Move], before: &States, after: &Forecast) -> Vec<ReworkFinding> {
    let place = deciding_place(problem, before, &after.states);
    let mut findings = why(problem, place, moved, before.at(place), after);
    let after = &after.states;
    findings.push(in_the_cold(problem, &before.coldest, &after.coldest));
    if place != Where::Skin {
        findings.push(ReworkFinding::OnSkin {
            from_percent: before.skin.solid_percent,
            to_percent: after.skin.solid_percent,
        });
    }
    findings
}

/// The place of the wish that was missed by the most; where none was, that in storage
/// whose structure moves by the most.
fn deciding_place(problem: &Problem, before: &States, after: &States) -> Where {
    let asked = problem
        .wishes
        .bands()
        .into_iter()
        .map(|band| (band.place, band.miss(figure(band.quantity, before.at(band.place)))))
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .filter(|(_, miss)| *miss > 0.0 && !problem.is_as_now());
    let moves = |place| (structure_percent(after.at(place)) - structure_percent(before.at(place))).abs();
    let widest = if moves(Where::Hottest) >= moves(Where::Coldest) { Where::Hottest } else { Where::Coldest };
    asked.map_or(widest, |(place, _)| place)
}

/// What changes at a place, which crystals carry that, and whose they are.
fn why(
    problem: &Problem,
    place: Where,
    moved: &[Move],
    old: &Equilibrium,
    after: &Forecast,
) -> Vec<ReworkFinding> {
    let new = after.states.at(place);
    let at_c = problem.wishes.temperature_c(place);
    let skin = place == Where::Skin;
    let figure = |state: &Equilibrium| if skin { state.solid_percent } else { structure_percent(state) };
    let (from_percent, to_percent) = (figure(old), figure(new));
    if (to_percent - from_percent).abs() < STAYS_POINTS {
        return vec![if skin {
            ReworkFinding::AsMuchOnSkin { solid_percent: to_percent }
        } else {
            ReworkFinding::AsFirm { at_c, structure_percent: to_percent }
        }];
    }
    let up = to_percent > from_percent;
    let kind = kind_that_carries(skin, up, old, new);
    let carrier = CARRIERS[kind];
    let parts: Vec<Part<'_>> = problem.candidates.iter().map(|it| it.line.part()).collect();
    let blend = Blend::new(&parts, CrystalState::Settled);
    let is_of_the_kind = |line: usize| {
        let mut alone = vec![0.0; parts.len()];
        alone[line] = 100.0;
        Solids::from(&blend.mixture(&alone).at(at_c)).carriers()[kind] >= CARRIES_PERCENT
    };
    let share_left = |without: &[usize]| {
        let then = figure(&blend.mixture(&left_out(&after.amounts, moved, without)).at(at_c));
        (then - from_percent) / (to_percent - from_percent)
    };
    let may_carry = moved.iter().filter(|it| it.gains() == up).map(|it| it.candidate);
    let whose = fewest_that_carry(may_carry.filter(|it| is_of_the_kind(*it)).collect(), &share_left);
    let mut findings = vec![match (skin, up) {
        (false, true) => ReworkFinding::Firmer { carrier, at_c, from_percent, to_percent },
        (false, false) => ReworkFinding::Softer { carrier, at_c, from_percent, to_percent },
        (true, true) => ReworkFinding::MoreOnSkin { carrier, from_percent, to_percent },
        (true, false) => ReworkFinding::LessOnSkin { carrier, from_percent, to_percent },
    }];
    let solvents = moved.iter().filter(|it| it.gains() && !problem.candidates[it.candidate].powder);
    let solvents = keys(problem, solvents.map(|it| it.candidate));
    if !whose.is_empty() {
        let ids = keys(problem, whose.into_iter());
        findings.push(if up { ReworkFinding::WithMoreOf { ids } } else { ReworkFinding::WithLessOf { ids } });
    } else if carrier != Carrier::Powder && !solvents.is_empty() {
        findings.push(if up {
            ReworkFinding::DissolvesLess { ids: solvents }
        } else {
            ReworkFinding::DissolvesMore { ids: solvents }
        });
    }
    findings
}

/// The fewest of these lines without which more than half of a change is lost, those first that carry most
/// of it; none where all of them together carry less. `share_left` says what is left of the change without
/// so many of them.
fn fewest_that_carry(lines: Vec<usize>, share_left: &dyn Fn(&[usize]) -> f64) -> Vec<usize> {
    let mut by_share: Vec<(f64, usize)> = lines.into_iter().map(|it| (share_left(&[it]), it)).collect();
    by_share.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut named = Vec::new();
    for (_, line) in by_share {
        named.push(line);
        if share_left(&named) < 0.5 {
            named.sort_unstable();
            return named;
        }
    }
    Vec::new()
}

/// The new recipe without what some lines gain or lose: what moved the other way gives that back, each line
/// in proportion.
fn left_out(amounts: &[f64], moved: &[Move], without: &[usize]) -> Vec<f64> {
    let is_left_out = |it: &&Move| without.contains(&it.candidate);
    let undone: f64 = moved.iter().filter(is_left_out).map(|it| it.gain_percent).sum();
    let others = || moved.iter().filter(|it| !is_left_out(it) && it.gain_percent * undone < 0.0);
    let opposite: f64 = others().map(|it| it.gain_percent).sum();
    let mut amounts = amounts.to_vec();
    for it in moved.iter().filter(is_left_out) {
        amounts[it.candidate] = (amounts[it.candidate] - it.gain_percent).max(0.0);
    }
    for it in others() {
        amounts[it.candidate] += undone * it.gain_percent / opposite;
    }
    amounts
}

/// Which of [`CARRIERS`] gains the most, or, where it goes down, loses the most: by mass on skin, else by
/// what it is worth.
fn kind_that_carries(skin: bool, up: bool, old: &Equilibrium, new: &Equilibrium) -> usize {
    let sign = if up { 1.0 } else { -1.0 };
    let worth = |state: &Equilibrium| {
        let solids = Solids::from(state);
        // Powder does not melt on skin, nor is it meant to.
        let counted = if skin { Solids { powder: 0.0, ..solids } } else { solids.worth() };
        counted.carriers()
    };
    let (before, mut gains) = (worth(old), worth(new));
    for (gain, before) in gains.iter_mut().zip(before) {
        *gain = sign * (*gain - before);
    }
    let most = gains.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    gains.iter().position(|gain| *gain >= most).unwrap_or(CARRIERS.len() - 1)
}

/// What it costs, or brings, in the cold.
fn in_the_cold(problem: &Problem, old: &Equilibrium, new: &Equilibrium) -> ReworkFinding {
    let coldest_c = problem.wishes.coldest_c;
    let (from_percent, to_percent) = (structure_percent(old), structure_percent(new));
    let (from, to) = (Firmness::of(from_percent), Firmness::of(to_percent));
    if from == to {
        ReworkFinding::ColdStays { coldest_c, class: to, from_percent, to_percent }
    } else {
        ReworkFinding::ColdChanges { coldest_c, from, to, from_percent, to_percent }
    }
}
