//! Reports on the way of a long search, which may stop it.

use super::smallest::Progress;

/// How many regions are worked on between two reports.
pub const REPORT_AFTER: u32 = 200;

/// Hears how far a search has come; `false` stops it.
pub type Report<'r> = &'r mut dyn FnMut(Progress) -> bool;

/// Counts over several searches, reports, and knows whether they were stopped.
pub struct Watch<'r> {
    report: Report<'r>,
    since: u32,
    decided: u64,
    total: u64,
    /// What was decided and to be decided before the search that is passed on.
    before: (u64, u64),
    stopped: bool,
}

impl<'r> Watch<'r> {
    pub(crate) fn new(report: Report<'r>) -> Watch<'r> {
        Watch { report, since: 0, decided: 0, total: 0, before: (0, 0), stopped: false }
    }

    /// After another search, which came so far.
    pub fn after(progress: Progress, report: Report<'r>) -> Watch<'r> {
        let before = (progress.decided, progress.total);
        Watch { decided: before.0, total: before.1, before, ..Watch::new(report) }
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

    /// As far as another search is, which does not count itself in; whether to stop.
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
