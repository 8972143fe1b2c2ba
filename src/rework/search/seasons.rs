//! A summer and a winter version of one recipe that differ in as few lines as possible.
//!
//! Where one recipe is good for both, that is the answer. Else the pairs come in the order of their merit: first those that differ in
//! two lines, and of those the ones that change the fewest lines of the present recipe. The lines that change in both versions
//! are either alike in both or not, and there are few ways to have so many of each kind: every choice of these lines
//! is a *group* of the regions of either season that change them. With what is alike held, the two seasons have nothing to do with
//! each other any more, so that a group is settled by halving what is alike, and each season for itself.

use std::cmp::Reverse;

use super::{
    season::{Lot, Season},
    smallest::{Proof, Search},
    watch::{REPORT_AFTER, Report, Watch},
};
use crate::rework::{
    grid::SHIFT_UNITS,
    question::{ON_GRID, Problem},
};

/// What was found for two seasons.
pub(crate) struct Closest {
    /// The percentages of both versions; `None` where a season has no good version, or none was found before the search was stopped.
    pub(crate) pair: Option<[Vec<f64>; 2]>,
    /// No pair differs in fewer lines than this.
    pub(crate) at_least: usize,
    /// Which of the two has no good version.
    pub(crate) lacks: Option<usize>,
    /// Whether the search went to its end: then the pair is the best by the order of merit.
    pub(crate) complete: bool,
    /// Of the search for one recipe for both; its equilibria are those of the whole.
    pub(crate) proof: Proof,
}

/// The order of merit of pairs; the least is the best. Strictly in order, and in millionths of a percent where it is amounts.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
struct Merit {
    /// Lines in which the two differ.
    differ: usize,
    /// Lines of the present recipe that change, in both versions together.
    lines: usize,
    /// What moves against the present recipe, in both together.
    shift: i64,
    /// What moves from one version to the other.
    between: i64,
    /// Keeps most of the lines that come first: so that the same question has the same answer everywhere.
    order: [Vec<Reverse<i64>>; 2],
}

fn whole(percent: f64) -> i64 {
    (percent * SHIFT_UNITS).round() as i64
}

/// Lines in which two recipes differ, and what moves between them.
fn apart(a: &[f64], b: &[f64]) -> (usize, i64) {
    let pairs = || a.iter().zip(b);
    let lines = pairs().filter(|(a, b)| (**a - **b).abs() > ON_GRID).count();
    (lines, pairs().map(|(a, b)| whole(b - a).max(0)).sum())
}

impl Merit {
    fn of(now: &[f64], pair: &[Vec<f64>; 2]) -> Merit {
        let (differ, between) = apart(&pair[0], &pair[1]);
        let [(summer, to_summer), (winter, to_winter)] = [0, 1].map(|at| apart(now, &pair[at]));
        let order = [0, 1].map(|at| pair[at].iter().map(|percent| Reverse(whole(*percent))).collect());
        Merit { differ, lines: summer + winter, shift: to_summer + to_winter, between, order }
    }
}

/// The best pair within the limits: each version changes at most as many lines of the present recipe as may be. `report` hears how far it
/// has come, and stops it with `false`.
///
/// The problems must be of the same recipe, pantry and limits.
pub(crate) fn closest_pair(summer: &Problem, winter: &Problem, report: Report<'_>) -> Closest {
    let mut watch = Watch::new(report);
    let demands = summer.demands.iter().chain(&winter.demands).copied().collect();
    let both = Problem { demands, ..summer.clone() };
    let mut search = Search::new(&both);
    let mut stopped = false;
    while !stopped && !search.has_settled_good() {
        stopped = watch.passes_on(search.step(REPORT_AFTER));
    }
    let one = search.best().filter(|found| found.merit.miss == 0).map(|found| found.amounts.clone());
    let proof = search.proof();
    if stopped || one.is_some() {
        let pair = one.map(|one| [one.clone(), one]);
        return Closest { pair, at_least: 0, lacks: None, complete: !stopped, proof };
    }
    let mut pairs = Pairs { now: summer.amounts(), best: None, watch };
    let mut seasons = [summer, winter].map(Season::new);
    let at_least = pairs.search(&mut seasons, summer.changes);
    let complete = !pairs.watch.is_stopped();
    let solved: u64 = seasons.iter().map(Season::solves).sum();
    let lacks = seasons.iter().position(|season| season.any.is_none()).filter(|_| complete);
    let [any, other] = seasons.map(|season| season.any);
    Closest {
        pair: pairs.best.map(|(_, pair)| pair).or_else(|| Some([any?, other?])),
        at_least,
        lacks,
        complete,
        proof: Proof { equilibria: proof.equilibria + solved, ..proof },
    }
}

