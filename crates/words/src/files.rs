//! The message files.

/// Languages that can be chosen: their tags, and what they are called in themselves.
pub const LANGUAGES: [(&str, &str); 1] = [("en", "English")];

/// The files of a language, those it rests on first; English for one that is not known.
pub fn of(_language: &str) -> Vec<&'static str> {
    ENGLISH.to_vec()
}

const ENGLISH: [&str; 6] = [
    include_str!("../messages/en/bench.ftl"),
    include_str!("../messages/en/parts.ftl"),
    include_str!("../messages/en/workings.ftl"),
    include_str!("../messages/en/money.ftl"),
    include_str!("../messages/en/faults.ftl"),
    include_str!("../messages/en/lays.ftl"),
];
