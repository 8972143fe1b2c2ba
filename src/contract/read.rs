//! `read` and `scale`: a pasted recipe, and a recipe brought to 100 %.

use serde::{Deserialize, Serialize};

use super::{ErrorKind, Failure, Item};
use crate::{
    reading::{self, Known, LineProblem, TextRemark, Unit},
    substances,
};

/// `{"ask":"read"}`: understand a recipe that was pasted as text.
#[derive(Clone, Debug, Deserialize)]
pub struct ReadRequest {
    /// The text.
    pub text: String,
}

/// The answer to [`ReadRequest`].
#[derive(Clone, Debug, Serialize)]
pub struct ReadAnswer {
    /// In what the amounts are.
    pub unit: Unit,
    /// Sum of the amounts, in that unit.
    pub sum: f64,
    /// Line by line, for a preview.
    pub lines: Vec<ReadLine>,
    /// The lines that are understood, as a recipe; two lines of one ingredient are one.
    pub recipe: Vec<Item>,
    /// What else there is to know.
    pub remarks: Vec<TextRemark>,
}

/// One line as it was understood.
#[derive(Clone, Debug, Serialize)]
pub struct ReadLine {
    /// The line as it stands in the text.
    pub text: String,
    /// What it says the ingredient is.
    pub name: String,
    /// The amount; `null` where there is none in the unit of the whole.
    pub amount: Option<f64>,
    /// Percent of the whole.
    pub percent: Option<f64>,
    /// The catalogue id that it was taken for.
    pub id: Option<&'static str>,
    /// Whether the name is in the catalogue as written.
    pub certain: bool,
    /// Catalogue ids that it could be instead, likeliest first.
    pub suggestions: Vec<&'static str>,
    /// What is wrong, and what to do.
    pub problem: Option<LineProblem>,
}

/// `{"ask":"scale"}`: bring a recipe to 100 %, keeping its proportions.
#[derive(Clone, Debug, Deserialize)]
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
pub struct ScaleAnswer {
    /// The recipe at 100 %.
    pub recipe: Vec<Item>,
}

pub(super) fn read(request: ReadRequest) -> Result<ReadAnswer, Failure> {
    let catalogue: Vec<Known> = substances::catalogue()
        .iter()
        .map(|one| Known { id: one.id(), name: one.name(), inci: one.inci() })
        .collect();
    let read = reading::read(&request.text, &catalogue)?;
    let mut remarks = read.remarks;
    let mut recipe: Vec<Item> = Vec::new();
    for line in &read.lines {
        let (Some(id), Some(percent)) = (line.id, line.percent) else { continue };
        match recipe.iter_mut().find(|item| item.id.as_deref() == Some(id)) {
            Some(item) => {
                item.percent += percent;
                remarks.push(TextRemark::Added { name: line.name.clone() });
            }
            None => recipe.push(Item { id: Some(id.to_owned()), percent, ..Item::default() }),
        }
    }
    let lines = read
        .lines
        .into_iter()
        .map(|line| ReadLine {
            text: line.text,
            name: line.name,
            amount: line.amount,
            percent: line.percent,
            id: line.id,
            certain: line.certain,
            suggestions: line.suggestions,
            problem: line.problem,
        })
        .collect();
    Ok(ReadAnswer { unit: read.unit, sum: read.sum, lines, recipe, remarks })
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
