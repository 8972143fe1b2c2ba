//! Taking a text apart into lines, and a line into an amount and a name.

use serde::Serialize;

use crate::decimal::decimal;

/// In what an amount is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Unit {
    /// Percent of the whole.
    Percent,
    /// Grams.
    Grams,
    /// Avoirdupois ounces.
    Ounces,
    /// Parts, in any unit.
    Parts,
}

/// Grams in an avoirdupois ounce, exact by definition (international yard and pound agreement, 1959).
pub(crate) const OUNCE_G: f64 = 28.349_523_125;

/// How the units are written, each with how much of its base unit it is.
const UNITS: &[(&str, Unit, f64)] = &[
    ("%", Unit::Percent, 1.0),
    ("percent", Unit::Percent, 1.0),
    ("pct", Unit::Percent, 1.0),
    ("g", Unit::Grams, 1.0),
    ("gr", Unit::Grams, 1.0),
    ("gm", Unit::Grams, 1.0),
    ("gram", Unit::Grams, 1.0),
    ("grams", Unit::Grams, 1.0),
    ("gramme", Unit::Grams, 1.0),
    ("grammes", Unit::Grams, 1.0),
    ("mg", Unit::Grams, 0.001),
    ("kg", Unit::Grams, 1000.0),
    ("oz", Unit::Ounces, 1.0),
    ("ounce", Unit::Ounces, 1.0),
    ("ounces", Unit::Ounces, 1.0),
    ("lb", Unit::Ounces, 16.0),
    ("lbs", Unit::Ounces, 16.0),
    ("pound", Unit::Ounces, 16.0),
    ("pounds", Unit::Ounces, 16.0),
    ("part", Unit::Parts, 1.0),
    ("parts", Unit::Parts, 1.0),
];

/// An amount as it is written; [`Unit::Parts`] where no unit is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Amount {
    pub(super) value: f64,
    pub(super) unit: Unit,
}

impl Amount {
    /// The same in the unit of the whole; `None` where percent would have to become a weight or the other way round.
    pub(super) fn in_unit(self, whole: Unit) -> Option<f64> {
        match (self.unit, whole) {
            (Unit::Ounces, Unit::Grams) => Some(self.value * OUNCE_G),
            (Unit::Parts, _) => Some(self.value),
            (mine, whole) if mine == whole => Some(self.value),
            _ => None,
        }
    }
}

/// A line taken apart.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Entry {
    pub(super) amount: Option<Amount>,
    pub(super) name: String,
}

/// The lines of a text: split at line breaks, semicolons, and commas that are not decimal commas; a piece that is only
/// an amount joins the piece that is only a name beside it, so that `shea butter, 60` stays one line.
pub(super) fn pieces(text: &str) -> Vec<String> {
    let mut all = Vec::new();
    for line in text.split(['\n', '\r', ';']) {
        let mut parts: Vec<String> = Vec::new();
        for part in split_at_commas(&without_bullet(line)) {
            let now = entry(&part);
            let joins = parts.last().map(|last| entry(last)).is_some_and(|last| {
                (last.amount.is_none() && now.name.is_empty())
                    || (last.name.is_empty() && now.amount.is_none())
            });
            match parts.last_mut() {
                Some(last) if joins => {
                    last.push(' ');
                    last.push_str(&part);
                }
                _ => parts.push(part),
            }
        }
        all.extend(parts);
    }
    all
}

fn split_at_commas(line: &str) -> Vec<String> {
    let letters: Vec<char> = line.chars().collect();
    let mut parts = vec![String::new()];
    for (at, letter) in letters.iter().enumerate() {
        let digit = |at: Option<usize>| at.and_then(|at| letters.get(at)).is_some_and(char::is_ascii_digit);
        let decimal = digit(at.checked_sub(1)) && digit(Some(at + 1));
        if *letter == ',' && !decimal {
            parts.push(String::new());
        } else if let Some(last) = parts.last_mut() {
            last.push(*letter);
        }
    }
    parts.into_iter().map(|part| part.trim().to_owned()).filter(|part| !part.is_empty()).collect()
}

/// Takes off list marks: dashes, bullets, boxes, and `1.` or `1)` where another number follows.
fn without_bullet(line: &str) -> String {
    let line =
        line.trim().trim_start_matches(['-', '*', '•', '·', '–', '—', '▪', '◦', '☐', '✓', '>']).trim_start();
    let digits = line.chars().take_while(char::is_ascii_digit).count();
    if (1..=2).contains(&digits) {
        let rest = &line[digits..];
        if let Some(rest) = rest.strip_prefix([')', '.'])
            && rest.starts_with([' ', '\t'])
            && rest.chars().any(|letter| letter.is_ascii_digit())
        {
            return rest.trim_start().to_owned();
        }
    }
    line.to_owned()
}

