//! Large questions, for counts and for times: an invented whipped butter of 8 lines with a pantry of 20, and one of 15 with 40.

use serde_json::{Value, json};

pub(crate) const EIGHT: [(&str, f64); 8] = [
    ("shea-butter", 36.0),
    ("mango-butter", 10.0),
    ("coconut-oil", 12.0),
    ("cocoa-butter", 8.0),
    ("sweet-almond-oil", 16.0),
    ("jojoba-oil", 10.0),
    ("castor-oil", 6.0),
    ("beeswax", 2.0),
];

const FIFTEEN: [(&str, f64); 15] = [
    ("shea-butter", 25.0),
    ("mango-butter", 10.0),
    ("coconut-oil", 10.0),
    ("cocoa-butter", 6.0),
    ("sweet-almond-oil", 10.0),
    ("jojoba-oil", 8.0),
    ("castor-oil", 5.0),
    ("beeswax", 2.0),
    ("olive-oil", 5.0),
    ("sunflower-oil", 5.0),
    ("avocado-oil", 4.0),
    ("murumuru-butter", 3.0),
    ("argan-oil", 3.0),
    ("apricot-kernel-oil", 2.0),
    ("squalane", 2.0),
];

pub(crate) const PANTRY: [&str; 20] = [
    "kokum-butter",
    "sal-butter",
    "illipe-butter",
    "cupuacu-butter",
    "murumuru-butter",
    "babassu-oil",
    "palm-oil",
    "palm-stearin",
    "palm-kernel-oil",
    "olive-oil",
    "sunflower-oil",
    "grapeseed-oil",
    "avocado-oil",
    "rice-bran-oil",
    "hydrogenated-vegetable-oil",
    "stearic-acid",
    "palmitic-acid",
    "cetyl-alcohol",
    "candelilla-wax",
    "rice-bran-wax",
];

fn request(
    lines: &[(&str, f64)],
    pantry: &[&str],
    format: &str,
    firmness: &str,
    storage: (f64, f64),
) -> Value {
    let recipe: Vec<Value> =
        lines.iter().map(|(id, percent)| json!({"id": id, "percent": percent})).collect();
    json!({
        "ask": "rework", "recipe": recipe, "format": format, "firmness": firmness, "on_skin": "melts",
        "storage_c": {"coldest": storage.0, "hottest": storage.1}, "limits": {"pantry": pantry},
    })
}

/// Name, request, and how many lines must change (0 where nothing meets every wish).
pub(crate) fn questions() -> Vec<(&'static str, Value, usize)> {
    let mut forty = PANTRY.to_vec();
    forty.retain(|id| FIFTEEN.iter().all(|(line, _)| line != id));
    let rest = meltmargin::substances::catalogue().iter().map(|it| it.id());
    for id in rest {
        if forty.len() < 40 && !forty.contains(&id) && FIFTEEN.iter().all(|(line, _)| *line != id) {
            forty.push(id);
        }
    }
    vec![
        ("8 + 20, two lines", request(&EIGHT, &PANTRY, "whipped", "scoopable", (16.0, 31.0)), 2),
        ("8 + 20, three lines", request(&EIGHT, &PANTRY, "pot", "soft", (10.0, 30.0)), 3),
        ("8 + 20, nothing", request(&EIGHT, &PANTRY, "bar", "firm", (16.0, 31.0)), 0),
        ("15 + 40, two lines", request(&FIFTEEN, &forty, "whipped", "scoopable", (16.0, 31.0)), 2),
        ("15 + 40, three lines", request(&FIFTEEN, &forty, "whipped", "soft", (6.0, 33.0)), 3),
        ("15 + 40, nothing", request(&FIFTEEN, &forty, "bar", "firm", (16.0, 31.0)), 0),
    ]
}
