//! `rework`: the smallest change of a recipe that meets the wishes.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::{ErrorKind, Failure, Item, item, wishes::misses};
use crate::{
    behaviour::Wishes,
    recipe::{Line, unknown_ingredient},
    rework::{self as engine, Problem, Scope},
    substances::{self, Class},
};

/// `{"ask":"rework"}`; its wishes (`format`, `storage_c`, ..) are read as [`super::WishesRequest`].
#[derive(Clone, Debug, Deserialize)]
pub struct ReworkRequest {
    /// The recipe as it is; percentages sum to 100 within 0.01.
    pub recipe: Vec<Item>,
    /// What may be changed.
    #[serde(default)]
    pub limits: Limits,
}

/// What a rework may change.
#[derive(Clone, Debug, Deserialize)]
#[serde(default)]
pub struct Limits {
    /// The most wax, percent; at most 10, so that it stays a butter.
    pub wax_percent: f64,
    /// The most free fatty acid, percent.
    pub fatty_acid_percent: f64,
    /// The step of the scale, percent.
    pub step_percent: f64,
    /// The most lines that may change.
    pub changes: usize,
    /// Ingredients, by id or by own name, that stay as they are.
    pub locked: Vec<String>,
    /// Catalogue ids that may be added.
    pub pantry: Vec<String>,
    /// Bounds, percent, by id or by own name.
    pub bounds: BTreeMap<String, Bounds>,
}

impl Default for Limits {
    fn default() -> Self {
        Limits {
            wax_percent: 3.0,
            fatty_acid_percent: 6.0,
            step_percent: 0.5,
            changes: 3,
            locked: Vec::new(),
            pantry: Vec::new(),
            bounds: BTreeMap::new(),
        }
    }
}

/// The least and the most of one ingredient, percent.
#[derive(Clone, Copy, Debug, Deserialize, Serialize)]
pub struct Bounds {
    /// The least.
    #[serde(default)]
    pub min: f64,
    /// The most.
    #[serde(default = "hundred")]
    pub max: f64,
}

fn hundred() -> f64 {
    100.0
}

/// The answer to [`ReworkRequest`].
#[derive(Clone, Debug, Serialize)]
pub struct ReworkAnswer {
    /// The best first; each differs in kind from the others.
    pub proposals: Vec<Proposal>,
    /// How many recipes on the grid were decided: shown to be no better than the first proposal.
    pub examined: u64,
    /// What was done to be sure.
    pub proof: Proof,
}

/// What was done to be sure that nothing better is on the grid.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Proof {
    /// Sets of changing lines looked at.
    pub supports: u64,
    /// Recipes excluded by a bound that holds for a whole region of them.
    pub excluded_by_bound: u64,
    /// Recipes left out because a better one was known: a greater shift cannot win.
    pub excluded_by_merit: u64,
    /// Recipes solved one by one.
    pub solved: u64,
    /// Equilibria solved in all, those for bounds included.
    pub equilibria: u64,
}

/// One rework.
#[derive(Clone, Debug, Serialize)]
pub struct Proposal {
    /// The new recipe.
    pub recipe: Vec<Item>,
    /// What differs from the old one; empty when nothing needs to change.
    pub changes: Vec<Change>,
    /// Whether every wish is met.
    pub meets_all: bool,
    /// The wishes that are not met, and by how much.
    pub misses: Vec<Miss>,
    /// How much of the recipe moves, percent: the sum of what lines gain.
    pub shift_percent: f64,
    /// The class of ingredient that carries it, such as `hard-butter`; absent where nothing changes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lever: Option<Class>,
    /// Slip point, °C.
    pub slip_c: Option<f64>,
    /// Clear point, °C.
    pub clear_c: Option<f64>,
    /// Solid fat content where it matters, percent by mass.
    pub solid_percent: SolidAt,
    /// What it does and why, in a sentence.
    pub words: String,
}

/// One line that changes.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Change {
    /// The catalogue id, or the own name.
    pub id: String,
    /// Percent before; 0 for a newcomer.
    pub from_percent: f64,
    /// Percent after; 0 for one that leaves.
    pub to_percent: f64,
}

