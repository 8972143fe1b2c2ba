//! What can be wrong with a request, said so that it can be put right.

use serde::Serialize;

use std::ops::Deref;

/// A stable word for the kind of failure, for programs; `message` is for people.
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

/// Where in what was asked something is wrong. The engine knows no paths: the contract
/// says where that is in a request.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FaultPlace {
    /// The recipe.
    Recipe,
    /// A line of the recipe, counted from 0.
    Line(usize, OfLine),
    /// What a rework may change.
    Limits(Limit),
    /// A text that was pasted.
    Text,
    /// What was corrected of a pasted text: which correction, counted from 0, and what of it.
    Correction(usize, OfCorrection),
}

/// What of a line is wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum OfLine {
    /// The line as a whole.
    Whole,
    /// How much of it there is.
    Percent,
    /// Which ingredient of the catalogue it is.
    Id,
    /// Which one it is like.
    Like,
    /// Its make-up by species.
    Composition,
    /// The share of one species.
    Species(String),
    /// Its make-up by fatty acids.
    FattyAcids,
    /// The share of one fatty acid.
    FattyAcid(String),
    /// How the fatty acids are spread.
    Spread,
    /// Free fatty acids.
    FreeAcid,
    /// Unsaponifiable matter.
    Unsaponifiable,
    /// Diglycerides.
    Diglyceride,
    /// Its measured solids.
    SolidPoints,
    /// One of them, counted from 0.
    SolidPoint(usize),
    /// Its stated slip point.
    MeltsAt,
}

/// Which limit of a rework is wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Limit {
    /// All of them together.
    All,
    /// The step of the scale.
    Step,
    /// How many lines may change.
    Changes,
    /// The most wax.
    Wax,
    /// The most fatty acid.
    FattyAcid,
    /// The most fatty alcohol.
    FattyAlcohol,
    /// The most powder.
    Powder,
    /// A line that stays as it is, counted from 0.
    Locked(usize),
    /// An active, counted from 0.
    Active(usize),
    /// What may not be in it, counted from 0.
    Refused(usize),
    /// What may be added.
    Pantry,
    /// One ingredient of that, counted from 0.
    PantryEntry(usize),
    /// The least and the most of ingredients, together.
    AllBounds,
    /// The least and the most of one ingredient.
    Bounds(String),
    /// The price of one ingredient.
    Price(String),
    /// The most equilibria that a search may take.
    Work,
}

/// What of a correction is wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OfCorrection {
    /// Which line it is of.
    Line,
    /// Which ingredient that is.
    Id,
    /// How much of it there is.
    Amount,
}

/// Why something was refused: what is wrong, where, and what to do. Boxed, for it passes through
/// every function that checks something. `At` is how the place is said: the engine's
/// [`FaultPlace`], or the path in a request.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Failure<At = FaultPlace>(Box<Fault<At>>);

/// What a [`Failure`] says.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS), ts(concrete(At = String)))]
pub struct Fault<At> {
    /// The kind, for programs.
    pub kind: ErrorKind,
    /// The place; in a reply, its path in the request such as `recipe[1].id`, empty for the whole.
    pub at: At,
    /// What is wrong and what to do, for people.
    pub message: String,
}

/// Of words that are known, the one that may have been meant: more than half of it is as it was written.
pub(crate) fn nearest<'a>(word: &str, known: &mut dyn Iterator<Item = &'a str>) -> Option<&'a str> {
    let length = word.chars().count();
    known
        // A word twice as long, or half as long, has half of it wrong; so a word of a
        // megabyte is compared with none.
        .filter(|other| (other.len() < 2 * length) && (length < 2 * other.len()))
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

impl<At> Deref for Failure<At> {
    type Target = Fault<At>;

    fn deref(&self) -> &Fault<At> {
        &self.0
    }
}

impl<At> Failure<At> {
    /// A failure of this kind at this place.
    #[cold]
    #[inline(never)]
    pub fn new(kind: ErrorKind, at: impl Into<At>, message: impl Into<String>) -> Self {
        Failure(Box::new(Fault { kind, at: at.into(), message: message.into() }))
    }

    /// The same, with its place said otherwise.
    pub(crate) fn placed<Other>(self, place: impl FnOnce(At) -> Other) -> Failure<Other> {
        let Fault { kind, at, message } = *self.0;
        Failure(Box::new(Fault { kind, at: place(at), message }))
    }
}
