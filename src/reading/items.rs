//! A row as items: amounts, words, brackets, and what parts them.

use super::{
    amounts::{Amount, Found, Quantity, Reader, Written},
    names,
    numbers::Number,
    tokens::{self, Kind, Token},
    units::Measure,
};

/// What parts two names or amounts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Sep {
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
pub(super) enum Item {
    Amount(Amount, usize, usize),
    /// Words from one character to another.
    Text(usize, usize),
    /// Words in brackets.
    Bracket(usize, usize),
    Sep(Sep),
}

/// The items of a row.
pub(super) fn items(row: &[char], reader: Reader) -> Vec<Item> {
    let skip_to = matching_brackets(reader.tokens);
    Items { row, reader, skip_to }.read()
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
            Kind::Word(word)
                if word == "to" && number_follows && at > 0 && self.reader.amount(at).is_none() =>
            {
                Some(Sep::And)
            }
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
