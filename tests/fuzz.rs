//! The texts that fuzzing found worth keeping (`tests/fuzz/corpus/`), asked again. `tests/fuzz/README.md`
//! says how they are found.

#[path = "fuzz/properties.rs"]
mod properties;

/// Texts, one JSON string a line.
fn corpus(lines: &str) -> impl Iterator<Item = String> + '_ {
    assert!(lines.lines().count() > 50, "the corpus is there");
    lines.lines().map(|line| serde_json::from_str(line).expect("a line is a JSON string"))
}

#[test]
fn links() {
    corpus(include_str!("fuzz/corpus/link.jsonl")).for_each(|text| properties::link(&text));
}

#[test]
fn pasted_texts() {
    corpus(include_str!("fuzz/corpus/reading.jsonl")).for_each(|text| properties::reading(&text));
}

#[test]
fn requests() {
    corpus(include_str!("fuzz/corpus/contract.jsonl")).for_each(|text| properties::contract(&text));
}
