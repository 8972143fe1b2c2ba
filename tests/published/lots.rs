//! The bands that belong to a recipe, against published figures that nothing was fitted to, and what sets the
//! model's own remainder in them.

use std::collections::BTreeMap;

use meltmargin::{
    behaviour::Melting,
    contract::{ErrorBand, RecipeClass},
    equilibrium::CrystalState,
    surety::{LotBand, Remainder, Unknowns},
};

use crate::{
    ask,
    bands::{Of, bears_on, is_a_measurement, middle},
    figure::Role,
    misfit::{Compared, Kind, compared},
};

/// A published figure and the band of its recipe.
struct Banded {
    one: Compared,
    of: Of,
    class: RecipeClass,
    /// The band as it is told.
    band: LotBand,
    /// The least remainder of the model, as a standard deviation, with which the figure lies in its band.
    least_remainder: f64,
    /// That which it is told with.
    stated_remainder: f64,
    /// Half of the band that every recipe of this class was told before bands belonged to recipes.
    class_band: f64,
}

/// The model's remainder is set to steps of this, K or points.
const STEP: f64 = 0.1;

/// A larger remainder is not looked for, K or points.
const MOST: f64 = 8.0;

/// The band of the recipe of a figure with this remainder, whatever the figure.
fn band(one: &Compared, of: Of, remainder: f64) -> Option<LotBand> {
    let recipe = ask::recipe(&one.figure.recipe);
    let all = Remainder { solid_percent: remainder, slip_k: remainder, clear_k: remainder };
    let unknowns = Unknowns::of(&recipe).with_remainder(all);
    let mixture = recipe.mixture(CrystalState::Settled);
    let mut settled = Melting::of(&mixture);
    match of {
        Of::Solid => Some(unknowns.solid_percent(&[one.figure.at_c?])[0]),
        Of::Slip => unknowns.points_c(&mut settled)[0],
        Of::Clear => unknowns.points_c(&mut settled)[1],
    }
}

impl Banded {
    fn of(one: Compared) -> Option<Banded> {
        let of = bears_on(&one)?;
        let recipe = ask::recipe(&one.figure.recipe);
        let (class, remainder) = (ErrorBand::of(&recipe), Unknowns::of(&recipe).remainder());
        let lies_within = |(low, high): LotBand| (low..=high).contains(&middle(&one));
        let (mut less, mut enough) = (0, (MOST / STEP) as u32);
        while enough - less > 1 {
            let between = (less + enough) / 2;
            if lies_within(band(&one, of, STEP * f64::from(between))?) {
                enough = between;
            } else {
                less = between;
            }
        }
        let (class_band, stated_remainder) = match of {
            Of::Solid => (class.solid_percent, remainder.solid_percent),
            Of::Slip => (class.slip_c, remainder.slip_k),
            Of::Clear => (class.clear_c, remainder.clear_k),
        };
        Some(Banded {
            of,
            class: class.class,
            band: band(&one, of, stated_remainder)?,
            least_remainder: STEP * f64::from(enough),
            stated_remainder,
            class_band,
            one,
        })
    }

    fn half(&self) -> f64 {
        0.5 * (self.band.1 - self.band.0)
    }

    fn lies_within(&self) -> bool {
        (self.band.0..=self.band.1).contains(&middle(&self.one))
    }

    /// The row of `src/surety/data/widths.csv` that has its remainder.
    fn remainder(&self) -> &'static str {
        match (self.of, self.class) {
            (Of::Solid, _) => "solids",
            (Of::Slip, RecipeClass::Plain) => "slip",
            (Of::Slip, _) => "slip-lauric-wax",
            (Of::Clear, RecipeClass::Wax) => "clear-wax",
            (Of::Clear, _) => "clear",
        }
    }
}

