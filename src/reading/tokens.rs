//! A row of text as numbers, words and marks.

use super::{
    letters::{TURNED, fold, in_word},
    names,
    numbers::{Number, number},
    units::{Measure, measure},
};

#[derive(Clone, Debug, PartialEq)]
pub(super) enum Kind {
    Number(Number),
    /// A word, folded.
    Word(String),
    Mark(char),
}

/// A number, word or mark, and where it stands in the row.
#[derive(Clone, Debug)]
pub(super) struct Token {
    pub(super) kind: Kind,
    pub(super) from: usize,
    pub(super) to: usize,
    /// Nothing stands between it and the one before.
    pub(super) tight: bool,
    /// It begins with a capital letter.
    pub(super) capital: bool,
}

impl Token {
    pub(super) fn is(&self, mark: char) -> bool {
        self.kind == Kind::Mark(mark)
    }

    pub(super) fn word(&self) -> Option<&str> {
        match &self.kind {
            Kind::Word(word) => Some(word),
            _ => None,
        }
    }

    pub(super) fn is_number(&self) -> bool {
        matches!(self.kind, Kind::Number(_))
    }
}

/// Marks that say nothing and part nothing.
const SILENT: &str = "*`{}";

pub(super) fn tokens(row: &[char]) -> Vec<Token> {
    let mut all: Vec<Token> = Vec::new();
    let mut at = 0;
    let mut quoted = false;
    while at < row.len() {
        let from = at;
        let tight = all.last().is_some_and(|last: &Token| last.to == from);
        let kind = if let Some(end) = address_of_mail(row, at) {
            at = end;
            None
        } else if let Some(end) = name_with_digits(row, at) {
            at = end;
            Some(Kind::Word(fold(&text(row, from, end))))
        } else if let Some((found, end)) = number(row, at) {
            at = end;
            Some(Kind::Number(found))
        } else if letter(row[at]) {
            at = word(row, at);
            let written = text(row, from, at);
            // A unit stuck to the name after it: “50gshea”.
            let after_number = tight && all.last().is_some_and(Token::is_number);
            if let Some(length) = unit_before_a_name(&written).filter(|_| after_number) {
                at = from + length;
            }
            Some(spoken(&text(row, from, at)))
        } else {
            at += 1;
            let mark = row[from];
            quoted ^= mark == '"';
            match mark {
                // What is in quotes is one cell.
                ',' if quoted => Some(Kind::Mark('-')),
                _ if mark.is_whitespace() && mark != '\t' || SILENT.contains(mark) => None,
                _ => Some(Kind::Mark(mark)),
            }
        };
        if let Some(kind) = kind {
            all.push(Token { kind, from, to: at, tight, capital: row[from].is_uppercase() });
        }
    }
    negative_numbers_are_bad(&mut all);
    all
}

pub(super) fn text(row: &[char], from: usize, to: usize) -> String {
    row[from..to].iter().collect()
}

/// A word, or what is said for a number that is none.
fn spoken(written: &str) -> Kind {
    let turned = written.contains(TURNED) && written.chars().any(|letter| letter.is_ascii_digit());
    let word = fold(written);
    if turned || matches!(word.as_str(), "nan" | "infinity" | "inf") {
        Kind::Number(Number::Bad)
    } else {
        Kind::Word(word)
    }
}

/// Whether a character can begin a word.
fn letter(letter: char) -> bool {
    letter == '_' || in_word(letter) && !letter.is_ascii_digit()
}

/// Where the address of a mailbox ends that begins here.
fn address_of_mail(row: &[char], begin: usize) -> Option<usize> {
    if begin > 0 && !row[begin - 1].is_whitespace() {
        return None;
    }
    let length = row[begin..].iter().take(80).take_while(|letter| !letter.is_whitespace()).count();
    let sign = row[begin..begin + length].iter().position(|letter| *letter == '@')?;
    (sign > 0 && sign + 1 < length).then_some(begin + length)
}

/// Where the word that begins here ends. Signs within it stay: “d'olive”, “caprylic/capric”, “e.o”, “C12-15”.
fn word(row: &[char], begin: usize) -> usize {
    let at = |at: usize| row.get(at).copied().unwrap_or('\n');
    let mut end = begin + 1;
    let mut letters = 1;
    loop {
        let now = at(end);
        if letter(now) {
            letters += 1;
            end += 1;
        } else if (now.is_ascii_digit() && (letters <= 2 || row[begin..end].iter().any(char::is_ascii_digit)))
            || (matches!(now, '\'' | '.' | '/' | '-') && letter(at(end + 1)))
        {
            end += 1;
        } else if now == '-' && at(end + 1).is_ascii_digit() {
            let after = (end + 1..).find(|place| !at(*place).is_ascii_digit()).unwrap_or(end + 1);
            if at(after) == '%' || letter(at(after)) || matches!(at(after), '.' | ',') {
                return end;
            }
            end = after;
        } else {
            return end;
        }
    }
}

/// Where a name ends that begins with a number: “12-hydroxystearic”, “12HSA”.
fn name_with_digits(row: &[char], begin: usize) -> Option<usize> {
    let at = |at: usize| row.get(at).copied().unwrap_or('\n');
    if !at(begin).is_ascii_digit() {
        return None;
    }
    let digits = (begin..begin + 3).find(|place| !at(*place).is_ascii_digit())?;
    let letters = digits + usize::from(at(digits) == '-');
    let end = (letters..letters + 20).find(|place| !at(*place).is_alphabetic())?;
    let long = letters > digits && end - letters >= 5 && measure(&fold(&text(row, letters, end))).is_none();
    let known = || end - letters == 3 && names::exact(&text(row, begin, end)).is_some();
    (long || known()).then_some(end)
}

/// Units that are found stuck to a name.
const STUCK: [&str; 7] = ["kg", "mg", "ml", "oz", "lb", "gr", "g"];

fn unit_before_a_name(written: &str) -> Option<usize> {
    if matches!(measure(&fold(written)), Some(Measure::Of(..) | Measure::Sizeless)) {
        return None;
    }
    let small = written.to_lowercase();
    STUCK.iter().find_map(|unit| {
        let name = small.strip_prefix(unit)?;
        (name.len() > 2 && names::exact(name).is_some()).then_some(unit.len())
    })
}

/// A number after a minus is no amount, but where the minus is a dash: before a space, at the beginning,
/// between numbers.
fn negative_numbers_are_bad(all: &mut [Token]) {
    for at in 1..all.len() {
        let minus = matches!(all[at - 1].kind, Kind::Mark('-' | '−'));
        let loose = at >= 2 && !all[at - 1].tight && !all[at - 2].is_number();
        let after_mark = at >= 2 && matches!(all[at - 2].kind, Kind::Mark(':' | '=' | '\t' | '|' | ','));
        if minus && all[at].tight && all[at].is_number() && (loose || after_mark) {
            all[at].kind = Kind::Number(Number::Bad);
        }
    }
}
