//! Sorting, in a plain way.
//!
//! The standard library's is made for millions of entries and compiled anew for every type they hold.

use std::cmp::Ordering;

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
}
