//! The work of a proof, counted: what does not depend on the machine.

use meltmargin::contract::{answer_json_line, answer_with_progress};
use serde_json::{Value, json};

#[path = "questions.rs"]
mod questions;

fn answer(request: &Value) -> Value {
    let reply: Value = serde_json::from_str(&answer_json_line(request.to_string().as_bytes())).unwrap();
    reply["answer"].clone()
}

/// The most equilibria that each of the large questions may take, bounds included; a walk over the grid takes one for each
/// recipe and temperature, up to 12 million.
const MOST_EQUILIBRIA: [u64; 6] = [4_000, 30_000, 40_000, 10_000, 100_000, 100_000];

#[test]
fn a_proof_takes_few_equilibria_and_accounts_for_every_recipe() {
    for ((name, request, lines), most) in questions::questions().iter().zip(MOST_EQUILIBRIA) {
        let answer = answer(request);
        let first = &answer["proposals"][0];
        assert_eq!(first["meets_all"], *lines > 0, "{name}: {first}");
        if *lines > 0 {
            assert_eq!(first["changes"].as_array().unwrap().len(), *lines, "{name}: {first}");
        }
        let count = |key: &str| answer["proof"][key].as_u64().unwrap();
        println!("{name}: {} examined, {}", answer["examined"], answer["proof"]);
        let decided = count("excluded_by_bound") + count("excluded_by_merit") + count("solved");
        assert_eq!(decided, answer["examined"].as_u64().unwrap(), "{name}");
        assert!(count("equilibria") <= most, "{name}: {}", count("equilibria"));
        assert_eq!(answer["complete"], true);
    }
}

#[test]
fn reports_bring_the_first_good_recipe_before_the_best_is_proven() {
    let (name, request, _) = &questions::questions()[4];
    let (mut reports, mut first) = (0, None);
    let reply = answer_with_progress(request, &mut |progress: &Value| {
        reports += 1;
        if first.is_none() && progress["best"]["meets_all"] == true {
            first = Some(reports);
        }
        assert!(progress["decided"].as_u64() <= progress["total"].as_u64(), "{progress}");
        true
    });
    assert_eq!(reply["answer"]["complete"], true);
    println!("{name}: first good recipe at report {first:?} of {reports}");
    assert!(first.is_some_and(|first| first < reports), "{name}: at report {first:?} of {reports}");
}

#[test]
fn a_search_that_is_stopped_says_so() {
    let (_, request, _) = &questions::questions()[2];
    let reply = answer_with_progress(request, &mut |_| false);
    assert_eq!(reply["answer"]["complete"], false);
    // Other questions have no progress to report.
    let reply = answer_with_progress(&json!({"ask": "ingredients"}), &mut |_| false);
    assert!(reply["answer"].as_array().is_some_and(|list| list.len() > 100));
}
