//! A row of text taken apart into entries: names with their amounts, whichever stands first.

use super::{
    amounts::{Amount, Found, Quantity, Reader, Written},
    letters::TURNED,
    names::{self, Meaning},
    numbers::Number,
    tokens::{self, Kind, Token, tokens},
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

/// What parts two names or amounts.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Sep {
    /// A line break, a bullet, a plus.
    Hard,
    Comma,
    Slash,
    And,
    Or,
    /// A dash, a colon, an equals sign: between a name and its amount, or before a note.
    Soft(char),
}

#[derive(Clone, Debug)]
enum Item {
    Amount(Amount, usize, usize),
    /// Words from one character to another.
    Text(usize, usize),
    /// Words in brackets.
    Bracket(usize, usize),
    Sep(Sep),
}

/// A name in parts, with its amounts, before it is known what it is.
#[derive(Clone, Debug)]
struct Piece {
    parts: Vec<(usize, usize)>,
    brackets: Vec<(usize, usize)>,
    amounts: Vec<Amount>,
    before: Sep,
    from: usize,
    to: usize,
    /// Whether its words name anything, rather than say how it is.
    named: bool,
}

impl Piece {
    fn new(
        row: &[char],
        parts: Vec<(usize, usize)>,
        brackets: Vec<(usize, usize)>,
        before: Sep,
        from: usize,
        to: usize,
    ) -> Piece {
        let named = parts.iter().any(|(from, to)| !names::says_nothing(&tokens::text(row, *from, *to)));
        Piece { parts, brackets, amounts: Vec::new(), before, from, to, named }
    }

    /// Takes another piece for a part of this one.
    fn take(&mut self, other: Piece) {
        self.parts.extend(other.parts);
        self.brackets.extend(other.brackets);
        self.amounts.extend(other.amounts);
        self.from = self.from.min(other.from);
        self.to = self.to.max(other.to);
        self.named |= other.named;
    }
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
    let items = Items { row: &letters, reader, skip_to: matching_brackets(&tokens) }.read();
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
    let items = Items { row: &letters, reader, skip_to: matching_brackets(&tokens) }.read();
    let amount = |item| if let Item::Amount(amount, ..) = item { Some(amount) } else { None };
    items.into_iter().filter_map(amount).collect()
}

struct Items<'a> {
    row: &'a [char],
    reader: Reader<'a>,
    /// Of each opening bracket its closing one.
    skip_to: Vec<Option<usize>>,
}

const AND: [&str; 11] = ["and", "und", "et", "y", "dan", "aur", "plus", "with", "mit", "और", "avec"];
const OR: [&str; 4] = ["or", "oder", "ou", "atau"];
/// Words that end with a full stop.
const SHORTENED: [&str; 8] = ["subsp", "ssp", "var", "approx", "ca", "spp", "vit", "ess"];

