//! `REPORT.md`: how far every prediction lies from what was measured. It is minted, so that nobody keeps its
//! figures by hand.

use std::fmt::Write as _;
use std::path::Path;

use meltmargin::contract::ErrorBand;

use crate::{
    ask,
    figure::Role,
    misfit::{Compared, KINDS, Kind, compared, errors},
};

const ROLES: [(Role, &str); 3] =
    [(Role::Fit, "fitted to"), (Role::Proof, "not fitted to"), (Role::Weak, "weak")];

/// What a kind of figure is called, and the unit of its errors.
fn name(kind: Kind) -> (&'static str, &'static str) {
    match kind {
        Kind::SolidsOfOne => ("solid fat content of one fat", "points"),
        Kind::SolidsOfBlend => ("solid fat content of a blend", "points"),
        Kind::PointOfFat => ("melting point or range of a fat", "K"),
        Kind::PointOfOil => ("melting or cloud point of a liquid oil", "K"),
        Kind::PointOfAcidOrAlcohol => ("melting point of an acid or alcohol", "K"),
        Kind::PointOfWax => ("melting point of a wax", "K"),
        Kind::PointOfOther => ("melting point of an emulsifier", "K"),
        Kind::PointOfBlend => ("melting point of a blend", "K"),
        Kind::GelClear => ("clear point of a wax in oil", "K"),
        Kind::LiquidusUnsaturated => ("liquidus of two acids, one unsaturated", "K"),
        Kind::LiquidusSaturated => ("liquidus of two saturated acids", "K"),
        Kind::LiquidusAlcohols => ("liquidus of two alcohols", "K"),
        Kind::LiquidusTriglycerides => ("liquidus of two triglycerides", "K"),
    }
}

/// Recipes that stand for the classes of the error bands.
const EXAMPLES: [(&str, &str); 5] = [
    ("plain", "shea-butter"),
    ("lauric", "coconut-oil"),
    ("wax", "beeswax"),
    ("by fatty acids", "~shea-butter"),
    ("by fatty acids and slip point", "~~shea-butter"),
];

fn report(all: &[Compared]) -> String {
    let mut page = String::from(
        "# Predictions beside what was measured\n\n\
         Minted by `MINT=1 cargo test --test published report` and compared by `cargo verify`. What a role means, and \
         what is behind the misses, is told in [README.md](README.md). An error is predicted less measured, 0 inside a \
         published range.\n\n\
         ## In all\n\n\
         | kind of figure | role | figures | mean error | root mean square | worst | unit |\n\
         |---|---|---|---|---|---|---|\n",
    );
    for kind in KINDS {
        for (role, role_name) in ROLES {
            let these = all.iter().filter(|one| one.kind == kind && one.figure.role == role);
            let Some(errors) = errors(these) else { continue };
            let (kind_name, unit) = name(kind);
            let (count, mean, worst) = (errors.count, errors.mean, errors.worst);
            let squares = errors.root_mean_square;
            let row = format!("{count} | {mean:.1} | {squares:.1} | {worst:+.1}");
            writeln!(page, "| {kind_name} | {role_name} | {row} | {unit} |").unwrap();
        }
    }
    page.push_str(
        "\n## Error bands\n\nNine of ten measured figures lie within so much of the prediction.\n\n\
         | recipe | solids, points | slip, K | clear, K | figures behind each |\n|---|---|---|---|---|\n",
    );
    for (class, example) in EXAMPLES {
        let band = ErrorBand::of(&ask::recipe(&[(example.to_owned(), 100.0)]));
        let (solid, slip, clear) = (band.solid_percent, band.slip_c, band.clear_c);
        let figures =
            [band.figures.solid, band.figures.slip, band.figures.clear].map(|count| count.to_string());
        writeln!(page, "| {class} | {solid} | {slip} | {clear} | {} |", figures.join(", ")).unwrap();
    }
    for kind in KINDS {
        let (kind_name, unit) = name(kind);
        writeln!(page, "\n## {}{}, {unit}\n", kind_name[..1].to_uppercase(), &kind_name[1..]).unwrap();
        page.push_str("| what | measured | predicted | error | role | source |\n|---|---|---|---|---|---|\n");
        for one in all.iter().filter(|one| one.kind == kind) {
            let (figure, error) = (&one.figure, one.misfit());
            let (_, role_name) = ROLES.iter().find(|(role, _)| *role == figure.role).unwrap();
            let predicted = one.predicted.map_or("none".to_owned(), |predicted| format!("{predicted:.1}"));
            let recalled = if figure.looked_up { "" } else { ", from memory" };
            let (what, measured) = (figure.name(), figure.measured());
            let source = &figure.file;
            writeln!(
                page,
                "| {what} | {measured} | {predicted} | {error:+.1} | {role_name}{recalled} | {source} |"
            )
            .unwrap();
        }
    }
    page
}

#[test]
fn report_is_up_to_date() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/published/REPORT.md");
    let minted = report(&compared());
    if std::env::var_os("MINT").is_some() {
        std::fs::write(&path, &minted).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    let first = minted.lines().zip(kept.lines()).find(|(new, old)| new != old);
    assert!(
        minted == kept,
        "REPORT.md is not what the engine says now; first: {first:?}. If that is meant: MINT=1 cargo test --test published report"
    );
}
