//! What can be wrong with a request, said so that it can be put right.

use serde::Serialize;

use std::ops::Deref;

/// A stable word for the kind of failure, for programs; [`Fault::message`] is for people.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum ErrorKind {
    /// The line is not JSON.
    NotJson,
    /// A field is missing, or is not of the kind it should be.
    Malformed,
    /// The `ask` is not one of the questions.
    UnknownQuestion,
    /// An ingredient id is not in the catalogue.
    UnknownIngredient,
    /// A species id is not known.
    UnknownSpecies,
    /// A number is outside what it can be.
    OutOfRange,
    /// The percentages do not sum to 100.
    SumNotHundred,
    /// There is nothing to work on.
    Empty,
    /// Two parts of the request contradict each other.
    Conflict,
    /// A share link cannot be read.
    BadLink,
}

/// Why a request was refused: what is wrong, where, and what to do. Boxed, for it passes through every function that checks
/// something.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Failure(Box<Fault>);

/// What a [`Failure`] says.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Fault {
    /// The kind, for programs.
    pub kind: ErrorKind,
    /// The place in the request, such as `recipe[1].id`; empty for the whole.
    pub at: String,
    /// What is wrong and what to do, for people.
    pub message: String,
}

/// Of words that are known, the one that may have been meant.
pub(crate) fn nearest<'a>(word: &str, known: &mut dyn Iterator<Item = &'a str>) -> Option<&'a str> {
    known
        .map(|other| (alike(word, other), other))
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .filter(|(likeness, _)| *likeness > 0.5)
        .map(|(_, near)| near)
}

/// How alike two words are, 0 to 1.
pub(crate) fn alike(a: &str, b: &str) -> f64 {
    let longest = a.chars().count().max(b.chars().count()).max(1);
    1.0 - strsim::osa_distance(a, b) as f64 / longest as f64
}

impl Deref for Failure {
    type Target = Fault;

    fn deref(&self) -> &Fault {
        &self.0
    }
}

impl Failure {
    /// A failure of this kind at this place.
    pub fn new(kind: ErrorKind, at: impl Into<String>, message: impl Into<String>) -> Self {
        Failure::of(Fault { kind, at: at.into(), message: message.into() })
    }

    #[cold]
    #[inline(never)]
    fn of(fault: Fault) -> Self {
        Failure(Box::new(fault))
    }

    /// The same, with what holds the place put before it.
    pub(crate) fn below(mut self, whole: &str) -> Self {
        self.0.at = format!("{whole}.{}", self.0.at);
        self
    }

    #[cfg(not(target_arch = "wasm32"))]
    pub(crate) fn not_json(detail: &str) -> Self {
        Failure::new(
            ErrorKind::NotJson,
            "",
            format!(
                "this line is not JSON ({detail}): send one JSON object a line, such as {{\"ask\":\"ingredients\"}}"
            ),
        )
    }

    pub(crate) fn malformed(at: String, detail: String) -> Self {
        let place = if at.is_empty() { "the request".to_owned() } else { format!("`{at}`") };
        Failure::new(ErrorKind::Malformed, at, format!("{place} cannot be read: {detail}"))
    }

    pub(crate) fn unknown_question<'a>(ask: &str, known: impl Iterator<Item = &'a str>) -> Self {
        let known: Vec<&str> = known.collect();
        Failure::new(
            ErrorKind::UnknownQuestion,
            "ask",
            format!("there is no question `{ask}`: ask one of {}", known.join(", ")),
        )
    }
}
