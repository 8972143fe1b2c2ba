//! Validated recipes.

mod own;
mod solid_points;

use std::borrow::Cow;

pub use own::{ACIDS_TOLERANCE, MAKE_TOLERANCE, MOST_SHIFT_K, Own, STATABLE_C};
pub use solid_points::MEASURABLE_C;

use crate::{
    equilibrium::{Blend, CrystalState, Lot, Mixture, Part},
    failure::{ErrorKind, Failure, FaultPlace, OfLine, nearest},
    quote::quoted,
    substances::{self, Class, Correction, Ingredient, Make},
};

/// How far the percentages of a recipe may sum from 100.
pub const SUM_TOLERANCE: f64 = 0.01;

/// What is known of one lot of an ingredient, by what its maker saw it do.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct KnownLot {
    /// How it differs from the make-up on record, in the middle of what is left open.
    pub lot: Lot,
    /// What is left open of each, as standard deviations.
    pub left: Lot,
    /// How the two are correlated in what is left unknown, -1 to 1: where only their sum was seen, a lot that
    /// melts higher than thought crystallises less.
    pub together: f64,
}

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
    /// The catalogue ingredient that an own make-up says it is like.
    pub like: Option<&'static Ingredient>,
    /// Of a make-up that is worked out from fatty acids: whether its slip point is stated too.
    pub by_acids: Option<bool>,
    /// Whether it brings a make-up of its own that was measured: by species, or by its solids.
    pub make_known: bool,
    /// Whether its slip point was stated.
    pub slip_known: bool,
    /// What is known of the lot that it is taken from; `None`: any lot.
    pub lot: Option<KnownLot>,
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
            like: None,
            by_acids: None,
            make_known: false,
            slip_known: false,
            lot: None,
            make: Cow::Borrowed(ingredient.make()),
            corrections: ingredient.corrections().to_vec(),
        }
    }

    fn made(
        name: &str,
        percent: f64,
        class: Class,
        like: Option<&'static Ingredient>,
        make: Make,
        corrections: Vec<Correction>,
    ) -> Line {
        Line {
            key: name.to_owned(),
            percent,
            ingredient: None,
            class,
            like,
            by_acids: None,
            make_known: false,
            slip_known: false,
            lot: None,
            make: Cow::Owned(make),
            corrections,
        }
    }

    /// The same line of a lot of which something is known.
    pub fn of_lot(self, known: KnownLot) -> Line {
        let (make, corrections) = known.lot.of_make(&self.make, &self.corrections);
        Line { make: Cow::Owned(make), corrections, lot: Some(known), ..self }
    }

    /// Its allergen groups; an own make-up has those of what it is like.
    pub fn allergens(&self) -> &'static [&'static str] {
        self.ingredient.or(self.like).map_or(&[], Ingredient::allergens)
    }

    /// The line as far as melting goes.
    pub fn part(&self) -> Part<'_> {
        Part { make: &self.make, corrections: &self.corrections }
    }

    /// What it is made of: species with percent by mass.
    pub fn make(&self) -> &Make {
        &self.make
    }
}

/// The failure for an id that the catalogue lacks.
pub fn unknown_ingredient<At>(id: &str, at: At) -> Failure<At> {
    let near = nearest(id, &mut substances::catalogue().iter().map(|ingredient| ingredient.id()))
        .map_or(String::new(), |near| format!(" (did you mean `{near}`?)"));
    let id = quoted(id);
    Failure::new(
        ErrorKind::UnknownIngredient,
        at,
        format!(
            "the catalogue has no ingredient `{id}`{near}: choose one that it has, or describe your own by what it is made of or like"
        ),
    )
}

/// Checks that a percentage is a number from 0 to 100.
pub fn check_percent<At>(percent: f64, at: At, what: &str) -> Result<(), Failure<At>> {
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
    /// The recipe of these lines; their percentages must sum to 100 within [`SUM_TOLERANCE`], and
    /// are scaled to sum to it exactly.
    pub fn new(mut lines: Vec<Line>) -> Result<Recipe, Failure> {
        if lines.is_empty() {
            return Err(Failure::new(
                ErrorKind::Empty,
                FaultPlace::Recipe,
                "the recipe is empty: add an ingredient",
            ));
        }
        for (at, line) in lines.iter().enumerate() {
            check_percent(line.percent, FaultPlace::Line(at, OfLine::Percent), &quoted(&line.key))?;
        }
        // Of nothing but negative zeros it would be one, and said with its sign.
        let sum = lines.iter().map(|line| line.percent).sum::<f64>() + 0.0;
        if (sum - 100.0).abs() > SUM_TOLERANCE {
            let advice = if sum > 0.0 {
                format!("change an amount by {:+.2}, or all in proportion", 100.0 - sum)
            } else {
                "give at least one ingredient an amount".to_owned()
            };
            return Err(Failure::new(
                ErrorKind::SumNotHundred,
                FaultPlace::Recipe,
                format!("the percentages sum to {sum:.2}, not 100: {advice}"),
            ));
        }
        for line in &mut lines {
            line.percent *= 100.0 / sum;
        }
        Ok(Recipe { lines })
    }

    /// The recipe of lines that are known to sum to 100, as those of a search are.
    pub(crate) fn of_parts(lines: impl Iterator<Item = Line>) -> Recipe {
        Recipe { lines: lines.collect() }
    }

    /// Its lines, in order.
    pub fn lines(&self) -> &[Line] {
        &self.lines
    }

    /// The mixture it makes, in grams per 100 g.
    pub fn mixture(&self, state: CrystalState) -> Mixture {
        let parts: Vec<Part<'_>> = self.lines.iter().map(Line::part).collect();
        let amounts: Vec<f64> = self.lines.iter().map(|line| line.percent).collect();
        Blend::new(&parts, state).mixture(&amounts)
    }
}
