//! Finding which ingredient a name means.

use crate::failure::alike;

/// What is known of an ingredient for this.
#[derive(Clone, Copy, Debug)]
pub struct Known {
    /// The catalogue id.
    pub id: &'static str,
    /// The plain name.
    pub name: &'static str,
    /// The name on labels.
    pub inci: &'static str,
}

/// Names in common use that the catalogue writes otherwise. General knowledge of the trade, no source.
const OTHER_NAMES: &[(&str, &str)] = &[
    ("cacao butter", "cocoa-butter"),
    ("karite", "shea-butter"),
    ("karite butter", "shea-butter"),
    ("almond oil", "sweet-almond-oil"),
    ("apricot oil", "apricot-kernel-oil"),
    ("canola oil", "rapeseed-oil"),
    ("rape oil", "rapeseed-oil"),
    ("mct", "fractionated-coconut-oil"),
    ("mct oil", "fractionated-coconut-oil"),
    ("medium chain triglycerides", "fractionated-coconut-oil"),
    ("ho sunflower oil", "high-oleic-sunflower-oil"),
    ("hemp oil", "hemp-seed-oil"),
    ("stearin", "stearic-acid"),
    ("bees wax", "beeswax"),
    ("white beeswax", "beeswax"),
    ("yellow beeswax", "beeswax"),
    ("tocopherol", "vitamin-e"),
    ("vitamin e oil", "vitamin-e"),
    ("vaseline", "petrolatum"),
    ("petroleum jelly", "petrolatum"),
    ("parfum", "fragrance"),
    ("fragrance oil", "fragrance"),
    ("essential oils", "essential-oil"),
    ("arrowroot starch", "arrowroot"),
    ("cornstarch", "corn-starch"),
    ("corn flour", "corn-starch"),
    ("coconut", "coconut-oil"),
];

/// Words that say how an ingredient was made or sold, not which it is.
const QUALITIES: &[&str] = &[
    "organic",
    "raw",
    "refined",
    "unrefined",
    "virgin",
    "extra",
    "cold",
    "pressed",
    "pure",
    "natural",
    "bio",
    "deodorized",
    "deodorised",
    "pellets",
    "pastilles",
    "wafers",
    "chips",
    "flakes",
    "melted",
    "soft",
    "grade",
    "cosmetic",
    "fair",
    "trade",
    "bleached",
    "filtered",
    "of",
    "the",
    "a",
    "and",
    "or",
    "optional",
];

/// Names that a whole goes by.
const TOTALS: &[&str] = &["total", "sum", "totals", "batch total", "summe", "gesamt", "somme", "totale"];

pub(super) fn is_total(name: &str) -> bool {
    TOTALS.contains(&normal(name).as_str())
}

/// What a name was taken for.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Found {
    pub(super) best: Option<&'static str>,
    pub(super) certain: bool,
    pub(super) others: Vec<&'static str>,
}

/// How alike two spellings must be to be suggested, and to be taken: Damerau–Levenshtein distance over length. Set by
/// trying the misspellings in the tests.
const WORTH_SUGGESTING: f64 = 0.62;
const WORTH_TAKING: f64 = 0.8;