/// Takes a line apart: the amount with a unit wins, else the first or last plain number; the rest is the name.
pub(super) fn entry(line: &str) -> Entry {
    let words = words(line);
    let mut best: Option<(usize, usize, Amount, bool)> = None;
    for at in 0..words.len() {
        let Some((length, amount, with_unit)) = amount_at(&words, at) else { continue };
        let at_edge = at == 0 || at + length == words.len();
        let better = match best {
            None => with_unit || at_edge,
            Some((_, _, _, best_with_unit)) => with_unit && !best_with_unit,
        };
        if better {
            best = Some((at, length, amount, with_unit));
        }
    }
    let kept = |at: &usize| best.is_none_or(|(from, length, _, _)| !(from..from + length).contains(at));
    let mut name: Vec<&str> = Vec::new();
    for word in (0..words.len()).filter(kept).map(|at| words[at].as_str()) {
        match (name.last(), word) {
            // What stood between these brackets was the amount.
            (Some(&"("), ")") => {
                name.pop();
            }
            (_, "()") => {}
            _ => name.push(word),
        }
    }
    let name = name.join(" ");
    let name = name.trim_matches(|letter: char| !letter.is_alphanumeric() && letter != ')' && letter != '(');
    let name = name.strip_prefix("of ").unwrap_or(name).split_whitespace().collect::<Vec<_>>().join(" ");
    Entry { amount: best.map(|(_, _, amount, _)| amount), name }
}

/// Splits at spaces, and a number from the letters or the sign stuck to it: `60g`, `(12%)`, `60%shea`.
fn words(line: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for chunk in line.split(|letter: char| letter.is_whitespace() || matches!(letter, '|' | '=' | ':' | '"'))
    {
        let mut current = String::new();
        let mut kind = None;
        for letter in chunk.chars() {
            let now = match letter {
                '0'..='9' | '½' | '¼' | '¾' | '⅓' | '⅔' => 'n',
                '.' | ',' | '/' if kind == Some('n') => 'n',
                '%' => '%',
                '(' | ')' | '[' | ']' => '(',
                _ => 'a',
            };
            // Digits inside a word, as in C12-15, stay with it.
            let inside_word = now == 'n' && kind == Some('a');
            if kind.is_some() && kind != Some(now) && !inside_word {
                words.push(std::mem::take(&mut current));
            }
            current.push(letter);
            if !inside_word {
                kind = Some(now);
            }
        }
        words.push(current);
    }
    words.retain(|word| !word.is_empty());
    words
}

/// The amount that begins at a word: how many words it takes, and whether a unit is written.
fn amount_at(words: &[String], at: usize) -> Option<(usize, Amount, bool)> {
    let mut value = number(&words[at])?;
    let mut length = 1;
    // `2 1/2`, `2 ½`
    if let Some(next) = words.get(at + 1)
        && value.fract() == 0.0
        && (next.bytes().any(|byte| byte == b'/') || next.chars().all(is_fraction))
        && let Some(fraction) = number(next)
    {
        value += fraction;
        length += 1;
    }
    let unit = words.get(at + length).and_then(|word| {
        let word: String = word.trim_end_matches(['.', ',']).to_lowercase();
        UNITS.iter().find(|(written, _, _)| *written == word)
    });
    Some(match unit {
        Some((_, unit, factor)) => (length + 1, Amount { value: value * factor, unit: *unit }, true),
        None => (length, Amount { value, unit: Unit::Parts }, false),
    })
}

fn is_fraction(letter: char) -> bool {
    matches!(letter, '½' | '¼' | '¾' | '⅓' | '⅔')
}

/// A number with a decimal point or comma, or a fraction; below a million.
fn number(word: &str) -> Option<f64> {
    let fraction = match word {
        "½" => Some(0.5),
        "¼" => Some(0.25),
        "¾" => Some(0.75),
        "⅓" => Some(1.0 / 3.0),
        "⅔" => Some(2.0 / 3.0),
        _ => None,
    };
    if fraction.is_some() {
        return fraction;
    }
    if let Some((above, below)) = word.split_once('/') {
        let (above, below) = (number(above)?, number(below)?);
        return (below > 0.0).then(|| above / below);
    }
    let plain = word.trim_end_matches(['.', ',']).replace(',', ".");
    if !plain.starts_with(|letter: char| letter.is_ascii_digit())
        || plain.chars().any(|letter| !letter.is_ascii_digit() && letter != '.')
    {
        return None;
    }
    decimal(&plain).filter(|value| *value < 1e6)
}
