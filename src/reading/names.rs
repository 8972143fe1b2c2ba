//! Finding which ingredient a name means.

use std::sync::LazyLock;

use serde::Serialize;

use super::{
    letters::{fold, one_of, word_list},
    near::{Letters, nearest},
};
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
static JOINING: LazyLock<Vec<&str>> = LazyLock::new(|| {
    word_list(
        "d de du des di da do dos das del dell della dello degli la le les il lo l of the ka ke ki का के की von vom",
    )
});

/// Words that say how an ingredient was made or sold, or that stand around it in a sentence, not which it is.
/// General knowledge, no source.
static QUALITIES: LazyLock<Vec<&str>> = LazyLock::new(|| {
    word_list(
        "organic raw refined unrefined virgin extra cold pressed coldpressed pure natural bio deodorized \
    deodorised pellets pastilles pearls beads wafers chips flakes buttons grated chopped melted liquified soft solid grade \
    cosmetic fair trade bleached filtered grass fed golden white yellow ivory certified premium quality food fresh homemade \
    local ultra sweet light triple expeller packed level heaped rounded heaping brut brute bruto bruta crudo cruda cru crue \
    grezzo puro pura biologico biologique vierge virgen virgem vierges desodorizado raffiniert unraffiniert weiss gebleicht \
    nativ murni a an any some my our your few little bit is are was be with in by weight weighed w each and or optional \
    pinch dash splash handful choice usual just use about not i zu en",
    )
});

/// Words of essential oils.
static ESSENTIAL: LazyLock<Vec<&str>> = LazyLock::new(|| {
    word_list(
        "eo essential essentielle essentielles esencial esenciales essencial essenciais essenziale \
    essenziali atherisches atherische atsiri esensial",
    )
});

/// Aromatic plants, which are an essential oil where they are counted in drops. General knowledge, no source.
static AROMATIC: LazyLock<Vec<&str>> = LazyLock::new(|| {
    word_list(
        "lavender peppermint tea tree rosemary lemon orange bergamot eucalyptus frankincense geranium ylang \
    chamomile cedarwood sandalwood patchouli rose mint spearmint grapefruit lime vanilla clove cinnamon lavande lavanda \
    lavendel menthe menta",
    )
});

/// Words of what is mostly water, wherever they stand in a name.
static WATERY: LazyLock<Vec<&str>> = LazyLock::new(|| {
    word_list(
        "hydrosol hydrosols hydrolat hydrolate juice jus jugo suco saft succo milk lait leche leite milch latte",
    )
});

/// Every name of every ingredient, and the words of the catalogue's own.
struct Index {
    names: Vec<Name>,
    /// Of each ingredient, in the order of the catalogue.
    words: Vec<Vec<String>>,
}

struct Name {
    /// The name without spaces and without words that only join.
    letters: Letters,
    /// The number of the ingredient in the catalogue; one more than the last is water.
    of: usize,
    /// It is the name on labels, which several ingredients may have.
    on_label: bool,
}

