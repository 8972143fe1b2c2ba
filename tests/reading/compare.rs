//! A reply against what should be read, by the rules of `README.md`.

use std::collections::BTreeSet;

use meltmargin::{contract::answer, substances};
use serde_json::{Value, json};

use crate::corpus::{Line, Text};

/// How a text was read.
pub(crate) enum Outcome {
    Right,
    /// Not right, but every line that is wrong is asked about.
    AskedAbout(String),
    WrongInSilence(String),
}

/// Kinds of remark whose absence, or one more, makes no text wrong.
const COURTESIES: [&str; 3] = ["phases", "volumes", "name-corrected"];

/// Kinds that need not be said where two recipes are.
const OF_TWO_RECIPES: [&str; 2] = ["duplicate", "total-not-100"];

pub(crate) fn outcome(text: &Text) -> Outcome {
    let reply = answer(&json!({"ask": "read", "text": text.text}));
    let Some(read) = reply.get("answer") else {
        assert_eq!(reply["error"]["at"], "text", "{}", text.name);
        // The one refusal that the corpus knows; others ask for less text.
        return match reply["error"]["kind"].as_str() {
            Some("empty") if text.expect.says == ["nothing-read"] => Outcome::Right,
            Some("empty") => Outcome::WrongInSilence("nothing was read".to_owned()),
            _ => Outcome::AskedAbout(reply["error"]["message"].to_string()),
        };
    };
    let lines = read["lines"].as_array().unwrap();
    let (mut silent, mut asked) = (Vec::new(), Vec::new());
    let pairs = aligned(&text.expect.lines, lines);
    for (expected, found) in &pairs {
        let problems = |found: usize| !lines[found]["problems"].as_array().unwrap().is_empty();
        match (expected, found) {
            (Some(expected), Some(found)) => {
                let line = &text.expect.lines[*expected];
                let percent = text.expect.percent.get(*expected).copied().flatten();
                let wrong = differences(line, &lines[*found], percent);
                let (asks, should) = (problems(*found), text.expect.ask.contains(expected));
                match (wrong.is_empty(), asks, should) {
                    (true, true, true) | (true, false, false) => {}
                    (true, true, false) => {
                        asked.push(format!("line {expected} is asked about: {}", lines[*found]["problems"]))
                    }
                    (false, true, _) => asked.push(format!("line {expected}: {}", wrong.join(", "))),
                    (_, false, true) => {
                        silent.push(format!("line {expected} is not asked about: {}", wrong.join(", ")))
                    }
                    (false, false, false) => silent.push(format!("line {expected}: {}", wrong.join(", "))),
                }
            }
            (Some(expected), None) => silent.push(format!("line {expected} is missing")),
            (None, Some(found)) if problems(*found) => {
                asked.push(format!("one more line, asked about: {}", lines[*found]["text"]))
            }
            (None, Some(found)) => silent.push(format!("one more line: {}", lines[*found]["text"])),
            (None, None) => {}
        }
    }
    let (should, says) = (said_by(&text.expect.says), said(read, lines));
    let two = should.contains("two-recipes");
    for kind in should.difference(&says).filter(|kind| !(two && OF_TWO_RECIPES.contains(&kind.as_str()))) {
        silent.push(format!("{kind} is not said"));
    }
    for kind in says.difference(&should) {
        asked.push(format!("{kind} is said"));
    }
    for id in volumes(text, read) {
        silent.push(id);
    }
    match (silent.is_empty(), asked.is_empty()) {
        (true, true) => Outcome::Right,
        (true, false) => Outcome::AskedAbout(asked.join("; ")),
        (false, _) => Outcome::WrongInSilence([silent, asked].concat().join("; ")),
    }
}

fn said_by(kinds: &[String]) -> BTreeSet<String> {
    kinds.iter().filter(|kind| !COURTESIES.contains(&kind.as_str())).cloned().collect()
}

/// What the reply says, in the words of the corpus.
fn said(read: &Value, lines: &[Value]) -> BTreeSet<String> {
    let of_line = lines.iter().flat_map(|line| line["problems"].as_array().unwrap()).filter_map(|problem| {
        Some(match problem["kind"].as_str().unwrap() {
            "unknown" => "name-unknown",
            "ambiguous" => "name-ambiguous",
            "no-amount" => "amount-missing",
            "amount-range" => "amount-range",
            "amount-bad" => "amount-bad",
            "unit-missing" => "unit-missing",
            "units-mixed" => "units-mixed",
            "more-than-all" | "ratio-mismatch" | "other-recipe" => return None,
            other => panic!("a problem that the corpus does not know: {other}"),
        })
    });
    let of_text = read["remarks"].as_array().unwrap().iter().filter_map(|remark| {
        Some(match remark["kind"].as_str().unwrap() {
            "water-based" => "water-based",
            "total-not-hundred" => "total-not-100",
            "filled-up" => "filled-up",
            "columns-disagree" => "columns-disagree",
            "added" => "duplicate",
            "two-recipes" => "two-recipes",
            _ => return None,
        })
    });
    of_line.chain(of_text).map(str::to_owned).collect()
}

