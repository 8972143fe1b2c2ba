//! Numbers as people write them: decimal point or comma, thousands grouped by either, by a space or an
//! apostrophe, fractions, ratios.

use super::letters::FIXED_SPACE;
use crate::decimal::decimal;

/// A number, or several that are one word.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Number {
    /// One number.
    One(f64),
    /// Three digits after one separator: a thousand in grams, decimals in kilograms.
    Either { thousands: f64, decimals: f64 },
    /// `2:1:1`, `50/25/25`.
    Ratio(Vec<f64>),
    /// What begins like a number and is none: `1.2.3`, `5e1`, `1/0`, more than anybody weighs.
    Bad,
}

/// The largest number that is an amount.
const LARGEST: f64 = 1e7;

/// The number that begins at a place and where it ends; a sign before it is the caller's.
pub(super) fn number(row: &[char], begin: usize) -> Option<(Number, usize)> {
    let first = part(row, begin)?;
    let (mut numbers, mut ends) = (vec![first.0], first.1);
    let mut sign = None;
    while let Some(next @ (':' | '/')) = row.get(ends).copied()
        && sign.is_none_or(|sign| sign == next)
        && let Some((number, end)) = part(row, ends + 1)
    {
        sign = Some(next);
        numbers.push(number);
        ends = end;
    }
    let plain = |number: &Number| match number {
        Number::One(value) => Some(*value),
        _ => None,
    };
    let number = match sign {
        None => numbers.swap_remove(0),
        Some(sign) => match numbers.iter().map(plain).collect::<Option<Vec<f64>>>() {
            None => Number::Bad,
            Some(values) if sign == '/' && values.len() == 2 && values[0] + values[1] != 100.0 => {
                sane(values[0] / values[1])
            }
            Some(values) => Number::Ratio(values),
        },
    };
    // `1 1/2` and `1-1/2`
    if let Number::One(whole) = number
        && sign.is_none()
        && whole.fract() == 0.0
        && matches!(row.get(ends), Some(' ' | '-' | '+'))
        && let Some((Number::One(fraction), end)) = fraction(row, ends + 1)
    {
        return Some((Number::One(whole + fraction), end));
    }
    Some((number, ends))
}

fn sane(value: f64) -> Number {
    if value.is_finite() && value < LARGEST { Number::One(value) } else { Number::Bad }
}

/// A fraction below one.
fn fraction(row: &[char], begin: usize) -> Option<(Number, usize)> {
    if let Some(value) = row.get(begin).and_then(|letter| one_letter(*letter)) {
        return Some((Number::One(value), begin + 1));
    }
    let (above, slash) = part(row, begin)?;
    let (below, end) = (row.get(slash) == Some(&'/')).then(|| part(row, slash + 1))??;
    match (above, below) {
        (Number::One(above), Number::One(below)) if above < below => Some((sane(above / below), end)),
        _ => None,
    }
}

/// The fractions that are one character.
fn one_letter(letter: char) -> Option<f64> {
    Some(match letter {
        '½' => 0.5,
        '¼' => 0.25,
        '¾' => 0.75,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        _ => return None,
    })
}

/// Digits with the separators between them, and a fraction after them.
fn part(row: &[char], begin: usize) -> Option<(Number, usize)> {
    let at = |at: usize| row.get(at).copied().unwrap_or('\n');
    if let Some(value) = one_letter(at(begin)) {
        return Some((Number::One(value), begin + 1));
    }
    let digit = |place: usize| at(place).is_ascii_digit();
    // “.5”, but not the comma of “shea butter,50”.
    let point = at(begin) == '.'
        && digit(begin + 1)
        && (begin == 0 || !(at(begin - 1).is_alphanumeric() || at(begin - 1) == '.'));
    if !(digit(begin) || point) {
        return None;
    }
    let mut written = String::new();
    let mut end = begin;
    loop {
        let letter = at(end);
        let three = digit(end + 1) && digit(end + 2) && digit(end + 3) && !digit(end + 4);
        // A plain space groups only after a single digit: “50 100” is two columns.
        let single = end == begin + 1 && at(begin) != '0' && !in_number_before(row, begin);
        let point = matches!(letter, '.' | ',') && (digit(end + 1) || (at(end + 1) == '.' && digit(end + 2)));
        if letter.is_ascii_digit() || point {
            written.push(letter);
        } else if (letter == '\'' || letter == FIXED_SPACE || (letter == ' ' && single)) && three {
            written.push('\'');
        } else {
            break;
        }
        end += 1;
    }
    if matches!(at(end), 'e' | 'E') && digit(end + 1) {
        while at(end).is_alphanumeric() {
            end += 1;
        }
        return Some((Number::Bad, end));
    }
    let number = meant(&written);
    match (number, one_letter(at(end))) {
        (Number::One(whole), Some(fraction)) => Some((Number::One(whole + fraction), end + 1)),
        (number, _) => Some((number, end)),
    }
}

/// Whether what stands before is the end of another number, so that the digit is no first group.
fn in_number_before(row: &[char], begin: usize) -> bool {
    row[..begin].iter().rev().find(|letter| **letter != ' ').is_some_and(char::is_ascii_digit)
}

/// What digits with separators mean.
fn meant(written: &str) -> Number {
    let signs: Vec<char> = written.chars().filter(|letter| !letter.is_ascii_digit()).collect();
    let plain = |text: String| decimal(&text).map_or(Number::Bad, sane);
    let without = |sign: char| written.replace(sign, "");
    match signs.as_slice() {
        [] => plain(written.to_owned()),
        [sign @ ('.' | ',')] => {
            let decimals = written.replace(*sign, ".");
            let grouped = written.split_once(*sign).is_some_and(|(whole, rest)| {
                rest.len() == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0')
            });
            match (grouped, decimal(&decimals), decimal(&without(*sign))) {
                (true, Some(decimals), Some(thousands)) => Number::Either { thousands, decimals },
                _ => plain(decimals),
            }
        }
        // The last sign parts the decimals if it is another than those before it.
        [first, .., last] if first != last && *last != '\'' => {
            if signs[..signs.len() - 1].iter().any(|sign| sign != first) || !groups(written, *first, *last) {
                return Number::Bad;
            }
            plain(without(*first).replace(*last, "."))
        }
        [first, rest @ ..] if rest.iter().all(|sign| sign == first) && groups(written, *first, '\0') => {
            plain(without(*first))
        }
        _ => Number::Bad,
    }
}

/// Whether every group but the first has three digits.
fn groups(written: &str, by: char, decimals: char) -> bool {
    let whole = written.split(decimals).next().unwrap_or(written);
    let mut parts = whole.split(by);
    parts.next().is_some_and(|first| (1..=3).contains(&first.len())) && parts.all(|part| part.len() == 3)
}
