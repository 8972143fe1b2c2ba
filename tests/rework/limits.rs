//! Limits in the way: each that is told is asked again without it, and each that is not told would have
//! brought nothing.

use meltmargin::contract::answer;
use serde_json::{Value, json};

/// The rungs of holding, as the README of `src/rework/` has them.
const ODDS: [f64; 4] = [0.9, 0.75, 0.5, 0.25];

/// How many rungs a proposal is short of 3 in 4, as far as odds at the hottest tell, and how many wishes it
/// misses.
fn standing(proposal: &Value) -> (usize, usize) {
    let holds = proposal["odds"]["holds"].as_f64().unwrap();
    let rung = ODDS[1..].iter().position(|odds| holds >= *odds).unwrap_or(ODDS.len());
    (rung, proposal["misses"].as_array().unwrap().len())
}

/// The limits of a question with one of them lifted; nothing where it stands in no one's way.
fn without(limits: &Value, format: &str, limit: &str, key: Option<&str>) -> Option<Value> {
    let mut limits = limits.clone();
    match limit {
        "wax" => {
            limits["wax_percent"] = json!(if format == "stick" {
                35
            } else if format == "bar" {
                25
            } else {
                12
            })
        }
        "changes" => limits["changes"] = json!(3),
        "keep-lead" => limits["keep_lead"] = json!(false),
        "step" => limits["step_percent"] = json!(0.5),
        "locked" => limits["locked"].as_array_mut()?.retain(|it| it.as_str() != key),
        "bounds" => {
            limits["bounds"].as_object_mut()?.remove(key?)?;
        }
        _ => return None,
    }
    Some(limits)
}

fn check(question: &Value) -> Vec<String> {
    let mut asked = question.clone();
    asked["why_not"] = json!(true);
    let reply = answer(&asked)["answer"].clone();
    let (first, told) =
        (&reply["proposals"][0], reply["limits_in_the_way"].as_array().cloned().unwrap_or_default());
    if first["meets_all"] == true {
        assert!(told.is_empty(), "{question}");
        return Vec::new();
    }
    let format = question["format"].as_str().unwrap();
    let mut named = Vec::new();
    for it in &told {
        let limit = it["limit"].as_str().unwrap();
        named.push(limit.to_owned());
        let further = &it["proposal"];
        assert!(standing(further) <= standing(first), "{question}: {it}");
        // Below a quarter the rungs are degrees, which odds at the hottest do not show.
        assert!(standing(further) < standing(first) || standing(first).0 == ODDS.len(), "{question}: {it}");
        if let Some(limits) = without(&question["limits"], format, limit, it["key"].as_str()) {
            let mut lifted = question.clone();
            lifted["limits"] = limits;
            assert_eq!(answer(&lifted)["answer"]["proposals"][0], *further, "{question}: {limit}");
        }
    }
    for limit in ["wax", "changes", "keep-lead", "step"] {
        if named.iter().any(|it| it == limit) || standing(first).0 == ODDS.len() {
            continue;
        }
        let mut lifted = question.clone();
        lifted["limits"] = without(&question["limits"], format, limit, None).unwrap();
        let found = answer(&lifted)["answer"]["proposals"][0].clone();
        assert!(standing(&found) >= standing(first), "{question}: {limit} would bring {found}");
    }
    named
}

#[test]
fn what_lifting_a_limit_brings_is_what_is_found_without_it() {
    let questions = include_str!("usual/questions.jsonl").lines().take(90);
    let mut named: Vec<String> =
        questions.flat_map(|line| check(&serde_json::from_str(line).unwrap())).collect();
    named.sort_unstable();
    named.dedup();
    assert_eq!(named, ["changes", "keep-lead", "pantry", "step", "wax"]);
}

