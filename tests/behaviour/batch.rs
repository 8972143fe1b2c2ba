//! Weighing, jars, label and cost.

use serde_json::{Value, json};

use crate::ask::{answer, error, kinds, number, recipe, text};

const LINES: [(&str, f64); 4] =
    [("shea-butter", 58.5), ("coconut-oil", 15.5), ("sweet-almond-oil", 24.0), ("vitamin-e", 2.0)];

fn batch(more: &Value) -> Value {
    let mut request = json!({"ask": "batch", "recipe": recipe(&LINES)});
    for (key, value) in more.as_object().unwrap() {
        request[key] = value.clone();
    }
    answer(&request)
}

fn lines(answer: &Value) -> &Vec<Value> {
    answer["lines"].as_array().unwrap()
}

#[test]
fn what_is_weighed_sums_exactly() {
    for (grams, step) in [(500.0_f64, 0.1_f64), (333.3, 0.1), (77.0, 0.5), (1234.0, 1.0), (12.34, 0.01)] {
        let answer = batch(&json!({"batch_g": grams, "step": step}));
        let steps: f64 = lines(&answer).iter().map(|line| number(&line["steps"])).sum();
        assert_eq!(steps, (grams / step).round());
        for line in lines(&answer) {
            let exact = number(&line["percent"]) / 100.0 * steps;
            assert!((exact - number(&line["steps"])).abs() < 1.0, "{line}");
            assert!((number(&line["amount"]) / step - number(&line["steps"])).abs() < 1e-6);
        }
        assert!((number(&answer["total_g"]) - grams).abs() < 0.5 * step + 1e-9);
    }
}

#[test]
fn a_batch_twice_as_large_is_twice_as_much_of_everything() {
    let (one, two) = (batch(&json!({"batch_g": 400})), batch(&json!({"batch_g": 800})));
    for (a, b) in lines(&one).iter().zip(lines(&two)) {
        assert!((2.0 * number(&a["grams"]) - number(&b["grams"])).abs() <= 0.1 + 1e-9);
        assert_eq!(a["percent"], b["percent"]);
    }
    assert_eq!(one["jars"]["jar_g"], two["jars"]["jar_g"]);
    assert_eq!(one["label"], two["label"]);
}

#[test]
fn ounces_and_grams_say_the_same() {
    let answer = batch(&json!({"unit": "oz", "batch_g": 1000, "step": 0.05}));
    for line in lines(&answer) {
        // An avoirdupois ounce is 28.349523125 g by definition.
        assert!((number(&line["grams"]) / 28.349_523_125 - number(&line["amount"])).abs() < 1e-6);
        assert!((number(&line["ounces"]) - number(&line["amount"])).abs() < 1e-6);
    }
}

#[test]
fn weights_give_percentages_and_back() {
    let grams = [117.0, 31.0, 48.0, 4.0];
    let answer = batch(&json!({"weighed_g": grams}));
    let percents: Vec<f64> = lines(&answer).iter().map(|line| number(&line["percent"])).collect();
    assert_eq!(percents, vec![58.5, 15.5, 24.0, 2.0]);
    let back: Vec<f64> = lines(&answer).iter().map(|line| number(&line["amount"])).collect();
    assert_eq!(back, grams);
    let thirds = batch(&json!({"weighed_oz": [1, 1, 1, 0]}));
    let sum: f64 = lines(&thirds).iter().map(|line| number(&line["percent"])).sum();
    assert!((sum - 100.0).abs() < 1e-9);
    assert_eq!(thirds["unit"], "oz");
}

#[test]
fn jars_come_out_full() {
    for count in [1, 7, 24] {
        let answer = batch(&json!({"jars": count, "jar_ml": 60, "format": "whipped", "overrun_percent": 80}));
        assert_eq!(number(&answer["jars"]["full"]), f64::from(count));
    }
    let flat = batch(&json!({"format": "whipped", "overrun_percent": 0}));
    let whipped = batch(&json!({"format": "whipped", "overrun_percent": 100}));
    let ratio = number(&flat["jars"]["jar_g"]) / number(&whipped["jars"]["jar_g"]);
    assert!((ratio - 2.0).abs() < 1e-9, "100 % overrun doubles the volume: {ratio}");
    // Shea 0.90, coconut, almond 0.916, all poured: Codex and pharmacopoeia densities.
    let density = number(&batch(&json!({}))["jars"]["fill_g_per_ml"]);
    assert!((0.89..0.93).contains(&density), "{density}");
}

