//! Caps on classes of ingredients.

use meltmargin::contract::answer;
use serde_json::{Value, json};

#[test]
fn classes_have_caps_that_take_nothing_away() {
    let oils = |more: Value, limits: Value| {
        let request = json!({
            "ask": "rework", "format": "pot", "storage_c": {"coldest": 18, "hottest": 28}, "firmness": "firm",
            "recipe": [{"id": "olive-oil", "percent": 80}, more], "limits": limits,
        });
        let proposals = answer(&request)["answer"]["proposals"].as_array().unwrap().clone();
        assert!(!proposals.is_empty(), "{request}");
        proposals
    };
    let percent = |proposal: &Value, id: &str| -> f64 {
        let items = proposal["recipe"].as_array().unwrap();
        items.iter().filter(|item| item["id"] == id).map(|item| item["percent"].as_f64().unwrap()).sum()
    };
    let limits = json!({"pantry": ["cetyl-alcohol", "behenyl-alcohol"], "use_ceilings": false, "locked": ["shea-butter"]});
    let shea = json!({"id": "shea-butter", "percent": 20});
    for proposal in oils(shea.clone(), limits.clone()) {
        let alcohols = percent(&proposal, "cetyl-alcohol") + percent(&proposal, "behenyl-alcohol");
        assert!(alcohols <= 6.0, "{proposal}");
    }
    // Asked for, it may be more, and is.
    let mut more = limits;
    more["fatty_alcohol_percent"] = json!(15);
    let first = &oils(shea, more)[0];
    assert!(percent(first, "cetyl-alcohol") + percent(first, "behenyl-alcohol") > 6.0, "{first}");
    // What is there stays, unless a cap is asked for.
    let zinc = json!({"id": "zinc-oxide", "percent": 20});
    let kept = oils(zinc.clone(), json!({"pantry": ["cocoa-butter"], "locked": ["zinc-oxide"]}));
    assert_eq!(percent(&kept[0], "zinc-oxide"), 20.0);
    let capped = oils(zinc, json!({"pantry": ["cocoa-butter"], "powder_percent": 10}));
    for proposal in capped {
        assert!(percent(&proposal, "zinc-oxide") <= 10.0, "{proposal}");
    }
}
