//! `plan`: which pots to make next.

use serde::{Deserialize, Serialize};

use super::{
    LotRequest, Observation, PotLine, SeenSign,
    bench::{NamedBench, too_many},
    observation::pot_format,
    series::{SeriesAnswer, SeriesRequest},
};
use crate::{
    behaviour::Format,
    contract::{ErrorKind, Failure, check::within, ranges::*},
    equilibrium::CrystalState,
    recipe::Line,
    substances::Class,
    surety::learned::{Looked, Measured, Pot, PotCandidate},
};

/// The most pots to choose from.
const MOST_POTS: usize = 24;
/// The most temperatures to keep them at.
const MOST_TEMPERATURES: usize = 24;

/// `{"ask":"plan"}`: which pots to make next, so as to know best where a recipe softens, or which of two
/// softens higher; and a ratio series for a classroom.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct PlanRequest {
    /// The lots, as in `learn`.
    pub lots: Vec<LotRequest>,
    /// What was seen so far, as in `learn`.
    #[serde(default)]
    pub observations: Vec<Observation>,
    /// The recipe that matters.
    pub recipe: Vec<PotLine>,
    /// How it is sold; a pot unless said otherwise.
    #[serde(default = "pot_format")]
    pub format: Format,
    /// Another recipe to choose it from; absent: none.
    #[serde(default)]
    pub beside: Vec<PotLine>,
    /// The pots to choose from; absent: the recipe, each of its butters alone,
    /// and blends of two of its lines.
    #[serde(default)]
    pub pots: Vec<Vec<PotLine>>,
    /// The temperatures that the maker can keep a pot at overnight, °C.
    #[serde(default)]
    pub at_c: Vec<f64>,
    /// Whether a slip tube in a warming water bath is at hand.
    #[serde(default)]
    pub water_bath: bool,
    /// How temperatures will be measured; with a kitchen thermometer unless said otherwise.
    #[serde(default)]
    pub measured: Measured,
    /// Which thermometer of that kind.
    pub thermometer: Option<String>,
    /// How many pots to plan, 1 to 3; 2 unless said otherwise.
    #[serde(default = "two")]
    pub most: u32,
    /// How much a pot weighs, g, also of the series; 20 unless said otherwise.
    #[serde(default = "twenty")]
    pub grams: f64,
    /// A ratio series to plan beside; absent: none.
    pub series: Option<SeriesRequest>,
}

fn two() -> u32 {
    2
}

fn twenty() -> f64 {
    20.0
}

/// The answer to [`PlanRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct PlanAnswer {
    /// What is unknown now of where the recipe softens by its lots, K, as a standard deviation; beside
    /// another recipe, of how much higher it does.
    pub now_k: f64,
    /// Whether the first pot narrows that by as much as a maker would notice: ± 0.1 °C, nine times in ten.
    /// Otherwise another pot will not tell more.
    pub worth_it: bool,
    /// The pots, the one that tells most first. Make the first, say what was seen, and ask again: that tells
    /// far more than to make all at once.
    pub pots: Vec<PlannedPot>,
    /// What would be left after two, one at a time, K; `null` where only one is planned.
    pub one_by_one_k: Option<f64>,
    /// The ratio series; `null` where none was asked for.
    pub series: Option<SeriesAnswer>,
}

/// A pot to make.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct PlannedPot {
    /// What to make it of.
    pub recipe: Vec<PotLine>,
    /// How much of each, g.
    pub grams: Vec<f64>,
    /// What to look for: `held` (or not), or `slipped`.
    pub seen: SeenSign,
    /// Where to keep it, °C; `null` for a slip point.
    pub at_c: Option<f64>,
    /// Where, by all that is known, it will slip or soften, °C.
    pub expected_c: f64,
    /// Nine in ten such readings lie so near to that, K.
    pub within_k: f64,
    /// How likely it holds there; `null` for a slip point.
    pub holds: Option<f64>,
    /// What would be left unknown after it and those before it, K.
    pub left_k: f64,
}

