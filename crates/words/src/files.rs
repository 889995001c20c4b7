//! The message files.

/// Languages that can be chosen: their tags, and what they are called in themselves.
pub const LANGUAGES: [(&str, &str); 1] = [("en", "English")];

/// The files of a language, those it rests on first; English for one that is not known.
pub fn of(_language: &str) -> Vec<&'static str> {
    ENGLISH.to_vec()
}

/// What stands printed on the papers, whatever the job.
const PAPERS: &str = include_str!("../messages/en/papers.ftl");

/// Names of the messages of the papers.
pub fn paper_words() -> Vec<String> {
    let names = PAPERS.lines().filter(|line| line.starts_with(|c: char| c.is_ascii_lowercase()));
    names.filter_map(|line| Some(line.split_once(" =")?.0.to_string())).collect()
}

const ENGLISH: [&str; 9] = [
    PAPERS,
    include_str!("../messages/en/sheets.ftl"),
    include_str!("../messages/en/bench.ftl"),
    include_str!("../messages/en/parts.ftl"),
    include_str!("../messages/en/workings.ftl"),
    include_str!("../messages/en/money.ftl"),
    include_str!("../messages/en/faults.ftl"),
    include_str!("../messages/en/lays.ftl"),
    include_str!("../messages/en/photo.ftl"),
];
