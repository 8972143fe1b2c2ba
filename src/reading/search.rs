//! Looking for an ingredient by what is typed of its name.

use super::{
    letters::fold,
    names::{self, How, Meaning},
};
use crate::substances::{self, ALIASES, Ingredient};

/// What is found for a text, likeliest first.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Found {
    /// Catalogue ids.
    pub ids: Vec<&'static str>,
    /// The one that is meant; none where it could be several.
    pub one: Option<&'static str>,
    /// Nothing is called like that: these are through a spelling mistake, or come near.
    pub misspelt: bool,
    /// It is water, or mostly water.
    pub water: bool,
}

/// How well a name fits what is typed; the less the better.
const EXACT: u8 = 0;
const BEGINS_A_WORD: u8 = 1;

/// Looks for ingredients: those that are called so, then those with a word in a name that begins so, among
/// these the common ones first; and where there are none, those that may be meant.
pub fn search(text: &str) -> Found {
    let typed = fold(text);
    let words: Vec<&str> = typed.split(' ').filter(|word| !word.is_empty()).collect();
    if words.is_empty() {
        return Found::default();
    }
    let meaning = names::exact(text);
    let exact: Vec<&'static str> = match &meaning {
        Some(Meaning::One { id, .. }) => vec![id],
        Some(Meaning::Several(ids)) => ids.clone(),
        _ => Vec::new(),
    };
    let mut fitting: Vec<(u8, usize, &Ingredient)> = Vec::new();
    for (one, names) in substances::catalogue().iter().zip(ALIASES.lines()) {
        let rank = match exact.iter().position(|id| *id == one.id()) {
            Some(place) => Some((EXACT, place)),
            None => {
                let mut names = names.split(';').chain([one.name(), one.inci()]);
                names.any(|name| begins(&fold(name), &words)).then_some((BEGINS_A_WORD, 0))
            }
        };
        fitting.extend(rank.map(|(rank, place)| (rank, place, one)));
    }
    let rarity = |one: &Ingredient| u8::MAX - one.commonness();
    fitting.sort_by_key(|(rank, place, one)| (*rank, *place, rarity(one)));
    let ids: Vec<&'static str> = fitting.iter().map(|(.., one)| one.id()).collect();
    let water = meaning == Some(Meaning::Water);
    if !ids.is_empty() || water {
        let one = match exact.as_slice() {
            [only] => Some(*only),
            _ if ids.len() == 1 => ids.first().copied(),
            _ => None,
        };
        return Found { ids, one, misspelt: false, water };
    }
    match names::find(text) {
        Meaning::One { id, how, others } => {
            let ids = [id].into_iter().chain(others).collect();
            Found { ids, one: Some(id), misspelt: how == How::Misspelt, water: false }
        }
        Meaning::Several(ids) | Meaning::None(ids) => Found { ids, misspelt: true, ..Found::default() },
        Meaning::Water => Found { water: true, misspelt: true, ..Found::default() },
    }
}

/// Whether each word that is typed begins a word of the name.
fn begins(name: &str, typed: &[&str]) -> bool {
    typed.iter().all(|typed| name.split(' ').any(|word| word.starts_with(typed)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first that is found, and whether it is the one that is meant.
    fn first(text: &str) -> (&'static str, bool) {
        let found = search(text);
        let first = *found.ids.first().unwrap_or(&"nothing");
        (first, found.one == Some(first))
    }

    /// On 3214e57 “coconut” led to aloe butter, “stearic acid” to 12-hydroxystearic acid, “shea” to nilotica,
    /// and “mct” to nothing.
    #[test]
    fn what_is_called_so_comes_first() {
        for (text, id) in [
            ("coconut", "coconut-oil"),
            ("stearic acid", "stearic-acid"),
            ("shea", "shea-butter"),
            ("Shea butter", "shea-butter"),
            ("mct", "fractionated-coconut-oil"),
            ("KARITÉ", "shea-butter"),
            ("cera alba", "beeswax"),
            ("नारियल तेल", "coconut-oil"),
            ("sunflower", "sunflower-oil"),
        ] {
            assert_eq!(first(text), (id, true), "{text}");
        }
    }

    #[test]
    fn a_spelling_mistake_is_looked_through() {
        for (text, id) in [("carnuba", "carnauba-wax"), ("shae", "shea-butter"), ("jojaba oil", "jojoba-oil")]
        {
            assert_eq!(first(text), (id, true), "{text}");
            assert!(search(text).misspelt, "{text}");
        }
    }

    #[test]
    fn what_begins_so_is_ordered_by_commonness_and_none_is_chosen() {
        for (text, id) in [
            ("avo", "avocado-oil"),
            ("bee", "beeswax"),
            ("cocon", "coconut-oil"),
            ("jojoba e", "jojoba-esters"),
        ] {
            assert_eq!(first(text).0, id, "{text}");
        }
        let found = search("co");
        assert_eq!(found.one, None);
        let commonness: Vec<u8> =
            found.ids.iter().filter_map(|id| substances::find(id)).map(Ingredient::commonness).collect();
        assert!(commonness.is_sorted_by(|a, b| a >= b), "{:?}", found.ids);
    }

    #[test]
    fn a_name_of_several_is_none_of_them() {
        let found = search("wax");
        assert_eq!((found.one, found.ids[0]), (None, "beeswax"));
        assert!(found.ids.contains(&"sunflower-wax"), "{:?}", found.ids);
        assert!(search("aloe juice").water);
        assert!(search("").ids.is_empty());
        assert!(search("zzzzzzzz").ids.is_empty());
    }
}
