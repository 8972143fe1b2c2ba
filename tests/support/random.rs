//! Numbers at random for tests, the same on every machine: fixed seeds, no dependency.

#![allow(dead_code, reason = "each test crate that includes this file takes some of it")]

/// A sequence of 64 bits at a time. What was counted once with one of its two generators is counted with
/// that.
pub(crate) struct Random {
    state: u64,
    step: fn(&mut u64) -> u64,
}

impl Random {
    /// Marsaglia's xorshift64 (2003); its seed is not 0.
    pub(crate) fn xorshift(seed: u64) -> Random {
        let step = |state: &mut u64| {
            *state ^= *state << 13;
            *state ^= *state >> 7;
            *state ^= *state << 17;
            *state
        };
        Random { state: seed, step }
    }

    /// SplitMix64 (Steele, Lea & Flood 2014).
    pub(crate) fn splitmix(seed: u64) -> Random {
        let step = |state: &mut u64| {
            *state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
            let mut z = *state;
            z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
            z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
            z ^ (z >> 31)
        };
        Random { state: seed, step }
    }

    /// The next 64 bits.
    pub(crate) fn next(&mut self) -> u64 {
        (self.step)(&mut self.state)
    }

    /// From 0 to below `end`.
    pub(crate) fn below(&mut self, end: usize) -> usize {
        (self.next() % end as u64) as usize
    }

    /// From 0 to below 1.
    pub(crate) fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// The linear congruential generator of Numerical Recipes (from memory), of which the upper bits do.
pub(crate) struct Congruential(pub(crate) u32);

impl Congruential {
    /// The next 32 bits.
    pub(crate) fn next(&mut self) -> u32 {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        self.0
    }

    /// From 0 to below 1.
    pub(crate) fn share(&mut self) -> f64 {
        f64::from(self.next() >> 8) / f64::from(1_u32 << 24)
    }
}