/// A wish that is not met.
#[derive(Clone, Debug, Serialize)]
pub struct Miss {
    /// Which wish, such as `firm-enough-at-hottest`.
    pub wish: String,
    /// What the recipe gives.
    pub found: f64,
    /// The least that would do, where there is one.
    pub low: Option<f64>,
    /// The most that would do, where there is one.
    pub high: Option<f64>,
    /// The same in a sentence.
    pub words: String,
}

/// Solid fat content where it matters, percent by mass.
#[derive(Clone, Copy, Debug, Serialize)]
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

/// Works out [`ReworkRequest`].
pub(super) fn rework(request: ReworkRequest, wishes: Wishes) -> Result<ReworkAnswer, Failure> {
    let problem = problem(&request, wishes)?;
    let outcome = engine::rework(&problem);
    if outcome.proposals.is_empty() {
        return Err(Failure::new(
            ErrorKind::Conflict,
            "limits",
            "no recipe within the bounds and caps is near enough: the recipe breaks one of them, and changing the lines allowed does not mend it; widen the limits, or allow more changes",
        ));
    }
    let proposals = outcome.proposals.iter().map(|found| proposal(&request, &problem, found)).collect();
    let proof = outcome.proof;
    Ok(ReworkAnswer {
        proposals,
        examined: proof.examined,
        proof: Proof {
            supports: proof.supports,
            excluded_by_bound: proof.excluded_by_bound,
            excluded_by_merit: proof.excluded_by_merit,
            solved: proof.solved,
            equilibria: proof.equilibria,
        },
    })
}

/// The question that a request asks.
fn problem(request: &ReworkRequest, wishes: Wishes) -> Result<Problem, Failure> {
    let limits = &request.limits;
    let recipe = item::recipe(&request.recipe)?;
    let pantry = limits
        .pantry
        .iter()
        .enumerate()
        .map(|(at, id)| {
            substances::find(id)
                .map(|found| Line::of(found, 0.0))
                .ok_or_else(|| unknown_ingredient(id, format!("limits.pantry[{at}]")))
        })
        .collect::<Result<_, _>>()?;
    let scope = Scope {
        step: limits.step_percent,
        changes: limits.changes,
        locked: limits.locked.clone(),
        bounds: limits.bounds.iter().map(|(key, bounds)| (key.clone(), (bounds.min, bounds.max))).collect(),
        caps: vec![(Class::Wax, limits.wax_percent), (Class::FattyAcid, limits.fatty_acid_percent)],
        prices: BTreeMap::new(),
        lead: None,
    };
    Problem::new(&recipe, pantry, wishes, &scope)
}

fn proposal(request: &ReworkRequest, problem: &Problem, found: &engine::Proposal) -> Proposal {
    let key = |at: usize| &problem.candidates[at].line.key;
    let recipe = problem
        .candidates
        .iter()
        .zip(&found.amounts)
        .filter(|(_, percent)| **percent > 0.0)
        .map(|(candidate, percent)| {
            let named = |item: &&Item| {
                item.name.as_deref() == Some(&candidate.line.key)
                    || item.id.as_deref() == Some(&candidate.line.key)
            };
            let asked = request.recipe.iter().find(named).cloned();
            let item =
                asked.unwrap_or_else(|| Item { id: Some(candidate.line.key.clone()), ..Item::default() });
            Item { percent: *percent, ..item }
        })
        .collect();
    let changes = found
        .changes
        .iter()
        .map(|change| Change {
            id: key(change.candidate).clone(),
            from_percent: change.from,
            to_percent: change.to,
        })
        .collect();
    let solid = |place| found.states.at(place).solid_percent;
    use crate::behaviour::Where;
    Proposal {
        recipe,
        changes,
        meets_all: found.misses.is_empty(),
        misses: misses(&problem.wishes, |place, quantity| engine::figure(quantity, found.states.at(place))),
        shift_percent: found.shift,
        lever: found.lever.map(|lever| lever.class),
        slip_c: found.slip_c,
        clear_c: found.clear_c,
        solid_percent: SolidAt {
            coldest: solid(Where::Coldest),
            usual: solid(Where::Usual),
            hottest: solid(Where::Hottest),
            skin: solid(Where::Skin),
        },
        words: found.words.clone(),
    }
}
