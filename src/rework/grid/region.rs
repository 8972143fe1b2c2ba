//! Sets of recipes on the grid that differ from the present one in the same lines and in the same direction.
//!
//! Of up to three changing lines, one takes up the remainder to 100 % (the largest now, so that a
//! percentage off the grid stays with it) and the others lie on multiples of the step. In steps, with b and
//! c for those two and s = b + c, a region is b, c, s each within an interval: bounds, class caps,
//! directions and the shift are all of that form, because the three lines share a constant sum. Once
//! tightened, its corners are recipes on the grid.

use crate::equilibrium::CORNERS;

/// Shifts are compared in millionths of a percent, so that rounding never decides.
pub(crate) const SHIFT_UNITS: f64 = 1e6;

/// An interval of whole numbers; empty where the first exceeds the second.
pub(crate) type Interval = (i32, i32);

/// The lines that change and the direction in which each does.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(crate) struct Support {
    /// Candidates: the one that takes up the remainder, then the ones on the grid;
    /// the last repeats for two lines.
    pub(crate) lines: [u8; 3],
    /// How many: 2 or 3.
    pub(crate) count: u8,
    /// Which of `lines` gain.
    pub(crate) gains: [bool; 3],
}

impl Support {
    /// The candidates that change.
    pub(crate) fn lines(&self) -> ([usize; 3], usize) {
        (self.lines.map(usize::from), usize::from(self.count))
    }
}

/// Up to four corners, each once.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Corners {
    points: [(i32, i32); CORNERS],
    count: usize,
}

impl Corners {
    /// These, if there are four or less that differ.
    fn of(all: &[(i32, i32)]) -> Option<Corners> {
        let mut corners = Corners { points: [(0, 0); CORNERS], count: 0 };
        for point in all {
            if !corners.points().contains(point) {
                *corners.points.get_mut(corners.count)? = *point;
                corners.count += 1;
            }
        }
        Some(corners)
    }

    pub(crate) fn points(&self) -> &[(i32, i32)] {
        &self.points[..self.count]
    }
}

/// Recipes of one support.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Region {
    pub(crate) support: Support,
    /// Steps of the second line.
    pub(crate) b: Interval,
    /// Steps of the third line; (0, 0) for two lines.
    pub(crate) c: Interval,
    /// Steps of both.
    pub(crate) s: Interval,
}

/// One of the intervals of a region.
#[derive(Clone, Copy)]
pub(crate) enum Across {
    B,
    C,
    S,
}

/// What two intervals share.
pub(crate) fn meet(a: Interval, b: Interval) -> Interval {
    (a.0.max(b.0), a.1.min(b.1))
}

impl Region {
    /// The present recipe.
    pub(crate) fn present() -> Region {
        Region::only(Support { lines: [0; 3], count: 0, gains: [false; 3] }, (0, 0))
    }

    /// A single recipe.
    pub(crate) fn only(support: Support, (b, c): (i32, i32)) -> Region {
        Region { support, b: (b, b), c: (c, c), s: (b + c, b + c) }
    }

    /// The same recipes with every interval as narrow as it can be; `None` if there are none.
    pub(crate) fn tighten(mut self) -> Option<Region> {
        self.s = meet(self.s, (self.b.0 + self.c.0, self.b.1 + self.c.1));
        self.b = meet(self.b, (self.s.0 - self.c.1, self.s.1 - self.c.0));
        self.c = meet(self.c, (self.s.0 - self.b.1, self.s.1 - self.b.0));
        let some = |interval: Interval| interval.0 <= interval.1;
        (some(self.b) && some(self.c) && some(self.s)).then_some(self)
    }

    /// Whether all that comes in, in place of some of one line, are of these.
    pub(crate) fn brings(&self, newcomers: &[usize]) -> bool {
        let (lines, _) = self.support.lines();
        newcomers.contains(&lines[1]) && newcomers.contains(&lines[2])
    }

    /// How many recipes.
    pub(crate) fn count(&self) -> u64 {
        let row = |b: i32| {
            let (low, high) = meet(self.c, (self.s.0 - b, self.s.1 - b));
            u64::try_from(high - low + 1).unwrap_or(0)
        };
        (self.b.0..=self.b.1).map(row).sum()
    }

    /// Two halves, across the widest interval.
    pub(crate) fn halves(&self) -> [Option<Region>; 2] {
        let [s, b, c] = [self.s, self.b, self.c].map(|(low, high)| high - low);
        self.across(if s >= b && s >= c {
            Across::S
        } else if b >= c {
            Across::B
        } else {
            Across::C
        })
    }

    /// Two halves, across the interval that leaves least of `spread` in both together.
    pub(crate) fn halves_by(&self, spread: &dyn Fn(&Region) -> f64) -> [Option<Region>; 2] {
        let mut best = (f64::INFINITY, self.halves());
        for halves in [best.1, self.across(Across::S), self.across(Across::B), self.across(Across::C)] {
            let mut left = 0.0;
            for half in halves.iter().flatten() {
                left += spread(half);
            }
            // Where the interval is one number, nothing is halved.
            if left < best.0 && halves[1].is_some() {
                best = (left, halves);
            }
        }
        best.1
    }

