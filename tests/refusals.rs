//! What is refused names its place, in the request and in words, and what to do about it.

// The lints' own exception for tests does not reach the helpers of a test crate.
#![allow(clippy::panic, clippy::unwrap_used)]

use meltmargin::contract::{answer, answer_with_progress};
use serde_json::{Value, json};

/// A question with some of its fields said otherwise.
fn with(base: &Value, more: Value) -> Value {
    let mut request = base.clone();
    request.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
    request
}

/// Each request with the place of its fault, and words that its message must have: what is wrong, and what to
/// do.
fn refusals() -> Vec<(Value, &'static str, &'static [&'static str])> {
    let recipe = json!([{"id": "shea-butter", "percent": 60}, {"id": "olive-oil", "percent": 40}]);
    let wishes = json!({"recipe": recipe, "format": "pot", "storage_c": {"coldest": 18, "hottest": 28}});
    let ask = |ask: &str, more: Value| with(&with(&wishes, json!({"ask": ask})), more);
    let limits = |limits: Value| ask("rework", json!({"limits": limits}));
    let air = |air: Value| json!({"ask": "expose", "recipe": recipe, "format": "pot", "air": air});
    let state = |state: Value| json!({"ask": "link", "state": state});
    let own =
        |own: Value| json!({"ask": "melt", "recipe": [with(&json!({"name": "lot 7", "percent": 100}), own)]});
    vec![
        (
            json!({"ask": "melt", "recipe": [{"id": "sheabutter", "percent": 100}]}),
            "recipe[0].id",
            &["sheabutter", "choose one", "did you mean `shea-butter`"],
        ),
        (json!({"ask": "melt", "recipe": [{"percent": 100}]}), "recipe[0]", &["line 1", "choose one"]),
        (
            json!({"ask": "melt", "recipe": [{"id": "shea-butter", "percent": 120}]}),
            "recipe[0].percent",
            &["shea-butter is 120 %", "0 to 100"],
        ),
        (
            ask("behave", json!({"storage_c": {"coldest": -40, "hottest": 28}})),
            "storage_c.coldest",
            &["the coldest storage is -40 °C", "from -20 to 60 °C"],
        ),
        (
            ask("behave", json!({"storage_c": {"coldest": 30, "hottest": 20}})),
            "storage_c",
            &["coldest", "swap them"],
        ),
        (ask("behave", json!({"skin_c": 50})), "skin_c", &["skin is 50 °C", "from 20 to 40 °C"]),
        // An own ingredient.
        (own(json!({"like": "shea"})), "recipe[0].like", &["`shea`", "choose one"]),
        (own(json!({"class": "wax"})), "recipe[0]", &["lot 7", "fatty acids"]),
        (
            own(json!({"like": "shea-butter", "spread": "seed"})),
            "recipe[0].spread",
            &["lot 7", "leave them out"],
        ),
        (
            own(json!({"composition": {"SOS": 100}, "fatty_acids": {"oleic": 100}})),
            "recipe[0].fatty_acids",
            &["lot 7", "keep one"],
        ),
        (
            own(json!({"fatty_acids": {"oleac": 100}})),
            "recipe[0].fatty_acids.oleac",
            &["`oleac`", "count it as `other`"],
        ),
        (
            own(json!({"composition": {"SOS": -1}})),
            "recipe[0].composition.SOS",
            &["SOS in lot 7 is -1 %", "0 to 100"],
        ),
        (
            own(json!({"solid_points": [[10, 60], [10.1, 50]]})),
            "recipe[0].solid_points[1]",
            &["lot 7", "keep at least"],
        ),
        (
            own(json!({"solid_points": [[10, 60], [20, 30]], "melts_at_c": 30})),
            "recipe[0].melts_at_c",
            &["lot 7", "leave its slip point out"],
        ),
        // What a rework may do.
        (limits(json!({"step_percent": 20})), "limits.step_percent", &["the step is 20 %", "from 0.1 to 10"]),
        (limits(json!({"wax_percent": 130})), "limits.wax_percent", &["wax is 130 %", "from 0 to"]),
        (
            limits(json!({"pantry": ["beeswax", "bees-wax"]})),
            "limits.pantry[1]",
            &["bees-wax", "did you mean `beeswax`"],
        ),
        (
            limits(json!({"locked": ["cocoa-butter"]})),
            "limits.locked[0]",
            &["cocoa-butter", "add it, or take it off"],
        ),
        (limits(json!({"refuse": ["nuts"]})), "limits.refuse[0]", &["`nuts`", "tree-nut"]),
        (
            limits(json!({"refuse": ["bee", "shea-butter"], "locked": ["shea-butter"]})),
            "limits.refuse[1]",
            &["shea-butter", "unlock it"],
        ),
        (
            limits(json!({"bounds": {"shea-butter": {"min": 50, "max": 10}}})),
            "limits.bounds.shea-butter",
            &["shea-butter", "exchange them"],
        ),
        (
            limits(json!({"prices": {"shea-butter": -1}})),
            "limits.prices.shea-butter",
            &["price of shea-butter", "not negative"],
        ),
        (limits(json!({"work": 50})), "limits.work", &["the work of a search is 50 equilibria", "from 1000"]),
        // Nothing can be taken out of a batch; of several refusals, the one that is at fault is named.
        (
            ask("rescue", json!({"made": {"grams": 500}, "limits": {"refuse": ["bee", "shea-butter"]}})),
            "limits.refuse[1]",
            &["shea-butter", "drop the refusal"],
        ),
        // The air on its way, in a question and in a state.
        (air(json!({})), "air", &["name a place"]),
        (air(json!({"preset": "mailbox", "constant_c": 30})), "air.constant_c", &["given twice", "keep one"]),
        (
            air(json!({"preset": "mailbox", "points": [[0, 20], [1, 30]]})),
            "air.points",
            &["given twice", "keep one"],
        ),
        (air(json!({"points": [[0, 20], [1, 300]]})), "air.points[1][1]", &["point 2", "300 °C"]),
        (air(json!({"points": [[0, 20], [0, 30]]})), "air.points[1][0]", &["in order"]),
        (
            state(json!({"journey": {"preset": "mailbox", "constant_c": 30}})),
            "state.journey.constant_c",
            &["given twice", "keep one"],
        ),
        (state(json!({"journey": {}})), "state.journey", &["name a place"]),
        (
            state(json!({"journey": {"points": [[0, 20], [0, 30]]}})),
            "state.journey.points[1][0]",
            &["in order"],
        ),
        // The teaching picture, in a state and in its question.
        (
            state(json!({"picture": {"hardeners": ["a", "b", "c", "d", "e"]}})),
            "state.picture.hardeners",
            &["5 are too many", "at most 4"],
        ),
        (state(json!({"picture": {"dose_percent": 90}})), "state.picture.dose_percent", &["90", "50"]),
        (
            ask("harden", json!({"hardeners": ["beeswax", "bees-wax"], "swap": "oil"})),
            "hardeners[1]",
            &["bees-wax", "did you mean `beeswax`"],
        ),
        (
            ask("harden", json!({"hardeners": ["beeswax"], "swap": "oil", "doses_percent": [0, 10, 5]})),
            "doses_percent[2]",
            &["dose 3", "in order"],
        ),
        (
            ask("harden", json!({"hardeners": ["beeswax"], "swap": "oil", "doses_percent": [0, 80]})),
            "doses_percent[1]",
            &["dose 2 is 80 %", "from 0 to 50 %"],
        ),
        // A season.
        (
            json!({"ask": "seasons", "recipe": recipe, "summer": {"format": "pot", "storage_c": {"coldest": 18, "hottest": 90}}, "winter": {"format": "pot", "storage_c": {"coldest": 5, "hottest": 15}}}),
            "summer.storage_c.hottest",
            &["hottest storage is 90 °C", "from -20 to 60 °C"],
        ),
        // Names that no link could hold, of a line, a lot, a pot.
        (
            json!({"ask": "melt", "recipe": [{"name": "x".repeat(81), "like": "shea-butter", "percent": 100}]}),
            "recipe[0].name",
            &["longer than 80", "shorten it"],
        ),
        (
            json!({"ask": "melt", "recipe": [{"name": "lot\u{202e}7", "like": "shea-butter", "percent": 100}]}),
            "recipe[0].name",
            &["invisible", "plain letters"],
        ),
        (
            json!({"ask": "learn", "lots": [{"name": "x".repeat(100_000), "id": "shea-butter"}]}),
            "lots[0].name",
            &["longer than 80", "shorten it"],
        ),
        (
            json!({"ask": "learn", "lots": [], "observations": [{
                "recipe": [{"id": "shea-butter", "percent": 100}], "pot": " ", "seen": "held", "at_c": 20
            }]}),
            "observations[0].pot",
            &["a name is empty", "write one"],
        ),
        // A state that holds what it cannot.
        (state(json!({"scent": "rose"})), "state.scent", &["no such field"]),
        (
            state(json!({"limits": {"wax_percnt": 3}})),
            "state.limits.wax_percnt",
            &["did you mean `wax_percent`"],
        ),
        (
            state(json!({"recipe": vec![json!({"id": "shea-butter", "percent": 1}); 61]})),
            "state.recipe",
            &["more than 60 lines", "take some out"],
        ),
        // What is counted.
        (limits(json!({"work": -1})), "limits.work", &["it is -1, where 0 or more is needed"]),
        (limits(json!({"work": 1.5})), "limits.work", &["1.5", "a whole number"]),
        (limits(json!({"changes": 5_000_000_000_u64})), "limits.changes", &["5000000000 is too large"]),
        (
            json!({"ask": "read", "text": "50 shea", "corrections": [{"line": "first"}]}),
            "corrections[0].line",
            &["the text \"first\"", "a whole number"],
        ),
        (
            json!({"ask": "read", "text": "  "}),
            "text",
            &["no ingredient was found", "write one ingredient a line"],
        ),
    ]
}

#[test]
fn each_fault_is_named_with_its_place_and_what_to_do() {
    let mut faults = Vec::new();
    for (request, at, says) in refusals() {
        let reply = answer(&request);
        let error = &reply["error"];
        let message = error["message"].as_str().unwrap_or_default();
        if error["at"] != at || !says.iter().all(|words| message.contains(words)) {
            faults.push(format!("{request}\n  expected at {at}: {says:?}\n  found {reply}"));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Words of the language that the engine is written in, of the library that reads requests, and of the
/// request's own fields.
const NOT_FOR_PEOPLE: [&str; 30] = [
    "ask `",
    "Os {",
    "Err(",
    "Some(",
    "None",
    "solid_points",
    "fatty_acids",
    "melts_at_c",
    "constant_c",
    "u8",
    "u16",
    "u32",
    "u64",
    "usize",
    "i32",
    "i64",
    "f64",
    "struct",
    "tuple",
    "variant",
    "invalid type",
    "invalid value",
    "invalid length",
    "expected",
    "sequence",
    "boolean",
    "byte",
    "map",
    "serde",
    "unit value",
];

/// A message is for people: it names no question to be asked, and shows nothing of how the program is made.
/// On 3214e57 some said “ask `ingredients`” and `Os { .. }`.
#[test]
fn no_message_speaks_to_programs() {
    for (request, at, _) in refusals() {
        let reply = answer(&request);
        let message = reply["error"]["message"].as_str().unwrap_or_default();
        // A field that a form does not have is named, with those that it has.
        let message = message.replace(at, "").replace("no such field here, but", "");
        for word in NOT_FOR_PEOPLE {
            assert!(!message.contains(word), "{message}");
        }
    }
}

/// Every value of a request in turn.
fn places(value: &Value, at: &str, all: &mut Vec<String>) {
    all.push(at.to_owned());
    match value {
        Value::Array(list) => {
            list.iter().enumerate().for_each(|(index, value)| places(value, &format!("{at}/{index}"), all));
        }
        Value::Object(fields) => {
            fields.iter().for_each(|(name, value)| places(value, &format!("{at}/{name}"), all));
        }
        _ => {}
    }
}

/// Each value of each recorded request of another kind: what is said of it names its place, and is for
/// people. A fault of old: “it is 1.5, where u64 is needed”.
#[test]
fn what_is_of_another_kind_is_refused_in_plain_words() {
    let recorded = include_str!("cases/recipes.jsonl")
        .lines()
        .map(|line| serde_json::from_str::<Value>(line).unwrap()["request"].clone());
    let mut faults = Vec::new();
    let mut refused = 0;
    for request in recorded.chain(refusals().into_iter().map(|(request, ..)| request)) {
        let mut all = Vec::new();
        places(&request, "", &mut all);
        for place in all.iter().filter(|place| *place != "/ask") {
            for other in [
                json!(null),
                json!(true),
                json!(-1),
                json!(1.5),
                json!(1e300),
                json!("x"),
                json!([]),
                json!({}),
            ] {
                let mut changed = request.clone();
                *changed.pointer_mut(place).unwrap() = other;
                // Where it is a question still, it is not of interest: a search is stopped at once.
                let reply = answer_with_progress(&changed, &mut |_| false);
                let error = &reply["error"];
                if error["kind"] != "malformed" {
                    continue;
                }
                refused += 1;
                let message = error["message"].as_str().unwrap();
                let said = message.split(" cannot be read: ").nth(1).unwrap_or_default();
                if error["at"].as_str().is_none()
                    || said.is_empty()
                    || NOT_FOR_PEOPLE.iter().any(|word| said.contains(word))
                {
                    faults.push(message.to_owned());
                }
            }
        }
    }
    faults.sort();
    faults.dedup();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(refused > 1000, "{refused}");
}
