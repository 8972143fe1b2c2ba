//! Proposals in words.

use super::{
    judge::figure,
    problem::{Problem, class_words},
    proposal::{Change, States},
};
use crate::{
    behaviour::{Firmness, Solids, Where},
    equilibrium::Equilibrium,
    substances::Class,
};

/// From this much wax on a butter turns towards a balm, percent (common practice, no source).
const TOWARDS_BALM_PERCENT: f64 = 5.0;

/// A number as it is said: no more decimals than it has, and at most two.
pub(super) fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn list(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}

fn name(problem: &Problem, candidate: usize) -> String {
    let line = &problem.candidates[candidate].line;
    line.ingredient.map_or_else(|| line.key.clone(), |it| in_sentence(it.name()))
}

/// A name with a small first letter, unless it is an abbreviation.
fn in_sentence(name: &str) -> String {
    let mut letters = name.chars();
    match (letters.next(), letters.clone().next()) {
        (Some(first), Some(second)) if second.is_ascii_lowercase() => {
            std::iter::once(first.to_ascii_lowercase()).chain(letters).collect()
        }
        _ => name.to_owned(),
    }
}

fn structure_percent(state: &Equilibrium) -> f64 {
    Solids::from(state).structure_percent()
}

fn class_of(state: &Equilibrium) -> &'static str {
    match Firmness::of(structure_percent(state)) {
        Firmness::Pourable => "pourable",
        Firmness::Slack => "slack",
        Firmness::Soft => "soft",
        Firmness::Scoopable => "scoopable",
        Firmness::Firm => "firm",
        Firmness::Hard => "hard",
        Firmness::Snapping => "hard enough to snap",
    }
}

/// What a proposal does, why it works, and what it costs.
pub(super) fn describe(
    problem: &Problem,
    changes: &[Change],
    shift: f64,
    before: &States,
    after: &States,
    misses: bool,
) -> String {
    let mut sentences = Vec::new();
    if changes.is_empty() {
        sentences.push(if !misses {
            "Nothing needs to change: the recipe meets every wish as it is.".to_owned()
        } else {
            "Nothing within the limits comes nearer to the wishes than the recipe as it is.".to_owned()
        });
    } else {
        let names = |gains: bool| {
            let found: Vec<String> = changes
                .iter()
                .filter(|change| (change.to > change.from) == gains)
                .map(|change| name(problem, change.candidate))
                .collect();
            list(&found)
        };
        sentences.push(format!(
            "Moves {} % of the recipe from {} to {}.",
            number(shift),
            names(false),
            names(true)
        ));
        sentences.push(why(problem, before, after));
        sentences.push(cost(problem, before, after));
    }
    if !changes.is_empty() && misses {
        sentences.push(
            "No recipe within the limits meets every wish; this one misses by the least of its kind."
                .to_owned(),
        );
    }
    let wax: f64 = changes
        .iter()
        .filter(|change| problem.candidates[change.candidate].line.class == Class::Wax)
        .map(|change| change.to)
        .sum();
    if wax >= TOWARDS_BALM_PERCENT {
        sentences.push(format!("At {} % {} it turns towards a balm.", number(wax), class_words(Class::Wax)));
    }
    sentences.join(" ")
}

/// What melting in does, why it works, and what it costs.
pub(super) fn rescue(
    problem: &Problem,
    add: &[(usize, f64)],
    grams: f64,
    before: &States,
    after: &States,
    misses: bool,
) -> String {
    if add.is_empty() {
        return if misses {
            "Nothing that may be added brings it nearer to the wishes."
        } else {
            "Nothing needs to be added: the batch meets every wish as it is."
        }
        .to_owned();
    }
    let names: Vec<String> =
        add.iter().map(|(line, grams)| format!("{} g {}", number(*grams), name(problem, *line))).collect();
    let all = grams + add.iter().map(|(_, grams)| grams).sum::<f64>();
    let mut sentences = vec![
        format!(
            "Melt {} into the {} g there are; that makes {} g.",
            list(&names),
            number(grams),
            number(all)
        ),
        why(problem, before, after),
        cost(problem, before, after),
    ];
    if misses {
        sentences.push("Nothing that may be added meets every wish; this misses by the least.".to_owned());
    }
    sentences.join(" ")
}

/// The storage that asked for the change, and which crystals answer it.
fn why(problem: &Problem, before: &States, after: &States) -> String {
    let moved = |place: Where| structure_percent(after.at(place)) - structure_percent(before.at(place));
    let asked = problem
        .wishes
        .bands()
        .into_iter()
        .filter(|band| band.place != Where::Skin)
        .map(|band| (band.place, band.miss(figure(band.quantity, before.at(band.place)))))
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .filter(|(_, miss)| *miss > 0.0);
    let widest = if moved(Where::Hottest).abs() >= moved(Where::Coldest).abs() {
        Where::Hottest
    } else {
        Where::Coldest
    };
    let place = asked.map_or(widest, |(place, _)| place);
    let (old, new) = (before.at(place), after.at(place));
    let kinds = [
        ("fat", new.by_kind.triglyceride - old.by_kind.triglyceride),
        ("fatty-acid", new.by_kind.acid - old.by_kind.acid),
        ("fatty-alcohol", new.by_kind.alcohol - old.by_kind.alcohol),
        ("wax", new.by_kind.wax() - old.by_kind.wax()),
        ("mono- and diglyceride", new.by_kind.glyceride - old.by_kind.glyceride),
    ];
    let up = moved(place) >= 0.0;
    let sign = if up { 1.0 } else { -1.0 };
    let carrier =
        kinds.iter().max_by(|a, b| (sign * a.1).total_cmp(&(sign * b.1))).map_or("fat", |(kind, _)| kind);
    format!(
        "{} {carrier} crystals at {} °C: structure {} from {:.1} to {:.1} %.",
        if up { "More" } else { "Fewer" },
        number(problem.wishes.temperature_c(place)),
        if up { "rises" } else { "falls" },
        structure_percent(old),
        structure_percent(new),
    )
}

/// What it costs in the cold and on skin.
fn cost(problem: &Problem, before: &States, after: &States) -> String {
    let cold = number(problem.wishes.coldest_c);
    let (old, new) = (class_of(&before.coldest), class_of(&after.coldest));
    let first = if old == new {
        format!("In the cold, at {cold} °C, it stays {new}")
    } else {
        format!("In the cold, at {cold} °C, it goes from {old} to {new}")
    };
    format!(
        "{first} ({:.0} → {:.0} % structure); on skin {:.1} % solids are left, before {:.1} %.",
        structure_percent(&before.coldest),
        structure_percent(&after.coldest),
        after.skin.solid_percent,
        before.skin.solid_percent
    )
}
