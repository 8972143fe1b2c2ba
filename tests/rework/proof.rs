//! The work of a proof, counted: what does not depend on the machine.

use meltmargin::contract::{answer_json_line, answer_with_progress};
use serde_json::{Value, json};

use meltmargin::{
    behaviour::{Firmness, Format, OnSkin, Wishes},
    recipe::{Line, Recipe},
    rework::{Group, Problem, Scope, Search},
    substances::{self, Class},
};

use crate::Random;

#[path = "questions.rs"]
mod questions;
use questions::Question;

fn answer(request: &Value) -> Value {
    let reply: Value = serde_json::from_str(&answer_json_line(request.to_string().as_bytes())).unwrap();
    reply["answer"].clone()
}

/// The most equilibria that each of the large questions may take, bounds included; a walk over the grid takes one for each
/// recipe and temperature, up to 12 million.
const MOST_EQUILIBRIA: [u64; 6] = [1_000, 15_000, 14_000, 3_500, 50_000, 50_000];

#[test]
fn a_proof_takes_few_equilibria_and_accounts_for_every_recipe() {
    for (Question { name, request, lines }, most) in questions::questions().iter().zip(MOST_EQUILIBRIA) {
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
    let Question { name, request, .. } = &questions::questions()[4];
    let (mut reports, mut first, mut decided) = (0, None, 0);
    let reply = answer_with_progress(request, &mut |progress: &Value| {
        reports += 1;
        if first.is_none() && progress["best"]["meets_all"] == true {
            first = Some(reports);
        }
        assert!(progress["decided"].as_u64() <= progress["total"].as_u64(), "{progress}");
        assert!(progress["decided"].as_u64() >= Some(decided), "{progress} after {decided}");
        decided = progress["decided"].as_u64().unwrap();
        true
    });
    assert_eq!(reply["answer"]["complete"], true);
    println!("{name}: first good recipe at report {first:?} of {reports}");
    assert!(first.is_some_and(|first| first < reports), "{name}: at report {first:?} of {reports}");
}

#[test]
fn a_search_that_is_stopped_says_so() {
    let reply = answer_with_progress(&questions::questions()[2].request, &mut |_| false);
    assert_eq!(reply["answer"]["complete"], false);
    // So do a rescue on a fine scale where nothing meets every wish, and two seasons of a butter of many lines.
    let mut rescue = questions::questions()[2].request.clone();
    rescue["ask"] = json!("rescue");
    rescue["made"] = json!({"grams": 1000, "step_grams": 0.1});
    let mut seasons = questions::questions()[0].request.clone();
    seasons["ask"] = json!("seasons");
    seasons.as_object_mut().unwrap().retain(|field, _| ["ask", "recipe", "limits"].contains(&field.as_str()));
    seasons["summer"] =
        json!({"format": "pot", "storage_c": {"coldest": 20, "hottest": 34}, "firmness": "soft"});
    seasons["winter"] =
        json!({"format": "pot", "storage_c": {"coldest": 0, "hottest": 12}, "firmness": "soft"});
    for request in [rescue, seasons] {
        let mut reports = Vec::new();
        let whole = answer_with_progress(&request, &mut |report| {
            reports.push((report["decided"].as_u64().unwrap(), report["total"].as_u64().unwrap()));
            true
        });
        assert_eq!(whole["answer"]["complete"], true, "{whole}");
        assert!(reports.len() >= 5 && reports.iter().all(|(decided, total)| decided <= total));
        assert!(reports.is_sorted_by_key(|(decided, _)| decided), "{reports:?}");
        let mut left = reports.len() - 1;
        let stopped = answer_with_progress(&request, &mut |_| {
            left -= 1;
            left > 0
        });
        assert_eq!(stopped["answer"]["complete"], false, "{stopped}");
        let at_once = answer_with_progress(&request, &mut |_| false);
        let nothing_yet = at_once["answer"]["proposals"] == json!([]);
        assert!(nothing_yet || at_once["error"]["message"].as_str().is_some_and(|it| it.contains("stopped")));
    }
    // Other questions have no progress to report.
    let reply = answer_with_progress(&json!({"ask": "ingredients"}), &mut |_| false);
    assert!(reply["answer"].as_array().is_some_and(|list| list.len() > 100));
}

/// The butter of 8 lines with its pantry of 20, in some climate.
fn in_climate(random: &mut Random) -> Problem {
    let request = &questions::questions()[0].request;
    let list = |value: &Value| value.as_array().unwrap().clone();
    let line = |id: &Value, percent: f64| Line::of(substances::find(id.as_str().unwrap()).unwrap(), percent);
    let lines = list(&request["recipe"]);
    let recipe =
        Recipe::new(lines.iter().map(|it| line(&it["id"], it["percent"].as_f64().unwrap())).collect())
            .unwrap();
    let pantry = list(&request["limits"]["pantry"]).iter().map(|id| line(id, 0.0)).collect();
    let coldest_c = 5.0 + random.below(20) as f64;
    let wishes = Wishes {
        format: [Format::Whipped, Format::Pot, Format::Bar][random.below(3)],
        coldest_c,
        hottest_c: coldest_c + 6.0 + random.below(16) as f64,
        skin_c: 32.5,
        firmness: Some([Firmness::Soft, Firmness::Scoopable, Firmness::Firm][random.below(3)]),
        on_skin: Some([OnSkin::Melts, OnSkin::Lingers][random.below(2)]),
    };
    let scope = Scope {
        step: 0.5,
        changes: 3,
        caps: vec![(Group::Class(Class::Wax), 3.0), (Group::Class(Class::FattyAcid), 6.0)],
        ceilings: true,
        ..Scope::default()
    };
    Problem::new(&recipe, pantry, wishes, &scope).unwrap()
}

#[test]
fn a_first_good_recipe_comes_early() {
    let mut random = Random(0x0dd_ba11_5eed_0001);
    let mut shares = Vec::new();
    for case in 0..60 {
        let problem = in_climate(&mut random);
        let mut search = Search::new(&problem);
        let mut first = None;
        while !search.step(1).done {
            if first.is_none() && search.best().is_some_and(|best| best.merit.miss == 0) {
                first = Some(search.proof().equilibria);
            }
        }
        let proof = search.proof();
        let best = search.best().unwrap();
        if best.merit.miss == 0 && best.merit.lines > 0 {
            let first = first.unwrap_or(proof.equilibria);
            shares.push((first as f64 / proof.equilibria as f64, proof.equilibria, best.merit.lines, case));
        }
    }
    let (mut three, two): (Vec<_>, Vec<_>) = shares.into_iter().partition(|it| it.2 == 3);
    three.sort_by(|a, b| a.0.total_cmp(&b.0));
    println!("three lines: share of the work until a good recipe, the work, lines, case: {three:.3?}");
    // Issue 5 asks for a tenth: not met, pinned here.
    assert!(
        three.len() >= 8 && three[three.len() / 2].0 <= 0.25 && three[three.len() - 1].0 <= 0.5,
        "{three:?}"
    );
    // Where two lines will do, the whole proof is a few milliseconds.
    println!("two lines: {two:.3?}");
    assert!(two.len() >= 8 && two.iter().all(|it| it.1 <= 2_500), "{two:?}");
}
