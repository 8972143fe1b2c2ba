//! Own ingredients, four ways, through the contract.

// The lints' own exception for tests does not reach the helpers of a test crate.
#![allow(clippy::panic, clippy::unwrap_used)]

use serde_json::{Value, json};

#[path = "support/ask.rs"]
mod ask;

use ask::reply;

const AT_C: [f64; 9] = [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0];

#[track_caller]
fn melt(recipe: &Value) -> Value {
    let reply = reply(&json!({"ask": "melt", "recipe": recipe, "at_c": AT_C}));
    assert!(reply["answer"].is_object(), "{recipe} was refused: {reply}");
    reply["answer"].clone()
}

#[track_caller]
fn melt_one(mut item: Value) -> Value {
    item["percent"] = json!(100);
    melt(&json!([item]))
}

/// The error that an item gets: kind, place, message.
#[track_caller]
fn refused(mut item: Value) -> (String, String, String) {
    item["percent"] = json!(100);
    let reply = reply(&json!({"ask": "melt", "recipe": [item]}));
    let text =
        |field: &str| reply["error"][field].as_str().unwrap_or_else(|| panic!("{item}: {reply}")).to_owned();
    (text("kind"), text("at"), text("message"))
}

#[track_caller]
fn assert_refused(item: Value, kind: &str, at: &str, says: &[&str]) {
    let (found, place, message) = refused(item);
    assert_eq!((found.as_str(), place.as_str()), (kind, at), "{message}");
    for word in says {
        assert!(message.contains(word), "`{message}` does not say `{word}`");
    }
}

#[track_caller]
fn curve(answer: &Value) -> Vec<f64> {
    answer["solid_percent"].as_array().unwrap().iter().map(|solid| solid.as_f64().unwrap()).collect()
}

#[track_caller]
fn assert_same(one: &Value, other: &Value, within: f64) {
    for (a, b) in curve(one).into_iter().zip(curve(other)) {
        assert!((a - b).abs() <= within, "{one}\n{other}");
    }
    for point in ["slip_c", "clear_c"] {
        let (a, b) = (one[point].as_f64(), other[point].as_f64());
        assert!(a.zip(b).map_or(a == b, |(a, b)| (a - b).abs() <= within), "{point}: {one}\n{other}");
    }
}

#[test]
fn a_catalogue_profile_by_hand_is_the_catalogue_ingredient() {
    // The figures of cupuacu-butter in the catalogue's own data.
    let rows = include_str!("../src/substances/data/profiles/from-memory-cupuacu.csv");
    let row = csv::Reader::from_reader(rows.as_bytes()).records().next().unwrap().unwrap();
    assert_eq!(&row[0], "cupuacu-butter");
    let acids: serde_json::Map<String, Value> = row[2]
        .split("; ")
        .map(|part| {
            let (name, percent) = part.split_once(' ').unwrap();
            (name.to_owned(), json!(percent.parse::<f64>().unwrap()))
        })
        .collect();
    assert!(acids.len() > 4);
    let catalogue = melt_one(json!({"id": "cupuacu-butter"}));
    let minor = |item: &mut Value| {
        item["unsaponifiable_percent"] = json!(0.8);
        item["free_acid_percent"] = json!(1);
        item["diglyceride_percent"] = json!(2.5);
    };
    let mut own = json!({"name": "lot 7", "fatty_acids": acids});
    minor(&mut own);
    assert_same(&melt_one(own), &catalogue, 1e-6);

    let common: serde_json::Map<String, Value> = acids
        .iter()
        .map(|(name, percent)| {
            let acid = meltmargin::substances::FattyAcid::named(name).unwrap();
            (format!("{} acid", acid.common.to_uppercase()), percent.clone())
        })
        .collect();
    let mut own = json!({"name": "lot 7", "fatty_acids": common, "spread": "seed"});
    minor(&mut own);
    assert_same(&melt_one(own), &catalogue, 1e-6);
}

