//! What must hold of any recipe.

use meltmargin::{
    behaviour::{MeltingProfile, Solids},
    equilibrium::CrystalState,
    recipe::{Line, Recipe},
    substances::catalogue,
};
use serde_json::json;

use crate::ask::{answer, kinds, number, numbers};
use crate::random::Random;

impl Random {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// Two to six different ingredients whose percentages sum to 100 in halves.
    fn recipe(&mut self) -> Vec<(&'static str, f64)> {
        let count = 2 + self.below(5);
        let mut lines: Vec<(&'static str, f64)> = Vec::new();
        while lines.len() < count {
            let id = catalogue()[self.below(catalogue().len())].id();
            if lines.iter().all(|(known, _)| *known != id) {
                lines.push((id, 0.0));
            }
        }
        for _ in 0..200 {
            let at = self.below(count);
            lines[at].1 += 0.5;
        }
        lines
    }
}

fn made(lines: &[(&'static str, f64)]) -> Recipe {
    let line = |(id, percent): &(&'static str, f64)| {
        Line::of(catalogue().iter().find(|entry| entry.id() == *id).unwrap(), *percent)
    };
    Recipe::new(lines.iter().map(line).collect()).unwrap()
}

fn ask(lines: &[(&str, f64)], format: &str, coldest: f64, hottest: f64) -> serde_json::Value {
    crate::ask::behave(lines, format, coldest, hottest)
}

#[test]
fn warmer_is_never_more_solid_nor_better_knit() {
    let mut dice = Random::xorshift(7);
    for _ in 0..150 {
        let lines = dice.recipe();
        let (profile, certificate) = MeltingProfile::of(&made(&lines).mixture(CrystalState::Settled));
        assert!(certificate < 1e-9, "{lines:?}: {certificate}");
        for figure in [Solids::fat_percent, Solids::structure_percent] {
            let curve: Vec<f64> = profile.solids().iter().map(figure).collect();
            assert!(curve.windows(2).all(|pair| pair[1] <= pair[0] + 1e-7), "{lines:?}");
        }
        let weeps: Vec<f64> = profile.solids().iter().map(Solids::weeping_oil_percent).collect();
        assert!(weeps.windows(2).all(|pair| pair[1] >= pair[0] - 1e-7), "{lines:?}");
    }
}

#[test]
fn a_hotter_summer_never_makes_it_hold_better() {
    let mut dice = Random::xorshift(11);
    for _ in 0..25 {
        let lines = dice.recipe();
        let format = ["whipped", "pot", "bar"][dice.below(3)];
        let mut held = true;
        for hottest in [18.0, 24.0, 28.0, 32.0, 38.0, 45.0] {
            let answer = ask(&lines, format, 15.0, hottest);
            let holds = answer["places"]["hottest"]["holds"].as_bool().unwrap();
            assert!(held || !holds, "{lines:?} {format} at {hottest}");
            let softening = answer["softening_c"].as_f64().unwrap_or(f64::NEG_INFINITY);
            assert_eq!(holds, softening >= hottest, "{lines:?} {format}: {softening} against {hottest}");
            held = holds;
        }
    }
}

#[test]
fn the_order_of_the_lines_does_not_matter() {
    let mut dice = Random::xorshift(13);
    for _ in 0..20 {
        let mut lines = dice.recipe();
        let one = ask(&lines, "pot", 12.0, 28.0);
        lines.reverse();
        let other = ask(&lines, "pot", 12.0, 28.0);
        for (a, b) in
            numbers(&one["curve"]["solid_percent"]).iter().zip(numbers(&other["curve"]["solid_percent"]))
        {
            assert!((a - b).abs() < 1e-7);
        }
        assert_eq!(kinds(&one["verdict"]["findings"]), kinds(&other["verdict"]["findings"]));
    }
}

/// The same mixture in any amount: moles scale, the curve does not.
#[test]
fn behaviour_is_free_of_scale() {
    let mut dice = Random::xorshift(17);
    for _ in 0..20 {
        let lines = dice.recipe();
        let recipe = made(&lines);
        let parts: Vec<_> = recipe.lines().iter().map(Line::part).collect();
        let blend = meltmargin::equilibrium::Blend::new(&parts, CrystalState::Settled);
        let amounts = |scale: f64| lines.iter().map(|(_, percent)| scale * percent).collect::<Vec<f64>>();
        for celsius in [5.0, 20.0, 31.0, 45.0] {
            let small = blend.mixture(&amounts(0.01)).at(celsius);
            let large = blend.mixture(&amounts(1000.0)).at(celsius);
            assert!((small.solid_percent - large.solid_percent).abs() < 1e-8, "{lines:?}");
            assert!((small.latent_j_per_g - large.latent_j_per_g).abs() < 1e-8, "{lines:?}");
        }
    }
}

#[test]
fn any_recipe_in_any_climate_is_answered() {
    let mut dice = Random::xorshift(19);
    for _ in 0..60 {
        let lines = dice.recipe();
        let coldest = dice.between(-20.0, 40.0);
        let hottest = dice.between(coldest, 60.0);
        let format = ["whipped", "pot", "bar"][dice.below(3)];
        let answer = ask(&lines, format, coldest, hottest);
        assert!(!kinds(&answer["verdict"]["findings"]).is_empty());
        assert!(["good", "doubtful", "bad"].contains(&answer["verdict"]["mood"].as_str().unwrap()));
        let misses = answer["misses"].as_array().unwrap();
        assert!(misses.is_empty() || answer["verdict"]["mood"] != "good");
        assert!(number(&answer["certificate"]) < 1e-9);
    }
}

#[test]
fn weights_sum_exactly_for_any_recipe_and_scale() {
    let mut dice = Random::xorshift(23);
    for _ in 0..60 {
        let lines = dice.recipe();
        let step = [0.01, 0.05, 0.1, 0.5, 1.0][dice.below(5)];
        let grams = dice.between(50.0, 20_000.0);
        let batch = answer(&json!({
            "ask": "batch", "recipe": crate::ask::recipe(&lines), "batch_g": grams, "step": step,
        }));
        let steps: f64 = batch["lines"].as_array().unwrap().iter().map(|line| number(&line["steps"])).sum();
        assert_eq!(steps, (grams / step).round(), "{lines:?} {grams} {step}");
    }
}
