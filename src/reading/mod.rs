#![doc = include_str!("README.md")]

mod amounts;
mod certificate;
mod items;
mod letters;
mod names;
mod near;
mod numbers;
mod other;
mod pieces;
mod rows;
mod search;
mod share;
mod table;
mod tokens;
mod told;
mod units;
mod whole;

pub use certificate::{Certificate, certificate};
pub use names::How;
pub(crate) use names::says_more;
pub use search::{Found, search};
pub use share::shares;
pub(crate) use units::OUNCE_G;
pub use units::Unit;

use std::sync::LazyLock;

use serde::{Deserialize, Serialize, Serializer, ser::SerializeStruct};

use crate::failure::{ErrorKind, Failure, FaultPlace};
use names::Meaning;
use rows::Entry;

/// The longest text that is read, in bytes.
pub const LONGEST: usize = 20_000;
/// The most lines.
pub const MOST_LINES: usize = 400;

/// One line as it was understood.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
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
    /// All that is wrong: with its name first, then with its amount.
    pub problems: Vec<LineProblem>,
    /// A correction says that it is no line of the recipe.
    pub left_out: bool,
}

/// What is wrong with a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(test, derive(ts_rs::TS), ts(tag = "kind", rename_all = "kebab-case"))]
pub enum LineProblem {
    /// An amount without an ingredient.
    NoName,
    /// No amount.
    NoAmount,
    /// Nothing in the catalogue is called like that.
    Unknown,
    /// It could be more than one ingredient.
    Ambiguous,
    /// More than the whole.
    MoreThanAll,
    /// A range or a limit, not an amount.
    AmountRange,
    /// A number that is none, or two amounts that disagree.
    AmountBad,
    /// A measure without a size, or a number without a unit where units differ.
    UnitMissing,
    /// A mass or a volume beside percentages.
    UnitsMixed,
    /// A ratio has more or fewer numbers than there are names.
    RatioMismatch,
    /// It belongs to another recipe of the text.
    OtherRecipe,
}

impl LineProblem {
    /// Its word in the contract.
    pub fn kind(self) -> &'static str {
        match self {
            LineProblem::NoName => "no-name",
            LineProblem::NoAmount => "no-amount",
            LineProblem::Unknown => "unknown",
            LineProblem::Ambiguous => "ambiguous",
            LineProblem::MoreThanAll => "more-than-all",
            LineProblem::AmountRange => "amount-range",
            LineProblem::AmountBad => "amount-bad",
            LineProblem::UnitMissing => "unit-missing",
            LineProblem::UnitsMixed => "units-mixed",
            LineProblem::RatioMismatch => "ratio-mismatch",
            LineProblem::OtherRecipe => "other-recipe",
        }
    }
}

/// As the other findings: an object with its kind. Derived, each variant without figures would have code of
/// its own, 2 kB in all.
impl Serialize for LineProblem {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut finding = serializer.serialize_struct("LineProblem", 1)?;
        finding.serialize_field("kind", self.kind())?;
        finding.end()
    }
}

/// What else there is to know of a text.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
#[allow(missing_docs, reason = "a figure is what its name says")]
pub enum TextRemark {
    /// A line was taken for a total and left out.
    TotalLeftOut { line: String },
    /// Some lines are in percent and others are not, so that their share is not known.
    MixedUnits,
    /// The amounts add up to so much, from which percentages were worked out.
    WorkedOut { unit: Unit, sum: f64, step_percent: f64 },
    /// Two lines name one ingredient; their amounts were added.
    Added { name: String },
    /// A line is water or mostly water, which is not for this tool, and was left out.
    WaterBased { line: String },
    /// The percentages add up to so much.
    TotalNotHundred { sum_percent: f64 },
    /// An ingredient was given what is missing from the whole.
    FilledUp { name: String, percent: f64 },
    /// The masses of a table are not in the proportion of its percentages, which were taken.
    ColumnsDisagree,
    /// The text holds two recipes.
    TwoRecipes,
    /// Parts or phases were put together.
    Phases,
    /// Volumes were turned into masses by the densities of the ingredients.
    Volumes,
    /// It is a certificate of so many fatty acids; or, where there are lines, it could be one.
    Certificate { acids: usize },
    /// The same, of an ingredient that it names.
    CertificateOf { acids: usize, id: &'static str },
    /// It holds a link of the page: what follows its number sign.
    Link { fragment: String },
    /// It is a file that the page saved.
    File,
}

/// Why a piece of the text is no line of the recipe.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum LeftOut {
    /// A title, an instruction, a note.
    Note,
    /// A total.
    Total,
    /// Water or mostly water.
    Water,
}

