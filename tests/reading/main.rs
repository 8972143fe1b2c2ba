//! The corpus of pasted recipes (`README.md`), read by the public contract: how many are read right, asked
//! about, and wrong in silence.

#![allow(clippy::panic, clippy::unwrap_used, reason = "a test that cannot be set up fails")]

mod compare;
mod corpus;

use compare::{Outcome, outcome};
use meltmargin::contract::answer;
use serde_json::{Value, json};

/// The files of the corpus, each a shape.
const SHAPES: [&str; 7] = ["chat", "tables", "inci", "languages", "amounts", "hostile", "people"];

#[test]
fn at_least_95_percent_right_and_none_wrong_in_silence() {
    let (mut all, mut right) = (0, 0);
    let mut silent = Vec::new();
    println!("{:<10} {:>5} {:>6} {:>6} {:>7}", "shape", "texts", "right", "asked", "silent");
    for shape in SHAPES {
        let (mut of_shape, mut asked) = ([0; 3], Vec::new());
        for text in corpus::texts(shape) {
            match outcome(&text) {
                Outcome::Right => of_shape[0] += 1,
                Outcome::AskedAbout(why) => {
                    of_shape[1] += 1;
                    asked.push(format!("  asked  {}: {why}", text.name));
                }
                Outcome::WrongInSilence(why) => {
                    of_shape[2] += 1;
                    silent.push(format!("  silent {}: {why}", text.name));
                }
            }
        }
        let texts: usize = of_shape.iter().sum();
        println!("{shape:<10} {texts:>5} {:>6} {:>6} {:>7}", of_shape[0], of_shape[1], of_shape[2]);
        println!("{}", asked.join("\n"));
        (all, right) = (all + texts, right + of_shape[0]);
    }
    println!("{right} of {all} right: {:.1} %", right as f64 / all as f64 * 100.0);
    assert!(silent.is_empty(), "{} wrong in silence:\n{}", silent.len(), silent.join("\n"));
    assert!(right * 100 >= all * 95, "{right} of {all} are read right, fewer than 95 %");
}

/// What is pasted and is no recipe, and recipes that could be taken for such.
#[derive(serde::Deserialize)]
struct Other {
    name: String,
    text: String,
    is: String,
    acids: Option<usize>,
    of: Option<String>,
    fragment: Option<String>,
    lines: Option<usize>,
}

/// A certificate was read as a recipe of palmitic and stearic acid, or found to hold no ingredient; so were a
/// link and a file.
#[test]
fn what_is_pasted_and_is_no_recipe_is_told() {
    for text in corpus::read::<Other>("other") {
        let reply = answer(&json!({"ask": "read", "text": text.text}));
        let read = &reply["answer"];
        let remarks = read["remarks"].as_array().unwrap_or_else(|| panic!("{}: {reply}", text.name));
        let of_kind = |kind: &str| {
            remarks.iter().find(|remark| remark["kind"].as_str().unwrap().trim_end_matches("-of") == kind)
        };
        let kind = if text.is == "either" { "certificate" } else { &text.is };
        for other in ["certificate", "link", "file"] {
            assert_eq!(of_kind(other).is_some(), other == kind, "{}: {other}: {read}", text.name);
        }
        let lines = read["lines"].as_array().unwrap().len();
        match text.is.as_str() {
            "recipe" | "either" => assert!(lines > 0, "{}", text.name),
            _ => assert_eq!(lines, text.lines.unwrap_or(0), "{}: {read}", text.name),
        }
        let remark = of_kind(kind).unwrap_or(&Value::Null);
        for (figure, expected) in
            [("acids", json!(text.acids)), ("id", json!(text.of)), ("fragment", json!(text.fragment))]
        {
            assert_eq!(remark.get(figure).unwrap_or(&Value::Null), &expected, "{}: {figure}", text.name);
        }
        // And the other way round, where a certificate is expected.
        let reply = answer(&json!({"ask": "certificate", "text": text.text}));
        let is_recipe = reply["answer"]["is_recipe"] == true;
        let of_ingredients = text.is == "recipe" || text.lines.is_some();
        // Acids that are weighed are neither for sure.
        if text.name != "recipe-acids-weighed" {
            assert_eq!(is_recipe, of_ingredients, "{}: {reply}", text.name);
        }
    }
}
