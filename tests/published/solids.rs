//! Solid fat content of single fats.

use meltmargin::equilibrium::CrystalState;

use crate::{
    ask,
    figure::{self, Figure, Role},
    misfit::{Compared, Errors, Kind, assert_known_misfit, compared, errors, errors_of},
};

/// The errors of one series.
#[track_caller]
fn errors_of_series(file: &str, name: &str, role: Role) -> Errors {
    let compared = compared();
    let these: Vec<&Compared> = compared
        .iter()
        .filter(|one| {
            one.kind == Kind::SolidsOfOne
                && one.figure.role == role
                && one.figure.file == file
                && one.figure.recipe[0].0 == name
        })
        .collect();
    errors(these).unwrap_or_else(|| panic!("{file} holds nothing of {name} with {role:?}"))
}

fn figures_of(file: &str) -> Vec<Figure> {
    figure::all().into_iter().filter(|figure| figure.file == file).collect()
}

#[track_caller]
fn assert_mean(file: &str, name: &str, role: Role, at_most_points: f64) {
    let errors = errors_of_series(file, name, role);
    assert!(
        errors.mean <= at_most_points,
        "{name} ({file}): mean absolute error {:.2} points over {} temperatures is above {at_most_points} (worst {:+.1})",
        errors.mean,
        errors.count,
        errors.worst
    );
}

/// Mean absolute error of a curve that was fitted, points.
const FITTED: f64 = 2.5;

/// Mean absolute error of a curve that was not.
const NOT_FITTED: f64 = 3.5;

/// Shukla 1995, as remembered: Ghana, tempered.
#[test]
fn cocoa_butter_of_ghana() {
    assert_mean("from-memory-shukla-1995", "cocoa-butter", Role::Fit, FITTED);
}

/// Shukla 1995 and Lipp & Anklam 1998, as remembered: other origins by their own analyses.
#[test]
fn cocoa_butter_of_other_origins() {
    assert_mean("from-memory-shukla-1995", "@cocoa-butter-ivory-coast", Role::Proof, NOT_FITTED);
    assert_mean("from-memory-shukla-1995", "@cocoa-butter-brazil", Role::Proof, NOT_FITTED);
    assert_mean("from-memory-shukla-1995", "@cocoa-butter-malaysia", Role::Proof, NOT_FITTED);
}

/// Amazonian fats, preprint authorea 304797, read from running text.
#[test]
fn amazonian_fats() {
    assert_mean("authorea-304797", "murumuru-butter", Role::Proof, NOT_FITTED);
    assert_mean("authorea-304797", "tucuma-butter", Role::Proof, NOT_FITTED);
    assert_mean("authorea-304797", "bacuri-butter", Role::Proof, NOT_FITTED);
}

/// PORIM survey of palm olein, as remembered: it shares the correction of palm oil, which was fitted to that
/// alone.
#[test]
fn palm_olein() {
    assert_mean("from-memory-porim-olein", "palm-olein", Role::Proof, NOT_FITTED);
}

/// MPOB Pocketbook, PORIM survey, Siew & Berger 1981, all as remembered, and remembered figures for coconut
/// oil.
#[test]
fn palm_and_lauric_fats() {
    assert_mean("from-memory-mpob", "palm-oil", Role::Fit, FITTED);
    assert_mean("from-memory-porim", "palm-oil", Role::Fit, FITTED);
    assert_mean("from-memory-porim", "palm-stearin", Role::Fit, FITTED);
    assert_mean("from-memory-siew-berger-1981", "palm-kernel-oil", Role::Fit, FITTED);
    assert_mean("from-memory-coconut-sfc", "coconut-oil", Role::Fit, FITTED);
    assert_mean("from-memory-palm-kernel-stearin", "palm-kernel-stearin", Role::Fit, FITTED);
}

/// DSTU 4306:2004 (read): ranges of the solids of palm oil from 10 to 40 °C. Those of the survey that the
/// model was fitted to, by its remembered means, so that they confirm these and prove nothing more.
#[test]
fn palm_oil_within_a_national_standard() {
    let ranges = figures_of("dstu-4306-2004");
    let errors = errors_of_series("dstu-4306-2004", "palm-oil", Role::Weak);
    assert_eq!((errors.count, errors.worst), (7, 0.0));
    for mean in figures_of("from-memory-mpob") {
        let of_range = ranges.iter().find(|range| range.at_c == mean.at_c).unwrap();
        assert!(of_range.low < mean.low && mean.low < of_range.high, "{:?} °C", mean.at_c);
    }
}

/// Over every series at once; the best published method of this kind reports 3.8 points (OCL 2018, 25:D107).
#[test]
fn all_series() {
    for (role, at_most) in [(Role::Fit, FITTED), (Role::Proof, NOT_FITTED)] {
        let errors = errors_of(&compared(), Kind::SolidsOfOne, role);
        assert!(errors.mean <= at_most, "{role:?}: {:.2} points over {} figures", errors.mean, errors.count);
    }
}

/// China Oils & Fats 2024 (abstract): a kokum fat of 57.1 % SOS and 6.65 % diglycerides is 10 to 20 points
/// softer than cocoa butter at room temperature. Only those two shares were read (`data/samples.csv`). Half a
/// point too hard.
#[test]
fn kokum_by_its_own_analysis() {
    let at_20 =
        |name: &str| ask::mixture(&[(name.to_owned(), 100.0)], CrystalState::Settled).at(20.0).solid_percent;
    let below = at_20("cocoa-butter") - at_20("@kokum-2024");
    assert_known_misfit("kokum fat below cocoa butter at 20 °C", "10 to 20 points", below, 9.5, 0.3);
}
