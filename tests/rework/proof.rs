//! The work of a proof, counted: what does not depend on the machine.

use meltmargin::contract::answer_with_progress;
use serde_json::{Value, json};

use crate::ask::answer;
use crate::questions::{self, Question};

/// The most equilibria that each of the large questions may take, bounds included; a walk over the grid takes
/// one for each recipe and temperature, up to 12 million.
const MOST_EQUILIBRIA: [u64; 6] = [2_600, 5_000, 3_700, 9_700, 19_200, 49_200];

#[test]
fn a_proof_takes_few_equilibria_and_accounts_for_every_recipe() {
    for (question, most) in questions::questions().iter().zip(MOST_EQUILIBRIA) {
        let Question { name, request, lines, meets_all } = question;
        let answer = answer(request);
        let first = &answer["proposals"][0];
        assert_eq!(first["meets_all"], *meets_all, "{name}: {first}");
        assert_eq!(first["changes"].as_array().unwrap().len(), *lines, "{name}: {first}");
        let count = |key: &str| answer["proof"][key].as_u64().unwrap();
        println!("{name}: {} examined, {}", answer["examined"], answer["proof"]);
        let decided = count("excluded_by_bound") + count("excluded_by_merit") + count("solved");
        assert_eq!(decided, answer["examined"].as_u64().unwrap(), "{name}");
        assert!(count("equilibria") <= most, "{name}: {}", count("equilibria"));
        assert_eq!(answer["complete"], true);
    }
}

/// Where recipes are all but alike in what they miss, the least change is proven without looking at each: an
/// oil that is to be a pot in a hot place, from a pantry of oils. So it is for what each wish costs, and for
/// what to melt into a batch, however large.
#[test]
fn where_nothing_helps_little_is_looked_at() {
    let oils = json!({"pantry": ["olive-oil", "grapeseed-oil", "jojoba-oil", "castor-oil", "squalane"]});
    let question = json!({
        "recipe": [{"id": "sunflower-oil", "percent": 60}, {"id": "sweet-almond-oil", "percent": 40}],
        "format": "pot", "storage_c": {"coldest": 20, "hottest": 45}, "firmness": "soft", "limits": oils,
    });
    let ask = |ask: &str, more: &Value| {
        let mut request = question.clone();
        request["ask"] = json!(ask);
        request.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        let mut reports = 0;
        let reply = answer_with_progress(&request, &mut |_| {
            reports += 1;
            true
        });
        (reply["answer"].clone(), reports)
    };
    let (plain, _) = ask("rework", &json!({}));
    let (asked_why, reports) = ask("rework", &json!({"why_not": true}));
    let (batch, _) = ask("rescue", &json!({"made": {"grams": 20_000}}));
    for (answer, most) in [(&plain, 1_250), (&asked_why, 1_250), (&batch, 1_250)] {
        println!("{}", answer["proof"]);
        assert!(answer["proof"]["equilibria"].as_u64().unwrap() <= most, "{}", answer["proof"]);
        // What changes nothing for the better is not offered.
        let proposals = answer["proposals"].as_array().unwrap();
        assert_eq!((proposals.len(), proposals[0]["meets_all"] == true), (1, false), "{proposals:?}");
        assert!(
            proposals[0]["findings"][0]["kind"].as_str().unwrap().starts_with("nothing-"),
            "{proposals:?}"
        );
    }
    // Each wish alone, and two together, took a million equilibria. How much heat can be had takes some seven
    // short searches, and as many again without the wish for firmness; each reports once.
    assert!(asked_why["why_not"].as_array().is_some_and(|it| !it.is_empty()) && reports < 60, "{reports}");
}

#[test]
fn reports_bring_the_first_good_recipe_before_the_best_is_proven() {
    let Question { name, request, .. } = &questions::questions()[0];
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
    assert!(first.is_some_and(|first| 10 * first <= reports), "{name}: at report {first:?} of {reports}");
}

