//! From entries to lines: what each is called, and how much it is of the whole.

use super::{
    Gathered, LeftOut, LeftOutPiece, LineCorrection, LineProblem, Read, ReadLine, TextRemark, Unit,
    amounts::Written,
    letters::TURNED,
    names::{self, How, Meaning},
    rows::{Entry, Shape},
    share::shares,
    told::{Told, told},
    units::Kind,
};
use crate::{
    failure::{ErrorKind, Failure, FaultPlace, OfCorrection},
    substances::{self, Class},
};

/// What percentages that are worked out are written to.
const STEP_PERCENT: f64 = 0.01;

/// How far percentages may sum from 100 before it is said: what rounding a few lines to a tenth may do.
const SUM_TOLERANCE_PERCENT: f64 = 0.5;

/// How far the shares by mass of a table may lie from its percentages: both are rounded, the masses often to
/// whole grams.
const COLUMNS_TOLERANCE_PERCENT: f64 = 1.0;

/// A line in the making.
struct Draft {
    line: ReadLine,
    told: Told,
    shape: Shape,
    block: usize,
}

pub(super) fn read(gathered: Gathered, corrections: &[LineCorrection]) -> Result<Read, Failure> {
    let mut drafts: Vec<Draft> = gathered.entries.iter().map(draft).collect();
    // Where nothing is known, but an amount stands beside what could be an ingredient, that is asked about.
    let known = |draft: &Draft| {
        let line = &draft.line;
        line.id.is_some()
            || line.problems.contains(&LineProblem::Ambiguous)
            || (draft.told.amount.is_some() && !line.suggestions.is_empty())
    };
    if gathered.water.is_empty() && !drafts.iter().any(known) {
        return Err(Failure::new(
            ErrorKind::Empty,
            FaultPlace::Text,
            "no ingredient was found: write one ingredient a line with its amount, such as “60 % shea butter”",
        ));
    }
    let mut remarks = Vec::new();
    if gathered.phases {
        remarks.push(TextRemark::Phases);
    }
    for LeftOutPiece { text, why } in &gathered.left_out {
        match why {
            LeftOut::Water => remarks.push(TextRemark::WaterBased { line: text.clone() }),
            LeftOut::Total => remarks.push(TextRemark::TotalLeftOut { line: text.clone() }),
            LeftOut::Note => {}
        }
    }
    if columns_disagree(&drafts) {
        remarks.push(TextRemark::ColumnsDisagree);
    }
    give_units(&mut drafts, gathered.unit);
    if !gathered.two_columns.is_empty() {
        remarks.push(TextRemark::TwoRecipes);
    }
    for at in gathered.two_columns {
        drafts[at].line.problems.push(LineProblem::OtherRecipe);
    }
    correct(&mut drafts, corrections)?;
    let water: Vec<Told> = gathered.water.iter().map(|entry| told(&entry.amounts)).collect();
    let (unit, sum) = bring_together(&mut drafts, &water, &mut remarks);
    for Draft { line, .. } in &mut drafts {
        line.certain = line.how == Some(How::Named);
        line.problem = line.problems.first().copied();
    }
    let lines = drafts.into_iter().map(|draft| draft.line).collect();
    Ok(Read { unit, lines, sum, remarks, left_out: gathered.left_out })
}

/// The line of an entry, but for its share of the whole.
fn draft(entry: &Entry) -> Draft {
    let told = told(&entry.amounts);
    let meaning = entry.meaning.clone().unwrap_or_else(|| names::find(&entry.name));
    let meaning = match meaning {
        Meaning::None(_) if told.unit == Some(Unit::Drops) && names::is_aromatic(&entry.name) => {
            Meaning::One { id: "essential-oil", how: How::Named, others: Vec::new() }
        }
        // What is seen of a name that is turned round is not what is stored: it is suggested, and asked
        // about.
        Meaning::One { id, others, .. } if entry.name.contains(TURNED) => {
            Meaning::None(std::iter::once(id).chain(others).collect())
        }
        other => other,
    };
    let mut line =
        ReadLine { text: entry.text.replace(TURNED, ""), name: tidy(&entry.name), ..ReadLine::default() };
    match meaning {
        Meaning::One { id, how, others } => {
            (line.id, line.how, line.suggestions) = (Some(id), Some(how), others);
        }
        Meaning::Several(ids) => {
            line.suggestions = ids;
            line.problems.push(LineProblem::Ambiguous);
        }
        Meaning::Water | Meaning::None(_) if line.name.is_empty() => line.problems.push(LineProblem::NoName),
        Meaning::None(ids) => {
            line.suggestions = ids;
            line.problems.push(LineProblem::Unknown);
        }
        Meaning::Water => line.problems.push(LineProblem::Unknown),
    }
    line.problems.extend(entry.mismatch.then_some(LineProblem::RatioMismatch));
    Draft { line, told, shape: entry.shape, block: entry.block }
}

