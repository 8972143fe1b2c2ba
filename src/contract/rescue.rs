//! `rescue`: what to melt into a batch that is made.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::{ErrorKind, Failure, Foreseen, Proof, ReworkRequest, feel, ranges::MADE_G, rework};
use crate::{
    behaviour::{Wishes, judgement::Feel},
    rework::{self as engine, Batch, ReworkFinding},
};

/// The part of `{"ask":"rescue"}` that is its own: a `rework` of a batch that is made, from which
/// nothing can be taken. Its recipe, wishes and limits are read as those of `rework`; `changes`
/// and `step_percent` do not matter.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct RescueRequest {
    /// The batch.
    pub made: Made,
}

/// A batch that is made.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS), ts(optional_fields))]
pub struct Made {
    /// What was made, g.
    pub grams: f64,
    /// What of it is used, sold or lost, g.
    #[serde(default)]
    pub used_grams: f64,
    /// The step of the scale, g. Unless said otherwise 1, or for more than 1 kg the least of 2, 5, 10, 20,
    /// 50.. that is no less than a thousandth of what is there: nobody weighs 20 kg to a gram.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub step_grams: Option<f64>,
    /// The most to melt in, g; half of what is there unless said otherwise.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub most_grams: Option<f64>,
}

/// A batch that was rescued, as it is weighed: what it was, and what is melted into it. The recipe beside it
/// is that of both together.
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Rescued {
    /// The batch before, g.
    pub batch_grams: f64,
    /// What is melted into it, g, by id or own name.
    pub added: BTreeMap<String, f64>,
}

/// The answer to [`RescueRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct RescueAnswer {
    /// The best first; each adds another kind of ingredient.
    pub proposals: Vec<Addition>,
    /// How many ways were decided.
    pub examined: u64,
    /// What was done to be sure.
    pub proof: Proof,
    /// Whether the search went to its end; `false` where it was stopped: less may do, or
    /// nothing may have been found yet.
    pub complete: bool,
}

/// What to melt in.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Addition {
    /// What, and how much; empty where nothing is needed.
    pub add: Vec<Added>,
    /// How much there is afterwards, g.
    pub grams: f64,
    /// What is foreseen of the batch then.
    #[serde(flatten)]
    pub after: Foreseen,
    /// What it does, why and at what cost.
    pub findings: Vec<ReworkFinding>,
    /// What would be felt to differ from the batch as it is; nothing of what nobody would feel.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(test, ts(as = "Option<Vec<Feel>>", optional))]
    pub feel: Vec<Feel>,
}

/// One ingredient that is melted in.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Added {
    /// The catalogue id, or the own name.
    pub id: String,
    /// g.
    pub grams: f64,
}

/// Works out [`RescueRequest`].
pub(super) fn rescue(
    request: &ReworkRequest,
    made: &RescueRequest,
    wishes: Wishes,
    report: engine::Report<'_>,
) -> Result<RescueAnswer, Failure> {
    let batch = batch(&made.made)?;
    let problem = rework::problem(request, wishes)?;
    if let Some(stuck) = problem.candidates.iter().find(|it| it.bounds.1 <= 0.0 && it.now > 0.0) {
        let refused = request.limits.refuse.iter().position(|word| stuck.is_meant(word));
        return Err(Failure::new(
            ErrorKind::Conflict,
            // A bound of 0 holds it out as well as a refusal does.
            refused.map_or_else(
                || format!("limits.bounds.{}", stuck.line.key),
                |at| format!("limits.refuse[{at}]"),
            ),
            format!(
                "{} is refused but is in the batch, and nothing can be taken out: drop the refusal, or make it anew",
                stuck.line.key
            ),
        ));
    }
    let rescued = engine::rescue(&problem, batch, report);
    let mut proposals: Vec<Addition> = rescued
        .found
        .iter()
        .map(|it| Addition {
            add: it
                .add
                .iter()
                .map(|(line, grams)| Added { id: problem.candidates[*line].line.key.clone(), grams: *grams })
                .collect(),
            grams: batch.grams + it.add.iter().map(|(_, grams)| grams).sum::<f64>(),
            after: rework::foreseen(request, &problem, &it.after),
            findings: it.findings.clone(),
            feel: Vec::new(),
        })
        .collect();
    let all = proposals.iter_mut().map(|it| (&it.after.recipe[..], &mut it.feel));
    feel::tell(&problem.recipe(&problem.now()), &wishes, all);
    let proof = rescued.proof;
    Ok(RescueAnswer { proposals, examined: proof.decided(), proof: proof.into(), complete: rescued.complete })
}

/// The step of the scale for so much, g.
fn usual_step(grams: f64) -> f64 {
    let (mut step, mut at) = (1.0, 0);
    while step * 1000.0 < grams {
        step *= [2.0, 2.5, 2.0][at % 3];
        at += 1;
    }
    step
}

/// The most steps of the scale that an addition may have.
const MOST_STEPS: f64 = 20_000.0;

fn batch(made: &Made) -> Result<Batch, Failure> {
    let refuse = |at: &str, message: String| Err(Failure::new(ErrorKind::OutOfRange, at, message));
    if !(MADE_G.0..=MADE_G.1).contains(&made.grams) {
        return refuse("made.grams", format!("the batch is {} g: give 1 g to 1000 kg", made.grams));
    }
    if !(made.used_grams.is_finite() && (0.0..made.grams).contains(&made.used_grams)) {
        return refuse(
            "made.used_grams",
            format!("{} g of {} g are used: give less than was made", made.used_grams, made.grams),
        );
    }
    let grams = made.grams - made.used_grams;
    let most_grams = made.most_grams.unwrap_or(0.5 * grams);
    if !(most_grams.is_finite() && (0.0..=10.0 * grams).contains(&most_grams)) {
        return refuse(
            "made.most_grams",
            format!("at most {most_grams} g may be added: give 0 to ten times the batch"),
        );
    }
    let step_grams = made.step_grams.unwrap_or_else(|| usual_step(grams));
    if !(step_grams.is_finite() && step_grams > 0.0 && most_grams / step_grams <= MOST_STEPS) {
        return refuse(
            "made.step_grams",
            format!(
                "the scale steps by {step_grams} g: give more than 0, and no less than one {MOST_STEPS}th of what may be added"
            ),
        );
    }
    Ok(Batch { grams, step_grams, most_grams })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_large_batch_is_not_weighed_to_a_gram() {
        let steps = [1.0, 740.0, 1000.0, 1001.0, 4000.0, 20_000.0, 20_001.0, 1e6].map(usual_step);
        assert_eq!(steps, [1.0, 1.0, 1.0, 2.0, 5.0, 20.0, 50.0, 1000.0]);
        // Whatever the page sends, it can be answered.
        for grams in [1.0, 40_000.0, 50_000.0, 1e6] {
            let made = Made { grams, used_grams: 0.0, step_grams: None, most_grams: None };
            assert!(batch(&made).is_ok_and(|it| it.most_grams / it.step_grams <= 500.0));
        }
    }
}