#[test]
fn a_search_that_is_stopped_keeps_the_first_good_recipe() {
    let Question { request, .. } = &questions::questions()[3];
    let reply = answer_with_progress(request, &mut |progress: &Value| progress["best"]["meets_all"] != true);
    let answer = &reply["answer"];
    assert_eq!(answer["complete"], false);
    let first = &answer["proposals"][0];
    assert_eq!(first["meets_all"], true, "{first}");
    // The same recipe, asked of `behave`, meets every wish too.
    let mut behave = request.clone();
    behave["ask"] = json!("behave");
    behave["recipe"] = first["recipe"].clone();
    behave.as_object_mut().unwrap().remove("limits");
    let behaviour = answer_with_progress(&behave, &mut |_| true);
    assert_eq!(behaviour["answer"]["misses"], json!([]), "{behaviour}");
}

#[test]
fn a_search_that_is_stopped_says_so() {
    let mut taken_up = 0;
    let reply = answer_with_progress(&questions::questions()[2].request, &mut |report| {
        taken_up = report["total"].as_u64().unwrap();
        false
    });
    assert_eq!(reply["answer"]["complete"], false);
    // It claims no more than it decided.
    let examined = reply["answer"]["examined"].as_u64().unwrap();
    let proof = &reply["answer"]["proof"];
    let parts =
        ["excluded_by_bound", "excluded_by_merit", "solved"].map(|part| proof[part].as_u64().unwrap());
    assert_eq!(examined, parts.iter().sum::<u64>());
    assert!(0 < examined && examined < taken_up, "{examined} of {taken_up}");
    // So do a rescue on a fine scale where nothing meets every wish, and two seasons of a butter of many
    // lines.
    let mut rescue = questions::questions()[2].request.clone();
    rescue["ask"] = json!("rescue");
    rescue["made"] = json!({"grams": 1000, "step_grams": 0.1});
    let mut seasons = questions::questions()[0].request.clone();
    seasons["ask"] = json!("seasons");
    seasons.as_object_mut().unwrap().retain(|field, _| ["ask", "recipe", "limits"].contains(&field.as_str()));
    seasons["summer"] =
        json!({"format": "pot", "storage_c": {"coldest": 20, "hottest": 32}, "firmness": "scoopable"});
    seasons["winter"] =
        json!({"format": "pot", "storage_c": {"coldest": 6, "hottest": 16}, "firmness": "scoopable"});
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
        let a_pair = at_once["answer"]["summer"].is_object() && at_once["answer"]["complete"] == false;
        assert!(
            nothing_yet
                || a_pair
                || at_once["error"]["message"].as_str().is_some_and(|it| it.contains("stopped")),
            "{at_once}"
        );
    }
    // What comes after the proof is reported on and can be stopped too: the recipes stand, their completion
    // does not.
    let mut why_not = questions::questions()[2].request.clone();
    why_not["why_not"] = json!(true);
    {
        let (request, last) = (why_not, "why_not");
        let mut decided = Vec::new();
        let whole = answer_with_progress(&request, &mut |report| {
            decided.push(report["decided"].as_u64().unwrap());
            assert!(decided.last() <= report["total"].as_u64().as_ref(), "{report}");
            true
        });
        let examined = whole["answer"]["examined"].as_u64().unwrap();
        assert!(decided.is_sorted() && decided.last() > Some(&examined), "{decided:?} of {examined}");
        assert!(!whole["answer"][last].is_null(), "{whole}");
        let mut left = decided.len() - 1;
        let stopped = answer_with_progress(&request, &mut |_| {
            left -= 1;
            left > 0
        });
        assert_eq!(stopped["answer"]["complete"], false, "{stopped}");
        assert_eq!(stopped["answer"]["proposals"], whole["answer"]["proposals"]);
    }
    // Other questions have no progress to report.
    let reply = answer_with_progress(&json!({"ask": "ingredients"}), &mut |_| false);
    assert!(reply["answer"].as_array().is_some_and(|list| list.len() > 100));
}
