//! Lays held against worked examples, bounds and rules.

#![allow(clippy::unwrap_used, clippy::panic)] // In tests a failure may say so.

mod exhaustive;
mod follow;
mod frontier;
mod many;
mod odd;
mod phases;
mod pins;
mod published;
mod rules;
mod shared;
