//! What the catalogue says of each ingredient, and what it lacks.

use std::collections::BTreeMap;

use meltmargin::{
    behaviour::{clear_point, slip_point},
    equilibrium::CrystalState,
};

use crate::ask;

struct Entry(BTreeMap<String, String>);

impl Entry {
    #[track_caller]
    fn get(&self, column: &str) -> &str {
        self.0.get(column).unwrap_or_else(|| panic!("ingredients.csv has no column {column}"))
    }

    fn has(&self, column: &str) -> bool {
        !self.get(column).is_empty()
    }

    fn is_liquid(&self) -> bool {
        self.get("class") == "liquid-oil"
    }

    /// Powders have no liquid, so no melting range either; what is liquid in any room is sold without the
    /// density of its solid.
    fn is_powder(&self) -> bool {
        self.get("class") == "other" && !self.has("density_liquid_g_ml")
    }

    /// Lecithin, vitamins, fragrances: of class other, and no solid.
    fn dissolves(&self) -> bool {
        self.get("class") == "other" && !self.has("density_solid_g_ml")
    }
}

fn entries() -> Vec<Entry> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/src/substances/data/ingredients.csv");
    let mut reader = csv::Reader::from_path(path).unwrap();
    let columns: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
    reader
        .records()
        .map(|record| {
            let record = record.unwrap();
            Entry(columns.iter().cloned().zip(record.iter().map(str::to_owned)).collect())
        })
        .collect()
}

/// Sources of allergens by the words of a label, and the note that an ingredient of them carries.
const ALLERGENS: [(&str, &str); 22] = [
    ("(Palm)", "palm"),
    ("Hydrogenated Palm", "palm"),
    ("Coconut", "coconut"),
    ("Cocos", "coconut"),
    ("Coco-", "coconut"),
    ("Soybean", "soy"),
    ("Hydrogenated Vegetable", "soy"),
    ("Lecithin", "soy"),
    ("Arachis", "peanut"),
    ("Sesamum", "sesame"),
    ("Triticum", "wheat"),
    ("Avena Sativa", "wheat"),
    ("Cera Alba", "bee"),
    ("Lanolin", "wool"),
    ("Prunus Amygdalus Dulcis", "tree-nut"),
    ("Corylus", "tree-nut"),
    ("Juglans", "tree-nut"),
    ("Macadamia", "tree-nut"),
    ("Bertholletia", "tree-nut"),
    ("Pistacia", "tree-nut"),
    ("Carya", "tree-nut"),
    ("Butyrospermum", "tree-nut"),
];

/// What should be known of an ingredient, and this one lacks. That each make-up sums to 100 and that each of
/// its figures names a source is what the build refuses to do without (`src/substances/build/`).
fn lacks(entry: &Entry) -> Vec<&'static str> {
    let mut lacks = Vec::new();
    let mut wants = |is_there: bool, what| {
        if !is_there {
            lacks.push(what);
        }
    };
    wants(entry.has("inci"), "INCI name");
    wants(entry.has("class"), "class");
    wants(entry.has("density_source"), "source of its density");
    wants(entry.is_powder() || entry.has("density_liquid_g_ml"), "density when liquid");
    wants(entry.is_liquid() || entry.dissolves() || entry.has("density_solid_g_ml"), "density when solid");
    let melts = !entry.is_powder() && !entry.dissolves();
    wants(!melts || entry.is_liquid() || entry.has("melting_low_c"), "melting range");
    wants(!entry.is_liquid() || entry.has("melting_low_c"), "point at which it sets");
    wants(entry.has("melting_low_c") == entry.has("melting_source"), "source of its melting range");
    let notes: Vec<&str> = entry.get("allergens").split(';').collect();
    let named = |word: &str| entry.get("inci").contains(word);
    wants(ALLERGENS.iter().all(|(word, note)| !named(word) || notes.contains(note)), "allergen note");
    // The trade caps emulsifiers, powders, vitamins, fragrance and fatty alcohols; butters, oils and waxes it
    // does not.
    wants(
        !["other", "fatty-alcohol"].contains(&entry.get("class")) || entry.has("use_ceiling_percent"),
        "use ceiling",
    );
    wants(entry.has("use_ceiling_percent") == entry.has("use_source"), "source of its use ceiling");
    lacks
}

/// At least 90 ingredients, each with all that a maker and a label need.
#[test]
fn what_each_ingredient_lacks() {
    let entries = entries();
    assert!(entries.len() >= 90, "{}", entries.len());
    assert!(entries.iter().filter(|entry| entry.is_liquid()).count() >= 25);
    assert!(entries.iter().filter(|entry| entry.get("class") == "wax").count() >= 8);
    let mut gaps: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for entry in &entries {
        for gap in lacks(entry) {
            gaps.entry(gap).or_default().push(entry.get("id"));
        }
    }
    println!("{gaps:#?}");
    // Known: no source for the melting range of bacuri butter was found. Of oils and esters that no room sets
    // most sellers say nothing more.
    assert_eq!(gaps.remove("melting range"), Some(vec!["bacuri-butter"]));
    assert_eq!(gaps.remove("point at which it sets").map(|oils| oils.len()), Some(62));
    assert!(gaps.is_empty(), "{gaps:?}");
}

/// The melting range that the page shows beside an ingredient, a supplier's or a standard's, holds within 1.5
/// K for what the engine makes of it, liquids apart: their points are taken on cooling.
#[test]
fn each_melts_as_its_sheet_says() {
    let mut off = BTreeMap::new();
    for entry in entries().iter().filter(|entry| !entry.is_liquid() && entry.has("melting_low_c")) {
        let id = entry.get("id");
        let mixture = ask::mixture(&[(id.to_owned(), 100.0)], CrystalState::Settled);
        let point = match entry.get("melting_kind") {
            "slip" | "drop" => slip_point(&mixture),
            "clear" | "congealing" => clear_point(&mixture),
            "melting-range" if entry.get("class").starts_with("fatty") => clear_point(&mixture),
            "melting-range" => slip_point(&mixture),
            kind => panic!("{id}: no melting figure {kind}"),
        };
        let celsius = point.celsius.unwrap();
        let edge = |column| entry.get(column).parse::<f64>().unwrap();
        let outside = (edge("melting_low_c") - celsius).max(celsius - edge("melting_high_c"));
        if outside > 1.5 {
            off.insert(id.to_owned(), (10.0 * celsius).round() / 10.0);
        }
    }
    // By a tenth, against a remembered range: 4.3 % of it is tripalmitin, just too little to hold a column
    // up.
    assert_eq!(off.remove("phulwara-butter"), Some(34.5));
    assert!(off.is_empty(), "{off:?}");
}
