//! The question as it is asked, in JSON: the fixed forms, and every way in which it can be refused.

use crate::{OF_WISHES, ask::reply as ask};
use serde_json::{Value, json};

fn request() -> Value {
    json!({
        "ask": "rework",
        "recipe": [
            {"id": "shea-butter", "percent": 60},
            {"id": "sweet-almond-oil", "percent": 30},
            {"id": "jojoba-oil", "percent": 10},
        ],
        "format": "whipped",
        "storage_c": {"coldest": 16, "hottest": 30},
        "skin_c": 32.5,
        "firmness": "scoopable",
        "on_skin": "melts",
        "limits": {
            "wax_percent": 3, "fatty_acid_percent": 6, "step_percent": 0.5, "changes": 3, "surety": "even",
            "locked": ["shea-butter"], "pantry": ["cocoa-butter", "stearic-acid", "candelilla-wax"],
        },
    })
}

/// The answer to [`request`] with some limits replaced.
fn with(limits: Value) -> Value {
    let mut request = request();
    for (key, value) in limits.as_object().unwrap() {
        request["limits"][key] = value.clone();
    }
    ask(&request)
}

#[track_caller]
fn refused(reply: &Value, kind: &str, at: &str) {
    assert_eq!(reply["error"]["kind"], kind, "{reply}");
    assert_eq!(reply["error"]["at"], at, "{reply}");
    assert!(reply["error"]["message"].as_str().is_some_and(|message| message.len() > 20), "{reply}");
}

#[test]
fn the_answer_has_the_fixed_form_and_keeps_the_limits() {
    let reply = ask(&request());
    let proposals = reply["answer"]["proposals"].as_array().unwrap();
    assert!(!proposals.is_empty());
    assert!(reply["answer"]["examined"].as_u64().unwrap() > 100);
    for proposal in proposals {
        assert_eq!(proposal["meets_all"], true);
        assert_eq!(proposal["misses"], json!([]));
        assert!(proposal["slip_c"].is_f64());
        for place in ["coldest", "usual", "hottest", "skin"] {
            assert!(proposal["solid_percent"][place].is_f64(), "{proposal}");
        }
        let recipe = proposal["recipe"].as_array().unwrap();
        let percent = |id: &str| {
            recipe.iter().find(|item| item["id"] == id).map_or(0.0, |item| item["percent"].as_f64().unwrap())
        };
        let sum: f64 = recipe.iter().map(|item| item["percent"].as_f64().unwrap()).sum();
        assert!((sum - 100.0).abs() < 1e-6);
        assert_eq!(percent("shea-butter"), 60.0);
        assert!(percent("candelilla-wax") <= 3.0 && percent("stearic-acid") <= 6.0);
        let changes = proposal["changes"].as_array().unwrap();
        assert!((2..=3).contains(&changes.len()));
        for change in changes {
            let to = change["to_percent"].as_f64().unwrap();
            assert_eq!(to * 2.0, (to * 2.0).round(), "{to} is not on the step");
            assert_eq!(percent(change["id"].as_str().unwrap()), to);
        }
        // The same recipe, asked of `behave`, meets every wish too.
        let mut behave = request();
        behave["ask"] = json!("behave");
        behave["recipe"] = proposal["recipe"].clone();
        behave.as_object_mut().unwrap().remove("limits");
        assert_eq!(ask(&behave)["answer"]["misses"], json!([]));
    }
}

#[test]
fn a_recipe_that_meets_every_wish_is_left_alone() {
    let mut first = request();
    first["recipe"] = ask(&first)["answer"]["proposals"][0]["recipe"].clone();
    let reply = ask(&first);
    assert_eq!(reply["answer"]["proposals"].as_array().unwrap().len(), 1);
    assert_eq!(reply["answer"]["proposals"][0]["changes"], json!([]));
    assert_eq!(reply["answer"]["proposals"][0]["meets_all"], true);
}

