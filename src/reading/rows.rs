//! A row of text taken apart into entries: names with their amounts, whichever stands first.

use super::{
    amounts::{Amount, Quantity, Reader, Written},
    items::{Item, items},
    letters::TURNED,
    names::{self, Meaning},
    pieces::{Piece, pieces, resolve},
    tokens::{self, Token, tokens},
    units::Measure,
};

/// A name with its amounts, as it stands in the text.
#[derive(Clone, Debug, Default)]
pub(super) struct Entry {
    /// The piece of the text.
    pub(super) text: String,
    pub(super) name: String,
    /// What the name means without a guess.
    pub(super) meaning: Option<Meaning>,
    pub(super) amounts: Vec<Amount>,
    /// A ratio has more or fewer numbers than there are names.
    pub(super) mismatch: bool,
    /// How it is shaped, for its density: melted, or in pellets.
    pub(super) shape: Shape,
    /// The part of the recipe that it stands in.
    pub(super) block: usize,
}

/// How a fat is shaped where it is measured by volume.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Shape {
    #[default]
    Packed,
    Melted,
    Pellets,
}

/// What one row holds.
#[derive(Clone, Debug, Default)]
pub(super) struct Row {
    pub(super) entries: Vec<Entry>,
    /// Pieces that are no ingredient: notes, titles.
    pub(super) notes: Vec<String>,
    /// The unit that a heading gives to what follows.
    pub(super) unit: Option<Written>,
    /// It is a heading that gives equal parts to what follows.
    pub(super) equal: bool,
}

/// Reads a row; `french_spoons` as for [`Reader`].
pub(super) fn row(text: &str, french_spoons: bool) -> Row {
    let letters: Vec<char> = text.chars().collect();
    let tokens = tokens(&letters);
    let reader = Reader { tokens: &tokens, french_spoons };
    let items = items(&letters, reader);
    let mut row = Row { unit: heading_unit(&items, &tokens, french_spoons), ..Row::default() };
    let pieces = pieces(&letters, &items, &mut row.notes);
    shared(&letters, pieces, &mut row);
    row
}

/// The amounts that stand in a cell.
pub(super) fn amounts(cell: &str, french_spoons: bool) -> Vec<Amount> {
    let letters: Vec<char> = cell.chars().collect();
    let tokens = tokens(&letters);
    let reader = Reader { tokens: &tokens, french_spoons };
    let items = items(&letters, reader);
    let amount = |item| if let Item::Amount(amount, ..) = item { Some(amount) } else { None };
    items.into_iter().filter_map(amount).collect()
}

/// “All in grams:”, “Recipe (%):” give their unit to what follows.
fn heading_unit(items: &[Item], tokens: &[Token], french_spoons: bool) -> Option<Written> {
    if items.iter().any(|item| matches!(item, Item::Amount(..))) {
        return None;
    }
    let reader = Reader { tokens, french_spoons };
    (0..tokens.len()).find_map(|at| match reader.measure(at, 0.0)? {
        (Measure::Of(unit, factor), _)
            if factor == 1.0
                && (tokens[at].to - tokens[at].from > 1
                    || tokens[at].is('%')
                    || at > 0 && tokens[at - 1].is('(')) =>
        {
            Some(Written::Unit(unit))
        }
        _ => None,
    })
}

/// Gives ratios, equal parts and amounts “each” to the names that they are for, and makes entries of the
/// pieces.
fn shared(row: &[char], pieces: Vec<Piece>, out: &mut Row) {
    let shares = pieces
        .iter()
        .flat_map(|piece| &piece.amounts)
        .find(|amount| matches!(amount.quantity, Quantity::Equal | Quantity::Ratio(_)));
    let lone = pieces.iter().flat_map(|piece| &piece.amounts).count() == 1;
    match shares.filter(|_| lone).cloned() {
        Some(shares) => spread(row, &pieces, &shares, out),
        None => {
            let mut entries: Vec<Entry> = pieces.iter().map(|piece| entry(row, piece)).collect();
            for at in 0..entries.len() {
                if let Some(each) = entries[at].amounts.iter().find(|amount| amount.each).cloned() {
                    for before in (0..at).rev() {
                        if !entries[before].amounts.is_empty() {
                            break;
                        }
                        entries[before].amounts.push(each.clone());
                    }
                }
            }
            out.entries = entries;
        }
    }
}

