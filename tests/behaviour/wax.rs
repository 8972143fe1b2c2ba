//! The structuring power of waxes against what is published of it (Hwang et al. 2012, Blake, Dassanayake, Doan; as gathered in
//! the reference data).

use crate::ask::{behave, number};

fn structure(lines: &[(&str, f64)]) -> (f64, f64, f64) {
    let answer = behave(lines, "pot", 20.0, 25.0);
    let place = &answer["places"]["coldest"];
    let band = &place["structure_band_percent"];
    (number(&band[0]), number(&place["structure_percent"]), number(&band[1]))
}

/// The least share that sets an oil at room temperature: there the band must reach past pourable (4 %), and at a fifth of
/// it the oil must pour.
#[test]
fn least_gelling_levels_are_where_pourable_ends() {
    for (wax, least, most) in [
        ("sunflower-wax", 0.5, 1.0),
        ("rice-bran-wax", 0.5, 1.0),
        ("candelilla-wax", 2.0, 2.0),
        ("beeswax", 1.0, 3.0),
        ("carnauba-wax", 4.0, 4.0),
    ] {
        let at = |percent: f64| structure(&[(wax, percent), ("soybean-oil", 100.0 - percent)]);
        let (low, _, high) = at(most);
        assert!(high >= 4.0, "{wax} at {most} %: {high}");
        assert!(low <= 10.0, "{wax} at {most} %: {low}");
        let (_, usual, _) = at(0.2 * least);
        assert!(usual < 4.0, "{wax} at a fifth: {usual}");
    }
}

/// 1 to 6 % sunflower wax is as firm as 18 to 30 % hardened soybean oil. At the upper end the two agree within the bands. At
/// the lower end the wax is stronger than its class in the engine: known, and on the safe side.
#[test]
fn six_percent_sunflower_wax_is_thirty_percent_hardened_oil() {
    let wax = structure(&[("sunflower-wax", 6.0), ("soybean-oil", 94.0)]);
    let fat = structure(&[("hydrogenated-soybean-oil", 30.0), ("soybean-oil", 70.0)]);
    assert!(wax.0 <= fat.2 && fat.0 <= wax.2, "{wax:?} {fat:?}");
    let weak_wax = structure(&[("sunflower-wax", 1.0), ("soybean-oil", 99.0)]);
    let weak_fat = structure(&[("hydrogenated-soybean-oil", 18.0), ("soybean-oil", 82.0)]);
    assert!(weak_wax.1 < weak_fat.1, "{weak_wax:?} {weak_fat:?}");
}
