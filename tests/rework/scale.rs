//! What a step of the scale is off, beside how lots differ.

use serde_json::{Value, json};

use crate::{
    Random,
    ask::{answer, reply},
};

/// The batch that is weighed, g, and the step of its scale, g: a small one, and a coarse kitchen scale.
const BATCH_G: f64 = 200.0;
const STEP_G: f64 = 1.0;

/// How often each recipe is weighed.
const WEIGHED: usize = 24;

/// A step of the scale is no unknown of the lots, since it decides nothing: averaged over batches that are
/// each weighed to the nearest gram, in which every line is off by up to a quarter of a percent of a batch of
/// 200 g, the odds of holding are those of the recipe as written.
#[test]
fn what_the_scale_is_off_moves_no_odds() {
    let mut random = Random::xorshift(0x5ca1_e0ff_2026_1201);
    let (mut worst, mut sum, mut count) = (0.0_f64, 0.0, 0.0);
    for line in include_str!("usual/questions.jsonl").lines().step_by(5) {
        let question: Value = serde_json::from_str(line).unwrap();
        let first = reply(&question)["answer"]["proposals"][0].clone();
        let holds = |recipe: &Value| {
            let mut behave = question.clone();
            behave["ask"] = json!("behave");
            behave["recipe"] = recipe.clone();
            behave
                .as_object_mut()
                .unwrap()
                .retain(|field, _| !["limits", "proposals", "aim"].contains(&field.as_str()));
            answer(&behave)["odds"]["holds"].as_f64().unwrap()
        };
        let written = holds(&first["recipe"]);
        let mut mean = 0.0;
        for _ in 0..WEIGHED {
            let mut weighed = first["recipe"].clone();
            let lines = weighed.as_array_mut().unwrap();
            let amounts: Vec<f64> = lines
                .iter()
                .map(|it| {
                    let off_g = STEP_G * (random.below(1001) as f64 / 1000.0 - 0.5);
                    (it["percent"].as_f64().unwrap() * BATCH_G / 100.0 + off_g).max(0.0)
                })
                .collect();
            let all: f64 = amounts.iter().sum();
            for (it, grams) in lines.iter_mut().zip(&amounts) {
                it["percent"] = json!(100.0 * grams / all);
            }
            mean += holds(&weighed) / WEIGHED as f64;
        }
        worst = worst.max((mean - written).abs());
        sum += (mean - written).abs();
        count += 1.0;
    }
    println!("of {count} recipes odds move by {:.4} in the mean, {worst:.4} at most", sum / count);
    assert!(worst < 0.02 && sum / count < 0.005, "{worst} {}", sum / count);
}
