//! Checks that several requests share.

use super::{ErrorKind, Failure, ranges::Range};

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
