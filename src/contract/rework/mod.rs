//! `rework`: the smallest change of a recipe that meets the wishes.

mod cannot_be;
mod in_the_way;

pub use cannot_be::{CannotBe, CoolerStorage, FormatThatDoes};
pub use in_the_way::{Gives, LiftedLimit, LimitInTheWay, WhyNot};

use serde::{Deserialize, Serialize};

use super::{
    ErrorBand, ErrorKind, Failure, HearProgress, Item, Limits, Proof,
    check::within,
    feel, item,
    limits::UsualLimits,
    ranges::{WAX_PERCENT, WORK},
    written,
};
use crate::{
    behaviour::{
        Melting, Wishes,
        judgement::{self, Feel, Miss},
    },
    equilibrium::CrystalState,
    recipe::{Line, Recipe, unknown_ingredient},
    rework::{self as engine, Demand, Group, Problem, ReworkFinding, Scope},
    substances::{self, Class},
    surety::{Odds, Unknowns},
};

/// `{"ask":"rework"}`; its wishes (`format`, `storage_c`, ..) are read as [`super::WishesRequest`].
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct ReworkRequest {
    /// The recipe as it is; percentages sum to 100 within 0.01.
    pub recipe: Vec<Item>,
    /// What may be changed.
    #[serde(default)]
    pub limits: Limits,
    /// What to aim at; the wishes unless said otherwise.
    #[serde(default)]
    pub aim: Aim,
    /// Whether to say, where not every wish can be met, by how much each would have to give if the others are
    /// met.
    #[serde(default)]
    pub why_not: bool,
}

/// What a rework aims at.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Aim {
    /// To meet the wishes.
    #[default]
    Wishes,
    /// To be as close as can be to how the recipe behaves now: for replacing what is refused or out of stock.
    AsNow,
}

/// The answer to [`ReworkRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS), ts(optional_fields))]
pub struct ReworkAnswer {
    /// The best first; each differs in kind from the others.
    pub proposals: Vec<Proposal>,
    /// How many recipes on the grid were decided: solved, or shown to be no better than the first proposal.
    pub examined: u64,
    /// What was done to be sure.
    pub proof: Proof,
    /// Where `why_not` was asked and not every wish can be met: for each wish in the way, what it would have
    /// to give for all the others to be met, the least first; where no wish is enough alone, those that are
    /// together.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(test, ts(as = "Option<Vec<WhyNot>>", optional))]
    pub why_not: Vec<WhyNot>,
    /// Where `why_not` was asked and not every wish can be met as surely as was asked: for each limit without
    /// which a recipe gets further, that recipe; what gets furthest first. What is refused, what the trade
    /// uses at most, and actives are not lifted.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(test, ts(as = "Option<Vec<LimitInTheWay>>", optional))]
    pub limits_in_the_way: Vec<LimitInTheWay>,
    /// Where `why_not` was asked and not every wish can be met as surely as was asked: what can be had
    /// instead.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cannot_be: Option<CannotBe>,
    /// Whether the search went to its end; `false` where it was stopped, and a better recipe may be left, or
    /// what `why_not` says.
    pub complete: bool,
}

/// How far a `rework`, `rescue` or `seasons` has come.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS), ts(optional_fields))]
pub struct ReworkProgress {
    /// Recipes on the grid decided so far.
    pub decided: u64,
    /// Recipes to be decided, as far as is known: it grows when more lines must change.
    pub total: u64,
    /// Of a `rework`: the best recipe so far, when it is another than at the last report.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub best: Option<Proposal>,
}

impl ReworkProgress {
    pub(super) fn of(progress: engine::Progress, best: Option<Proposal>) -> ReworkProgress {
        ReworkProgress { decided: progress.decided, total: progress.total, best }
    }
}

/// One rework.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS), ts(optional_fields))]
pub struct Proposal {
    /// What is foreseen of the new recipe.
    #[serde(flatten)]
    pub after: Foreseen,
    /// What differs from the old one; empty when nothing needs to change.
    pub changes: Vec<Change>,
    /// How much of the recipe moves, percent: the sum of what lines gain.
    pub shift_percent: f64,
    /// What it costs the maker, percent of the recipe: half of what moves, where a percent of wax counts
    /// three times, one of an acid or an alcohol twice, and one of a butter that is taken out one and a half
    /// times; and 2 to 8 for each newcomer, by how common it is, 8 more for wax, and 4 more for an acid or an
    /// alcohol.
    pub effort: i64,
    /// The class of ingredient that carries it, such as `hard-butter`; absent where nothing changes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lever: Option<Class>,
    /// What it does, why and at what cost.
    pub findings: Vec<ReworkFinding>,
    /// What would be felt to differ from the recipe as it is; nothing of what nobody would feel. Told of
    /// answers to `rework`, `rescue` and `ladder`.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(test, ts(as = "Option<Vec<Feel>>", optional))]
    pub feel: Vec<Feel>,
}

impl Proposal {
    /// Its recipe, and where what it does to the feel is to stand.
    pub(super) fn recipe_and_feel(&mut self) -> (&[Item], &mut Vec<Feel>) {
        (&self.after.recipe, &mut self.feel)
    }
}

