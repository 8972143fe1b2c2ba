//! Amounts: a number with its unit, and all that people write in place of one.

use super::{
    numbers::Number,
    tokens::{Kind, Token},
    units::{self, Measure, Unit},
};

/// How much is written.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Quantity {
    One(f64),
    /// From one to another.
    Range(f64, f64),
    /// At most or at least so much.
    Limit,
    /// A number that is none, or cannot be an amount.
    Bad,
    /// What is missing from the whole, which may be stated.
    Rest(Option<f64>),
    /// As much of each as the numbers say.
    Ratio(Vec<f64>),
    /// Equal parts of everything.
    Equal,
    /// “A few”.
    Few,
}

/// The unit that is written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Written {
    Nothing,
    Unit(Unit),
    /// A measure without a size.
    Sizeless,
}

/// An amount as it is written.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Amount {
    pub(super) quantity: Quantity,
    pub(super) written: Written,
    /// The text says that it is not exact.
    pub(super) about: bool,
    /// It is meant for each of several.
    pub(super) each: bool,
}

/// What begins at a token.
pub(super) enum Found {
    Amount(Amount),
    /// A time, a temperature, a price: passed over.
    Nothing,
}

const ABOUT: [&str; 13] = [
    "about",
    "roughly",
    "approx",
    "approximately",
    "ca",
    "circa",
    "etwa",
    "ungefahr",
    "environ",
    "around",
    "sekitar",
    "aprox",
    "lagbhag",
];
const LIMITS: [&str; 6] = ["max", "maximum", "min", "minimum", "under", "over"];
const RESTS: [&str; 11] =
    ["qs", "qsp", "csp", "ad", "balance", "remainder", "rest", "reste", "resto", "restante", "quantum satis"];
const TO: [&str; 5] = ["to", "or", "bis", "a", "and"];
const EQUAL: [&str; 7] = ["equal", "egales", "iguales", "iguais", "uguali", "gleichen", "gleiche"];
const OF_EQUAL: [&str; 10] = [
    "parts",
    "part",
    "amounts",
    "quantities",
    "proportions",
    "partes",
    "parti",
    "teilen",
    "teile",
    "measures",
];
const EACH: [&str; 6] = ["each", "apiece", "chacun", "je", "cada", "ciascuno"];
/// How a spoon is filled, and whose: before a unit.
const FILLED: [&str; 9] = ["heaped", "heaping", "level", "rounded", "packed", "scant", "full", "us", "large"];
/// Numbers as words, for those who write “one part” and “half a cup”.
const SPOKEN: &[(&str, f64)] = &[
    ("a", 1.0),
    ("an", 1.0),
    ("one", 1.0),
    ("two", 2.0),
    ("three", 3.0),
    ("four", 4.0),
    ("five", 5.0),
    ("six", 6.0),
    ("seven", 7.0),
    ("eight", 8.0),
    ("nine", 9.0),
    ("ten", 10.0),
    ("twelve", 12.0),
    ("fifteen", 15.0),
    ("twenty", 20.0),
    ("thirty", 30.0),
    ("forty", 40.0),
    ("fifty", 50.0),
    ("sixty", 60.0),
    ("seventy", 70.0),
    ("eighty", 80.0),
    ("ninety", 90.0),
];
/// Words for parts of one, which need no unit.
const HALVES: &[(&str, f64)] = &[
    ("half", 0.5),
    ("quarter", 0.25),
    ("third", 1.0 / 3.0),
    ("moitie", 0.5),
    ("mitad", 0.5),
    ("metade", 0.5),
    ("halfte", 0.5),
    ("meta", 0.5),
    ("setengah", 0.5),
];
/// After these a number counts or names something else.
const NUMBERED: [&str; 12] =
    ["no", "nr", "lot", "v", "version", "step", "page", "spf", "batch", "phase", "day", "item"];

/// Reads along a row.
pub(super) struct Reader<'a> {
    pub(super) tokens: &'a [Token],
    /// Whether the text has French spoons, so that `cc` is a teaspoon.
    pub(super) french_spoons: bool,
}

