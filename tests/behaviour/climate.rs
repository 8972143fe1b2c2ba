//! What three recipes of our own do in their climates.

use serde_json::json;

use crate::ask::{answer, behave, error, kinds, number, recipe, signs, text};

const WHIPPED: [(&str, f64); 3] = [("shea-butter", 45.0), ("sweet-almond-oil", 45.0), ("coconut-oil", 10.0)];
const BAR: [(&str, f64); 3] = [("cocoa-butter", 80.0), ("shea-butter", 12.0), ("jojoba-oil", 8.0)];
const POT: [(&str, f64); 3] = [("coconut-oil", 85.0), ("olive-oil", 10.0), ("shea-butter", 5.0)];

#[test]
fn a_whipped_shea_butter_goes_slack_in_the_heat() {
    let hot = behave(&WHIPPED, "whipped", 18.0, 34.0);
    assert_eq!(hot["verdict"]["mood"], "bad");
    let fails = &hot["verdict"]["findings"][0];
    assert_eq!((text(&fails["kind"]), text(&fails["format"])), ("fails-in-heat", "whipped"));
    assert_eq!((&fails["hottest_c"], &fails["holds_to_c"]), (&json!(34.0), &hot["softening_c"]));
    assert!(!hot["places"]["hottest"]["holds"].as_bool().unwrap());
    assert_eq!(hot["misses"][0]["wish"], "holds-at-hottest");
    let cool = behave(&WHIPPED, "whipped", 16.0, 22.0);
    assert_ne!(cool["verdict"]["mood"], "bad");
    assert!(cool["misses"].as_array().unwrap().is_empty());
    assert_eq!(cool["softening_c"], hot["softening_c"]);
}

#[test]
fn a_cocoa_bar_is_too_hard_in_the_cold_when_a_scoop_is_wanted() {
    let ask = |firmness: Option<&str>| {
        answer(&json!({
            "ask": "behave", "recipe": recipe(&BAR), "format": "pot",
            "storage_c": {"coldest": 18, "hottest": 26}, "firmness": firmness,
        }))
    };
    // With a wish, the verdict speaks of every day; without one, of the cold.
    for (answer, finding) in [
        (ask(None), json!({"kind": "hard-to-take-out", "coldest_c": 18.0})),
        (ask(Some("scoopable")), json!({"kind": "too-hard", "usual_c": 22.0})),
    ] {
        assert!(signs(&answer).contains(&"too-hard-in-the-cold"));
        assert_eq!(answer["verdict"]["findings"].as_array().unwrap().last(), Some(&finding));
    }
    assert!(!signs(&ask(Some("snapping"))).contains(&"too-hard-in-the-cold"));
    assert!(!signs(&behave(&BAR, "bar", 18.0, 26.0)).contains(&"too-hard-in-the-cold"));
}

#[test]
fn a_coconut_pot_turns_to_oil_and_paper_leaks() {
    let ask = |pack: &str| {
        answer(&json!({
            "ask": "behave", "recipe": recipe(&POT), "format": "pot", "pack": pack,
            "storage_c": {"coldest": 18, "hottest": 30},
        }))
    };
    let paper = ask("paper-tube");
    assert!(signs(&paper).contains(&"turns-to-oil"));
    assert_eq!(paper["places"]["hottest"]["firmness"], "pourable");
    assert_eq!(paper["pack"]["holds"], false);
    assert_eq!(ask("jar")["pack"]["holds"], true);
    assert_eq!(behave(&POT, "pot", 18.0, 30.0)["pack"], json!(null));
}

#[test]
fn the_gap_closes_and_is_told() {
    for (hottest, gap, skin_k, warning) in [
        (24.0, "wide", 8.5, None),
        (30.0, "narrow", 2.5, Some("skin-is-near")),
        (36.0, "none", -3.5, Some("as-warm-as-skin")),
    ] {
        let answer = behave(&BAR, "bar", 18.0, hottest);
        let room = &answer["room"];
        assert_eq!((text(&room["gap"]), number(&room["storage_to_skin_k"])), (gap, skin_k));
        let remarks = kinds(&answer["verdict"]["remarks"]);
        let of_skin = remarks.into_iter().filter(|kind| kind.contains("skin"));
        assert_eq!(of_skin.collect::<Vec<_>>(), warning.as_slice(), "{hottest}");
        assert!(gap != "none" || answer["verdict"]["mood"] != "good");
    }
}

