//! What every recipe of a region misses by at least: the sum of what it does at each temperature.

/// The most temperatures: in each of two seasons four places, and a little above the hottest,
/// where it is to hold with room.
const TEMPERATURES: usize = 10;

/// How often in a row a region and its parts are divided while some temperatures are left unbounded. Without
/// an end to it, a wrong guess was seen to cost 28 times the equilibria; with this one, twice.
const MOST_LEFT_OPEN: u8 = 2;

/// The least that every recipe of a region misses by, in [`units`](super::evaluator::units).
#[derive(Clone, Copy, Default)]
pub(crate) struct LeastMiss {
    /// By temperature, from bounds on the region or on one that it is part of.
    at: [u64; TEMPERATURES],
    /// How many times in a row, up to this region, temperatures were left unbounded.
    left_open: u8,
}

impl LeastMiss {
    /// Takes in a bound at one temperature; gives the sum of those at the others.
    pub(crate) fn raise(&mut self, temperature: usize, miss: u64) -> u64 {
        self.at[temperature] = miss.max(self.at[temperature]);
        self.sum() - self.at[temperature]
    }

    pub(crate) fn sum(&self) -> u64 {
        self.at.iter().sum()
    }

    /// Whether temperatures at which some recipe seems to meet the bands may be left
    /// unbounded, if there are any: a bound there would hardly exclude the region. They may
    /// not where that was done too often in a row.
    pub(crate) fn may_leave_open(&mut self, any: bool) -> bool {
        let may = any && self.left_open < MOST_LEFT_OPEN;
        self.left_open = if may { self.left_open + 1 } else { 0 };
        may
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn temperatures_are_left_unbounded_only_so_often_in_a_row() {
        let mut least = LeastMiss::default();
        let left = [true, true, true, true, false, true, true, true].map(|any| least.may_leave_open(any));
        assert_eq!(left, [true, true, false, true, false, true, true, false]);
    }

    #[test]
    fn the_least_misses_add_up() {
        let mut least = LeastMiss::default();
        assert_eq!((least.raise(2, 7), least.sum()), (0, 7));
        assert_eq!((least.raise(0, 4), least.sum()), (7, 11));
        // A part misses by no less than the whole.
        assert_eq!((least.raise(2, 5), least.sum()), (4, 11));
    }
}
