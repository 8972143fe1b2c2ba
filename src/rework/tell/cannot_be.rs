//! What can be had where what is asked for cannot: how much heat, and whether what comes nearest is worth a
//! maker's while.

use serde::Serialize;

use super::{
    proposal::{Rework, told},
    why_not::Standing,
};
use crate::{
    behaviour::{Firmness, OnSkin, Where, Wishes},
    rework::{
        question::{Problem, Rung},
        search::{self, Hottest, Watch},
    },
};

/// The most heat that can be borne with what else is wished for, or with as much of that as can be had at
/// all.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
#[allow(missing_docs, reason = "a figure is what its name says, in the unit that its name ends in")]
pub enum AtMost {
    /// It can hold to here, which is all that is wished for.
    Holds { holds_to_c: f64 },
    /// The same, and do on skin what is wanted.
    HoldsOnSkin { holds_to_c: f64, on_skin: OnSkin },
    /// The same, and be of the class that is wanted.
    HoldsAsFirm { holds_to_c: f64, class: Firmness },
    /// All of it.
    HoldsAsFirmOnSkin { holds_to_c: f64, class: Firmness, on_skin: OnSkin },
    /// It is of the class that is wanted with no storage; without that, it can hold to here.
    NotAsFirm { holds_to_c: f64, class: Firmness },
    /// The same, and do on skin what is wanted.
    OnSkinNotAsFirm { holds_to_c: f64, class: Firmness, on_skin: OnSkin },
    /// Nothing that holds does on skin what is wanted; without that, and of whatever class, it can hold to
    /// here.
    HoldsAlone { holds_to_c: f64 },
    /// Stored as cold as it ever is, nothing holds.
    NotEvenCold { coldest_c: f64 },
}

/// A wish that is given up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum GivenUp {
    /// How firm it is.
    Firmness,
    /// What it does on skin.
    OnSkin,
}

/// The hottest storage at which what is wished for can be had, or as much of that as can be, and the recipe
/// for it.
#[derive(Clone)]
pub struct AtMostFound {
    /// °C.
    pub hottest_c: f64,
    /// What is not had.
    pub given_up: Vec<GivenUp>,
    /// The question with that storage, without what is given up.
    pub problem: Problem,
    /// The best recipe for it.
    pub proposal: Rework,
}

/// The most heat that can be borne with all else that is wished for; where that cannot be however cool it is
/// stored, without the wish for firmness, then without any other; and the recipe that does. `None` where the
/// search was stopped. That nothing does what is asked must be known.
pub fn holds_at_most(problem: &Problem, watch: &mut Watch<'_>) -> Option<(AtMost, Option<AtMostFound>)> {
    let asked = problem.wishes;
    let loose = Wishes { firmness: None, ..asked };
    let alone = Wishes { on_skin: None, ..loose };
    let mut given_up = Vec::new();
    // What was not wished for is not given up: that would be the same question.
    let without_firmness = asked.firmness.map(|_| (loose, Some(GivenUp::Firmness)));
    let without_skin = asked.on_skin.map(|_| (alone, Some(GivenUp::OnSkin)));
    for (wishes, gives) in [Some((asked, None)), without_firmness, without_skin].into_iter().flatten() {
        given_up.extend(gives);
        let question = Problem { wishes, ..problem.clone() };
        let found = search::holds_at_most(&question, given_up.is_empty(), watch);
        if watch.is_stopped() {
            return None;
        }
        if let Some(Hottest { problem, found }) = found {
            let hottest_c = problem.wishes.hottest_c;
            let at_most = at_most(&asked, &wishes, hottest_c);
            let proposal = told(&problem, found);
            return Some((at_most, Some(AtMostFound { hottest_c, given_up, problem, proposal })));
        }
    }
    Some((AtMost::NotEvenCold { coldest_c: asked.temperature_c(Where::Coldest) }, None))
}

/// What is told of holding to here, where this is kept of what was asked.
fn at_most(asked: &Wishes, kept: &Wishes, holds_to_c: f64) -> AtMost {
    match (asked.firmness, kept.firmness, asked.on_skin, kept.on_skin) {
        (.., Some(_), None) => AtMost::HoldsAlone { holds_to_c },
        (None, _, None, _) => AtMost::Holds { holds_to_c },
        (None, _, Some(on_skin), _) => AtMost::HoldsOnSkin { holds_to_c, on_skin },
        (Some(class), Some(_), None, _) => AtMost::HoldsAsFirm { holds_to_c, class },
        (Some(class), Some(_), Some(on_skin), _) => AtMost::HoldsAsFirmOnSkin { holds_to_c, class, on_skin },
        (Some(class), None, None, _) => AtMost::NotAsFirm { holds_to_c, class },
        (Some(class), None, Some(on_skin), _) => AtMost::OnSkinNotAsFirm { holds_to_c, class, on_skin },
    }
}

/// The best recipe that does all that a question asks, where there is one.
pub fn meets_all(problem: &Problem, watch: &mut Watch<'_>) -> Option<Rework> {
    search::meets_all(problem, watch).map(|found| told(problem, found))
}

/// Whether a maker would feel that a recipe is nearer to what is asked than the one there is: it holds in
/// more batches, or as often and meets more wishes. What hardly ever holds is melted on the hottest day,
/// whether it gave way two degrees below or six. A recipe that may not stay as it is needs an answer in any
/// case.
pub fn is_felt(problem: &Problem, proposal: &Rework) -> bool {
    let now = problem.amounts();
    if !problem.admits(&now) {
        return true;
    }
    let rungs = Rung::from(problem.surety, &problem.wishes);
    let at_hottest = rungs.iter().filter(|rung| rung.cooler_k == 0.0).count();
    let standing = |of: &Rework| Standing::of(problem, of).with_rungs(at_hottest);
    standing(proposal) < standing(&Rework::of(problem, &now))
}