/// The lines of the two, paired in their order: as many as possible of one ingredient.
fn aligned(expected: &[Line], found: &[Value]) -> Vec<(Option<usize>, Option<usize>)> {
    let same = |a: usize, b: usize| name_is_right(&expected[a], &found[b]);
    let (n, m) = (expected.len(), found.len());
    // The most pairs that are the same, of what begins at each place; a pair that differs is better than
    // none.
    let mut best = vec![vec![0; m + 1]; n + 1];
    for a in (0..n).rev() {
        for b in (0..m).rev() {
            let pair = best[a + 1][b + 1] + if same(a, b) { 10 } else { 1 };
            best[a][b] = pair.max(best[a + 1][b]).max(best[a][b + 1]);
        }
    }
    let (mut a, mut b, mut pairs) = (0, 0, Vec::new());
    while a < n || b < m {
        if a < n && b < m && best[a][b] == best[a + 1][b + 1] + if same(a, b) { 10 } else { 1 } {
            pairs.push((Some(a), Some(b)));
            (a, b) = (a + 1, b + 1);
        } else if b == m || (a < n && best[a][b] == best[a + 1][b]) {
            pairs.push((Some(a), None));
            a += 1;
        } else {
            pairs.push((None, Some(b)));
            b += 1;
        }
    }
    pairs
}

fn plain(name: &str) -> String {
    name.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
}

fn name_is_right(expected: &Line, found: &Value) -> bool {
    let id = found["id"].as_str();
    match (&expected.id, &expected.id_any, &expected.name) {
        (Some(wanted), ..) => id == Some(wanted),
        (None, Some(any), _) => {
            let head = found["suggestions"][0].as_str();
            id.is_none() && head.is_some_and(|head| any.iter().any(|one| one == head))
        }
        (None, None, Some(name)) => id.is_none() && plain(found["name"].as_str().unwrap()) == plain(name),
        (None, None, None) => false,
    }
}

/// Grams or millilitres in a unit of the corpus or the contract; percent, parts and drops are their own.
fn size(unit: &str) -> (&'static str, f64) {
    const OUNCE_G: f64 = 28.349_523_125;
    match unit {
        "%" | "percent" => ("percent", 1.0),
        "parts" => ("parts", 1.0),
        "g" | "grams" => ("mass", 1.0),
        "kg" | "kilograms" => ("mass", 1000.0),
        "mg" | "milligrams" => ("mass", 0.001),
        "oz" | "ounces" => ("mass", OUNCE_G),
        "lb" | "pounds" => ("mass", 16.0 * OUNCE_G),
        "tbsp" | "tablespoons" => ("volume", 14.787),
        "tsp" | "teaspoons" => ("volume", 4.929),
        "cup" | "cups" => ("volume", 236.59),
        "ml" | "millilitres" => ("volume", 1.0),
        "l" | "litres" => ("volume", 1000.0),
        "fl oz" | "fluid-ounces" => ("volume", 29.574),
        "drops" => ("drops", 1.0),
        other => panic!("a unit that the corpus does not know: {other}"),
    }
}

fn differences(expected: &Line, found: &Value, percent: Option<f64>) -> Vec<String> {
    let mut wrong = Vec::new();
    if !name_is_right(expected, found) {
        wrong.push(format!("is taken for {}, {}", found["id"], found["name"]));
    }
    let same = |a: f64, b: f64| (a - b).abs() <= 0.001 * a.abs().max(b.abs());
    let unit = found["unit"].as_str();
    match (expected.amount, found["amount"].as_f64()) {
        (None, None) => {}
        (Some(wanted), Some(amount)) => {
            let right = match (&expected.unit, unit) {
                (None, None) => same(wanted, amount),
                (Some(wanted_unit), Some(unit)) => {
                    let (kind, factor) = size(wanted_unit);
                    let (found_kind, found_factor) = size(unit);
                    // Where all of a recipe is bare, parts and percent are the same.
                    let kinds = kind == found_kind
                        || (["parts", "percent"].contains(&kind)
                            && ["parts", "percent"].contains(&found_kind));
                    kinds && same(wanted * factor, amount * found_factor)
                }
                _ => false,
            };
            if !right {
                wrong.push(format!("amount {amount} {unit:?}"));
            }
        }
        (_, amount) => wrong.push(format!("amount {amount:?}")),
    }
    if let Some(range) = expected.range
        && found["range"] != json!(range)
    {
        wrong.push(format!("range {}", found["range"]));
    }
    let by_volume = expected.unit.as_deref().is_some_and(|unit| ["volume", "drops"].contains(&size(unit).0));
    if by_volume && expected.amount.is_some() && found["about"] != expected.about {
        wrong.push("not marked “about”".to_owned());
    }
    match (percent, found["percent"].as_f64()) {
        (None, _) => {}
        (Some(wanted), Some(percent)) if (wanted - percent).abs() <= 0.06 => {}
        (Some(_), percent) => wrong.push(format!("percent {percent:?}")),
    }
    wrong
}

/// What is wrong with the shares of a recipe that is measured by volume: they are worked out here by the
/// catalogue's densities, for liquids, whose density is one figure.
fn volumes(text: &Text, read: &Value) -> Vec<String> {
    let grams = |line: &Line| {
        let (kind, factor) = size(line.unit.as_deref()?);
        let one = substances::find(line.id.as_deref()?)?;
        let density = one.density_liquid_g_ml().filter(|_| one.density_solid_g_ml().is_none())?;
        match kind {
            "mass" => Some(line.amount? * factor),
            "volume" => Some(line.amount? * factor * density),
            "drops" => Some(line.amount? * 0.05 * density),
            _ => None,
        }
    };
    let Some(masses) = text.expect.lines.iter().map(grams).collect::<Option<Vec<f64>>>() else {
        return Vec::new();
    };
    let sum: f64 = masses.iter().sum();
    let found = read["lines"].as_array().unwrap();
    masses
        .iter()
        .zip(found)
        .filter(|(mass, line)| {
            let percent = line["percent"].as_f64().unwrap_or(f64::NAN);
            (*mass / sum * 100.0 - percent).abs() > 0.06
                && !text.expect.says.contains(&"water-based".to_owned())
        })
        .map(|(mass, line)| format!("{} is {:.2} %, not {}", line["id"], mass / sum * 100.0, line["percent"]))
        .collect()
}
