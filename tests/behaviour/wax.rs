//! What wax does to a butter, against what is published of it.

use std::collections::BTreeMap;

use meltmargin::{
    behaviour::Solids,
    equilibrium::CrystalState,
    recipe::{Line, Recipe},
    substances,
};

use crate::ask::{behave, number};

/// A row of `data/wax.csv`: a wax, the first of the recipe, makes it as firm as so many percent of
/// triglyceride crystals. Where the least dose that sets an oil is published, half of it is taken not to have
/// set it, so that its structure is one to two times that at which pourable ends: doses are tried in coarse
/// steps, in a vial that is turned over.
struct Firm {
    recipe: Vec<(String, f64)>,
    at_c: f64,
    low: f64,
    high: f64,
    source: String,
}

fn published() -> Vec<Firm> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/behaviour/data/wax.csv");
    let mut reader = csv::Reader::from_path(path).unwrap();
    let row = |record: csv::StringRecord| {
        let number = |at: usize| record[at].parse().unwrap();
        let part = |part: &str| {
            let (id, percent) = part.split_once(':').unwrap();
            (id.to_owned(), percent.parse().unwrap())
        };
        Firm {
            recipe: record[0].split(';').map(part).collect(),
            at_c: number(1),
            low: number(2),
            high: number(3),
            source: record[4].to_owned(),
        }
    };
    reader.records().map(|record| row(record.unwrap())).collect()
}

impl Firm {
    fn solids(&self) -> Solids {
        let line = |(id, percent): &(String, f64)| Line::of(substances::find(id).unwrap(), *percent);
        let recipe = Recipe::new(self.recipe.iter().map(line).collect()).unwrap();
        Solids::from(&recipe.mixture(CrystalState::Settled).at(self.at_c))
    }

    /// How far a structure lies outside of what was published, as a logarithm.
    fn off(&self, structure: f64) -> f64 {
        libm::log((self.low / structure).max(structure / self.high).max(1.0))
    }
}

/// Which solid a wax is, and how a wax is called that has this power alone.
fn own(wax: &str) -> (&'static str, fn(&mut Solids) -> &mut f64) {
    match wax {
        "sunflower-wax" | "rice-bran-wax" => ("sunflower and rice bran wax", |it| &mut it.ester),
        "beeswax" => ("beeswax", |it| &mut it.beeswax),
        "candelilla-wax" => ("candelilla wax", |it| &mut it.candelilla),
        "carnauba-wax" => ("carnauba wax", |it| &mut it.carnauba),
        _ => panic!("{wax}"),
    }
}

/// The first percent is worth p, and each that follows less: s·ln(1 + p·x/s) of x percent.
fn worth(percent: f64, (p, s): (f64, f64)) -> f64 {
    s * libm::log1p(p * percent / s)
}

/// By wax: p and s that meet the figures best, by least squares over a grid of both on scales by twentieths.
fn fitted() -> BTreeMap<&'static str, (f64, f64)> {
    type Own = (f64, f64, Firm);
    let mut waxes: BTreeMap<&'static str, Vec<Own>> = BTreeMap::new();
    for firm in published() {
        let mut solids = firm.solids();
        let (name, of) = own(&firm.recipe[0].0);
        let crystals = std::mem::take(of(&mut solids));
        waxes.entry(name).or_default().push((crystals, solids.structure_percent(), firm));
    }
    let scale = |from: f64, steps: i32| (0..steps).map(move |step| from * libm::exp(0.05 * f64::from(step)));
    waxes
        .into_iter()
        .map(|(name, figures)| {
            let misfit = |power: (f64, f64)| -> f64 {
                let off = figures.iter().map(|(x, rest, firm)| firm.off(rest + worth(*x, power)));
                off.map(|off| off * off).sum()
            };
            let all = scale(1.0, 60).flat_map(|p| scale(5.0, 100).map(move |s| (p, s)));
            let best = all.min_by(|a, b| misfit(*a).total_cmp(&misfit(*b))).unwrap();
            println!("{name}: p {:.2}, s {:.1}", best.0, best.1);
            for (x, rest, firm) in &figures {
                println!(
                    "  {:?}: {x:.2} % crystals, structure {:.1}, published {}..{} [{}]",
                    firm.recipe,
                    rest + worth(*x, best),
                    firm.low,
                    firm.high,
                    firm.source
                );
            }
            (name, best)
        })
        .collect()
}