    fn across(&self, across: Across) -> [Option<Region>; 2] {
        let part = |low: i32, high: i32| {
            let mut part = *self;
            *part.interval(across) = (low, high);
            part.tighten()
        };
        let mut whole = *self;
        let (low, high) = *whole.interval(across);
        let middle = low + (high - low) / 2;
        [part(low, middle), part(middle + 1, high)]
    }

    pub(crate) fn interval(&mut self, across: Across) -> &mut Interval {
        match across {
            Across::B => &mut self.b,
            Across::C => &mut self.c,
            Across::S => &mut self.s,
        }
    }

    /// What lies around some regions of the same lines, whatever their directions.
    pub(crate) fn around(first: &Region, others: &[Region]) -> Region {
        let hold = |a: Interval, b: Interval| (a.0.min(b.0), a.1.max(b.1));
        let mut all = *first;
        for region in others {
            all.b = hold(all.b, region.b);
            all.c = hold(all.c, region.c);
            all.s = hold(all.s, region.s);
        }
        all.tighten().unwrap_or(all)
    }

    /// Corners, in steps, between which it lies: its own where they number four or less, else those of a
    /// triangle around it. What they give has no negative amounts. It must be tight.
    pub(crate) fn corners(&self) -> Corners {
        let ((b0, b1), (c0, c1), (s0, s1)) = (self.b, self.c, self.s);
        let top = [(b1, c0), (b1, s1 - b1), (s1 - c1, c1), (b0, c1)];
        let own = Corners::of(&[(b0, s0 - b0), (s0 - c0, c0), top[0], top[1], top[2], top[3]]);
        own.or_else(|| Corners::of(&[(b0, c0), top[0], top[1], top[2], top[3]]))
            .unwrap_or(Corners { points: [(b0, c0), (s1 - c0, c0), (b0, s1 - b0), (b0, c0)], count: 3 })
    }

    /// Whether it holds a recipe.
    pub(crate) fn holds(&self, (b, c): (i32, i32)) -> bool {
        let within = |(low, high): Interval, value: i32| low <= value && value <= high;
        within(self.b, b) && within(self.c, c) && within(self.s, b + c)
    }

    /// Recipes spread over it: up to nine, or five where two lines change.
    pub(crate) fn spread(&self) -> Vec<(i32, i32)> {
        let part = |(low, high): Interval, at: i32, of: i32| low + (high - low) * at / of;
        let (across, along) = if self.support.count == 2 { (4, 0) } else { (2, 2) };
        let mut spread = Vec::new();
        for at in 0..=across {
            let b = part(self.b, at, across);
            let c = meet(self.c, (self.s.0 - b, self.s.1 - b));
            for at in 0..=along {
                spread.push((b, part(c, at, along.max(1))));
            }
        }
        spread
    }

    /// Its recipes, in steps.
    pub(crate) fn points(&self) -> Vec<(i32, i32)> {
        let mut points = Vec::new();
        for b in self.b.0..=self.b.1 {
            let (low, high) = meet(self.c, (self.s.0 - b, self.s.1 - b));
            for c in low..=high {
                points.push((b, c));
            }
        }
        points
    }
}

/// Takes off the dust that sums leave, so that 0 is 0 and 12.5 is 12.5.
pub(crate) fn tidy(percent: f64) -> f64 {
    let rounded = (percent * 1e9).round() / 1e9;
    if rounded == 0.0 { 0.0 } else { rounded }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::Congruential;

    /// Some of many random regions that hold a recipe.
    fn regions() -> impl Iterator<Item = Region> {
        let mut random = Congruential(7);
        let mut below = move |end: i32| (random.next() >> 16) as i32 % end;
        let mut interval = move |most: i32| {
            let low = below(most);
            (low, low + below(most))
        };
        let support = Support { lines: [0, 1, 2], count: 3, gains: [false, true, true] };
        (0..3000).filter_map(move |_| {
            Region { support, b: interval(9), c: interval(9), s: interval(18) }.tighten()
        })
    }

    #[test]
    fn halves_hold_every_recipe_once_and_what_is_around_holds_them_all() {
        // Every way of halving is preferred by some of these.
        let spreads: [fn(&Region) -> f64; 4] = [
            |it| f64::from(it.b.1 - it.b.0),
            |it| f64::from(it.c.1 - it.c.0),
            |it| f64::from(it.s.1 - it.s.0),
            |_| 0.0,
        ];
        let mut before: Option<Region> = None;
        for region in regions().filter(|it| it.count() > 1) {
            for spread in spreads {
                let halves = region.halves_by(&spread);
                let mut points: Vec<_> = halves.iter().flatten().flat_map(Region::points).collect();
                points.sort_unstable();
                assert!(points == region.points(), "{region:?} {halves:?}");
                assert!(halves.iter().flatten().all(|half| half.count() < region.count()), "{region:?}");
            }
            if let Some(before) = before.replace(region) {
                let around = Region::around(&region, &[before]);
                assert!(
                    [region.points(), before.points()].concat().into_iter().all(|point| around.holds(point))
                );
            }
        }
    }

    #[test]
    fn every_recipe_of_a_region_lies_between_its_corners() {
        let mut triangles = 0;
        for region in regions() {
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
