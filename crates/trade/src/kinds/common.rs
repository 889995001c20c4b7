//! Keys and choices that several kinds have.

use super::table::{Key, words};
use super::values::Values;
use crate::fault::Fault;
use crate::message::{Message, message};
use crate::wanted::Welt;

/// Words for welt.
pub const WELTS: [(&str, Welt); 3] =
    [("none", Welt::None), ("one", Welt::One), ("both", Welt::Both)];
const WELT_WORDS: [&str; 3] = words(&WELTS);

/// Welt in the seams.
pub const WELT: Key = Key::word("welt", &WELT_WORDS);

/// A zip, or sewn shut.
pub const ZIP: Key = Key::flag("zip", true);

/// How the middle of a filling stands.
pub const CROWN: Key = Key::or_zero("crown", "how far the middle stands above the edges");

/// How a corner's radius is measured.
pub const RADIUS: &str = "corners, with a coin or template";

/// The welt that was read.
pub fn welt(values: &Values) -> Welt {
    values.choice("welt", &WELTS).unwrap_or_default()
}

/// A key that must be said and was not.
pub fn missing(key: &str, remedy: Message) -> Fault {
    Fault::new("missing", key, message("missing-2").text("key", last(key)), remedy)
}

/// A length that must be said and was not.
pub fn missing_length(key: &str) -> Fault {
    missing(key, message("missing-length").text("key", last(key)))
}

fn last(key: &str) -> &str {
    key.rsplit('.').next().unwrap_or(key)
}
