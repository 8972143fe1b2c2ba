//! What the amounts that stand beside one name say together.

use super::{
    LineProblem, Unit,
    amounts::{Amount, Quantity, Written},
    units::Kind,
};

/// The amount of one entry.
#[derive(Clone, Debug, Default)]
pub(super) struct Told {
    /// In its unit; none where it is a range, or missing.
    pub(super) amount: Option<f64>,
    pub(super) unit: Option<Unit>,
    pub(super) range: Option<[f64; 2]>,
    /// The text says that it is not exact.
    pub(super) about: bool,
    pub(super) problem: Option<LineProblem>,
    /// It is what is missing from the whole, whose size may be stated, with its unit.
    pub(super) rest: Option<(Option<f64>, Option<Unit>)>,
    /// Its unit is to be found from the rest of the text.
    pub(super) bare: bool,
    /// Grams beside a percentage, to compare.
    pub(super) grams_beside: Option<f64>,
}

impl Told {
    /// Whether it says in what the recipe is: a few drops of which nobody knows how many do not.
    pub(super) fn counts(&self) -> bool {
        self.problem != Some(LineProblem::NoAmount)
    }
}

/// How far two masses may lie apart that mean the same, of the larger: “4 oz / 113 g”.
const SAME_MASS: f64 = 0.03;

/// Of several amounts the percentage is taken before the mass, the mass before the volume, and of two masses
/// the metric one; amounts of one kind that disagree are none.
pub(super) fn told(amounts: &[Amount]) -> Told {
    let bad = |problem| Told { problem: Some(problem), ..Told::default() };
    let mut amounts: Vec<&Amount> = amounts.iter().collect();
    // “100 % pure shea butter 50 g”
    let whole = |amount: &Amount| {
        amount.quantity == Quantity::One(100.0) && amount.written == Written::Unit(Unit::Percent)
    };
    if amounts.len() > 1 && !amounts.iter().all(|amount| whole(amount)) {
        amounts.retain(|amount| !whole(amount));
    }
    if amounts
        .iter()
        .any(|amount| matches!(amount.quantity, Quantity::Bad | Quantity::Ratio(_) | Quantity::Equal))
    {
        return bad(LineProblem::AmountBad);
    }
    let about = amounts.iter().any(|amount| amount.about);
    for amount in &amounts {
        let unit = match amount.written {
            Written::Unit(unit) => Some(unit),
            _ => None,
        };
        match amount.quantity {
            Quantity::Rest(whole) => return Told { rest: Some((whole, unit)), about, ..Told::default() },
            Quantity::Range(low, high) => {
                let problem = Some(LineProblem::AmountRange);
                return Told { range: Some([low, high]), unit, about, problem, ..Told::default() };
            }
            Quantity::Limit => return Told { unit, ..bad(LineProblem::AmountRange) },
            // How many is for whoever wrote it; in what is said already.
            Quantity::Few => return Told { unit, about: true, ..bad(LineProblem::NoAmount) },
            _ => {}
        }
    }
    let of_unit = |kind: Option<Kind>| -> Vec<(f64, Option<Unit>)> {
        let each = amounts.iter().filter_map(|amount| match (&amount.quantity, amount.written) {
            (Quantity::One(value), Written::Unit(unit)) if Some(unit.kind()) == kind => {
                Some((*value, Some(unit)))
            }
            (Quantity::One(value), Written::Nothing) if kind.is_none() => Some((*value, None)),
            _ => None,
        });
        each.collect()
    };
    let mass = one_of(&of_unit(Some(Kind::Mass)));
    for kind in [Some(Kind::Share), Some(Kind::Mass), Some(Kind::Volume), Some(Kind::Parts), None] {
        let several = of_unit(kind);
        if several.is_empty() {
            continue;
        }
        let Some((value, unit)) = one_of(&several) else { return bad(LineProblem::AmountBad) };
        let beside = mass.filter(|_| kind == Some(Kind::Share));
        return Told {
            amount: Some(value),
            unit,
            about: about || kind == Some(Kind::Volume),
            bare: kind.is_none(),
            grams_beside: beside.and_then(|(value, unit)| Some(value * unit?.size())),
            ..Told::default()
        };
    }
    let sizeless = amounts.iter().find_map(|amount| match amount.quantity {
        Quantity::One(value) => Some(value),
        _ => None,
    });
    match sizeless {
        Some(value) => Told { amount: Some(value), ..bad(LineProblem::UnitMissing) },
        None => bad(LineProblem::NoAmount),
    }
}

/// The one amount that amounts of one kind are: the sum of pounds and ounces and the like; the metric one of
/// two that are the same; none where they disagree.
fn one_of(several: &[(f64, Option<Unit>)]) -> Option<(f64, Option<Unit>)> {
    let size = |(value, unit): &(f64, Option<Unit>)| value * unit.map_or(1.0, Unit::size);
    match several {
        [] => None,
        [only] => Some(*only),
        [(large, Some(big)), (small, Some(little))]
            if adds_up(*big, *little) && small * little.size() < big.size() =>
        {
            Some((large * big.size() / little.size() + small, Some(*little)))
        }
        [first, rest @ ..] => {
            let volume = first.1.is_some_and(|unit| unit.kind() == Kind::Volume);
            let same = |other: &(f64, Option<Unit>)| {
                // A cup of 250 ml is a cup.
                let tolerance = if volume { 0.1 } else { SAME_MASS };
                (size(first) - size(other)).abs() <= tolerance * size(first).max(size(other))
            };
            let metric = several.iter().find(|(_, unit)| unit.is_some_and(Unit::is_metric));
            rest.iter().all(same).then(|| *metric.unwrap_or(first))
        }
    }
}

/// Whether people write the two one after the other for one amount: “1 lb 4 oz”, “1 cup plus 2 tbsp”.
fn adds_up(big: Unit, little: Unit) -> bool {
    matches!(
        (big, little),
        (Unit::Pounds, Unit::Ounces)
            | (Unit::Kilograms, Unit::Grams)
            | (Unit::Cups, Unit::Tablespoons | Unit::Teaspoons)
            | (Unit::Tablespoons, Unit::Teaspoons)
            | (Unit::Litres, Unit::Millilitres)
    )
}