impl Items<'_> {
    fn read(&self) -> Vec<Item> {
        let tokens = self.reader.tokens;
        let whole = self.skip_to.first().copied().flatten().filter(|close| close + 1 == tokens.len());
        let (begin, end) = if whole.is_some() { (1, tokens.len() - 1) } else { (0, tokens.len()) };
        self.between(begin, end, true)
    }

    /// The items of the tokens from one to another.
    fn between(&self, begin: usize, end: usize, brackets: bool) -> Vec<Item> {
        let tokens = self.reader.tokens;
        let mut items = Vec::new();
        let mut numbering = None;
        let mut at = begin;
        while at < end {
            let token = &tokens[at];
            if let Some(number) = self.list_number(at, at == begin, numbering) {
                numbering = Some(number);
                items.push(Item::Sep(Sep::Hard));
                at += 2;
                continue;
            }
            if let Some(sep) = self.separator(at, &items) {
                items.push(Item::Sep(sep));
                at += 1;
                continue;
            }
            if brackets && let Some(close) = self.skip_to[at].filter(|close| *close < end) {
                let inner = self.between(at + 1, close, false);
                if is_amount(self.row, &inner) {
                    items.extend(inner.into_iter().filter_map(|item| match item {
                        Item::Amount(amount, from, _) => Some(Item::Amount(amount, from, tokens[close].to)),
                        _ => None,
                    }));
                } else if close > at + 1 {
                    items.push(Item::Bracket(tokens[at + 1].from, tokens[close - 1].to));
                }
                at = close + 1;
                continue;
            }
            if let Some((found, next)) = self.reader.amount(at) {
                if let Found::Amount(amount) = found {
                    items.push(Item::Amount(amount, token.from, tokens[next - 1].to));
                }
                // The full stop of a unit.
                at = next + usize::from(next < end && tokens[next].is('.') && tokens[next].tight);
                continue;
            }
            if let Some(next) = self.unit_before_its_number(at, end, &mut items) {
                at = next;
                continue;
            }
            if let Kind::Word(word) = &token.kind {
                // A sign of multiplication before a number only joins.
                let joins = word == "x" && tokens.get(at + 1).is_some_and(Token::is_number);
                if !word.is_empty() && !joins {
                    self.text(at, &mut items);
                }
            } else if token.is_number() {
                self.text(at, &mut items);
            }
            at += 1;
        }
        items
    }

    /// `"percent": 60`, `grams = 5`.
    fn unit_before_its_number(&self, at: usize, end: usize, items: &mut Vec<Item>) -> Option<usize> {
        let (Measure::Of(unit, factor), mut next) = self.reader.measure(at, 1.0)? else { return None };
        while next < end && matches!(self.reader.tokens[next].kind, Kind::Mark(':' | '=' | '"')) {
            next += 1;
        }
        let Kind::Number(Number::One(value)) = &self.reader.tokens.get(next).filter(|_| next < end)?.kind
        else {
            return None;
        };
        let bare = self.reader.measure(next + 1, *value).is_none();
        let begins = self.reader.tokens[at].tight || at == 0 || !matches!(items.last(), Some(Item::Text(..)));
        (bare && begins).then(|| {
            let amount = Amount {
                quantity: Quantity::One(value * factor),
                written: Written::Unit(unit),
                about: false,
                each: false,
            };
            items.push(Item::Amount(amount, self.reader.tokens[at].from, self.reader.tokens[next].to));
            next + 1
        })
    }

    /// Adds a word to the text before it, or begins one.
    fn text(&self, at: usize, items: &mut Vec<Item>) {
        let token = &self.reader.tokens[at];
        match items.last_mut() {
            Some(Item::Text(_, to)) => *to = token.to,
            _ => items.push(Item::Text(token.from, token.to)),
        }
    }

    /// `1.` or `1)` before an item of a list, which further ones may follow in the same row.
    fn list_number(&self, at: usize, first: bool, before: Option<f64>) -> Option<f64> {
        let tokens = self.reader.tokens;
        let Kind::Number(Number::One(value)) = tokens[at].kind else { return None };
        let mark = tokens.get(at + 1).filter(|mark| mark.tight && (mark.is('.') || mark.is(')')))?;
        let spaced = tokens.get(at + 2).is_some_and(|next| next.from > mark.to);
        let next = first || before.is_some_and(|before| before + 1.0 == value);
        (spaced && next && value.fract() == 0.0 && value < 100.0).then_some(value)
    }

    fn separator(&self, at: usize, items: &[Item]) -> Option<Sep> {
        let tokens = self.reader.tokens;
        let token = &tokens[at];
        let number_follows = tokens.get(at + 1).is_some_and(Token::is_number);
        match &token.kind {
            Kind::Mark(mark) => match mark {
                ';' | '•' | '·' | '●' | '▪' | '|' | '│' | '¦' | '+' | '&' | '\t' | '!' | '?' => {
                    Some(Sep::Hard)
                }
                ',' => Some(Sep::Comma),
                '/' => Some(Sep::Slash),
                '<' | '>' if !number_follows => Some(Sep::Hard),
                ':' | '=' | '@' | '-' | '–' | '—' | '−' | '#' | '→' => Some(Sep::Soft(*mark)),
                '.' | '…' => self.full_stop(at),
                _ => None,
            },
            Kind::Word(word) if AND.contains(&word.as_str()) => {
                // “one and a half”, “between 5 and 10” are read with their number.
                Some(Sep::And)
            }
            Kind::Word(word) if OR.contains(&word.as_str()) => Some(Sep::Or),
            // Other words than “and”, but before a number.
            Kind::Word(word) if word == "to" && number_follows && at > 0 => Some(Sep::And),
            Kind::Word(word) if word == "e" && number_follows && self.ends_an_amount_first(at, items) => {
                Some(Sep::And)
            }
            _ => None,
        }
    }

    /// Whether a name that follows its amount stands before a token, and is not one with it: “1 % vitamin e”.
    fn ends_an_amount_first(&self, at: usize, items: &[Item]) -> bool {
        let [.., Item::Amount(..), Item::Text(from, _)] = items else { return false };
        names::exact(&tokens::text(self.row, *from, self.reader.tokens[at].to)).is_none()
    }

    /// A full stop parts where a sentence ends; several of them lead to an amount.
    fn full_stop(&self, at: usize) -> Option<Sep> {
        let tokens = self.reader.tokens;
        if tokens.get(at + 1).is_some_and(|next| next.is('.')) || (at > 0 && tokens[at - 1].is('.')) {
            return Some(Sep::Soft('.'));
        }
        let next = tokens.get(at + 1)?;
        let short =
            at > 0 && tokens[at - 1].word().is_some_and(|word| word.len() <= 2 || SHORTENED.contains(&word));
        (!next.tight && !short && (next.capital || next.is_number())).then_some(Sep::Hard)
    }
}

