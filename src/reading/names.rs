//! Finding which ingredient a name means.

use std::sync::LazyLock;

use serde::Serialize;

use super::letters::fold;
use crate::substances::{self, ALIASES, Ingredient};

/// What a name means.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Meaning {
    /// One ingredient of the catalogue; `others` have the same name on labels, and are less common.
    One { id: &'static str, how: How, others: Vec<&'static str> },
    /// Several, likeliest first.
    Several(Vec<&'static str>),
    /// Water, or what is mostly water.
    Water,
    /// None; what comes near, likeliest first.
    None(Vec<&'static str>),
}

/// How a name was taken for an ingredient.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum How {
    /// It is one of its names.
    Named,
    /// Several have this name on labels; this is the common one.
    Common,
    /// Through a spelling mistake.
    Misspelt,
}

/// Words that only join others.
const JOINING: &str = "d de du des di da do dos das del dell della dello degli la le les il lo l of the ka ke ki का के की von vom";

/// Words that say how an ingredient was made or sold, or that stand around it in a sentence, not which it is. General
/// knowledge, no source.
const QUALITIES: &str = "organic raw refined unrefined virgin extra cold pressed coldpressed pure natural bio deodorized \
    deodorised pellets pastilles pearls beads wafers chips flakes buttons grated chopped melted liquified soft solid grade \
    cosmetic fair trade bleached filtered grass fed golden white yellow ivory certified premium quality food fresh homemade \
    local ultra sweet light triple expeller packed level heaped rounded heaping brut brute bruto bruta crudo cruda cru crue \
    grezzo puro pura biologico biologique vierge virgen virgem vierges desodorizado raffiniert unraffiniert weiss gebleicht \
    nativ murni a an any some my our your few little bit is are was be with in by weight weighed w each and or optional \
    choice usual just use about not i zu en";

/// Words of essential oils.
const ESSENTIAL: &str = "eo essential essentielle essentielles esencial esenciales essencial essenciais essenziale \
    essenziali atherisches atherische atsiri esensial";

/// Aromatic plants, which are an essential oil where they are counted in drops. General knowledge, no source.
const AROMATIC: &str = "lavender peppermint tea tree rosemary lemon orange bergamot eucalyptus frankincense geranium ylang \
    chamomile cedarwood sandalwood patchouli rose mint spearmint grapefruit lime vanilla clove cinnamon lavande lavanda \
    lavendel menthe menta";

/// Words of what is mostly water, wherever they stand in a name.
const WATERY: &str =
    "hydrosol hydrosols hydrolat hydrolate juice jus jugo suco saft succo milk lait leche leite milch latte";

fn one_of(list: &str, word: &str) -> bool {
    list.split(' ').any(|one| one == word)
}

/// Every name of every ingredient, by its letters alone.
struct Index {
    names: Vec<Name>,
}

struct Name {
    /// The name without spaces and without words that only join.
    letters: String,
    /// The number of the ingredient in the catalogue; one more than the last is water.
    of: usize,
    /// It is the name on labels, which several ingredients may have.
    on_label: bool,
}

static INDEX: LazyLock<Index> = LazyLock::new(|| {
    let mut names: Vec<Name> = Vec::new();
    let mut add = |name: &str, of: usize, on_label: bool| {
        names.push(Name { letters: letters(&words(name)), of, on_label });
    };
    for (of, line) in ALIASES.lines().enumerate() {
        line.split(';').for_each(|name| add(name, of, false));
    }
    for (of, one) in substances::catalogue().iter().enumerate() {
        for (name, on_label) in [(one.id(), false), (one.name(), false), (one.inci(), true)] {
            add(name, of, on_label);
            // “Cetearyl alcohol (50:50)” is not the only one without its brackets.
            if name.contains('(') {
                add(&outside_brackets(name), of, true);
            }
        }
    }
    names.retain(|name| !name.letters.is_empty());
    names.sort_by(|a, b| (&a.letters, a.of, a.on_label).cmp(&(&b.letters, b.of, b.on_label)));
    names.dedup_by(|a, b| a.letters == b.letters && a.of == b.of);
    Index { names }
});

/// The words of a name, without those that only join, unless nothing else is left.
pub(super) fn words(name: &str) -> Vec<String> {
    let all = fold(name);
    let words: Vec<String> =
        all.split(' ').filter(|word| !one_of(JOINING, word)).map(str::to_owned).collect();
    if words.is_empty() { all.split(' ').map(str::to_owned).collect() } else { words }
}

