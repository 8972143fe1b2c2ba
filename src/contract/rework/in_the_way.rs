//! What stands in the way of a rework: wishes that would have to give, and limits that could be lifted.

use serde::Serialize;

use super::{Proposal, ReworkRequest, problem, proposal};
use crate::{
    behaviour::{Format, Wish},
    contract::limits::{
        FATTY_ACID_PERCENT, FATTY_ALCOHOL_PERCENT, Limits, POWDER_PERCENT, usual_wax_percent,
    },
    rework::{self as engine, Group, Problem},
    substances::{self, Class},
};

/// What one wish would have to give, or several together.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct WhyNot {
    /// Which wish.
    pub wish: Wish,
    /// Percent points that it is missed by when all the others are met.
    pub gives_points: f64,
    /// The wishes that have to give with it, where it is not enough alone.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(test, ts(as = "Option<Vec<Gives>>", optional))]
    pub with: Vec<Gives>,
    /// The recipe that does so.
    pub proposal: Proposal,
}

/// What a wish has to give with another.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Gives {
    /// Which wish.
    pub wish: Wish,
    /// Percent points that it is missed by.
    pub gives_points: f64,
}

/// A limit without which a recipe gets further: it holds more surely, or misses fewer wishes.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS), ts(optional_fields))]
pub struct LimitInTheWay {
    /// Which limit.
    pub limit: LiftedLimit,
    /// Of `locked` and `bounds`: which line.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub key: Option<String>,
    /// What `limit` would be instead: percent of a cap or of the step, a number of lines; absent where it has
    /// no figure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<f64>,
    /// The recipe that there is then.
    pub proposal: Proposal,
}

/// A limit that can be lifted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum LiftedLimit {
    /// The most wax.
    Wax,
    /// The most fatty acid.
    FattyAcid,
    /// The most fatty alcohol.
    FattyAlcohol,
    /// The most powder.
    Powder,
    /// How many lines may change.
    Changes,
    /// That the butter that leads goes on to.
    KeepLead,
    /// A line that stays as it is.
    Locked,
    /// The least and the most of one ingredient.
    Bounds,
    /// What may be added: with what most kitchens have.
    Pantry,
    /// The step of the scale.
    Step,
}

/// For each wish that stands in the way, what it would have to give.
pub(super) fn wishes(
    request: &ReworkRequest,
    problem: &Problem,
    nearest: &engine::Rework,
    watch: &mut engine::Watch<'_>,
) -> Vec<WhyNot> {
    let mut found = engine::why_not(problem, nearest, watch);
    let total = |of: &engine::Spared| of.wishes.iter().map(|(_, points)| points).sum::<f64>();
    found.sort_by(|a, b| total(a).total_cmp(&total(b)));
    let tell = |spared: &engine::Spared| {
        let mut gives =
            spared.wishes.iter().map(|(wish, points)| Gives { wish: *wish, gives_points: *points });
        let first = gives.next()?;
        Some(WhyNot {
            wish: first.wish,
            gives_points: first.gives_points,
            with: gives.collect(),
            proposal: proposal(request, problem, &spared.proposal),
        })
    };
    found.iter().filter_map(tell).collect()
}

/// The most wax that a butter in a pot is let have where the usual cap is in the way, percent: with that it
/// is a balm, which its findings say (common practice, no source).
const BALM_WAX_PERCENT: f64 = 12.0;

/// The step that a coarser one is lifted to, percent.
const FINE_STEP_PERCENT: f64 = 0.5;

/// A limit lifted, and the question without it.
struct Lifted {
    limit: LiftedLimit,
    key: Option<String>,
    limits: Limits,
}

/// For each limit that is in the way, the recipe that there is without it; what gets furthest first.
pub(super) fn limits(
    request: &ReworkRequest,
    asked: &Problem,
    nearest: &engine::Rework,
    watch: &mut engine::Watch<'_>,
) -> Vec<LimitInTheWay> {
    let with_all = engine::Standing::of(asked, nearest);
    let mut found: Vec<(engine::Standing, i64, LimitInTheWay)> = Vec::new();
    for lifted in all_lifted(request, asked) {
        let request = ReworkRequest { limits: lifted.limits, ..request.clone() };
        // A limit may hold together what cannot be asked without it: then there is nothing to tell.
        let Ok(problem) = problem(&request, asked.wishes) else { continue };
        let Some((standing, further)) = engine::further(&problem, with_all, watch) else { continue };
        let to = figure_of(lifted.limit, &problem, &further);
        let told = proposal(&request, &problem, &further);
        found.push((
            standing,
            further.effort,
            LimitInTheWay { limit: lifted.limit, key: lifted.key, to, proposal: told },
        ));
    }
    found.sort_by_key(|(standing, effort, _)| (*standing, *effort));
    found.into_iter().map(|(_, _, told)| told).collect()
}

