//! What a search has learnt of a region.

/// Four places, in two seasons at most.
const STATIONS: usize = 8;

/// How often in a row a region and its parts are divided with a temperature not bounded because some recipe seemed to meet its bands:
/// then all are bounded. Without an end a wrong guess could cost 28 times the equilibria; with this one, twice.
const MOST_UNSEEN: u8 = 2;

/// What is known of a region's misses.
#[derive(Clone, Copy, Default)]
pub(crate) struct Known {
    /// The least at each temperature, of this region or one that it is part of.
    least: [u64; STATIONS],
    /// How often in a row there were temperatures at which those that it is part of were not bounded.
    unseen: u8,
}

impl Known {
    /// Takes in what it misses by at one temperature; gives what it does at the others.
    pub(crate) fn learn(&mut self, station: usize, miss: u64) -> u64 {
        let mut others = 0;
        for (at, least) in self.least.iter_mut().enumerate() {
            if at == station {
                *least = miss.max(*least);
            } else {
                others += *least;
            }
        }
        others
    }

    pub(crate) fn miss(&self) -> u64 {
        self.least.iter().sum()
    }

    /// Whether it need not be bounded at temperatures at which some recipe seems to meet the bands, if there are any.
    pub(crate) fn leaves_open(&mut self, any: bool) -> bool {
        let leaves = any && self.unseen < MOST_UNSEEN;
        self.unseen = if leaves { self.unseen + 1 } else { 0 };
        leaves
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_guess_leaves_parts_unbounded_only_so_often_in_a_row() {
        let mut known = Known::default();
        let left = [true, true, true, true, false, true, true, true].map(|any| known.leaves_open(any));
        assert_eq!(left, [true, true, false, true, false, true, true, false]);
    }

    #[test]
    fn the_least_misses_add_up() {
        let mut known = Known::default();
        assert_eq!((known.learn(2, 7), known.miss()), (0, 7));
        assert_eq!((known.learn(0, 4), known.miss()), (7, 11));
        // A part misses by no less than the whole.
        assert_eq!((known.learn(2, 5), known.miss()), (4, 11));
    }
}