fn letters<S: AsRef<str>>(words: &[S]) -> String {
    words.iter().map(AsRef::as_ref).collect()
}

/// The longest name that is looked for, in letters: no name in the catalogue is longer.
const LONGEST_NAME: usize = 80;

/// What is exactly called by these letters.
fn called(letters: &str) -> Option<Meaning> {
    let names = &INDEX.names;
    let begin = names.partition_point(|name| *name.letters < *letters);
    let same: Vec<&Name> = names[begin..].iter().take_while(|name| *name.letters == *letters).collect();
    // What one is called comes before what several are called on labels; of those the common one is meant.
    let own: Vec<usize> = same.iter().filter(|name| !name.on_label).map(|name| name.of).collect();
    let catalogue = substances::catalogue();
    let commonness = |of: &usize| catalogue.get(*of).map(Ingredient::commonness);
    let several = if own.is_empty() {
        let most = same.iter().map(|name| commonness(&name.of)).max()?;
        same.iter().map(|name| name.of).filter(|of| commonness(of) == most).collect()
    } else {
        own
    };
    match several.as_slice() {
        [] => None,
        [of] => Some(catalogue.get(*of).map_or(Meaning::Water, |one| {
            let others: Vec<&str> = same_on_labels(one, letters).map(Ingredient::id).collect();
            let how = if others.is_empty() { How::Named } else { How::Common };
            Meaning::One { id: one.id(), how, others }
        })),
        several => {
            let mut ids: Vec<&Ingredient> = several.iter().filter_map(|of| catalogue.get(*of)).collect();
            ids.sort_by_key(|one| std::cmp::Reverse(one.commonness()));
            Some(Meaning::Several(ids.into_iter().map(Ingredient::id).collect()))
        }
    }
}

/// The others that have the name on labels that these letters are.
fn same_on_labels(one: &Ingredient, letters: &str) -> impl Iterator<Item = &'static Ingredient> {
    let inci = self::letters(&words(&outside_brackets(one.inci())));
    let on_label = letters == inci || letters == self::letters(&words(one.inci()));
    let id = one.id();
    let same = move |other: &&Ingredient| {
        on_label && other.id() != id && self::letters(&words(&outside_brackets(other.inci()))) == inci
    };
    substances::catalogue().iter().filter(same)
}

fn outside_brackets(text: &str) -> String {
    let mut inside = false;
    text.chars()
        .filter(|letter| {
            inside = (inside || *letter == '(') && *letter != ')';
            !inside
        })
        .collect()
}

/// What these words mean without a guess: one of the names as written, or without words for qualities, or with the words in
/// another order; `None` where they are no name.
pub(super) fn exact(name: &str) -> Option<Meaning> {
    let all = words(name);
    if all.len() > 12 || all.iter().map(String::len).sum::<usize>() > LONGEST_NAME {
        return None;
    }
    if let Some(meaning) = called(&letters(&all)) {
        return Some(meaning);
    }
    let mut plain: Vec<&str> =
        all.iter().map(String::as_str).filter(|word| !one_of(QUALITIES, word)).collect();
    for _ in 0..plain.len() {
        if let Some(meaning) = called(&letters(&plain)) {
            return Some(meaning);
        }
        plain.rotate_left(1);
    }
    if plain.iter().any(|word| one_of(ESSENTIAL, word)) {
        return called("essentialoil");
    }
    plain.iter().any(|word| one_of(WATERY, word)).then_some(Meaning::Water)
}

/// Whether words say nothing but qualities.
pub(super) fn says_nothing(name: &str) -> bool {
    words(name).iter().all(|word| word.is_empty() || one_of(QUALITIES, word) || one_of(JOINING, word))
}

/// Whether a word only joins others: “of shea”, “is jojoba oil”.
pub(super) fn only_joins(word: &str) -> bool {
    let word = fold(word);
    one_of(JOINING, &word) || matches!(word.as_str(), "is" | "are" | "with")
}

/// Whether this is an aromatic plant.
pub(super) fn is_aromatic(name: &str) -> bool {
    let words = words(name);
    words.iter().any(|word| one_of(AROMATIC, word))
        && words.iter().all(|word| one_of(AROMATIC, word) || one_of(QUALITIES, word) || word == "oil")
}