#[test]
fn what_cannot_be_is_refused_with_its_place() {
    refused(&with(json!({"pantry": ["cocoa-buter"]})), "unknown-ingredient", "limits.pantry[0]");
    refused(&with(json!({"locked": ["beeswax"]})), "unknown-ingredient", "limits.locked[0]");
    refused(&with(json!({"locked": ["cocoa-butter"]})), "unknown-ingredient", "limits.locked[0]");
    refused(&with(json!({"wax_percent": 35.5})), "out-of-range", "limits.wax_percent");
    refused(&with(json!({"wax_percent": -1})), "out-of-range", "limits.wax_percent");
    refused(&with(json!({"fatty_acid_percent": 101})), "out-of-range", "limits.fatty_acid_percent");
    refused(&with(json!({"step_percent": 0})), "out-of-range", "limits.step_percent");
    refused(&with(json!({"step_percent": -0.5})), "out-of-range", "limits.step_percent");
    refused(&with(json!({"changes": 0})), "out-of-range", "limits.changes");
    refused(&with(json!({"changes": 4})), "out-of-range", "limits.changes");
    refused(
        &with(json!({"bounds": {"jojoba-oil": {"min": 20, "max": 10}}})),
        "conflict",
        "limits.bounds.jojoba-oil",
    );
    refused(
        &with(json!({"bounds": {"jojoba-oil": {"min": 200}}})),
        "out-of-range",
        "limits.bounds.jojoba-oil",
    );
    refused(&with(json!({"bounds": {"shea-butter": {"max": 50}}})), "conflict", "limits.bounds.shea-butter");
    refused(&with(json!({"bounds": {"jojoba-oil": {"min": 50}}})), "conflict", "limits.bounds");
    refused(&with(json!({"bounds": {"beeswax": {"min": 1}}})), "unknown-ingredient", "limits.bounds.beeswax");
    refused(&with(json!({"locked": "shea-butter"})), "malformed", "limits.locked");
}

#[test]
fn a_locked_recipe_that_breaks_a_cap_is_refused() {
    let mut waxy = request();
    waxy["recipe"] = json!([
        {"id": "shea-butter", "percent": 60}, {"id": "olive-oil", "percent": 35}, {"id": "beeswax", "percent": 5},
    ]);
    waxy["limits"]["locked"] = json!(["beeswax"]);
    refused(&ask(&waxy), "conflict", "limits.wax_percent");
    // Unlocked, it must give way, whatever the wishes say.
    waxy["limits"]["locked"] = json!([]);
    let reply = ask(&waxy);
    for item in reply["answer"]["proposals"][0]["recipe"].as_array().unwrap() {
        assert!(item["id"] != "beeswax" || item["percent"].as_f64().unwrap() <= 3.0, "{reply}");
    }
}

#[test]
fn temperatures_that_cannot_be_are_refused() {
    let mut cold = request();
    cold["storage_c"] = json!({"coldest": 31, "hottest": 16});
    refused(&ask(&cold), "conflict", "storage_c");
    cold["storage_c"] = json!({"coldest": -300, "hottest": 16});
    refused(&ask(&cold), "out-of-range", "storage_c.coldest");
}

#[test]
fn an_own_ingredient_goes_by_its_name() {
    let mut own = request();
    own["recipe"] = json!([
        {"name": "lot 7", "percent": 60, "composition": {"SOS": 26, "POS": 40, "POP": 17, "SOO": 6, "liquid": 11}, "like": "cocoa-butter"},
        {"id": "sweet-almond-oil", "percent": 40},
    ]);
    own["firmness"] = json!("soft");
    own["limits"] = json!({});
    let reply = ask(&own);
    let changes = reply["answer"]["proposals"][0]["changes"].as_array().unwrap();
    assert!(changes.iter().any(|change| change["id"] == "lot 7"), "{reply}");
    assert!(reply["answer"]["proposals"][0]["recipe"][0]["composition"].is_object());
    own["limits"] = json!({"locked": ["lot 7"]});
    assert!(
        ask(&own)["answer"]["proposals"]
            .as_array()
            .unwrap()
            .iter()
            .all(|proposal| proposal["changes"] == json!([]))
    );
}