/// Of each opening bracket the closing one that ends it; brackets within it are passed over. A bracket that
/// is not closed in its row is none.
fn matching_brackets(tokens: &[Token]) -> Vec<Option<usize>> {
    let mut close = vec![None; tokens.len()];
    let mut open: Vec<usize> = Vec::new();
    for (at, token) in tokens.iter().enumerate() {
        if token.is('(') || token.is('[') {
            open.push(at);
        } else if (token.is(')') || token.is(']'))
            && let Some(begin) = open.pop()
        {
            close[begin] = Some(at);
        }
    }
    close
}

/// Whether what is in brackets is an amount and nothing else.
fn is_amount(row: &[char], items: &[Item]) -> bool {
    let mut amounts = 0;
    items.iter().all(|item| match item {
        Item::Amount(..) => {
            amounts += 1;
            true
        }
        Item::Text(from, to) => names::says_nothing(&tokens::text(row, *from, *to)),
        _ => true,
    }) && amounts > 0
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

/// A run of texts or of amounts within a fragment.
enum Run {
    Texts(Vec<(usize, usize)>, Vec<(usize, usize)>),
    Amounts(Vec<Amount>, usize, usize),
}

/// Items as pieces; words that belong to none become notes.
fn pieces(row: &[char], items: &[Item], notes: &mut Vec<String>) -> Vec<Piece> {
    let mut all: Vec<Piece> = Vec::new();
    let mut before = Sep::Hard;
    let mut begin = 0;
    for at in 0..=items.len() {
        let sep = match items.get(at) {
            None => Sep::Hard,
            Some(Item::Sep(Sep::Soft(_))) => continue,
            Some(Item::Sep(sep)) => *sep,
            Some(_) => continue,
        };
        for piece in fragment(row, &items[begin..at], before, notes) {
            join_or_push(row, &mut all, piece);
        }
        (begin, before) = (at + 1, if begin == at && at > 0 { stronger(before, sep) } else { sep });
    }
    all
}

fn stronger(a: Sep, b: Sep) -> Sep {
    if a == Sep::Hard { a } else { b }
}

/// What stands between two separators.
fn fragment(row: &[char], items: &[Item], before: Sep, notes: &mut Vec<String>) -> Vec<Piece> {
    let mut runs: Vec<Run> = Vec::new();
    let mut heading = None;
    // With several colons, it is names that they stand between.
    let one_colon = items.iter().filter(|item| matches!(item, Item::Sep(Sep::Soft(':')))).count() == 1;
    for item in items {
        match (item, runs.last_mut()) {
            (Item::Amount(amount, _, end), Some(Run::Amounts(amounts, _, to))) => {
                amounts.push(amount.clone());
                *to = *end;
            }
            (Item::Amount(amount, from, to), _) => runs.push(Run::Amounts(vec![amount.clone()], *from, *to)),
            (Item::Text(from, to), Some(Run::Texts(parts, _))) => parts.push((*from, *to)),
            (Item::Text(from, to), _) => runs.push(Run::Texts(vec![(*from, *to)], Vec::new())),
            (Item::Bracket(from, to), Some(Run::Texts(_, brackets))) => brackets.push((*from, *to)),
            // After an amount it may still tell which: “coconut oil 30 % (fractionated)”.
            (Item::Bracket(from, to), Some(Run::Amounts(..))) => {
                let before = runs.len() - 1;
                if let Some(Run::Texts(_, brackets)) = runs[..before].last_mut() {
                    brackets.push((*from, *to));
                }
            }
            // A note before everything.
            (Item::Bracket(..), None) => {}
            (Item::Sep(Sep::Soft(':')), Some(Run::Texts(parts, brackets))) if one_colon => {
                // “HARD: cocoa butter 20 %”: what is no name before a colon is a heading.
                if resolve(row, parts, brackets).is_none() && heading.is_none() {
                    heading =
                        Some((parts.first().map_or(0, |part| part.0), parts.last().map_or(0, |part| part.1)));
                    runs.pop();
                }
            }
            (Item::Sep(_), _) => {}
        }
    }
    if let Some((from, to)) = heading {
        notes.push(tokens::text(row, from, to));
    }
    let known = |run: &Run| match run {
        Run::Texts(parts, brackets) => resolve(row, parts, brackets).is_some(),
        Run::Amounts(..) => false,
    };
    let empty = |run: &Run| match run {
        Run::Texts(parts, _) => {
            parts.iter().all(|(from, to)| names::says_nothing(&tokens::text(row, *from, *to)))
        }
        Run::Amounts(..) => false,
    };
    let amounts = runs.iter().filter(|run| matches!(run, Run::Amounts(..))).count();
    let begins_with_text = matches!(runs.first(), Some(Run::Texts(..)));
    // Whether the name of an amount stands before it. Where both can be, the one that gives more names that
    // are known.
    let name_first = if begins_with_text && runs.len() > 2 * amounts {
        let of =
            |from: usize| runs.iter().skip(from).step_by(2).take(amounts).filter(|run| known(run)).count();
        of(0) >= of(2) && !(amounts == 1 && empty(&runs[0]))
    } else {
        begins_with_text
    };
    let mut all: Vec<Piece> = Vec::new();
    let mut open = false;
    let count = runs.len();
    for (at, run) in runs.into_iter().enumerate() {
        let is_last = at + 1 == count;
        match run {
            Run::Texts(parts, brackets) => {
                let (from, to) = (parts[0].0, parts[parts.len() - 1].1);
                let piece = || Piece::new(row, parts.clone(), brackets.clone(), before, from, to);
                let run = Run::Texts(parts.clone(), brackets.clone());
                match all.last_mut() {
                    Some(last) if open => {
                        last.take(piece());
                        open = name_first;
                    }
                    // What follows a name and its amount.
                    Some(last) if is_last && name_first => {
                        if empty(&run) {
                            last.take(piece());
                        } else if known(&run) && !same(row, last, &parts, &brackets) {
                            all.push(piece());
                        } else if !last.parts.is_empty()
                            && resolve(row, &last.parts, &last.brackets).is_some()
                            && !tells_which(row, last, &parts)
                        {
                            notes.push(tokens::text(row, from, to));
                        } else {
                            last.take(piece());
                        }
                    }
                    // Words before the first amount, where names follow their amounts.
                    None if !name_first && amounts > 0 => notes.push(tokens::text(row, from, to)),
                    _ => {
                        all.push(piece());
                        open = name_first;
                    }
                }
            }
            Run::Amounts(list, from, to) => match all.last_mut() {
                Some(last) if name_first && open => {
                    last.amounts.extend(list);
                    last.to = last.to.max(to);
                    open = false;
                }
                Some(last) if is_last && last.amounts.len() == 1 && !name_first => {
                    last.amounts.extend(list);
                    last.to = last.to.max(to);
                }
                _ => {
                    all.push(Piece {
                        amounts: list,
                        ..Piece::new(row, Vec::new(), Vec::new(), before, from, to)
                    });
                    open = !name_first;
                }
            },
        }
    }
    all
}

fn same(row: &[char], piece: &Piece, parts: &[(usize, usize)], brackets: &[(usize, usize)]) -> bool {
    let one = |found: Option<(String, Meaning)>| match found {
        Some((_, Meaning::One { id, .. })) => Some(id),
        _ => None,
    };
    one(resolve(row, &piece.parts, &piece.brackets))
        .is_some_and(|id| one(resolve(row, parts, brackets)) == Some(id))
}

/// The most parts that a name is put together from.
const MOST_PARTS: usize = 8;

/// The name that parts and brackets give, and what it means; `None` where they mean nothing that is known.
fn resolve(row: &[char], parts: &[(usize, usize)], brackets: &[(usize, usize)]) -> Option<(String, Meaning)> {
    let joined = |spans: &[(usize, usize)]| {
        let mut spans = spans.to_vec();
        spans.sort_unstable();
        spans.iter().map(|(from, to)| tokens::text(row, *from, *to)).collect::<Vec<_>>().join(" ")
    };
    let known = |name: String| names::exact(&name).map(|meaning| (name, meaning));
    if parts.len() + brackets.len() > MOST_PARTS {
        return None;
    }
    let all: Vec<(usize, usize)> = parts.iter().chain(brackets).copied().collect();
    if let Some(found) = known(joined(&all)).or_else(|| known(joined(parts))) {
        return Some(found);
    }
    let mut found: Vec<(String, Meaning)> = parts.iter().filter_map(|part| known(joined(&[*part]))).collect();
    found.dedup_by(|a, b| match (&a.1, &b.1) {
        (Meaning::One { id, .. }, Meaning::One { id: other, .. }) => id == other,
        (one, other) => one == other,
    });
    match found.len() {
        0 => None,
        1 => found.pop(),
        _ => {
            let ids = found.iter().filter_map(|(_, meaning)| match meaning {
                Meaning::One { id, .. } => Some(*id),
                _ => None,
            });
            Some((joined(parts), Meaning::Several(ids.collect())))
        }
    }
}

/// Whether words that are no name by themselves tell which one is meant: “coconut oil 30 %, fractionated”.
fn tells_which(row: &[char], piece: &Piece, parts: &[(usize, usize)]) -> bool {
    let name = |parts: &mut dyn Iterator<Item = &(usize, usize)>| {
        names::exact(
            &parts
                .take(MOST_PARTS)
                .map(|(from, to)| tokens::text(row, *from, *to))
                .collect::<Vec<_>>()
                .join(" "),
        )
    };
    name(&mut parts.iter()).is_none()
        && matches!(name(&mut piece.parts.iter().chain(parts)), Some(Meaning::One { .. }))
}

/// Puts a piece to those before it: as a part of the last, where one has what the other lacks.
fn join_or_push(row: &[char], all: &mut Vec<Piece>, piece: Piece) {
    let Some(last) = all.last_mut() else {
        all.push(piece);
        return;
    };
    // “stearic acid, type 70”: the number is a part of the name.
    let bare =
        |amount: &Amount| amount.written == Written::Nothing && matches!(amount.quantity, Quantity::One(_));
    let numbered = [(piece.from, piece.to)];
    if !piece.amounts.is_empty() && piece.amounts.iter().all(bare) && tells_which(row, last, &numbered) {
        last.take(Piece { parts: numbered.to_vec(), amounts: Vec::new(), ..piece });
        return;
    }
    let (no_name, lacks_name) = (!piece.named, !last.named);
    let joined = || {
        let parts = last.parts.iter().chain(&piece.parts).take(MOST_PARTS);
        names::exact(&parts.map(|(from, to)| tokens::text(row, *from, *to)).collect::<Vec<_>>().join(" "))
    };
    let joins = match piece.before {
        _ if no_name && piece.amounts.is_empty() => true,
        // “4 oz / 113 g shea”, “1 cup plus 2 tbsp shea”
        Sep::Slash | Sep::And | Sep::Hard
            if lacks_name && !last.amounts.is_empty() && !piece.amounts.is_empty() =>
        {
            piece.named
        }
        Sep::Slash if same(row, last, &piece.parts, &piece.brackets) => true,
        Sep::Or => last.amounts.is_empty() || piece.amounts.is_empty(),
        _ if last.amounts.is_empty() && no_name => !lacks_name,
        _ if lacks_name && last.amounts.is_empty() => true,
        _ if lacks_name && piece.amounts.is_empty() => true,
        Sep::Comma | Sep::And if last.amounts.is_empty() && !lacks_name => {
            matches!(joined(), Some(Meaning::One { .. }))
        }
        Sep::Comma | Sep::And if piece.amounts.is_empty() => tells_which(row, last, &piece.parts),
        // The cells of one row.
        Sep::Hard if no_name && !lacks_name => true,
        _ => false,
    };
    if joins {
        last.take(piece);
    } else {
        all.push(piece);
    }
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