#[test]
fn the_spread_decides_how_firm_a_profile_is() {
    let acids = json!({"palmitic": 30, "stearic": 32, "oleic": 38});
    let at_35 = |spread: &str| curve(&melt_one(json!({"fatty_acids": acids, "spread": spread})))[7];
    // At random, a quarter of the triglycerides is trisaturated; in a seed fat, hardly any.
    assert!(at_35("random") > at_35("pulp") + 3.0 && at_35("pulp") > at_35("seed") + 3.0);
}

#[test]
fn a_stated_melting_point_is_met() {
    for (item, melts_at_c) in [
        (json!({"like": "shea-butter"}), 34.0),
        (json!({"like": "coconut-oil"}), 25.5),
        (json!({"like": "beeswax"}), 60.0),
        (json!({"like": "stearic-acid"}), 58.0),
        (json!({"like": "candelilla-wax"}), 71.0),
        (json!({"fatty_acids": {"C16:0": 26, "C18:0": 36, "C18:1": 34, "C18:2": 3, "C20:0": 1}}), 31.5),
        (
            json!({"fatty_acids": {"C12:0": 47, "C14:0": 18, "C16:0": 9, "C8:0": 7, "C10:0": 6, "C18:0": 3, "C18:1": 8, "C18:2": 2}, "spread": "random"}),
            25.0,
        ),
        (
            json!({"composition": {"SOS": 26, "POS": 40, "POP": 17, "SOO": 6, "liquid": 11}, "like": "cocoa-butter"}),
            30.0,
        ),
    ] {
        let mut item = item;
        item["melts_at_c"] = json!(melts_at_c);
        let slip_c = melt_one(item.clone())["slip_c"].as_f64().unwrap();
        assert!((slip_c - melts_at_c).abs() < 1e-5, "{item}: {slip_c}");
    }
}

#[test]
fn its_own_melting_point_changes_nothing() {
    for id in ["shea-butter", "coconut-oil", "cocoa-butter", "palm-oil", "beeswax", "stearic-acid"] {
        let catalogue = melt_one(json!({"id": id}));
        assert_same(&melt_one(json!({"like": id})), &catalogue, 0.0);
        let own = melt_one(json!({"like": id, "melts_at_c": catalogue["slip_c"]}));
        assert_same(&own, &catalogue, 0.0);
    }
}

#[test]
fn a_moved_lot_moves_alone() {
    // Half a lot of stearic acid that melts lower, half of the usual one: between the two, and the same
    // whichever comes first.
    let (usual, own) = (
        json!({"id": "stearic-acid-95", "percent": 50}),
        json!({"name": "lot", "like": "stearic-acid-95", "melts_at_c": 62, "percent": 50}),
    );
    let both = melt(&json!([usual, own]));
    assert_same(&both, &melt(&json!([own, usual])), 1e-9);
    let slip_c = both["slip_c"].as_f64().unwrap();
    let pure_c = melt_one(json!({"id": "stearic-acid-95"}))["slip_c"].as_f64().unwrap();
    assert!((slip_c - 0.5 * (62.0 + pure_c)).abs() < 0.3, "{slip_c} {pure_c}");
}

#[test]
fn measured_points_are_passed() {
    for points in [
        // Cocoa butter, palm kernel oil, coconut oil and palm oil as the catalogue's sources give them, and
        // invented ones.
        json!([[20, 76], [25, 69.6], [30, 45], [35, 1.1]]),
        json!([[10, 68], [15, 56], [20, 40], [25, 17], [30, 0]]),
        json!([[10, 77], [15, 60], [20, 36], [25, 1], [30, 0]]),
        json!([[10, 52], [20, 24], [30, 9], [40, 2]]),
        json!([[10, 60], [20, 35], [30, 8], [35, 0]]),
        json!([[35, 0], [10, 60], [30, 8], [20, 35]]),
        json!([[0, 95], [10, 95], [20, 94], [30, 90], [34, 2]]),
        json!([[10, 60], [20, 60], [21, 0]]),
        json!([[5, 3], [15, 3]]),
        json!([[-5, 100], [20, 99], [40, 0], [50, 0]]),
        json!([[10, 0], [20, 0]]),
    ] {
        let at_c: Vec<f64> =
            points.as_array().unwrap().iter().map(|point| point[0].as_f64().unwrap()).collect();
        let recipe = json!([{"name": "lot", "percent": 100, "solid_points": points}]);
        let reply = reply(&json!({"ask": "melt", "recipe": recipe, "at_c": at_c}));
        let found = curve(&reply["answer"]);
        for (point, found) in points.as_array().unwrap().iter().zip(found) {
            assert!((point[1].as_f64().unwrap() - found).abs() <= 0.5, "{points}: {point} came out {found}");
        }
        assert!(reply["answer"]["certificate"].as_f64().unwrap() <= 1e-9, "{reply}");
    }
}