/// What a search answers can be asked again as it stands: a line without id and name keeps its make-up, and a
/// catalogue line that is called as another does not take its place.
#[test]
fn every_line_comes_back_as_it_was_asked() {
    let mut request = request();
    request["recipe"] = json!([
        {"id": "beeswax", "name": "market fat", "percent": 5},
        {"percent": 55, "composition": {"SOS": 40, "SOO": 30, "OOO": 30}},
        {"name": "market fat", "percent": 40, "like": "shea-butter"},
    ]);
    request["limits"]["locked"] = json!([]);
    let same = |line: &Value, asked: &Value| {
        let (mut line, mut asked) = (line.clone(), asked.clone());
        line["percent"] = json!(0);
        asked["percent"] = json!(0);
        line == asked
    };
    let recipes = |request: &Value| -> Vec<Value> {
        let reply = ask(request);
        let proposals = reply["answer"]["proposals"].as_array().unwrap_or_else(|| panic!("{reply}"));
        proposals.iter().map(|one| one["recipe"].clone()).collect()
    };
    let rework = recipes(&request);
    request["ask"] = json!("rescue");
    request["made"] = json!({"grams": 400});
    let rescued = ask(&request);
    let rescued = rescued["answer"]["proposals"].as_array().unwrap_or_else(|| panic!("{rescued}"));
    let rescued = rescued.iter().map(|one| one["recipe"].clone());
    for recipe in rework.into_iter().chain(rescued) {
        let asked = request["recipe"].as_array().unwrap();
        for line in recipe.as_array().unwrap() {
            let known = asked.iter().any(|asked| same(line, asked));
            assert!(known || line.get("name").is_none() && line["id"] != "own ingredient", "{line}");
        }
        let again = json!({"ask": "behave", "recipe": recipe, "format": "pot", "storage_c": {"coldest": 16, "hottest": 25}});
        assert!(ask(&again)["answer"].is_object(), "{}", ask(&again));
    }
}

/// A price goes with what a line goes by, there and back through a link.
#[test]
fn a_link_keeps_the_price_of_an_own_lot_that_has_an_id() {
    let state = json!({
        "recipe": [{"id": "shea-butter", "name": "my shea", "percent": 60, "composition": {"SOS": 50, "OOO": 50}},
            {"id": "olive-oil", "name": "the good oil", "percent": 40}],
        "format": "pot", "storage_c": {"coldest": 16, "hottest": 25}, "skin_c": 32.5,
        "prices": {"my shea": 12.0, "olive-oil": 8.0},
    });
    let link = ask(&json!({"ask": "link", "state": state}));
    let opened = ask(&json!({"ask": "open-link", "fragment": link["answer"]["fragment"]}));
    assert_eq!(opened["answer"]["state"]["prices"], state["prices"], "{link} {opened}");
}

#[test]
fn amounts_off_the_step_stay_until_they_change() {
    let mut off = request();
    off["recipe"] = json!([
        {"id": "shea-butter", "percent": 33.33}, {"id": "coconut-oil", "percent": 33.33}, {"id": "sunflower-oil", "percent": 33.34},
    ]);
    off["limits"] = json!({"pantry": ["cocoa-butter", "stearic-acid"]});
    let reply = ask(&off);
    for proposal in reply["answer"]["proposals"].as_array().unwrap() {
        let changes = proposal["changes"].as_array().unwrap();
        assert!(!changes.is_empty());
        let on_step = |change: &&Value| (change["to_percent"].as_f64().unwrap() * 2.0).fract() == 0.0;
        assert!(changes.iter().filter(on_step).count() + 1 >= changes.len(), "{proposal}");
    }
}

/// A field that is not known is refused where it stands, with the one that may be meant: never taken for one
/// that is left out.
#[test]
fn a_field_that_is_not_known_is_named() {
    let plain = request();
    let cases = [
        ("/recipe/1", "percnt", "recipe[1].percnt", "did you mean `percent`"),
        ("/recipe/1", "smell", "recipe[1].smell", "but id, name, percent"),
        ("/limits", "step_percents", "limits.step_percents", "did you mean `step_percent`"),
        ("/storage_c", "hotest", "storage_c.hotest", "did you mean `hottest`"),
        ("", "fimness", "fimness", "did you mean `firmness`"),
        ("", "summer", "summer", "but ask, recipe, limits, aim, why_not, format, storage_c"),
    ];
    for (place, field, at, said) in cases {
        let mut request = plain.clone();
        request.pointer_mut(place).unwrap()[field] = json!(1);
        let reply = ask(&request);
        refused(&reply, "malformed", at);
        assert!(reply["error"]["message"].as_str().unwrap().contains(said), "{reply}");
    }
    // What is misspelt comes before what is missing because of it.
    let mut request = plain.clone();
    request["recipe"][0] = json!({"id": "shea-butter", "percnt": 60});
    refused(&ask(&request), "malformed", "recipe[0].percnt");
    // Every question refuses, also within a state; one that may be of a later version is written as far as it
    // is known, and this is said.
    refused(&ask(&json!({"ask": "ingredients", "of": "shea-butter"})), "malformed", "of");
    refused(&ask(&json!({"ask": "open-link", "fragment": "v1", "link": "x"})), "malformed", "link");
    let mut state =
        json!({"recipe": plain["recipe"], "format": "pot", "storage_c": plain["storage_c"], "skin_c": 32.5});
    let link = ask(&json!({"ask": "link", "state": state}));
    assert!(link["answer"]["fragment"].is_string(), "{link}");
    state["scent"] = json!("rose");
    let refusal = ask(&json!({"ask": "link", "state": state}));
    refused(&refusal, "malformed", "state.scent");
    assert!(refusal["error"]["message"].as_str().unwrap().contains("no such field"), "{refusal}");
    let newer = ask(&json!({"ask": "link", "state": state, "may_be_newer": true}));
    assert_eq!(newer["answer"]["fragment"], link["answer"]["fragment"]);
    assert_eq!((&link["answer"]["newer"], &newer["answer"]["newer"]), (&json!(false), &json!(true)));
    state["limits"] = json!({"step_percent": "half"});
    let refusal = ask(&json!({"ask": "link", "state": state, "may_be_newer": true}));
    refused(&refusal, "malformed", "state.limits.step_percent");
}

