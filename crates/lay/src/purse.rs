//! Where the work of a search goes: the one table of its shares.
//!
//! Work is counted in looks at parts already placed. A share is whole parts of what is there, so that the
//! same work is shared out alike on every machine. Beside each stands what was measured, or "our choice" where
//! nothing was.

/// So many of so many equal parts.
#[derive(Clone, Copy, Debug)]
pub struct Share {
    times: u64,
    parts: u64,
}

impl Share {
    /// One of so many parts.
    pub const fn one_of(parts: u64) -> Self {
        Self { times: 1, parts }
    }

    /// Several of so many parts.
    pub const fn several(times: u64, parts: u64) -> Self {
        Self { times, parts }
    }

    /// The share of so many seconds.
    pub fn of_seconds(self, seconds: f64) -> f64 {
        seconds / self.parts as f64 * self.times as f64
    }

    /// The share of this much work.
    pub const fn of(self, work: u64) -> u64 {
        work / self.parts * self.times
    }
}

/// Where there is cloth on hand, on a trial without it: cloth on hand hardly ever makes a lay longer, so
/// that this question is soon left. Our choice.
pub(crate) const WITHOUT_ON_HAND: Share = Share::one_of(8);

/// Once no lay can buy less, on a shorter one, which only leaves a larger remnant. Our choice.
pub(crate) const ONLY_SHORTER: Share = Share::one_of(10);

/// Rectangles that may leave nothing over, before anything else: soon found, if there are any. Our choice.
pub(crate) const PERFECT: Share = Share::one_of(10);

/// Rectangles filled to ever nearer targets, where the bound is that of the area or of columns: such a
/// lay, if there is one, is found by filling. Our choice.
pub(crate) const FILLING_FULL: Share = Share::several(9, 10);

/// The same elsewhere. Our choice.
pub(crate) const FILLING: Share = Share::one_of(2);

/// Held parts in rows of motifs: a lay, and as much again for a bound. Our choice.
pub(crate) const ROWS: Share = Share::one_of(16);

/// Orders of placing before parts are pushed closer: they soon give better lays to start from. Our choice.
pub(crate) const ORDERS: Share = Share::one_of(10);

/// Ruling out what would buy less, by building large parts up. Our choice.
pub(crate) const RULING_OUT: Share = Share::one_of(8);

/// Of that, a first look with coarse cells.
pub(crate) const COARSE_CELLS: Share = Share::one_of(4);

/// Ruling out a few rectangles by columns and rows.
pub(crate) const COLUMNS: Share = Share::one_of(16);

/// Trying every lay of a few rectangles: what is tried to the end ends the search.
pub(crate) const TRYING_ALL: Share = Share::one_of(5);

/// What proving may take off the search at most: the few steps that are always allowed may be more than a
/// small search.
pub(crate) const MOST_PROVING: Share = Share::one_of(4);

/// Fewer cuts and a larger remnant once the search is over. Our choice.
pub(crate) const TIDYING: Share = Share::one_of(20);

/// Each trial of grown parts, to tell how much measuring error a lay forgives.
pub(crate) const FORGIVING: Share = Share::one_of(100);