/// A name without the marks around it.
fn tidy(name: &str) -> String {
    let word = |letter: char| super::letters::in_word(letter) || matches!(letter, '_' | '(' | ')');
    let name = name.trim_matches(|letter| !word(letter));
    let name = name
        .split_once(' ')
        .filter(|(first, _)| names::only_joins(first))
        .map_or(name, |(_, rest)| rest.trim());
    name.replace(TURNED, "")
}

/// Gives bare numbers the unit of a heading, or the one unit that the text has.
fn give_units(drafts: &mut [Draft], heading: Option<Written>) {
    let mut units: Vec<Unit> = Vec::new();
    for draft in drafts.iter().filter(|draft| !draft.told.bare && draft.told.counts()) {
        units.extend(draft.told.unit.filter(|unit| !units.contains(unit)));
    }
    let unit = match (heading, units.as_slice()) {
        (Some(Written::Unit(unit)), _) => Some(unit),
        (_, []) => Some(Unit::Parts),
        // Nobody who counts one thing in drops means drops of all the others.
        (_, [only]) if !matches!(only, Unit::Drops | Unit::Teaspoons) => Some(*only),
        _ => None,
    };
    for draft in drafts.iter_mut().filter(|draft| draft.told.bare) {
        draft.told.unit = unit;
        draft.told.about |= unit.is_some_and(|unit| unit.kind() == Kind::Volume);
        if unit.is_none() {
            draft.told.problem = Some(LineProblem::UnitMissing);
        }
    }
}

/// Whether masses beside percentages are in another proportion.
fn columns_disagree(drafts: &[Draft]) -> bool {
    let both: Vec<(f64, f64)> =
        drafts.iter().filter_map(|draft| Some((draft.told.amount?, draft.told.grams_beside?))).collect();
    let sum = |of: fn(&(f64, f64)) -> f64| both.iter().map(of).sum::<f64>();
    let (percents, grams) = (sum(|both| both.0), sum(|both| both.1));
    both.len() > 1
        && both.iter().any(|(percent, mass)| {
            (percent / percents - mass / grams).abs() * 100.0 > COLUMNS_TOLERANCE_PERCENT
        })
}

/// Takes over what was corrected.
fn correct(drafts: &mut [Draft], corrections: &[LineCorrection]) -> Result<(), Failure> {
    for (number, correction) in corrections.iter().enumerate() {
        let at = |what| FaultPlace::Correction(number, what);
        let count = drafts.len();
        let Some(Draft { line, told, .. }) = drafts.get_mut(correction.line) else {
            return Err(Failure::new(
                ErrorKind::OutOfRange,
                at(OfCorrection::Line),
                format!("the text has no line {}: give a number below {count}", correction.line),
            ));
        };
        if let Some(id) = &correction.id {
            let Some(ingredient) = substances::find(id) else {
                return Err(Failure::new(
                    ErrorKind::UnknownIngredient,
                    at(OfCorrection::Id),
                    format!("there is no ingredient `{id}`: choose one of the catalogue"),
                ));
            };
            line.suggestions.extend(line.id.filter(|id| *id != ingredient.id()));
            (line.id, line.how) = (Some(ingredient.id()), Some(How::Named));
            line.problems.clear();
        }
        if let Some(amount) = correction.amount {
            if !(amount.is_finite() && amount >= 0.0) {
                return Err(Failure::new(
                    ErrorKind::OutOfRange,
                    at(OfCorrection::Amount),
                    "this amount is not a positive number: correct it first",
                ));
            }
            let unit = correction.unit.or(told.unit).unwrap_or(Unit::Percent);
            *told = Told { amount: Some(amount), unit: Some(unit), ..Told::default() };
        } else if let Some(unit) = correction.unit {
            told.unit = Some(unit);
            (told.bare, told.range) = (false, told.range);
            told.problem = told.problem.filter(|_| told.amount.is_none());
        }
        if correction.amount.is_some() || correction.unit.is_some() {
            told.about |= told.unit.is_some_and(|unit| unit.kind() == Kind::Volume);
            line.problems.retain(|problem| {
                matches!(problem, LineProblem::Unknown | LineProblem::Ambiguous | LineProblem::NoName)
            });
        }
        line.left_out = correction.left_out;
    }
    Ok(())
}

