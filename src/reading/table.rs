//! Tables with a heading row, pasted from a spreadsheet, a document or a file. A table without one is read as
//! rows are: its cells are names and amounts.

use std::sync::LazyLock;

use super::{
    amounts::{Amount, Quantity, Written},
    letters::{fold, one_of, word_list},
    names::{self, Meaning},
    rows::{self, Entry},
    units::{Kind, Measure, Unit, measure},
};

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Role {
    Name,
    Inci,
    /// Amounts, in a unit if the heading says one.
    Amount(Option<Unit>),
    /// The unit of the amount beside it.
    Unit,
    Phase,
    /// Prices, lots, notes.
    Other,
}

/// Of a table, its columns.
pub(super) struct Table {
    parted_by: &'static str,
    roles: Vec<Role>,
    /// The names that stand in the heading, where each ingredient has a column.
    across: Vec<String>,
    /// Two columns of percentages are the ends of a range.
    ranges: bool,
}

/// A row of a table.
#[derive(Default)]
pub(super) struct TableRow {
    pub(super) entries: Vec<Entry>,
    /// The table tells phases.
    pub(super) phase: bool,
    /// It has two percentages that differ.
    pub(super) differs: bool,
}

/// Headings, folded. General knowledge, no source.
static NAMES: LazyLock<Vec<&str>> = LazyLock::new(|| {
    word_list(
        "ingredient ingredients ingrediente ingredientes ingredienti ingredienten zutat zutaten name names item items \
    oil oils material materials bahan nama nom nombre nome rohstoff component raw common trade samagri सामग्री",
    )
});
static AMOUNTS: LazyLock<Vec<&str>> = LazyLock::new(|| {
    word_list(
        "amount amounts qty quantity weight weights menge volume dose cantidad quantite quantita quantidade jumlah mass in min max old new w",
    )
});
static PRICES: LazyLock<Vec<&str>> =
    LazyLock::new(|| word_list("cost costs price prices prix preis precio preco prezzo harga eur usd gbp"));

impl Table {
    /// The table whose heading a line is.
    pub(super) fn of(line: &str) -> Option<Table> {
        let parted_by = ["\t", "|", "│", ";", ",", "  "].into_iter().find(|sign| line.contains(sign))?;
        let cells = cells(line, parted_by);
        let known = |cell: &&String| matches!(names::exact(cell), Some(Meaning::One { .. }));
        let named = cells.iter().filter(known).count();
        if parted_by == "\t" && cells.len() > 2 && cells[0].is_empty() && named + 1 == cells.len() {
            return Some(Table { parted_by, roles: Vec::new(), across: cells, ranges: false });
        }
        let mut roles: Vec<Role> = cells.iter().map(|cell| role(cell)).collect();
        let amounts = roles.iter().any(|role| matches!(role, Role::Amount(_)));
        if named > 0 || !amounts || roles.len() < 2 {
            return None;
        }
        if !roles.iter().any(|role| matches!(role, Role::Name | Role::Inci)) && roles[0] == Role::Other {
            roles[0] = Role::Name;
        }
        // What may part a sentence too parts a heading only where nothing else can be meant.
        let sure = matches!(parted_by, "\t" | "|" | "│")
            || !(roles.contains(&Role::Other) || line.contains(|letter: char| letter.is_ascii_digit()));
        let names = roles.iter().any(|role| matches!(role, Role::Name | Role::Inci));
        let ranges = cells.iter().any(|cell| fold(cell).contains("min"))
            && cells.iter().any(|cell| fold(cell).contains("max"));
        (sure && names).then_some(Table { parted_by, roles, across: Vec::new(), ranges })
    }

