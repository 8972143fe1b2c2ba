//! Blends: which soften each other, and where. Nothing was fitted to any of them.

use meltmargin::{
    behaviour::{clear_point, slip_point},
    equilibrium::{Mixture, State},
};

use crate::{
    ask,
    figure::Role,
    misfit::{Kind, assert_known_misfit, compared, errors_of},
};

fn blend(parts: &[(&str, f64)]) -> Mixture {
    let parts: Vec<(String, f64)> =
        parts.iter().map(|(name, percent)| ((*name).to_owned(), *percent)).collect();
    ask::mixture(&parts, State::Settled)
}

fn solid(parts: &[(&str, f64)], at_c: f64) -> f64 {
    blend(parts).at(at_c).solid_percent
}

/// The share of `first`, percent, at which `figure` of its blend with `second` is least, by steps of 2.5.
fn least(first: &str, second: &str, figure: impl Fn(&Mixture) -> f64) -> f64 {
    (0..=40)
        .map(|step| 2.5 * f64::from(step))
        .map(|share| (share, figure(&blend(&[(first, share), (second, 100.0 - share)]))))
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .unwrap()
        .0
}

/// Percent of a fat's solids, less the line between two fats, at a share of the first.
fn off_the_line(first: &str, share: f64, second: &str, at_c: f64) -> f64 {
    let line =
        0.01 * (share * solid(&[(first, 100.0)], at_c) + (100.0 - share) * solid(&[(second, 100.0)], at_c));
    solid(&[(first, share), (second, 100.0 - share)], at_c) - line
}

/// Prints what the tests below and the page on trust quote.
#[test]
fn shown() {
    println!("cocoa + coconut, least melting at cocoa share:");
    println!("  slip {}", least("cocoa-butter", "coconut-oil", |mix| slip_point(mix).celsius.unwrap()));
    println!("  clear {}", least("cocoa-butter", "coconut-oil", |mix| clear_point(mix).celsius.unwrap()));
    for at_c in [10.0, 15.0, 20.0, 25.0] {
        println!(
            "  palm + palm kernel, least solids at {at_c} °C at palm share {}; cocoa + palm mid fraction {}; cocoa + coconut {}",
            least("palm-oil", "palm-kernel-oil", |mix| mix.at(at_c).solid_percent),
            least("cocoa-butter", "palm-mid-fraction", |mix| mix.at(at_c).solid_percent),
            least("cocoa-butter", "coconut-oil", |mix| mix.at(at_c).solid_percent),
        );
    }
    for at_c in [20.0, 25.0, 30.0, 33.0] {
        println!(
            "  at {at_c} °C: palm kernel + palm stearin 50:50 off the line {:+.1}, cocoa {:.1}, with 15 kokum {:.1}, with 20 shea {:.1}, with 10 coconut {:.1}",
            off_the_line("palm-kernel-oil", 50.0, "palm-stearin", at_c),
            solid(&[("cocoa-butter", 100.0)], at_c),
            solid(&[("cocoa-butter", 85.0), ("kokum-butter", 15.0)], at_c),
            solid(&[("cocoa-butter", 80.0), ("shea-butter", 20.0)], at_c),
            solid(&[("cocoa-butter", 90.0), ("coconut-oil", 10.0)], at_c),
        );
    }
    for (hardener, doses) in [
        ("stearic-acid", [1.0, 2.0, 3.0, 5.0]),
        ("beeswax", [1.0, 2.0, 3.0, 5.0]),
        ("candelilla-wax", [1.0, 2.0, 3.0, 5.0]),
        ("cocoa-butter", [1.0, 3.0, 5.0, 10.0]),
    ] {
        for dose in doses {
            let mix = blend(&[
                ("shea-butter", 0.6 * (100.0 - dose)),
                ("sunflower-oil", 0.4 * (100.0 - dose)),
                (hardener, dose),
            ]);
            println!(
                "  60:40 shea and sunflower oil with {dose} % {hardener}: {:.1} % at 20 °C, {:.1} % at 30 °C, clear {:.1} °C",
                mix.at(20.0).solid_percent,
                mix.at(30.0).solid_percent,
                clear_point(&mix).celsius.unwrap(),
            );
        }
    }
}

/// Zainal & Yusoff 1999 (palm stearin with palm kernel olein) and Sahat et al. 2023, slip points of plain blends. The best
/// published method of this kind misses melting points by 4.5 K in the mean (OCL 2018, 25:D107).
#[test]
fn slip_points() {
    let errors = errors_of(&compared(), Kind::PointOfBlend, Role::Proof);
    assert!(errors.mean < 4.5, "mean error {:.2} K over {}", errors.mean, errors.count);
    assert_known_misfit("slip of blends, worst", "1.5 K", errors.worst, 2.1, 0.2);
}

