//! What a bound leaves of a region that it does not exclude.
//!
//! At each corner of a region, a bound says how far inside a band a figure can be at most: its slack there.
//! Between the corners the slack is at most the same mixture of theirs. So the recipes that may be inside
//! the band lie in a polygon. Its vertices are the corners whose slack is not negative and, on each edge
//! from one of these to a corner whose slack is negative, the point where the slack is 0. The intervals of
//! the region are cut to that polygon.

use super::evaluator::{Slack, points};
use crate::{
    extremes::{greater, lesser},
    rework::{
        grid::{Across, Region, meet},
        question::Counts,
    },
};

/// What rounding may take from a slack, percent points, or from an interval, steps.
const ROUNDING: f64 = 1e-6;

/// A corner as a region has it: what its second and its third line hold, percent, and
/// how far inside the figure can be.
struct Corner {
    shares: [f64; 2],
    inside: f64,
}

/// Shrinks each region to what may still miss at most `may_miss`, in [`units`](super::evaluator::units).
///
/// The regions were bounded together at one temperature: `lines` change between `corners`, and `slacks` is
/// what that bound says of each corner. `steps` is that of their [`Grid`](crate::rework::grid::Grid).
pub(crate) fn cut(
    regions: &mut Vec<Region>,
    lines: &[usize],
    corners: &[[f64; 3]],
    steps: &dyn Fn([f64; 2]) -> [f64; 2],
    slacks: &[Slack],
    may_miss: u64,
) {
    let mut left = Vec::new();
    for region in regions.iter() {
        let mut region = Some(*region);
        for slack in slacks {
            let Some(spare) = spare(slack.counts, may_miss) else { continue };
            let spare = spare + ROUNDING;
            region = region.and_then(|it| left_of(steps, it, &corners_of(&it, lines, corners, slack, spare)));
        }
        left.extend(region);
    }
    *regions = left;
}

/// How far outside a band a recipe may be, percent points, that misses at most so much; `None` if anywhere.
fn spare(counts: Counts, may_miss: u64) -> Option<f64> {
    match counts {
        Counts::ByPoint(cost) => Some(points(may_miss) / cost),
        Counts::Once(cost) => (points(may_miss) < cost).then_some(0.0),
    }
}

/// Those corners that only change the lines of a region: it lies between them.
fn corners_of(
    region: &Region,
    lines: &[usize],
    corners: &[[f64; 3]],
    slack: &Slack,
    spare: f64,
) -> Vec<Corner> {
    // Of four lines, the first gives what the others take.
    let lines = &lines[usize::from(lines.len() > 3)..];
    let (own, count) = region.support.lines();
    let mut found = Vec::new();
    for (corner, inside) in corners.iter().zip(slack.at_corners) {
        let mut shares = [0.0; 2];
        let mut is_own = true;
        for (line, percent) in lines.iter().zip(corner) {
            if *line == own[1] {
                shares[0] = *percent;
            } else if count > 2 && *line == own[2] {
                shares[1] = *percent;
            } else if *line != own[0] && *percent != 0.0 {
                is_own = false;
            }
        }
        if is_own {
            found.push(Corner { shares, inside: inside + spare });
        }
    }
    found
}