impl Reader<'_> {
    fn kind(&self, at: usize) -> Option<&Kind> {
        self.tokens.get(at).map(|token| &token.kind)
    }

    fn word(&self, at: usize) -> &str {
        self.tokens.get(at).and_then(Token::word).unwrap_or("")
    }

    fn mark(&self, at: usize) -> char {
        match self.kind(at) {
            Some(Kind::Mark(mark)) => *mark,
            _ => '\0',
        }
    }

    fn is_word(&self, at: usize, words: &[&str]) -> bool {
        words.contains(&self.word(at)) && !self.word(at).is_empty()
    }

    /// The amount that begins at a token, and where it ends.
    pub(super) fn amount(&self, begin: usize) -> Option<(Found, usize)> {
        let mut at = begin;
        // “no. 3”
        let before = begin.checked_sub(1 + usize::from(begin > 0 && self.mark(begin - 1) == '.'));
        if before.is_some_and(|before| self.is_word(before, &NUMBERED)) {
            return None;
        }
        let (mut about, mut limit) = (false, false);
        loop {
            if self.is_word(at, &ABOUT) || matches!(self.mark(at), '~' | '≈') {
                about = true;
            } else if self.is_word(at, &LIMITS) || matches!(self.mark(at), '<' | '>' | '≤' | '≥') {
                limit = true;
            } else if !(about && self.mark(at) == '.') {
                break;
            }
            at += 1;
        }
        // “à parts égales”: the first word is no number.
        let at = at + usize::from(self.word(at) == "a" && self.is_equal(at + 1));
        if let Some((found, end)) = self.without_a_number(at) {
            return Some((found, end));
        }
        if matches!(self.mark(at), '£' | '$' | '€' | '₹' | '¥')
            && matches!(self.kind(at + 1), Some(Kind::Number(_)))
        {
            return Some((Found::Nothing, at + 2));
        }
        if self.mark(at) == '±' && matches!(self.kind(at + 1), Some(Kind::Number(_))) {
            let measure = self.measure(at + 2, 0.0);
            return Some((Found::Nothing, measure.map_or(at + 2, |(_, end)| end)));
        }
        if self.mark(at) == '∞' {
            let (written, end) = self.unit(at + 1, 0.0);
            return Some((
                Found::Amount(Amount { quantity: Quantity::Bad, written, about, each: false }),
                end,
            ));
        }
        let (number, after) = self.number(at)?;
        if let Number::Ratio(numbers) = &number {
            // A date, or the time of day.
            if numbers.iter().any(|number| *number >= 1000.0) {
                return Some((Found::Nothing, after));
            }
            let quantity = Quantity::Ratio(numbers.clone());
            let (written, end) = self.unit(after, 0.0);
            return Some((Found::Amount(Amount { quantity, written, about, each: false }), end));
        }
        let low = one(&number);
        let (mut number, mut end) = (number, after);
        let mut range = None;
        if let Some((high, after)) = self.upper_end(after, low) {
            range = low.zip(one(&high));
            (number, end) = (high, after);
        } else if self.is_word(end, &["x", "×"]) || self.mark(end) == '×' {
            if let Some(Kind::Number(Number::One(times))) = self.kind(end + 1)
                && let Some(count) = low
            {
                (number, end) = (Number::One(count * times), end + 2);
            } else {
                // “2x shea butter”: so many times.
                end += 1;
            }
        } else if self.is_word(end, &["and"])
            && self.is_word(end + 1, &["a"])
            && self.is_word(end + 2, &["half"])
        {
            (number, end) = (low.map_or(Number::Bad, |whole| Number::One(whole + 0.5)), end + 3);
        }
        let value = one(&number).unwrap_or(0.0);
        if matches!(self.mark(end), '£' | '$' | '€' | '₹' | '¥') {
            return Some((Found::Nothing, end + 1));
        }
        let measure = self.measure(end, value);
        if matches!(measure, Some((Measure::Other, _))) {
            return Some((Found::Nothing, measure.map_or(end, |(_, end)| end)));
        }
        let (written, mut end) = self.unit(end, value);
        let factor = match measure {
            Some((Measure::Of(_, factor), _)) => factor,
            _ => 1.0,
        };
        let quantity = match (range, &number) {
            (Some((low, high)), _) => Quantity::Range(low * factor, high * factor),
            _ if limit => Quantity::Limit,
            (_, Number::One(value)) => Quantity::One(value * factor),
            (_, Number::Either { thousands, decimals }) => match written {
                Written::Unit(Unit::Grams | Unit::Milligrams | Unit::Millilitres) => {
                    Quantity::One(thousands * factor)
                }
                Written::Unit(_) => Quantity::One(decimals * factor),
                // It could be either.
                _ => Quantity::Bad,
            },
            _ => Quantity::Bad,
        };
        let each = self.is_word(end, &EACH);
        end += usize::from(each);
        Some((Found::Amount(Amount { quantity, written, about, each }), end))
    }

    fn is_equal(&self, at: usize) -> bool {
        let (first, second) = (self.word(at), self.word(at + 1));
        (EQUAL.contains(&first) && OF_EQUAL.contains(&second))
            || (OF_EQUAL.contains(&first) && EQUAL.contains(&second))
    }

    /// What stands in place of a number.
    fn without_a_number(&self, at: usize) -> Option<(Found, usize)> {
        let found =
            |quantity, written| Found::Amount(Amount { quantity, written, about: false, each: false });
        let (first, second) = (self.word(at), self.word(at + 1));
        if self.is_equal(at) {
            return Some((found(Quantity::Equal, Written::Nothing), at + 2));
        }
        if first == "few"
            && matches!(self.measure(at + 1, 1.0), Some((Measure::Of(..) | Measure::Sizeless, _)))
        {
            let (written, end) = self.unit(at + 1, 1.0);
            return Some((found(Quantity::Few, written), end.max(at + 2)));
        }
        if first == "qb" {
            return Some((found(Quantity::Few, Written::Nothing), at + 1));
        }
        // “jojoba to 100 %”
        let whole =
            |at| matches!(self.kind(at), Some(Kind::Number(Number::One(100.0)))) && self.mark(at + 1) == '%';
        if first == "to" && whole(at + 1) {
            return Some((found(Quantity::Rest(Some(100.0)), Written::Unit(Unit::Percent)), at + 3));
        }
        let to_make = matches!((first, second), ("to", "make") | ("up", "to"));
        if !(RESTS.contains(&first) || to_make) {
            return None;
        }
        let mut end = at + 1 + usize::from(to_make);
        while self.is_word(end, &["to", "ad", "a", "of", "make", "up"]) || self.mark(end) == '.' {
            end += 1;
        }
        let Some((Number::One(whole), after)) = self.number(end).filter(|_| self.word(end).is_empty()) else {
            let named = !to_make && first != "ad";
            return named.then_some((found(Quantity::Rest(None), Written::Nothing), at + 1));
        };
        let (written, after) = self.unit(after, whole);
        // “up to 5 %” is a limit, and “the rest 15 %” an amount.
        let quantity = match first {
            "up" if whole < 50.0 => Quantity::Limit,
            "rest" | "balance" | "remainder" | "reste" | "resto" if whole != 100.0 => return None,
            _ => Quantity::Rest(Some(whole)),
        };
        Some((found(quantity, written), after))
    }

    /// The number at a token, in digits, or in words where a unit follows.
    fn number(&self, at: usize) -> Option<(Number, usize)> {
        if let Some(Kind::Number(number)) = self.kind(at) {
            return Some((number.clone(), at + 1));
        }
        if let Some((_, half)) = HALVES.iter().find(|(word, _)| *word == self.word(at)) {
            let article = usize::from(self.is_word(at + 1, &["a", "an", "of", "de"]));
            return Some((Number::One(*half), at + 1 + article));
        }
        let spoken =
            |at: usize| SPOKEN.iter().find(|(word, _)| *word == self.word(at)).map(|(_, value)| *value);
        let mut value = spoken(at)?;
        let mut end = at + 1;
        if self.word(end) == "hundred" {
            (value, end) = (value * 100.0, end + 1);
        } else if let Some(ones) = spoken(end).filter(|ones| value >= 20.0 && *ones < 10.0) {
            (value, end) = (value + ones, end + 1);
        }
        let half = self.word(end) == "and" && self.word(end + 1) == "a" && self.word(end + 2) == "half";
        // “a T”, “a C” are hardly units, and “a part” is none.
        let article = matches!(self.word(at), "a" | "an");
        match self.measure(end, 1.0) {
            Some((Measure::Sizeless, _)) => Some((Number::One(value), end)),
            Some((Measure::Of(..), _)) if !article || self.word(end).len() > 2 => {
                Some((Number::One(value), end))
            }
            _ => half.then_some((Number::One(value), end)),
        }
    }

    /// The upper end of a range whose lower end was read.
    fn upper_end(&self, at: usize, low: Option<f64>) -> Option<(Number, usize)> {
        let low = low?;
        // “10 g to 20 g”
        let dash = matches!(self.mark(at), '-' | '–' | '—');
        if !(dash || self.is_word(at, &TO)) {
            return None;
        }
        let Some(Kind::Number(high @ Number::One(value))) = self.kind(at + 1) else { return None };
        let between = self.word(at) != "and" || (at >= 2 && self.word(at - 2) == "between");
        (low < *value && between).then(|| (high.clone(), at + 2))
    }

    /// The unit at a token, and where it ends.
    fn unit(&self, at: usize, value: f64) -> (Written, usize) {
        match self.measure(at, value) {
            Some((Measure::Of(unit, _), end)) => (Written::Unit(unit), end),
            Some((Measure::Sizeless, end)) => (Written::Sizeless, end),
            _ => (Written::Nothing, at),
        }
    }

    /// The measure at a token, and where it ends.
    pub(super) fn measure(&self, begin: usize, value: f64) -> Option<(Measure, usize)> {
        let mut at = begin;
        while self.is_word(at, &FILLED) {
            at += 1;
        }
        match self.mark(at) {
            '%' => {
                let more = (at + 1..).take_while(|next| self.mark(*next) == '%').count();
                return Some((Measure::Of(Unit::Percent, 1.0), at + 1 + more));
            }
            '°' => return Some((Measure::Other, at + 1 + usize::from(self.is_word(at + 1, &["c", "f"])))),
            _ => {}
        }
        // Words one after the other, with full stops between: “fl. oz.”
        let (mut words, mut ends) = (String::new(), Vec::new());
        let mut next = at;
        while ends.len() < units::MOST_WORDS && !self.word(next).is_empty() {
            if !words.is_empty() {
                words.push(' ');
            }
            words.push_str(self.word(next));
            next += 1;
            next += usize::from(self.mark(next) == '.');
            ends.push((words.len(), next));
        }
        if let Some(found) = self.one_letter(at, value) {
            let longer = ends
                .iter()
                .skip(1)
                .find_map(|(length, end)| Some((units::measure(&words[..*length])?, *end)));
            return Some(longer.unwrap_or((found, ends.first().map_or(at + 1, |(_, end)| *end))));
        }
        ends.iter().rev().find_map(|(length, end)| {
            // “floz” is written with a full stop within.
            let found = units::measure(&words[..*length])?;
            let found = match found {
                Measure::Of(Unit::Millilitres, _) if self.french_spoons && &words[..*length] == "cc" => {
                    Measure::Of(Unit::Teaspoons, 1.0)
                }
                found => found,
            };
            Some((found, *end))
        })
    }

    /// Units of one letter, where small and capital ones differ: `T`, `t`, `c`; degrees where a number is no
    /// count of cups.
    fn one_letter(&self, at: usize, value: f64) -> Option<Measure> {
        let token = self.tokens.get(at)?;
        let word = token.word().filter(|word| word.len() == 1)?;
        match word {
            "c" | "f" if value >= 20.0 => Some(Measure::Other),
            "c" => Some(Measure::Of(Unit::Cups, 1.0)),
            "t" => Some(Measure::Of(if token.capital { Unit::Tablespoons } else { Unit::Teaspoons }, 1.0)),
            _ => None,
        }
    }
}

fn one(number: &Number) -> Option<f64> {
    match number {
        Number::One(value) => Some(*value),
        _ => None,
    }
}

impl Amount {
    /// One part.
    pub(super) fn part() -> Amount {
        Amount {
            quantity: Quantity::One(1.0),
            written: Written::Unit(super::Unit::Parts),
            about: false,
            each: false,
        }
    }

    /// A percentage, of what is yet to be said.
    pub(super) fn percent() -> Amount {
        Amount { written: Written::Unit(super::Unit::Percent), ..Amount::part() }
    }
}
