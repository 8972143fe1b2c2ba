//! Large questions, for counts and for times (`large.jsonl`; the page's times are taken of the same): an
//! invented butter of 8 lines with a pantry of 20, and one of 15 with 40.

use serde_json::Value;

/// A large question.
pub(crate) struct Question {
    pub(crate) name: String,
    pub(crate) request: Value,
    /// How many lines change in the best answer.
    pub(crate) lines: usize,
    /// Whether that meets every wish.
    pub(crate) meets_all: bool,
}

pub(crate) fn questions() -> Vec<Question> {
    let question = |line| {
        let mut case: Value = serde_json::from_str(line).unwrap();
        Question {
            name: case["name"].as_str().unwrap().to_owned(),
            request: case["request"].take(),
            lines: case["lines_that_change"].as_u64().unwrap() as usize,
            meets_all: case["meets_all"].as_bool().unwrap(),
        }
    };
    include_str!("large.jsonl").lines().map(question).collect()
}