/// Amounts this close are the same, percent.
const SAME: f64 = 1e-6;

/// Lines that are alike in both versions, with how much each may hold, and the recipes of either season that are left.
struct Node {
    alike: Vec<(u8, (f64, f64))>,
    sides: [Vec<Lot>; 2],
}

struct Pairs<'r> {
    now: Vec<f64>,
    best: Option<(Merit, [Vec<f64>; 2])>,
    watch: Watch<'r>,
}

/// The regions that change some lines, by the lines that are alike and those that are not.
type Roles = Vec<(u64, u32)>;

/// Every way in which `alike` of a region's lines are alike in both versions and `apart` more change in both.
fn roles(lots: &[Lot], alike: usize, apart: usize) -> Roles {
    let mut roles = Vec::new();
    let count = lots.first().map_or(0, |lot| lot.region.support.count);
    // Each line is alike, apart or its own, written in base 3.
    for code in 0..3_usize.pow(u32::from(count)) {
        let role = [code % 3, code / 3 % 3, code / 9];
        let of = |wanted: usize| (0..usize::from(count)).filter(move |at| role[*at] == wanted);
        if of(1).count() != alike || of(2).count() != apart {
            continue;
        }
        for (index, lot) in lots.iter().enumerate() {
            let mut lines = lot.region.support.lines;
            lines[..usize::from(count)].sort_unstable();
            let key = of(1).chain(of(2)).fold(0, |key, at| key << 8 | (u64::from(lines[at]) + 1));
            roles.push((key, index as u32));
        }
    }
    roles.sort_unstable();
    roles
}

