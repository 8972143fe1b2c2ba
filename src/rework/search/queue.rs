//! What a search has yet to decide, and in which order: regions, or several at once.
//!
//! Most lines do not do, whichever of them gain: one bound around all their directions mostly excludes up to six regions. Of pairs of
//! newcomers, it excludes three: see [`newcomers`](super::newcomers).

use std::{cmp::Reverse, collections::BinaryHeap};

use crate::rework::{
    bound::Known,
    grid::{Grid, Region},
};

/// How many entries are looked into by a guess before the order of merit has its turn.
const GUESSES: u32 = 600;

/// The order in which entries come: the least they miss by, how many lines change, the least shift.
pub(crate) type Key = (u64, u8, i64);

/// Recipes that are decided together.
pub(crate) enum Entry {
    /// Those of a region.
    Region(Region),
    /// Those of several.
    Together(Together),
}

/// Regions that are bounded at once, as many lines changing in each.
pub(crate) struct Together {
    /// The lines that change in any, as [`View::load`](crate::equilibrium::View::load) has them.
    pub(crate) lines: Vec<usize>,
    /// Percentages between which they all lie, and recipes besides, which the bound holds for too.
    pub(crate) corners: Vec<[f64; 3]>,
    pub(crate) regions: Vec<Region>,
}

impl Entry {
    /// Of the directions in which some lines change.
    pub(crate) fn of(grid: &Grid<'_>, regions: &[Region]) -> Option<Entry> {
        match regions {
            [] => None,
            [region] => Some(Entry::Region(*region)),
            [first, others @ ..] => {
                let around = Entry::Region(Region::around(first, others));
                let (lines, corners) = around.corners(grid);
                Some(Entry::Together(Together { lines, corners, regions: regions.to_vec() }))
            }
        }
    }

    /// Its regions.
    pub(crate) fn regions(&self) -> &[Region] {
        match self {
            Entry::Region(region) => std::slice::from_ref(region),
            Entry::Together(together) => &together.regions,
        }
    }

    /// The lines that change, and the percentages between which they do.
    pub(crate) fn corners(&self, grid: &Grid<'_>) -> (Vec<usize>, Vec<[f64; 3]>) {
        match self {
            Entry::Region(region) => {
                let (lines, count) = region.support.lines();
                (lines[..count].to_vec(), grid.corners(region))
            }
            Entry::Together(together) => (together.lines.clone(), together.corners.clone()),
        }
    }

    /// How many lines change.
    pub(crate) fn lines(&self) -> u8 {
        self.regions().first().map_or(0, |region| region.support.count)
    }

    /// How many recipes.
    pub(crate) fn count(&self) -> u64 {
        self.regions().iter().map(Region::count).sum()
    }
}

/// What comes next.
#[derive(Default)]
pub(crate) struct Queue {
    entries: Vec<Option<(Key, Entry, Known)>>,
    by_key: BinaryHeap<Reverse<(Key, usize)>>,
    /// Those of them that have a guess at their miss, by it: a first good recipe may come from here.
    by_guess: BinaryHeap<Reverse<(Key, usize)>>,
    guesses: u32,
}

impl Queue {
    /// Takes an entry up, with a guess at its miss if there is one.
    pub(crate) fn push(&mut self, key: Key, entry: Entry, known: Known, guess: Option<u64>) {
        let at = self.entries.len();
        self.entries.push(Some((key, entry, known)));
        self.by_key.push(Reverse((key, at)));
        if let Some(guess) = guess {
            self.by_guess.push(Reverse(((guess, 0, 0), at)));
        }
    }

    /// The next entry, by guesses too if they are wanted: first some by the guess alone, then turn about.
    pub(crate) fn pop(&mut self, guesses: bool) -> Option<(Key, Entry, Known)> {
        self.guesses += 1;
        if guesses && (self.guesses < GUESSES || self.guesses.is_multiple_of(2)) {
            let guessed = self.next(true);
            if guessed.is_some() {
                return guessed;
            }
        }
        self.next(false)
    }

    fn next(&mut self, guessed: bool) -> Option<(Key, Entry, Known)> {
        let heap = if guessed { &mut self.by_guess } else { &mut self.by_key };
        loop {
            let Reverse((_, at)) = heap.pop()?;
            // What was taken from the one heap is still in the other.
            if let Some(entry) = self.entries[at].take() {
                return Some(entry);
            }
        }
    }

    /// The least that any entry is known to miss by; of those that were taken by a guess too.
    pub(crate) fn least_miss(&self) -> Option<u64> {
        self.by_key.peek().map(|Reverse((key, _))| key.0)
    }
}