pub(super) fn find(name: &str, catalogue: &[Known]) -> Found {
    let whole = normal(name);
    let plain = essential(&whole);
    if plain.is_empty() {
        return Found::default();
    }
    let is = |id: &'static str| Found { best: Some(id), certain: true, others: Vec::new() };
    for wanted in [&whole, &plain] {
        let exact =
            |known: &&Known| [known.name, known.inci, known.id].iter().any(|text| &normal(text) == wanted);
        if let Some(known) = catalogue.iter().find(exact) {
            return is(known.id);
        }
        let other = OTHER_NAMES.iter().find(|(other, _)| other == wanted);
        if let Some(known) = other.and_then(|(_, id)| catalogue.iter().find(|known| known.id == *id)) {
            return is(known.id);
        }
    }
    let scored = likeliest(&plain, catalogue);
    // A bare plant is its oil or its butter, where it has only one of them: “sunflower”, “shea”.
    let full = ["oil", "butter"].map(|kind| format!("{plain} {kind}"));
    let mut plants = catalogue.iter().filter(|known| full.contains(&normal(known.name)));
    if let (Some(plant), None) = (plants.next(), plants.next()) {
        let others = scored.iter().map(|(_, known)| known.id).filter(|id| *id != plant.id).take(4).collect();
        return Found { best: Some(plant.id), certain: false, others };
    }
    let clear_lead = match scored.as_slice() {
        [(only, _)] => *only >= WORTH_TAKING,
        [(first, _), (second, _), ..] => *first >= WORTH_TAKING && first - second > 0.02,
        [] => false,
    };
    let mut ids = scored.iter().map(|(_, known)| known.id);
    let best = if clear_lead { ids.next() } else { None };
    Found { best, certain: false, others: ids.take(4).collect() }
}

/// How many are suggested at most, with the one that is taken.
const SUGGESTED: usize = 5;

/// The ingredients worth suggesting, likeliest first; among equals in the order of the catalogue, which lists the common
/// ingredient before its rarer kin. Inserted one by one: the list is too short to sort.
fn likeliest<'a>(plain: &str, catalogue: &'a [Known]) -> Vec<(f64, &'a Known)> {
    let mut best: Vec<(f64, &Known)> = Vec::with_capacity(SUGGESTED + 1);
    for known in catalogue {
        let score = likeness(plain, known);
        if score >= WORTH_SUGGESTING {
            let at = best.iter().position(|(other, _)| *other < score).unwrap_or(best.len());
            best.insert(at, (score, known));
            best.truncate(SUGGESTED);
        }
    }
    best
}

/// How alike, 0 to 1: the spelling as a whole, or the written words all found among the ingredient's words.
fn likeness(plain: &str, known: &Known) -> f64 {
    let mut best: f64 = 0.0;
    for text in [known.name, known.inci] {
        let other = essential(&normal(text));
        best = best.max(alike(plain, &other));
        let words: Vec<&str> = other.split(' ').collect();
        let mine: Vec<&str> = plain.split(' ').collect();
        let found: f64 = mine
            .iter()
            .map(|word| words.iter().map(|other| alike(word, other)).fold(0.0, f64::max))
            .sum::<f64>()
            / mine.len() as f64;
        // Fewer words left over are better: “sunflower” is sunflower oil before it is sunflower oil, high oleic.
        let left_over = words.len().saturating_sub(mine.len()) as f64;
        best = best.max(found * (0.95 - 0.04 * left_over.min(4.0)));
    }
    best
}

/// Small letters without accents; everything that is neither letter nor digit is one space.
fn normal(text: &str) -> String {
    let mut out = String::new();
    for letter in text.chars().flat_map(char::to_lowercase) {
        let plain = match letter {
            'à' | 'á' | 'â' | 'ã' | 'ä' | 'å' => 'a',
            'è' | 'é' | 'ê' | 'ë' => 'e',
            'ì' | 'í' | 'î' | 'ï' => 'i',
            'ò' | 'ó' | 'ô' | 'õ' | 'ö' => 'o',
            'ù' | 'ú' | 'û' | 'ü' => 'u',
            'ç' => 'c',
            'ñ' => 'n',
            other if other.is_alphanumeric() => other,
            _ => ' ',
        };
        if plain != ' ' || !(out.is_empty() || out.ends_with(' ')) {
            out.push(plain);
        }
    }
    out.trim_end().to_owned()
}

/// The same without words for qualities, unless nothing else is left.
fn essential(normal: &str) -> String {
    let words: Vec<&str> = normal.split(' ').filter(|word| !QUALITIES.contains(word)).collect();
    if words.is_empty() { normal.to_owned() } else { words.join(" ") }
}
