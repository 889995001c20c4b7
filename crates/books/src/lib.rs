//! A workroom's books, as sums and rules: no file, no clock, no random number.
//!
//! What a job was agreed at becomes invoices, part and final, that add up to it to the cent; payments and
//! credits are held against them; hours taken teach the rate book; lengths on the shelf are sums of lines
//! that are never changed; open work is laid into the hours there are.

pub mod account;
pub mod electronic;
pub mod learn;
pub mod schedule;