/// What is left of a region between these corners.
fn left_of(steps: &dyn Fn([f64; 2]) -> [f64; 2], mut region: Region, corners: &[Corner]) -> Option<Region> {
    let mut ends = [(f64::INFINITY, f64::NEG_INFINITY); 3];
    let mut reach = |shares: [f64; 2]| {
        let [b, c] = steps(shares);
        for ((low, high), steps) in ends.iter_mut().zip([b, c, b + c]) {
            *low = lesser(*low, steps);
            *high = greater(*high, steps);
        }
    };
    for from in corners.iter().filter(|it| it.inside >= 0.0) {
        reach(from.shares);
        for to in corners.iter().filter(|it| it.inside < 0.0) {
            let part = from.inside / (from.inside - to.inside);
            reach([0, 1].map(|at| from.shares[at] + part * (to.shares[at] - from.shares[at])));
        }
    }
    for (across, (low, high)) in [Across::B, Across::C, Across::S].into_iter().zip(ends) {
        if low > high {
            return None;
        }
        let interval = region.interval(across);
        *interval = meet(*interval, ((low - ROUNDING).ceil() as i32, (high + ROUNDING).floor() as i32));
    }
    region.tighten()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{random::Congruential, rework::grid::Support};

    /// The most that a figure may be inside at a point: the best of all mixtures of corners that give
    /// it lies in a triangle of them.
    fn most_inside(corners: &[(i32, i32)], inside: &[f64; 4], (b, c): (i32, i32)) -> f64 {
        let area =
            |[p, q, r]: [(i32, i32); 3]| f64::from((q.0 - p.0) * (r.1 - p.1) - (r.0 - p.0) * (q.1 - p.1));
        let mut most = f64::NEG_INFINITY;
        for (i, p) in corners.iter().enumerate() {
            for (j, q) in corners.iter().enumerate().skip(i + 1) {
                for (k, r) in corners.iter().enumerate().skip(j + 1) {
                    let point = (b, c);
                    let parts = [[point, *q, *r], [*p, point, *r], [*p, *q, point]].map(area);
                    let whole = area([*p, *q, *r]);
                    let shares = parts.map(|part| part / whole);
                    if whole != 0.0 && shares.iter().all(|share| *share >= 0.0) {
                        let mixed = shares[0] * inside[i] + shares[1] * inside[j] + shares[2] * inside[k];
                        most = most.max(mixed);
                    }
                }
            }
        }
        most
    }

    #[test]
    fn every_recipe_that_may_be_inside_is_left() {
        let mut random = Congruential(5);
        let mut share = || random.share();
        let (mut before, mut after, mut within) = (0, 0, 0);
        for case in 0..600 {
            let support = Support { lines: [7, 4, 5], count: 3, gains: [false, true, true] };
            let mut interval = || {
                let low = (12.0 * share()) as i32;
                (low, low + 2 + (14.0 * share()) as i32)
            };
            let (b, c) = (interval(), interval());
            let region = Region { support, b, c, s: (b.0 + c.0 + 2, b.1 + c.1 - 1) }.tighten().unwrap();
            let places = region.corners().points().to_vec();
            let step = 0.5;
            let corners: Vec<[f64; 3]> =
                places.iter().map(|(b, c)| [60.0, step * f64::from(*b), step * f64::from(*c)]).collect();
            let inside = [0; 4].map(|_| 10.0 * share() - 6.0);
            let (weight, may_miss) = (0.5, if case % 2 == 0 { 0 } else { 1_500_000 });
            let spare = points(may_miss) / weight;
            let mut left = vec![region];
            let steps = |shares: [f64; 2]| shares.map(|percent| percent / step);
            cut(
                &mut left,
                &[7, 4, 5],
                &corners,
                &steps,
                &[Slack { at_corners: inside, counts: Counts::ByPoint(weight) }],
                may_miss,
            );
            for point in region.points() {
                if most_inside(&places, &inside, point) >= -spare {
                    within += 1;
                    assert!(
                        left.iter().any(|it| it.holds(point)),
                        "case {case}: {point:?} of {region:?}: {left:?}"
                    );
                }
            }
            before += region.count();
            after += left.iter().map(Region::count).sum::<u64>();
        }
        println!("of {before} recipes {after} are left, {within} may be inside");
        // Of what is outside, most is cut off.
        assert!(
            2 * (after - within) < before - within,
            "of {before} recipes {after} are left, {within} may be inside"
        );
    }

    /// Of three newcomers in place of one line, each region lies between the corners of its own two.
    #[test]
    fn of_newcomers_only_a_regions_own_count() {
        let region = |one: u8, other: u8| {
            let support = Support { lines: [0, one, other], count: 3, gains: [false, true, true] };
            Region { support, b: (1, 19), c: (1, 19), s: (2, 20) }
        };
        let corners = [[0.0; 3], [10.0, 0.0, 0.0], [0.0, 10.0, 0.0], [0.0, 0.0, 10.0]];
        let mut left = vec![region(3, 4), region(3, 5), region(4, 5)];
        // The first of them brings the figure in from 5 % on, the second from 8 %, the third never.
        let slack = Slack { at_corners: [-5.0, 5.0, 1.25, -9.0], counts: Counts::Once(1.0) };
        cut(&mut left, &[0, 3, 4, 5], &corners, &|shares| shares.map(|it| it / 0.5), &[slack], 0);
        assert_eq!(
            left.iter().map(|it| it.support.lines).collect::<Vec<_>>(),
            [[0, 3, 4], [0, 3, 5], [0, 4, 5]]
        );
        assert_eq!(
            left.iter().map(|it| (it.b, it.c, it.s.0)).collect::<Vec<_>>(),
            [((1, 19), (1, 19), 10), ((10, 19), (1, 7), 11), ((16, 19), (1, 2), 17),]
        );
    }
}
