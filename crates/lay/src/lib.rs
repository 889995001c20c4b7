//! Laying shapes on a strip of cloth or on sheets, under the rules of cloth.
//!
//! Knows widths, turns, flaws, stocks and the motif lattice; no other trade word. Places are whole
//! nanometres, x from the left selvedge and y along the roll from the cut end. Reads no clock:
//! seed, work allowed, stop and progress are handed in ([`Limits`]).

#![cfg_attr(
    test,
    allow(
        clippy::disallowed_methods,
        reason = "a test works out what is near, not what is the same"
    )
)]

mod bound;
mod columns;
mod cutting;
mod depth;
mod divided;
mod exact;
mod fill;
mod follow;
mod forgive;
mod form;
mod frontier;
mod ground;
mod instance;
mod leftover;
mod limits;
mod no_fit;
mod orders;
mod outlines;
mod pairs;
mod pattern;
mod phase;
mod pin;
mod place;
mod proof;
pub mod purse;
mod rows;
mod scene;
mod search;
mod sections;
mod separate;
pub mod sheets;
mod shrink;
mod stacked;
mod tidy;
mod verify;

pub use bound::{Bound, Reason, least_length};
pub use cutting::{Cuts, cross_cuts, cuts};
pub use divided::{Divided, with_first};
pub use forgive::forgives;
pub use instance::{Buying, Instance, Item, Lay, OnHand, Placement, Rule, Stock, Strip};
pub use leftover::{WORTH_KEEPING, leftover};
pub use limits::{Limits, MOMENT, Progress};
pub use pattern::{Drop, Pattern};
pub use pin::Refused;
pub use proof::no_less;
pub use search::{Answer, lay, lay_again};
pub use verify::{Breach, verify};
