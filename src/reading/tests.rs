use super::*;
use crate::substances;

fn catalogue() -> Vec<Known> {
    substances::catalogue()
        .iter()
        .map(|one| Known { id: one.id(), name: one.name(), inci: one.inci() })
        .collect()
}

#[track_caller]
fn understood(text: &str, unit: Unit, expected: &[(&str, f64)]) {
    let read = read(text, &catalogue()).unwrap_or_else(|failure| panic!("{}", failure.message));
    let found: Vec<(&str, f64)> =
        read.lines.iter().map(|line| (line.id.unwrap_or("?"), line.percent.unwrap_or(f64::NAN))).collect();
    assert_eq!(found, expected, "{text:?}: {:#?}", read.lines);
    assert_eq!(read.unit, unit);
}

#[test]
fn percent_grams_ounces_and_parts() {
    understood(
        "60 shea butter, 40 % sunflower",
        Unit::Percent,
        &[("shea-butter", 60.0), ("sunflower-oil", 40.0)],
    );
    understood(
        "60 shea butter\n40 sunflower oil",
        Unit::Percent,
        &[("shea-butter", 60.0), ("sunflower-oil", 40.0)],
    );
    understood(
        "150 g shea butter\n50g cocoa butter",
        Unit::Grams,
        &[("shea-butter", 75.0), ("cocoa-butter", 25.0)],
    );
    understood("3 oz shea butter; 1 oz beeswax", Unit::Ounces, &[("shea-butter", 75.0), ("beeswax", 25.0)]);
    understood(
        "3 parts shea butter, 1 part olive oil",
        Unit::Parts,
        &[("shea-butter", 75.0), ("olive-oil", 25.0)],
    );
    understood(
        "Shea butter 1 lb\nOlive oil 16 oz",
        Unit::Ounces,
        &[("shea-butter", 50.0), ("olive-oil", 50.0)],
    );
    understood(
        "2 1/2 oz mango butter\n2 ½ oz jojoba oil",
        Unit::Ounces,
        &[("mango-butter", 50.0), ("jojoba-oil", 50.0)],
    );
}

#[test]
fn decimal_commas_tabs_lists_and_brackets() {
    understood("Kakaobutter\t1", Unit::Parts, &[("?", 100.0)]);
    understood(
        "12,5 % cocoa butter, 87,5% shea butter",
        Unit::Percent,
        &[("cocoa-butter", 12.5), ("shea-butter", 87.5)],
    );
    understood(
        "Shea butter\t62.5\nCoconut oil\t37.5\nTotal\t100",
        Unit::Percent,
        &[("shea-butter", 62.5), ("coconut-oil", 37.5)],
    );
    understood(
        "shea butter,60\ncocoa butter,40",
        Unit::Percent,
        &[("shea-butter", 60.0), ("cocoa-butter", 40.0)],
    );
    understood(
        "- Shea butter (60%)\n• beeswax (40 %)",
        Unit::Percent,
        &[("shea-butter", 60.0), ("beeswax", 40.0)],
    );
    understood(
        "1. shea butter 60\n2) cocoa butter 40",
        Unit::Percent,
        &[("shea-butter", 60.0), ("cocoa-butter", 40.0)],
    );
    understood(
        "60%shea butter\n40%cocoa butter",
        Unit::Percent,
        &[("shea-butter", 60.0), ("cocoa-butter", 40.0)],
    );
    understood(
        "Cetearyl alcohol (50:50) 4 %\nshea butter 96 %",
        Unit::Percent,
        &[("cetearyl-alcohol", 4.0), ("shea-butter", 96.0)],
    );
    understood(
        "| Shea butter | 60 % |\n| Olive oil | 40 % |",
        Unit::Percent,
        &[("shea-butter", 60.0), ("olive-oil", 40.0)],
    );
}

#[test]
fn other_names_qualities_and_misspellings() {
    understood(
        "50 organic unrefined karité\n30 Cera Alba\n20 MCT oil",
        Unit::Percent,
        &[("shea-butter", 50.0), ("beeswax", 30.0), ("fractionated-coconut-oil", 20.0)],
    );
    understood(
        "50 shea buter\n30 cacoa butter\n20 candelila wax",
        Unit::Percent,
        &[("shea-butter", 50.0), ("cocoa-butter", 30.0), ("candelilla-wax", 20.0)],
    );
    let read = read("50 shea buter\n50 unobtainium", &catalogue()).expect("reads");
    assert!(!read.lines[0].certain);
    assert_eq!(read.lines[1].id, None);
    assert_eq!(read.lines[1].problem, Some(LineProblem::Unknown));
}

#[test]
fn every_ingredient_is_known_by_its_own_name() {
    let catalogue = catalogue();
    for one in &catalogue {
        let read = read(&format!("100 % {}", one.name.replace(',', " ")), &catalogue).expect("reads");
        assert_eq!(read.lines[0].id, Some(one.id), "{}", one.name);
    }
}

#[test]
fn mixed_units_are_said_and_not_guessed() {
    let read = read("60 % shea butter\n40 g olive oil", &catalogue()).expect("reads");
    assert_eq!(read.lines[1].percent, None);
    assert_eq!(read.lines[1].problem, Some(LineProblem::NoAmount));
    assert_eq!(read.remarks, [TextRemark::MixedUnits]);
}

#[test]
fn a_text_without_amounts_is_refused() {
    for text in ["", "   \n", "shea butter and love"] {
        let failure = read(text, &catalogue()).expect_err("must be refused");
        assert_eq!((failure.kind, failure.at.as_str()), (ErrorKind::Empty, "text"));
    }
    assert!(read(&"1 g shea butter\n".repeat(61), &catalogue()).is_err());
    assert!(read(&"x".repeat(LONGEST + 1), &catalogue()).is_err());
}

#[test]
fn no_text_panics() {
    let mut state: u64 = 0x5eed_0003;
    let letters: Vec<char> = "60 %g,.;:\n\t()/½-•1aé樹🧈shea".chars().collect();
    for _ in 0..5_000 {
        let mut text = String::new();
        for _ in 0..30 {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            text.push(letters[(state % letters.len() as u64) as usize]);
        }
        drop(read(&text, &[]));
    }
}

#[test]
fn shares_sum_to_exactly_100_and_stay_within_a_step() {
    let cases: [(&[f64], f64); 5] = [
        (&[1.0, 1.0, 1.0], 0.5),
        (&[62.5, 30.0, 10.0], 0.5),
        (&[0.1, 999.0], 1.0),
        (&[33.3, 33.3, 33.3, 0.0], 0.1),
        (&[7.0, 11.0, 13.0], 0.01),
    ];
    for (amounts, step) in cases {
        let sum: f64 = amounts.iter().sum();
        let percents = shares(amounts, step);
        assert!((percents.iter().sum::<f64>() - 100.0).abs() < 1e-9, "{percents:?}");
        for (percent, amount) in percents.iter().zip(amounts) {
            assert!((percent - amount / sum * 100.0).abs() < step, "{percents:?}");
            assert!(
                (percent / step - (percent / step).round()).abs() < 1e-6,
                "{percent} is not on the step {step}"
            );
        }
    }
    assert_eq!(shares(&[60.0, 40.0], 0.5), [60.0, 40.0]);
    assert_eq!(shares(&[0.0, f64::NAN], 0.5), [0.0, 0.0]);
    assert_eq!(shares(&[1.0], 0.0), [0.0]);
}
