//! What must hold for any text at all. The fuzzer looks for texts for which it does not; those that it found
//! worth keeping are asked again by every test run (`tests/fuzz.rs`), in the browser too (`tests/wasm`).

// Each user of this file takes some of it.
#![allow(dead_code)]

use meltmargin::contract::{answer, answer_with_progress};
use serde_json::{Value, json};

/// The answer, or none where there is an error, which must name its kind, a place and what to do.
fn checked(reply: &Value) -> Option<&Value> {
    if let Some(error) = reply.get("error") {
        let length = |field: &str| error[field].as_str().map(str::len);
        assert!(
            length("kind") > Some(0) && length("message") > Some(10) && length("at").is_some(),
            "{reply}"
        );
        return None;
    }
    Some(reply.get("answer").expect("a reply is an answer or an error"))
}

/// The text of a link of version 2 with the letters at its end that say that it is whole: without them,
/// nothing behind that check would ever be reached. Three letters are 15 bits of the FNV-1a sum of what is
/// before them.
fn whole(text: &str) -> String {
    let text = format!("{text}_");
    let sum =
        text.bytes().fold(0x811c_9dc5_u32, |sum, byte| (sum ^ u32::from(byte)).wrapping_mul(0x0100_0193));
    let bits = sum ^ (sum >> 15);
    let letters = "0123456789abcdefghjkmnpqrstvwxyz".as_bytes();
    let check: String = (0..3).map(|at| char::from(letters[(bits >> (5 * at)) as usize % 32])).collect();
    text + &check
}

/// Whether two states are the same, but for what a link rounds (amounts, to 0.001).
fn alike(one: &Value, other: &Value) -> bool {
    match (one, other) {
        (Value::Number(one), Value::Number(other)) => {
            (one.as_f64().unwrap_or(f64::NAN) - other.as_f64().unwrap_or(f64::NAN)).abs() <= 0.0005 + 1e-9
        }
        (Value::Array(one), Value::Array(other)) => {
            one.len() == other.len() && one.iter().zip(other).all(|(one, other)| alike(one, other))
        }
        (Value::Object(one), Value::Object(other)) => {
            one.len() == other.len()
                && one.iter().all(|(name, value)| other.get(name).is_some_and(|other| alike(value, other)))
        }
        _ => one == other,
    }
}

/// A link's text is refused or read; what is read can be written, and what is written reads back as the same
/// state.
pub(crate) fn link(text: &str) {
    let text = if text.starts_with("v2") { whole(text) } else { text.to_owned() };
    let reply = answer(&json!({"ask": "open-link", "fragment": text}));
    let Some(opened) = checked(&reply) else { return };
    let mut state = opened["state"].clone();
    let reply = answer(&json!({"ask": "link", "state": state}));
    // A state that no link can hold (an old link's longer name, say) is refused with its place.
    let Some(written) = checked(&reply) else { return };
    let fragment = &written["fragment"];
    let reply = answer(&json!({"ask": "open-link", "fragment": fragment}));
    let mut again = checked(&reply).expect("what `link` wrote can be opened")["state"].clone();
    // A link carries no price of what is not in its recipe.
    for state in [&mut state, &mut again] {
        state["prices"] = Value::Null;
    }
    assert!(alike(&state, &again), "{state} is read back from {fragment} as {again}");
}

/// Pasted text is read whatever it is, and reading takes work in proportion to its length.
pub(crate) fn reading(text: &str) {
    let reply = answer(&json!({"ask": "read", "text": text}));
    let Some(read) = checked(&reply) else { return };
    let lines = read["lines"].as_array().expect("a reading has lines");
    assert!(lines.len() <= text.chars().count(), "more lines than letters");
}

/// How many reports a search may send before it is stopped: enough to reach every part of it.
const REPORTS: u32 = 3;

/// Any text is a request that is answered or refused.
pub(crate) fn contract(text: &str) {
    let Ok(request) = serde_json::from_str::<Value>(text) else { return };
    let mut reports = 0;
    let reply = answer_with_progress(&request, &mut |_| {
        reports += 1;
        reports < REPORTS
    });
    if let Some(certificate) = checked(&reply).and_then(|answer| answer["certificate"].as_f64()) {
        assert!(certificate < 1e-6, "certificate {certificate}");
    }
}
