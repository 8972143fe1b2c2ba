//! Reading the fatty acids of a certificate of analysis that was pasted as text.

use super::{
    letters::{clean, fold, in_word},
    numbers::{Number, number},
};
use crate::{
    failure::{ErrorKind, Failure, FaultPlace},
    substances::FattyAcid,
};

/// Fatty acids as a certificate gives them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Certificate {
    /// By common name, percent by mass; what no acid here is called goes to `other`.
    pub fatty_acids: Vec<(&'static str, f64)>,
    /// Rows with a number that were not understood.
    pub unread: Vec<String>,
}

/// How acids begin in the languages of the aliases, the longer beginning first where one begins another.
const STEMS: [(&str, &str); 21] = [
    ("palmitole", "palmitoleic"),
    ("palmit", "palmitic"),
    ("arachidon", "arachidonic"),
    ("arachi", "arachidic"),
    ("linolen", "linolenic"),
    ("linole", "linoleic"),
    ("linol", "linoleic"),
    ("caproi", "caproic"),
    ("capryl", "caprylic"),
    ("capri", "capric"),
    ("laur", "lauric"),
    ("myrist", "myristic"),
    ("mirist", "myristic"),
    ("stear", "stearic"),
    ("estear", "stearic"),
    ("behen", "behenic"),
    ("lignocer", "lignoceric"),
    ("elaid", "elaidic"),
    ("gondo", "gondoic"),
    ("eruc", "erucic"),
    ("ricinol", "ricinoleic"),
];

/// How much of a text is a certificate.
#[derive(Default)]
pub(super) struct Acids {
    /// Rows that give a fatty acid its percentage, or several figures for it.
    pub(super) rows: usize,
    /// Those of acids that no recipe has: by their carbon atoms, or liquid.
    pub(super) sure: usize,
    /// One of them is in grams of a hundred.
    pub(super) per_hundred: bool,
}

/// Fatty acids that makers buy as such.
const BOUGHT: [&str; 5] = ["lauric", "myristic", "palmitic", "stearic", "behenic"];

/// Counts the fatty acids in a text that was cleaned.
pub(super) fn acids(text: &str) -> Acids {
    let mut found = Acids::default();
    for row in rows(text) {
        let letters: Vec<char> = row.chars().collect();
        let Some((name, rest)) = acid(&letters).filter(|_| !says_how_sour(&row)) else { continue };
        if matches!(percent(&letters, &rest), Percent::None) {
            continue;
        }
        let by_carbons = (0..letters.len())
            .any(|at| (at == 0 || !in_word(letters[at - 1])) && by_carbons(&letters, at).is_some());
        found.rows += 1;
        found.sure += usize::from(by_carbons || !BOUGHT.contains(&name));
        found.per_hundred |= row.split('/').skip(1).any(|rest| rest.trim_start().starts_with("100"));
    }
    found
}

/// Whether a row says how much acid is free, which is told as if it were all of one kind: “FFA (as oleic)”.
fn says_how_sour(row: &str) -> bool {
    const WORDS: [&str; 10] =
        ["ffa", "free", "acidity", "as", "acidite", "acidez", "acidita", "libres", "freie", "exprime"];
    fold(row).split(' ').any(|word| WORDS.contains(&word))
}

/// Reads rows such as `C16:0 25.9`, `palmitic acid (C16:0) 25,9 %`, `Palmitinsäure<tab>25.9<tab>20-30`.
///
/// # Errors
/// Nothing in the text is a fatty acid with its percentage, or the text is too long.
pub fn certificate(text: &str) -> Result<Certificate, Failure> {
    if text.len() > super::LONGEST {
        return Err(super::too_long(format!(
            "the text is longer than {} bytes: paste the fatty acids only",
            super::LONGEST
        )));
    }
    let mut read = Certificate::default();
    for row in rows(&clean(text)) {
        let letters: Vec<char> = row.chars().collect();
        match acid(&letters).filter(|_| !says_how_sour(&row)) {
            Some((name, rest)) => match percent(&letters, &rest) {
                Percent::One(percent) => {
                    match read.fatty_acids.iter_mut().find(|(known, _)| *known == name) {
                        Some((_, sum)) => *sum += percent,
                        None => read.fatty_acids.push((name, percent)),
                    }
                }
                Percent::None => {}
                Percent::Unclear => read.unread.push(row.trim().to_owned()),
            },
            None if letters.iter().any(char::is_ascii_digit) => read.unread.push(row.trim().to_owned()),
            None => {}
        }
    }
    if read.fatty_acids.is_empty() {
        return Err(Failure::new(
            ErrorKind::Empty,
            FaultPlace::Text,
            "no fatty acid with its percentage was found: write one a line, such as “C16:0 25.9”",
        ));
    }
    // Sums of decimals, without what binary fractions add.
    for (_, percent) in &mut read.fatty_acids {
        *percent = (*percent * 1e6).round() / 1e6;
    }
    Ok(read)
}

