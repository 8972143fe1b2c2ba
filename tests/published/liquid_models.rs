//! Which liquid: ideal by mole fraction, or athermal Flory–Huggins, on every published figure.
//!
//! Flory–Huggins without heat of mixing gives a molecule of size r among others the activity coefficient
//! r·ρ·exp(1 − r·ρ), where ρ is the number of molecules in a volume of liquid. Around the engine's ideal
//! core, with K multiplied by it, ρ is the one unknown. Sizes are taken as molar masses: fats, acids and
//! waxes have nearly one density.

use meltmargin::{
    behaviour::{CLEAR_SOLID_PERCENT, LAST_SOLID_PERCENT, SLIP_SOLID_PERCENT},
    equilibrium::{CrystalState, Mixture, SpeciesState},
};

use crate::{
    ask,
    figure::{Figure, Role},
    misfit::{Compared, KINDS, Kind, compared},
};

/// ln of the activity coefficient of a molecule of molar mass `size` in a liquid with `per_gram` moles in a
/// gram.
fn log_activity(size: f64, per_gram: f64) -> f64 {
    let ratio = size * per_gram;
    libm::log(ratio) + 1.0 - ratio
}

/// Grams that are solid, and moles per gram of liquid, where K is corrected for a liquid of `per_gram`.
fn solved(mixture: &Mixture, species: &[SpeciesState], per_gram: f64) -> (f64, f64) {
    let corrected: Vec<SpeciesState> = species
        .iter()
        .map(|one| SpeciesState {
            log_distribution: one.log_distribution + log_activity(one.molar_mass, per_gram),
            ..*one
        })
        .collect();
    let remainder = mixture.solvent_moles();
    let solved = Mixture::of_known_distribution(&corrected, remainder).species_at(20.0);
    let grams: f64 = species.iter().map(|one| one.moles * one.molar_mass).sum();
    let solid: f64 = solved.iter().map(|one| one.solid_moles * one.molar_mass).sum();
    let liquid: f64 = solved.iter().map(|one| one.moles - one.solid_moles).sum::<f64>() + remainder;
    (solid, liquid / (mixture.mass() - grams + grams - solid))
}

/// Percent solid with a Flory–Huggins liquid.
fn solid_percent(mixture: &Mixture, celsius: f64) -> f64 {
    let species = mixture.species_at(celsius);
    // What a liquid of `guess` would hold crosses `guess` once, between the largest and the smallest
    // molecule: the energy is convex.
    let remainder = mixture.solvent_moles();
    let grams: f64 = species.iter().map(|one| one.moles * one.molar_mass).sum();
    let always = if remainder > 0.0 { remainder / (mixture.mass() - grams) } else { f64::NAN };
    let inverse = |one: &SpeciesState| 1.0 / one.molar_mass;
    let mut few = species.iter().map(inverse).fold(always, f64::min);
    let mut many = species.iter().map(inverse).fold(always, f64::max);
    for _ in 0..60 {
        let guess = 0.5 * (few + many);
        if solved(mixture, &species, guess).1 > guess { few = guess } else { many = guess }
    }
    100.0 * solved(mixture, &species, few).0 / mixture.mass()
}

fn falls_to(measure: impl Fn(f64) -> f64, level: f64) -> Option<f64> {
    let (mut cold, mut hot) = (-40.0, 120.0);
    if measure(cold) <= level {
        return None;
    }
    while hot - cold > 1e-4 {
        let middle = 0.5 * (cold + hot);
        if measure(middle) > level { cold = middle } else { hot = middle }
    }
    Some(cold)
}

/// What [`Figure::predicted`] says, with a Flory–Huggins liquid.
fn predicted(figure: &Figure) -> Option<f64> {
    let solids = |mixture: Mixture, level: f64| falls_to(|celsius| solid_percent(&mixture, celsius), level);
    let mixture = || ask::mixture(&figure.recipe, CrystalState::Settled);
    let fresh = || ask::mixture(&figure.recipe, CrystalState::Fresh);
    let clear = |mixture: Mixture| {
        let level = (0.1 * solid_percent(&mixture, 20.0)).clamp(LAST_SOLID_PERCENT, CLEAR_SOLID_PERCENT);
        solids(mixture, level)
    };
    match figure.quantity.as_str() {
        "liquidus" if figure.basis == "mole" => {
            let moles = figure.recipe.iter().cloned().collect();
            solids(Mixture::from_moles(&moles).unwrap(), 1e-6)
        }
        "liquidus" => solids(ask::of_species(&figure.recipe), 1e-6),
        "sfc" => figure.at_c.map(|at_c| solid_percent(&mixture(), at_c)),
        "slip" | "drop" => solids(mixture(), SLIP_SOLID_PERCENT),
        "slip-untempered" => solids(fresh(), SLIP_SOLID_PERCENT),
        "clear" | "congealing" | "cloud" | "gel-clear" => clear(mixture()),
        "melting-range" if figure.is_of_class(&["fatty-acid", "fatty-alcohol"]) => clear(mixture()),
        "melting-range" => solids(mixture(), SLIP_SOLID_PERCENT),
        _ => None,
    }
}