/// The text as it was understood.
#[derive(Clone, Debug, PartialEq)]
pub struct Read {
    /// In what the whole is: percent, grams, ounces or parts.
    pub unit: Unit,
    /// Line by line.
    pub lines: Vec<ReadLine>,
    /// Sum of the amounts in that unit.
    pub sum: f64,
    /// What else there is to know.
    pub remarks: Vec<TextRemark>,
    /// The pieces of the text that are no lines of the recipe, in their order.
    pub left_out: Vec<LeftOutPiece>,
}

/// A piece of the text that is no line of the recipe.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LeftOutPiece {
    /// The piece.
    pub text: String,
    /// Why.
    pub why: LeftOut,
}

/// What was corrected of one line.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
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

/// The text as entries and what is none.
#[derive(Default)]
struct Gathered {
    entries: Vec<Entry>,
    /// Those that are water, whose percentages belong to the whole.
    water: Vec<Entry>,
    left_out: Vec<LeftOutPiece>,
    /// The unit that a heading gives to bare numbers.
    unit: Option<amounts::Written>,
    phases: bool,
    /// Two columns of percentages differ on these entries.
    two_columns: Vec<usize>,
}

impl Gathered {
    fn leave_out(&mut self, text: impl Into<String>, why: LeftOut) {
        self.left_out.push(LeftOutPiece { text: text.into(), why });
    }
}

/// Reads a pasted recipe, with corrections to its lines. What is no recipe but a certificate, a link or a
/// file is said in a remark.
///
/// # Errors
/// The text is too long, holds nothing that is an ingredient, or a correction names what is not there.
pub fn read(text: &str, corrections: &[LineCorrection]) -> Result<Read, Failure> {
    if other::is_file(text) {
        return Ok(other::only(TextRemark::File));
    }
    if text.len() > LONGEST {
        return Err(too_long(format!("the text is longer than {LONGEST} bytes: paste the recipe only")));
    }
    let Some((fragment, rest)) = other::link(text) else { return read_lines(text, corrections) };
    let link = TextRemark::Link { fragment: fragment.to_owned() };
    match read_lines(&rest, corrections) {
        Ok(read) => Ok(Read { remarks: std::iter::once(link).chain(read.remarks).collect(), ..read }),
        Err(failure) if failure.kind == ErrorKind::Empty => Ok(other::only(link)),
        Err(failure) => Err(failure),
    }
}

/// Whether the text is a recipe, pasted where a certificate was expected.
pub fn is_recipe(text: &str) -> bool {
    let elsewhere = |remark: &TextRemark| {
        matches!(remark, TextRemark::Certificate { .. } | TextRemark::CertificateOf { .. })
    };
    read(text, &[]).is_ok_and(|read| !read.remarks.iter().any(elsewhere) && other::ingredients(&read) > 0)
}

/// Reads what is a recipe, or a certificate.
fn read_lines(text: &str, corrections: &[LineCorrection]) -> Result<Read, Failure> {
    let text = letters::clean(text);
    let acids = certificate::acids(&text);
    let read = read_recipe(&text, corrections);
    if matches!(&read, Err(failure) if failure.kind != ErrorKind::Empty) {
        return read;
    }
    let found = read.as_ref().ok();
    let remark = match other::of(found) {
        Some(id) => TextRemark::CertificateOf { acids: acids.rows, id },
        None => TextRemark::Certificate { acids: acids.rows },
    };
    match other::reads(&acids, found) {
        other::Reads::Recipe => read,
        other::Reads::Certificate => Ok(other::only(remark)),
        other::Reads::Either => {
            read.map(|read| Read { remarks: std::iter::once(remark).chain(read.remarks).collect(), ..read })
        }
    }
}

