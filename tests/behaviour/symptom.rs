//! From what went wrong to a rework.

use serde_json::{Value, json};

use crate::ask::{answer, error, kinds, number, recipe, signs};

const SHEA: [(&str, f64); 2] = [("shea-butter", 75.0), ("sunflower-oil", 25.0)];

fn ask(what: &Value, hottest: f64) -> Value {
    let mut request = json!({
        "ask": "symptom", "recipe": recipe(&SHEA), "format": "pot", "storage_c": {"coldest": 15, "hottest": hottest},
    });
    for (key, value) in what.as_object().unwrap() {
        request[key] = value.clone();
    }
    request
}

#[test]
fn words_lead_to_a_sign_a_cause_and_a_rework() {
    let told = answer(&ask(&json!({"words": "It went grainy after a hot week!"}), 24.0));
    assert_eq!(told["sign"], "grainy");
    assert_eq!(kinds(&told["causes"]), ["regrows"]);
    assert!(!told["remedies"].as_array().unwrap().is_empty());
    let storage = &told["rework_storage_c"];
    assert!(number(&storage["hottest"]) > 24.0, "a rework must hold where it failed: {storage}");
    // The rework can be asked for as it stands.
    let rework = answer(&json!({
        "ask": "rework", "recipe": recipe(&SHEA), "format": "pot", "storage_c": storage,
        "limits": {"changes": 2, "pantry": ["cocoa-butter", "candelilla-wax"]},
    }));
    assert!(!rework["proposals"].as_array().unwrap().is_empty());
}

#[test]
fn the_same_physics_tells_what_to_expect_and_what_was_seen() {
    for hottest in [20.0, 26.0, 30.0, 34.0, 40.0] {
        let behaves = answer(&json!({
            "ask": "behave", "recipe": recipe(&SHEA), "format": "pot", "storage_c": {"coldest": 15, "hottest": hottest},
        }));
        for sign in
            ["turns-to-oil", "oil-pool", "soft-top", "separated-layers", "grainy", "too-hard-in-the-cold"]
        {
            let told = answer(&ask(&json!({"sign": sign}), hottest));
            assert_eq!(told["expected"], signs(&behaves).contains(&sign), "{sign} at {hottest}");
        }
    }
}

fn symptom(lines: &[(&str, f64)], format: &str, sign: &str, coldest: f64, hottest: f64) -> Value {
    answer(&json!({
        "ask": "symptom", "recipe": recipe(lines), "format": format, "sign": sign,
        "storage_c": {"coldest": coldest, "hottest": hottest},
    }))
}

/// A cause must not contradict the figures that it gives.
#[test]
fn causes_agree_with_their_figures() {
    let bar = [("cocoa-butter", 80.0), ("shea-butter", 12.0), ("jojoba-oil", 8.0)];
    let brittle = symptom(&bar, "bar", "too-hard-in-the-cold", 18.0, 26.0);
    assert_eq!(kinds(&brittle["causes"]), ["stiff", "cold-structure"]);
    let gel = [("beeswax", 8.0), ("olive-oil", 92.0)];
    let grains = symptom(&gel, "pot", "grainy", 15.0, 30.0);
    assert_eq!(kinds(&grains["causes"]), ["few-crystals"]);
    let firm = symptom(&SHEA, "pot", "oil-pool", 16.0, 24.0);
    assert_eq!(kinds(&firm["causes"]), ["oil-loose", "oil-held"]);
    // It shows above where any butter that melts on skin could hold.
    assert_eq!(kinds(&firm["readings"]), ["warmer-than-given", "none-holds-there"]);
    let soft = symptom(&SHEA, "pot", "oil-pool", 16.0, 40.0);
    assert_eq!(kinds(&soft["causes"]), ["oil-loose", "lumps"]);
}

/// Plain oil is always oil: what is expected, the cause and the reading agree.
#[test]
fn oil_is_always_oil() {
    let oil = symptom(&[("squalane", 100.0)], "pot", "turns-to-oil", 15.0, 25.0);
    assert_eq!(oil["expected"], true);
    assert_eq!(kinds(&oil["causes"])[0], "never-sets");
    assert_eq!(kinds(&oil["readings"]), ["always"]);
    let pool = symptom(&[("squalane", 100.0)], "pot", "oil-pool", 15.0, 25.0);
    assert_eq!(kinds(&pool["readings"]), ["goes-further"]);
}

/// The cause and the reading give one temperature.
#[test]
fn cause_and_reading_give_one_onset() {
    for sign in ["turns-to-oil", "oil-pool", "soft-top"] {
        let told = symptom(&SHEA, "pot", sign, 16.0, 24.0);
        assert!(told["causes"][0]["onset_c"].is_number(), "{told}");
        assert_eq!(told["causes"][0]["onset_c"], told["readings"][0]["onset_c"], "{told}");
    }
}

/// A top is said to melt only where something melts.
#[test]
fn what_does_not_melt_wets_no_top() {
    for lines in [
        [("kaolin", 40.0), ("fractionated-coconut-oil", 60.0)],
        [("hydrogenated-castor-oil", 12.0), ("castor-oil", 88.0)],
    ] {
        let top = symptom(&lines, "pot", "soft-top", 15.0, 30.0);
        assert_eq!(top["expected"], false, "{top}");
        assert_eq!(kinds(&top["readings"]), ["never"], "{top}");
    }
}

#[test]
fn what_cannot_be_understood_is_said() {
    assert_eq!(error(&ask(&json!({"words": "it sings at night"}), 24.0))["at"], "words");
    assert_eq!(error(&ask(&json!({}), 24.0))["at"], "sign");
    assert_eq!(error(&ask(&json!({"sign": "sulks"}), 24.0))["kind"], "malformed");
}

/// Who is harmed is told so first, whatever else is seen, and no rework is asked for (first aid as it is
/// usually taught, from memory).
#[test]
fn harm_is_told_before_anything_else() {
    for (words, sign, first) in [
        ("a customer got a rash, and it is grainy", "harms-skin", "stop-using"),
        ("water drops under the lid", "water-in-it", "throw-away-wet"),
        ("mould on top", "smells-off", "throw-away"),
    ] {
        let told = answer(&ask(&json!({"words": words}), 24.0));
        assert_eq!(told["sign"], sign, "{words}");
        assert_eq!(kinds(&told["remedies"])[0], first, "{words}");
        assert_eq!(told["readings"].as_array().unwrap().len(), 0, "{words}");
        assert_eq!(told["rework_storage_c"], json!({"coldest": 15.0, "hottest": 24.0}), "{words}");
    }
}
