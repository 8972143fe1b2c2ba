//! Forty questions as a maker would ask them (`worked.jsonl`), our own invention, each answer judged
//! plausible against common practice, no source. What is expected is what a maker would expect, not digits.

use crate::{OF_WISHES, ask::reply};
use serde::Deserialize;
use serde_json::Value;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Worked {
    case: String,
    judged: String,
    request: Value,
    expect: Expect,
}

/// What the first answer should be like.
#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields, default)]
struct Expect {
    meets: bool,
    unchanged: bool,
    most_lines: Option<usize>,
    most_grams: Option<f64>,
    gains_one_of: Vec<String>,
    loses_one_of: Vec<String>,
    gone: Vec<String>,
    kept: Vec<String>,
    first: Option<String>,
    why_not: Vec<String>,
    differ: Option<usize>,
}

fn percent(recipe: &Value, id: &str) -> f64 {
    let items = recipe.as_array().unwrap();
    items.iter().filter(|item| item["id"] == id).map(|item| item["percent"].as_f64().unwrap()).sum()
}

fn ids(recipe: &Value) -> Vec<String> {
    recipe.as_array().unwrap().iter().map(|item| item["id"].as_str().unwrap().to_owned()).collect()
}

/// What is said of a proposal.
fn kinds(proposal: &Value) -> Vec<&str> {
    let findings = proposal["findings"].as_array().unwrap().iter();
    findings.map(|finding| finding["kind"].as_str().unwrap()).collect()
}

/// What must hold of any proposal, whatever was asked.
fn sound(case: &str, request: &Value, proposal: &Value) {
    let recipe = &proposal["recipe"];
    let sum: f64 = recipe.as_array().unwrap().iter().map(|item| item["percent"].as_f64().unwrap()).sum();
    assert!((sum - 100.0).abs() < 1e-6, "{case}: {sum}");
    assert_eq!(
        proposal["meets_all"].as_bool().unwrap(),
        proposal["misses"].as_array().unwrap().is_empty(),
        "{case}"
    );
    let told = kinds(proposal);
    assert!(!told.is_empty(), "{case}");
    if request["ask"] == "seasons" {
        return;
    }
    // The verdict on the same recipe agrees.
    let mut behave = request.clone();
    behave["ask"] = "behave".into();
    behave["recipe"] = recipe.clone();
    let asked_of_behave = ["ask", "recipe", "format", "storage_c", "skin_c", "firmness", "on_skin"];
    behave.as_object_mut().unwrap().retain(|field, _| asked_of_behave.contains(&field.as_str()));
    let reply = reply(&behave);
    let wishes = |misses: &Value| -> Vec<Value> {
        misses.as_array().unwrap().iter().map(|miss| miss["wish"].clone()).collect()
    };
    if request["aim"] == "as-now" {
        // What differs from how it is now is told, and nothing of wishes.
        let misses = proposal["misses"].as_array().unwrap();
        assert!(misses.iter().all(|miss| miss["kind"].as_str().unwrap().ends_with("-than-now")), "{case}");
        assert!(!told.iter().any(|kind| OF_WISHES.contains(kind)), "{case}: {told:?}");
        return;
    }
    assert_eq!(wishes(&reply["answer"]["misses"]), wishes(&proposal["misses"]), "{case}");
}

/// What shows of a proposal and is better the less it is: misses, lines, shift, newcomers, hardness in the
/// cold, what stays on skin, and what is lost at the hottest.
fn shows(proposal: &Value) -> [f64; 7] {
    let list = |key: &str| proposal[key].as_array().unwrap();
    let miss = |miss: &Value| {
        let found = miss["found_percent"].as_f64().unwrap();
        let short = miss["low_percent"].as_f64().map_or(0.0, |low| low - found);
        short.max(miss["high_percent"].as_f64().map_or(0.0, |high| found - high))
    };
    let solids = |place: &str| proposal["solid_percent"][place].as_f64().unwrap();
    [
        list("misses").iter().map(miss).sum(),
        list("changes").len() as f64,
        proposal["shift_percent"].as_f64().unwrap(),
        list("changes").iter().filter(|change| change["from_percent"] == 0.0).count() as f64,
        solids("coldest"),
        solids("skin"),
        -solids("hottest"),
    ]
}