fn read_recipe(text: &str, corrections: &[LineCorrection]) -> Result<Read, Failure> {
    let gathered = gather(text);
    if gathered.entries.len() > MOST_LINES {
        return Err(too_long(format!("the text has more than {MOST_LINES} lines: paste the recipe only")));
    }
    whole::read(gathered, corrections)
}

fn too_long(message: String) -> Failure {
    Failure::new(ErrorKind::OutOfRange, FaultPlace::Text, message)
}

/// Words that a total, or how much a recipe makes, begins or ends with. General knowledge, no source.
static TOTALS: LazyLock<Vec<&str>> = LazyLock::new(|| {
    letters::word_list(
        "total totals sum subtotal summe gesamt zusammen somme totale suma soma jumlah makes make yield yields \
    for pour para fur untuk",
    )
});

fn is_total(name: &str) -> bool {
    let folded = letters::fold(name);
    let mut words = folded.split(' ');
    let is = |word: Option<&str>| word.is_some_and(|word| letters::one_of(&TOTALS, word));
    is(words.next())
        || is(words.next_back())
        // “This makes 12 jars”: no ingredient is called so.
        || folded.split(' ').any(|word| matches!(word, "makes" | "yields"))
}

/// Reads the text row by row.
fn gather(text: &str) -> Gathered {
    let french_spoons = letters::fold(text).split(' ').any(|word| word == "cs");
    let mut all = Gathered::default();
    let mut table: Option<table::Table> = None;
    let mut block = 0;
    let mut equal = false;
    // A name whose amount may stand on the next row, and an amount whose name may.
    let mut name: Option<Entry> = None;
    let mut amount: Option<Entry> = None;
    let mut amounts_come_first = false;
    let mut row_begins = 0;
    for line in text.lines() {
        without_repeats(&mut all.left_out, row_begins);
        row_begins = all.left_out.len();
        let line = line.trim_matches([' ', letters::FIXED_SPACE]);
        if line.is_empty() {
            block += 1;
            continue;
        }
        if !line.contains(|letter: char| letters::in_word(letter) || matches!(letter, '%' | '∞')) {
            continue;
        }
        if let Some(heading) = table::Table::of(line) {
            table = Some(heading);
            continue;
        }
        if let Some(table) = &table
            && let Some(row) = table.row(line, french_spoons)
        {
            all.phases |= row.phase;
            for entry in row.entries {
                let before = all.entries.len();
                add(&mut all, entry, line, block);
                if row.differs && all.entries.len() > before {
                    all.two_columns.push(before);
                }
            }
            continue;
        }
        let mut row = rows::row(line, french_spoons);
        all.phases |= is_phase(line);
        equal |= row.equal;
        let known = row.entries.iter().all(|entry| entry.meaning.is_some());
        let amounts = row.entries.iter().filter(|entry| !entry.amounts.is_empty()).count();
        let notes = std::mem::take(&mut row.notes);
        if let ([only], []) = (row.entries.as_mut_slice(), notes.as_slice()) {
            line.clone_into(&mut only.text);
        }
        let noted = !notes.is_empty();
        let notes = notes.into_iter().filter(|note| !names::says_nothing(note));
        all.left_out.extend(notes.map(|text| LeftOutPiece { text, why: LeftOut::Note }));
        match row.entries.as_mut_slice() {
            // An amount alone.
            [only] if only.name.is_empty() => {
                if let Some(mut waiting) = name.take() {
                    waiting.amounts = std::mem::take(&mut only.amounts);
                    add(&mut all, waiting, line, block);
                } else if all.entries.is_empty() || amounts_come_first {
                    amount = Some(only.clone());
                } else {
                    all.leave_out(line, LeftOut::Total);
                }
                continue;
            }
            [only] if amounts == 0 && amount.is_some() => {
                only.amounts = amount.take().map(|waiting| waiting.amounts).unwrap_or_default();
                amounts_come_first = true;
                add(&mut all, only.clone(), line, block);
                continue;
            }
            _ => {}
        }
        if let Some(waiting) = name.take() {
            without_amount(&mut all, waiting, block);
        }
        if amounts > 0 {
            for entry in row.entries {
                if entry.amounts.is_empty() && entry.meaning.is_none() {
                    all.leave_out(entry.text, LeftOut::Note);
                } else {
                    add(&mut all, entry, line, block);
                }
            }
        } else if equal && known && !row.entries.is_empty() {
            for mut entry in row.entries {
                entry.amounts.push(amounts::Amount::part());
                add(&mut all, entry, line, block);
            }
        } else if row.entries.len() == 1 {
            all.unit = row.unit.filter(|_| !known).or(all.unit);
            name = row.entries.pop();
        } else if known && !row.entries.is_empty() {
            for entry in row.entries {
                add(&mut all, entry, line, block);
            }
        } else {
            all.unit = row.unit.or(all.unit);
            if !(noted && row.entries.is_empty()) {
                all.leave_out(line, LeftOut::Note);
            }
            block += 1;
        }
    }
    if let Some(waiting) = name.take() {
        without_amount(&mut all, waiting, block);
    }
    if let Some(waiting) = amount {
        all.leave_out(waiting.text, LeftOut::Total);
    }
    without_repeats(&mut all.left_out, row_begins);
    all
}

