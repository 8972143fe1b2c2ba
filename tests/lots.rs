//! Own lots through the contract: learned from what was seen, carried in recipes and links, and planned for.

// The lints' own exception for tests does not reach the helpers of a test crate.
#![allow(clippy::panic, clippy::unwrap_used)]

use serde_json::{Value, json};

#[path = "support/ask.rs"]
mod ask;

use ask::{answer, reply};

#[track_caller]
fn assert_refused(request: &Value, kind: &str, at: &str, says: &str) {
    let reply = reply(request);
    let error = &reply["error"];
    assert_eq!((error["kind"].as_str(), error["at"].as_str()), (Some(kind), Some(at)), "{reply}");
    let message = error["message"].as_str().unwrap();
    assert!(message.contains(says), "`{message}` does not say `{says}`");
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn width(point: &Value) -> f64 {
    number(&point["band_c"][1]) - number(&point["band_c"][0])
}

/// A shea that goes slack early: one that slips low in a tube, and a blend of it that went slack at 29 °C.
fn soft_shea() -> Value {
    json!({
        "ask": "learn",
        "lots": [{"name": "sack of May", "id": "shea-butter"}],
        "observations": [
            {"recipe": [{"lot": "sack of May", "percent": 100}], "seen": "slipped", "at_c": 32, "measured": "probe"},
            {"recipe": [{"lot": "sack of May", "percent": 70}, {"id": "cocoa-butter", "percent": 25},
                {"id": "sunflower-oil", "percent": 5}], "seen": "slumped", "at_c": 29},
        ],
        "recipe": [{"lot": "sack of May", "percent": 70}, {"id": "olive-oil", "percent": 30}],
    })
}

#[test]
fn a_soft_lot_is_learned_and_its_bands_narrow() {
    let learned = answer(&soft_shea());
    let lot = &learned["lots"][0];
    assert!(number(&lot["lot"]["shift_k"]) < -0.5, "{lot}");
    assert!(number(&lot["lot"]["shift_left_k"]) < number(&lot["before"]["shift_left_k"]), "{lot}");
    assert!(number(&lot["slip"]["at_c"]) < number(&lot["slip_before"]["at_c"]) - 1.0, "{lot}");
    assert!(width(&lot["slip"]) < width(&lot["slip_before"]), "{lot}");
    assert_eq!((&lot["observations"], &learned["pots"]), (&json!(2), &json!(2)));
    let recipe = &learned["recipe"];
    assert!(
        number(&recipe["softening"]["at_c"]) < number(&recipe["softening_before"]["at_c"]) - 0.5,
        "{recipe}"
    );
    assert!(width(&recipe["softening"]) < width(&recipe["softening_before"]), "{recipe}");
    assert_eq!(learned["thermometers"][0]["measured"], "probe");
}

#[test]
fn nothing_seen_changes_nothing() {
    let mut request = soft_shea();
    request["observations"] = json!([]);
    let learned = answer(&request);
    let lot = &learned["lots"][0];
    assert!(number(&lot["lot"]["shift_k"]).abs() < 0.01, "{lot}");
    let [now, before] = ["slip", "slip_before"].map(|slip| number(&lot[slip]["at_c"]));
    assert!((now - before).abs() < 0.02, "{lot}");
    assert_eq!(lot["observations"], 0);
}

/// One that is 8 K off is told, left out, and may be insisted on or left out by the maker.
#[test]
fn what_contradicts_the_rest_is_told_and_not_averaged() {
    let mut request = soft_shea();
    let clean = answer(&request);
    assert!(clean["observations"].as_array().unwrap().iter().all(|it| it["agrees"] != "no"), "{clean}");
    let wrong = json!({"recipe": [{"lot": "sack of May", "percent": 100}], "seen": "slipped", "at_c": 41});
    request["observations"].as_array_mut().unwrap().push(wrong);
    let torn = answer(&request);
    let told = &torn["observations"][2];
    assert_eq!(told["agrees"], "no", "{torn}");
    assert!(told["because"].is_string() && number(&told["expected_c"]) < 36.0, "{told}");
    let shift = |answer: &Value| number(&answer["lots"][0]["lot"]["shift_k"]);
    assert!((shift(&torn) - shift(&clean)).abs() < 0.02, "it was averaged in");
    request["observations"][2]["insist"] = json!(true);
    let insisted = answer(&request);
    assert_ne!(insisted["observations"][2]["agrees"], "no");
    assert!(shift(&insisted) > shift(&clean) + 0.2, "{insisted}");
    request["observations"][2]["left_out"] = json!(true);
    assert!((shift(&answer(&request)) - shift(&clean)).abs() < 0.02);
}

#[test]
fn what_cannot_be_true_of_one_pot_names_its_other() {
    let pot = json!([{"lot": "a", "percent": 70}, {"id": "olive-oil", "percent": 30}]);
    let learned = answer(&json!({
        "ask": "learn",
        "lots": [{"name": "a", "id": "shea-butter"}],
        "observations": [
            {"recipe": pot, "seen": "held", "at_c": 31},
            {"recipe": pot, "seen": "slumped", "at_c": 26},
        ],
    }));
    assert_eq!(learned["pots"], 1);
    assert_eq!(
        (&learned["observations"][0]["against"], &learned["observations"][1]["against"]),
        (&json!(1), &json!(0))
    );
}

const WISHES: [(&str, f64); 2] = [("coldest", 16.0), ("hottest", 28.0)];

fn behave(lot: Option<&Value>) -> Value {
    let mut shea = json!({"id": "shea-butter", "percent": 70});
    if let Some(lot) = lot {
        shea["lot"] = lot.clone();
    }
    let storage: serde_json::Map<String, Value> =
        WISHES.iter().map(|(place, at_c)| ((*place).to_owned(), json!(at_c))).collect();
    answer(
        &json!({"ask": "behave", "recipe": [shea, {"id": "olive-oil", "percent": 30}], "format": "pot", "storage_c": storage}),
    )
}

/// A lot stands in a recipe in the catalogue's place: softer where it is softer, surer where it is known.
#[test]
fn a_recipe_takes_the_lot() {
    let lot = answer(&soft_shea())["lots"][0]["lot"].clone();
    let (any, own) = (behave(None), behave(Some(&lot)));
    assert!(number(&own["softening_c"]) < number(&any["softening_c"]) - 0.5, "{}", own["softening_c"]);
    let wide =
        |answer: &Value| number(&answer["softening_band_c"][1]) - number(&answer["softening_band_c"][0]);
    assert!(wide(&own) < wide(&any), "{} {}", wide(&own), wide(&any));
    assert!(number(&own["odds"]["holds"]) < number(&any["odds"]["holds"]));
    // A lot that is as on record, and as little known, is any lot.
    let usual = json!({"shift_k": 0, "share_log": 0, "shift_left_k": 1.25, "share_left_log": 0.12});
    let as_any = behave(Some(&usual));
    assert!((number(&as_any["softening_c"]) - number(&any["softening_c"])).abs() < 1e-6);
    assert!((number(&as_any["odds"]["holds"]) - number(&any["odds"]["holds"])).abs() < 1e-9);
}

/// A rework of a softer lot needs more, and keeps the lot in what it proposes.
#[test]
fn a_rework_takes_the_lot() {
    let rework = |shift_k: f64| {
        let lot = json!({"shift_k": shift_k, "share_log": 0, "shift_left_k": 0.5, "share_left_log": 0.05});
        answer(&json!({
            "ask": "rework", "format": "pot", "storage_c": {"coldest": 16, "hottest": 31},
            "recipe": [{"id": "shea-butter", "percent": 65, "lot": lot}, {"id": "olive-oil", "percent": 35}],
        }))
    };
    let (soft, hard) = (rework(-2.0), rework(1.0));
    let shift = |answer: &Value| number(&answer["proposals"][0]["shift_percent"]);
    let told = &soft["proposals"][0];
    assert!(shift(&soft) > shift(&hard), "{told}\n{}", hard["proposals"][0]);
    let line = told["recipe"].as_array().unwrap().iter().find(|line| line["id"] == "shea-butter").unwrap();
    assert_eq!(line["lot"]["shift_k"], -2.0, "{line}");
}

/// A lot that is on the shelf at 0 % is what a rework takes from the pantry.
#[test]
fn a_lot_on_the_shelf_is_what_a_rework_adds() {
    let rework = |shift_k: Option<f64>| {
        let mut recipe = json!([{"id": "shea-butter", "percent": 60}, {"id": "olive-oil", "percent": 40}]);
        if let Some(shift_k) = shift_k {
            let lot =
                json!({"shift_k": shift_k, "share_log": 0, "shift_left_k": 0.3, "share_left_log": 0.02});
            recipe.as_array_mut().unwrap().push(json!({"id": "kokum-butter", "percent": 0, "lot": lot}));
        }
        answer(&json!({
            "ask": "rework", "format": "pot", "storage_c": {"coldest": 16, "hottest": 31}, "recipe": recipe,
            "limits": {"pantry": ["kokum-butter"], "changes": 2, "locked": ["shea-butter"]},
        }))
    };
    let (catalogue, soft) = (rework(None), rework(Some(-4.0)));
    let kokum = |answer: &Value| {
        let recipe = answer["proposals"][0]["recipe"].as_array().unwrap();
        recipe.iter().find(|line| line["id"] == "kokum-butter").map_or(0.0, |line| number(&line["percent"]))
    };
    assert!(kokum(&soft) > kokum(&catalogue), "{} {}", kokum(&soft), kokum(&catalogue));
}

#[test]
fn a_link_carries_a_lot() {
    let lot = json!({"shift_k": -1.2, "share_log": -0.05, "shift_left_k": 0.8, "share_left_log": 0.1, "together": -0.4});
    let state = json!({"recipe": [{"id": "shea-butter", "name": "sack of May", "percent": 100, "lot": lot}]});
    let link = answer(&json!({"ask": "link", "state": state}));
    let opened = answer(&json!({"ask": "open-link", "fragment": link["fragment"]}));
    assert_eq!(opened["state"]["recipe"][0]["lot"], lot);
    assert_eq!(opened["state"]["recipe"][0]["name"], "sack of May");
}

/// A pot that is planned travels in a link of its own: what it is made of, of which lots, and what to see.
#[test]
fn a_link_carries_a_planned_look() {
    let lot =
        json!({"shift_k": -1.2, "share_log": 0, "shift_left_k": 0.8, "share_left_log": 0.1, "together": 0});
    let recipe = json!([{"id": "shea-butter", "name": "sack of May", "percent": 70, "lot": lot}, {"id": "olive-oil", "percent": 30}]);
    for look in [json!({"seen": "slipped"}), json!({"seen": "held", "at_c": 28.5, "measured": "probe"})] {
        let link = answer(&json!({"ask": "link", "state": {"recipe": recipe, "look": look}}));
        let opened = answer(&json!({"ask": "open-link", "fragment": link["fragment"]}));
        for (name, value) in look.as_object().unwrap() {
            assert_eq!(opened["state"]["look"][name], *value, "{link}");
        }
        assert_eq!(opened["state"]["recipe"][0]["lot"]["shift_k"], -1.2);
    }
    let plain = answer(&json!({"ask": "link", "state": {"recipe": recipe}}));
    let opened = answer(&json!({"ask": "open-link", "fragment": plain["fragment"]}));
    assert!(opened["state"]["look"].is_null(), "{opened}");
    let wrong = json!({"ask": "link", "state": {"recipe": recipe, "look": {"seen": "held", "at_c": 1000}}});
    assert_refused(&wrong, "out-of-range", "state.look.at_c", "from -20 to 100");
}

/// What is wrong with one entry of a notebook loses none of the others, whatever it is called.
#[test]
fn a_notebook_is_read_entry_by_entry() {
    let lots = json!([
        {"name": "__proto__", "id": "shea-butter"},
        {"name": "constructor", "id": "moon-butter"},
        {"name": "constructor", "id": "cocoa-butter"},
        {"name": "__proto__", "id": "cocoa-butter"},
        {"name": "", "id": "cocoa-butter"},
        {"name": "turned\u{202e}", "id": "cocoa-butter"},
        {"name": "later", "id": "cocoa-butter", "colour": "red"},
        5,
        {"name": "wild", "id": "shea-butter", "lot": {"shift_k": 1e9, "share_log": 0, "shift_left_k": 1, "share_left_log": 0}},
    ]);
    let pure = json!([{"lot": "__proto__", "percent": 100}]);
    let observations = json!([
        {"recipe": pure, "seen": "slipped", "at_c": 33},
        {"recipe": pure, "seen": "slipped"},
        {"recipe": [{"lot": "wild", "percent": 100}], "seen": "slipped", "at_c": 33},
        null,
        {"recipe": pure, "seen": "held", "at_c": 30, "pot": "one"},
        {"recipe": [{"lot": "constructor", "percent": 100}], "seen": "held", "at_c": 30, "pot": "one"},
        {"recipe": pure, "seen": "held", "at_c": 30, "thermometer": "\u{200b}"},
        {"recipe": pure, "seen": "held", "at_c": 29, "pot": "one"},
    ]);
    let told = answer(&json!({"ask": "notebook", "lots": lots, "observations": observations}));
    let faults = |of: &str| -> Vec<String> {
        let faults = told[of].as_array().unwrap().iter();
        faults.map(|fault| fault["at"].as_str().map_or("good".to_owned(), ToOwned::to_owned)).collect()
    };
    assert_eq!(
        faults("lots"),
        [
            "good",
            "lots[1].id",
            "good",
            "lots[2].name",
            "lots[2].name",
            "lots[2].name",
            "colour",
            "",
            "lots[2].lot.shift_k"
        ]
    );
    assert_eq!(
        faults("observations"),
        [
            "good",
            "observations[1].at_c",
            "observations[1].recipe[0].lot",
            "",
            "good",
            "observations[2].pot",
            "observations[2].thermometer",
            "good"
        ]
    );
    // What is good is what `learn` takes.
    let pick = |all: &Value, of: &str| -> Vec<Value> {
        let (all, faults) = (all.as_array().unwrap(), told[of].as_array().unwrap());
        all.iter().zip(faults).filter(|(_, fault)| fault.is_null()).map(|(one, _)| one.clone()).collect()
    };
    let (good, seen) = (pick(&lots, "lots"), pick(&observations, "observations"));
    let learned = answer(&json!({"ask": "learn", "lots": good, "observations": seen}));
    assert_eq!(learned["lots"].as_array().map(Vec::len), Some(2));
    let many = vec![json!({"recipe": pure, "seen": "held", "at_c": 20}); 41];
    let full = answer(&json!({"ask": "notebook", "lots": [lots[0]], "observations": many}));
    assert!(
        full["observations"][39].is_null()
            && full["observations"][40]["message"].as_str().unwrap().contains("room for 40")
    );
}

#[test]
fn a_plan_says_what_to_make_and_what_it_tells() {
    let mut request = soft_shea();
    request["ask"] = json!("plan");
    request["at_c"] = json!([21, 26, 30]);
    request["water_bath"] = json!(true);
    request["series"] = json!({"butter": "sack of May", "hardener": "beeswax", "doses": 4});
    let plan = answer(&request);
    let pots = plan["pots"].as_array().unwrap();
    assert_eq!(pots.len(), 2);
    let left: Vec<f64> = pots.iter().map(|pot| number(&pot["left_k"])).collect();
    assert!(
        number(&plan["now_k"]) > left[0] && left[0] > left[1] && left[1] >= number(&plan["one_by_one_k"]),
        "{plan}"
    );
    for pot in pots {
        let grams: f64 = pot["grams"].as_array().unwrap().iter().map(number).sum();
        assert!((grams - 20.0).abs() < 1e-9, "{pot}");
        assert_eq!(pot["at_c"].is_null(), pot["seen"] == "slipped", "{pot}");
    }
    let doses = plan["series"]["doses"].as_array().unwrap();
    assert_eq!(doses.len(), 4);
    assert!(number(&doses[3]["left_k"]) <= number(&plan["series"]["evenly_k"]), "{plan}");
}

#[test]
fn what_is_wrong_is_told_with_its_place() {
    let with = |observation: Value| json!({"ask": "learn", "lots": [{"name": "a", "id": "shea-butter"}], "observations": [observation]});
    let pure = json!([{"lot": "a", "percent": 100}]);
    let cases = [
        (
            json!({"ask": "learn", "lots": [{"name": "a", "id": "shea"}]}),
            "unknown-ingredient",
            "lots[0].id",
            "no ingredient `shea`",
        ),
        (
            json!({"ask": "learn", "lots": [{"name": "a", "id": "shea-butter"}, {"name": "a", "id": "cocoa-butter"}]}),
            "conflict",
            "lots[1].name",
            "own name",
        ),
        (with(json!({"recipe": pure, "seen": "held"})), "empty", "observations[0].at_c", "°C"),
        (
            with(json!({"recipe": pure, "seen": "held", "at_c": 1e9})),
            "out-of-range",
            "observations[0].at_c",
            "from -20 to 100",
        ),
        (
            with(json!({"recipe": pure, "seen": "firmness", "at_c": 20})),
            "empty",
            "observations[0].firmness",
            "class",
        ),
        (
            with(json!({"recipe": pure, "seen": "solid", "at_c": 20})),
            "empty",
            "observations[0].solid_percent",
            "percentage",
        ),
        (
            with(json!({"recipe": [], "seen": "held", "at_c": 20})),
            "empty",
            "observations[0].recipe",
            "add an ingredient",
        ),
        (
            with(json!({"recipe": [{"lot": "b", "percent": 100}], "seen": "held", "at_c": 20})),
            "unknown-ingredient",
            "observations[0].recipe[0].lot",
            "no lot `b`",
        ),
        (
            with(json!({"recipe": [{"lot": "a", "percent": 90}], "seen": "held", "at_c": 20})),
            "sum-not-hundred",
            "observations[0].recipe",
            "not 100",
        ),
        (
            with(json!({"recipe": [{"percent": 100}], "seen": "held", "at_c": 20})),
            "conflict",
            "observations[0].recipe[0]",
            "one of the two",
        ),
        (
            with(json!({"recipe": pure, "seen": "held", "at_c": 20, "after_days": -1})),
            "out-of-range",
            "observations[0].after_days",
            "0 or more",
        ),
        (
            with(json!({"recipe": pure, "seen": "hold", "at_c": 20})),
            "malformed",
            "observations[0].seen",
            "held",
        ),
        (
            json!({"ask": "learn", "lots": [{"name": "a", "id": "shea-butter", "lot": {"shift_k": 99, "share_log": 0,
                "shift_left_k": 1, "share_left_log": 0}}]}),
            "out-of-range",
            "lots[0].lot.shift_k",
            "from -15 to 15",
        ),
        (
            json!({"ask": "plan", "lots": [], "observations": [], "recipe": [{"id": "shea-butter", "percent": 100}]}),
            "empty",
            "at_c",
            "water bath",
        ),
        (
            json!({"ask": "behave", "format": "pot", "storage_c": {"coldest": 10, "hottest": 20}, "recipe": [
                {"id": "shea-butter", "percent": 50},
                {"id": "shea-butter", "percent": 50, "lot": {"shift_k": 1, "share_log": 0, "shift_left_k": 1, "share_left_log": 0}}]}),
            "conflict",
            "recipe[1].lot",
            "different lots",
        ),
    ];
    for (request, kind, at, says) in cases {
        assert_refused(&request, kind, at, says);
    }
    let many = vec![json!({"recipe": pure, "seen": "held", "at_c": 20}); 41];
    let request = json!({"ask": "learn", "lots": [{"name": "a", "id": "shea-butter"}], "observations": many});
    assert_refused(&request, "out-of-range", "observations", "at most 40");
}
