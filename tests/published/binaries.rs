//! Liquidus of two-component systems (wanted: root mean square error ≤ 1.5 K where an acid is unsaturated, ≤
//! 2.5 K for saturated pairs and for alcohols).

use crate::{
    figure::Role,
    misfit::{Kind, compared, errors_of},
};

#[track_caller]
fn assert_rmse(kind: Kind, at_most_k: f64) {
    let errors = errors_of(&compared(), kind, Role::Proof);
    assert!(
        errors.root_mean_square <= at_most_k,
        "{kind:?}: root mean square error {:.2} K over {} points is above {at_most_k} K (worst {:+.1} K)",
        errors.root_mean_square,
        errors.count,
        errors.worst
    );
}

/// Eckert et al. 2016, Thermochim. Acta 630:50: stearic and palmitic with oleic, linoleic and linolenic acid.
#[test]
fn unsaturated_acids() {
    assert_rmse(Kind::LiquidusUnsaturated, 1.5);
}

/// Costa et al. 2009, Thermochim. Acta 496:30: lauric + stearic and caprylic + myristic acid.
#[test]
fn saturated_acids() {
    assert_rmse(Kind::LiquidusSaturated, 2.5);
}

/// Carareto et al. 2014, Thermochim. Acta 589:137: octanol + decanol, decanol + dodecanol, dodecanol +
/// hexadecanol.
#[test]
fn alcohols() {
    assert_rmse(Kind::LiquidusAlcohols, 2.5);
}