#[test]
fn a_stand_in_dilutes_as_the_fat_it_stands_for() {
    // Points read off the catalogue's own cocoa butter; then both with 40 % of olive oil.
    let at_c: Vec<f64> = (0..=20).map(|i| f64::from(2 * i)).collect();
    let of = |recipe: Value| {
        let reply = reply(&json!({"ask": "melt", "recipe": recipe, "at_c": at_c}));
        curve(&reply["answer"])
    };
    let pure = of(json!([{"id": "cocoa-butter", "percent": 100}]));
    let points: Vec<(f64, f64)> = at_c.iter().copied().zip(pure).collect();
    let diluted = |mut item: Value| {
        item["percent"] = json!(60);
        of(json!([item, {"id": "olive-oil", "percent": 40}]))
    };
    let fat = diluted(json!({"id": "cocoa-butter"}));
    let stand_in = diluted(json!({"name": "lot", "solid_points": points}));
    let worst = fat.iter().zip(&stand_in).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
    // Not exact: a family shares one crystal, the stand-in has many. Proportional dilution alone would err by
    // 25 points at 30 °C.
    assert!(worst < 6.0, "{worst}: {fat:?}\n{stand_in:?}");
}

#[test]
fn splitting_a_lot_into_two_lines_changes_nothing() {
    for item in [
        json!({"name": "lot", "solid_points": [[10, 60], [20, 35], [30, 8], [35, 0]]}),
        json!({"name": "lot", "like": "shea-butter", "melts_at_c": 36}),
    ] {
        let with = |percent: f64| {
            let mut item = item.clone();
            item["percent"] = json!(percent);
            item
        };
        let oil = json!({"id": "olive-oil", "percent": 30});
        assert_same(&melt(&json!([with(70.0), oil])), &melt(&json!([with(50.0), oil, with(20.0)])), 1e-9);
    }
}

