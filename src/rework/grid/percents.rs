//! What a recipe can become when percentages change, on a scale that weighs so many percent.

use super::{
    merit::{ChangeCost, Merit, price},
    recipes::{Grid, GridPoint},
    region::{Interval, Region, SHIFT_UNITS, Support, meet, tidy},
};
use crate::{
    rework::question::{Candidate, Group, ON_GRID, Problem},
    substances::Class,
};

/// The most of a group, with what it holds now, percent, and by candidate whether it counts.
struct Cap {
    most: f64,
    held: f64,
    counts: Vec<bool>,
}

/// The least by which a line of a recipe moves, percent: less is not worth
/// weighing (common practice, no source).
const WORTH_MOVING: f64 = 1.0;

/// The least of what comes in, or is left of what there is less of, percent: less is not worth
/// buying (common practice, no source).
const WORTH_HAVING: f64 = 2.0;

/// Both for a wax, an acid or an alcohol, of which a little does much (common practice, no source).
const WORTH_IT_STRONG: f64 = 0.5;

fn is_strong(candidate: &Candidate) -> bool {
    matches!(candidate.line.class, Class::Wax | Class::FattyAcid | Class::FattyAlcohol)
}

/// The least by which a candidate changes, percent.
fn least_move(candidate: &Candidate) -> f64 {
    match candidate {
        it if is_strong(it) => WORTH_IT_STRONG,
        it if it.newcomer => WORTH_HAVING,
        _ => WORTH_MOVING,
    }
}

/// The least that is left of a candidate of which there is less than now, where it does not leave, percent.
fn least_left(candidate: &Candidate) -> f64 {
    if is_strong(candidate) { WORTH_IT_STRONG } else { WORTH_HAVING }
}

/// What regions come in the order of.
#[derive(Clone, Copy, PartialEq, Eq)]
enum By {
    Cost,
    Shift,
}

/// The recipes that differ from the present one in up to three lines.
pub(crate) struct Percents<'p> {
    problem: &'p Problem,
    by: By,
    /// Hundred times the price of a kilogram now, where everything has one.
    price: Option<f64>,
    /// Candidates outside their bounds now: they must change.
    must: Vec<u8>,
    caps: Vec<Cap>,
}