impl Pairs<'_> {
    /// Looks for the best pair; gives the number of lines that no pair differs in fewer than.
    fn search(&mut self, seasons: &mut [Season<'_>; 2], changes: usize) -> usize {
        // Both have a good version, or there is no pair.
        for season in &mut *seasons {
            let mut counts = [0, 2, 3].into_iter().filter(|count| *count <= changes);
            if !counts.any(|count| !season.lots(count, &mut self.watch).is_empty()) {
                return 2;
            }
        }
        for differ in 2..=2 * changes {
            for total in 2..=2 * changes {
                for first in [0, 2, 3] {
                    let second = total.wrapping_sub(first);
                    if first > changes || second > changes || second == 1 {
                        continue;
                    }
                    // Lines that both change count once among those that differ, or not at all.
                    let Some(shared) = total.checked_sub(differ) else { continue };
                    for alike in 0..=shared / 2 {
                        let apart = shared - 2 * alike;
                        if alike + apart <= first.min(second) {
                            self.level(seasons, [first, second], alike, apart);
                        }
                    }
                }
                if self.best.is_some() || self.watch.is_stopped() {
                    return differ;
                }
            }
        }
        2
    }

    /// Pairs of so many changed lines each, of which so many are alike and so many more change in both.
    fn level(&mut self, seasons: &mut [Season<'_>; 2], counts: [usize; 2], alike: usize, apart: usize) {
        let lots = [0, 1].map(|at| seasons[at].lots(counts[at], &mut self.watch));
        let roles = [0, 1].map(|at| roles(&lots[at], alike, apart));
        let mut groups: Vec<(i64, [std::ops::Range<usize>; 2])> = Vec::new();
        let mut ends = [0, 0];
        while let (Some((a, _)), Some((b, _))) = (roles[0].get(ends[0]), roles[1].get(ends[1])) {
            let key = *a.max(b);
            let ranges = [0, 1].map(|side| {
                let start = ends[side];
                let after = |from: usize, past: &dyn Fn(u64) -> bool| {
                    from + roles[side][from..].iter().take_while(|(it, _)| !past(*it)).count()
                };
                let start = after(start, &|it| it >= key);
                start..after(start, &|it| it > key)
            });
            ends = [ranges[0].end, ranges[1].end];
            let least = |side: usize| {
                roles[side][ranges[side].clone()].iter().map(|it| lots[side][it.1 as usize].shift).min()
            };
            if let (Some(a), Some(b)) = (least(0), least(1)) {
                groups.push((a + b, ranges));
            }
        }
        groups.sort_unstable_by_key(|(least, _)| *least);
        self.watch.expect(groups.len() as u64);
        for (least, ranges) in groups {
            self.watch.decide(1);
            if self.best.as_ref().is_some_and(|(best, _)| least > best.shift) || self.watch.is_stopped() {
                continue;
            }
            let key = roles[0][ranges[0].start].0;
            // The lines that are alike come first in the key.
            let lines = (apart..apart + alike).map(|at| (key >> (8 * at)) as u8 - 1);
            let node = Node {
                alike: lines.map(|line| (line, (0.0, 100.0))).collect(),
                sides: [0, 1].map(|side| {
                    let of = |(_, index): &(u64, u32)| lots[side][*index as usize];
                    roles[side][ranges[side].clone()].iter().map(of).collect()
                }),
            };
            self.group(seasons, node, least);
        }
    }

    /// The best pairs of a group.
    fn group(&mut self, seasons: &mut [Season<'_>; 2], node: Node, least: i64) {
        let mut nodes = vec![(least, node)];
        while let Some(at) = (0..nodes.len()).min_by_key(|at| nodes[*at].0) {
            let (key, mut node) = nodes.swap_remove(at);
            if self.watch.is_stopped() || self.best.as_ref().is_some_and(|(best, _)| key > best.shift) {
                return;
            }
            if !node.narrow(seasons) {
                continue;
            }
            let [first, second] = seasons;
            let Some(a) = first.settle(&mut node.sides[0], &mut self.watch) else { continue };
            let Some(b) = second.settle(&mut node.sides[1], &mut self.watch) else { continue };
            if self.watch.is_stopped() {
                return;
            }
            if a + b > key {
                nodes.push((a + b, node));
                continue;
            }
            // Every recipe of the least shift is known.
            let mut met = false;
            let of = |side: usize, shift: i64| {
                node.sides[side].iter().filter(move |lot| lot.good && lot.shift == shift)
            };
            for x in of(0, a) {
                for y in of(1, b) {
                    if node.agree(seasons, [x, y]) {
                        met = true;
                        self.offer([0, 1].map(|side| seasons[side].amounts([x, y][side])));
                    }
                }
            }
            if met {
                continue;
            }
            nodes.extend(node.halves().map(|half| (key, half)));
        }
    }

    fn offer(&mut self, pair: [Vec<f64>; 2]) {
        let merit = Merit::of(&self.now, &pair);
        if self.best.as_ref().is_none_or(|(best, _)| merit < *best) {
            self.best = Some((merit, pair));
        }
    }
}

impl Node {
    /// Leaves out what holds more or less of what is alike than the other season can; `false` where nothing is left of one.
    fn narrow(&mut self, seasons: &[Season<'_>; 2]) -> bool {
        for (line, range) in &mut self.alike {
            for (season, lots) in seasons.iter().zip(&self.sides) {
                let ranges = || lots.iter().map(|lot| season.grid.range(&lot.region, *line));
                let low = ranges().fold(f64::INFINITY, |least, it| least.min(it.0));
                let high = ranges().fold(f64::NEG_INFINITY, |most, it| most.max(it.1));
                *range = (range.0.max(low), range.1.min(high));
            }
            let wide = (range.0 - SAME / 4.0, range.1 + SAME / 4.0);
            for (season, lots) in seasons.iter().zip(&mut self.sides) {
                *lots = lots.iter().filter_map(|lot| season.within(*lot, *line, wide)).collect();
            }
        }
        self.sides.iter().all(|lots| !lots.is_empty())
    }

    /// Whether two recipes hold as much of what is alike.
    fn agree(&self, seasons: &[Season<'_>; 2], pair: [&Lot; 2]) -> bool {
        self.alike.iter().all(|(line, _)| {
            let [a, b] = [0, 1].map(|side| seasons[side].grid.range(&pair[side].region, *line).0);
            (a - b).abs() <= SAME
        })
    }

    /// The same in two halves of the line that is alike and may hold the most ways.
    fn halves(self) -> impl Iterator<Item = Node> {
        let width = |at: &usize| whole(self.alike[*at].1.1 - self.alike[*at].1.0);
        let widest = (0..self.alike.len()).max_by_key(width).filter(|at| width(at) > 1);
        widest.into_iter().flat_map(move |at| {
            let (_, (low, high)) = self.alike[at];
            // Not in the middle, which is often itself on the grid, so that nothing is in both.
            let middle = low + 0.55 * (high - low);
            [(low, middle), (middle, high)].map(|part| {
                let mut alike = self.alike.clone();
                alike[at].1 = part;
                Node { alike, sides: self.sides.clone() }
            })
        })
    }
}
