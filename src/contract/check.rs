//! Checks that several requests share.

use super::{ErrorKind, Failure, ranges::Range};
use crate::quote::is_unruly;

/// The longest name of anything that a maker calls so, in characters.
const LONGEST_NAME: usize = 80;

/// What is wrong with a name, if something is.
pub(super) fn unfit(name: &str) -> Option<String> {
    if name.trim().is_empty() {
        Some("a name is empty: leave it out, or write one".to_owned())
    } else if name.chars().count() > LONGEST_NAME {
        Some(format!("a name is longer than {LONGEST_NAME} characters: shorten it"))
    } else if name.chars().any(is_unruly) {
        Some(
            "a name has control, direction or invisible characters in it: write it in plain letters"
                .to_owned(),
        )
    } else {
        None
    }
}

/// Refuses a name that could not be shown, or that no link could hold.
pub(super) fn named(name: Option<&str>, at: impl FnOnce() -> String) -> Result<(), Failure> {
    match name.and_then(unfit) {
        Some(what) => Err(Failure::new(ErrorKind::OutOfRange, at(), what)),
        None => Ok(()),
    }
}

/// A number within a range, or a failure that names what it is, its place, and the range.
pub(super) fn within(
    value: f64,
    (low, high): Range,
    at: &str,
    what: &str,
    unit: &str,
) -> Result<f64, Failure> {
    if (low..=high).contains(&value) {
        return Ok(value);
    }
    let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
    Err(Failure::new(
        ErrorKind::OutOfRange,
        at,
        format!("{what} is {value}{unit}: give a number from {low} to {high}{unit}"),
    ))
}