/// Lines, and what semicolons and commas part that are no decimal commas.
fn rows(text: &str) -> Vec<String> {
    let (mut rows, mut row) = (Vec::new(), String::new());
    let letters: Vec<char> = text.chars().collect();
    for (at, letter) in letters.iter().enumerate() {
        let digit = |at: Option<usize>| at.and_then(|at| letters.get(at)).is_some_and(char::is_ascii_digit);
        let decimal = digit(at.checked_sub(1)) && digit(Some(at + 1));
        if matches!(letter, '\n' | ';') || (*letter == ',' && !decimal) {
            rows.push(std::mem::take(&mut row));
        } else {
            row.push(*letter);
        }
    }
    rows.push(row);
    rows
}

/// The acid that a row names, and the parts of the row that are not its name.
fn acid(row: &[char]) -> Option<(&'static str, Vec<(usize, usize)>)> {
    let (mut found, mut rest, mut at, mut begin) = (None, Vec::new(), 0, 0);
    while at < row.len() {
        let word_begins = at == 0 || !in_word(row[at - 1]);
        let name = if word_begins { by_carbons(row, at).or_else(|| by_name(row, at)) } else { None };
        match name {
            Some((name, end)) => {
                // “Palmitic acid (C16:0)” says it twice.
                found = found.or(name);
                rest.push((begin, at));
                (at, begin) = (end, end);
            }
            None => at += 1,
        }
    }
    rest.push((begin, row.len()));
    found.map(|name| (name, rest))
}

/// `C16:0`, `16:0`, `C 18:1 n-9`, `C18:1t`; an acid that has no name here is `other`.
fn by_carbons(row: &[char], begin: usize) -> Option<(Option<&'static str>, usize)> {
    let at = |at: usize| row.get(at).copied().unwrap_or('\n');
    let skip = |mut place: usize| {
        while at(place) == ' ' {
            place += 1;
        }
        place
    };
    let digits = |begin: usize| (begin..begin + 3).take_while(|place| at(*place).is_ascii_digit()).count();
    let carbons = if matches!(at(begin), 'C' | 'c') { skip(begin + 1) } else { begin };
    let length = digits(carbons);
    let colon = skip(carbons + length);
    let bonds = skip(colon + 1);
    if length == 0 || length > 2 || at(colon) != ':' || digits(bonds) != 1 {
        return None;
    }
    let mut end = bonds + 1;
    while in_word(at(end)) || (at(end) == '-' && in_word(at(end + 1))) {
        end += 1;
    }
    let suffix: String = row[bonds + 1..end].iter().collect::<String>().to_lowercase();
    let carbons: String = row[carbons..carbons + length].iter().collect();
    let trans = suffix.starts_with('t');
    let hydroxy = suffix.ends_with("oh");
    let bond = at(bonds);
    let short = format!(
        "C{carbons}:{bond}{}",
        if trans {
            "t"
        } else if hydroxy {
            "-OH"
        } else {
            ""
        }
    );
    Some((Some(FattyAcid::named(&short).map_or("other", |acid| acid.common)), place_of_bond(row, end)))
}

/// Where `n-9`, `ω-6`, `omega 3` or `cis-9` ends, which says where the double bond is.
fn place_of_bond(row: &[char], begin: usize) -> usize {
    let at = |at: usize| row.get(at).copied().unwrap_or('\n');
    let word = (begin..row.len()).find(|place| !matches!(at(*place), ' ' | '(')).unwrap_or(row.len());
    let mut end = word;
    while at(end).is_alphabetic() {
        end += 1;
    }
    let said: String = row[word..end].iter().collect::<String>().to_lowercase();
    if !matches!(said.as_str(), "n" | "ω" | "w" | "omega" | "cis" | "c" | "delta" | "δ") {
        return begin;
    }
    if matches!(at(end), '-' | ' ') {
        end += 1;
    }
    let digits = (end..row.len()).take_while(|place| at(*place).is_ascii_digit()).count();
    if digits == 0 { begin } else { end + digits }
}

/// `palmitic acid`, `Palmitinsäure`, `acide palmitique`; `oleic` only by its whole name, for much else begins
/// so.
fn by_name(row: &[char], begin: usize) -> Option<(Option<&'static str>, usize)> {
    if !row[begin].is_alphabetic() {
        return None;
    }
    let length = row[begin..].iter().take(40).take_while(|letter| in_word(**letter)).count();
    let word = fold(&row[begin..begin + length].iter().collect::<String>());
    let name = if matches!(word.as_str(), "oleic" | "oleique" | "oleico" | "olsaure" | "oleinsaure" | "oleat")
    {
        "oleic"
    } else if matches!(word.as_str(), "other" | "others" | "autres" | "otros" | "andere" | "altri") {
        "other"
    } else {
        STEMS.iter().find(|(stem, _)| word.starts_with(stem)).map(|(_, name)| *name)?
    };
    Some((Some(name), begin + length))
}

/// The percentage of a row.
enum Percent {
    One(f64),
    /// Not detected, or a heading.
    None,
    /// Several numbers, or none that is one.
    Unclear,
}