impl<'p> Percents<'p> {
    pub(crate) fn new(problem: &'p Problem) -> Percents<'p> {
        let outside = |at: &usize| {
            let it = &problem.candidates[*at];
            !(it.bounds.0 - ON_GRID..=it.bounds.1 + ON_GRID).contains(&it.line.percent)
        };
        let must =
            (0..problem.candidates.len()).filter(outside).filter_map(|at| u8::try_from(at).ok()).collect();
        let cap = |(group, most): &(Group, f64)| {
            let counts: Vec<bool> = problem.candidates.iter().map(|it| it.is_of(*group)).collect();
            let now = problem.candidates.iter().zip(&counts).filter(|(_, counts)| **counts);
            Cap { most: *most, held: now.map(|(it, _)| it.line.percent).sum(), counts }
        };
        let price = price(problem, &problem.amounts());
        Percents { problem, by: By::Cost, price, must, caps: problem.caps.iter().map(cap).collect() }
    }

    /// The same, of which only matters how much moves.
    pub(crate) fn by_shift(problem: &'p Problem) -> Percents<'p> {
        Percents { by: By::Shift, ..Percents::new(problem) }
    }

    fn of(&self, line: u8) -> &'p Candidate {
        &self.problem.candidates[usize::from(line)]
    }

    fn percent(&self, line: u8) -> f64 {
        self.of(line).line.percent
    }

    /// What the changing lines share, percent.
    fn shared(&self, support: &Support) -> f64 {
        support.lines[..usize::from(support.count)].iter().map(|line| self.percent(*line)).sum()
    }

    /// The least and the most that one of its changing lines holds in a region, percent.
    pub(crate) fn range(&self, region: &Region, line: u8) -> (f64, f64) {
        let step = self.problem.step;
        let percent = |steps: i32| tidy(f64::from(steps) * step);
        let support = &region.support;
        match support.lines.iter().position(|of| *of == line) {
            Some(0) => {
                let shared = self.shared(support);
                (tidy(shared - percent(region.s.1)), tidy(shared - percent(region.s.0)))
            }
            Some(1) => (percent(region.b.0), percent(region.b.1)),
            _ => (percent(region.c.0), percent(region.c.1)),
        }
    }

    /// What of a region holds so much of one of its changing lines, percent.
    pub(crate) fn within(&self, mut region: Region, line: u8, (low, high): (f64, f64)) -> Option<Region> {
        let step = self.problem.step;
        let between = |low: f64, high: f64| {
            ((low / step - ON_GRID).ceil() as i32, (high / step + ON_GRID).floor() as i32)
        };
        let support = &region.support;
        match support.lines.iter().position(|of| *of == line) {
            Some(0) => {
                let shared = self.shared(support);
                region.s = meet(region.s, between(shared - high, shared - low));
            }
            Some(1) => region.b = meet(region.b, between(low, high)),
            _ => region.c = meet(region.c, between(low, high)),
        }
        region.tighten()
    }

    /// Adds the regions in which another line changes beside two that change as they do.
    pub(crate) fn beside(&self, pair: &Support, regions: &mut Vec<Region>) {
        for line in 0..self.problem.candidates.len() {
            let Ok(line) = u8::try_from(line) else { continue };
            if self.of(line).fixed || pair.lines[..2].contains(&line) {
                continue;
            }
            let mut lines = [pair.lines[0], pair.lines[1], line];
            lines.sort_unstable();
            let start = regions.len();
            self.push(regions, lines, 3);
            let mut added = regions.split_off(start);
            added.retain(|region| {
                let gains = |line: &u8| {
                    region
                        .support
                        .lines
                        .iter()
                        .position(|it| it == line)
                        .is_some_and(|at| region.support.gains[at])
                };
                pair.lines[..2].iter().zip(pair.gains).all(|(line, gained)| gains(line) == gained)
            });
            regions.append(&mut added);
        }
    }

    /// Adds the regions in which another line changes instead of one of three.
    pub(crate) fn instead(&self, support: &Support, left_out: usize, regions: &mut Vec<Region>) {
        let kept = [0, 1, 2].map(|at| if at < left_out { at } else { at + 1 });
        let mut pair = *support;
        for (to, from) in kept.into_iter().take(2).enumerate() {
            pair.lines[to] = support.lines[from];
            pair.gains[to] = support.gains[from];
        }
        self.beside(&pair, regions);
    }

    /// Adds the regions of these lines, one for each way in which some gain and the others lose.
    fn push(&self, regions: &mut Vec<Region>, mut lines: [u8; 3], count: u8) {
        let size = usize::from(count);
        if self.must.iter().any(|line| !lines[..size].contains(line)) {
            return;
        }
        let held = &mut lines[..size];
        // The largest line now comes first and takes up the remainder; of equals, the earliest.
        let mut largest = 0;
        for at in 1..size {
            if self.percent(held[at]) > self.percent(held[largest]) {
                largest = at;
            }
        }
        held[..=largest].rotate_right(1);
        if count == 2 {
            lines[2] = lines[1];
        }
        for mask in 1..(1u8 << count) - 1 {
            let gains = [0, 1, 2].map(|at| at < size && mask & (1 << at) != 0);
            let takes_from_newcomer = (0..size).any(|at| !gains[at] && self.of(lines[at]).newcomer);
            if takes_from_newcomer {
                continue;
            }
            regions.extend(self.region(Support { lines, count, gains }));
        }
    }

    /// The region of a support: bounds, directions and caps.
    fn region(&self, support: Support) -> Option<Region> {
        let step = self.problem.step;
        let count = usize::from(support.count);
        let shared = self.shared(&support);
        // Percent as steps: the least whole number not below, the greatest not above.
        let up = |percent: f64| (percent / step - ON_GRID).ceil() as i32;
        let down = |percent: f64| (percent / step + ON_GRID).floor() as i32;
        // What must change may change by little.
        let least = |line: u8| if self.must.contains(&line) { 0.0 } else { least_move(self.of(line)) };
        let allowed = |at: usize| -> Interval {
            let line = support.lines[at];
            let (now, (min, max)) = (self.percent(line), self.of(line).bounds);
            let (low, high) = (up(min), down(max.min(shared)));
            let moves = least(line);
            if support.gains[at] {
                (low.max(down(now) + 1).max(up(now + moves)), high)
            } else {
                // What there is less of than that may leave.
                (low, high.min(up(now) - 1).min(down(now - moves).max(0)))
            }
        };
        let b = allowed(1);
        let c = if count == 3 { allowed(2) } else { (0, 0) };
        let others = shared - self.percent(support.lines[0]);
        let (min, max) = self.of(support.lines[0]).bounds;
        let mut s = (up(shared - max), down(shared - min));
        // The remainder gains where the others hold less than now.
        let moves = least(support.lines[0]);
        s = if support.gains[0] {
            meet(s, (0, (up(others) - 1).min(down(others - moves))))
        } else {
            let whole = (down(others) + 1).max(up(others + moves).min(down(shared)));
            meet(s, (whole, i32::MAX / 4))
        };
        let mut region = Region { support, b, c, s };
        for cap in &self.caps {
            region = self.capped(region, cap, shared)?;
        }
        self.led(region.tighten()?)
    }

    /// Keeps a group at or below its cap.
    fn capped(&self, mut region: Region, cap: &Cap, shared: f64) -> Option<Region> {
        let step = self.problem.step;
        let support = region.support;
        let count = usize::from(support.count);
        let counts = |at: usize| at < count && cap.counts[usize::from(support.lines[at])];
        let changing: f64 =
            (0..count).filter(|at| counts(*at)).map(|at| self.percent(support.lines[at])).sum();
        let room = cap.most - (cap.held - changing);
        let most = (room / step + ON_GRID).floor() as i32;
        let remainder_least = ((shared - room) / step - ON_GRID).ceil() as i32;
        match (counts(0), counts(1), counts(2)) {
            (false, false, false) => return (room >= -ON_GRID).then_some(region),
            (true, true, true) => return (room - shared >= -ON_GRID).then_some(region),
            (true, true, false) if count == 2 => return (room - shared >= -ON_GRID).then_some(region),
            (false, true, false) => region.b = meet(region.b, (0, most)),
            (false, false, true) => region.c = meet(region.c, (0, most)),
            (false, true, true) => region.s = meet(region.s, (0, most)),
            (true, false, false) => region.s = meet(region.s, (remainder_least, i32::MAX / 4)),
            (true, false, true) => region.b = meet(region.b, (remainder_least, i32::MAX / 4)),
            (true, true, false) => region.c = meet(region.c, (remainder_least, i32::MAX / 4)),
        }
        Some(region)
    }

    /// Keeps the lead the largest as far as ranges tell; the rest is checked point by point.
    fn led(&self, mut region: Region) -> Option<Region> {
        let Some(lead) = self.problem.lead.and_then(|at| u8::try_from(at).ok()) else { return Some(region) };
        let support = region.support;
        let changing = &support.lines[..usize::from(support.count)];
        let leads = changing.contains(&lead);
        let mut least: f64 = 0.0;
        for (at, it) in (0..).zip(&self.problem.candidates) {
            let holds = if changing.contains(&at) { self.range(&region, at).0 } else { it.line.percent };
            least = least.max(if self.problem.is_led(usize::from(at)) { holds } else { 0.0 });
        }
        let most = if leads { self.range(&region, lead).1 } else { self.percent(lead) };
        if least > most + ON_GRID {
            return None;
        }
        for line in changing.iter().filter(|line| self.problem.is_led(usize::from(**line))) {
            region = self.within(region, *line, (0.0, most))?;
        }
        Some(region)
    }
}

impl Grid for Percents<'_> {
    fn present(&self) -> Vec<f64> {
        self.problem.amounts()
    }