/// Works out each line's share; gives the unit of the whole, and the sum in it.
fn bring_together(drafts: &mut [Draft], water: &[Told], remarks: &mut Vec<TextRemark>) -> (Unit, f64) {
    let all = || drafts.iter().filter(|draft| !draft.line.left_out).map(|draft| &draft.told).chain(water);
    let has = |kind: Kind| {
        all().any(|told| {
            told.counts()
                && told.problem != Some(LineProblem::UnitMissing)
                && told.unit.is_some_and(|unit| unit.kind() == kind)
        })
    };
    let of_parts = |told: &&Told| told.unit.is_none_or(|unit| unit.kind() == Kind::Parts);
    let bare_sum: f64 = all().filter(of_parts).filter_map(|told| told.amount).sum();
    // A spoon of honey that is left out makes no recipe by mass; nor do a few drops beside parts, of which
    // nobody knows the weight.
    let parts = has(Kind::Parts);
    let weighed = drafts.iter().any(|draft| {
        let told = &draft.told;
        let unit = told.unit.filter(|_| told.counts() && told.problem != Some(LineProblem::UnitMissing));
        !draft.line.left_out
            && unit.is_some_and(|unit| match unit {
                Unit::Drops => !parts,
                other => matches!(other.kind(), Kind::Mass | Kind::Volume),
            })
    });
    let (share, mass) = (has(Kind::Share), weighed);
    let parts_are_percent = !share && !mass && (bare_sum - 100.0).abs() <= SUM_TOLERANCE_PERCENT;
    let base = if share {
        Kind::Share
    } else if mass {
        Kind::Mass
    } else {
        Kind::Parts
    };
    let imperial = all()
        .filter_map(|told| told.unit)
        .filter(|unit| unit.kind() == Kind::Mass)
        .all(|unit| !unit.is_metric())
        && !has(Kind::Volume);
    let unit = match base {
        Kind::Share => Unit::Percent,
        Kind::Parts if parts_are_percent => Unit::Percent,
        Kind::Parts => Unit::Parts,
        _ if imperial => Unit::Ounces,
        _ => Unit::Grams,
    };
    let of_water: f64 = water
        .iter()
        .filter(|told| base != Kind::Share || told.unit == Some(Unit::Percent) || told.bare)
        .filter_map(|told| told.amount)
        .sum();
    let (mut mixed, mut volumes) = (false, false);
    // What each is in the unit of the whole.
    let mut amounts: Vec<Option<f64>> = drafts
        .iter_mut()
        .map(|Draft { line, told, shape, .. }| {
            (line.amount, line.unit, line.range) = (told.amount, told.unit, told.range);
            line.about = told.about;
            line.problems.extend(told.problem);
            if told.amount.is_none() && told.problem.is_none() && told.rest.is_none() {
                line.problems.push(LineProblem::NoAmount);
            }
            let (amount, unit) = (told.amount?, told.unit.filter(|_| told.problem.is_none())?);
            let of = match (base, unit.kind()) {
                (Kind::Share, Kind::Share) | (Kind::Parts, Kind::Parts) => Some(amount),
                (Kind::Mass, Kind::Mass) => Some(amount * unit.size()),
                (Kind::Mass, Kind::Volume) => Some(amount * unit.size() * density_g_ml(line.id, *shape)),
                _ => None,
            };
            volumes |= unit.kind() == Kind::Volume;
            if of.is_none() {
                mixed = true;
                line.problems.push(LineProblem::UnitsMixed);
            }
            line.grams = of.filter(|_| base == Kind::Mass);
            of.filter(|_| !line.left_out)
        })
        .collect();
    if volumes {
        remarks.push(TextRemark::Volumes);
    }
    if mixed && base == Kind::Share {
        remarks.push(TextRemark::MixedUnits);
    }
    fill_up(drafts, &mut amounts, base, of_water, remarks);
    if base != Kind::Share
        && amounts.iter().any(Option::is_some)
        && amounts.iter().flatten().sum::<f64>() <= 0.0
    {
        for (draft, amount) in drafts.iter_mut().zip(&amounts) {
            draft.line.problems.extend(amount.map(|_| LineProblem::AmountBad));
        }
    }
    let size = if base == Kind::Mass && unit == Unit::Ounces { unit.size() } else { 1.0 };
    // The sum of nothing is a negative zero.
    let sum = amounts.iter().flatten().sum::<f64>() / size + 0.0;
    let whole = |draft: &Draft| draft.line.left_out || draft.line.percent.is_some();
    if base == Kind::Share {
        for (draft, amount) in drafts.iter_mut().zip(&amounts) {
            draft.line.percent = *amount;
        }
        let sum_percent = sum + of_water;
        if drafts.iter().all(whole) && (sum_percent - 100.0).abs() > SUM_TOLERANCE_PERCENT {
            remarks.push(TextRemark::TotalNotHundred { sum_percent });
        }
    } else if sum > 0.0 {
        let known: Vec<f64> = amounts.iter().map(|amount| amount.unwrap_or(0.0)).collect();
        for ((draft, amount), percent) in drafts.iter_mut().zip(&amounts).zip(shares(&known, STEP_PERCENT)) {
            draft.line.percent =
                amount.map(|_| if parts_are_percent { amount.unwrap_or(percent) } else { percent });
        }
        if unit != Unit::Percent {
            remarks.push(TextRemark::WorkedOut { unit, sum, step_percent: STEP_PERCENT });
        }
    }
    for Draft { line, .. } in drafts.iter_mut() {
        if line.problems.is_empty() && line.percent.is_some_and(|percent| percent > 100.0) {
            line.problems.push(LineProblem::MoreThanAll);
        }
    }
    two_recipes(drafts, remarks);
    (unit, sum)
}

