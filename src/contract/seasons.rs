//! `seasons`: a summer and a winter version of one recipe.

use super::{
    Change, ErrorKind, Failure, Proposal, ReworkRequest, WishesRequest, rework,
    wire::{reads, writes},
};
use crate::rework as engine;

/// The part of `{"ask":"seasons"}` that is its own: the wishes of either season. Its recipe and limits are read as those of
/// `rework`.
#[derive(Clone, Debug)]
pub struct SeasonsRequest {
    /// What is wanted in summer.
    pub summer: WishesRequest,
    /// What is wanted in winter.
    pub winter: WishesRequest,
}

reads! { SeasonsRequest { summer, winter } }

/// The answer to `{"ask":"seasons"}`.
#[derive(Clone, Debug)]
pub struct SeasonsAnswer {
    /// The version for summer; its changes are those against the recipe as it is.
    pub summer: Proposal,
    /// The version for winter, likewise.
    pub winter: Proposal,
    /// In which lines the two differ, from summer to winter; empty where one recipe serves both.
    pub differ: Vec<Change>,
    /// The same in a sentence.
    pub words: String,
}

writes! { SeasonsAnswer { summer, winter, differ, words } }

/// A percentage without the dust of sums.
fn short(percent: f64) -> f64 {
    libm::round(percent * 1e4) / 1e4
}

/// Works out `{"ask":"seasons"}`.
pub(super) fn seasons(request: &ReworkRequest, both: &SeasonsRequest) -> Result<SeasonsAnswer, Failure> {
    let problem = |wishes: &WishesRequest, season: &str| {
        let wishes = wishes.wishes().map_err(|failure| failure.below(season))?;
        rework::problem(request, wishes)
    };
    let (summer, winter) = (problem(&both.summer, "summer")?, problem(&both.winter, "winter")?);
    let found = engine::seasons(&summer, &winter).ok_or_else(|| {
        Failure::new(
            ErrorKind::Conflict,
            "limits",
            "within the limits there is no good version for both seasons: ask `rework` for each with `why_not`, and widen the limits",
        )
    })?;
    let key = |line: usize| summer.candidates[line].line.key.clone();
    let differ: Vec<Change> = found
        .differ
        .iter()
        .map(|(line, from, to)| Change { id: key(*line), from_percent: *from, to_percent: *to })
        .collect();
    let words = if differ.is_empty() {
        "One recipe serves both seasons.".to_owned()
    } else {
        let name = |line: usize| {
            let line = &summer.candidates[line].line;
            line.ingredient.map_or(line.key.as_str(), |it| it.name())
        };
        let lines: Vec<String> = found
            .differ
            .iter()
            .map(|(line, from, to)| format!("{} from {} to {} %", name(*line), short(*from), short(*to)))
            .collect();
        format!("From summer to winter {} lines change: {}; the rest stays.", differ.len(), lines.join(", "))
    };

    Ok(SeasonsAnswer {
        summer: rework::proposal(request, &summer, &found.summer),
        winter: rework::proposal(request, &winter, &found.winter),
        differ,
        words,
    })
}
