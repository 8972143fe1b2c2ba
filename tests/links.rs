//! Links that are out in the world are opened, and must mean what they meant; see `tests/links/README.md`.

use std::{fs, path::Path};

use meltmargin::contract::answer;
use serde::Deserialize;
use serde_json::{Value, json};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Recorded {
    link: String,
    state: Value,
    remarks: usize,
}

fn recorded(version: &str) -> Vec<Recorded> {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/links").join(version);
    let text = fs::read_to_string(file).expect("the record can be read");
    text.lines().map(|line| serde_json::from_str(line).expect(line)).collect()
}

#[track_caller]
fn opened(link: &str) -> Value {
    let mut reply = answer(&json!({"ask": "open-link", "fragment": link}));
    assert!(reply.get("answer").is_some(), "{link}: {reply}");
    let mut answer = reply["answer"].take();
    unset_as_recorded(&mut answer["state"]);
    answer
}

/// A cap that a link does not set is none; the record has the figure that it stood for when links were first
/// given, which it still stands for in a pot that holds no more.
fn unset_as_recorded(state: &mut Value) {
    for (cap, percent) in [("wax_percent", 3.0), ("fatty_acid_percent", 6.0)] {
        let found = &mut state["limits"][cap];
        if found.is_null() {
            *found = json!(percent);
        }
    }
}

/// Leaves of a state the fields that its record has. One that joined since must be as a link that says
/// nothing has it.
#[track_caller]
fn keep_recorded(state: &mut Value, recorded: &Value, usual: &Value) {
    let (Some(fields), Some(recorded)) = (state.as_object_mut(), recorded.as_object()) else { return };
    fields.retain(|name, value| {
        let known = recorded.contains_key(name);
        assert!(known || *value == usual[name], "`{name}` joined, and old links do not have its default");
        known
    });
    for (name, value) in fields {
        keep_recorded(value, &recorded[name], &usual[name]);
    }
}

/// The same numbers, whether written 3 or 3.0.
fn alike(one: &Value, other: &Value) -> bool {
    match (one, other) {
        (Value::Number(one), Value::Number(other)) => one.as_f64() == other.as_f64(),
        (Value::Array(one), Value::Array(other)) => {
            one.len() == other.len() && one.iter().zip(other).all(|(one, other)| alike(one, other))
        }
        (Value::Object(one), Value::Object(other)) => {
            one.len() == other.len()
                && one.iter().all(|(name, value)| other.get(name).is_some_and(|it| alike(value, it)))
        }
        _ => one == other,
    }
}

#[test]
fn links_mean_what_they_meant() {
    let usual = opened("v1")["state"].take();
    for version in ["v1.jsonl", "v2.jsonl"] {
        let links = recorded(version);
        assert!(links.len() > 5, "{version} is nearly empty");
        for Recorded { link, state, remarks } in links {
            let mut answer = opened(&link);
            keep_recorded(&mut answer["state"], &state, &usual);
            assert!(alike(&answer["state"], &state), "{link}\nmeant {state}\nmeans {}", answer["state"]);
            assert_eq!(answer["remarks"].as_array().map(Vec::len), Some(remarks), "{link}");
            let again = meltmargin::contract::answer(&json!({"ask": "link", "state": state}));
            let again = again["answer"]["fragment"].as_str().unwrap_or_else(|| panic!("{link}: {again}"));
            let mut again = opened(again)["state"].take();
            keep_recorded(&mut again, &state, &usual);
            // Prices of what is not in the recipe stay behind.
            again["prices"] = state["prices"].clone();
            assert!(alike(&again, &state), "{link}\nmeant {state}\nwritten anew {again}");
        }
    }
}