/// Equal parts, or parts by a ratio, of every name in a row.
fn spread(row: &[char], pieces: &[Piece], shares: &Amount, out: &mut Row) {
    let texts: Vec<String> = pieces
        .iter()
        .flat_map(|piece| &piece.parts)
        .map(|(from, to)| tokens::text(row, *from, *to))
        .filter(|text| !names::says_nothing(text))
        .collect();
    let count = match &shares.quantity {
        Quantity::Ratio(numbers) => numbers.len(),
        _ => texts.len(),
    };
    let known: Vec<String> = texts.iter().filter(|text| names::exact(text).is_some()).cloned().collect();
    let one_by_one =
        || texts.iter().map(|text| names::in_a_row(text)).collect::<Option<Vec<_>>>().map(|all| all.concat());
    let names = if texts.is_empty() {
        out.equal = shares.quantity == Quantity::Equal;
        return;
    } else if texts.len() == count {
        texts
    } else if known.len() == count {
        known
    } else {
        one_by_one().unwrap_or(texts)
    };
    let mismatch = names.len() != count && shares.quantity != Quantity::Equal;
    out.entries = names
        .into_iter()
        .enumerate()
        .map(|(at, name)| {
            let share = match &shares.quantity {
                Quantity::Ratio(numbers) => numbers.get(at).copied(),
                _ => Some(1.0),
            };
            let amounts = share.map(|share| Amount {
                quantity: Quantity::One(share),
                written: if shares.written == Written::Nothing { PARTS } else { shares.written },
                about: shares.about,
                each: false,
            });
            Entry {
                text: name.clone(),
                meaning: names::exact(&name),
                name,
                amounts: amounts.into_iter().collect(),
                mismatch,
                ..Entry::default()
            }
        })
        .collect();
}

const PARTS: Written = Written::Unit(super::Unit::Parts);

fn entry(row: &[char], piece: &Piece) -> Entry {
    let text = tokens::text(row, piece.from, piece.to);
    let (name, meaning) = match resolve(row, &piece.parts, &piece.brackets) {
        Some((name, meaning)) => (name, Some(meaning)),
        None => {
            let parts: Vec<String> =
                piece.parts.iter().map(|(from, to)| tokens::text(row, *from, *to)).collect();
            (parts.join(" "), None)
        }
    };
    let mut meaning = meaning;
    let mut amounts = piece.amounts.clone();
    // A number without a unit beside an amount with one is a part of the name, or nothing: “stearic acid 95 -
    // 5 g”.
    let with_unit = amounts.iter().any(|amount| amount.written != Written::Nothing);
    if with_unit && amounts.len() > 1 {
        let numbered = amounts.iter().find_map(|amount| match (&amount.quantity, amount.written) {
            (Quantity::One(value), Written::Nothing) => Some(format!("{name} {value}")),
            (Quantity::Ratio(numbers), Written::Nothing) => {
                Some(format!("{name} {}", numbers.iter().map(f64::to_string).collect::<Vec<_>>().join(" ")))
            }
            _ => None,
        });
        if let Some(found) = numbered.and_then(|numbered| names::exact(&numbered)) {
            meaning = Some(found);
        }
        amounts
            .retain(|amount| amount.written != Written::Nothing || matches!(amount.quantity, Quantity::Bad));
    }
    let folded = super::letters::fold(&text);
    let has = |words: &[&str]| words.iter().any(|word| folded.contains(word));
    let shape = if has(&["pellet", "pastill", "beads", "grated", "flakes"]) {
        Shape::Pellets
    } else if has(&["melted", "liquid", "fondu", "derretid", "geschmolzen"]) && !has(&["not melted"]) {
        Shape::Melted
    } else {
        Shape::Packed
    };
    let turned = piece.parts.iter().any(|(from, to)| row[*from..*to].contains(&TURNED));
    Entry {
        text: text.trim().to_owned(),
        name: name.trim().to_owned(),
        meaning: meaning.filter(|_| !turned),
        amounts,
        shape,
        ..Entry::default()
    }
}
