//! What a search has learnt of a region.

/// Four places, in two seasons at most.
const STATIONS: usize = 8;

/// What is known of a region's misses.
#[derive(Clone, Copy, Default)]
pub(super) struct Known {
    /// The least at each temperature, of this region or one that it is part of.
    least: [u64; STATIONS],
    /// The temperatures, as bits, at which this region itself was bounded.
    pub(super) bounded: u16,
}

impl Known {
    pub(super) fn at(station: usize, miss: u64) -> Known {
        let mut known = Known::default();
        known.learn(station, miss);
        known
    }

    pub(super) fn learn(&mut self, station: usize, miss: u64) {
        self.bounded |= 1 << station.min(15);
        if let Some(least) = self.least.get_mut(station) {
            *least = miss.max(*least);
        }
    }

    pub(super) fn miss(&self) -> u64 {
        self.least.iter().sum()
    }
}
