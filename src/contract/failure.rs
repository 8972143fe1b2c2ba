//! What is wrong with a request: the engine's failures with their places as paths,
//! and those of the request itself.

use crate::failure::{self, ErrorKind, FaultPlace, Limit, OfCorrection, OfLine};
use crate::quote::quoted;

/// Why a request was refused, with the place as a path such as `recipe[1].id`; empty for the whole.
pub type Failure = failure::Failure<String>;

/// What a [`Failure`] says.
pub type Fault = failure::Fault<String>;

/// The path of a place.
fn path(place: FaultPlace) -> String {
    match place {
        FaultPlace::Recipe => "recipe".to_owned(),
        FaultPlace::Line(line, what) => of_line(line, what),
        FaultPlace::Limits(limit) => of_limits(limit),
        FaultPlace::Text => "text".to_owned(),
        FaultPlace::Correction(number, what) => {
            let field = match what {
                OfCorrection::Line => "line",
                OfCorrection::Id => "id",
                OfCorrection::Amount => "amount",
            };
            format!("corrections[{number}].{field}")
        }
    }
}

fn of_line(line: usize, what: OfLine) -> String {
    let field = match what {
        OfLine::Whole => return format!("recipe[{line}]"),
        OfLine::Species(id) => return format!("recipe[{line}].composition.{id}"),
        OfLine::FattyAcid(name) => return format!("recipe[{line}].fatty_acids.{name}"),
        OfLine::SolidPoint(at) => return format!("recipe[{line}].solid_points[{at}]"),
        OfLine::Percent => "percent",
        OfLine::Id => "id",
        OfLine::Like => "like",
        OfLine::Composition => "composition",
        OfLine::FattyAcids => "fatty_acids",
        OfLine::Spread => "spread",
        OfLine::FreeAcid => "free_acid_percent",
        OfLine::Unsaponifiable => "unsaponifiable_percent",
        OfLine::Diglyceride => "diglyceride_percent",
        OfLine::SolidPoints => "solid_points",
        OfLine::MeltsAt => "melts_at_c",
    };
    format!("recipe[{line}].{field}")
}

fn of_limits(limit: Limit) -> String {
    let field = match limit {
        Limit::All => return "limits".to_owned(),
        Limit::Locked(at) => return format!("limits.locked[{at}]"),
        Limit::Active(at) => return format!("limits.actives[{at}]"),
        Limit::Refused(at) => return format!("limits.refuse[{at}]"),
        Limit::PantryEntry(at) => return format!("limits.pantry[{at}]"),
        Limit::Bounds(key) => return format!("limits.bounds.{key}"),
        Limit::Price(key) => return format!("limits.prices.{key}"),
        Limit::Step => "step_percent",
        Limit::Changes => "changes",
        Limit::Wax => "wax_percent",
        Limit::FattyAcid => "fatty_acid_percent",
        Limit::FattyAlcohol => "fatty_alcohol_percent",
        Limit::Powder => "powder_percent",
        Limit::Pantry => "pantry",
        Limit::AllBounds => "bounds",
        Limit::Work => "work",
    };
    format!("limits.{field}")
}

impl From<failure::Failure> for Failure {
    fn from(failure: failure::Failure) -> Failure {
        failure.placed(path)
    }
}

impl Failure {
    /// The same, with what holds the place put before it.
    pub(super) fn below(self, whole: &str) -> Self {
        self.placed(|at| if at.is_empty() { whole.to_owned() } else { format!("{whole}.{at}") })
    }

    #[cfg(not(target_arch = "wasm32"))]
    pub(super) fn not_json(detail: &str) -> Self {
        Failure::new(
            ErrorKind::NotJson,
            "",
            format!(
                "this line is not JSON ({detail}): send one JSON object a line, such as {{\"ask\":\"ingredients\"}}"
            ),
        )
    }

    #[cfg(not(target_arch = "wasm32"))]
    pub(super) fn empty_line() -> Self {
        Failure::new(
            ErrorKind::NotJson,
            "",
            "this line is empty: send one JSON object a line, such as {\"ask\":\"ingredients\"}",
        )
    }

    /// A key that an object has twice, by its path.
    #[cfg(not(target_arch = "wasm32"))]
    pub(super) fn twice(at: String) -> Self {
        let message = format!("`{}` is there twice: leave one of the two out", quoted(&at));
        Failure::new(ErrorKind::Malformed, at, message)
    }

    /// A line of more than so many megabytes.
    #[cfg(not(target_arch = "wasm32"))]
    pub(super) fn long_line(most_mb: usize) -> Self {
        Failure::new(
            ErrorKind::OutOfRange,
            "",
            format!("this line is longer than {most_mb} MB and was not read: ask for less in one line"),
        )
    }

    pub(super) fn malformed(at: String, detail: &str) -> Self {
        let place = if at.is_empty() { "the request".to_owned() } else { format!("`{}`", quoted(&at)) };
        Failure::new(ErrorKind::Malformed, at, format!("{place} cannot be read: {detail}"))
    }

    pub(super) fn unknown_question<'a>(ask: &str, known: impl Iterator<Item = &'a str>) -> Self {
        let known: Vec<&str> = known.collect();
        Failure::new(
            ErrorKind::UnknownQuestion,
            "ask",
            format!("there is no question `{}`: ask one of {}", quoted(ask), known.join(", ")),
        )
    }
}