/// The engine's powers are those that meet the figures best, within what a step of the grid makes.
#[test]
fn powers_are_fitted_to_what_is_published() {
    for (name, power) in fitted() {
        for percent in [0.5, 2.0, 5.0, 10.0, 20.0] {
            let mut solids = Solids::default();
            let of = published()
                .into_iter()
                .map(|firm| own(&firm.recipe[0].0))
                .find(|own| own.0 == name)
                .unwrap()
                .1;
            *of(&mut solids) = percent;
            let (engine, fit) = (solids.structure_percent(), worth(percent, power).min(100.0));
            assert!((engine / fit - 1.0).abs() < 0.05, "{percent} % of {name}: {engine}, fitted {fit}");
        }
    }
}

fn structure(lines: &[(&str, f64)]) -> (f64, f64, f64) {
    let answer = behave(lines, "pot", 20.0, 25.0);
    let place = &answer["places"]["coldest"];
    let band = &place["structure_band_percent"];
    (number(&band[0]), number(&place["structure_percent"]), number(&band[1]))
}

fn in_oil(wax: &str, percent: f64) -> (f64, f64, f64) {
    structure(&[(wax, percent), ("soybean-oil", 100.0 - percent)])
}

/// What is published lies within the band of each wax, but for what contradicts the rest of its own: carnauba
/// at half of beeswax's dose, which would have it set oil below 2 %.
#[test]
fn bands_hold_what_is_published() {
    for firm in published() {
        let (low, high) = firm.solids().structure_band_percent();
        let holds = low <= 1.05 * firm.high && 0.95 * firm.low <= high;
        assert!(holds, "{:?}: {low}..{high}, published {}..{}", firm.recipe, firm.low, firm.high);
    }
}

/// Sunflower and rice bran wax set oil at the least dose, then candelilla and beeswax, then carnauba; berry
/// wax (6 %, Gels 2024 10:214) needs the most here, since its crystals are those of a fat.
#[test]
fn waxes_set_oil_in_the_published_order() {
    let dose = |wax: &str| {
        let enough = (1..400).map(|step| 0.05 * f64::from(step)).find(|dose| in_oil(wax, *dose).1 >= 4.0);
        enough.unwrap_or_else(|| panic!("{wax} never sets"))
    };
    let waxes = ["sunflower-wax", "rice-bran-wax", "candelilla-wax", "beeswax", "carnauba-wax", "berry-wax"]
        .map(dose);
    println!("{waxes:?}");
    let [sunflower, rice, candelilla, bees, carnauba, berry] = waxes;
    assert!(sunflower.max(rice) < candelilla.min(bees));
    assert!(candelilla.max(bees) < carnauba && carnauba < berry);
}

/// Whatever the dose, another percent never adds more than the one before, and never nothing.
#[test]
fn power_falls_with_the_dose() {
    for wax in ["sunflower-wax", "rice-bran-wax", "beeswax", "candelilla-wax", "carnauba-wax", "paraffin"] {
        let solids = |percent: f64| {
            let line = |id: &str, percent| Line::of(substances::find(id).unwrap(), percent);
            let recipe = Recipe::new(vec![line(wax, percent), line("olive-oil", 100.0 - percent)]).unwrap();
            Solids::from(&recipe.mixture(CrystalState::Settled).at(25.0))
        };
        // Per percent of crystals, so that what dissolves does not count.
        let power = |from: f64, to: f64| {
            let (from, to) = (solids(from), solids(to));
            (to.structure_percent() - from.structure_percent()) / (to.fat_percent() - from.fat_percent())
        };
        let powers: Vec<f64> =
            [2.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0].windows(2).map(|it| power(it[0], it[1])).collect();
        println!("{wax}: {powers:.2?}");
        assert!(powers.iter().all(|power| *power > 0.3), "{wax}: {powers:?}");
        // Acids crystallise with it, each counted alike: a hundredth is left for them.
        assert!(powers.windows(2).all(|it| it[1] <= 1.01 * it[0]), "{wax}: {powers:?}");
    }
}

/// Wax stiffens and holds no bubbles: a whipped butter holds its air as far as the range that it is whipped
/// in says.
#[test]
fn wax_holds_no_air() {
    let whipped = behave(&[("olive-oil", 97.0), ("rice-bran-wax", 3.0)], "whipped", 18.0, 30.0);
    assert!(
        whipped["softening_c"].as_f64().is_none_or(|softens| softens < 5.0),
        "{}",
        whipped["softening_c"]
    );
    assert_eq!(whipped["misses"][0]["kind"], "loses-air");
    assert_eq!(whipped["verdict"]["mood"], "bad");
    let waxed =
        behave(&[("shea-butter", 60.0), ("olive-oil", 37.0), ("beeswax", 3.0)], "whipped", 18.0, 26.0);
    let plain = behave(&[("shea-butter", 60.0), ("olive-oil", 40.0)], "whipped", 18.0, 26.0);
    let softens = |answer: &serde_json::Value| number(&answer["softening_c"]);
    assert!(
        (softens(&waxed) - softens(&plain)).abs() < 1.0,
        "{} {}",
        waxed["softening_c"],
        plain["softening_c"]
    );
}