/// Works out [`PlanRequest`].
pub(in crate::contract) fn plan(request: PlanRequest) -> Result<PlanAnswer, Failure> {
    let mut named = NamedBench::of(&request.lots, &request.observations)?;
    too_many("pots", request.pots.len(), MOST_POTS)?;
    too_many("at_c", request.at_c.len(), MOST_TEMPERATURES)?;
    within(f64::from(request.most), (1.0, 3.0), "most", "how many pots to plan", "")?;
    within(request.grams, BATCH_G, "grams", "the weight of a pot", "g")?;
    for (at, celsius) in request.at_c.iter().enumerate() {
        within(*celsius, SEEN_C, &format!("at_c[{at}]"), "the temperature to keep it at", "°C")?;
    }
    if request.at_c.is_empty() && !request.water_bath {
        return Err(Failure::new(
            ErrorKind::Empty,
            "at_c",
            "there is no way to look at a pot: give temperatures that one can be kept at, or say that a water bath is at hand",
        ));
    }
    let settled = |lines| Pot { lines, format: request.format, state: CrystalState::Settled };
    let recipe = settled(named.lines(&request.recipe, "recipe")?);
    let beside = match &request.beside[..] {
        [] => None,
        beside => Some(settled(named.lines(beside, "beside")?)),
    };
    let mut pots: Vec<Vec<(usize, f64)>> = Vec::new();
    for (at, pot) in request.pots.iter().enumerate() {
        pots.push(named.lines(pot, &format!("pots[{at}]"))?);
    }
    if pots.is_empty() {
        pots = usual_pots(&recipe, &named.bench.lots);
    }
    let series = match &request.series {
        Some(series) => Some((named.ends_of(series)?, series)),
        None => None,
    };
    let thermometer = named.thermometer(request.measured, request.thermometer.clone());
    let mut candidates: Vec<PotCandidate> = Vec::new();
    for lines in &pots {
        let pot = settled(lines.clone());
        let mut add = |looked| candidates.push(PotCandidate { pot: pot.clone(), looked, thermometer });
        request.at_c.iter().for_each(|at_c| add(Looked::HoldsAt(*at_c)));
        if request.water_bath {
            add(Looked::Slips);
        }
    }
    let learned = named.bench.learn();
    let bench = &named.bench;
    let plan = learned.plan(bench, &recipe, beside.as_ref(), &candidates, request.most as usize);
    let pots = plan.planned.iter().map(|planned| {
        let PotCandidate { pot, looked, .. } = &candidates[planned.candidate];
        let (seen, at_c) = match looked {
            Looked::HoldsAt(at_c) => (SeenSign::Held, Some(*at_c)),
            Looked::Slips => (SeenSign::Slipped, None),
        };
        PlannedPot {
            recipe: pot.lines.iter().map(|line| named.told(*line)).collect(),
            grams: pot.lines.iter().map(|(_, percent)| 0.01 * percent * request.grams).collect(),
            seen,
            at_c,
            expected_c: planned.expected_c,
            within_k: planned.within_k,
            holds: planned.holds,
            left_k: planned.left_k,
        }
    });
    let series = series.map(|(ends, asked)| {
        let most_percent = asked.most_percent;
        let series = learned.series(bench, ends, most_percent, asked.doses as usize, thermometer);
        SeriesAnswer::of(series, request.grams)
    });
    Ok(PlanAnswer {
        now_k: plan.now_k,
        worth_it: plan.is_worth_it,
        pots: pots.collect(),
        one_by_one_k: plan.one_by_one_k,
        series,
    })
}

/// The pots that a recipe's lots offer: the recipe itself, each of its butters alone, and each butter with
/// each other line. Two butters, or a butter and an oil, go half and half; of a wax, an acid or an alcohol
/// there is as much as in the recipe, within 2 to 50 %.
fn usual_pots(recipe: &Pot, lots: &[Line]) -> Vec<Vec<(usize, f64)>> {
    let is_butter = |lot: usize| matches!(lots[lot].class, Class::HardButter | Class::SoftButter);
    let mut pots: Vec<Vec<(usize, f64)>> = vec![recipe.lines.clone()];
    let mut add = |lines: Vec<(usize, f64)>| {
        if !pots.contains(&lines) && pots.len() < MOST_POTS {
            pots.push(lines);
        }
    };
    for (lot, _) in recipe.lines.iter().filter(|(lot, _)| is_butter(*lot)) {
        add(vec![(*lot, 100.0)]);
    }
    for (one, _) in recipe.lines.iter().filter(|(lot, _)| is_butter(*lot)) {
        for (other, percent) in recipe.lines.iter().filter(|(lot, _)| lot != one) {
            let is_additive =
                matches!(lots[*other].class, Class::Wax | Class::FattyAcid | Class::FattyAlcohol);
            let share = if is_additive { percent.clamp(2.0, 50.0) } else { 50.0 };
            add(vec![(*one, 100.0 - share), (*other, share)]);
        }
    }
    pots
}