/// Names that follow each other without anything between: the longest that is known at each word.
pub(super) fn in_a_row(name: &str) -> Option<Vec<String>> {
    let words: Vec<&str> = name.split_whitespace().collect();
    let mut found = Vec::new();
    let mut at = 0;
    while at < words.len() {
        let longest = (at + 1..=words.len().min(at + 6)).rev().find_map(|end| {
            let name = words[at..end].join(" ");
            exact(&name).map(|_| (name, end))
        });
        let (name, end) = longest?;
        found.push(name);
        at = end;
    }
    Some(found)
}

/// What a name means; a spelling mistake is looked through where only one ingredient is meant by that.
pub(super) fn find(name: &str) -> Meaning {
    if let Some(meaning) = exact(name) {
        return meaning;
    }
    let all = words(name);
    let plain: Vec<&str> = all.iter().map(String::as_str).filter(|word| !one_of(QUALITIES, word)).collect();
    let mine = letters(&plain);
    let length = mine.chars().count();
    if length == 0 || length > LONGEST_NAME {
        return Meaning::None(Vec::new());
    }
    // Of every ingredient its nearest name.
    let catalogue = substances::catalogue();
    let mut near: Vec<(usize, usize)> = Vec::new();
    for name in &INDEX.names {
        let other = name.letters.chars().count();
        // Letters that one has more than the other are all mistakes.
        if other.abs_diff(length) <= length / 3 {
            let distance = strsim::osa_distance(&mine, &name.letters);
            if distance * 5 <= length.max(other) * 2 {
                near.push((distance, name.of));
            }
        }
    }
    near.sort_unstable();
    let least = near.first().map_or(usize::MAX, |(distance, _)| *distance);
    let mut taken: Vec<usize> = Vec::new();
    if forgiven(&mine, length, least) {
        // Several may have the name that was meant on their labels.
        let meant = INDEX.names.iter().filter(|name| strsim::osa_distance(&mine, &name.letters) == least);
        for meaning in meant.filter_map(|name| called(&name.letters)) {
            match meaning {
                Meaning::One { id, .. } => taken.extend(catalogue.iter().position(|one| one.id() == id)),
                Meaning::Several(ids) => {
                    taken
                        .extend(ids.iter().filter_map(|id| catalogue.iter().position(|one| one.id() == *id)));
                }
                _ => taken.push(catalogue.len()),
            }
        }
        taken.sort_unstable();
        taken.dedup();
    }
    let mut ids: Vec<&'static str> = Vec::new();
    let same_word = catalogue.iter().filter(|one| {
        let theirs = words(one.name());
        plain
            .iter()
            .any(|word| word.len() > 3 && !one_of(GENERAL, word) && theirs.iter().any(|other| other == word))
    });
    let by_letters = near.iter().filter_map(|(_, of)| catalogue.get(*of));
    for one in by_letters.chain(same_word) {
        if ids.len() < SUGGESTED && !ids.contains(&one.id()) {
            ids.push(one.id());
        }
    }
    match taken.as_slice() {
        [of] => match catalogue.get(*of) {
            Some(one) => {
                ids.retain(|id| *id != one.id());
                Meaning::One { id: one.id(), how: How::Misspelt, others: ids }
            }
            None => Meaning::Water,
        },
        [] => Meaning::None(ids),
        _ => Meaning::Several(ids),
    }
}

/// How many are suggested at most.
const SUGGESTED: usize = 5;

/// Words that many names have, so that having them says nothing.
const GENERAL: &str = "butter seed kernel hydrogenated acid alcohol starch powder fruit";

/// Whether so many mistakes are looked through. Ours: none in the shortest names, where they make another word (“talc” and
/// “Talg”), but that two letters changed places; one in names of up to ten letters, two up to seventeen, three beyond.
fn forgiven(mine: &str, length: usize, mistakes: usize) -> bool {
    match length {
        0..=3 => false,
        4..=5 => {
            let sorted = |text: &str| {
                let mut letters: Vec<char> = text.chars().collect();
                letters.sort_unstable();
                letters
            };
            let mine_sorted = sorted(mine);
            let swapped = |name: &Name| {
                sorted(&name.letters) == mine_sorted && strsim::osa_distance(&name.letters, mine) == 1
            };
            mistakes == 1 && INDEX.names.iter().any(swapped)
        }
        6..=10 => mistakes <= 1,
        11..=17 => mistakes <= 2,
        _ => mistakes <= 3,
    }
}