/// What a limit has to be for a recipe: of a cap what the recipe holds, so that no more is lifted than is
/// needed.
fn figure_of(limit: LiftedLimit, problem: &Problem, found: &engine::Rework) -> Option<f64> {
    let holds = |group: Group| {
        let held =
            problem.candidates.iter().zip(&found.after.amounts).filter(|(it, _)| group.counts(&it.line));
        Some(held.map(|(_, percent)| percent).sum())
    };
    match limit {
        LiftedLimit::Changes => Some(found.changes.len() as f64),
        LiftedLimit::Step => Some(problem.step),
        LiftedLimit::KeepLead | LiftedLimit::Locked | LiftedLimit::Bounds | LiftedLimit::Pantry => None,
        _ => group_of(limit).and_then(holds),
    }
}

/// What a cap counts.
fn group_of(limit: LiftedLimit) -> Option<Group> {
    match limit {
        LiftedLimit::Wax => Some(Group::Class(Class::Wax)),
        LiftedLimit::FattyAcid => Some(Group::Class(Class::FattyAcid)),
        LiftedLimit::FattyAlcohol => Some(Group::Class(Class::FattyAlcohol)),
        LiftedLimit::Powder => Some(Group::Powder),
        _ => None,
    }
}

/// How common an ingredient is that most kitchens have.
const IN_MOST_KITCHENS: u8 = 3;

/// The oil that is offered where the question has none: of oils one does what any does.
const AN_OIL: &str = "sunflower-oil";

/// What most kitchens have to harden or to soften with, besides what may be used already; the search leaves
/// out what is refused.
fn usual_besides(asked: &Problem) -> Vec<&'static str> {
    let has_oil = asked.candidates.iter().any(|it| it.line.class == Class::LiquidOil);
    let offers = |it: &substances::Ingredient| match it.class() {
        Class::HardButter | Class::SoftButter | Class::FattyAcid | Class::FattyAlcohol | Class::Wax => true,
        Class::LiquidOil => !has_oil && it.id() == AN_OIL,
        Class::Other => false,
    };
    let is_new = |id: &str| asked.candidates.iter().all(|it| it.line.key != id);
    let common = substances::catalogue().iter().filter(|it| it.commonness() >= IN_MOST_KITCHENS);
    common.filter(|it| offers(it)).map(|it| it.id()).filter(|id| is_new(id)).collect()
}

/// Where a cap stands among the limits.
type CapOf = fn(&mut Limits) -> &mut Option<f64>;

/// Every limit that can be lifted, each alone.
fn all_lifted(request: &ReworkRequest, asked: &Problem) -> Vec<Lifted> {
    let limits = &request.limits;
    let mut all = Vec::new();
    let mut lift = |limit, key: Option<&str>, change: &dyn Fn(&mut Limits)| {
        let mut limits = limits.clone();
        change(&mut limits);
        all.push(Lifted { limit, key: key.map(str::to_owned), limits });
    };
    let cap = |group| asked.caps.iter().find(|(it, _)| *it == group).map_or(0.0, |(_, cap)| *cap);
    let can_hold = |group: Group| asked.candidates.iter().any(|it| group.counts(&it.line));
    let is_lower = |limit, most: f64| group_of(limit).is_some_and(|it| can_hold(it) && cap(it) < most);
    let most_wax = match asked.wishes.format {
        Format::Whipped | Format::Pot => BALM_WAX_PERCENT,
        other => usual_wax_percent(other),
    };
    let caps: [(LiftedLimit, f64, CapOf); 4] = [
        (LiftedLimit::Wax, most_wax, |it| &mut it.wax_percent),
        (LiftedLimit::FattyAcid, FATTY_ACID_PERCENT, |it| &mut it.fatty_acid_percent),
        (LiftedLimit::FattyAlcohol, FATTY_ALCOHOL_PERCENT, |it| &mut it.fatty_alcohol_percent),
        (LiftedLimit::Powder, POWDER_PERCENT, |it| &mut it.powder_percent),
    ];
    for (limit, most, of) in caps {
        if is_lower(limit, most) {
            lift(limit, None, &|it| *of(it) = Some(most));
        }
    }
    let most_changes = *engine::CHANGES.end() as u32;
    if limits.changes < most_changes {
        lift(LiftedLimit::Changes, None, &|it| it.changes = most_changes);
    }
    if asked.lead.is_some() {
        lift(LiftedLimit::KeepLead, None, &|it| it.keep_lead = false);
    }
    for key in &limits.locked {
        lift(LiftedLimit::Locked, Some(key), &|it| it.locked.retain(|locked| locked != key));
    }
    for key in limits.bounds.keys() {
        lift(LiftedLimit::Bounds, Some(key), &|it| {
            it.bounds.remove(key);
        });
    }
    let more = usual_besides(asked);
    if !more.is_empty() {
        lift(LiftedLimit::Pantry, None, &|it| {
            it.pantry.get_or_insert_default().extend(more.iter().map(|id| (*id).to_owned()))
        });
    }
    if limits.step_percent > FINE_STEP_PERCENT {
        lift(LiftedLimit::Step, None, &|it| it.step_percent = FINE_STEP_PERCENT);
    }
    all
}
