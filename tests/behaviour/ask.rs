//! Questions to the program, by the public contract.

use serde_json::{Value, json};

pub(crate) use crate::replies::{answer, error};

/// A recipe of catalogue ids and percentages.
pub(crate) fn recipe(lines: &[(&str, f64)]) -> Value {
    lines.iter().map(|(id, percent)| json!({"id": id, "percent": percent})).collect()
}

/// `behave` without wishes on firmness or skin.
#[track_caller]
pub(crate) fn behave(lines: &[(&str, f64)], format: &str, coldest: f64, hottest: f64) -> Value {
    answer(&json!({
        "ask": "behave", "recipe": recipe(lines), "format": format,
        "storage_c": {"coldest": coldest, "hottest": hottest},
    }))
}

#[track_caller]
pub(crate) fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("not a number: {value}"))
}

#[track_caller]
pub(crate) fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().unwrap_or_else(|| panic!("not a list: {value}")).iter().map(number).collect()
}

#[track_caller]
pub(crate) fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_else(|| panic!("not text: {value}"))
}

/// The signs of trouble in an answer.
pub(crate) fn signs(answer: &Value) -> Vec<&str> {
    answer["troubles"].as_array().unwrap().iter().map(|trouble| text(&trouble["sign"])).collect()
}

/// The kinds of a list of findings.
pub(crate) fn kinds(findings: &Value) -> Vec<&str> {
    findings.as_array().expect("a list").iter().map(|finding| text(&finding["kind"])).collect()
}
