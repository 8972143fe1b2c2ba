//! What can be had where what is asked for cannot: the most heat is held against a walk down from what was
//! asked, half a degree at a time.

use meltmargin::contract::answer;
use serde_json::{Value, json};

/// What is asked, with another hottest storage.
fn stored_to(question: &Value, hottest_c: f64) -> Value {
    let mut asked = question.clone();
    asked["storage_c"]["hottest"] = json!(hottest_c);
    asked
}

/// What is asked, every half degree below, and the coldest, as a walk has it.
fn walk(question: &Value) -> Vec<f64> {
    let storage = |end: &str| question["storage_c"][end].as_f64().unwrap();
    let (coldest, hottest) = (storage("coldest").max(0.0), storage("hottest"));
    let halves = (0..400).map(|step| 100.0 - 0.5 * f64::from(step));
    let mut all = vec![hottest];
    all.extend(halves.filter(|celsius| *celsius < hottest && *celsius >= coldest));
    if !all.contains(&coldest) {
        all.push(coldest);
    }
    all
}

fn without_feel(mut proposal: Value) -> Value {
    proposal.as_object_mut().unwrap().remove("feel");
    proposal
}

fn told(question: &Value) -> Value {
    let mut asked = question.clone();
    asked["why_not"] = json!(true);
    answer(&asked)["answer"].clone()
}

/// The question with less and less asked besides holding.
fn with_less(question: &Value) -> Vec<(Value, Vec<&'static str>)> {
    let mut all = vec![(question.clone(), Vec::new())];
    for (field, gives) in [("firmness", "firmness"), ("on_skin", "on-skin")] {
        let (mut less, mut given_up) = all[all.len() - 1].clone();
        if less[field].is_string() {
            less.as_object_mut().unwrap().remove(field);
            given_up.push(gives);
            all.push((less, given_up));
        }
    }
    all
}

/// Holds what is told against the walk; which of the kinds it was, and how many degrees below what was asked.
fn check(question: &Value) -> Option<(String, f64)> {
    let reply = told(question);
    let instead = &reply["cannot_be"];
    assert_eq!(reply["complete"], true, "{question}");
    if reply["proposals"][0]["meets_all"] == true {
        assert!(instead.is_null(), "{question}");
        return None;
    }
    let kind = instead["at_most"]["kind"].as_str().unwrap_or_default();
    assert!(!kind.is_empty(), "{question}: {reply}");
    let asked_c = question["storage_c"]["hottest"].as_f64().unwrap();
    for (less, given_up) in with_less(question) {
        let first = walk(&less).into_iter().find_map(|celsius| {
            let there = answer(&stored_to(&less, celsius))["answer"]["proposals"][0].clone();
            (there["meets_all"] == true).then_some((celsius, there))
        });
        if let Some((celsius, there)) = first {
            assert_eq!(instead["at_most"]["holds_to_c"], json!(celsius), "{question}");
            assert_eq!(instead["cooler"]["hottest_c"], json!(celsius), "{question}");
            assert_eq!(instead["cooler"]["given_up"], json!(given_up), "{question}");
            // What is felt to differ in the middle of the range is told of the range that was asked.
            let recipe = |of: &Value| without_feel(of.clone());
            assert_eq!(recipe(&instead["cooler"]["proposal"]), recipe(&there), "{question}");
            return Some((kind.to_owned(), asked_c - celsius));
        }
    }
    assert_eq!(kind, "not-even-cold", "{question}: {instead}");
    assert!(instead["cooler"].is_null(), "{question}");
    Some((kind.to_owned(), f64::INFINITY))
}

#[test]
fn the_most_it_can_hold_is_what_a_walk_finds() {
    let questions = include_str!("usual/questions.jsonl").lines().step_by(9);
    let found: Vec<(String, f64)> =
        questions.filter_map(|line| check(&serde_json::from_str(line).unwrap())).collect();
    println!("{found:?}");
    let count = |kind: &str| found.iter().filter(|it| it.0 == kind).count();
    assert!(count("holds-as-firm-on-skin") >= 3 && count("on-skin-not-as-firm") >= 1, "{found:?}");
}