/// Proposals differ in what carries them, none is at least as good as another in all that shows, and each
/// says what it does, why, and at what cost.
fn distinct(case: &str, proposals: &[Value]) {
    for (at, proposal) in proposals.iter().enumerate() {
        let others = proposals.iter().enumerate().filter(|(other, _)| *other != at);
        for (_, other) in others {
            let beaten = shows(other).iter().zip(shows(proposal)).all(|(a, b)| *a <= b);
            assert!(!beaten, "{case}: {other} beats {proposal}");
            assert_ne!(other["recipe"], proposal["recipe"], "{case}");
        }
        let told = kinds(proposal);
        if proposal["changes"].as_array().unwrap().is_empty() {
            assert!(
                matches!(told[..], ["good-as-it-is" | "nothing-nearer" | "stays-as-now"]),
                "{case}: {told:?}"
            );
            continue;
        }
        assert_eq!(told[0], "moves", "{case}: {told:?}");
        let on_skin = ["more-on-skin", "less-on-skin", "as-much-on-skin", "on-skin"];
        for one_of in [
            &["firmer", "softer", "as-firm", "more-on-skin", "less-on-skin", "as-much-on-skin"][..],
            &["cold-stays", "cold-changes"],
            &on_skin,
        ] {
            assert_eq!(told.iter().filter(|kind| one_of.contains(kind)).count(), 1, "{case}: {told:?}");
        }
        let nearest = told.iter().any(|kind| ["nearest", "nearest-to-now"].contains(kind));
        assert_eq!(nearest, proposal["meets_all"] == false, "{case}: {told:?}");
    }
}

fn check(worked: &Worked) {
    let Worked { case, request, expect, .. } = worked;
    let reply = reply(request);
    let answer = &reply["answer"];
    assert!(answer.is_object(), "{case}: {reply}");
    let seasons = [answer["summer"].clone(), answer["winter"].clone()];
    let proposals: &[Value] = answer["proposals"].as_array().map_or(&seasons, Vec::as_slice);
    for proposal in proposals {
        sound(case, request, proposal);
    }
    if request["ask"] == "rework" {
        distinct(case, proposals);
    }
    let first = &proposals[0];
    let (before, after) = (&request["recipe"], &first["recipe"]);
    assert_eq!(first["meets_all"], expect.meets, "{case}: {first}");
    let empty = |key: &str| first[key].as_array().is_none_or(Vec::is_empty);
    assert_eq!(empty("changes") && empty("add"), expect.unchanged, "{case}: {first}");
    let gains = |id: &String| percent(after, id) > percent(before, id) + 1e-6;
    let loses = |id: &String| percent(after, id) < percent(before, id) - 1e-6;
    assert!(expect.gains_one_of.is_empty() || expect.gains_one_of.iter().any(gains), "{case}: {first}");
    assert!(expect.loses_one_of.is_empty() || expect.loses_one_of.iter().any(loses), "{case}: {first}");
    for proposal in proposals {
        assert!(expect.gone.iter().all(|id| !ids(&proposal["recipe"]).contains(id)), "{case}: {proposal}");
        let same = |id: &String| percent(&proposal["recipe"], id) == percent(before, id);
        assert!(expect.kept.iter().all(same), "{case}: {proposal}");
        if let Some(lead) = &expect.first {
            let most = percent(&proposal["recipe"], lead);
            assert!(
                ids(&proposal["recipe"]).iter().all(|id| percent(&proposal["recipe"], id) <= most),
                "{case}"
            );
        }
    }
    if let Some(most) = expect.most_lines {
        assert!(first["changes"].as_array().unwrap().len() <= most, "{case}: {first}");
    }
    if let Some(most) = expect.most_grams {
        let grams: f64 =
            first["add"].as_array().unwrap().iter().map(|it| it["grams"].as_f64().unwrap()).sum();
        assert!(grams > 0.0 && grams <= most, "{case}: {first}");
    }
    let told: Vec<&str> =
        answer["why_not"].as_array().into_iter().flatten().map(|it| it["wish"].as_str().unwrap()).collect();
    assert!(expect.why_not.iter().all(|wish| told.contains(&wish.as_str())), "{case}: {told:?}");
    if let Some(differ) = expect.differ {
        assert_eq!(answer["differ"].as_array().unwrap().len(), differ, "{case}: {answer}");
    }
}

#[test]
fn forty_questions_of_makers_have_plausible_answers() {
    let cases: Vec<Worked> =
        include_str!("worked.jsonl").lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    assert_eq!(cases.len(), 40);
    for worked in &cases {
        assert!(worked.judged.ends_with("(common practice, no source)"), "{}", worked.case);
        check(worked);
    }
}
