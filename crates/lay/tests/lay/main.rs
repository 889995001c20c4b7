//! Lays held against worked examples, bounds and rules.

mod published;
mod rules;
mod shared;
