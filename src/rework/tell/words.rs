//! Proposals in words.

use super::states::{Change, States};
use crate::{
    behaviour::{Firmness, Solids, Where},
    equilibrium::{Blend, Equilibrium, State},
    rework::question::{Problem, class_words, figure},
    substances::Class,
};

/// From this much wax on a butter turns towards a balm, percent (common practice, no source).
const TOWARDS_BALM_PERCENT: f64 = 5.0;

/// A number as it is said: no more decimals than it has, and at most two.
pub(crate) fn number(value: f64) -> String {
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
pub(crate) fn describe(
    problem: &Problem,
    changes: &[Change],
    shift: f64,
    before: &States,
    after: &States,
    misses: bool,
) -> String {
    let mut sentences = Vec::new();
    let as_now = problem.is_as_now();
    if changes.is_empty() {
        let words = match (as_now, misses) {
            (true, _) => "Nothing needs to change: the recipe stays as it is.",
            (false, false) => "Nothing needs to change: the recipe meets every wish as it is.",
            (false, true) => "Nothing within the limits comes nearer to the wishes than the recipe as it is.",
        };
        sentences.push(words.to_owned());
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
        let moved: Vec<(usize, bool)> =
            changes.iter().map(|change| (change.candidate, change.to > change.from)).collect();
        let (why, place) = why(problem, &moved, before, after);
        sentences.push(why);
        sentences.push(cost(problem, before, after, place != Where::Skin));
    }
    if !changes.is_empty() && misses {
        let words = if as_now {
            "No recipe within the limits is just as it is now; of those that gain the like, this one is the nearest."
        } else {
            "No recipe within the limits meets every wish; of those that gain the like, this one misses by the least."
        };
        sentences.push(words.to_owned());
    }
    let is_wax = |candidate: usize| problem.candidates[candidate].line.class == Class::Wax;
    let held = |candidate: usize| {
        let change = changes.iter().find(|change| change.candidate == candidate);
        change.map_or(problem.candidates[candidate].now, |change| change.to)
    };
    let wax: f64 = (0..problem.candidates.len()).filter(|at| is_wax(*at)).map(held).sum();
    let gains = changes.iter().any(|change| is_wax(change.candidate) && change.to > change.from);
    if gains && wax >= TOWARDS_BALM_PERCENT {
        sentences.push(format!("At {} % {} it turns towards a balm.", number(wax), class_words(Class::Wax)));
    }
    sentences.join(" ")
}

/// What melting in does, why it works, and what it costs.
pub(crate) fn rescue(
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
        add.iter().map(|(line, grams)| format!("{} g of {}", number(*grams), name(problem, *line))).collect();
    let all = grams + add.iter().map(|(_, grams)| grams).sum::<f64>();
    let added: Vec<(usize, bool)> = add.iter().map(|(line, _)| (*line, true)).collect();
    let (why, place) = why(problem, &added, before, after);
    let mut sentences = vec![
        format!("Melt {} into the {} g; that makes {} g.", list(&names), number(grams), number(all)),
        why,
        cost(problem, before, after, place != Where::Skin),
    ];
    if misses {
        sentences.push("Nothing that may be added meets every wish; this misses by the least.".to_owned());
    }
    sentences.join(" ")
}

/// How much of a line is solid by itself, from which on its crystals are said to carry a change, percent.
const CARRIES_PERCENT: f64 = 5.0;

/// The place that asked for the change, which crystals answer it there, and whose they are. `moved` says which lines gain.
fn why(problem: &Problem, moved: &[(usize, bool)], before: &States, after: &States) -> (String, Where) {
    let shift = |place: Where| structure_percent(after.at(place)) - structure_percent(before.at(place));
    let asked = problem
        .wishes
        .bands()
        .into_iter()
        .map(|band| (band.place, band.miss(figure(band.quantity, before.at(band.place)))))
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .filter(|(_, miss)| *miss > 0.0 && !problem.is_as_now());
    let widest = if shift(Where::Hottest).abs() >= shift(Where::Coldest).abs() {
        Where::Hottest
    } else {
        Where::Coldest
    };
    let place = asked.map_or(widest, |(place, _)| place);
    let (old, new) = (before.at(place), after.at(place));
    let skin = place == Where::Skin;
    let figures = |state: &Equilibrium| if skin { state.solid_percent } else { structure_percent(state) };
    let celsius = problem.wishes.temperature_c(place);
    let at = if skin { "on skin".to_owned() } else { format!("at {} °C", number(celsius)) };
    let figure = if skin { "what stays solid" } else { "structure" };
    let [old_said, new_said] = [old, new].map(|state| format!("{:.1}", figures(state)));
    if old_said == new_said {
        return (format!("Its crystals do as much {at} as before: {figure} stays at {new_said} %."), place);
    }
    let up = figures(new) >= figures(old);
    let sign = if up { 1.0 } else { -1.0 };
    let worth = |state: &Equilibrium| {
        let solids = Solids::from(state);
        if skin { solids.masses() } else { solids.worth() }
    };
    let (before, mut gains) = (worth(old), worth(new));
    for (gain, before) in gains.iter_mut().zip(before) {
        *gain = sign * (*gain - before);
    }
    // Wax counts as one kind, whatever it is made of.
    gains[3] += gains[4] + gains[5];
    let most = gains.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let carrier = gains.iter().position(|gain| *gain >= most).map_or(POWDER, |at| KINDS[at]);
    let carries = |line: usize| {
        let candidate = &problem.candidates[line];
        if carrier == POWDER {
            return candidate.powder;
        }
        let blend = Blend::new(&[candidate.line.part()], State::Settled);
        blend.mixture(&[100.0]).at(celsius).solid_percent >= CARRIES_PERCENT
    };
    let names = |which: &dyn Fn(usize, bool) -> bool| -> Vec<String> {
        let found = moved.iter().filter(|(line, gains)| which(*line, *gains));
        found.map(|(line, _)| name(problem, *line)).collect()
    };
    let of = names(&|line, gains| gains == up && carries(line));
    let whose = match (of.is_empty(), carrier == POWDER) {
        (false, true) => format!(", that of {}", list(&of)),
        (false, false) => format!(", those of {}", list(&of)),
        (true, true) => String::new(),
        (true, false) => match &names(&|line, gains| gains && !problem.candidates[line].powder)[..] {
            [] => String::new(),
            solvents => format!(
                ", since {} dissolve{} {}",
                list(solvents),
                if solvents.len() == 1 { "s" } else { "" },
                if up { "less" } else { "more" }
            ),
        },
    };
    let words = format!(
        "{} {carrier} {at}{whose}: {figure} {} from {old_said} to {new_said} %.",
        match (up, carrier == POWDER) {
            (true, _) => "More",
            (false, true) => "Less",
            (false, false) => "Fewer",
        },
        if up { "rises" } else { "falls" },
    );
    (words, place)
}

/// What powder is called among what carries a change.
const POWDER: &str = "powder";

/// What carries a change, in the order of [`Solids::worth`].
const KINDS: [&str; 8] = [
    "fat crystals",
    "fatty-acid crystals",
    "fatty-alcohol crystals",
    "wax crystals",
    "wax crystals",
    "wax crystals",
    "mono- and diglyceride crystals",
    POWDER,
];

/// What it costs in the cold, and on skin unless that is told.
fn cost(problem: &Problem, before: &States, after: &States, skin: bool) -> String {
    let cold = number(problem.wishes.coldest_c);
    let (old, new) = (class_of(&before.coldest), class_of(&after.coldest));
    let percents = [&before.coldest, &after.coldest].map(|state| format!("{:.0}", structure_percent(state)));
    let figures = if percents[0] == percents[1] {
        percents[0].clone()
    } else {
        format!("{} → {}", percents[0], percents[1])
    };
    let goes = if old == new { format!("stays {new}") } else { format!("goes from {old} to {new}") };
    let first = format!("In the cold, at {cold} °C, it {goes} (structure {figures} %)");
    if !skin {
        return format!("{first}.");
    }
    format!(
        "{first}; on skin {:.1} % stays solid, before {:.1} %.",
        after.skin.solid_percent, before.skin.solid_percent
    )
}
