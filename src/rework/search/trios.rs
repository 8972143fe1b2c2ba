//! Newcomers, three at a time.
//!
//! Most ingredients that a recipe has not, and most pairs of them, do not do in place of one that it has. One
//! bound around all mixtures of three newcomers excludes three pairs at once, or each of the three alone.

use super::queue::{Node, Together};
use crate::rework::grid::Region;

/// Regions in which one or two of the newcomers take from the same line: those of the same three newcomers
/// together. `share_alone` is that of their [`Grid`](crate::rework::grid::Grid).
pub(crate) fn together(
    share_alone: &dyn Fn(i32) -> f64,
    regions: &[Region],
    newcomers: &[usize],
) -> Vec<Node> {
    let count = newcomers.len();
    let place = |line: usize| newcomers.iter().position(|it| *it == line).unwrap_or(0);
    let mut trios: Vec<([usize; 3], Vec<Region>)> = Vec::new();
    // By the first two places of a trio, which tell the third: its number among the trios, counted from 1.
    let mut known = vec![0; count * count];
    for region in regions {
        let (lines, _) = region.support.lines();
        let (first, second) = (place(lines[1]), place(lines[2]));
        let mut trio = if first == second {
            // Neighbours, which in most lists are alike; the last trio may lack some.
            [0, 1, 2].map(|at| (first / 3 * 3 + at).min(count - 1))
        } else {
            // Places that sum to 0 modulo the number of newcomers, so that every pair is in one trio.
            // The third may be one of the pair.
            [first, second, (2 * count - first - second) % count]
        };
        trio.sort_unstable();
        let number = &mut known[count * trio[0] + trio[1]];
        if *number == 0 {
            trios.push((trio, Vec::new()));
            *number = trios.len();
        }
        trios[*number - 1].1.push(*region);
    }
    trios.iter().map(|(trio, regions)| around(share_alone, trio.map(|at| newcomers[at]), regions)).collect()
}

/// What lies around regions of three newcomers: any mixture of the three, up to
/// the most that two of them may be.
fn around(share_alone: &dyn Fn(i32) -> f64, trio: [usize; 3], regions: &[Region]) -> Node {
    if let [region] = regions {
        return Node::Region(*region);
    }
    let (mut most, mut giving) = (0, 0);
    for region in regions {
        giving = usize::from(region.support.lines[0]);
        most = region.s.1.max(most);
    }
    let most = share_alone(most);
    let [one, other, another] = trio;
    let lines = vec![giving, one, other, another];
    let corners = vec![[0.0; 3], [most, 0.0, 0.0], [0.0, most, 0.0], [0.0, 0.0, most]];
    Node::Regions(Together { lines, corners, regions: regions.to_vec() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rework::grid::Support;

    #[test]
    fn every_newcomer_is_in_one_node_and_between_its_corners() {
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
            let nodes = together(&|steps| 0.5 * f64::from(steps), &regions, &newcomers);
            let mut held: Vec<u8> = Vec::new();
            for node in &nodes {
                held.extend(node.regions().iter().map(|it| it.support.lines[1]));
                if let Node::Regions(Together { lines, corners, regions }) = node {
                    assert!(regions.iter().all(|it| lines[1..].contains(&usize::from(it.support.lines[1]))));
                    assert!(regions.iter().all(|it| 0.5 * f64::from(it.b.1) <= corners[1][0]));
                }
            }
            held.sort_unstable();
            assert!(held.into_iter().map(usize::from).eq(newcomers));
            assert_eq!(nodes.len(), count.div_ceil(3));
        }
    }

    #[test]
    fn every_pair_is_in_one_node_and_between_its_corners() {
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
            let nodes = together(&|steps| 0.5 * f64::from(steps), &regions, &newcomers);
            let mut held: Vec<[u8; 3]> = Vec::new();
            for node in &nodes {
                held.extend(node.regions().iter().map(|it| it.support.lines));
                let Node::Regions(Together { lines, corners, regions }) = node else { continue };
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
            assert!(nodes.len() <= all.len() / 3 + count, "{count}: {}", nodes.len());
        }
    }
}
