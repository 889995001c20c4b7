//! Which fields a form shows for a piece: those of the table of its kind, and those all pieces have.

use super::text::Sort;
use trade::kinds::table::{self, Key, Table};
use trade::kinds::{letters, named};

/// How a field is filled in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Input {
    /// A length as on the tape, or a name.
    Text,
    /// A whole number.
    Count,
    /// Any number.
    Number,
    /// Yes or no; what it is when nothing is said.
    Flag(bool),
    /// One of some words; the first when nothing is said, which may be no word.
    Choice {
        /// The words.
        words: &'static [&'static str],
        /// Nothing holds unless one of them is said.
        is_said: bool,
    },
    /// Lengths with commas between.
    List,
}

impl Input {
    /// How it goes into the text.
    pub const fn sort(self) -> Sort {
        match self {
            Self::Count | Self::Number => Sort::Number,
            Self::Flag(_) => Sort::Flag,
            Self::List => Sort::List,
            _ => Sort::Text,
        }
    }

    /// As a form says it.
    pub const fn name(self) -> &'static str {
        match self.sort() {
            Sort::Number => "number",
            Sort::Flag => "flag",
            Sort::List => "list",
            Sort::Text => "text",
        }
    }
}

/// One field of a form.
#[derive(Clone, Debug)]
pub struct Field {
    /// In the job file.
    pub key: &'static str,
    /// How it is filled in.
    pub input: Input,
    /// Its letter in the figure, if it is measured.
    pub letter: Option<char>,
    /// How it is measured.
    pub how: &'static str,
    /// In a run along a wall the run gives it.
    pub is_from_run: bool,
}

/// The fields of a kind in measuring order, by what is said of the keys on which others hang.
pub fn of_kind(kind: &str, said: impl Fn(&str) -> String) -> Vec<Field> {
    let Some(of) = named(kind) else { return Vec::new() };
    let letters = letters(of, &said);
    of.asked(&said)
        .into_iter()
        .filter_map(|key| {
            let letter = letters.iter().find(|(_, k)| k.name == key.name).map(|(l, _)| *l);
            let (how, is_from_run) = (key.how, key.is_from_run);
            Some(Field { key: key.name, input: input(key)?, letter, how, is_from_run })
        })
        .collect()
}

/// How a key is filled in; `None` for tables, which are written in full, and what is no key.
fn input(key: &Key) -> Option<Input> {
    use table::{Sort, Unsaid};
    Some(match key.sort {
        Sort::Length | Sort::LengthOrZero | Sort::SignedLength | Sort::Text | Sort::Side => {
            Input::Text
        }
        Sort::Lengths | Sort::LengthsOrZero => Input::List,
        Sort::Count(..) => Input::Count,
        Sort::Degrees(..) => Input::Number,
        Sort::Flag(unsaid) => Input::Flag(unsaid),
        Sort::Word(words) => {
            Input::Choice { words, is_said: !matches!(key.unsaid, Unsaid::Word(_)) }
        }
        Sort::Table(_) | Sort::Tables(_) | Sort::Sides(_) | Sort::OfFoam => return None,
    })
}

/// Whether some of its measures are tables: those are written in full.
pub fn is_in_full(kind: &str, said: impl Fn(&str) -> String) -> bool {
    let is_table = |key: &&Key| matches!(key.sort, table::Sort::Table(_) | table::Sort::Tables(_));
    named(kind)
        .is_some_and(|of| of.asked(said).into_iter().any(|key| is_table(&key) && key.is_measured()))
}

/// As thick as its foam, which is measured and is no key.
pub fn is_of_foam(kind: &str) -> bool {
    let of_foam = |key: &Key| matches!(key.sort, table::Sort::OfFoam);
    named(kind).is_some_and(|of| of.keys.iter().any(of_foam))
}

/// Fields that all pieces have besides; `of` is the table of its kind.
pub fn common(of: Option<&Table>) -> [(&'static str, Input); 15] {
    let choice = |words| Input::Choice { words, is_said: false };
    let had_cover = of.is_none_or(|of| of.nature.had_cover);
    [
        ("hand", choice(&["neither", "left", "right", "pair"])),
        ("foam_condition", choice(&["renew", "keep", "repair"])),
        ("board_condition", choice(&["renew", "keep", "repair"])),
        ("pattern", choice(&["", "centred", "free"])),
        ("direction", choice(&["", "up the roll", "railroaded", "either"])),
        ("foam_edge", choice(&["", "square", "bevelled", "pulled down"])),
        ("foam_beyond", Input::Text),
        ("boxing_in_step", Input::Flag(false)),
        ("wrap", Input::Flag(false)),
        ("dust_cover", Input::Flag(false)),
        ("seam_allowed", Input::Flag(false)),
        ("joined", Input::Flag(false)),
        ("price_each", Input::Number),
        ("strip", Input::Flag(had_cover)),
        ("welt_grain", choice(&["cross", "straight", "bias"])),
    ]
}

/// Words of a key as a person reads them.
pub fn words(key: &str) -> String {
    match key {
        "strip" => "an old cover to strip".into(),
        "foam_beyond" => "foam larger than its board, on each side".into(),
        "boxing_in_step" => "the boxing's pattern runs on from the top".into(),
        "joined" => "cover joined down the middle".into(),
        "price_each" => "agreed price for the work on one".into(),
        _ => key.replace('_', " "),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use trade::kinds::TABLES;

    #[test]
    fn every_kind_has_fields_or_is_written_in_full() {
        for of in TABLES {
            let unsaid = |_: &str| String::new();
            assert!(
                !of_kind(of.name, unsaid).is_empty() || is_in_full(of.name, unsaid),
                "{}",
                of.name
            );
        }
    }
}