/// What the better liquid would have to gain on some kind of proof before it is worth its place in the
/// engine, K or points.
const WORTH_IT: f64 = 0.5;

/// Prints both; holds the engine's choice of the ideal liquid to its reason, that the other gains nowhere
/// enough.
#[test]
fn liquids_compared() {
    println!("kind, role: figures, root mean square error with an ideal and with a Flory-Huggins liquid");
    let all = compared();
    let mut gains = Vec::new();
    for kind in KINDS {
        for role in [Role::Fit, Role::Proof, Role::Weak] {
            let these: Vec<_> =
                all.iter().filter(|one| one.kind == kind && one.figure.role == role).collect();
            if these.is_empty() {
                continue;
            }
            let root_mean_square = |misfit: fn(&Compared) -> f64| {
                let sum: f64 = these.iter().map(|one| misfit(one)).map(|misfit| misfit * misfit).sum();
                (sum / these.len() as f64).sqrt()
            };
            let ideal = root_mean_square(Compared::misfit);
            let other = root_mean_square(|one| one.figure.misfit(predicted(&one.figure).unwrap_or(-20.0)));
            println!(
                "  {:<22} {:<5} {:>4} {ideal:>6.2} {other:>6.2}",
                format!("{kind:?}"),
                format!("{role:?}"),
                these.len()
            );
            if role == Role::Proof {
                gains.push((kind, ideal - other));
            }
        }
    }
    assert!(gains.iter().any(|(kind, _)| *kind == Kind::LiquidusSaturated));
    for (kind, gain) in gains {
        assert!(
            gain <= WORTH_IT,
            "{kind:?}: a Flory-Huggins liquid is {gain:.2} better: look at the choice again"
        );
    }
}

/// Where the two differ most, an acid or an alcohol among triglycerides, the ideal liquid is the one that was
/// observed: Patton et al. 1984, J. Lipid Res. 25:189 (abstract), find acids, alcohols, alkanes and
/// triglycerides in triolein to dissolve as mole fractions by melting point and entropy of fusion alone; Yui
/// et al. 2017, J. Chem. Eng. Data 62:35 (abstract), triglycerides in hexadecane, a quarter of their size, to
/// be "close to the ideal solution".
#[test]
fn the_choice_matters_for_acids_and_alcohols_in_oil() {
    for (small, least, most) in [("stearic-acid", 3.0, 7.0), ("hexadecanol", 4.0, 8.0)] {
        let recipe = [(small.to_owned(), 5.0), ("OOO".to_owned(), 95.0)];
        let mixture = ask::of_species(&recipe);
        let ideal = mixture.liquidus_c().unwrap();
        let other = falls_to(|celsius| solid_percent(&mixture, celsius), 1e-6).unwrap();
        println!("5 % {small} in triolein: liquidus {ideal:.1} °C, with a Flory-Huggins liquid {other:.1}");
        assert!((least..=most).contains(&(ideal - other)), "{small}: {ideal} {other}");
    }
}

/// The other liquid is solved rightly: of molecules of one size it is the ideal one, and pure species melt
/// where they do.
#[test]
fn a_liquid_of_equal_molecules_is_ideal() {
    for recipe in [vec![("SOS", 30.0), ("SSO", 70.0)], vec![("stearic-acid", 100.0)], vec![("LaLaLa", 100.0)]]
    {
        let recipe: Vec<(String, f64)> =
            recipe.into_iter().map(|(id, percent)| (id.to_owned(), percent)).collect();
        let mixture = ask::of_species(&recipe);
        for celsius in [-10.0, 10.0, 30.0, 40.0, 60.0] {
            let (ideal, other) = (mixture.at(celsius).solid_percent, solid_percent(&mixture, celsius));
            assert!((ideal - other).abs() < 1e-6, "{recipe:?} at {celsius} °C: {ideal} {other}");
        }
    }
}
