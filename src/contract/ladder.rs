//! `ladder`: what surety costs, rung by rung.

use serde::Serialize;

use super::{Failure, Proposal, ReworkProgress, ReworkRequest, feel, rework};
use crate::{behaviour::Wishes, rework as engine, surety::Surety};

/// The answer to `{"ask":"ladder"}`, which takes the fields of [`ReworkRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LadderAnswer {
    /// The least effort for each rung that can be reached, the least sure first. The first is the recipe as
    /// it is, where the limits let it stay so; what one change reaches is not told twice.
    pub rungs: Vec<LadderRung>,
    /// Whether the search went to its end; `false` where it was stopped, and a rung may be missing.
    pub complete: bool,
}

/// One rung.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LadderRung {
    /// That it keeps its shape at the hottest storage has these odds at least, 0 to 1; 0 where less
    /// than a quarter of batches hold.
    pub odds_at_least: f64,
    /// What `limits.surety` asks for it; `null` below what can be asked for.
    pub surety: Option<Surety>,
    /// The recipe.
    pub proposal: Proposal,
}

/// Works out `{"ask":"ladder"}`.
pub(super) fn ladder(
    request: &ReworkRequest,
    wishes: Wishes,
    report: &mut dyn FnMut(&ReworkProgress) -> bool,
) -> Result<LadderAnswer, Failure> {
    let problem = rework::problem(request, wishes)?;
    let mut hear = |progress, _: Option<engine::Rework>| report(&ReworkProgress::of(progress, None));
    let ladder = engine::ladder(&problem, &mut hear);
    let rung = |(odds_at_least, found): &(f64, engine::Rework)| LadderRung {
        odds_at_least: *odds_at_least,
        surety: Surety::ALL.into_iter().find(|it| it.odds() == *odds_at_least),
        proposal: rework::proposal(request, &problem, found),
    };
    let mut rungs: Vec<LadderRung> = ladder.rungs.iter().map(rung).collect();
    let all = rungs.iter_mut().map(|it| it.proposal.recipe_and_feel());
    feel::tell(&problem.recipe(&problem.now()), &wishes, all);
    Ok(LadderAnswer { rungs, complete: ladder.complete })
}
