//! What is pasted where a recipe was expected, and is none: a certificate, a link of ours, a file of ours.

use super::{Read, TextRemark, Unit, certificate::Acids};
use crate::substances;

/// The key that every file of ours has.
const OF_A_FILE: &str = "\"meltmargin\"";

/// Whether the text is a recipe or a backup that the page saved as a file, or the beginning of one.
pub(super) fn is_file(text: &str) -> bool {
    text.trim_start_matches('\u{feff}').trim_start().starts_with('{') && text.contains(OF_A_FILE)
}

/// Marks that stand after a link in a sentence, and belong to the sentence.
const AFTER: &str = ".,;:!?)]}>'\"”’»";

/// The first link of ours in a text, as what follows its number sign, and the text without the word that it
/// is.
pub(super) fn link(text: &str) -> Option<(&str, String)> {
    let begin = text.match_indices("#v").map(|(at, _)| at).find(|at| {
        let version = &text[at + 2..];
        let digits = version.bytes().take(4).take_while(u8::is_ascii_digit).count();
        (1..=3).contains(&digits) && version[digits..].starts_with(['&', '_'])
    })?;
    let parts = |letter: char| letter.is_whitespace() || matches!(letter, '"' | '<' | '>' | '|');
    let end = text[begin..].find(parts).map_or(text.len(), |length| begin + length);
    let word =
        text[..begin].rfind(parts).map_or(0, |at| at + text[at..].chars().next().map_or(1, char::len_utf8));
    let fragment = text[begin + 1..end].trim_end_matches(|letter| AFTER.contains(letter));
    Some((fragment, format!("{} {}", &text[..word], &text[end..])))
}

/// Nothing read but this.
pub(super) fn only(remark: TextRemark) -> Read {
    Read { unit: Unit::Percent, lines: Vec::new(), sum: 0.0, remarks: vec![remark], left_out: Vec::new() }
}

/// Ingredients that are fatty acids: what a certificate is made of, and recipes are too.
fn is_acid(id: &str) -> bool {
    substances::find(id).is_some_and(|one| one.class() == substances::Class::FattyAcid)
}

/// How many lines are ingredients with amounts that no certificate of fatty acids has.
pub(super) fn ingredients(read: &Read) -> usize {
    let is = |id: Option<&'static str>| id.is_some_and(|id| !is_acid(id));
    read.lines.iter().filter(|line| is(line.id) && (line.amount.is_some() || line.range.is_some())).count()
}

/// Whether a text that was read as far as it is a recipe is, or could be, a certificate of fatty acids.
pub(super) enum Reads {
    Recipe,
    /// Nothing but fatty acids that are ingredients too.
    Either,
    Certificate,
}

pub(super) fn reads(acids: &Acids, read: Option<&Read>) -> Reads {
    let Some(read) = read else {
        return if acids.rows > 0 { Reads::Certificate } else { Reads::Recipe };
    };
    let ingredients = ingredients(read);
    let weighed = read
        .lines
        .iter()
        .filter_map(|line| line.unit)
        .any(|unit| !matches!(unit, Unit::Percent | Unit::Parts));
    if acids.rows == 0 || (weighed && !acids.per_hundred) {
        Reads::Recipe
    } else if acids.sure > 0 && ingredients == 0 || (acids.sure > 1 && acids.rows > 2 && ingredients == 1) {
        // One name with its amount is the product that it is of: “Cocoa butter: palmitic 25.9 %, ..”.
        Reads::Certificate
    } else if ingredients == 0 && read.lines.len() <= acids.rows {
        Reads::Either
    } else {
        Reads::Recipe
    }
}

/// What a certificate says that it is of.
pub(super) fn of(read: Option<&Read>) -> Option<&'static str> {
    read?.lines.iter().filter_map(|line| line.id).find(|id| !is_acid(id))
}