/// What is foreseen of a recipe.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Foreseen {
    /// The recipe.
    pub recipe: Vec<Item>,
    /// Whether every wish is met, and it keeps its shape at the hottest as surely as was asked; with the aim
    /// `as-now`, whether it is within half a point of how it is now.
    pub meets_all: bool,
    /// The wishes that are not met, and by how much; with the aim `as-now`, where it differs from now by half
    /// a point or more.
    pub misses: Vec<Miss>,
    /// Slip point, °C.
    pub slip_c: Option<f64>,
    /// Clear point, °C.
    pub clear_c: Option<f64>,
    /// Solid fat content where it matters, percent by mass.
    pub solid_percent: SolidAt,
    /// How sure it is.
    #[serde(flatten)]
    pub surety: HowSure,
}

/// How sure a recipe is.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct HowSure {
    /// How likely a batch does what is wanted, if lots vary as published.
    pub odds: Odds,
    /// How likely it keeps its shape at the hottest storage, in plain counts.
    pub holds: judgement::VerdictFinding,
    /// How far above the hottest storage it keeps its shape, K; negative where it does not; `null` where it
    /// never does.
    pub room_c: Option<f64>,
    /// How far solids and both points may be off, either way.
    pub band: ErrorBand,
}

/// One line that changes.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Change {
    /// The catalogue id, or the own name.
    pub id: String,
    /// Percent before; 0 for a newcomer.
    pub from_percent: f64,
    /// Percent after; 0 for one that leaves.
    pub to_percent: f64,
}

/// Solid fat content where it matters, percent by mass.
#[derive(Clone, Copy, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct SolidAt {
    /// At the coldest storage.
    pub coldest: f64,
    /// In the middle of the storage range.
    pub usual: f64,
    /// At the hottest storage.
    pub hottest: f64,
    /// At skin temperature.
    pub skin: f64,
}

/// Passes on how far a search has come; `false` where it is to stop.
pub(super) fn told(progress: engine::Progress, report: HearProgress) -> bool {
    report(&written(&ReworkProgress::of(progress, None)))
}

/// Works out [`ReworkRequest`], reporting on the way; stops early where a report is answered with `false`.
pub(super) fn rework(
    request: &ReworkRequest,
    wishes: Wishes,
    report: &mut dyn FnMut(&ReworkProgress) -> bool,
) -> Result<ReworkAnswer, Failure> {
    let problem = problem(request, wishes)?;
    let mut hear = |progress, best: Option<engine::Rework>| {
        let best = best.map(|best| proposal(request, &problem, &best));
        report(&ReworkProgress::of(progress, best))
    };
    let outcome = engine::rework(&problem, &mut hear);
    if outcome.proposals.is_empty() {
        return Err(Failure::new(
            ErrorKind::Conflict,
            "limits",
            "no recipe within the bounds and caps is near enough: the recipe breaks one of them, and changing the lines allowed does not mend it; widen the limits, add to the pantry, or allow 3 changes",
        ));
    }
    let proposals = outcome.proposals.iter().map(|found| proposal(request, &problem, found)).collect();
    let (mut why, mut lifted, mut instead) = (Vec::new(), Vec::new(), None);
    let mut complete = outcome.complete;
    if complete && request.aim == Aim::Wishes && request.why_not {
        let mut report = |progress| report(&ReworkProgress::of(progress, None));
        let mut watch = engine::Watch::after(&outcome.proof, problem.work, &mut report);
        if let Some(nearest) = outcome.proposals.first().filter(|it| !it.after.is_met()) {
            instead = cannot_be::cannot_be(request, &problem, nearest, &mut watch);
            why = in_the_way::wishes(request, &outcome.asked, nearest, &mut watch);
            lifted = in_the_way::limits(request, &problem, nearest, &mut watch);
        }
        complete = !watch.is_stopped();
    }
    let proof = outcome.proof;
    let mut answer = ReworkAnswer {
        proposals,
        examined: proof.decided(),
        proof: proof.into(),
        why_not: why,
        limits_in_the_way: lifted,
        cannot_be: instead,
        complete,
    };
    let ReworkAnswer { proposals, why_not, limits_in_the_way, cannot_be, .. } = &mut answer;
    let all = proposals
        .iter_mut()
        .chain(why_not.iter_mut().map(|it| &mut it.proposal))
        .chain(limits_in_the_way.iter_mut().map(|it| &mut it.proposal))
        .chain(cannot_be.iter_mut().flat_map(CannotBe::proposals));
    feel::tell(&problem.recipe(&problem.now()), &wishes, all.map(Proposal::recipe_and_feel));
    Ok(answer)
}

