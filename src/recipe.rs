//! Validated recipes.

use std::{borrow::Cow, collections::BTreeMap};

use crate::{
    equilibrium::{Blend, Mixture, Part, State},
    failure::{ErrorKind, Failure},
    substances::{self, Class, Correction, Ingredient, Make, Species},
};

/// How far the percentages of a recipe may sum from 100.
pub const SUM_TOLERANCE: f64 = 0.01;

/// How far the parts of an own make-up may sum from 100: certificates of analysis are rounded.
pub const MAKE_TOLERANCE: f64 = 0.5;

/// One line of a recipe.
#[derive(Clone)]
pub struct Line {
    /// What changes and locks refer to it by: the catalogue id, or the own name.
    pub key: String,
    /// Percent by mass.
    pub percent: f64,
    /// The catalogue entry; `None` for an ingredient that brings its own make-up.
    pub ingredient: Option<&'static Ingredient>,
    /// Its class: that of the catalogue entry, or of the one that an own make-up is like.
    pub class: Class,
    make: Cow<'static, Make>,
    corrections: Vec<Correction>,
}

impl Line {
    /// A line of a catalogue ingredient.
    pub fn of(ingredient: &'static Ingredient, percent: f64) -> Line {
        Line {
            key: ingredient.id().to_owned(),
            percent,
            ingredient: Some(ingredient),
            class: ingredient.class(),
            make: Cow::Borrowed(ingredient.make()),
            corrections: ingredient.corrections().to_vec(),
        }
    }

    /// A line that brings its own make-up, percent by mass over species ids; `at` is the place in the request.
    ///
    /// `like` names the catalogue ingredient whose fitted correction it shares.
    pub fn own(
        name: &str,
        percent: f64,
        composition: &BTreeMap<String, f64>,
        like: Option<&str>,
        at: &str,
    ) -> Result<Line, Failure> {
        let like = like
            .map(|id| substances::find(id).ok_or_else(|| unknown_ingredient(id, format!("{at}.like"))))
            .transpose()?;
        let mut make = Make::new();
        for (id, amount) in composition {
            let place = format!("{at}.composition.{id}");
            let species = Species::find(id).map_err(|_| {
                Failure::new(
                    ErrorKind::UnknownSpecies,
                    place.clone(),
                    format!(
                        "there is no species `{id}`: use triglyceride letters such as SOS or LaLaM, an acid such as stearic-acid, an alcohol such as hexadecanol, or `liquid` for the rest"
                    ),
                )
            })?;
            check_percent(*amount, &place, &format!("the share of {id}"))?;
            if *amount > 0.0 {
                make.push((species, *amount));
            }
        }
        let sum: f64 = make.iter().map(|(_, amount)| amount).sum();
        if (sum - 100.0).abs() > MAKE_TOLERANCE {
            return Err(Failure::new(
                ErrorKind::SumNotHundred,
                format!("{at}.composition"),
                format!(
                    "the make-up of {name} sums to {sum:.2} %, not 100: add what is missing as `liquid`, or multiply every share by {:.6}",
                    100.0 / sum
                ),
            ));
        }
        for (_, amount) in &mut make {
            *amount *= 100.0 / sum;
        }
        Ok(Line {
            key: name.to_owned(),
            percent,
            ingredient: None,
            class: like.map_or(Class::Other, Ingredient::class),
            make: Cow::Owned(make),
            corrections: like.map_or_else(Vec::new, |like| like.corrections().to_vec()),
        })
    }

    /// The line as far as melting goes.
    pub fn part(&self) -> Part<'_> {
        Part { make: &self.make, corrections: &self.corrections }
    }

    /// Percent by mass of this ingredient that free fatty acids make up.
    pub fn make(&self) -> &Make {
        &self.make
    }
}

/// The failure for an id that the catalogue lacks.
pub fn unknown_ingredient(id: &str, at: String) -> Failure {
    let near = substances::catalogue()
        .iter()
        .map(|ingredient| (strsim::jaro_winkler(id, ingredient.id()), ingredient.id()))
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .filter(|(likeness, _)| *likeness > 0.75)
        .map_or(String::new(), |(_, near)| format!(" Did you mean `{near}`?"));
    Failure::new(
        ErrorKind::UnknownIngredient,
        at,
        format!(
            "there is no ingredient `{id}`: ask `ingredients` for the list, or bring a `composition`.{near}"
        ),
    )
}

/// Checks that a percentage is a number from 0 to 100.
pub fn check_percent(percent: f64, at: &str, what: &str) -> Result<(), Failure> {
    if percent.is_finite() && (0.0..=100.0 + SUM_TOLERANCE).contains(&percent) {
        return Ok(());
    }
    Err(Failure::new(
        ErrorKind::OutOfRange,
        at,
        format!("{what} is {percent} %: give a number from 0 to 100"),
    ))
}

/// A recipe: lines whose percentages sum to 100.
#[derive(Clone)]
pub struct Recipe {
    lines: Vec<Line>,
}

impl Recipe {
    /// The recipe of these lines; their percentages must sum to 100 within [`SUM_TOLERANCE`], and are scaled to sum to it
    /// exactly.
    pub fn new(mut lines: Vec<Line>) -> Result<Recipe, Failure> {
        if lines.is_empty() {
            return Err(Failure::new(ErrorKind::Empty, "recipe", "the recipe is empty: add an ingredient"));
        }
        for (at, line) in lines.iter().enumerate() {
            check_percent(line.percent, &format!("recipe[{at}].percent"), &line.key)?;
        }
        let sum: f64 = lines.iter().map(|line| line.percent).sum();
        if (sum - 100.0).abs() > SUM_TOLERANCE {
            let advice = if sum > 0.0 {
                format!(
                    "change an amount by {:+.2}, or scale: multiply every one by {:.6}",
                    100.0 - sum,
                    100.0 / sum
                )
            } else {
                "give at least one ingredient an amount".to_owned()
            };
            return Err(Failure::new(
                ErrorKind::SumNotHundred,
                "recipe",
                format!("the percentages sum to {sum:.2}, not 100: {advice}"),
            ));
        }
        for line in &mut lines {
            line.percent *= 100.0 / sum;
        }
        Ok(Recipe { lines })
    }

    /// Its lines, in order.
    pub fn lines(&self) -> &[Line] {
        &self.lines
    }

    /// The mixture it makes, in grams per 100 g.
    pub fn mixture(&self, state: State) -> Mixture {
        let parts: Vec<Part<'_>> = self.lines.iter().map(Line::part).collect();
        let amounts: Vec<f64> = self.lines.iter().map(|line| line.percent).collect();
        Blend::new(&parts, state).mixture(&amounts)
    }
}