#[test]
fn making_is_safe_and_in_order() {
    for (lines, format) in [(&WHIPPED, "whipped"), (&BAR, "bar"), (&POT, "pot")] {
        let answer = behave(lines, format, 18.0, 26.0);
        let making = &answer["making"];
        assert!(number(&making["melt_out_c"]) >= number(&answer["clear_c"]) + 10.0);
        assert_eq!(answer["steps"][0]["kind"], "melt-out");
        assert_eq!(kinds(&answer["cautions"])[..3], ["open-heat", "water", "burns"]);
        let whips = making["whip_c"].is_array();
        assert_eq!(whips, format == "whipped");
        assert_eq!(making["demould_c"].is_number(), format == "bar");
    }
}

#[test]
fn a_dab_says_how_fast() {
    let with = |film_mm: f64| {
        answer(&json!({
            "ask": "behave", "recipe": recipe(&POT), "format": "pot",
            "storage_c": {"coldest": 15, "hottest": 22}, "dab": {"film_mm": film_mm},
        }))
    };
    let (thin, thick) = (with(1.0), with(3.0));
    let half = |answer: &serde_json::Value| number(&answer["dab"]["on_skin"]["half_s"]);
    assert!(half(&thin) < half(&thick));
    assert!(half(&thick) < number(&thick["dab"]["on_skin"]["residue_s"]));
    assert!(number(&thick["dab"]["between_palms"]["half_s"]) < half(&thick));
    let melts = &thin["dab"]["melts"];
    assert_eq!((text(&melts["kind"]), &melts["skin_s"]), ("both", &thin["dab"]["on_skin"]["half_s"]));
}

/// Powder thickens, but neither melts nor binds.
#[test]
fn powder_is_told_for_what_it_is() {
    let all = behave(&[("tapioca-starch", 100.0)], "pot", 15.0, 25.0);
    assert_eq!(all["verdict"]["mood"], "bad");
    assert_eq!(kinds(&all["verdict"]["findings"]), ["mostly-powder"]);
    assert_eq!(all["making"]["pour_c"], json!(null));
    let paste = behave(&[("tapioca-starch", 35.0), ("olive-oil", 65.0)], "pot", 15.0, 25.0);
    assert!(kinds(&paste["verdict"]["remarks"]).contains(&"paste"), "{}", paste["verdict"]);
    // A slurry of a third is no butter, whatever the climate.
    assert_eq!(paste["verdict"]["mood"], "bad");
    // Olive oil sets in part.
    assert!(number(&paste["softening_c"]) < 10.0, "{}", paste["softening_c"]);
    let held =
        behave(&[("tapioca-starch", 28.0), ("shea-butter", 50.0), ("olive-oil", 22.0)], "pot", 15.0, 30.0);
    assert!(kinds(&held["verdict"]["remarks"]).contains(&"powder-decides"), "{}", held["verdict"]);
}

#[test]
fn what_melts_melts_between_palms_in_seconds_and_what_leaves_a_film_is_told_no_time() {
    let dab = |recipe: serde_json::Value| {
        let storage = json!({"coldest": 15, "hottest": 28});
        answer(
            &json!({"ask": "behave", "recipe": recipe, "format": "pot", "storage_c": storage, "skin_c": 33}),
        )["dab"]
            .clone()
    };
    // 10 to 30 s of rubbing, as makers see (common practice, no source).
    let shea = dab(json!([{"id": "shea-butter", "percent": 100}]));
    let palms_s = number(&shea["between_palms"]["half_s"]);
    assert!((2.0..=30.0).contains(&palms_s), "{shea}");
    assert_eq!(shea["on_skin"]["skin_c"], shea["between_palms"]["skin_c"]);
    let bar = dab(json!([
        {"id": "beeswax", "percent": 33}, {"id": "cocoa-butter", "percent": 33}, {"id": "coconut-oil", "percent": 34}
    ]));
    assert_eq!(bar["melts"]["kind"], "leaves-film");
    for place in ["on_skin", "between_palms"] {
        assert!(bar[place]["half_s"].is_null() && bar[place]["residue_s"].is_null(), "{bar}");
    }
}