/// Of the pieces of one row, from a number on, drops the notes that stand in another whole.
fn without_repeats(pieces: &mut Vec<LeftOutPiece>, from: usize) {
    let row = pieces.split_off(from);
    let within = |at: usize, piece: &LeftOutPiece| {
        let holds = |(other, longer): (usize, &LeftOutPiece)| {
            other != at && longer.text.len() > piece.text.len() && longer.text.contains(&piece.text)
        };
        piece.why == LeftOut::Note && row.iter().enumerate().any(holds)
    };
    let kept: Vec<LeftOutPiece> = row
        .iter()
        .enumerate()
        .filter(|(at, piece)| !within(*at, piece))
        .map(|(_, piece)| piece.clone())
        .collect();
    pieces.extend(kept);
}

/// A row that holds a name and no amount is a line of the recipe if the name is one, and a title or a note if
/// it is none.
fn without_amount(all: &mut Gathered, entry: Entry, block: usize) {
    if entry.meaning.is_some() {
        let text = entry.text.clone();
        add(all, entry, &text, block);
    } else {
        all.leave_out(entry.text, LeftOut::Note);
    }
}

/// “Phase A”, “B”, “oil phase”.
fn is_phase(line: &str) -> bool {
    let folded = letters::fold(line);
    folded.split(' ').any(|word| word == "phase" || word == "fase")
        || matches!(folded.as_str(), "a" | "b" | "c" | "d")
}

/// Adds an entry, or says why it is none.
fn add(all: &mut Gathered, mut entry: Entry, line: &str, block: usize) {
    use amounts::{Quantity, Written};
    let text = if entry.text.is_empty() { line.to_owned() } else { entry.text.clone() };
    if is_total(&entry.name) {
        all.leave_out(text, LeftOut::Total);
        return;
    }
    let bare = entry.amounts.iter().all(|amount| amount.written == Written::Nothing);
    let plain = match entry.amounts.as_slice() {
        _ if entry.meaning.is_some() || !bare => true,
        [] => false,
        // A number that could be anything is an amount where there is little else.
        [only] => {
            !matches!(only.quantity, Quantity::Few | Quantity::Rest(None) | Quantity::Ratio(_))
                && entry.name.split_whitespace().count() <= 3
        }
        _ => false,
    };
    if names::says_nothing(&entry.name) || !plain {
        all.leave_out(text, LeftOut::Note);
        return;
    }
    if entry.meaning == Some(Meaning::Water) {
        all.leave_out(text, LeftOut::Water);
        all.water.push(entry);
        return;
    }
    entry.text = text;
    entry.block = block;
    all.entries.push(entry);
}

#[cfg(test)]
mod tests;
