//! What a search has learnt of a region.

/// Four places, in two seasons at most.
const STATIONS: usize = 8;

/// How often in a row a region and its parts are divided with a temperature not bounded because some recipe seemed to meet its bands:
/// then all are bounded. Without an end a wrong guess could cost 28 times the equilibria; with this one, twice.
const MOST_UNSEEN: u8 = 2;

/// What is known of a region's misses.
#[derive(Clone, Copy, Default)]
pub(super) struct Known {
    /// The least at each temperature, of this region or one that it is part of.
    least: [u64; STATIONS],
    /// The temperatures, as bits, at which this region itself was bounded.
    bounded: u16,
    /// Those at which it need not be; none before that is asked.
    open: Option<u16>,
    /// How often in a row there were any.
    unseen: u8,
}

/// A temperature as a bit.
pub(super) fn bit(station: usize) -> u16 {
    1 << station.min(15)
}

impl Known {
    pub(super) fn at(station: usize, miss: u64) -> Known {
        let mut known = Known::default();
        known.learn(station, miss);
        known
    }

    pub(super) fn learn(&mut self, station: usize, miss: u64) {
        self.bounded |= bit(station);
        if let Some(least) = self.least.get_mut(station) {
            *least = miss.max(*least);
        }
    }

    pub(super) fn miss(&self) -> u64 {
        self.least.iter().sum()
    }

    /// The temperatures at which it need not be bounded; `guess` says at which some recipe seems to meet every band.
    pub(super) fn open(&mut self, guess: impl FnOnce() -> u16) -> u16 {
        let (bounded, unseen) = (self.bounded, self.unseen);
        let open = self.open.get_or_insert_with(|| if unseen < MOST_UNSEEN { guess() & !bounded } else { 0 });
        *open | bounded
    }

    /// What is known of its parts.
    pub(super) fn of_parts(&self) -> Known {
        let unseen = if self.open.is_some_and(|open| open != 0) { self.unseen + 1 } else { 0 };
        Known { least: self.least, bounded: 0, open: None, unseen }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_guess_leaves_parts_unbounded_only_so_often_in_a_row() {
        let guess = || bit(0) | bit(2);
        let mut known = Known::at(2, 7);
        let mut opened = Vec::new();
        for _ in 0..7 {
            // What is bounded is not to be bounded again, whatever the guess.
            opened.push(known.open(guess));
            assert_eq!(known.open(|| panic!("asked twice")), *opened.last().unwrap_or(&0));
            known = known.of_parts();
        }
        let all = guess();
        assert_eq!(opened, [all, all, 0, all, all, 0, all]);
        assert_eq!(known.miss(), 7);
    }

    #[test]
    fn what_is_bounded_already_counts_as_seen() {
        let mut known = Known::at(2, 7);
        assert_eq!(known.open(|| bit(2)), bit(2));
        assert_eq!(known.of_parts().unseen, 0);
    }
}
