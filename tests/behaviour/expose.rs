//! Heat exposure.

use serde_json::{Value, json};

use crate::ask::{answer, error, kinds, number, numbers, recipe, text};

const SHEA: [(&str, f64); 2] = [("shea-butter", 75.0), ("sunflower-oil", 25.0)];

fn expose(air: &Value, parcel: &Value) -> Value {
    answer(&json!({"ask": "expose", "recipe": recipe(&SHEA), "format": "pot", "air": air, "parcel": parcel}))
}

#[test]
fn every_preset_is_answered_with_its_source_and_conserves_energy() {
    for preset in [
        "parked-car-sun",
        "parked-car-shade",
        "dashboard",
        "delivery-van",
        "mailbox",
        "sea-container",
        "warm-room",
    ] {
        for pack in ["jar", "glass-jar", "tin", "tube", "paper-tube", "wrap"] {
            let exposed = expose(&json!({"preset": preset}), &json!({"pack": pack}));
            assert!(number(&exposed["energy_error"]) < 1e-9, "{preset} {pack}");
            assert!(!text(&exposed["course"]["source"]).is_empty());
            let melted = numbers(&exposed["melted_percent"]);
            let most = number(&exposed["most_melted_percent"]);
            assert!(melted.iter().all(|percent| (0.0..=most + 1e-9).contains(percent)));
        }
    }
}

#[test]
fn the_dashboard_is_honest() {
    let exposed = expose(&json!({"preset": "dashboard"}), &json!({}));
    assert_eq!(exposed["survives"], false);
    let advice = kinds(&exposed["advice"]);
    let packaging = advice[1];
    assert!(["pack", "packing-is-not-enough"].contains(&packaging), "{packaging}");
    assert_eq!(advice, ["no-butter-comes-through", packaging, "hurry", "season", "another-product"]);
}

#[test]
fn a_mild_day_needs_no_advice() {
    let exposed = expose(&json!({"constant_c": 22, "hours": 12}), &json!({}));
    assert_eq!(exposed["survives"], true);
    assert_eq!(exposed["advice"], json!([]));
    assert_eq!(exposed["packed_better"], json!([]));
}

#[test]
fn whipped_loses_its_air_for_good() {
    let exposed = answer(&json!({
        "ask": "expose", "recipe": recipe(&SHEA), "format": "whipped", "air": {"preset": "delivery-van"},
    }));
    assert_eq!(kinds(&exposed["afterwards"])[0], "loses-air");
    // It is cool again at the end, but what was lost is lost.
    assert!(number(&exposed["lost_percent"]) > 50.0);
}

#[test]
fn what_is_called_better_is_no_worse() {
    let air = json!({"preset": "mailbox"});
    let exposed = expose(&air, &json!({}));
    let slumps = |value: &Value| value.as_f64().unwrap_or(f64::INFINITY);
    let mut before = slumps(&exposed["slumps_at_h"]);
    for better in exposed["packed_better"].as_array().unwrap() {
        assert!(slumps(&better["slumps_at_h"]) >= before);
        before = slumps(&better["slumps_at_h"]);
        // What is promised is what is answered when it is asked for.
        let parcel = json!({"insulation_mm": better["insulation_mm"], "cold_pack_g": better["cold_pack_g"]});
        assert_eq!(expose(&air, &parcel)["slumps_at_h"], better["slumps_at_h"]);
    }
    assert_eq!(exposed["packed_better"].as_array().unwrap().len(), 3);
}

/// Heat comes in through the box, so that 24 jars need a third of what 24 boxes of one jar would.
#[test]
fn cold_packs_go_by_the_surface_of_the_box() {
    let cold = |packs: u32| -> Vec<f64> {
        let exposed = expose(&json!({"constant_c": 45, "hours": 2}), &json!({"packs": packs}));
        let better = exposed["packed_better"].as_array().unwrap();
        better.iter().map(|better| number(&better["cold_pack_g"])).collect()
    };
    assert_eq!((cold(1), cold(24)), (vec![0.0, 300.0, 800.0], vec![0.0, 2500.0, 6700.0]));
}