/// The one number that is neither a range nor a limit.
fn percent(row: &[char], rest: &[(usize, usize)]) -> Percent {
    let mut numbers: Vec<f64> = Vec::new();
    let mut passed_over = false;
    for (from, to) in rest {
        let part = &row[*from..*to];
        let mut at = 0;
        while at < part.len() {
            let Some((found, end)) = number(part, at).filter(|_| at == 0 || !in_word(part[at - 1])) else {
                at += 1;
                continue;
            };
            let before = part[..at].iter().rev().find(|letter| **letter != ' ');
            let after = part[end..].iter().position(|letter| !matches!(letter, ' ' | '%'));
            let dash = after.filter(|place| matches!(part[end + place], '-' | '–' | '—'));
            let upper = dash.and_then(|place| {
                let begin = (end + place + 1..part.len()).find(|place| part[*place] != ' ')?;
                number(part, begin).map(|(_, end)| end)
            });
            if matches!(before, Some('/')) {
                // “g/100 g”
                at = end;
            } else if matches!(before, Some('<' | '>' | '≤' | '≥')) {
                passed_over = true;
                at = end;
            } else if let Some(upper) = upper {
                passed_over = true;
                at = upper;
            } else {
                match found {
                    Number::One(value) | Number::Either { decimals: value, .. } if value <= 100.0 => {
                        numbers.push(value)
                    }
                    _ => return Percent::Unclear,
                }
                at = end;
            }
        }
    }
    match numbers.as_slice() {
        [] if passed_over => Percent::Unclear,
        [] => Percent::None,
        [first, rest @ ..] if rest.iter().all(|other| other == first) => Percent::One(*first),
        _ => Percent::Unclear,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn read(text: &str, expected: &[(&str, f64)]) {
        let read = certificate(text).unwrap_or_else(|failure| panic!("{text}: {}", failure.message));
        let mut found = read.fatty_acids;
        found.sort_by_key(|(name, _)| *name);
        assert_eq!(found, expected, "{text}");
        assert_eq!(read.unread, [""; 0], "{text}");
    }

    #[test]
    fn certificates_as_they_are_written() {
        let shea = [("linoleic", 6.1), ("oleic", 46.0), ("palmitic", 4.2), ("stearic", 41.5)];
        for text in [
            "C16:0 4.2\nC18:0 41.5\nC18:1 46\nC18:2 6.1",
            "C16:0: 4,2 %; C18:0: 41,5 %; C18:1: 46,0 %; C18:2: 6,1 %",
            "palmitic 4.2 %, stearic 41.5 %, oleic 46 %, linoleic 6.1 %",
            "Fatty acid\tResult\tSpecification\nPalmitic acid (C16:0)\t4.2\t3 - 8\nStearic acid (C18:0)\t41.5\t35-45\n\
             Oleic acid (C18:1 n-9)\t46.0\t40–50\nLinoleic acid C18:2 n-6\t6.1\t< 8",
            "16:0 4.2\n18:0 41.5\n18:1c9 46\n18:2 (n-6) 6.1",
            "acide palmitique 4,2\nacide stéarique 41,5\nacide oléique 46\nacide linoléique 6,1",
            "Palmitinsäure 4,2 %\nStearinsäure 41,5 %\nÖlsäure 46 %\nLinolsäure 6,1 %",
            "| C16 : 0 | 4.2 |\n| C18 : 0 | 41.5 |\n| C18 : 1 | 46 |\n| C18 : 2 | 6.1 |",
            "C16:0 ٤٫٢\nC18:0 ४१.५\nC18:1 ৪৬\nC18:2 ۶٫۱",
        ] {
            read(text, &shea);
        }
    }

    #[test]
    fn acids_of_one_name_are_added_and_rare_ones_are_other() {
        read(
            "C18:1 n-9 40\nC18:1 n-7 3\nC18:1t 0.5\nC17:0 0.2\nC18:3 n3 1\nC20:0 nd",
            &[("elaidic", 0.5), ("linolenic", 1.0), ("oleic", 43.0), ("other", 0.2)],
        );
    }

    #[test]
    fn what_is_free_is_no_share_of_the_acids() {
        let text = "FFA (as oleic acid) 0.12 %\nC18:1 45.0 g/100 g\nacidité (exprimée en acide oléique) 0,3";
        let found = certificate(text).expect("reads");
        assert_eq!(found.fatty_acids, [("oleic", 45.0)]);
        assert_eq!(found.unread.len(), 2, "{:?}", found.unread);
    }

    #[test]
    fn what_is_not_clear_is_told() {
        let found = certificate("C16:0 25.9\nC18:0 20-30\nC18:1 30 36 33\nLot 4471").expect("reads");
        assert_eq!(found.fatty_acids.len(), 1);
        assert_eq!(found.unread, ["C18:0 20-30", "C18:1 30 36 33", "Lot 4471"]);
        for text in ["", "shea butter 60 %", "C16:0"] {
            assert_eq!(certificate(text).expect_err("must be refused").kind, ErrorKind::Empty, "{text}");
        }
    }
}
