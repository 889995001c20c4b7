//! The program held against the outside: worked scenarios, its contracts, bad input, random jobs.

#![allow(clippy::disallowed_methods)] // A test works out what is near, not what is the same.
#![allow(clippy::unwrap_used, clippy::panic)] // In tests a failure may say so.

mod checker;
mod claims;
mod compare;
mod contract;
mod faults;
mod full_size;
mod hours;
mod kind_faults;
mod kind_rules;
mod kinds;
mod more_kinds;
mod more_work;
mod pages;
mod papers;
mod photographs;
mod pins;
mod random_jobs;
mod scenarios;
mod strips;
mod trade_checks;

/// A message in English, lengths in inches.
pub fn said(message: &trade::message::Message) -> String {
    words::english().voice(trade::working::Style::usual(geometry::Unit::Inch)).say(message)
}
