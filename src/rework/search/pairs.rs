//! A summer and a winter version of one recipe that differ in as few lines as possible.
//!
//! Where one recipe is good for both, that is the answer. Else the pairs come in the order of their merit:
//! first those that differ in two lines, and of those the ones that change the fewest lines of the present
//! recipe. A line that changes in both versions holds as much in both, and is then called *alike*, or it does
//! not, and is then *apart*. For each choice of the lines that are alike and apart there is a set of pairs,
//! made of the regions of either season that change these lines. Once it is fixed how much each line that is
//! alike holds, the two seasons have nothing to do with each other any more. So the set is divided by what
//! these lines hold, and either season is searched for itself.

use std::{cmp::Reverse, collections::BTreeMap};

use super::{
    on_rung::{TRIES, more_room},
    progress::{ProofCounts, REPORT_AFTER, Report, Watch},
    season::{Branch, Season},
    smallest::Search,
};
use crate::rework::{
    grid::{SHIFT_UNITS, Support},
    question::{ON_GRID, Problem, Rung},
};

/// What was found for two seasons.
pub(crate) struct ClosestPair {
    /// The percentages of both versions; `None` where a season has no good version, or none was found
    /// before the search was stopped.
    pub(crate) pair: Option<[Vec<f64>; 2]>,
    /// No pair differs in fewer lines than this.
    pub(crate) at_least: usize,
    /// Which of the two has no good version.
    pub(crate) lacks: Option<usize>,
    /// Whether the search went to its end: then the pair is the best by the order of merit.
    pub(crate) complete: bool,
    /// Of the search for one recipe for both; its equilibria are those of the whole.
    pub(crate) proof: ProofCounts,
}

/// The order of merit of pairs; the least is the best. Strictly in order, and in millionths of
/// a percent where it is amounts.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
struct PairMerit {
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

impl PairMerit {
    fn of(now: &[f64], pair: &[Vec<f64>; 2]) -> PairMerit {
        let (differ, between) = apart(&pair[0], &pair[1]);
        let [(summer, to_summer), (winter, to_winter)] = [0, 1].map(|at| apart(now, &pair[at]));
        let order = [0, 1].map(|at| pair[at].iter().map(|percent| Reverse(whole(*percent))).collect());
        PairMerit { differ, lines: summer + winter, shift: to_summer + to_winter, between, order }
    }
}

/// The best pair within the limits: each version changes at most as many lines of the present recipe as may
/// be. `report` hears how far it has come, and stops it with `false`.
///
/// Both are to hold on the rung that is asked for, else on the best on which there is a pair; within a
/// season's hottest, not below it.
///
/// The problems must be of the same recipe, pantry and limits.
pub(crate) fn closest_pair(summer: &Problem, winter: &Problem, report: Report<'_>) -> ClosestPair {
    let rungs = Rung::from(summer.surety, &summer.wishes).into_iter().filter(|rung| rung.cooler_k == 0.0);
    let mut done = ProofCounts::default();
    let mut last = None;
    for rung in rungs {
        let mut room = rung.deviations();
        for _ in 0..TRIES {
            let work = summer.work.map(|most| most.saturating_sub(done.equilibria));
            let on = |season: &Problem| Problem { work, ..season.on(rung, room) };
            let mut found = pair_as_demanded(&on(summer), &on(winter), report);
            done = done.and(found.proof);
            found.proof = done;
            let odds = found.pair.as_ref().map(|[a, b]| summer.odds(a, rung).min(winter.odds(b, rung)));
            let has_pair = found.complete && found.lacks.is_none();
            let is_sure_enough = !has_pair || odds.is_none_or(|odds| odds >= rung.odds);
            let is_final = !found.complete || (has_pair && is_sure_enough);
            last = Some(found);
            if is_final {
                return last.unwrap_or_else(ClosestPair::none);
            }
            if is_sure_enough {
                break;
            }
            room += more_room(rung, odds.unwrap_or(rung.odds));
        }
    }
    last.unwrap_or_else(ClosestPair::none)
}

impl ClosestPair {
    /// None, of a question that was not asked.
    fn none() -> ClosestPair {
        ClosestPair { pair: None, at_least: 0, lacks: None, complete: false, proof: ProofCounts::default() }
    }
}

/// The best pair that meets all that is demanded of either.
pub(crate) fn pair_as_demanded(summer: &Problem, winter: &Problem, report: Report<'_>) -> ClosestPair {
    let mut watch = Watch::new(report).within(summer.work);
    let demands = summer.demands.iter().chain(&winter.demands).copied().collect();
    let both = Problem { demands, ..summer.clone() };
    let mut search = Search::new(&both);
    let mut stopped = false;
    let mut counted = 0;
    while !stopped && !search.has_settled_good() {
        let progress = search.step(REPORT_AFTER);
        let solved = search.proof().equilibria;
        stopped = watch.spends(solved - counted) || watch.passes_on(progress);
        counted = solved;
    }
    let one = search.best().filter(|found| found.merit.miss == 0).map(|found| found.amounts.clone());
    let proof = search.proof();
    if stopped || one.is_some() {
        let pair = one.map(|one| [one.clone(), one]);
        return ClosestPair { pair, at_least: 0, lacks: None, complete: !stopped, proof };
    }
    let mut pairs = Pairs { now: summer.amounts(), best: None, watch };
    let mut seasons = [summer, winter].map(Season::new);
    let at_least = pairs.search(&mut seasons, summer.changes);
    let complete = !pairs.watch.is_stopped();
    let solved: u64 = seasons.iter().map(Season::equilibria).sum();
    let lacks = seasons.iter().position(|season| season.any.is_none()).filter(|_| complete);
    let [any, other] = seasons.map(|season| season.any);
    ClosestPair {
        pair: pairs.best.map(|(_, pair)| pair).or_else(|| Some([any?, other?])),
        at_least,
        lacks,
        complete,
        proof: ProofCounts { equilibria: proof.equilibria + solved, ..proof },
    }
}

/// Amounts this close are the same, percent.
const SAME: f64 = 1e-6;

/// Pairs in which the same lines are alike.
struct PairSet {
    /// These lines, with the least and the most that each may hold, percent.
    alike: Vec<(u8, (f64, f64))>,
    /// What is left of either season.
    sides: [Vec<Branch>; 2],
}

struct Pairs<'r> {
    now: Vec<f64>,
    best: Option<(PairMerit, [Vec<f64>; 2])>,
    watch: Watch<'r>,
}