#[test]
fn errors_name_the_input_and_the_fix() {
    let acids = json!({"palmitic": 40, "oleic": 60});
    let points = json!([[10, 60], [30, 0]]);
    let at = |field: &str| format!("recipe[0].{field}");
    for (item, kind, place, says) in [
        (json!({"name": "lot"}), "empty", "recipe[0]".to_owned(), ["choose one", "describe your own"]),
        (json!({"melts_at_c": 30}), "empty", "recipe[0]".to_owned(), ["does not say", "like"]),
        (
            json!({"name": "lot", "fatty_acids": acids, "solid_points": points}),
            "conflict",
            at("solid_points"),
            ["lot", "keep one"],
        ),
        (
            json!({"solid_points": points, "melts_at_c": 30}),
            "conflict",
            at("melts_at_c"),
            ["already", "leave"],
        ),
        (
            json!({"like": "shea-butter", "spread": "pulp"}),
            "conflict",
            at("spread"),
            ["fatty acids", "leave them out"],
        ),
        (json!({"id": "shea-butter", "melts_at_c": 30}), "conflict", at("id"), ["shea-butter", "like"]),
        (
            json!({"like": "shea-buter"}),
            "unknown-ingredient",
            at("like"),
            ["shea-buter", "did you mean `shea-butter`"],
        ),
        (
            json!({"like": "shea-butter", "melts_at_c": 70}),
            "out-of-range",
            at("melts_at_c"),
            ["reaches", "70"],
        ),
        (
            json!({"like": "squalane", "melts_at_c": 30}),
            "out-of-range",
            at("melts_at_c"),
            ["too few solids", "leave"],
        ),
        (
            json!({"like": "shea-butter", "melts_at_c": 1e9}),
            "out-of-range",
            at("melts_at_c"),
            ["slip point", "115"],
        ),
        (
            json!({"fatty_acids": {"palmitic": 40, "oleic": 50}}),
            "sum-not-hundred",
            at("fatty_acids"),
            ["90.00", "other"],
        ),
        (
            json!({"fatty_acids": {"palmitic": 60, "oleic": 50}}),
            "sum-not-hundred",
            at("fatty_acids"),
            ["110.00", "take off 10.00 %"],
        ),
        (json!({"fatty_acids": {}}), "sum-not-hundred", at("fatty_acids"), ["0.00", "share"]),
        (
            json!({"fatty_acids": {"palmitc": 100}}),
            "unknown-species",
            at("fatty_acids.palmitc"),
            ["palmitc", "C16:0 (palmitic)"],
        ),
        (
            json!({"fatty_acids": {"palmitic": -5, "oleic": 105}}),
            "out-of-range",
            at("fatty_acids.oleic"),
            ["105", "0 to 100"],
        ),
        (
            json!({"fatty_acids": acids, "free_acid_percent": 80, "diglyceride_percent": 30}),
            "out-of-range",
            "recipe[0]".to_owned(),
            ["lower", "111"],
        ),
        (json!({"solid_points": []}), "empty", at("solid_points"), ["0 solid-fat", "two"]),
        (json!({"solid_points": [[10, 60]]}), "empty", at("solid_points"), ["1 solid-fat", "two"]),
        (
            json!({"solid_points": [[10, 20], [20, 35]]}),
            "conflict",
            at("solid_points[1]"),
            ["rise", "correct"],
        ),
        (
            json!({"solid_points": [[30, 35], [20, 20]]}),
            "conflict",
            at("solid_points[0]"),
            ["rise", "correct"],
        ),
        (
            json!({"solid_points": [[10, 120], [20, 35]]}),
            "out-of-range",
            at("solid_points[0]"),
            ["120", "0 to 100"],
        ),
        (
            json!({"solid_points": [[10, 60], [20, -1]]}),
            "out-of-range",
            at("solid_points[1]"),
            ["-1", "0 to 100"],
        ),
        (
            json!({"solid_points": [[10, 60], [500, 0]]}),
            "out-of-range",
            at("solid_points[1]"),
            ["500", "110"],
        ),
        (
            json!({"solid_points": [[10, 60], [10, 60]]}),
            "out-of-range",
            at("solid_points[1]"),
            ["10", "0.5 K"],
        ),
    ] {
        assert_refused(item, kind, &place, &says);
    }
    for item in [
        json!({"fatty_acids": acids, "spread": "sideways"}),
        json!({"solid_points": [[10]]}),
        json!({"solid_points": "10,60"}),
        json!({"like": "shea-butter", "class": "butter"}),
        json!({"like": 7}),
    ] {
        let (kind, at, _) = refused(item);
        assert_eq!(kind, "malformed");
        assert!(at.starts_with("recipe[0]"), "{at}");
    }
}

#[test]
fn hostile_numbers_are_answered() {
    let numbers = [0.0, -0.0, 1e-300, 1e-9, 0.5, 2.0, 49.999, 99.999, 100.0, 1e3, 1e308, -1e308, -7.0];
    for a in numbers {
        for b in numbers {
            for item in [
                json!({"solid_points": [[a, b], [b, a]]}),
                json!({"solid_points": [[0, a], [10, b], [20, 0]]}),
                json!({"fatty_acids": {"stearic": a, "oleic": b}, "melts_at_c": b}),
                json!({"fatty_acids": {"stearic": 50, "oleic": 50}, "free_acid_percent": a, "unsaponifiable_percent": b}),
                json!({"composition": {"SOS": a, "liquid": b}, "melts_at_c": a}),
                json!({"like": "castor-oil", "melts_at_c": a}),
            ] {
                let mut item = item;
                item["percent"] = json!(100);
                let reply = reply(&json!({"ask": "melt", "recipe": [item], "at_c": [-60, 20, 150]}));
                if reply["answer"].is_object() {
                    for solid in curve(&reply["answer"]) {
                        assert!((0.0..=100.0 + 1e-9).contains(&solid), "{item}: {reply}");
                    }
                    assert!(reply["answer"]["certificate"].as_f64().unwrap() <= 1e-9, "{item}: {reply}");
                } else {
                    assert!(!reply["error"]["message"].as_str().unwrap().is_empty(), "{item}: {reply}");
                }
            }
        }
    }
}