/// Each answer to `why_not`: which wishes give, by how many points; what it says is checked on the way.
fn in_the_way(recipe: Value, pantry: Value) -> Vec<Vec<(String, f64)>> {
    let reply = ask(&json!({
        "ask": "rework", "recipe": recipe, "format": "pot", "firmness": "scoopable", "why_not": true,
        "storage_c": {"coldest": 10, "hottest": 30}, "limits": {"pantry": pantry, "surety": "even"},
    }));
    let told = |it: &Value| (it["wish"].as_str().unwrap().to_owned(), it["gives_points"].as_f64().unwrap());
    let list = reply["answer"]["why_not"].as_array().unwrap().iter();
    list.map(|it| {
        let all: Vec<_> =
            std::iter::once(it).chain(it["with"].as_array().into_iter().flatten()).map(told).collect();
        // What gives is what the recipe misses, and by as much.
        let misses = it["proposal"]["misses"].as_array().unwrap();
        assert_eq!(misses.len(), all.len(), "{it}");
        for (miss, (wish, points)) in misses.iter().zip(&all) {
            let off = |end: &str| {
                miss[end].as_f64().map(|limit| (limit - miss["found_percent"].as_f64().unwrap()).abs())
            };
            assert_eq!(miss["wish"], **wish);
            assert!(
                [off("low_percent"), off("high_percent")]
                    .into_iter()
                    .flatten()
                    .any(|it| (it - points).abs() < 1e-9)
            );
        }
        all
    })
    .collect()
}

#[test]
fn where_nothing_meets_every_wish_the_ones_in_the_way_are_named() {
    // Keeping its shape and the firmness at the hottest ask for the same figure: neither gives alone, both do
    // together.
    let soft = json!([{"id": "coconut-oil", "percent": 70}, {"id": "olive-oil", "percent": 30}]);
    let found = in_the_way(soft, json!(["candelilla-wax"]));
    let names: Vec<Vec<&str>> =
        found.iter().map(|all| all.iter().map(|(wish, _)| wish.as_str()).collect()).collect();
    assert_eq!(names, [["holds-at-hottest", "firm-enough-at-hottest"]]);
    // Of two oils nothing is made that has any structure: all that is missed is named.
    let oils = json!([{"id": "sunflower-oil", "percent": 70}, {"id": "olive-oil", "percent": 30}]);
    let found = in_the_way(oils, json!([]));
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0][1], ("firmness-at-usual".to_owned(), 18.0));
}

#[test]
fn what_is_to_be_as_now_is_not_held_to_wishes() {
    let mut request = json!({
        "ask": "rework", "aim": "as-now", "format": "bar", "storage_c": {"coldest": 10, "hottest": 30},
        "firmness": "hard", "on_skin": "stays",
        "recipe": [{"id": "coconut-oil", "percent": 30}, {"id": "shea-butter", "percent": 40}, {"id": "olive-oil", "percent": 30}],
        "limits": {"refuse": ["coconut-oil"], "pantry": ["cocoa-butter"]},
    });
    let reply = ask(&request);
    let first = &reply["answer"]["proposals"][0];
    assert!(!first["misses"].as_array().unwrap().is_empty(), "{first}");
    for miss in first["misses"].as_array().unwrap() {
        let (low, high, found) =
            (&miss["low_percent"], &miss["high_percent"], miss["found_percent"].as_f64().unwrap());
        assert!(low == high && (found - low.as_f64().unwrap()).abs() > 0.5, "{miss}");
        assert!(miss["kind"].as_str().unwrap().ends_with("-than-now"), "{miss}");
    }
    assert_eq!(first["meets_all"].as_bool(), first["misses"].as_array().map(Vec::is_empty));
    for finding in first["findings"].as_array().unwrap() {
        assert!(!OF_WISHES.contains(&finding["kind"].as_str().unwrap()), "{first}");
    }
    // Nothing must go: it stays, though it meets none of the wishes.
    request["limits"] = json!({});
    let reply = ask(&request);
    let first = &reply["answer"]["proposals"][0];
    assert_eq!(
        (&first["changes"], &first["misses"], &first["meets_all"]),
        (&json!([]), &json!([]), &json!(true))
    );
}

