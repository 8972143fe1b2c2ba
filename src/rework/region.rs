//! Sets of recipes on the grid that differ from the present one in the same lines and in the same direction.
//!
//! Of up to three changing lines, one takes up the remainder to 100 % (the largest now, so that a percentage off the grid stays
//! with it) and the others lie on multiples of the step. In steps, with b and c for those two and s = b + c, a region is
//! b, c, s each within an interval: bounds, class caps, directions and the shift are all of that form, because the three lines
//! share a constant sum. Once tightened, its corners are recipes on the grid.

use super::group::Group;
use super::problem::{Candidate, ON_GRID, Problem};

/// Shifts are compared in millionths of a percent, so that rounding never decides.
pub(super) const SHIFT_UNITS: f64 = 1e6;

/// An interval of whole numbers; empty where the first exceeds the second.
pub(super) type Interval = (i32, i32);

/// The lines that change and the direction in which each does.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Support {
    /// Candidates: the one that takes up the remainder, then the ones on the grid; the last repeats for two lines.
    pub(super) lines: [u8; 3],
    /// How many: 2 or 3.
    pub(super) count: u8,
    /// Which of `lines` gain.
    pub(super) gains: [bool; 3],
}

impl Support {
    /// The candidates that change.
    pub(super) fn lines(&self) -> ([usize; 3], usize) {
        (self.lines.map(usize::from), usize::from(self.count))
    }
}

/// Up to four corners, each once.
#[derive(Clone, Copy, Debug)]
pub(super) struct Corners {
    points: [(i32, i32); 4],
    count: usize,
}

impl Corners {
    /// These, if there are four or less that differ.
    fn of(all: &[(i32, i32)]) -> Option<Corners> {
        let mut corners = Corners { points: [(0, 0); 4], count: 0 };
        for point in all {
            if !corners.points().contains(point) {
                *corners.points.get_mut(corners.count)? = *point;
                corners.count += 1;
            }
        }
        Some(corners)
    }

    pub(super) fn points(&self) -> &[(i32, i32)] {
        &self.points[..self.count]
    }
}

/// Recipes of one support.
#[derive(Clone, Copy, Debug)]
pub(super) struct Region {
    pub(super) support: Support,
    /// Steps of the second line.
    pub(super) b: Interval,
    /// Steps of the third line; (0, 0) for two lines.
    pub(super) c: Interval,
    /// Steps of both.
    pub(super) s: Interval,
}

fn meet(a: Interval, b: Interval) -> Interval {
    (a.0.max(b.0), a.1.min(b.1))
}

impl Region {
    /// The same recipes with every interval as narrow as it can be; `None` if there are none.
    pub(super) fn tighten(mut self) -> Option<Region> {
        self.s = meet(self.s, (self.b.0 + self.c.0, self.b.1 + self.c.1));
        self.b = meet(self.b, (self.s.0 - self.c.1, self.s.1 - self.c.0));
        self.c = meet(self.c, (self.s.0 - self.b.1, self.s.1 - self.b.0));
        let some = |interval: Interval| interval.0 <= interval.1;
        (some(self.b) && some(self.c) && some(self.s)).then_some(self)
    }

    /// How many recipes.
    pub(super) fn count(&self) -> u64 {
        let row = |b: i32| {
            let (low, high) = meet(self.c, (self.s.0 - b, self.s.1 - b));
            u64::try_from(high - low + 1).unwrap_or(0)
        };
        (self.b.0..=self.b.1).map(row).sum()
    }

    /// Two halves, across the widest interval.
    pub(super) fn halves(&self) -> [Option<Region>; 2] {
        let width = |interval: Interval| interval.1 - interval.0;
        let half = |interval: Interval| {
            let middle = interval.0 + (interval.1 - interval.0) / 2;
            [(interval.0, middle), (middle + 1, interval.1)]
        };
        let (b, c, s) = (width(self.b), width(self.c), width(self.s));
        if s >= b && s >= c {
            half(self.s).map(|s| Region { s, ..*self }.tighten())
        } else if b >= c {
            half(self.b).map(|b| Region { b, ..*self }.tighten())
        } else {
            half(self.c).map(|c| Region { c, ..*self }.tighten())
        }
    }