#[test]
fn a_warmer_course_never_helps() {
    let lost = |shift: f64| {
        let points: Vec<(f64, f64)> =
            [(0.0, 20.0), (3.0, 30.0), (6.0, 32.0), (12.0, 24.0)].map(|(hour, c)| (hour, c + shift)).to_vec();
        let exposed = expose(&json!({"points": points}), &json!({}));
        (number(&exposed["lost_percent"]), number(&exposed["most_melted_percent"]))
    };
    let courses: Vec<(f64, f64)> = [-5.0, 0.0, 3.0, 6.0, 10.0, 20.0].map(lost).to_vec();
    for pair in courses.windows(2) {
        assert!(pair[0].0 <= pair[1].0 + 1e-9 && pair[0].1 <= pair[1].1 + 1e-9, "{courses:?}");
    }
    assert!(courses[5].0 > courses[0].0);
}

#[test]
fn nonsense_is_refused_with_the_place_and_the_fix() {
    for (air, parcel, kind, at) in [
        (json!({}), json!({}), "conflict", "air"),
        (json!({"preset": "mailbox", "constant_c": 30}), json!({}), "conflict", "air.constant_c"),
        (json!({"constant_c": 400}), json!({}), "out-of-range", "air.constant_c"),
        (json!({"constant_c": 40, "hours": 0}), json!({}), "out-of-range", "air.hours"),
        (json!({"points": [[0, 20]]}), json!({}), "out-of-range", "air.points"),
        (json!({"points": [[0, 20], [0, 30]]}), json!({}), "out-of-range", "air.points[1][0]"),
        (json!({"points": [[0, 20], [1, 300]]}), json!({}), "out-of-range", "air.points[1][1]"),
        (json!({"preset": "oven"}), json!({}), "malformed", "air.preset"),
        (json!({"preset": "mailbox"}), json!({"volume_ml": 0}), "out-of-range", "parcel.volume_ml"),
        (json!({"preset": "mailbox"}), json!({"packs": 0}), "out-of-range", "parcel.packs"),
        (json!({"preset": "mailbox"}), json!({"pack": "bucket"}), "malformed", "parcel.pack"),
    ] {
        let error = error(
            &json!({"ask": "expose", "recipe": recipe(&SHEA), "format": "pot", "air": air, "parcel": parcel}),
        );
        assert_eq!((text(&error["kind"]), text(&error["at"])), (kind, at), "{error}");
    }
}

/// The extremes of what is allowed are worked out in reasonable time, without a hitch.
#[test]
fn extremes_are_answered() {
    for (air, parcel) in [
        (json!({"constant_c": -40, "hours": 1000}), json!({"volume_ml": 1, "slenderness": 20})),
        (json!({"constant_c": 100, "hours": 1000}), json!({"volume_ml": 5000, "slenderness": 0.05})),
        (json!({"points": [[0, -40], [0.001, 100], [0.02, -40]]}), json!({"pack": "glass-jar"})),
        (
            json!({"points": [[0, -40], [500, 100], [1000, -40]]}),
            json!({"insulation_mm": 200, "cold_pack_g": 50000, "cold_pack_c": 22, "packs": 1000}),
        ),
        (json!({"constant_c": 40, "hours": 0.01}), json!({"start_c": 60, "overrun_percent": 300})),
    ] {
        let exposed = expose(&air, &parcel);
        assert!(number(&exposed["energy_error"]) < 1e-9, "{air} {parcel}: {}", exposed["energy_error"]);
        assert!(number(&exposed["steps"]) < 20_000.0);
    }
}

/// What never holds its shape is told so, and no packing is sold to it.
#[test]
fn an_oil_is_not_said_to_set_again() {
    let exposed = answer(&json!({
        "ask": "expose", "recipe": recipe(&[("olive-oil", 100.0)]), "format": "pot",
        "air": {"constant_c": 30, "hours": 5},
    }));
    assert_eq!(exposed["survives"], false);
    assert_eq!(exposed["journey"], json!({"kind": "too-soft-from-the-start"}));
    assert_eq!(kinds(&exposed["afterwards"]), ["as-before"]);
    assert_eq!(exposed["packed_better"], json!([]));
    assert_eq!(kinds(&exposed["advice"]), ["rework-first"]);
}