/// The lines that are alike, then those that are apart; the rest is [`NO_LINE`].
type Roles = [u8; 3];

/// No line has this number.
const NO_LINE: u8 = u8::MAX;

/// Every way in which so many of a branch's lines are alike and so many apart.
fn roles(branch: &Branch, alike: usize, apart: usize) -> impl Iterator<Item = Roles> {
    let Support { mut lines, count, .. } = branch.region.support;
    let count = usize::from(count);
    lines[..count].sort_unstable();
    // A digit in base 3 for each line: 0 where only this season changes it, 1 where it
    // is alike, 2 where it is apart.
    (0..3_usize.pow(count as u32)).filter_map(move |code| {
        let digits = [code % 3, code / 3 % 3, code / 9];
        let with = |digit: usize| (0..count).filter(move |at| digits[*at] == digit);
        if with(1).count() != alike || with(2).count() != apart {
            return None;
        }
        let mut roles = [NO_LINE; 3];
        for (role, at) in roles.iter_mut().zip(with(1).chain(with(2))) {
            *role = lines[at];
        }
        Some(roles)
    })
}

impl Pairs<'_> {
    /// Looks for the best pair. Returns the proven least number of lines in which two versions
    /// differ; 2 where there is no pair.
    fn search(&mut self, seasons: &mut [Season<'_>; 2], changes: usize) -> usize {
        // Both have a good version, or there is no pair.
        for season in &mut *seasons {
            let mut counts = [0, 2, 3].into_iter().filter(|count| *count <= changes);
            if !counts.any(|count| !season.branches(count, &mut self.watch).is_empty()) {
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
                            self.pairs_of_counts(seasons, [first, second], alike, apart);
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
    fn pairs_of_counts(
        &mut self,
        seasons: &mut [Season<'_>; 2],
        counts: [usize; 2],
        alike: usize,
        apart: usize,
    ) {
        let branches = [0, 1].map(|at| seasons[at].branches(counts[at], &mut self.watch));
        // Which branches of either season have the same roles.
        let mut by_roles: BTreeMap<Roles, [Vec<u32>; 2]> = BTreeMap::new();
        for (side, branches) in branches.iter().enumerate() {
            for (number, branch) in (0..).zip(branches) {
                for roles in roles(branch, alike, apart) {
                    by_roles.entry(roles).or_default()[side].push(number);
                }
            }
        }
        by_roles.retain(|_, sides| sides.iter().all(|side| !side.is_empty()));
        let of = |side: usize, number: &u32| branches[side][*number as usize];
        let least = |sides: &[Vec<u32>; 2]| -> i64 {
            let least = |side: usize| sides[side].iter().map(|it| of(side, it).shift).min().unwrap_or(0);
            least(0) + least(1)
        };
        let mut sets: Vec<_> =
            by_roles.into_iter().map(|(roles, sides)| (least(&sides), roles, sides)).collect();
        sets.sort_by_key(|(least, ..)| *least);
        self.watch.expect(sets.len() as u64);
        for (least, roles, sides) in sets {
            self.watch.decide(1);
            if self.best.as_ref().is_some_and(|(best, _)| least > best.shift) || self.watch.is_stopped() {
                continue;
            }
            let set = PairSet {
                alike: roles[..alike].iter().map(|line| (*line, (0.0, 100.0))).collect(),
                sides: [0, 1].map(|side| sides[side].iter().map(|it| of(side, it)).collect()),
            };
            self.search_set(seasons, set, least);
        }
    }

    /// The best pairs of a set, of which none moves less than `least` in both versions together.
    fn search_set(&mut self, seasons: &mut [Season<'_>; 2], set: PairSet, least: i64) {
        let mut sets = vec![(least, set)];
        while let Some(at) = (0..sets.len()).min_by_key(|at| sets[*at].0) {
            let (key, mut set) = sets.swap_remove(at);
            if self.watch.is_stopped() || self.best.as_ref().is_some_and(|(best, _)| key > best.shift) {
                return;
            }
            if !set.narrow(seasons) {
                continue;
            }
            let [first, second] = seasons;
            let Some(a) = first.settle(&mut set.sides[0], &mut self.watch) else { continue };
            let Some(b) = second.settle(&mut set.sides[1], &mut self.watch) else { continue };
            if self.watch.is_stopped() {
                return;
            }
            if a + b > key {
                sets.push((a + b, set));
                continue;
            }
            // Every recipe that moves least is known in either season.
            let mut met = false;
            let of = |side: usize, shift: i64| {
                set.sides[side].iter().filter(move |branch| branch.good && branch.shift == shift)
            };
            for x in of(0, a) {
                for y in of(1, b) {
                    if set.agree(seasons, [x, y]) {
                        met = true;
                        self.offer([0, 1].map(|side| seasons[side].amounts([x, y][side])));
                    }
                }
            }
            if met {
                continue;
            }
            sets.extend(set.halves().map(|half| (key, half)));
        }
    }

    fn offer(&mut self, pair: [Vec<f64>; 2]) {
        let merit = PairMerit::of(&self.now, &pair);
        if self.best.as_ref().is_none_or(|(best, _)| merit < *best) {
            self.best = Some((merit, pair));
        }
    }
}

impl PairSet {
    /// Leaves out what holds more or less of what is alike than the other season can;
    /// `false` where nothing is left of one.
    fn narrow(&mut self, seasons: &[Season<'_>; 2]) -> bool {
        for (line, range) in &mut self.alike {
            for (season, branches) in seasons.iter().zip(&self.sides) {
                let ranges = || branches.iter().map(|branch| season.grid.range(&branch.region, *line));
                let low = ranges().fold(f64::INFINITY, |least, it| least.min(it.0));
                let high = ranges().fold(f64::NEG_INFINITY, |most, it| most.max(it.1));
                *range = (range.0.max(low), range.1.min(high));
            }
            let wide = (range.0 - SAME / 4.0, range.1 + SAME / 4.0);
            for (season, branches) in seasons.iter().zip(&mut self.sides) {
                *branches =
                    branches.iter().filter_map(|branch| season.within(*branch, *line, wide)).collect();
                if branches.is_empty() {
                    return false;
                }
            }
        }
        true
    }

    /// Whether two recipes hold as much of what is alike.
    fn agree(&self, seasons: &[Season<'_>; 2], pair: [&Branch; 2]) -> bool {
        self.alike.iter().all(|(line, _)| {
            let [a, b] = [0, 1].map(|side| seasons[side].grid.range(&pair[side].region, *line).0);
            (a - b).abs() <= SAME
        })
    }

    /// The same in two halves, by what the line holds that is alike and has the widest range.
    fn halves(self) -> impl Iterator<Item = PairSet> {
        let width = |at: &usize| whole(self.alike[*at].1.1 - self.alike[*at].1.0);
        let widest = (0..self.alike.len()).max_by_key(width).filter(|at| width(at) > 1);
        widest.into_iter().flat_map(move |at| {
            let (_, (low, high)) = self.alike[at];
            // Not in the middle, which often lies on the grid itself, so that no pair is in both halves.
            let middle = low + 0.55 * (high - low);
            [(low, middle), (middle, high)].map(|part| {
                let mut alike = self.alike.clone();
                alike[at].1 = part;
                PairSet { alike, sides: self.sides.clone() }
            })
        })
    }
}