/// Int. J. Food Sci. Nutr. 1996, 47:71 (abstract): least solids at 10 °C near 60 palm to 40 palm kernel, and at most half solid.
#[test]
fn palm_and_palm_kernel() {
    let share = least("palm-oil", "palm-kernel-oil", |mix| mix.at(10.0).solid_percent);
    assert_known_misfit("palm share of least solids at 10 °C", "55 to 65 %", share, 70.0, 2.5);
    let solids = solid(&[("palm-oil", 60.0), ("palm-kernel-oil", 40.0)], 10.0);
    assert!(solids <= 50.0, "{solids}");
    for at_c in [10.0, 15.0, 20.0] {
        let off = off_the_line("palm-oil", 60.0, "palm-kernel-oil", at_c);
        assert!(off < -3.0, "no softening at {at_c} °C: {off}");
    }
}

/// Liu et al. 2019, Food Chem. 286:636 (abstract): eutectic at 25 and 30 °C.
#[test]
fn palm_stearin_and_palm_kernel() {
    for at_c in [25.0, 30.0] {
        let off = off_the_line("palm-kernel-oil", 50.0, "palm-stearin", at_c);
        assert!(off < -1.0, "no softening at {at_c} °C: {off}");
    }
}

/// Joshi, Zielbauer & Vilgis 2020, Foods 9:327 (abstract): eutectic near 35 cocoa butter to 65 coconut oil, by DSC.
#[test]
fn cocoa_butter_and_coconut() {
    let slip = |cocoa: f64| {
        slip_point(&blend(&[("cocoa-butter", cocoa), ("coconut-oil", 100.0 - cocoa)])).celsius.unwrap()
    };
    let line = 0.35 * slip(100.0) + 0.65 * slip(0.0);
    assert!(slip(35.0) < line - 1.0, "{} on a line of {line}", slip(35.0));
    let share = least("cocoa-butter", "coconut-oil", |mix| slip_point(mix).celsius.unwrap());
    assert_known_misfit("cocoa share of the lowest slip point", "30 to 40 %", share, 17.5, 2.5);
}

/// Maheshwari & Reddy 2005, J. Sci. Food Agric. (abstract): kokum fat raises the solids of cocoa butter at 30 °C and over.
#[test]
fn kokum_in_cocoa_butter() {
    for at_c in [30.0, 32.0, 33.0] {
        let (plain, with) = (
            solid(&[("cocoa-butter", 100.0)], at_c),
            solid(&[("cocoa-butter", 85.0), ("kokum-butter", 15.0)], at_c),
        );
        assert!(with > plain + 0.5, "at {at_c} °C: {plain} without, {with} with");
    }
}

/// Herrera & Candal, AOCS meeting 2016 (abstract): solids unchanged by up to 20 % shea; which shea (butter or stearin) is not
/// said. By the line between the two fats alone, 20 % of a shea butter with a third of solids takes 9 points.
#[test]
fn shea_in_cocoa_butter() {
    let change = solid(&[("cocoa-butter", 80.0), ("shea-butter", 20.0)], 20.0)
        - solid(&[("cocoa-butter", 100.0)], 20.0);
    assert_known_misfit("solids at 20 °C with 20 % shea", "within 3 points of none", change, -7.7, 0.5);
    let off = off_the_line("cocoa-butter", 80.0, "shea-butter", 20.0);
    assert!(off > -1.0, "the two soften each other by {off}");
}

/// Ali & Dimick 1994, J. Am. Oil Chem. Soc. (abstract): largest softening at 25 to 50 % cocoa butter in palm mid fraction.
#[test]
fn cocoa_butter_and_palm_mid_fraction() {
    let share = least("cocoa-butter", "palm-mid-fraction", |mix| mix.at(25.0).solid_percent);
    assert_known_misfit("cocoa share of least solids at 25 °C", "25 to 50 %", share, 15.0, 2.5);
}

/// Chaiseri & Dimick 1989, J. Am. Oil Chem. Soc. 66:1771 (abstract): Asian cocoa butters hardest, South American softest.
#[test]
fn cocoa_butters_by_origin() {
    for at_c in [20.0, 25.0, 30.0] {
        let of = |origin| solid(&[(origin, 100.0)], at_c);
        let (asia, africa, america) =
            (of("@cocoa-butter-malaysia"), of("cocoa-butter"), of("@cocoa-butter-brazil"));
        assert!(asia > africa + 1.0 && africa > america + 5.0, "at {at_c} °C: {asia} {africa} {america}");
    }
}