/// Gives the one line that is to be filled up what is missing.
fn fill_up(
    drafts: &mut [Draft],
    amounts: &mut [Option<f64>],
    base: Kind,
    of_water: f64,
    remarks: &mut Vec<TextRemark>,
) {
    let rests: Vec<usize> = (0..drafts.len()).filter(|at| drafts[*at].told.rest.is_some()).collect();
    let known = drafts
        .iter()
        .zip(&*amounts)
        .all(|(draft, amount)| draft.told.rest.is_some() || draft.line.left_out || amount.is_some());
    let sum: f64 = amounts.iter().flatten().sum::<f64>() + of_water;
    let missing = match rests.as_slice() {
        [only] if known => match (drafts[*only].told.rest, base) {
            (Some((whole, _)), Kind::Share) => Some(whole.unwrap_or(100.0) - sum),
            (Some((Some(whole), Some(unit))), Kind::Mass) if unit.kind() == Kind::Mass => {
                Some(whole * unit.size() - sum)
            }
            (Some((Some(whole), None)), Kind::Parts | Kind::Mass) => Some(whole - sum),
            (Some((None, None)), Kind::Parts) if sum < 100.0 => Some(100.0 - sum),
            _ => None,
        },
        _ => None,
    };
    for at in rests {
        let Draft { line, .. } = &mut drafts[at];
        match missing.filter(|missing| *missing > 0.0) {
            Some(missing) => {
                amounts[at] = Some(missing);
                line.amount = Some(missing);
                line.unit = Some(match base {
                    Kind::Share => Unit::Percent,
                    Kind::Mass => Unit::Grams,
                    _ => Unit::Parts,
                });
                line.grams = (base == Kind::Mass).then_some(missing);
                remarks.push(TextRemark::FilledUp { name: line.name.clone(), percent: missing });
            }
            None => line.problems.push(LineProblem::NoAmount),
        }
    }
}

/// Two parts of a text that are 100 % each are two recipes: which one is meant is asked of every line.
fn two_recipes(drafts: &mut [Draft], remarks: &mut Vec<TextRemark>) {
    let mut sums: Vec<(usize, f64)> = Vec::new();
    for draft in drafts.iter().filter(|draft| !draft.line.left_out) {
        let percent = draft.line.percent.unwrap_or(0.0);
        match sums.last_mut() {
            Some((block, sum)) if *block == draft.block => *sum += percent,
            _ => sums.push((draft.block, percent)),
        }
    }
    if sums.len() > 1 && sums.iter().all(|(_, sum)| (sum - 100.0).abs() <= SUM_TOLERANCE_PERCENT) {
        remarks.retain(|remark| !matches!(remark, TextRemark::TotalNotHundred { .. }));
        remarks.push(TextRemark::TwoRecipes);
        for draft in drafts {
            draft.line.problems.push(LineProblem::OtherRecipe);
        }
    }
}

/// The share of space that pellets poured into a cup fill. From memory: random packings of spheres fill 0.60
/// to 0.64 (Scott and Kilgour 1969).
const PELLETS_FILL: f64 = 0.62;
/// The density of loose powders: starches and clays, 0.4 to 0.8 (from memory of their data sheets).
const POWDER_G_ML: f64 = 0.6;
/// The density of an ingredient that is not known: of most oils (Codex CXS 210, 0.90 to 0.93).
const OIL_G_ML: f64 = 0.92;

/// The density at which a volume is weighed: of a fat pressed into the cup, of one that was melted, or of
/// pellets. Where it is from stands in the catalogue.
fn density_g_ml(id: Option<&str>, shape: Shape) -> f64 {
    let Some(one) = id.and_then(substances::find) else { return OIL_G_ML };
    let (solid, liquid) = (one.density_solid_g_ml(), one.density_liquid_g_ml());
    match (solid, liquid, shape) {
        (Some(_), None, _) if one.class() == Class::Other => POWDER_G_ML,
        (Some(solid), _, Shape::Pellets) => solid * PELLETS_FILL,
        (_, Some(liquid), Shape::Melted) => liquid,
        (Some(density), ..) | (None, Some(density), _) => density,
        (None, None, _) => OIL_G_ML,
    }
}
