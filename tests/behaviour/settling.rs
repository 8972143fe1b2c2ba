//! Fresh against settled: some butters firm up in the first days, some are what they stay.

use serde_json::json;

use crate::ask::{answer, behave, error, kinds, number, recipe};

/// Untempered cocoa butter slips some 6 K below tempered (Jin et al. 2017: 26.7; specifications: 32 to 33.5
/// °C).
#[test]
fn cocoa_butter_firms_up() {
    let told = behave(&[("cocoa-butter", 60.0), ("olive-oil", 40.0)], "pot", 18.0, 26.0);
    let fresh = &told["fresh"];
    assert!(number(&fresh["hottest"]["firms_by_percent"]) > 3.0, "{fresh}");
    assert!(number(&fresh["slip_c"]) < number(&told["slip_c"]) - 3.0, "{fresh}");
    let settling = kinds(&told["settling"]);
    assert!(["firms", "firms-a-little"].contains(&settling[0]), "{settling:?}");
    assert!(settling.contains(&"slip-rises"), "{settling:?}");
    for place in ["coldest", "usual", "hottest", "skin"] {
        let grown = number(&fresh[place]["structure_percent"]) + number(&fresh[place]["firms_by_percent"]);
        let settled = number(&told["places"][place]["structure_percent"]);
        assert!((grown - settled).abs() < 1e-6 || grown > settled, "{place}: {grown} {settled}");
        assert_eq!(fresh[place]["at_c"], told["places"][place]["at_c"]);
    }
}

/// Palm and lauric fats stay in beta-prime (Timms, from memory), and waxes have one form.
#[test]
fn palm_lauric_fats_and_waxes_settle_at_once() {
    for lines in [
        vec![("coconut-oil", 100.0)],
        vec![("palm-oil", 70.0), ("palm-kernel-oil", 30.0)],
        vec![("beeswax", 5.0), ("fractionated-coconut-oil", 95.0)],
    ] {
        let told = behave(&lines, "pot", 16.0, 24.0);
        assert_eq!(kinds(&told["settling"]), ["at-once"], "{lines:?}");
    }
}

#[test]
fn melt_tells_either_state() {
    let lines = recipe(&[("cocoa-butter", 100.0)]);
    let melt =
        |state: &str| answer(&json!({"ask": "melt", "recipe": lines, "at_c": [25, 30], "state": state}));
    let settled = melt("settled");
    assert_eq!(settled, answer(&json!({"ask": "melt", "recipe": lines, "at_c": [25, 30]})));
    for at in [0, 1] {
        let solid = |told: &serde_json::Value| number(&told["solid_percent"][at]);
        assert!(solid(&melt("fresh")) < solid(&settled) - 20.0);
    }
    let wrong = error(&json!({"ask": "melt", "recipe": lines, "state": "tempered"}));
    assert_eq!((wrong["kind"].as_str(), wrong["at"].as_str()), (Some("malformed"), Some("state")));
    assert!(wrong["message"].as_str().unwrap().contains("settled"), "{wrong}");
}
