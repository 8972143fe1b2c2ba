//! Small ordered maps, and sorting: plain ways of either.
//!
//! The standard library's are made for millions of entries and compiled anew for every type they hold; here, where
//! there are a few dozen, they would be a tenth of the page's engine.

use std::{borrow::Borrow, cmp::Ordering};

/// A map whose entries lie in the order of their keys.
#[derive(Clone, Debug, PartialEq)]
pub struct Ordered<K, V>(Vec<(K, V)>);

impl<K, V> Default for Ordered<K, V> {
    fn default() -> Self {
        Ordered(Vec::new())
    }
}

impl<K: Ord, V> Ordered<K, V> {
    /// Without entries.
    pub fn new() -> Self {
        Ordered::default()
    }

    fn place<Q: Ord + ?Sized>(&self, key: &Q) -> Result<usize, usize>
    where
        K: Borrow<Q>,
    {
        // From the end: entries most often come in their order.
        let after = self.0.iter().rposition(|(known, _)| known.borrow() <= key);
        match after {
            Some(at) if self.0[at].0.borrow() == key => Ok(at),
            Some(at) => Err(at + 1),
            None => Err(0),
        }
    }

    /// Puts an entry in; the value that the key had before goes.
    pub fn insert(&mut self, key: K, value: V) {
        match self.place(&key) {
            Ok(at) => self.0[at].1 = value,
            Err(at) => self.0.insert(at, (key, value)),
        }
    }

    /// The value of a key.
    pub fn get<Q: Ord + ?Sized>(&self, key: &Q) -> Option<&V>
    where
        K: Borrow<Q>,
    {
        self.place(key).ok().map(|at| &self.0[at].1)
    }
}

impl<K, V> Ordered<K, V> {
    /// Whether there is no entry.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// How many entries there are.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// The entries, in order.
    pub fn iter(&self) -> impl Iterator<Item = (&K, &V)> {
        self.into_iter()
    }

    /// The values, in the order of their keys.
    pub fn values(&self) -> impl Iterator<Item = &V> {
        self.0.iter().map(|(_, value)| value)
    }

    /// Drops every entry.
    pub fn clear(&mut self) {
        self.0.clear();
    }

    /// Keeps the entries that are wanted.
    pub fn retain(&mut self, wanted: impl Fn(&V) -> bool) {
        self.0.retain(|(_, value)| wanted(value));
    }
}

impl<K: Ord, V> FromIterator<(K, V)> for Ordered<K, V> {
    fn from_iter<I: IntoIterator<Item = (K, V)>>(entries: I) -> Self {
        let mut map = Ordered::new();
        for (key, value) in entries {
            map.insert(key, value);
        }
        map
    }
}

impl<K: Ord, V, const N: usize> From<[(K, V); N]> for Ordered<K, V> {
    fn from(entries: [(K, V); N]) -> Self {
        entries.into_iter().collect()
    }
}

impl<K, V> IntoIterator for Ordered<K, V> {
    type Item = (K, V);
    type IntoIter = std::vec::IntoIter<(K, V)>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter()
    }
}

impl<'a, K, V> IntoIterator for &'a Ordered<K, V> {
    type Item = (&'a K, &'a V);
    type IntoIter = std::iter::Map<std::slice::Iter<'a, (K, V)>, fn(&'a (K, V)) -> (&'a K, &'a V)>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.iter().map(|(key, value)| (key, value))
    }
}

/// The positions below `count` in the order that `compare` says; equals stay as they are.
pub(crate) fn order(count: usize, compare: &dyn Fn(usize, usize) -> Ordering) -> Vec<usize> {
    let mut order = Vec::with_capacity(count);
    for at in 0..count {
        let place = order.partition_point(|before| compare(*before, at) != Ordering::Greater);
        order.insert(place, at);
    }
    order
}

/// Sorts; equals stay as they are.
pub(crate) fn sort_by<T>(items: &mut [T], compare: impl Fn(&T, &T) -> Ordering) {
    let order = order(items.len(), &|a, b| compare(&items[a], &items[b]));
    for at in 0..order.len() {
        // What belongs here may have been swapped away before.
        let mut from = order[at];
        while from < at {
            from = order[from];
        }
        items.swap(at, from);
    }
}

/// The lesser of two numbers, neither of which may be NaN; unlike `f64::min`, which is a call in WebAssembly, it takes one instruction.
#[inline(always)]
pub(crate) fn lesser(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}

/// The greater of two, likewise.
#[inline(always)]
pub(crate) fn greater(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sorts_as_the_standard_library_does() {
        let mut state = 7_u32;
        for length in 0..60 {
            let mut items: Vec<(u32, usize)> = (0..length)
                .map(|at| {
                    state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                    (state >> 28, at)
                })
                .collect();
            let mut expected = items.clone();
            expected.sort_by_key(|item| item.0);
            sort_by(&mut items, |a, b| a.0.cmp(&b.0));
            assert_eq!(items, expected);
        }
    }

    #[test]
    fn a_map_holds_what_a_btree_map_would() {
        use std::collections::BTreeMap;

        let entries =
            [("m", 1), ("a", 2), ("z", 3), ("m", 4), ("b", 5)].map(|(key, value)| (key.to_owned(), value));
        let map: Ordered<String, i32> = entries.clone().into();
        let expected = BTreeMap::from_iter(entries);
        assert!(map.iter().eq(expected.iter()));
        for key in ["a", "m", "q", "", "zz"] {
            assert_eq!(map.get(key), expected.get(key), "{key}");
        }
    }
}
