//! What the upholsterer knows: a job's pieces become parts, lays, a take-off, hours and a price.
//!
//! Data flows one way, `job -> develop -> lays -> take_off -> labour -> price` (see [`plan`]); each
//! step is a function of what stands left of it. Reads no file, no clock and no random number.

pub mod fault;
pub mod material;
pub mod money;
pub mod rates;
pub mod working;

pub mod piece;

pub mod job;

pub mod develop;
pub mod part;

pub mod lays;

pub mod take_off;

pub mod labour;

pub mod price;

pub mod method;
pub mod plan;
