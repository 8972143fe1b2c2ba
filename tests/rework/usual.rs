//! The 300 usual questions (`usual/`): what is told of a first proposal holds, nothing comes in that is not
//! worth weighing, and how much moves.

use std::collections::BTreeMap;

use serde_json::Value;

use crate::ask::reply;

fn answers() -> Vec<(Value, Value)> {
    let questions = include_str!("usual/questions.jsonl").lines();
    questions
        .map(|line| {
            let request: Value = serde_json::from_str(line).unwrap();
            let reply = reply(&request);
            (request, reply["answer"].clone())
        })
        .collect()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

#[test]
fn usual_questions_get_answers_with_room() {
    let before = include_str!("usual/answers-3214e57.jsonl").lines();
    let before: Vec<Value> = before.map(|line| serde_json::from_str(line).unwrap()).collect();
    let (mut meet, mut large, mut large_before, mut large_that_meet) = (0, 0, 0, 0);
    let strong = ["beeswax", "candelilla-wax", "stearic-acid", "cetyl-alcohol"];
    for ((question, answer), before) in answers().iter().zip(&before) {
        assert_eq!(answer["complete"], true, "{question}");
        let proposals = answer["proposals"].as_array().unwrap();
        let first = &proposals[0];
        if first["meets_all"] == true {
            meet += 1;
            assert!(
                number(&first["odds"]["holds"]) >= 0.75 && first["misses"] == serde_json::json!([]),
                "{first}"
            );
        }
        for change in proposals.iter().flat_map(|it| it["changes"].as_array().unwrap()) {
            let [from, to] = ["from_percent", "to_percent"].map(|end| number(&change[end]));
            let is_strong = strong.contains(&change["id"].as_str().unwrap());
            let least = if is_strong {
                0.5
            } else if from == 0.0 {
                2.0
            } else {
                1.0
            };
            assert!((to - from).abs() >= least - 1e-9 || to == 0.0, "{question}: {change}");
            let left = if is_strong { 0.5 } else { 2.0 };
            assert!(to == 0.0 || to > from || to >= left - 1e-9, "{question}: {change}");
        }
        // The best of the rung costs least: of as many lines on the same rung nothing with half the effort is
        // offered.
        let effort = |it: &Value| number(&it["effort"]);
        assert!(proposals.iter().all(|it| effort(it) >= effort(first)), "{question}");
        let is_large = number(&first["shift_percent"]) > 20.0;
        large += usize::from(is_large);
        large_that_meet += usize::from(is_large && first["meets_all"] == true);
        large_before += usize::from(number(&before["answer"]["proposals"][0]["shift_percent"]) > 20.0);
    }
    println!("{meet} of 300 meet all; {large} move more than a fifth, {large_before} at 3214e57");
    assert_eq!((meet, large, large_that_meet, large_before), (MEET, LARGE, LARGE_THAT_MEET, 143));
}

/// How many first proposals meet all that is asked.
const MEET: usize = 166;

/// How many move more than a fifth of the recipe. A quarter of what it was, 36, is wanted.
const LARGE: usize = 87;

/// How many of those do all that is asked, each with the fewest lines and of these with the least effort,
/// which is proven. So while meeting every wish comes before effort, no search can get below this: most are
/// asked for another butter than they are, a firm one of three fifths of oil, or a soft one that stands 33
/// °C.
const LARGE_THAT_MEET: usize = 46;

/// What each rung costs goes up with it, and the rung that a rework is asked for is on the ladder.
#[test]
fn a_ladder_goes_up() {
    let (mut rungs_told, mut compared): (BTreeMap<usize, usize>, usize) = Default::default();
    for line in include_str!("usual/questions.jsonl").lines().step_by(10) {
        let mut request: Value = serde_json::from_str(line).unwrap();
        request["ask"] = "ladder".into();
        let ladder = reply(&request);
        let rungs = ladder["answer"]["rungs"].as_array().unwrap_or_else(|| panic!("{ladder}"));
        *rungs_told.entry(rungs.len()).or_default() += 1;
        assert_eq!(rungs[0]["proposal"]["changes"], serde_json::json!([]), "{ladder}");
        for pair in rungs.windows(2) {
            assert!(number(&pair[0]["odds_at_least"]) < number(&pair[1]["odds_at_least"]), "{ladder}");
        }
        for rung in rungs {
            let odds = number(&rung["proposal"]["odds"]["holds"]);
            assert!(odds >= number(&rung["odds_at_least"]), "{rung}");
        }
        request["ask"] = "rework".into();
        let rework = reply(&request);
        let first = &rework["answer"]["proposals"][0];
        let same = |rung: &Value| rung["proposal"]["recipe"] == first["recipe"];
        // Where the recipe is on the rung already, a rework is after its feel.
        let below = number(&rungs[0]["odds_at_least"]) < 0.75;
        let climbs = below && rungs.iter().any(|rung| number(&rung["odds_at_least"]) == 0.75);
        compared += usize::from(climbs);
        assert!(!climbs || rungs.iter().any(same), "{ladder}\n{first}");
    }
    println!("rungs told: {rungs_told:?}");
    assert!(rungs_told.len() >= 3 && compared >= 5, "{rungs_told:?}, {compared} compared");
}
