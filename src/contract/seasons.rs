//! `seasons`: a summer and a winter version of one recipe.

use serde::{Deserialize, Serialize};

use super::{Change, ErrorKind, Failure, Proof, Proposal, ReworkRequest, WishesRequest, rework};
use crate::rework as engine;

/// The part of `{"ask":"seasons"}` that is its own: the wishes of either season. Its recipe and limits are
/// read as those of `rework`: either version changes at most `changes` lines of the recipe.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct SeasonsRequest {
    /// What is wanted in summer.
    pub summer: WishesRequest,
    /// What is wanted in winter.
    pub winter: WishesRequest,
}

/// The answer to `{"ask":"seasons"}`.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct SeasonsAnswer {
    /// The version for summer; its changes are those against the recipe as it is.
    pub summer: Proposal,
    /// The version for winter, likewise.
    pub winter: Proposal,
    /// In which lines the two differ, from summer to winter; empty where one recipe serves both.
    pub differ: Vec<Change>,
    /// How they differ, and what is known of that.
    pub findings: Vec<SeasonsFinding>,
    /// No two good versions within the limits differ in fewer lines; as many as `differ` names,
    /// unless the search was stopped.
    pub differ_at_least: usize,
    /// Of the search for one recipe for both, which comes first; `equilibria` are those of the whole.
    pub proof: Proof,
    /// Whether the search went to its end; `false` where it was stopped, and a closer pair may be left.
    pub complete: bool,
}

/// How two versions differ, one after the other.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
#[allow(missing_docs, reason = "a figure is what its name says, in the unit that its name ends in")]
pub enum SeasonsFinding {
    /// One recipe serves both seasons.
    OneServesBoth,
    /// They differ in so many lines.
    Differ { lines: usize },
    /// No two good versions differ in fewer.
    NoneInFewer,
    /// The search was stopped: such as differ in fewer may be left.
    Stopped,
}

/// Works out `{"ask":"seasons"}`.
pub(super) fn seasons(
    request: &ReworkRequest,
    both: &SeasonsRequest,
    report: engine::Report<'_>,
) -> Result<SeasonsAnswer, Failure> {
    let problem = |wishes: &WishesRequest, season: &str| {
        let wishes = wishes.wishes().map_err(|failure| failure.below(season))?;
        rework::problem(request, wishes)
    };
    let (summer, winter) = (problem(&both.summer, "summer")?, problem(&both.winter, "winter")?);
    let engine::Seasons { pair, at_least, lacks, complete, proof } =
        engine::seasons(&summer, &winter, report);
    let found = pair.ok_or_else(|| {
        let message = match lacks {
            Some(season) => format!(
                "within the limits there is no good version for {}: a rework for that season alone says what is in the way; widen the limits",
                ["summer", "winter"][season.min(1)]
            ),
            None => "the search was stopped before it found a good version for both seasons".to_owned(),
        };
        Failure::new(ErrorKind::Conflict, "limits", message)
    })?;
    let key = |line: usize| summer.candidates[line].line.key.clone();
    let differ: Vec<Change> = found
        .differ
        .iter()
        .map(|(line, from, to)| Change { id: key(*line), from_percent: *from, to_percent: *to })
        .collect();
    let mut findings = vec![match differ.len() {
        0 => SeasonsFinding::OneServesBoth,
        lines => SeasonsFinding::Differ { lines },
    }];
    if at_least < differ.len() {
        findings.push(SeasonsFinding::Stopped);
    } else if !differ.is_empty() {
        findings.push(SeasonsFinding::NoneInFewer);
    }
    Ok(SeasonsAnswer {
        summer: rework::proposal(request, &summer, &found.summer),
        winter: rework::proposal(request, &winter, &found.winter),
        differ,
        findings,
        differ_at_least: at_least,
        proof: proof.into(),
        complete,
    })
}
