//! What may hurt someone is told, whatever else there is to say.

use serde_json::Value;

use crate::ask::behave;

fn kinds(list: &Value) -> Vec<&str> {
    list.as_array().unwrap().iter().map(|one| one["kind"].as_str().unwrap()).collect()
}

/// Essential oil and fragrance together against the 2 % that the catalogue has of IFRA's certificates.
#[test]
fn too_much_perfume_is_no_good_news() {
    for (perfume, told) in [
        (&[("essential-oil", 2.0)][..], false),
        (&[("essential-oil", 5.0)], true),
        (&[("essential-oil", 1.5), ("fragrance", 1.5)], true),
    ] {
        let held: f64 = perfume.iter().map(|(_, percent)| percent).sum();
        let lines: Vec<(&str, f64)> =
            perfume.iter().copied().chain([("shea-butter", 80.0), ("olive-oil", 20.0 - held)]).collect();
        let verdict = behave(&lines, "whipped", 20.0, 25.0)["verdict"].clone();
        assert_eq!(kinds(&verdict["findings"]).contains(&"too-much-perfume"), told, "{lines:?}: {verdict}");
        assert_eq!(verdict["mood"] == "good", !told, "{lines:?}: {verdict}");
    }
}

/// The trade's ceilings (common practice, no source).
#[test]
fn more_than_the_trade_takes_is_told() {
    let lines = [("sodium-bicarbonate", 30.0), ("shea-butter", 70.0)];
    let told = behave(&lines, "pot", 18.0, 25.0);
    let remarks = told["verdict"]["remarks"].as_array().unwrap();
    let above = remarks.iter().find(|remark| remark["kind"] == "above-use").unwrap();
    assert_eq!((&above["id"], above["most_percent"].as_f64()), (&"sodium-bicarbonate".into(), Some(10.0)));
    let usual = behave(&[("sodium-bicarbonate", 10.0), ("shea-butter", 90.0)], "pot", 18.0, 25.0);
    assert!(!kinds(&usual["verdict"]["remarks"]).contains(&"above-use"));
}

/// Undecane catches fire from 60 to 65 °C, limonene from 48 (safety data sheets, from memory).
#[test]
fn vapour_that_catches_fire_where_fats_melt_is_told() {
    let plain = behave(&[("beeswax", 20.0), ("olive-oil", 80.0)], "pot", 20.0, 25.0);
    assert!(!kinds(&plain["cautions"]).contains(&"vapour"));
    for light in ["undecane-tridecane", "essential-oil", "fragrance"] {
        let told = behave(&[("beeswax", 20.0), ("olive-oil", 79.0), (light, 1.0)], "pot", 20.0, 25.0);
        let cautions = told["cautions"].as_array().unwrap();
        let vapour = cautions.iter().find(|caution| caution["kind"] == "vapour").unwrap();
        assert!(vapour["flash_from_c"].as_f64().unwrap() <= 48.0, "{light}: {vapour}");
    }
}

/// Snapping throughout is not good in a pot, whatever was not wished (common practice, no source).
#[test]
fn what_no_hand_takes_out_is_no_good_news() {
    let told = behave(&[("kokum-butter", 100.0)], "pot", 18.0, 25.0);
    assert_eq!(told["verdict"]["mood"], "doubtful");
    assert!(kinds(&told["verdict"]["findings"]).contains(&"hard-to-take-out"));
}

/// A bar of thirds leaves its mould in a cool room (common practice, no source).
#[test]
fn a_bar_leaves_its_mould_in_a_cool_room() {
    let thirds = [("beeswax", 34.0), ("shea-butter", 33.0), ("coconut-oil", 33.0)];
    let told = behave(&thirds, "bar", 18.0, 30.0);
    let steps = told["steps"].as_array().unwrap();
    let demould = steps.iter().find(|step| step["kind"] == "demould").unwrap();
    assert_eq!(demould["below_c"], 20.0);
}
