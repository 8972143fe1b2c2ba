//! What learning from two slip points makes of the reworks of usual recipes. The makers are simulated: no
//! figure here was measured.

use serde_json::{Value, json};

use super::Random;
use super::ask::answer as ask;

/// A sum of a dozen, which is near enough to normal here.
fn normal(random: &mut Random) -> f64 {
    (0..12).map(|_| random.share()).sum::<f64>() - 6.0
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

/// What one reading of a kitchen thermometer errs by, and the thermometer itself, K, as standard deviations.
const READING_K: f64 = 1.0 / 1.645;

/// A maker whose lots are drawn by the published widths slips two pots, one planned after the other: what is
/// then known of each line's lot. The model errs by nothing here but the lots.
fn known_lots(question: &Value, random: &mut Random) -> Vec<Value> {
    let recipe = question["recipe"].as_array().unwrap();
    let lots: Vec<Value> = recipe.iter().map(|line| json!({"name": line["id"], "id": line["id"]})).collect();
    let of_recipe: Vec<Value> =
        recipe.iter().map(|line| json!({"lot": line["id"], "percent": line["percent"]})).collect();
    let first = ask(&json!({"ask": "learn", "lots": lots}));
    let truth: Vec<Value> = first["lots"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| {
            json!({
                "shift_k": number(&one["before"]["shift_left_k"]) * normal(random),
                "share_log": number(&one["before"]["share_left_log"]) * normal(random),
                "shift_left_k": 0.0, "share_left_log": 0.0, "together": 0.0,
            })
        })
        .collect();
    let bias_k = READING_K * normal(random);
    let mut observations: Vec<Value> = Vec::new();
    for _ in 0..2 {
        let plan = ask(&json!({
            "ask": "plan", "lots": lots, "observations": observations, "recipe": of_recipe, "format": question["format"],
            "water_bath": true, "most": 1,
        }));
        let pot = plan["pots"][0]["recipe"].as_array().unwrap();
        let lines: Vec<Value> = pot
            .iter()
            .map(|line| {
                let at = recipe.iter().position(|one| one["id"] == line["lot"]).unwrap();
                json!({"id": line["lot"], "percent": line["percent"], "lot": truth[at]})
            })
            .collect();
        let behaves = ask(&json!({
            "ask": "behave", "recipe": lines, "format": "pot", "storage_c": question["storage_c"], "skin_c": 32.5,
        }));
        let at_c = number(&behaves["slip_c"]) + bias_k + READING_K * normal(random) + 0.2 * normal(random);
        observations.push(json!({"recipe": pot, "seen": "slipped", "at_c": at_c}));
    }
    let learned = ask(&json!({"ask": "learn", "lots": lots, "observations": observations}));
    learned["lots"].as_array().unwrap().iter().map(|one| one["lot"].clone()).collect()
}

/// The effort of the first proposal that meets all, even and likely.
fn efforts(question: &Value) -> Option<[f64; 2]> {
    let mut found = [0.0; 2];
    for (effort, surety) in found.iter_mut().zip(["even", "likely"]) {
        let mut question = question.clone();
        question["limits"]["surety"] = surety.into();
        let answer = ask(&question);
        let first = &answer["proposals"][0];
        if first["meets_all"] != true {
            return None;
        }
        *effort = number(&first["effort"]);
    }
    Some(found)
}

#[test]
#[ignore = "takes minutes; its figure stands in src/surety/README.md"]
fn after_learning_surety_costs_less_change() {
    let mut random = Random::splitmix(20_261_201);
    let mut compared: Vec<[f64; 4]> = Vec::new();
    let mut asked = 0;
    for line in include_str!("usual/questions.jsonl").lines() {
        if compared.len() == 100 {
            break;
        }
        asked += 1;
        let question: Value = serde_json::from_str(line).unwrap();
        let Some([even, likely]) = efforts(&question) else { continue };
        let mut own = question.clone();
        let lots = known_lots(&question, &mut random);
        for (line, lot) in own["recipe"].as_array_mut().unwrap().iter_mut().zip(lots) {
            line["lot"] = lot;
        }
        let Some([even_own, likely_own]) = efforts(&own) else { continue };
        compared.push([even, likely, even_own, likely_own]);
    }
    let count = compared.len() as f64;
    let mean = |figure: &dyn Fn(&[f64; 4]) -> f64| compared.iter().map(figure).sum::<f64>() / count;
    let [before, after] = [mean(&|it| it[1]), mean(&|it| it[3])];
    let [surety_before, surety_after] = [mean(&|it| it[1] - it[0]), mean(&|it| it[3] - it[2])];
    let smaller = compared.iter().filter(|it| it[3] < it[1] - 0.05).count();
    let larger = compared.iter().filter(|it| it[3] > it[1] + 0.05).count();
    println!(
        "{count} of {asked} with an answer before and after: effort of a likely rework {before:.2} before, {after:.2} after; \
         what likely costs more than even {surety_before:.2} before, {surety_after:.2} after; smaller in {smaller}, larger in {larger}"
    );
    assert_eq!(compared.len(), 100);
    assert!(surety_after < 0.75 * surety_before, "{surety_before} {surety_after}");
}