/// The catalogue says that 1 to 3 % of it gels oil (oleogel literature, from memory), which no equilibrium
/// has.
#[test]
fn of_an_oil_that_is_gelled_nothing_is_foreseen() {
    for (id, percent) in [("12-hydroxystearic-acid", 3.0), ("hydrogenated-castor-oil", 5.0)] {
        let gel = behave(&[(id, percent), ("sunflower-oil", 100.0 - percent)], "pot", 15.0, 30.0);
        assert_eq!(kinds(&gel["verdict"]["findings"]), ["gel-not-foreseen"], "{id}");
        assert!(kinds(&gel["verdict"]["remarks"]).contains(&"gels-oil"));
        assert_eq!(gel["troubles"], json!([]));
    }
}

#[test]
fn a_dab_without_solids_is_not_said_to_lose_them() {
    let oil = behave(&[("olive-oil", 100.0)], "pot", 15.0, 25.0);
    assert_eq!(oil["dab"]["melts"]["kind"], "nothing-solid");
    let hot = behave(&[("shea-butter", 100.0)], "pot", 60.0, 60.0);
    assert_eq!(hot["dab"]["melts"], json!({"kind": "nothing-solid", "start_c": 60.0}));
}

#[test]
fn bands_hold_the_figures_they_are_about() {
    let answer = behave(&[("shea-butter", 70.0), ("beeswax", 4.0), ("olive-oil", 26.0)], "pot", 15.0, 30.0);
    for place in ["coldest", "usual", "hottest", "skin"] {
        let place = &answer["places"][place];
        let structure = number(&place["structure_percent"]);
        let (low, high) =
            (number(&place["structure_band_percent"][0]), number(&place["structure_band_percent"][1]));
        assert!(low <= structure && structure <= high);
        assert!(structure >= number(&place["solid_percent"]));
    }
    let (low, high) = (number(&answer["softening_band_c"][0]), number(&answer["softening_band_c"][1]));
    let softening = number(&answer["softening_c"]);
    assert!(low < softening && softening < high, "{low} {softening} {high}");
}

#[test]
fn nonsense_is_refused_with_the_place_and_the_fix() {
    let ask = |coldest: f64, hottest: f64, skin_c: f64, film_mm: f64| {
        json!({
            "ask": "behave", "recipe": recipe(&POT), "format": "pot", "skin_c": skin_c,
            "storage_c": {"coldest": coldest, "hottest": hottest}, "dab": {"film_mm": film_mm},
        })
    };
    for (request, kind, at) in [
        (ask(30.0, 20.0, 32.5, 2.0), "conflict", "storage_c"),
        (ask(-90.0, 20.0, 32.5, 2.0), "out-of-range", "storage_c.coldest"),
        (ask(10.0, 90.0, 32.5, 2.0), "out-of-range", "storage_c.hottest"),
        (ask(10.0, 20.0, 90.0, 2.0), "out-of-range", "skin_c"),
        (ask(10.0, 20.0, 32.5, 0.0), "out-of-range", "dab.film_mm"),
    ] {
        let error = error(&request);
        assert_eq!((text(&error["kind"]), text(&error["at"])), (kind, at), "{error}");
        assert!(!text(&error["message"]).is_empty());
    }
    // The corners of what is allowed are answered.
    for (coldest, hottest) in [(-20.0, -20.0), (-20.0, 60.0), (60.0, 60.0), (32.5, 32.5)] {
        answer(&ask(coldest, hottest, 32.5, 2.0));
    }
}
