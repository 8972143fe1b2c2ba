//! `read` and `scale`: a pasted recipe, and a recipe brought to 100 %.

use serde::{Deserialize, Serialize};

use super::{ErrorKind, Failure, Item};
use crate::reading::{self, Correction, How, LeftOut, LineProblem, TextRemark, Unit};

/// `{"ask":"read"}`: understand a recipe that was pasted as text.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct ReadRequest {
    /// The text.
    pub text: String,
    /// What was corrected of its lines, as a former answer numbered them.
    #[serde(default)]
    pub corrections: Vec<LineCorrection>,
}

/// What was corrected of one line.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LineCorrection {
    /// The number of the line, from 0.
    pub line: usize,
    /// The catalogue id that it is.
    #[serde(default)]
    pub id: Option<String>,
    /// The amount, in the unit given or else in the one that was read.
    #[serde(default)]
    pub amount: Option<f64>,
    /// The unit of the amount.
    #[serde(default)]
    pub unit: Option<Unit>,
    /// It is no line of the recipe.
    #[serde(default)]
    pub left_out: bool,
}

/// The answer to [`ReadRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct ReadAnswer {
    /// In what the whole is: percent, grams, ounces or parts.
    pub unit: Unit,
    /// Sum of the amounts, in that unit.
    pub sum: f64,
    /// Line by line, for a preview.
    pub lines: Vec<ReadLine>,
    /// The lines that are understood, as a recipe; two lines of one ingredient are one.
    pub recipe: Vec<Item>,
    /// How many lines need whoever pasted them.
    pub open: usize,
    /// What else there is to know.
    pub remarks: Vec<TextRemark>,
    /// The pieces of the text that are no lines of the recipe, in their order.
    pub left_out: Vec<LeftOutPiece>,
}

/// One line as it was understood.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct ReadLine {
    /// The line as it stands in the text.
    pub text: String,
    /// What it says the ingredient is.
    pub name: String,
    /// The amount as it is written, in `unit`; `null` where there is none.
    pub amount: Option<f64>,
    /// The unit of the amount; `null` where a measure has no size.
    pub unit: Option<Unit>,
    /// The ends of a range that is written in place of an amount.
    pub range: Option<[f64; 2]>,
    /// Whether the mass is not known exactly: a volume, or the text says so.
    pub about: bool,
    /// Grams, where the whole is in masses.
    pub grams: Option<f64>,
    /// Percent of the whole.
    pub percent: Option<f64>,
    /// The catalogue id that it was taken for.
    pub id: Option<&'static str>,
    /// Whether the name is one of this ingredient alone.
    pub certain: bool,
    /// How the name was taken for it.
    pub how: Option<How>,
    /// Catalogue ids that it could be instead, likeliest first.
    pub suggestions: Vec<&'static str>,
    /// What is wrong first of all.
    pub problem: Option<LineProblem>,
    /// All that is wrong.
    pub problems: Vec<LineProblem>,
    /// A correction says that it is no line of the recipe.
    pub left_out: bool,
}

/// A piece of the text that is no line of the recipe.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LeftOutPiece {
    /// The piece.
    pub text: String,
    /// Why.
    pub why: LeftOut,
}

/// `{"ask":"scale"}`: bring a recipe to 100 %, keeping its proportions.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct ScaleRequest {
    /// The recipe, of any sum above 0.
    pub recipe: Vec<Item>,
    /// The step that percentages are rounded to.
    #[serde(default = "half")]
    pub step_percent: f64,
}

fn half() -> f64 {
    0.5
}

/// The answer to [`ScaleRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct ScaleAnswer {
    /// The recipe at 100 %.
    pub recipe: Vec<Item>,
}

/// Ingredients that stand for many, so that two lines of one are not the same twice.
const CLASSES: [&str; 2] = ["essential-oil", "fragrance"];

pub(super) fn read(request: ReadRequest) -> Result<ReadAnswer, Failure> {
    let corrections = request.corrections.into_iter().map(|one| Correction {
        line: one.line,
        id: one.id,
        amount: one.amount,
        unit: one.unit,
        left_out: one.left_out,
    });
    let read = reading::read(&request.text, &corrections.collect::<Vec<_>>())?;
    let mut remarks = read.remarks;
    let mut recipe: Vec<Item> = Vec::new();
    for line in read.lines.iter().filter(|line| !line.left_out) {
        let Some(id) = line.id else { continue };
        let same = recipe.iter_mut().find(|item| item.id.as_deref() == Some(id));
        if same.is_some() && !CLASSES.contains(&id) {
            remarks.push(TextRemark::Added { name: line.name.clone() });
        }
        match (same, line.percent) {
            (Some(item), percent) => item.percent += percent.unwrap_or(0.0),
            (None, Some(percent)) => {
                recipe.push(Item { id: Some(id.to_owned()), percent, ..Item::default() })
            }
            (None, None) => {}
        }
    }
    let lines: Vec<ReadLine> = read
        .lines
        .into_iter()
        .map(|line| ReadLine {
            text: line.text,
            name: line.name,
            amount: line.amount,
            unit: line.unit,
            range: line.range,
            about: line.about,
            grams: line.grams,
            percent: line.percent,
            id: line.id,
            certain: line.how == Some(How::Named),
            how: line.how,
            suggestions: line.suggestions,
            problem: line.problems.first().copied(),
            problems: line.problems,
            left_out: line.left_out,
        })
        .collect();
    Ok(ReadAnswer {
        unit: read.unit,
        sum: read.sum,
        open: lines.iter().filter(|line| !line.left_out && !line.problems.is_empty()).count(),
        lines,
        recipe,
        remarks,
        left_out: read.left_out.into_iter().map(|(text, why)| LeftOutPiece { text, why }).collect(),
    })
}

pub(super) fn scale(request: ScaleRequest) -> Result<ScaleAnswer, Failure> {
    let step = request.step_percent;
    if !(0.001..=10.0).contains(&step) {
        return Err(Failure::new(
            ErrorKind::OutOfRange,
            "step_percent",
            format!("a step of {step} % does not fit: give one from 0.001 to 10"),
        ));
    }
    let amounts: Vec<f64> = request.recipe.iter().map(|item| item.percent).collect();
    if let Some(at) = amounts.iter().position(|amount| !amount.is_finite() || *amount < 0.0) {
        return Err(Failure::new(
            ErrorKind::OutOfRange,
            format!("recipe[{at}].percent"),
            "this amount is not a positive number: correct it first",
        ));
    }
    if amounts.iter().sum::<f64>() <= 0.0 {
        return Err(Failure::new(
            ErrorKind::Empty,
            "recipe",
            "there is nothing to scale: give at least one line an amount",
        ));
    }
    let recipe = request
        .recipe
        .into_iter()
        .zip(reading::shares(&amounts, step))
        .map(|(item, percent)| Item { percent, ..item })
        .collect();
    Ok(ScaleAnswer { recipe })
}