#[test]
fn a_class_is_taken_from_like_or_said() {
    // Only `rework` and `behave` act on classes; through them a wrong one shows as a wax cap.
    let line = |own: meltmargin::recipe::Own<'_>| {
        meltmargin::recipe::Line::own("lot", 100.0, &own, 0).unwrap().class.name()
    };
    use meltmargin::{recipe::Own, substances::Class};
    let like = Own { like: Some("beeswax"), ..Own::default() };
    assert_eq!(line(like), "wax");
    assert_eq!(line(Own { class: Some(Class::SoftButter), ..like }), "soft-butter");
    let points = [(10.0, 60.0), (30.0, 0.0)];
    assert_eq!(line(Own { solid_points: Some(&points), ..Own::default() }), "other");
    assert_eq!(line(Own { solid_points: Some(&points), ..like }), "wax");
}

#[test]
fn a_link_carries_every_way() {
    let recipe = json!([
        {"name": "by acids", "percent": 40, "fatty_acids": {"C16:0": 26.5, "palmitoleic acid": 1, "other": 72.5}, "spread": "pulp",
         "free_acid_percent": 0.5, "unsaponifiable_percent": 2, "diglyceride_percent": 3, "melts_at_c": 31.5, "class": "soft-butter"},
        {"name": "by points", "percent": 40, "solid_points": [[-5, 80], [10, 60], [35, 0]], "like": "shea-butter"},
        {"name": "lot 3", "percent": 20, "like": "shea-butter", "melts_at_c": 34},
    ]);
    let state = json!({"recipe": recipe, "format": "pot", "storage_c": {"coldest": 18, "hottest": 25}, "skin_c": 32.5});
    let link = reply(&json!({"ask": "link", "state": state}));
    let fragment = link["answer"]["fragment"].as_str().unwrap_or_else(|| panic!("{link}"));
    let back = reply(&json!({"ask": "open-link", "fragment": fragment}));
    let back = &back["answer"]["state"]["recipe"];
    let request = |recipe: &Value| {
        reply(
            &json!({"ask": "link", "state": {"recipe": recipe, "format": "pot", "storage_c": {"coldest": 18, "hottest": 25}, "skin_c": 32.5}}),
        )
    };
    assert_eq!(request(back)["answer"]["fragment"].as_str(), Some(fragment));
    for (sent, got) in recipe.as_array().unwrap().iter().zip(back.as_array().unwrap()) {
        for (field, value) in sent.as_object().unwrap() {
            let same =
                value.as_f64().map_or(&got[field] == value, |number| got[field].as_f64() == Some(number));
            let same = same || field == "solid_points" || field == "fatty_acids";
            assert!(same, "{field}: {value} came back {}", got[field]);
        }
    }
    assert_same(
        &melt(&json!([{"name": "x", "percent": 100, "solid_points": back[1]["solid_points"]}])),
        &melt(&json!([{"name": "x", "percent": 100, "solid_points": recipe[1]["solid_points"]}])),
        0.0,
    );
}

#[test]
fn what_an_own_lot_is_like_lends_its_label_name_and_its_allergens() {
    let recipe = json!([
        {"name": "lot 7", "percent": 60, "like": "shea-butter", "melts_at_c": 34},
        {"id": "beeswax", "percent": 40}
    ]);
    let reply = reply(&json!({"ask": "batch", "recipe": recipe}));
    let label = &reply["answer"]["label"];
    assert_eq!(label["allergens"], json!(["bee", "tree-nut"]), "{reply}");
    assert_eq!(label["names"][0]["inci"], "Butyrospermum Parkii (Shea) Butter");
}
