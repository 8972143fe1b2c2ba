//! How far a search has come, and what was done to be sure.

/// What was done to be sure.
#[derive(Clone, Copy, Default, PartialEq, Eq, Debug)]
pub struct ProofCounts {
    /// Sets of changing lines looked at.
    pub supports: u64,
    /// Recipes on the grid taken up so far, decided or not: it grows when more lines must change.
    pub taken_up: u64,
    /// Recipes excluded by a bound on a region.
    pub excluded_by_bound: u64,
    /// Recipes left out because a better one was known: more lines or a greater cost.
    pub excluded_by_merit: u64,
    /// Recipes solved.
    pub solved: u64,
    /// Equilibria solved, those for bounds included.
    pub equilibria: u64,
}

impl ProofCounts {
    /// What was done for this and for another search.
    pub(crate) fn and(self, other: ProofCounts) -> ProofCounts {
        ProofCounts {
            supports: self.supports + other.supports,
            taken_up: self.taken_up + other.taken_up,
            excluded_by_bound: self.excluded_by_bound + other.excluded_by_bound,
            excluded_by_merit: self.excluded_by_merit + other.excluded_by_merit,
            solved: self.solved + other.solved,
            equilibria: self.equilibria + other.equilibria,
        }
    }

    /// How far a search has come that did so much and is at its end.
    pub fn progress(&self) -> Progress {
        Progress { done: true, decided: self.decided(), total: self.taken_up }
    }

    /// Recipes decided: all that were taken up, once a search is complete.
    pub fn decided(&self) -> u64 {
        self.excluded_by_bound + self.excluded_by_merit + self.solved
    }
}

/// How far a search has come.
#[derive(Clone, Copy, Debug)]
pub struct Progress {
    /// Whether it is finished.
    pub done: bool,
    /// Recipes decided so far.
    pub decided: u64,
    /// Recipes to be decided, as far as known.
    pub total: u64,
}

/// How many regions are worked on between two reports.
pub const REPORT_AFTER: u32 = 200;

/// Hears how far a search has come; `false` stops it.
pub type Report<'r> = &'r mut dyn FnMut(Progress) -> bool;

/// Adds up how far several searches, one after the other, have come, reports it, and
/// knows whether they are to stop.
pub struct Watch<'r> {
    report: Report<'r>,
    /// Regions since the last report.
    since: u32,
    decided: u64,
    total: u64,
    /// The same two of the searches that are finished.
    before: (u64, u64),
    /// Equilibria that may be solved yet; `None` as many as it takes.
    work: Option<u64>,
    stopped: bool,
}

impl<'r> Watch<'r> {
    pub(crate) fn new(report: Report<'r>) -> Watch<'r> {
        Watch { report, since: 0, decided: 0, total: 0, before: (0, 0), work: None, stopped: false }
    }

    /// The same, with so many equilibria to solve at most.
    pub(crate) fn within(self, work: Option<u64>) -> Watch<'r> {
        Watch { work, ..self }
    }

    /// After another search, which did so much of the work that is allowed.
    pub fn after(done: &ProofCounts, allowed: Option<u64>, report: Report<'r>) -> Watch<'r> {
        let Progress { decided, total, .. } = done.progress();
        let work = allowed.map(|most| most.saturating_sub(done.equilibria));
        Watch { decided, total, before: (decided, total), work, ..Watch::new(report) }
    }

    /// How many equilibria may be solved yet; `None` as many as it takes.
    pub(crate) fn work(&self) -> Option<u64> {
        self.work
    }

    /// Counts what a search solved; true where none is left for another, or the watch was stopped.
    pub(crate) fn spends(&mut self, equilibria: u64) -> bool {
        self.work = self.work.map(|left| left.saturating_sub(equilibria));
        self.stopped |= self.work == Some(0);
        self.stopped
    }

    /// So much more is to be decided.
    pub(crate) fn expect(&mut self, more: u64) {
        self.total += more;
    }

    /// So much more is decided.
    pub(crate) fn decide(&mut self, more: u64) {
        self.decided += more;
    }

    /// Another region is to be looked at: whether to stop instead.
    pub(crate) fn stops(&mut self) -> bool {
        self.since += 1;
        if self.since >= REPORT_AFTER && !self.stopped {
            self.since = 0;
            let progress = Progress { done: false, decided: self.decided, total: self.total };
            self.stopped = !(self.report)(progress);
        }
        self.stopped
    }

    /// The search under way, which counts for itself, has come so far: whether to stop it.
    pub(crate) fn passes_on(&mut self, progress: Progress) -> bool {
        self.decided = self.before.0 + progress.decided;
        self.total = self.before.1 + progress.total;
        if progress.done {
            self.before = (self.decided, self.total);
        }
        self.since = REPORT_AFTER;
        self.stops()
    }

    /// Whether a report was answered with `false`.
    pub fn is_stopped(&self) -> bool {
        self.stopped
    }
}