/// The question that a request asks.
pub(super) fn problem(request: &ReworkRequest, wishes: Wishes) -> Result<Problem, Failure> {
    let limits = &request.limits;
    if wishes.contradict() && request.aim == Aim::Wishes {
        let (format, firmness) = (written(&wishes.format), written(&wishes.firmness));
        return Err(Failure::new(
            ErrorKind::Conflict,
            "firmness",
            format!(
                "“{}” every day is too soft for the format “{}” to keep its shape: ask for a firmer one, or for another format",
                firmness.as_str().unwrap_or_default(),
                format.as_str().unwrap_or_default()
            ),
        ));
    }
    let recipe = item::recipe(&request.recipe)?;
    let pantry = limits
        .pantry
        .iter()
        .flatten()
        .enumerate()
        .map(|(at, id)| {
            substances::find(id)
                .map(|found| Line::of(found, 0.0))
                .ok_or_else(|| unknown_ingredient(id, format!("limits.pantry[{at}]")))
        })
        .collect::<Result<_, Failure>>()?;
    if let Some(percent) = limits.wax_percent {
        within(percent, WAX_PERCENT, "limits.wax_percent", "the cap on wax", "%")?;
    }
    let usual = UsualLimits::of(&recipe, wishes.format);
    let scope = Scope {
        step: limits.step_percent,
        changes: limits.changes as usize,
        locked: limits.locked.clone(),
        bounds: limits.bounds.iter().map(|(key, bounds)| (key.clone(), (bounds.min, bounds.max))).collect(),
        caps: vec![
            (Group::Class(Class::Wax), limits.wax_percent.unwrap_or(usual.wax_percent)),
            (Group::Class(Class::FattyAcid), limits.fatty_acid_percent.unwrap_or(usual.fatty_acid_percent)),
            (
                Group::Class(Class::FattyAlcohol),
                limits.fatty_alcohol_percent.unwrap_or(usual.fatty_alcohol_percent),
            ),
            (Group::Powder, limits.powder_percent.unwrap_or(usual.powder_percent)),
        ],
        prices: limits.prices.clone(),
        keep_lead: limits.keep_lead,
        actives: limits.actives.clone(),
        refuse: limits.refuse.clone(),
        ceilings: limits.use_ceilings,
        surety: limits.surety,
        work: limits.work,
    };
    let mut problem = Problem::new(&recipe, pantry, wishes, &scope)?;
    if let Some(work) = limits.work {
        within(work as f64, WORK, "limits.work", "the work of a search", "equilibria")?;
    }
    if request.aim == Aim::AsNow {
        problem.demands = Demand::as_now(&recipe, &problem.wishes);
    }
    Ok(problem)
}

pub(super) fn proposal(request: &ReworkRequest, problem: &Problem, found: &engine::Rework) -> Proposal {
    let key = |at: usize| &problem.candidates[at].line.key;
    let changes = found
        .changes
        .iter()
        .map(|change| Change {
            id: key(change.candidate).clone(),
            from_percent: change.from,
            to_percent: change.to,
        })
        .collect();
    Proposal {
        after: foreseen(request, problem, &found.after),
        changes,
        shift_percent: found.shift,
        effort: found.effort,
        lever: found.lever.map(|lever| lever.class),
        findings: found.findings.clone(),
        feel: Vec::new(),
    }
}

/// What is foreseen of a recipe, as it is told.
pub(super) fn foreseen(request: &ReworkRequest, problem: &Problem, found: &engine::Forecast) -> Foreseen {
    let states = &found.states;
    let recipe = problem.recipe(&found.amounts);
    Foreseen {
        recipe: items(request, problem, &found.amounts),
        meets_all: found.is_met(),
        misses: found.misses.iter().map(|it| Miss::of(&problem.wishes, &it.band, it.found)).collect(),
        slip_c: found.slip_c,
        clear_c: found.clear_c,
        solid_percent: SolidAt {
            coldest: states.coldest.solid_percent,
            usual: states.usual.solid_percent,
            hottest: states.hottest.solid_percent,
            skin: states.skin.solid_percent,
        },
        surety: HowSure::of(&recipe, &problem.wishes),
    }
}

impl HowSure {
    fn of(recipe: &Recipe, wishes: &Wishes) -> HowSure {
        let mixture = recipe.mixture(CrystalState::Settled);
        let mut settled = Melting::of(&mixture);
        let spread = Unknowns::of(recipe).spread(wishes, &mut settled);
        let softening_c = settled.softens_c(wishes.format.least_percent(), wishes.format.held_by().figure());
        HowSure {
            room_c: softening_c.map(|softening_c| softening_c - wishes.hottest_c),
            band: ErrorBand::of_spread(recipe, &spread),
            holds: judgement::in_counts(spread.odds.holds),
            odds: spread.odds,
        }
    }
}

/// A recipe of the candidates as it is written: each line as it was asked, with its new percentage.
fn items(request: &ReworkRequest, problem: &Problem, amounts: &[f64]) -> Vec<Item> {
    problem
        .candidates
        .iter()
        .zip(amounts)
        .filter(|(_, percent)| **percent > 0.0)
        .map(|(candidate, percent)| {
            let key = candidate.line.key.as_str();
            let asked = request.recipe.iter().find(|item| item.key() == key).cloned();
            let item = asked.unwrap_or_else(|| Item { id: Some(key.to_owned()), ..Item::default() });
            Item { percent: *percent, ..item }
        })
        .collect()
}
