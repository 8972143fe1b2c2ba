//! The lines that may be part of the new recipe: those that are in it now, and the pantry.

use crate::{
    failure::{ErrorKind, Failure, FaultPlace, Limit},
    recipe::Line,
    substances::{self, Class},
};

use super::{group::Group, scope::ON_GRID};

/// A line that may be part of the new recipe.
#[derive(Clone)]
pub struct Candidate {
    /// The line, with the percentage that the search starts from: its own now, unless
    /// lines that must leave count as one.
    pub line: Line,
    /// Its percentage now.
    pub now: f64,
    /// Least and most, percent.
    pub bounds: (f64, f64),
    /// Whether it stays as it is.
    pub fixed: bool,
    /// Whether it is not in the recipe now.
    pub newcomer: bool,
    /// Price per kilogram, where given.
    pub price: Option<f64>,
    /// Whether it is a powder.
    pub powder: bool,
}

impl Candidate {
    /// Whether a cap on a group counts it.
    pub(crate) fn is_of(&self, group: Group) -> bool {
        match group {
            Group::Class(class) => self.line.class == class,
            Group::Powder => self.powder,
        }
    }

    /// Whether it is a butter, hard or soft.
    pub(crate) fn is_butter(&self) -> bool {
        matches!(self.line.class, Class::HardButter | Class::SoftButter)
    }

    /// Whether a word names it: its key, its class, an allergen group of it, or that it comes from animals.
    pub fn is_meant(&self, word: &str) -> bool {
        word == VEGAN && is_of_animals(self)
            || self.line.key == word
            || self.line.class.name() == word
            || self.line.allergens().contains(&word)
    }

    pub(super) fn least(&self) -> f64 {
        if self.fixed { self.line.percent } else { self.bounds.0 }
    }

    pub(super) fn most(&self) -> f64 {
        if self.fixed { self.line.percent } else { self.bounds.1 }
    }
}

/// Adds a line to the candidates, or its amount to the candidate that it already is.
pub(super) fn join(candidates: &mut Vec<Candidate>, line: &Line, at: FaultPlace) -> Result<(), Failure> {
    if let Some(found) = candidates.iter_mut().find(|found| found.line.key == line.key) {
        if found.line.ingredient.map(|it| it.id()) != line.ingredient.map(|it| it.id())
            || line.ingredient.is_none()
        {
            return Err(Failure::new(
                ErrorKind::Conflict,
                at,
                format!("two lines are called `{}`: give each its own name", line.key),
            ));
        }
        found.line.percent += line.percent;
        found.now = found.line.percent;
        return Ok(());
    }
    candidates.push(Candidate {
        line: line.clone(),
        now: line.percent,
        bounds: (0.0, 100.0),
        fixed: false,
        newcomer: line.percent <= 0.0,
        price: None,
        powder: Group::Powder.counts(line),
    });
    Ok(())
}

/// The butter that leads: the largest, if there is any. Of two that are as large neither does, since the
/// butter is named after both, and a master takes from either.
pub(super) fn leading_butter(candidates: &[Candidate]) -> Option<usize> {
    let held = |it: &Candidate| if it.is_butter() { it.line.percent } else { 0.0 };
    let most = candidates.iter().map(held).fold(0.0, f64::max);
    let mut largest = (0..candidates.len()).filter(|at| most > 0.0 && held(&candidates[*at]) >= most);
    largest.next().filter(|_| largest.next().is_none())
}

/// By candidate, whether it may not come to exceed the lead: the other butters, and
/// everything where nothing exceeds it now.
pub(super) fn led_by(candidates: &[Candidate], lead: usize) -> Vec<bool> {
    let is_largest = candidates.iter().all(|it| it.now <= candidates[lead].now);
    let led = |(at, it): (usize, &Candidate)| at != lead && (is_largest || it.is_butter());
    candidates.iter().enumerate().map(led).collect()
}

/// Fixes the lines of these keys; `place` says where one of them is.
pub(super) fn lock(
    candidates: &mut [Candidate],
    keys: &[String],
    place: fn(usize) -> Limit,
) -> Result<(), Failure> {
    for (index, key) in keys.iter().enumerate() {
        let found = candidates.iter_mut().find(|found| found.line.key == *key && !found.newcomer);
        let Some(found) = found else {
            return Err(Failure::new(
                ErrorKind::UnknownIngredient,
                FaultPlace::Limits(place(index)),
                format!(
                    "`{key}` should stay as it is but is not in the recipe: add it, or take it off the list"
                ),
            ));
        };
        found.fixed = true;
    }
    Ok(())
}

/// Refuses what comes from animals.
const VEGAN: &str = "vegan";

/// What comes from animals: by allergen group, or by id.
fn is_of_animals(candidate: &Candidate) -> bool {
    let groups = ["bee", "wool", "milk", "egg", "fish"];
    candidate.line.allergens().iter().any(|group| groups.contains(group)) || candidate.line.key == "tallow"
}

/// Takes out what is refused: out of the pantry at once, out of the recipe by a bound of 0.
pub(super) fn refuse(candidates: &mut Vec<Candidate>, refused: &[String]) -> Result<(), Failure> {
    for (index, word) in refused.iter().enumerate() {
        let at = || FaultPlace::Limits(Limit::Refused(index));
        let known = word == VEGAN
            || candidates.iter().any(|it| it.is_meant(word))
            || substances::catalogue().iter().any(|it| {
                it.id() == word || it.class().name() == word || it.allergens().contains(&word.as_str())
            });
        if !known {
            return Err(Failure::new(
                ErrorKind::UnknownIngredient,
                at(),
                format!(
                    "`{word}` is no ingredient, class or allergen group: refuse an id such as beeswax, a class such as wax, a group such as bee, tree-nut, palm or coconut, or vegan"
                ),
            ));
        }
        candidates.retain(|it| !(it.newcomer && it.is_meant(word)));
        for found in candidates.iter_mut().filter(|it| it.is_meant(word)) {
            if found.fixed || found.bounds.0 > 0.0 {
                return Err(Failure::new(
                    ErrorKind::Conflict,
                    at(),
                    format!(
                        "`{word}` is refused, but {} must stay in the recipe: unlock it, or drop the refusal",
                        found.line.key
                    ),
                ));
            }
            found.bounds.1 = 0.0;
        }
    }
    Ok(())
}

/// Lines that must leave altogether count as one that changes, the largest, so that as many others may take
/// their place: the search starts as if it held the amounts of all.
pub(super) fn leave_as_one(candidates: &mut [Candidate]) {
    let (mut all, mut largest) = (0.0, None::<usize>);
    for at in 0..candidates.len() {
        let it = &mut candidates[at];
        if it.fixed || it.bounds.1 > ON_GRID || it.now <= ON_GRID {
            continue;
        }
        all += it.now;
        (it.line.percent, it.fixed) = (0.0, true);
        if largest.is_none_or(|most| candidates[at].now > candidates[most].now) {
            largest = Some(at);
        }
    }
    if let Some(it) = largest.and_then(|at| candidates.get_mut(at)) {
        (it.line.percent, it.fixed) = (all, false);
    }
}