    /// Corners, in steps, between which it lies: its own where they number four or less, else those of a triangle around it. What they
    /// give has no negative amounts. It must be tight.
    pub(super) fn corners(&self) -> Corners {
        let ((b0, b1), (c0, c1), (s0, s1)) = (self.b, self.c, self.s);
        let top = [(b1, c0), (b1, s1 - b1), (s1 - c1, c1), (b0, c1)];
        let own = Corners::of(&[(b0, s0 - b0), (s0 - c0, c0), top[0], top[1], top[2], top[3]]);
        own.or_else(|| Corners::of(&[(b0, c0), top[0], top[1], top[2], top[3]]))
            .unwrap_or(Corners { points: [(b0, c0), (s1 - c0, c0), (b0, s1 - b0), (b0, c0)], count: 3 })
    }

    /// Two recipes of it: one near its low end, since a little of a strong ingredient does much, and one in the middle.
    pub(super) fn samples(&self) -> [(i32, i32); 2] {
        let part = |interval: Interval, eighths: i32| interval.0 + (interval.1 - interval.0) * eighths / 8;
        [(1, 1), (4, 4)].map(|(of_b, of_c)| {
            let b = part(self.b, of_b);
            (b, part(meet(self.c, (self.s.0 - b, self.s.1 - b)), of_c))
        })
    }

    /// One recipe of it.
    pub(super) fn only(&self, (b, c): (i32, i32)) -> Region {
        Region { b: (b, b), c: (c, c), s: (b + c, b + c), ..*self }
    }

    /// Its recipes, in steps.
    pub(super) fn points(&self) -> impl Iterator<Item = (i32, i32)> + use<> {
        let Region { b, c, s, .. } = *self;
        (b.0..=b.1).flat_map(move |b| {
            let (low, high) = meet(c, (s.0 - b, s.1 - b));
            (low..=high).map(move |c| (b, c))
        })
    }
}

/// Grid arithmetic over a problem.
pub(super) struct Grid<'p> {
    problem: &'p Problem,
    /// Candidates outside their bounds now: they must change.
    must: Vec<u8>,
}

