//! Units: how they are written in the languages that are read, and what they measure.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

/// In what an amount is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Unit {
    /// Percent of the whole.
    Percent,
    /// Grams.
    Grams,
    /// Avoirdupois ounces.
    Ounces,
    /// Parts, in any unit.
    Parts,
    /// Kilograms.
    Kilograms,
    /// Milligrams.
    Milligrams,
    /// Avoirdupois pounds.
    Pounds,
    /// US tablespoons.
    Tablespoons,
    /// US teaspoons.
    Teaspoons,
    /// US cups.
    Cups,
    /// Millilitres.
    Millilitres,
    /// Litres.
    Litres,
    /// US fluid ounces.
    FluidOunces,
    /// Drops.
    Drops,
}

/// What kind of thing a unit measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Share,
    Mass,
    Volume,
    Parts,
}

/// Grams in an avoirdupois ounce, exact by definition (international yard and pound agreement, 1959).
pub(crate) const OUNCE_G: f64 = 28.349_523_125;
/// Millilitres in a US fluid ounce: the 128th part of a gallon of 231 cubic inches (NIST Handbook 44,
/// appendix C).
const FLUID_OUNCE_ML: f64 = 29.573_529_562_5;
/// Millilitres in a drop: 20 to the millilitre, as pharmacopoeias count those of water. Of oils there are
/// more, up to 50; every amount in drops is marked as not exact.
const DROP_ML: f64 = 0.05;

impl Unit {
    /// A word for it that [`measure`] knows.
    pub(super) fn word(self) -> &'static str {
        match self {
            Unit::Percent => "percent",
            Unit::Grams => "grams",
            Unit::Ounces => "ounces",
            Unit::Parts => "parts",
            Unit::Kilograms => "kg",
            Unit::Milligrams => "mg",
            Unit::Pounds => "pounds",
            Unit::Tablespoons => "tablespoons",
            Unit::Teaspoons => "teaspoons",
            Unit::Cups => "cups",
            Unit::Millilitres => "ml",
            Unit::Litres => "litres",
            Unit::FluidOunces => "floz",
            Unit::Drops => "drops",
        }
    }

    pub(super) fn kind(self) -> Kind {
        match self {
            Unit::Percent => Kind::Share,
            Unit::Parts => Kind::Parts,
            Unit::Grams | Unit::Ounces | Unit::Kilograms | Unit::Milligrams | Unit::Pounds => Kind::Mass,
            _ => Kind::Volume,
        }
    }

    /// Grams, millilitres, percent or parts in one of it.
    pub(super) fn size(self) -> f64 {
        match self {
            Unit::Percent | Unit::Parts | Unit::Grams | Unit::Millilitres => 1.0,
            Unit::Kilograms | Unit::Litres => 1000.0,
            Unit::Milligrams => 0.001,
            Unit::Ounces => OUNCE_G,
            Unit::Pounds => 16.0 * OUNCE_G,
            Unit::FluidOunces => FLUID_OUNCE_ML,
            Unit::Cups => 8.0 * FLUID_OUNCE_ML,
            Unit::Tablespoons => FLUID_OUNCE_ML / 2.0,
            Unit::Teaspoons => FLUID_OUNCE_ML / 6.0,
            Unit::Drops => DROP_ML,
        }
    }

    /// Whether it belongs to the metric system, which is the one that was weighed where both are written.
    pub(super) fn is_metric(self) -> bool {
        matches!(self, Unit::Grams | Unit::Kilograms | Unit::Milligrams | Unit::Millilitres | Unit::Litres)
    }
}

/// What a word after a number says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Measure {
    /// A unit, and how many of it.
    Of(Unit, f64),
    /// A measure without a size: a scoop, a handful.
    Sizeless,
    /// Minutes, degrees: no amount of an ingredient.
    Other,
}