    /// A row of this table; none where the line is not parted as the table is.
    pub(super) fn row(&self, line: &str, french_spoons: bool) -> Option<TableRow> {
        if !line.contains(self.parted_by) {
            return None;
        }
        let cells = cells(line, self.parted_by);
        if !self.across.is_empty() {
            return self.row_across(&cells, french_spoons);
        }
        let of = |role: Role| self.roles.iter().position(|one| *one == role).and_then(|at| cells.get(at));
        let unit = of(Role::Unit).map_or("", String::as_str);
        let mut amounts: Vec<Amount> = Vec::new();
        let mut percents: Vec<f64> = Vec::new();
        for (role, cell) in self.roles.iter().zip(&cells) {
            let Role::Amount(of_column) = role else { continue };
            let with = |unit: &str| rows::amounts(&format!("{cell} {unit}"), french_spoons);
            let mut read = match of_column {
                Some(unit) => with(unit.word()),
                None => with(unit),
            };
            if !read.iter().any(|amount| amount.written != Written::Nothing) || cell.is_empty() {
                read = rows::amounts(cell, french_spoons);
            }
            let percent = *of_column == Some(Unit::Percent);
            percents.extend(read.iter().filter(|_| percent).filter_map(|amount| match amount.quantity {
                Quantity::One(value) => Some(value),
                _ => None,
            }));
            if !(percent && percents.len() > 1) {
                amounts.extend(read);
            }
        }
        let differs = percents.len() > 1 && percents.iter().any(|percent| *percent != percents[0]);
        let range = self.ranges && differs;
        if range {
            amounts.retain(|amount| amount.written != Written::Unit(Unit::Percent));
            amounts.push(Amount { quantity: Quantity::Range(percents[0], percents[1]), ..Amount::percent() });
        }
        let meaning = |name: Option<&String>| name.and_then(|name| Some((name.clone(), names::exact(name)?)));
        let (name, meaning) = match meaning(of(Role::Name)).or_else(|| meaning(of(Role::Inci))) {
            Some((name, meaning)) => (name, Some(meaning)),
            None => (of(Role::Name).or_else(|| of(Role::Inci)).cloned().unwrap_or_default(), None),
        };
        let entry =
            Entry { text: line.trim().replace('\t', "  "), name, meaning, amounts, ..Entry::default() };
        let phase = self.roles.contains(&Role::Phase);
        Some(TableRow { entries: vec![entry], phase, differs: differs && !range })
    }

    /// A row with an amount for each of the names in the heading: `%`, 50, 30, 20.
    fn row_across(&self, cells: &[String], french_spoons: bool) -> Option<TableRow> {
        if cells.len() != self.across.len() {
            return None;
        }
        let entry = |(name, cell): (&String, &String)| Entry {
            text: format!("{name} {cell}"),
            name: name.clone(),
            meaning: names::exact(name),
            amounts: rows::amounts(&format!("{cell} {}", cells[0]), french_spoons),
            ..Entry::default()
        };
        Some(TableRow {
            entries: self.across.iter().zip(cells).skip(1).map(entry).collect(),
            ..TableRow::default()
        })
    }
}

/// The cells of a line, without the marks around them.
fn cells(line: &str, parted_by: &str) -> Vec<String> {
    let edges = matches!(parted_by, "|" | "│");
    let line = if edges { line.trim().trim_matches(['|', '│']) } else { line };
    let mark = |letter: char| letter.is_whitespace() || matches!(letter, '"' | '*' | '`');
    line.split(parted_by)
        .map(|cell| cell.trim_matches(mark).to_owned())
        .filter(|cell| parted_by != "  " || !cell.is_empty())
        .collect()
}

/// What a heading says of its column.
fn role(cell: &str) -> Role {
    let folded = fold(cell);
    let words: Vec<&str> = folded.split(' ').filter(|word| !word.is_empty()).collect();
    let all = |list: &[&str]| !words.is_empty() && words.iter().all(|word| one_of(list, word));
    if words.iter().any(|word| one_of(&PRICES, word))
        || cell.contains(['€', '$', '£', '₹'])
        || words.len() > 3
    {
        return Role::Other;
    }
    if cell.contains('%') {
        return Role::Amount(Some(Unit::Percent));
    }
    let unit_of = |word: &&str| match measure(word)? {
        Measure::Of(unit, 1.0) if unit.kind() != Kind::Volume || word.len() > 1 => Some(unit),
        _ => None,
    };
    let figure = |word: &&str| word.chars().all(|letter| letter.is_ascii_digit());
    if let Some(unit) = words.iter().find_map(unit_of)
        && words
            .iter()
            .filter(|word| unit_of(word).is_none())
            .all(|word| one_of(&AMOUNTS, word) || figure(word))
    {
        return Role::Amount(Some(unit));
    }
    match folded.as_str() {
        "unit" | "units" | "einheit" | "unite" | "unidad" | "unita" => Role::Unit,
        "phase" | "fase" => Role::Phase,
        "fraction" | "ratio" => Role::Amount(Some(Unit::Parts)),
        _ if all(&AMOUNTS) => Role::Amount(None),
        _ if words.contains(&"inci") => Role::Inci,
        _ if all(&NAMES) => Role::Name,
        _ => Role::Other,
    }
}
