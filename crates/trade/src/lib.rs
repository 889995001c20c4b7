//! What the upholsterer knows: a job's pieces become parts, lays, a take-off, hours and a price.
//!
//! Data flows one way, `job -> develop -> lays -> take_off -> labour -> price` (see [`plan`]); each
//! step is a function of what stands left of it. Reads no file, no clock and no random number.

// In the order in which they may use one another; a test holds it.

pub mod message;

pub mod fault;

pub mod money;

pub mod working;

pub mod cloth_sort;

pub mod places;

pub mod material;

pub mod class;

pub mod operations;

pub mod rates;

pub mod panel;

pub mod wanted;

pub mod part;

pub mod build;

pub mod mirror;

pub mod bench;

pub mod kinds;

pub mod layers;

pub mod piece;

pub mod job;

pub mod develop;

pub mod purse;

pub mod lays;

pub mod remnants;

pub mod take_off;

pub mod labour;

pub mod price;

pub mod method;

pub mod plan;

pub mod hints;

pub mod compare;
