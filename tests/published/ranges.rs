//! Melting ranges: those of standards, within 1.5 K, and what other sources report.

use std::collections::BTreeSet;

use crate::{
    ask::melt,
    figure::Role,
    misfit::{Kind, assert_known_misfit, compared},
};
use serde_json::json;

/// How far a point may lie outside a range, K.
const OUTSIDE_K: f64 = 1.5;

/// What the common ingredients are held to, each by name: ingredient, point, from and to in °C, source.
#[rustfmt::skip]
const PUBLISHED: &[(&str, &str, f64, f64, &str)] = &[
    ("cocoa-butter", "slip_c", 32.0, 33.5, "IOCCC method, a supplier's specification, read"),
    ("cocoa-butter", "clear_c", 32.0, 35.0, "the same, and the Malaysian specification (31 to 34), read"),
    ("shea-butter", "slip_c", 35.0, 40.0, "Codex CXS 325R-2017, unrefined shea butter"),
    ("coconut-oil", "slip_c", 23.0, 26.0, "Czech Pharmacopoeia 1997, of the Ph. Eur., refined; Kahwaji & White 2019, Appl. Sci. 9:1627 has 24.5 ± 1.5"),
    ("beeswax", "slip_c", 62.0, 65.0, "USP-NF yellow and white wax; the Ph. Eur. has a drop point of 61 to 66"),
    ("palm-kernel-oil", "slip_c", 27.3, 28.0, "Nuzul Amri Ibrahim 2013, J. Oil Palm Res. 25:245 (abstract)"),
    ("mango-butter", "slip_c", 31.0, 35.2, "Jahurul et al. 2020, Sabah mango kernel fat by AOCS Cc 3-25 (abstract)"),
    ("kokum-butter", "slip_c", 34.0, 40.0, "encyclopaedia table of unnamed origin"),
    ("illipe-butter", "slip_c", 35.0, 37.0, "Darmawan 2023 (tengkawang)"),
    ("cupuacu-butter", "clear_c", 33.33, 33.33, "UNICAMP poster, AOCS meeting 2020 (abstract): end of the one melting peak"),
    ("stearic-acid", "clear_c", 53.0, 59.0, "Ph. Eur. and USP-NF, stearic acid 50: freezing point"),
    ("stearic-acid-70", "clear_c", 57.0, 64.0, "Ph. Eur. and USP-NF, stearic acid 70: freezing point"),
    ("stearic-acid-95", "clear_c", 64.0, 69.0, "Ph. Eur. and USP-NF, stearic acid 95: freezing point"),
    ("cetearyl-alcohol", "clear_c", 48.0, 55.0, "USP 29; the Ph. Eur. has 49 to 56"),
    ("stearyl-alcohol", "clear_c", 55.0, 60.0, "USP-NF"),
    ("cetyl-alcohol", "clear_c", 45.0, 50.0, "USP, from memory"),
    ("carnauba-wax", "slip_c", 80.0, 86.0, "USP-NF"),
    ("candelilla-wax", "slip_c", 68.5, 72.5, "USP-NF and JECFA"),
];

#[test]
fn common_ingredients_melt_as_published() {
    for &(id, point, low, high, source) in PUBLISHED {
        let found = melt(&json!([{"id": id, "percent": 100}]), &[])[point].as_f64();
        let within = |celsius| celsius >= low - OUTSIDE_K && celsius <= high + OUTSIDE_K;
        assert!(
            found.is_some_and(within),
            "{id}: {point} is {found:?}, published {low} to {high} ({source})"
        );
    }
}

/// Points of one ingredient.
const OF_ONE: [Kind; 5] =
    [Kind::PointOfFat, Kind::PointOfOil, Kind::PointOfAcidOrAlcohol, Kind::PointOfWax, Kind::PointOfOther];

/// The target: every ingredient that a pharmacopoeia, the Codex, a food regulation or the palm refiners'
/// association gives a range for lies within 1.5 K of it, remembered ranges too; but for one of the four of
/// palm oil.
#[test]
fn every_standard() {
    /// Agmark's grade is of palm oil softer than the surveys' that the model was fitted to, which are 4 %
    /// solid at 40 °C.
    const MISSED: (&str, &str) = ("palm-oil", "..37");
    let mut missed = 0;
    let compared = compared();
    let standards: Vec<_> =
        compared.iter().filter(|one| OF_ONE.contains(&one.kind) && one.figure.is_of_a_standard()).collect();
    for one in &standards {
        let measured = one.figure.measured();
        println!("{:<44} {measured:>10} {:+.1}", one.figure.name(), one.misfit());
        if (one.figure.recipe[0].0.as_str(), measured.as_str()) == MISSED {
            assert_known_misfit("slip point of palm oil by Agmark", "1.5 K", one.misfit(), 2.5, 0.2);
            missed += 1;
            continue;
        }
        assert!(
            one.misfit().abs() <= OUTSIDE_K,
            "{} ({}): {:+.1} K off {measured}",
            one.figure.name(),
            one.figure.source,
            one.misfit()
        );
    }
    let ingredients: BTreeSet<&str> = standards.iter().map(|one| one.figure.recipe[0].0.as_str()).collect();
    let remembered = standards.iter().filter(|one| !one.figure.looked_up).count();
    // So that none drops out unseen.
    assert_eq!((standards.len(), ingredients.len(), remembered, missed), (55, 34, 9, 1), "{ingredients:?}");
}

/// Not a target: what suppliers, papers and handbooks report of one lot or another. Most lie as close; these
/// do not.
#[test]
fn other_sources() {
    /// What misses, by how much, K.
    const MISSES: [(&str, &str, f64); 5] = [
        // One laboratory's figure; USP-NF's 30 to 40 °C and PORAM's 33 to 39 hold.
        ("palm-oil", "36", 3.5),
        // A supplier's of one olein; another, taken off at 25 °C, melts at 25.5 (Zhang et al. 2017,
        // abstract).
        ("shea-olein", "16", 2.6),
        // Six mangoes with less stearic acid than the catalogue's; of Sabah's, 31.0 to 35.2 °C, the range
        // holds.
        ("mango-butter", "24..30", 4.5),
        // Defatted but not purified wax; the purified one's 80 to 83 °C holds, and so does 21 CFR 172.890.
        ("rice-bran-wax", "75..79", 2.4),
        // By calorimetry, of one lot; the Malaysian specification's clear point, 31 to 35 °C, holds.
        ("cocoa-butter", "35", -1.6),
    ];
    let mut missed = Vec::new();
    for one in compared().iter().filter(|one| {
        OF_ONE.contains(&one.kind) && one.figure.role != Role::Weak && !one.figure.is_of_a_standard()
    }) {
        let (name, measured) = (one.figure.recipe[0].0.as_str(), one.figure.measured());
        match MISSES.iter().find(|miss| (miss.0, miss.1) == (name, measured.as_str())) {
            Some((.., pinned)) => {
                assert_known_misfit(&one.figure.name(), "1.5 K", one.misfit(), *pinned, 0.2);
                missed.push(name.to_owned());
            }
            None => assert!(
                one.misfit().abs() <= OUTSIDE_K,
                "{} ({}): {:+.1} K off {measured}",
                one.figure.name(),
                one.figure.file,
                one.misfit()
            ),
        }
    }
    assert_eq!(missed.len(), MISSES.len(), "{missed:?}");
}
