//! How the work allowed for a job is shared among its cloths, ways and questions: the one table of these
//! shares. What a share of one lay goes on stands in [`lay::purse`].

use lay::purse::Share;

/// The work of the first course over all cloths; each next one has [`GROWING`] times as much.
pub(crate) const FIRST_COURSE: u64 = 1_000_000;

/// How much more work each next course has. Our choice.
pub(crate) const GROWING: u64 = 4;

/// A cloth that no way can buy less of takes one share for a tidier lay where each open way of another
/// takes so many. Our choice.
pub(crate) const OPEN_WAY: u64 = 8;

/// Of a way's work, what is done on every way alike; the rest goes to the most promising. Our choice.
pub(crate) const EVERY_WAY: Share = Share::one_of(4);

/// The same where a cloth may lie one way only.
pub(crate) const ONLY_WAY: Share = Share::one_of(2);

/// Welt cut otherwise: on trying the divisions; as much again goes on the one chosen. Our choice.
pub(crate) const WELT_DIVISIONS: Share = Share::one_of(2);

/// Own cloth: on what would have to be bought for all of it, and on whole pieces. Our choice.
pub(crate) const OWN_CLOTH: Share = Share::one_of(4);

/// Whole pieces of own cloth are tried with this much work at least where there is a search.
pub(crate) const LEAST_PIECE: u64 = 400_000;

/// A pattern that may start anywhere: on the first start, where nothing is known. Our choice.
pub(crate) const FIRST_START: Share = Share::one_of(2);

/// Of the time asked for, what is left to near misses, where there may be any. Our choice.
pub const NEAR_MISSES: Share = Share::one_of(4);
