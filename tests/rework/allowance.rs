//! The allowance that a search goes by, against odds by lots: how surely a recipe holds that just bears it.

use meltmargin::{
    behaviour::{Format, Solids, Wishes},
    equilibrium::CrystalState,
    recipe::{Line, Recipe},
    rework::Demand,
    substances,
    surety::{Allowance, Unknowns},
};
use serde_json::Value;

fn wishes(format: Format, hottest_c: f64) -> Wishes {
    Wishes { format, coldest_c: 10.0, hottest_c, skin_c: 32.5, firmness: None, on_skin: None }
}

/// The odds by lots of each usual recipe, kept as hot as it just bears the allowance of some odds.
fn odds_at_allowance(odds: f64) -> Vec<f64> {
    let allowance = Allowance::of_odds(odds);
    let mut found = Vec::new();
    for line in include_str!("usual/questions.jsonl").lines() {
        let question: Value = serde_json::from_str(line).unwrap();
        let lines = question["recipe"].as_array().unwrap().iter().map(|it| {
            let known = substances::find(it["id"].as_str().unwrap()).unwrap();
            Line::of(known, it["percent"].as_f64().unwrap())
        });
        let recipe = Recipe::new(lines.collect()).unwrap();
        let format = match question["format"].as_str().unwrap() {
            "whipped" => Format::Whipped,
            "bar" => Format::Bar,
            _ => Format::Pot,
        };
        let mixture = recipe.mixture(CrystalState::Settled);
        let bears = |hottest_c: f64| {
            let demand = Demand::of(&wishes(format, hottest_c), 0.0, &allowance)[0];
            demand.band.miss(demand.figure(&Solids::from(&mixture.at(demand.celsius)))) == 0.0
        };
        let (mut low, mut high) = (12.0, 45.0);
        if !bears(low) || bears(high) {
            continue;
        }
        while high - low > 0.01 {
            let middle = 0.5 * (low + high);
            if bears(middle) { low = middle } else { high = middle }
        }
        found.push(Unknowns::of(&recipe).odds(&wishes(format, low)).holds);
    }
    found.sort_by(f64::total_cmp);
    found
}

#[test]
fn what_just_bears_an_allowance_holds_about_as_surely() {
    // Of each: the odds, and where the lots of the tenth, of the middle and of nine in ten of the recipes may
    // lie.
    for (odds, [tenth, middle, most]) in
        [(0.5, [0.46, 0.48, 0.52]), (0.75, [0.68, 0.75, 0.85]), (0.9, [0.82, 0.90, 0.98])]
    {
        let found = odds_at_allowance(odds);
        let at = |share: f64| found[(share * found.len() as f64) as usize];
        println!(
            "{odds}: {} recipes, {:.3} {:.3} {:.3}, from {:.3} to {:.3}",
            found.len(),
            at(0.1),
            at(0.5),
            at(0.9),
            found[0],
            at(0.999)
        );
        assert!(found.len() > 200);
        assert!(at(0.1) >= tenth && at(0.9) <= most && (at(0.5) - middle).abs() < 0.02, "{odds}");
    }
}
