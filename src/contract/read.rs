//! `read` and `scale`: a pasted recipe, and a recipe brought to 100 %.

use serde::{Deserialize, Serialize};

use super::{ErrorKind, Failure, Item, check, remarks::PERFUMES};
use crate::{
    reading::{self, LeftOutPiece, LineCorrection, ReadLine, TextRemark, Unit},
    substances,
};

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

pub(super) fn read(request: ReadRequest) -> Result<ReadAnswer, Failure> {
    let read = reading::read(&request.text, &request.corrections)?;
    let mut remarks = read.remarks;
    let mut recipe: Vec<Item> = Vec::new();
    for line in read.lines.iter().filter(|line| !line.left_out) {
        let Some(id) = line.id else { continue };
        let same = recipe.iter_mut().find(|item| item.id.as_deref() == Some(id));
        if same.is_some() && !PERFUMES.contains(&id) {
            let added = TextRemark::Added { name: line.name.clone() };
            // Of what is there many times it is said once.
            if !remarks.contains(&added) {
                remarks.push(added);
            }
        }
        let name = own_name(id, &line.name);
        match (same, line.percent) {
            (Some(item), Some(percent)) => {
                // Without the last bit's noise.
                item.percent = ((item.percent + percent) * 1e6).round() / 1e6;
                item.name = both(item.name.take(), name);
            }
            (None, Some(percent)) => {
                recipe.push(Item { id: Some(id.to_owned()), name, percent, ..Item::default() })
            }
            (_, None) => {}
        }
    }
    Ok(ReadAnswer {
        unit: read.unit,
        sum: read.sum,
        open: read.lines.iter().filter(|line| !line.left_out && line.problem.is_some()).count(),
        lines: read.lines,
        recipe,
        remarks,
        left_out: read.left_out,
    })
}

/// What a line of a class is called: which of its many it is, where the text says more than the class.
fn own_name(id: &str, name: &str) -> Option<String> {
    let class = substances::find(id).filter(|_| PERFUMES.contains(&id))?;
    (reading::says_more(name, class.name()) && check::unfit(name).is_none()).then(|| name.to_owned())
}

/// The name of two lines that become one, as far as it fits.
fn both(one: Option<String>, other: Option<String>) -> Option<String> {
    let (Some(first), Some(second)) = (&one, &other) else { return one.or(other) };
    let joined = format!("{first}, {second}");
    Some(joined).filter(|name| check::unfit(name).is_none()).or(one)
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

#[cfg(test)]
mod tests {
    use super::*;

    fn recipe(text: &str) -> Vec<(Option<String>, f64)> {
        let request = ReadRequest { text: text.to_owned(), corrections: Vec::new() };
        let read = read(request).expect("reads");
        read.recipe.into_iter().skip(1).map(|item| (item.name, item.percent)).collect()
    }

    #[test]
    fn which_essential_oil_it_is_stays_with_the_line() {
        let named = |name: &str, percent| vec![(Some(name.to_owned()), percent)];
        assert_eq!(recipe("shea butter 98 %\nlavender EO my blend 2 %"), named("lavender EO my blend", 2.0));
        let two = "shea butter 97 %\nlavender EO 2.1 %\nhuile essentielle de romarin 0.9 %";
        assert_eq!(recipe(two), named("lavender EO, huile essentielle de romarin", 3.0));
        // What says no more than the class, or is no class, goes by the catalogue's name.
        assert_eq!(recipe("shea butter 98 %\npure essential oil 2 %"), [(None, 2.0)]);
        assert_eq!(recipe("shea butter 98 %\nfragrance oil 2 %"), [(None, 2.0)]);
        assert_eq!(recipe("shea butter 98 %\norganic carnauba 2 %"), [(None, 2.0)]);
        // Two that do not fit into one name go by the first.
        let long = "shea butter 97 %\nlavender EO grown in high meadows beside grandmother 2 %\nrosemary EO grown in her garden 1 %";
        assert_eq!(recipe(long), named("lavender EO grown in high meadows beside grandmother", 3.0));
    }
}