impl<'p> Grid<'p> {
    pub(super) fn new(problem: &'p Problem) -> Grid<'p> {
        let outside = |at: &usize| {
            let it = &problem.candidates[*at];
            !(it.bounds.0 - ON_GRID..=it.bounds.1 + ON_GRID).contains(&it.line.percent)
        };
        let must =
            (0..problem.candidates.len()).filter(outside).filter_map(|at| u8::try_from(at).ok()).collect();
        Grid { problem, must }
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

    /// The percentages of the three lines at a point.
    pub(super) fn point(&self, support: &Support, (b, c): (i32, i32)) -> [f64; 3] {
        let step = self.problem.step;
        let (b, c) = (tidy(f64::from(b) * step), tidy(f64::from(c) * step));
        [tidy(self.shared(support) - b - c), b, c]
    }

    /// The percentages at the corners of a region.
    pub(super) fn corners(&self, region: &Region) -> Vec<[f64; 3]> {
        region.corners().points().iter().map(|corner| self.point(&region.support, *corner)).collect()
    }

    /// The whole recipe at a point.
    pub(super) fn amounts(&self, support: &Support, point: (i32, i32)) -> Vec<f64> {
        let mut amounts = self.problem.amounts();
        let values = self.point(support, point);
        for (line, value) in support.lines.iter().zip(values).take(usize::from(support.count)) {
            amounts[usize::from(*line)] = value;
        }
        amounts
    }

    /// The least shift of a region, in [`SHIFT_UNITS`]: with one line against the others, that line's own.
    pub(super) fn least_shift(&self, region: &Region) -> i64 {
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

    /// The least and the most that one of its changing lines holds in a region, percent.
    pub(super) fn range(&self, region: &Region, line: u8) -> (f64, f64) {
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
    pub(super) fn within(&self, mut region: Region, line: u8, (low, high): (f64, f64)) -> Option<Region> {
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

    /// Every region in which exactly `count` lines change.
    pub(super) fn regions(&self, count: u8) -> Vec<Region> {
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
            let loses_nothing = (0..size).any(|at| !gains[at] && self.of(lines[at]).newcomer);
            if loses_nothing {
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
        let allowed = |at: usize| -> Interval {
            let line = support.lines[at];
            let (now, (min, max)) = (self.percent(line), self.of(line).bounds);
            let (low, high) = (up(min), down(max.min(shared)));
            if support.gains[at] { (low.max(down(now) + 1), high) } else { (low, high.min(up(now) - 1)) }
        };
        let b = allowed(1);
        let c = if count == 3 { allowed(2) } else { (0, 0) };
        let others = shared - self.percent(support.lines[0]);
        let (min, max) = self.of(support.lines[0]).bounds;
        let mut s = (up(shared - max), down(shared - min));
        // The remainder gains where the others hold less than now.
        s = if support.gains[0] {
            meet(s, (0, up(others) - 1))
        } else {
            meet(s, (down(others) + 1, i32::MAX / 4))
        };
        let mut region = Region { support, b, c, s };
        for (group, cap) in &self.problem.caps {
            region = self.capped(region, *group, *cap, shared)?;
        }
        self.led(region)?.tighten()
    }

    /// Keeps a group at or below its cap.
    fn capped(&self, mut region: Region, group: Group, cap: f64, shared: f64) -> Option<Region> {
        let step = self.problem.step;
        let support = region.support;
        let count = usize::from(support.count);
        let counts = |at: usize| at < count && group.holds(self.of(support.lines[at]));
        let all: f64 =
            self.problem.candidates.iter().filter(|it| group.holds(it)).map(|it| it.line.percent).sum();
        let changing: f64 =
            (0..count).filter(|at| counts(*at)).map(|at| self.percent(support.lines[at])).sum();
        let room = cap - (all - changing);
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

    /// Keeps the lead above what an unchanged line holds; among changing lines it is checked point by point.
    fn led(&self, region: Region) -> Option<Region> {
        let Some(lead) = self.problem.lead else { return Some(region) };
        let changing = |at: usize| {
            region.support.lines[..usize::from(region.support.count)]
                .iter()
                .any(|line| usize::from(*line) == at)
        };
        if changing(lead) {
            return Some(region);
        }
        let percent = self.problem.candidates[lead].line.percent;
        let held_back = self
            .problem
            .candidates
            .iter()
            .enumerate()
            .any(|(at, it)| !changing(at) && it.line.percent > percent + ON_GRID);
        (!held_back).then_some(region)
    }
}

/// Takes off the dust that sums leave, so that 0 is 0 and 12.5 is 12.5.
pub(super) fn tidy(percent: f64) -> f64 {
    let rounded = (percent * 1e9).round() / 1e9;
    if rounded == 0.0 { 0.0 } else { rounded }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_recipe_of_a_region_lies_between_its_corners() {
        let mut seed = 7_u32;
        let mut below = |end: i32| {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (seed >> 16) as i32 % end
        };
        let support = Support { lines: [0, 1, 2], count: 3, gains: [false, true, true] };
        let mut triangles = 0;
        for _ in 0..3000 {
            let mut interval = |most: i32| {
                let low = below(most);
                (low, low + below(most))
            };
            let region = Region { support, b: interval(9), c: interval(9), s: interval(18) };
            let Some(region) = region.tighten() else { continue };
            let corners = region.corners();
            triangles += i32::from(corners.points()[0] == (region.b.0, region.c.0));
            for (x, y) in [(1, 0), (0, 1), (1, 1), (1, -1), (2, 1), (1, 2), (3, -1), (-1, 3)] {
                let value = |point: &(i32, i32)| x * point.0 + y * point.1;
                let least = corners.points().iter().map(value).min();
                let most = corners.points().iter().map(value).max();
                for point in region.points() {
                    assert!(
                        least <= Some(value(&point)) && Some(value(&point)) <= most,
                        "{region:?} {corners:?}"
                    );
                }
            }
            // Nothing is taken from a line that has it not.
            let within = |point: &(i32, i32)| {
                point.0 >= region.b.0 && point.1 >= region.c.0 && point.0 + point.1 <= region.s.1
            };
            assert!(corners.points().iter().all(within), "{region:?} {corners:?}");
        }
        assert!(triangles > 100);
    }
}