/// Figures that nothing was fitted to. Of clear points of gels those that are remembered count too, as only
/// three others are known; a liquid oil's points are set by traces, and no butter is kept that cold.
fn banded() -> Vec<Banded> {
    let counts = |one: &Compared| {
        one.figure.role == Role::Proof || one.figure.role == Role::Weak && one.kind == Kind::GelClear
    };
    compared()
        .into_iter()
        .filter(|one| counts(one) && is_a_measurement(one) && one.kind != Kind::PointOfOil)
        .filter(|one| one.predicted.is_some())
        .filter_map(Banded::of)
        .collect()
}

/// The least remainder with which nine in ten of these figures lie in their bands.
fn least_remainder<'a>(these: impl Iterator<Item = &'a Banded>) -> f64 {
    let mut least: Vec<f64> = these.map(|one| one.least_remainder).collect();
    least.sort_by(f64::total_cmp);
    least[(9 * least.len()).div_ceil(10) - 1]
}

/// The share of these, in percent.
fn percent(part: usize, of: usize) -> f64 {
    100.0 * part as f64 / of as f64
}

/// Of these, the percent that lie within their bands, and the mean of half of the bands, and of half of their
/// classes' bands.
fn summed(these: &[&Banded]) -> (f64, f64, f64) {
    let inside = these.iter().filter(|one| one.lies_within()).count();
    let mean = |of: fn(&Banded) -> f64| these.iter().map(|one| of(one)).sum::<f64>() / these.len() as f64;
    (percent(inside, these.len()), mean(Banded::half), mean(|one| one.class_band))
}

#[test]
fn nine_in_ten_lie_within_the_band_of_their_recipe() {
    let all = banded();
    for one in &all {
        println!(
            "{:<62} {:?} {:?} {:>5.1} in {:>5.1} to {:>5.1}{} (class: ± {:.1}) needs {:.1} [{}]",
            one.one.figure.name(),
            one.class,
            one.of,
            middle(&one.one),
            one.band.0,
            one.band.1,
            if one.lies_within() { "" } else { " OUTSIDE" },
            one.class_band,
            one.least_remainder,
            one.one.figure.file
        );
    }
    let (mut remainders, mut classes) =
        (BTreeMap::<&str, Vec<&Banded>>::new(), BTreeMap::<String, Vec<&Banded>>::new());
    for one in &all {
        remainders.entry(one.remainder()).or_default().push(one);
        classes.entry(format!("{:?} {:?}", one.class, one.of)).or_default().push(one);
    }
    let mut stale = Vec::new();
    for (name, these) in &remainders {
        let (least, stated) = (least_remainder(these.iter().copied()), these[0].stated_remainder);
        println!("{name}: {least:.1} over {}", these.len());
        if (stated - least).abs() > 0.01 {
            stale.push(format!("{name} {least:.1}"));
        }
    }
    for (class, these) in &classes {
        let (inside, half, was) = summed(these);
        println!(
            "{class}: {inside:.0} % of {}, ± {half:.2}, of classes {was:.2}: {:.2}",
            these.len(),
            half / was
        );
        assert!(these.len() < 20 || inside >= 80.0, "{class}: {inside:.0} %");
        assert!(half <= 1.35 * was, "{class}: ± {half:.2} where classes have {was:.2}");
    }
    let (inside, half, was) = summed(&all.iter().collect::<Vec<_>>());
    println!("all: {inside:.0} % of {}, ± {half:.2}, of classes {was:.2}: {:.2}", all.len(), half / was);
    assert!((85.0..=95.0).contains(&inside), "{inside:.0} %");
    assert!(half <= was, "± {half:.2} where classes have {was:.2}");
    let without_their_source = all.iter().filter(|one| {
        let others =
            remainders[one.remainder()].iter().filter(|it| it.one.figure.file != one.one.figure.file);
        one.least_remainder <= least_remainder(others.copied()) + 0.01
    });
    let inside = percent(without_their_source.count(), all.len());
    println!("each source left out of setting the remainder: {inside:.0} %");
    assert!(inside >= 85.0, "{inside:.0} %");
    assert!(stale.is_empty(), "put these into src/surety/data/widths.csv: {stale:?}");
}