static INDEX: LazyLock<Index> = LazyLock::new(|| {
    let mut names: Vec<Name> = Vec::new();
    let mut add = |name: &str, of: usize, on_label: bool| {
        names.push(Name { letters: Letters::new(letters(&words(name))), of, on_label });
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
    names.retain(|name| name.letters.count > 0);
    names.sort_by(|a, b| (&a.letters.text, a.of, a.on_label).cmp(&(&b.letters.text, b.of, b.on_label)));
    names.dedup_by(|a, b| a.letters.text == b.letters.text && a.of == b.of);
    Index { names, words: substances::catalogue().iter().map(|one| words(one.name())).collect() }
});

/// The words of a name, without those that only join, unless nothing else is left.
pub(super) fn words(name: &str) -> Vec<String> {
    let all = fold(name);
    let words: Vec<String> =
        all.split(' ').filter(|word| !one_of(&JOINING, word)).map(str::to_owned).collect();
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
    let begin = names.partition_point(|name| *name.letters.text < *letters);
    let same: Vec<&Name> = names[begin..].iter().take_while(|name| *name.letters.text == *letters).collect();
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

/// What these words mean without a guess: one of the names as written, or without words for qualities, or
/// with the words in another order; `None` where they are no name.
pub(super) fn exact(name: &str) -> Option<Meaning> {
    let all = words(name);
    if all.len() > 12 || all.iter().map(String::len).sum::<usize>() > LONGEST_NAME {
        return None;
    }
    if let Some(meaning) = called(&letters(&all)) {
        return Some(meaning);
    }
    let mut plain: Vec<&str> =
        all.iter().map(String::as_str).filter(|word| !one_of(&QUALITIES, word)).collect();
    for _ in 0..plain.len() {
        if let Some(meaning) = called(&letters(&plain)) {
            return Some(meaning);
        }
        plain.rotate_left(1);
    }
    if plain.iter().any(|word| one_of(&ESSENTIAL, word)) {
        return called("essentialoil");
    }
    // French writes HE for an essential oil; alone it says nothing.
    let aromatic = plain.iter().filter(|word| one_of(&AROMATIC, word)).count();
    if aromatic > 0 && plain.contains(&"he") && aromatic + 1 == plain.len() {
        return called("essentialoil");
    }
    plain.iter().any(|word| one_of(&WATERY, word)).then_some(Meaning::Water)
}

/// Whether a name says more than that it is of a class, such as an essential oil in any language, or a
/// fragrance.
pub(crate) fn says_more(name: &str, class: &str) -> bool {
    let of_class = words(class);
    words(name).iter().any(|word| {
        let says_class =
            one_of(&ESSENTIAL, word) || CLASS_WORDS.contains(&word.as_str()) || of_class.contains(word);
        !word.is_empty() && !says_class && !one_of(&QUALITIES, word)
    })
}

/// Words that stand beside these in the names of classes. General knowledge, no source.
const CLASS_WORDS: [&str; 10] =
    ["oil", "oils", "huile", "aceite", "oleo", "olio", "ol", "minyak", "fragrance", "perfume"];

/// Whether words say nothing but qualities.
pub(super) fn says_nothing(name: &str) -> bool {
    words(name).iter().all(|word| word.is_empty() || one_of(&QUALITIES, word) || one_of(&JOINING, word))
}

/// Whether a word only joins others: “of shea”, “is jojoba oil”.
pub(super) fn only_joins(word: &str) -> bool {
    let word = fold(word);
    one_of(&JOINING, &word) || matches!(word.as_str(), "is" | "are" | "with")
}

/// Whether this is an aromatic plant.
pub(super) fn is_aromatic(name: &str) -> bool {
    let words = words(name);
    words.iter().any(|word| one_of(&AROMATIC, word))
        && words.iter().all(|word| one_of(&AROMATIC, word) || one_of(&QUALITIES, word) || word == "oil")
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
    let plain: Vec<&str> = all.iter().map(String::as_str).filter(|word| !one_of(&QUALITIES, word)).collect();
    let mine = Letters::new(letters(&plain));
    if mine.count == 0 || mine.count > LONGEST_NAME {
        return Meaning::None(Vec::new());
    }
    let catalogue = substances::catalogue();
    // Water may come near too, and is not suggested.
    let near = nearest(&mine, INDEX.names.iter().map(|name| (&name.letters, name.of)), SUGGESTED + 1);
    // Several may have the name that was meant on their labels.
    let least = near.first().map_or(usize::MAX, |near| near.mistakes);
    let meant: Vec<&Letters> = near
        .iter()
        .filter(|near| near.mistakes == least)
        .map(|near| &INDEX.names[near.name].letters)
        .collect();
    let mut taken: Vec<usize> = Vec::new();
    if forgiven(&mine, least, &meant) {
        for meaning in meant.iter().filter_map(|name| called(&name.text)) {
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
    let same_word = catalogue.iter().zip(&INDEX.words).filter(|(_, theirs)| {
        plain
            .iter()
            .any(|word| word.len() > 3 && !one_of(&GENERAL, word) && theirs.iter().any(|other| other == word))
    });
    let by_letters = near.iter().filter_map(|near| catalogue.get(near.of));
    for one in by_letters.chain(same_word.map(|(one, _)| one)) {
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
static GENERAL: LazyLock<Vec<&str>> =
    LazyLock::new(|| word_list("butter seed kernel hydrogenated acid alcohol starch powder fruit"));

/// Whether so many mistakes are looked through. Ours: none in the shortest names, where they make another
/// word (“talc” and “Talg”), but that two letters changed places; one in names of up to ten letters, two up
/// to seventeen, three beyond.
fn forgiven(mine: &Letters, mistakes: usize, meant: &[&Letters]) -> bool {
    match mine.count {
        0..=3 => false,
        4..=5 => mistakes == 1 && meant.iter().any(|name| name.has_the_same(mine)),
        6..=10 => mistakes <= 1,
        11..=17 => mistakes <= 2,
        _ => mistakes <= 3,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::near::COMPARED;

    /// The nearest as [`nearest`] promises them, by comparing all names letter by letter.
    fn nearest_of_all(mine: &str) -> Vec<(usize, usize)> {
        let length = mine.chars().count();
        let mut near: Vec<(usize, usize)> = Vec::new();
        for name in &INDEX.names {
            let other = name.letters.text.chars().count();
            let mistakes = strsim::osa_distance(mine, &name.letters.text);
            if other.abs_diff(length) <= length / 3 && mistakes * 5 <= length.max(other) * 2 {
                near.push((mistakes, name.of));
            }
        }
        near.sort_unstable();
        let mut wanted: Vec<usize> = Vec::new();
        for (_, of) in &near {
            if wanted.len() <= SUGGESTED && !wanted.contains(of) {
                wanted.push(*of);
            }
        }
        let last = near.iter().find(|(_, of)| wanted.len() > SUGGESTED && wanted.last() == Some(of)).copied();
        near.retain(|one| last.is_none_or(|last| one.0 <= last.0));
        near
    }

    /// A text with a few letters changed.
    fn misspelt(text: &str, random: &mut impl FnMut(usize) -> usize) -> String {
        let mut letters: Vec<char> = text.chars().collect();
        for _ in 0..1 + random(4) {
            let at = random(letters.len());
            let other = char::from(b'a' + random(26) as u8);
            match random(4) {
                0 => letters[at] = other,
                1 => letters.insert(at, other),
                2 if letters.len() > 2 => drop(letters.remove(at)),
                _ if at + 1 < letters.len() => letters.swap(at, at + 1),
                _ => {}
            }
        }
        letters.into_iter().collect()
    }

    #[test]
    fn the_nearest_are_found_without_comparing_all() {
        let mut state: u64 = 0x5eed_0017;
        let mut random = |below: usize| {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            (state % below as u64) as usize
        };
        COMPARED.set(0);
        let mut looked_up = 0;
        for name in INDEX.names.iter().step_by(20) {
            let mine = misspelt(&name.letters.text, &mut random);
            let found = nearest(
                &Letters::new(mine.clone()),
                INDEX.names.iter().map(|name| (&name.letters, name.of)),
                SUGGESTED + 1,
            );
            let found: Vec<(usize, usize)> = found.iter().map(|near| (near.mistakes, near.of)).collect();
            assert_eq!(found, nearest_of_all(&mine), "{mine}");
            looked_up += 1;
        }
        // 36 for each when this was written, of 1,612.
        assert!(COMPARED.get() <= 60 * looked_up, "{} for {looked_up}", COMPARED.get());
    }
}