    fn keeps_present(&self) -> bool {
        self.problem.admits(&self.problem.amounts())
    }

    fn newcomers(&self) -> Vec<usize> {
        let is_new = |at: &usize| self.problem.candidates[*at].newcomer;
        (0..self.problem.candidates.len()).filter(is_new).collect()
    }

    fn regions(&self, count: u8) -> Vec<Region> {
        let free: Vec<u8> = (0..self.problem.candidates.len())
            .filter(|at| !self.problem.candidates[*at].fixed)
            .filter_map(|at| u8::try_from(at).ok())
            .collect();
        let mut regions = Vec::new();
        for (i, first) in free.iter().enumerate() {
            for (j, second) in free.iter().enumerate().skip(i + 1) {
                if count == 2 {
                    self.push(&mut regions, [*first, *second, *second], 2);
                    continue;
                }
                for third in &free[j + 1..] {
                    self.push(&mut regions, [*first, *second, *third], 3);
                }
            }
        }
        regions
    }

    /// With one line against the others, the shift is that line's own.
    fn least_shift(&self, region: &Region) -> i64 {
        let support = &region.support;
        let step = self.problem.step;
        let count = usize::from(support.count);
        let gaining = support.gains[..count].iter().filter(|gains| **gains).count();
        let alone = support.gains[..count]
            .iter()
            .position(|gains| if gaining == 1 { *gains } else { !*gains })
            .unwrap_or(0);
        let (steps, now) = match alone {
            0 => {
                let now = self.shared(support) - self.percent(support.lines[0]);
                (region.s, now)
            }
            1 => (region.b, self.percent(support.lines[1])),
            _ => (region.c, self.percent(support.lines[2])),
        };
        let (low, high) = (f64::from(steps.0) * step - now, f64::from(steps.1) * step - now);
        let shift = if low > 0.0 { low } else { (-high).max(0.0) };
        (shift * SHIFT_UNITS).round() as i64
    }