#[test]
fn the_label_descends_and_marks_allergens() {
    let answer = batch(&json!({}));
    let names = answer["label"]["names"].as_array().unwrap();
    assert!(names.windows(2).all(|pair| number(&pair[0]["percent"]) >= number(&pair[1]["percent"])));
    assert!(text(&answer["label"]["text"]).starts_with("Butyrospermum Parkii"));
    assert!(answer["label"]["allergens"].to_string().contains("tree-nut"));
    assert_eq!(kinds(&answer["label"]["notes"])[0], "rules-differ");
    // The same name twice is one entry.
    let twice = answer_of(&json!([
        {"id": "olive-oil", "percent": 30}, {"id": "shea-butter", "percent": 40}, {"id": "olive-oil", "percent": 30}
    ]));
    let names = twice["label"]["names"].as_array().unwrap();
    assert_eq!((names.len(), number(&names[0]["percent"])), (2, 60.0));
}

/// What a maker calls an ingredient is no name for a label.
#[test]
fn an_own_name_on_the_label_is_pointed_out() {
    let own = |more: Value| {
        let mut line = json!({"name": "market fat", "percent": 60});
        for (key, value) in more.as_object().unwrap() {
            line[key] = value.clone();
        }
        answer_of(&json!([line, {"id": "olive-oil", "percent": 40}]))["label"].clone()
    };
    let unnamed = own(json!({"composition": {"SOS": 50, "OOO": 50}}));
    let own_names = json!({"kind": "own-names", "ids": ["market fat"]});
    assert_eq!(unnamed["notes"].as_array().unwrap().last(), Some(&own_names));
    let like = own(json!({"like": "shea-butter"}));
    assert!(text(&like["text"]).starts_with("Butyrospermum Parkii"), "{like}");
    assert!(!kinds(&like["notes"]).contains(&"own-names"), "{like}");
}

fn answer_of(recipe: &Value) -> Value {
    answer(&json!({"ask": "batch", "recipe": recipe}))
}

#[test]
fn cost_is_what_the_weights_cost() {
    let answer = batch(&json!({"batch_g": 1000, "price_per_kg": {"shea-butter": 10, "coconut-oil": 4}}));
    assert!((number(&answer["cost"]["total"]) - (5.85 + 0.62)).abs() < 1e-9);
    assert_eq!(answer["cost"]["without_price"], json!(["sweet-almond-oil", "vitamin-e"]));
    assert_eq!(batch(&json!({}))["cost"], json!(null));
}

#[test]
fn nonsense_is_refused_with_the_place_and_the_fix() {
    for (more, kind, at) in [
        (json!({"batch_g": 0}), "out-of-range", "batch_g"),
        (json!({"batch_g": 500, "jars": 3}), "conflict", "batch_g"),
        (json!({"weighed_g": [1, 2, 3, 4], "batch_g": 500}), "conflict", "batch_g"),
        (json!({"weighed_oz": [1, 2, 3, 4], "jars": 2}), "conflict", "jars"),
        (json!({"batch_g": 1, "step": 500}), "out-of-range", "step"),
        (json!({"step": 0}), "out-of-range", "step"),
        (json!({"unit": "stone"}), "malformed", "unit"),
        (json!({"weighed_g": [1, 2]}), "conflict", "weighed_g"),
        (json!({"weighed_g": [0, 0, 0, 0]}), "empty", "weighed_g"),
        (json!({"weighed_g": [1, 2, -3, 4]}), "out-of-range", "weighed_g[2]"),
        (json!({"price_per_kg": {"gold": 1}}), "unknown-ingredient", "price_per_kg.gold"),
        (json!({"overrun_percent": 900}), "out-of-range", "overrun_percent"),
    ] {
        let mut request = json!({"ask": "batch", "recipe": recipe(&LINES)});
        for (key, value) in more.as_object().unwrap() {
            request[key] = value.clone();
        }
        let error = error(&request);
        assert_eq!((text(&error["kind"]), text(&error["at"])), (kind, at), "{error}");
    }
}
