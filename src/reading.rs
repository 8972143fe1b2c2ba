//! Reading a recipe that was pasted as text: from a chat, a spreadsheet, a note.
//!
//! A line is an ingredient and an amount, in either order: `60 shea butter`, `Shea butter<tab>60`,
//! `- 12,5 % cocoa butter`, `beeswax (15 g)`. Lines end at a line break, a semicolon, or a comma that is not a decimal
//! comma. Amounts are percent, grams, ounces or plain parts. Nothing is guessed in silence: each line says what it was
//! taken for, whether that is certain, and what else it could be.

mod amounts;
mod names;
mod share;

use amounts::Amount;
pub(crate) use amounts::OUNCE_G;
pub use amounts::Unit;
pub use names::Known;
pub use share::shares;

use serde::Serialize;

use crate::failure::{ErrorKind, Failure};

/// The longest text that is read, in bytes.
pub const LONGEST: usize = 20_000;
/// The most lines.
pub const MOST_LINES: usize = 60;

/// One line as it was understood.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadLine {
    /// The line as it stands in the text.
    pub text: String,
    /// What it says the ingredient is.
    pub name: String,
    /// The amount in the unit of the whole.
    pub amount: Option<f64>,
    /// The catalogue id that it was taken for.
    pub id: Option<&'static str>,
    /// Whether the name is in the catalogue as written.
    pub certain: bool,
    /// Catalogue ids it could be instead, likeliest first.
    pub suggestions: Vec<&'static str>,
    /// Percent of the whole.
    pub percent: Option<f64>,
    /// What is wrong with the line.
    pub problem: Option<LineProblem>,
}

/// What is wrong with a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum LineProblem {
    /// An amount without an ingredient.
    NoName,
    /// No amount in the unit of the others.
    NoAmount,
    /// Nothing in the catalogue is called like that.
    Unknown,
    /// It could be more than one ingredient.
    Ambiguous,
    /// More than the whole.
    MoreThanAll,
}

/// What else there is to know of a text.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
#[allow(missing_docs, reason = "a figure is what its name says")]
pub enum TextRemark {
    /// A line was taken for a total and left out.
    TotalLeftOut { line: String },
    /// Some lines are in percent and others in weights, which were left out.
    MixedUnits,
    /// The amounts add up to so much, from which percentages were worked out.
    WorkedOut { unit: Unit, sum: f64, step_percent: f64 },
    /// Two lines name one ingredient; their amounts were added.
    Added { name: String },
}

/// The text as it was understood.
#[derive(Clone, Debug, PartialEq)]
pub struct Read {
    /// In what the amounts are.
    pub unit: Unit,
    /// Line by line.
    pub lines: Vec<ReadLine>,
    /// Sum of the amounts in that unit.
    pub sum: f64,
    /// What else there is to know.
    pub remarks: Vec<TextRemark>,
}

/// Reads a pasted recipe against a catalogue.
///
/// # Errors
/// The text is empty, too long, or holds no amount at all.
pub fn read(text: &str, catalogue: &[Known]) -> Result<Read, Failure> {
    if text.len() > LONGEST {
        return Err(Failure::new(
            ErrorKind::OutOfRange,
            "text",
            format!("the text is longer than {LONGEST} bytes: paste the recipe only"),
        ));
    }
    let mut remarks = Vec::new();
    let mut entries = Vec::new();
    for piece in amounts::pieces(text) {
        let entry = amounts::entry(&piece);
        if names::is_total(&entry.name) {
            remarks.push(TextRemark::TotalLeftOut { line: piece });
        } else if !entry.name.is_empty() || entry.amount.is_some() {
            entries.push((piece, entry));
        }
    }
    if entries.len() > MOST_LINES {
        return Err(Failure::new(
            ErrorKind::OutOfRange,
            "text",
            format!("the text has more than {MOST_LINES} lines: paste the recipe only"),
        ));
    }
    if entries.iter().all(|(_, entry)| entry.amount.is_none()) {
        return Err(Failure::new(
            ErrorKind::Empty,
            "text",
            "no amounts were found: write one ingredient a line with its amount, such as “60 % shea butter”",
        ));
    }
    let whole = whole_unit(entries.iter().filter_map(|(_, entry)| entry.amount));
    if whole.mixed {
        remarks.push(TextRemark::MixedUnits);
    }
    let lines: Vec<ReadLine> = entries
        .into_iter()
        .map(|(text, entry)| {
            let found = names::find(&entry.name, catalogue);
            let amount = entry.amount.and_then(|amount| amount.in_unit(whole.unit));
            let problem = match amount {
                _ if entry.name.is_empty() => Some(LineProblem::NoName),
                None => Some(LineProblem::NoAmount),
                Some(_) if found.best.is_some() => None,
                Some(_) if found.others.is_empty() => Some(LineProblem::Unknown),
                Some(_) => Some(LineProblem::Ambiguous),
            };
            ReadLine {
                text,
                name: entry.name,
                amount,
                id: found.best,
                certain: found.certain,
                suggestions: found.others,
                percent: None,
                problem,
            }
        })
        .collect();
    Ok(with_percent(lines, whole.unit, remarks))
}

struct Whole {
    unit: Unit,
    mixed: bool,
}

/// The unit of the whole: percent if any line says so, else grams or ounces; plain numbers are percent when they sum
/// to about 100, and parts otherwise.
fn whole_unit(amounts: impl Iterator<Item = Amount> + Clone) -> Whole {
    let has = |unit: Unit| amounts.clone().any(|amount| amount.unit == unit);
    let (percent, grams, ounces) = (has(Unit::Percent), has(Unit::Grams), has(Unit::Ounces));
    let unit = if percent {
        Unit::Percent
    } else if grams {
        Unit::Grams
    } else if ounces {
        Unit::Ounces
    } else if (90.0..=110.0).contains(&amounts.map(|amount| amount.value).sum()) {
        Unit::Percent
    } else {
        Unit::Parts
    };
    Whole { unit, mixed: percent && (grams || ounces) }
}

fn with_percent(mut lines: Vec<ReadLine>, unit: Unit, mut remarks: Vec<TextRemark>) -> Read {
    let sum: f64 = lines.iter().filter_map(|line| line.amount).sum();
    if unit == Unit::Percent {
        for line in &mut lines {
            line.percent = line.amount;
        }
    } else if sum > 0.0 {
        let amounts: Vec<f64> = lines.iter().map(|line| line.amount.unwrap_or(0.0)).collect();
        for (line, percent) in lines.iter_mut().zip(shares(&amounts, STEP_PERCENT)) {
            line.percent = line.amount.map(|_| percent);
        }
        remarks.push(TextRemark::WorkedOut { unit, sum, step_percent: STEP_PERCENT });
    }
    for line in &mut lines {
        if line.problem.is_none() && line.percent.is_some_and(|percent| percent > 100.0) {
            line.problem = Some(LineProblem::MoreThanAll);
        }
    }
    Read { unit, lines, sum, remarks }
}

/// What percentages that are worked out are written to.
const STEP_PERCENT: f64 = 0.01;

#[cfg(test)]
mod tests;