    fn least_cost(&self, region: &Region) -> ChangeCost {
        let shift = self.least_shift(region);
        if self.by == By::Shift {
            return ChangeCost { shift, ..ChangeCost::default() };
        }
        let support = &region.support;
        let lines = || support.lines.iter().zip(support.gains).take(usize::from(support.count));
        let changing: Vec<(&Candidate, bool)> =
            lines().map(|(line, gains)| (self.of(*line), gains)).collect();
        let of_changing = |it: &(&Candidate, bool)| it.0.price.unwrap_or(0.0) * it.0.line.percent;
        let others = self.price.map(|all| all - changing.iter().map(of_changing).sum::<f64>());
        ChangeCost::least(&changing, &self.corners(region), others, shift)
    }

    fn forbids(&self, _: &Region) -> bool {
        false
    }

    fn admits(&self, support: &Support, amounts: &[f64]) -> bool {
        // What has to change, and what has a least amount of its own, may be left as little as that.
        let is_crumb = |line: u8| {
            let (it, left) = (self.of(line), amounts[usize::from(line)]);
            let is_less = left > ON_GRID && left < it.line.percent - ON_GRID;
            is_less && left < least_left(it) - ON_GRID && it.bounds.0 <= 0.0 && !self.must.contains(&line)
        };
        let changing = support.lines.iter().take(usize::from(support.count));
        self.problem.leads(amounts) && !changing.copied().any(is_crumb)
    }

    fn shares(&self, support: &Support, (b, c): GridPoint) -> [f64; 3] {
        let step = self.problem.step;
        let (b, c) = (tidy(f64::from(b) * step), tidy(f64::from(c) * step));
        [tidy(self.shared(support) - b - c), b, c]
    }

    fn share_alone(&self, steps: i32) -> f64 {
        f64::from(steps) * self.problem.step
    }

    fn steps(&self, shares: [f64; 2]) -> [f64; 2] {
        shares.map(|percent| percent / self.problem.step)
    }

    fn amounts(&self, support: &Support, point: GridPoint) -> Vec<f64> {
        let mut amounts = self.problem.amounts();
        let shares = self.shares(support, point);
        for (line, share) in support.lines.iter().zip(shares).take(usize::from(support.count)) {
            amounts[usize::from(*line)] = share;
        }
        amounts
    }

    fn merit(&self, _: &Support, _: GridPoint, amounts: &[f64], miss: u64) -> Merit {
        Merit::of(self.problem, amounts, miss)
    }
}