/// What nobody set is no reason for a change: the cap on wax then never lies below what the recipe holds.
#[test]
fn a_cap_that_nobody_set_takes_nothing_away() {
    let balm = json!({
        "ask": "rework", "format": "pot", "storage_c": {"coldest": 18, "hottest": 30},
        "recipe": [{"id": "shea-butter", "percent": 60}, {"id": "beeswax", "percent": 4}, {"id": "sunflower-oil", "percent": 36}],
    });
    let thirds = json!({
        "ask": "rework", "format": "stick", "storage_c": {"coldest": 18, "hottest": 30}, "firmness": "hard",
        "recipe": [{"id": "beeswax", "percent": 36}, {"id": "cocoa-butter", "percent": 32}, {"id": "olive-oil", "percent": 32}],
    });
    for request in [balm, thirds] {
        let first = &ask(&request)["answer"]["proposals"][0];
        assert_eq!(first["changes"], json!([]), "{first}");
    }
}

#[test]
fn vegan_leaves_nothing_of_animals() {
    let mut request = request();
    request["recipe"] = json!([
        {"id": "shea-butter", "percent": 60}, {"id": "olive-oil", "percent": 36}, {"id": "beeswax", "percent": 4},
    ]);
    request["limits"] =
        json!({"refuse": ["vegan"], "pantry": ["lanolin", "tallow", "candelilla-wax", "cocoa-butter"]});
    let reply = ask(&request);
    let proposals = reply["answer"]["proposals"].as_array().unwrap_or_else(|| panic!("{reply}"));
    for item in proposals.iter().flat_map(|it| it["recipe"].as_array().unwrap()) {
        assert!(!["beeswax", "lanolin", "tallow"].contains(&item["id"].as_str().unwrap()), "{item}");
    }
}

/// Warmth only softens, so that what is softer every day than its format bears in the heat is refused at
/// once; to stay as it is may be asked of anything.
#[test]
fn a_soft_bar_is_refused_in_words() {
    let mut request = request();
    for (format, firmness, is_refused) in [
        ("bar", "soft", true),
        ("bar", "scoopable", true),
        ("bar", "firm", false),
        ("stick", "soft", true),
        ("stick", "scoopable", false),
        ("pot", "pourable", true),
        ("pot", "slack", true),
        ("pot", "soft", false),
    ] {
        request["format"] = json!(format);
        request["firmness"] = json!(firmness);
        let reply = ask(&request);
        if is_refused {
            refused(&reply, "conflict", "firmness");
        } else {
            assert!(reply["answer"].is_object(), "{format} {firmness}: {reply}");
        }
    }
    request["firmness"] = json!("pourable");
    request["aim"] = json!("as-now");
    assert!(ask(&request)["answer"].is_object());
}

/// Two seasons with every wish ask at ten temperatures, since each holds with room.
#[test]
fn two_seasons_with_every_wish_are_answered() {
    let season = |coldest: f64, hottest: f64| {
        json!({
            "format": "whipped", "firmness": "scoopable", "on_skin": "melts",
            "storage_c": {"coldest": coldest, "hottest": hottest},
        })
    };
    let reply = ask(&json!({
        "ask": "seasons", "summer": season(18.0, 30.0), "winter": season(-5.0, 4.0),
        "recipe": [
            {"id": "shea-butter", "percent": 50}, {"id": "coconut-oil", "percent": 20},
            {"id": "sweet-almond-oil", "percent": 30},
        ],
        "limits": {"pantry": ["cocoa-butter", "kokum-butter", "stearic-acid", "beeswax", "sunflower-oil"]},
    }));
    for season in ["summer", "winter"] {
        assert!(
            reply["answer"][season]["odds"]["holds"].as_f64().is_some_and(|odds| odds >= 0.75),
            "{reply}"
        );
    }
    assert!(!reply["answer"]["differ"].as_array().unwrap().is_empty(), "{reply}");
}