#[test]
fn the_limit_that_a_maker_set_is_named() {
    let question = |limits: Value| {
        json!({
            "ask": "rework", "format": "pot", "storage_c": {"coldest": 18, "hottest": 31}, "firmness": "scoopable",
            "recipe": [{"id": "shea-butter", "percent": 40}, {"id": "olive-oil", "percent": 60}], "limits": limits,
        })
    };
    let usual = json!(["kokum-butter", "beeswax", "stearic-acid"]);
    let told = |limits: Value| {
        let mut asked = question(limits);
        asked["why_not"] = json!(true);
        answer(&asked)["answer"]["limits_in_the_way"].as_array().cloned().unwrap_or_default()
    };
    let names = |told: &[Value]| -> Vec<(String, Option<String>)> {
        told.iter()
            .map(|it| (it["limit"].as_str().unwrap().to_owned(), it["key"].as_str().map(str::to_owned)))
            .collect()
    };
    assert_eq!(told(json!({"pantry": usual})), Vec::<Value>::new());
    // The oil may not leave: then nothing takes its place.
    let locked =
        told(json!({"pantry": usual, "locked": ["olive-oil"], "wax_percent": 0, "fatty_acid_percent": 0}));
    assert!(
        names(&locked).contains(&("locked".to_owned(), Some("olive-oil".to_owned()))),
        "{:?}",
        names(&locked)
    );
    let bounds = told(json!({
        "pantry": usual, "wax_percent": 0, "fatty_acid_percent": 0, "bounds": {"olive-oil": {"min": 58, "max": 100}},
    }));
    assert!(
        names(&bounds).contains(&("bounds".to_owned(), Some("olive-oil".to_owned()))),
        "{:?}",
        names(&bounds)
    );
    // Two oils with an empty pantry: what most kitchens have is offered, but not what is refused.
    let oils = |limits: Value| {
        let recipe = json!([{"id": "coconut-oil", "percent": 70}, {"id": "olive-oil", "percent": 30}]);
        answer(&json!({
            "ask": "rework", "format": "pot", "storage_c": {"coldest": 18, "hottest": 31}, "recipe": recipe,
            "why_not": true, "limits": limits,
        }))["answer"]["limits_in_the_way"]
            .as_array()
            .cloned()
            .unwrap_or_default()
    };
    let empty = oils(json!({"pantry": []}));
    assert!(names(&empty).contains(&("pantry".to_owned(), None)), "{:?}", names(&empty));
    for it in &oils(json!({"pantry": [], "refuse": ["bee", "tree-nut"]})) {
        let recipe = it["proposal"]["recipe"].as_array().unwrap();
        assert!(recipe.iter().all(|line| line["id"] != "beeswax" && line["id"] != "shea-butter"), "{it}");
    }
    // A cap is told as no more than what is needed of it.
    let wax = told(json!({"pantry": ["beeswax"], "wax_percent": 0, "locked": ["olive-oil"]}));
    let cap = wax.iter().find(|it| it["limit"] == "wax").unwrap();
    let items = cap["proposal"]["recipe"].as_array().unwrap();
    let held = items.iter().find(|it| it["id"] == "beeswax").unwrap();
    assert_eq!(cap["to"], held["percent"]);
}

#[test]
fn what_stands_in_the_way_is_looked_for_within_the_work_allowed() {
    let mut asked = json!({
        "ask": "rework", "format": "pot", "storage_c": {"coldest": 18, "hottest": 31}, "firmness": "scoopable", "why_not": true,
        "recipe": [{"id": "shea-butter", "percent": 40}, {"id": "olive-oil", "percent": 60}],
        "limits": {"pantry": ["kokum-butter", "beeswax"], "wax_percent": 0, "locked": ["olive-oil"]},
    });
    let whole = answer(&asked)["answer"].clone();
    assert_eq!(whole["complete"], true);
    assert!(whole["limits_in_the_way"].as_array().is_some_and(|it| it.len() > 1), "{whole}");
    // Enough for the rework, and for little more.
    let work = (whole["proof"]["equilibria"].as_u64().unwrap() + 10).max(1_000);
    asked["limits"]["work"] = json!(work);
    let cut = answer(&asked)["answer"].clone();
    assert_eq!((&cut["complete"], &cut["proposals"]), (&json!(false), &whole["proposals"]), "{work}");
}

/// The kinds of what is said of the first proposal.
fn kinds(reply: &Value) -> Vec<&str> {
    let findings = reply["answer"]["proposals"][0]["findings"].as_array().unwrap();
    findings.iter().map(|it| it["kind"].as_str().unwrap()).collect()
}

#[test]
fn a_proposal_that_misses_nothing_but_holds_less_surely_says_so() {
    let reply = answer(&json!({
        "ask": "rework", "format": "pot", "storage_c": {"coldest": 24, "hottest": 34}, "skin_c": 33, "firmness": "scoopable",
        "on_skin": "melts", "limits": {"pantry": ["stearic-acid", "cetyl-alcohol"]},
        "recipe": [{"id": "shea-butter", "percent": 60}, {"id": "sunflower-oil", "percent": 40}],
    }));
    let first = &reply["answer"]["proposals"][0];
    assert_eq!((&first["meets_all"], &first["misses"]), (&json!(false), &json!([])), "{first}");
    assert!(first["odds"]["holds"].as_f64().unwrap() < 0.75, "{first}");
    assert!(kinds(&reply).contains(&"holds-less-surely") && !kinds(&reply).contains(&"nearest"), "{first}");
}

#[test]
fn what_leaves_since_it_is_refused_is_named() {
    let reply = answer(&json!({
        "ask": "rework", "format": "whipped", "storage_c": {"coldest": 18, "hottest": 30}, "firmness": "scoopable",
        "limits": {"pantry": ["kokum-butter", "mango-butter"], "refuse": ["tree-nut"]},
        "recipe": [
            {"id": "shea-butter", "percent": 60}, {"id": "sweet-almond-oil", "percent": 10}, {"id": "sunflower-oil", "percent": 30},
        ],
    }));
    let findings = &reply["answer"]["proposals"][0]["findings"];
    let refused: Vec<&Value> =
        findings.as_array().unwrap().iter().filter(|it| it["kind"] == "leave-as-refused").collect();
    assert_eq!(
        refused,
        [&json!({"kind": "leave-as-refused", "ids": ["shea-butter", "sweet-almond-oil"]})],
        "{findings}"
    );
}
