//! How hard to search: everything that could make two runs differ is handed in.

use geometry::Length;

/// Work done when nobody says how long to search: a few seconds of two cores.
pub const MOMENT: u64 = 341_000_000;

/// How the search stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Progress {
    /// Least length of new cloth so far.
    pub length: Length,
    /// What must be bought for it.
    pub purchase: Length,
    /// No lay can use less.
    pub least: Length,
    /// Share of the allowed work done, 0 to 1.
    pub done: f64,
}

/// Limits of a search. The result depends on `seed` and `work` only, unless `stop` says so early.
pub struct Limits<'a> {
    /// Chooses among equally reasonable trials.
    pub seed: u64,
    /// How many looks at parts already placed may be taken; a few hundred million a second.
    pub work: u64,
    /// Whether it is looked into closely what no lay can undercut. Where a lay is only tried against
    /// another one it is not.
    pub closely: bool,
    /// Work that should be done by now, if time is short: each stage ends when its share of the work is done,
    /// or when that much time has gone. Always nought without a clock.
    pub clock: &'a (dyn Fn() -> u64 + Sync),
    /// Asked often; once true, the best so far is the answer.
    pub stop: &'a (dyn Fn() -> bool + Sync),
    /// Told whenever something better is found.
    pub progress: &'a (dyn Fn(Progress) + Sync),
}

impl Limits<'_> {
    /// First answers only: no search.
    pub fn quick(seed: u64) -> Limits<'static> {
        Limits { seed, work: 0, closely: true, clock: &|| 0, stop: &|| false, progress: &|_| {} }
    }

    /// So much work, never stopped, nobody told.
    pub fn work(seed: u64, work: u64) -> Limits<'static> {
        Limits { seed, work, closely: true, clock: &|| 0, stop: &|| false, progress: &|_| {} }
    }

    /// When a stage that may take so much work must end.
    pub(crate) fn end_of(&self, work: u64) -> u64 {
        (self.clock)().saturating_add(work.max(1))
    }

    /// Whether a stage must end.
    pub(crate) fn is_over(&self, end: u64) -> bool {
        (self.stop)() || (self.clock)() >= end
    }
}
