//! What a proposal names as carrying its change does carry it: without it more than half of the change is
//! lost.

use std::collections::BTreeMap;

use meltmargin::contract::answer_json_line;
use serde_json::{Value, json};

/// Structure, or what is left on skin, percent, as `melt` and `behave` tell them.
fn figure(recipe: &BTreeMap<String, f64>, request: &Value, finding: &Value) -> f64 {
    let whole: f64 = recipe.values().sum();
    let lines: Vec<Value> = recipe
        .iter()
        .filter(|(_, percent)| **percent > 0.0)
        .map(|(id, percent)| json!({"id": id, "percent": 100.0 * percent / whole}))
        .collect();
    let on_skin = finding["kind"].as_str().unwrap().ends_with("on-skin");
    let at_c = if on_skin {
        request["skin_c"].as_f64().unwrap_or(32.5) + RUBBED_K
    } else {
        finding["at_c"].as_f64().unwrap()
    };
    let ask = if on_skin {
        json!({"ask": "melt", "recipe": lines, "at_c": [at_c]})
    } else {
        json!({"ask": "behave", "recipe": lines, "format": "pot", "storage_c": {"coldest": at_c, "hottest": at_c}})
    };
    let reply: Value = serde_json::from_str(&answer_json_line(ask.to_string().as_bytes())).unwrap();
    let answer = &reply["answer"];
    let figure =
        if on_skin { &answer["solid_percent"][0] } else { &answer["places"]["hottest"]["structure_percent"] };
    figure.as_f64().expect("a figure is told")
}

/// By how much rubbed skin is warmer, K (`src/behaviour/wishes.rs`).
const RUBBED_K: f64 = 2.5;

#[test]
fn what_is_named_carries_more_than_half() {
    let mut named = [0; 2];
    let usual =
        || include_str!("usual/questions.jsonl").lines().map(|line| serde_json::from_str(line).unwrap());
    // With little to bear, two lines that lose share one change here and there.
    let even = usual().map(|mut request: Value| {
        request["limits"]["surety"] = "even".into();
        request
    });
    for request in usual().chain(even) {
        let reply: Value = serde_json::from_str(&answer_json_line(request.to_string().as_bytes())).unwrap();
        for proposal in reply["answer"]["proposals"].as_array().unwrap() {
            let findings = proposal["findings"].as_array().unwrap();
            let Some(at) = findings
                .iter()
                .position(|it| ["with-more-of", "with-less-of"].contains(&it["kind"].as_str().unwrap()))
            else {
                continue;
            };
            let (change, carriers) = (&findings[at - 1], findings[at]["ids"].as_array().unwrap());
            let mut recipe: BTreeMap<String, f64> = BTreeMap::new();
            for it in proposal["recipe"].as_array().unwrap() {
                *recipe.entry(it["id"].as_str().unwrap().to_owned()).or_default() +=
                    it["percent"].as_f64().unwrap();
            }
            let moves: Vec<(String, f64)> = proposal["changes"]
                .as_array()
                .unwrap()
                .iter()
                .map(|it| {
                    let [from, to] = ["from_percent", "to_percent"].map(|end| it[end].as_f64().unwrap());
                    (it["id"].as_str().unwrap().to_owned(), to - from)
                })
                .collect();
            // What the carriers moved goes back to what moved the other way.
            let is_carrier = |id: &str| carriers.iter().any(|it| it == id);
            let undone: f64 = moves.iter().filter(|it| is_carrier(&it.0)).map(|it| it.1).sum();
            let opposite: f64 = moves.iter().filter(|it| it.1 * undone < 0.0).map(|it| it.1).sum();
            for (id, gain) in &moves {
                if is_carrier(id) {
                    *recipe.entry(id.clone()).or_default() -= gain;
                } else if gain * undone < 0.0 {
                    *recipe.entry(id.clone()).or_default() += undone * gain / opposite;
                }
            }
            let [from, to] = ["from_percent", "to_percent"].map(|end| change[end].as_f64().unwrap());
            let without = figure(&recipe, &request, change);
            assert!(
                (without - from) / (to - from) < 0.5 + 1e-6,
                "{request}: {change} {carriers:?}: {without}"
            );
            named[carriers.len().min(2) - 1] += 1;
        }
    }
    println!("one line carries it {} times, several {}", named[0], named[1]);
    assert!(named[0] > 300 && named[1] > 0, "{named:?}");
}