/// On skin (common practice, no source): a fiftieth of wax and less melts away, a twentieth does not, shea
/// butter does when it is rubbed in, and a third of wax stays.
#[test]
fn wax_rubs_out_and_shea_melts() {
    for (lines, feels) in [
        (&[("shea-butter", 100.0)][..], &["melts", "light-film"][..]),
        (&[("mango-butter", 100.0)], &["melts", "light-film"]),
        (&[("cocoa-butter", 100.0)], &["melts"]),
        (&[("beeswax", 2.0), ("shea-butter", 60.0), ("olive-oil", 38.0)], &["melts", "light-film"]),
        (&[("beeswax", 5.0), ("olive-oil", 95.0)], &["rubs-out"]),
        (&[("beeswax", 5.0), ("shea-butter", 60.0), ("olive-oil", 35.0)], &["rubs-out"]),
        (&[("candelilla-wax", 5.0), ("olive-oil", 95.0)], &["rubs-out"]),
        (&[("beeswax", 33.0), ("cocoa-butter", 34.0), ("olive-oil", 33.0)], &["waxy"]),
        (&[("kokum-butter", 100.0)], &["waxy"]),
    ] {
        let answer = behave(lines, "pot", 18.0, 25.0);
        let feel = answer["residue"]["feel"].as_str().unwrap();
        println!("{lines:?}: {feel}, {}", answer["places"]["skin"]["structure_percent"]);
        assert!(feels.contains(&feel), "{lines:?}: {feel}, {}", answer["places"]["skin"]);
    }
}

/// A curve that grazes what the format needs says so: 31 % hardened soybean oil holds a bar to below 0 °C, 33
/// % to 41.
#[test]
fn where_little_decides_it_is_said() {
    for percent in [31.0, 33.0] {
        let lines = [("hydrogenated-soybean-oil", percent), ("soybean-oil", 100.0 - percent)];
        let told = behave(&lines, "bar", 18.0, 25.0);
        let remarks = told["verdict"]["remarks"].as_array().unwrap();
        assert!(remarks.iter().any(|remark| remark["kind"] == "grazes"), "{percent}: {remarks:?}");
    }
    let told = behave(&[("shea-butter", 75.0), ("olive-oil", 25.0)], "pot", 18.0, 25.0);
    let remarks = told["verdict"]["remarks"].as_array().unwrap();
    assert!(remarks.iter().all(|remark| remark["kind"] != "grazes"), "{remarks:?}");
}

/// How a maker knows them (common practice, no source): a salve of one part of beeswax to four of oil is
/// firm, one of fifteen percent scoops, thirds make a hard bar, and thirty percent carnauba is scraped.
#[test]
fn balms_are_as_makers_know_them() {
    for (lines, at_c, class) in [
        (&[("beeswax", 20.0), ("olive-oil", 80.0)][..], 20.0, "firm"),
        (&[("beeswax", 15.0), ("olive-oil", 85.0)], 20.0, "scoopable"),
        (&[("beeswax", 33.0), ("cocoa-butter", 34.0), ("sweet-almond-oil", 33.0)], 22.5, "hard"),
        (&[("carnauba-wax", 30.0), ("olive-oil", 70.0)], 22.5, "hard"),
        (&[("candelilla-wax", 10.0), ("olive-oil", 90.0)], 20.0, "firm"),
        (&[("petrolatum", 100.0)], 22.5, "scoopable"),
    ] {
        let answer = behave(lines, "pot", at_c, 25.0);
        let place = &answer["places"]["coldest"];
        println!("{lines:?}: {}", place["structure_percent"]);
        assert_eq!(place["firmness"], class, "{lines:?}: {place}");
    }
}

/// A gelled column does not slip where its wax still holds it (common practice, no source).
#[test]
fn a_slip_point_below_what_wax_holds_is_told_as_such() {
    let told = |lines: &[(&str, f64)]| {
        let answer = behave(lines, "pot", 18.0, 25.0);
        let remarks = answer["verdict"]["remarks"].as_array().unwrap().clone();
        remarks.iter().any(|remark| remark["kind"] == "holds-above-slip")
    };
    assert!(told(&[("olive-oil", 90.0), ("beeswax", 10.0)]));
    assert!(told(&[("castor-oil", 88.0), ("candelilla-wax", 12.0)]));
    assert!(!told(&[("shea-butter", 75.0), ("olive-oil", 25.0)]));
    assert!(!told(&[("cocoa-butter", 100.0)]));
    assert!(!told(&[("beeswax", 100.0)]));
}