/// How measures are written, folded; those of several words are parted by commas. General knowledge, no
/// source.
const WRITTEN: &[(&str, Measure)] = {
    use Measure::{Of, Other, Sizeless};
    use Unit::*;
    &[
        ("ww percent pct prozent persen pratishat प्रतिशत percento percentage", Of(Percent, 1.0)),
        ("per cent,por ciento,pour cent,por cento,per cento", Of(Percent, 1.0)),
        (
            "g gr gm gms gram grams gramm gramme grammes gramos gramo gramas grama grammi grammo ग्राम",
            Of(Grams, 1.0),
        ),
        // So many of a thousand, or of a hundred: shares of a whole that is weighed.
        ("g kg,g pro kg,g per kg", Of(Grams, 1.0)),
        ("kg kgs kilo kilos kilogram kilograms chilo", Of(Kilograms, 1.0)),
        ("mg milligram milligrams", Of(Milligrams, 1.0)),
        ("oz ozs ounce ounces", Of(Ounces, 1.0)),
        ("lb lbs pound pounds", Of(Pounds, 1.0)),
        ("part parts pt pts parte partes parti teil teile bagian hissa", Of(Parts, 1.0)),
        (
            "tbsp tbsps tbs tblsp tablespoon tablespoons el essloffel sdm cucharada cucharadas",
            Of(Tablespoons, 1.0),
        ),
        ("cucchiaio cucchiai cs cas", Of(Tablespoons, 1.0)),
        ("cuillere a soupe,cuilleres a soupe,c a soupe,c a s,sendok makan", Of(Tablespoons, 1.0)),
        ("colher de sopa,colheres de sopa", Of(Tablespoons, 1.0)),
        ("tsp tsps tspn teaspoon teaspoons tl teeloffel sdt cucharadita cucharaditas", Of(Teaspoons, 1.0)),
        ("cucchiaino cucchiaini cac", Of(Teaspoons, 1.0)),
        ("cuillere a cafe,cuilleres a cafe,c a cafe,c a c,sendok teh", Of(Teaspoons, 1.0)),
        ("colher de cha,colheres de cha", Of(Teaspoons, 1.0)),
        ("cup cups tasse tassen taza tazas xicara xicaras tazza tazze", Of(Cups, 1.0)),
        ("metric cup,metric cups", Of(Millilitres, 250.0)),
        ("ml mls cc millilitre millilitres milliliter milliliters", Of(Millilitres, 1.0)),
        ("cl", Of(Millilitres, 10.0)),
        ("dl", Of(Millilitres, 100.0)),
        ("l litre litres liter liters litro litros litri", Of(Litres, 1.0)),
        ("floz", Of(FluidOunces, 1.0)),
        ("fl oz,fluid oz,fluid ounce,fluid ounces", Of(FluidOunces, 1.0)),
        ("drop drops gtt gtts goutte gouttes gota gotas tropfen goccia gocce tetes boond", Of(Drops, 1.0)),
        ("scoop scoops handful handfuls stick sticks pinch pinches dash spoon spoons spoonful", Sizeless),
        (
            "spoonfuls chammach knob bar bars block blocks jar jars piece pieces squeeze splash dollop",
            Sizeless,
        ),
        ("min mins minute minutes minuten minuti minutos h hr hrs hour hours sec secs seconds", Other),
        ("day days week weeks month months year years times mm cm inch inches people", Other),
    ]
};

/// Every way of writing a measure, sorted.
static MEASURES: LazyLock<Vec<(&str, Measure)>> = LazyLock::new(|| {
    let parting = |written: &str| if written.contains(',') { ',' } else { ' ' };
    let each = |(written, measure): &(&'static str, Measure)| {
        let measure = *measure;
        written.split(parting(written)).map(move |one| (one, measure))
    };
    let mut all: Vec<(&str, Measure)> = WRITTEN.iter().flat_map(each).collect();
    all.sort_by_key(|(written, _)| *written);
    all
});

/// The measure that words say: folded, with single spaces.
pub(super) fn measure(words: &str) -> Option<Measure> {
    let at = MEASURES.binary_search_by_key(&words, |(written, _)| written).ok()?;
    Some(MEASURES[at].1)
}

/// The most words that a measure has.
pub(super) const MOST_WORDS: usize = 3;
