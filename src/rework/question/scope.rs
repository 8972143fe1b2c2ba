//! What may be changed, and how far: the limits of a question, each checked for itself.

use std::collections::BTreeMap;

use crate::{
    failure::{ErrorKind, Failure, FaultPlace, Limit},
    surety::Surety,
};

use super::group::Group;

/// The most wax that may be asked for, percent: from a tenth on it is a balm, and a stick of more than a
/// third drags (common practice, no source); nothing above was looked at.
pub const MOST_WAX_PERCENT: f64 = 35.0;

/// The step, percent: not finer than kitchen scales, which show 0.1 g where a batch is rarely above 1 kg;
/// and not coarser than is of use.
pub const STEP_PERCENT: (f64, f64) = (0.1, 10.0);

/// How many lines may change. One alone cannot: the sum stays 100.
pub const CHANGES: std::ops::RangeInclusive<usize> = 2..=3;

/// The most lines and pantry together.
pub(super) const MOST_CANDIDATES: usize = 80;

/// Percentages this close to a multiple of the step count as on it.
pub(crate) const ON_GRID: f64 = 1e-7;

/// What may be changed, and how far.
#[derive(Clone, Debug, Default)]
pub struct Scope {
    /// The step of the scale, percent.
    pub step: f64,
    /// The most lines that may change; those that must leave count as one.
    pub changes: usize,
    /// Keys of lines that stay as they are.
    pub locked: Vec<String>,
    /// Least and most, percent, by key.
    pub bounds: BTreeMap<String, (f64, f64)>,
    /// The most of a group, percent.
    pub caps: Vec<(Group, f64)>,
    /// Prices in any currency per kilogram, by key.
    pub prices: BTreeMap<String, f64>,
    /// Whether the line that comes first on the label stays first.
    pub keep_lead: bool,
    /// Keys of lines that are actives: they never move.
    pub actives: Vec<String>,
    /// What is refused: ids, classes or allergen groups.
    pub refuse: Vec<String>,
    /// Whether nothing is raised above what the trade uses of it.
    pub ceilings: bool,
    /// How surely it is to hold.
    pub surety: Surety,
    /// The most equilibria to solve; `None` as many as it takes.
    pub work: Option<u64>,
}

impl Scope {
    /// Whether each limit is one that can be asked for; how they go together, the question tells.
    pub(super) fn check(&self) -> Result<(), Failure> {
        check_step(self.step)?;
        check_changes(self.changes)?;
        check_caps(&self.caps)
    }
}

fn check_step(step: f64) -> Result<(), Failure> {
    let (finest, coarsest) = STEP_PERCENT;
    if (finest..=coarsest).contains(&step) {
        return Ok(());
    }
    Err(Failure::new(
        ErrorKind::OutOfRange,
        FaultPlace::Limits(Limit::Step),
        format!("the step is {step} %: give one from {finest} to {coarsest}, such as 0.5"),
    ))
}

fn check_changes(changes: usize) -> Result<(), Failure> {
    if CHANGES.contains(&changes) {
        return Ok(());
    }
    let (least, most) = (CHANGES.start(), CHANGES.end());
    let why = if changes < *least {
        "one line cannot change alone, because the sum stays 100"
    } else {
        "that is more than is searched"
    };
    Err(Failure::new(
        ErrorKind::OutOfRange,
        FaultPlace::Limits(Limit::Changes),
        format!("{changes} lines may change: {why}; give {least} to {most}"),
    ))
}

fn check_caps(caps: &[(Group, f64)]) -> Result<(), Failure> {
    for (group, cap) in caps {
        if !cap.is_finite() || !(0.0..=100.0).contains(cap) {
            return Err(Failure::new(
                ErrorKind::OutOfRange,
                group.place(),
                format!("the cap on {} is {cap} %: give 0 to 100", group.words()),
            ));
        }
    }
    Ok(())
}

pub(super) fn check_bounds(key: &str, min: f64, max: f64) -> Result<(), Failure> {
    let at = FaultPlace::Limits(Limit::Bounds(key.to_owned()));
    let fine = |value: f64| value.is_finite() && (0.0..=100.0).contains(&value);
    if !fine(min) || !fine(max) {
        return Err(Failure::new(
            ErrorKind::OutOfRange,
            at,
            format!("the bounds of {key} are {min} to {max} %: give numbers from 0 to 100"),
        ));
    }
    if min > max {
        return Err(Failure::new(
            ErrorKind::Conflict,
            at,
            format!("{key} should be at least {min} % and at most {max} %: exchange them, or drop one"),
        ));
    }
    Ok(())
}
