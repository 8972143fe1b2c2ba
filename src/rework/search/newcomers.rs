//! Newcomers, three at a time: most ingredients that a recipe has not, and most pairs of them, do not do in place of one that it has,
//! and one bound around all mixtures of three newcomers excludes three pairs, or each of the three alone.

use super::queue::{Entry, Together};
use crate::rework::grid::Region;

/// Regions that take from one line for one or two of the newcomers, in steps of so many percent: those of the same three together.
pub(crate) fn together(regions: &[Region], newcomers: &[usize], step: f64) -> Vec<Entry> {
    let count = newcomers.len();
    let place = |line: usize| newcomers.iter().position(|it| *it == line).unwrap_or(0);
    let mut sets: Vec<([usize; 3], Vec<Region>)> = Vec::new();
    let mut slots = vec![0; count * count];
    for region in regions {
        let (lines, _) = region.support.lines();
        let (first, second) = (place(lines[1]), place(lines[2]));
        let mut three = if first == second {
            // Neighbours, which in most lists are alike; the last may lack some.
            [0, 1, 2].map(|at| (first / 3 * 3 + at).min(count - 1))
        } else {
            // Those whose places sum to 0, modulo their number: every pair has one third, which may be one of them.
            [first, second, (2 * count - first - second) % count]
        };
        three.sort_unstable();
        // Two of them tell the third.
        let slot = &mut slots[count * three[0] + three[1]];
        if *slot == 0 {
            sets.push((three, Vec::new()));
            *slot = sets.len();
        }
        sets[*slot - 1].1.push(*region);
    }
    sets.iter().map(|(three, set)| around(three.map(|at| newcomers[at]), set, step)).collect()
}

/// What lies around regions of three newcomers: any mixture of the three, up to the most that two may be.
fn around(newcomers: [usize; 3], regions: &[Region], step: f64) -> Entry {
    if let [region] = regions {
        return Entry::Region(*region);
    }
    let (mut most, mut giving) = (0, 0);
    for region in regions {
        giving = usize::from(region.support.lines[0]);
        most = region.s.1.max(most);
    }
    let most = step * f64::from(most);
    let [one, other, another] = newcomers;
    let lines = vec![giving, one, other, another];
    let corners = vec![[0.0; 3], [most, 0.0, 0.0], [0.0, most, 0.0], [0.0, 0.0, most]];
    Entry::Together(Together { lines, corners, regions: regions.to_vec() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rework::grid::Support;

    #[test]
    fn every_newcomer_is_in_one_entry_and_between_its_corners() {
        for count in 1..12 {
            let newcomers: Vec<usize> = (0..count).collect();
            let region = |line: &usize| {
                let lines = [20, *line as u8, *line as u8];
                let b = (1, 1 + *line as i32);
                Region {
                    support: Support { lines, count: 2, gains: [false, true, true] },
                    b,
                    c: (0, 0),
                    s: b,
                }
            };
            let regions: Vec<Region> = newcomers.iter().map(region).collect();
            let entries = together(&regions, &newcomers, 0.5);
            let mut held: Vec<u8> = Vec::new();
            for entry in &entries {
                held.extend(entry.regions().iter().map(|it| it.support.lines[1]));
                if let Entry::Together(Together { lines, corners, regions }) = entry {
                    assert!(regions.iter().all(|it| lines[1..].contains(&usize::from(it.support.lines[1]))));
                    assert!(regions.iter().all(|it| 0.5 * f64::from(it.b.1) <= corners[1][0]));
                }
            }
            held.sort_unstable();
            assert!(held.into_iter().map(usize::from).eq(newcomers));
            assert_eq!(entries.len(), count.div_ceil(3));
        }
    }

    #[test]
    fn every_pair_is_in_one_entry_and_between_its_corners() {
        for count in 2..12 {
            let newcomers: Vec<usize> = (0..count).map(|at| 3 + 2 * at).collect();
            let mut regions = Vec::new();
            for (at, one) in newcomers.iter().enumerate() {
                for other in &newcomers[at + 1..] {
                    let lines = [1, *one as u8, *other as u8];
                    let support = Support { lines, count: 3, gains: [false, true, true] };
                    let (b, c) = ((1, 1 + *one as i32), (1, 20 - *other as i32 / 2));
                    regions.extend(Region { support, b, c, s: (2, 17) }.tighten());
                }
            }
            let entries = together(&regions, &newcomers, 0.5);
            let mut held: Vec<[u8; 3]> = Vec::new();
            for entry in &entries {
                held.extend(entry.regions().iter().map(|it| it.support.lines));
                let Entry::Together(Together { lines, corners, regions }) = entry else { continue };
                let most = corners[1][0];
                assert_eq!(corners[1..], [[most, 0.0, 0.0], [0.0, most, 0.0], [0.0, 0.0, most]]);
                for region in regions {
                    assert!(region.support.lines.iter().all(|line| lines.contains(&usize::from(*line))));
                    assert!(region.points().into_iter().all(|(b, c)| 0.5 * f64::from(b + c) <= most));
                }
            }
            held.sort_unstable();
            let all: Vec<[u8; 3]> = regions.iter().map(|it| it.support.lines).collect();
            assert_eq!(held, all);
            assert!(entries.len() <= all.len() / 3 + count, "{count}: {}", entries.len());
        }
    }
}
