//! The table of a kind: everything that a reader, a form, a survey sheet or a figure needs to know of what
//! is measured.

use super::Kind;
use super::values::Values;
use crate::fault::Fault;
use crate::panel::FoamEdge;

/// What a key takes.
#[derive(Clone, Copy, Debug)]
pub enum Sort {
    /// A length above zero.
    Length,
    /// A length, or zero.
    LengthOrZero,
    /// A length to either side of where it is measured from; a minus lies left or below.
    SignedLength,
    /// Lengths above zero.
    Lengths,
    /// Lengths, or zeros.
    LengthsOrZero,
    /// A whole number from the first to the second.
    Count(usize, usize),
    /// Degrees from the first to the second.
    Degrees(i64, i64),
    /// Yes or no, and which if nothing is said.
    Flag(bool),
    /// One of some words.
    Word(&'static [&'static str]),
    /// A name or words for people.
    Text,
    /// A side of the outline: `bottom`, `right`, `top`, `left`, or its number from 1.
    Side,
    /// A table of keys.
    Table(&'static [Key]),
    /// Tables of the same keys.
    Tables(&'static [Key]),
    /// The same keys for each of some sides.
    Sides(&'static [Key]),
    /// No key: the thickness of the foam that is chosen for the piece.
    OfFoam,
}

/// What holds when nothing is said.
#[derive(Clone, Copy, Debug)]
pub enum Unsaid {
    /// It must be said.
    Fault,
    /// Nothing: the kind sees to it.
    Nothing,
    /// Zero.
    Zero,
    /// This word or text.
    Word(&'static str),
    /// This number.
    Count(usize),
}

/// One key of a kind: what it takes, and how it is measured.
#[derive(Clone, Copy, Debug)]
pub struct Key {
    /// In the job file.
    pub name: &'static str,
    /// What it takes.
    pub sort: Sort,
    /// What holds when nothing is said.
    pub unsaid: Unsaid,
    /// Only where an earlier key has one of these words; `true` and `false` are words of a flag.
    pub when: Option<(&'static str, &'static [&'static str])>,
    /// In a run along a wall the run gives it.
    pub is_from_run: bool,
    /// How it is measured; empty for what is chosen and not measured.
    pub how: &'static str,
}

impl Key {
    /// A key that must be said.
    pub const fn new(name: &'static str, sort: Sort, how: &'static str) -> Self {
        Self { name, sort, unsaid: Unsaid::Fault, when: None, is_from_run: false, how }
    }

    /// A length above zero that must be said.
    pub const fn length(name: &'static str, how: &'static str) -> Self {
        Self::new(name, Sort::Length, how)
    }

    /// A length that is zero if nothing is said.
    pub const fn or_zero(name: &'static str, how: &'static str) -> Self {
        Self::new(name, Sort::LengthOrZero, how).unsaid(Unsaid::Zero)
    }

    /// A key that may be left out.
    pub const fn optional(name: &'static str, sort: Sort, how: &'static str) -> Self {
        Self::new(name, sort, how).unsaid(Unsaid::Nothing)
    }

    /// One of some words, the first if nothing is said.
    pub const fn word(name: &'static str, words: &'static [&'static str]) -> Self {
        Self::new(name, Sort::Word(words), "").unsaid(Unsaid::Word(words[0]))
    }

    /// Yes or no.
    pub const fn flag(name: &'static str, unsaid: bool) -> Self {
        Self::new(name, Sort::Flag(unsaid), "").unsaid(Unsaid::Nothing)
    }

    /// The same with what holds when nothing is said.
    pub const fn unsaid(mut self, unsaid: Unsaid) -> Self {
        self.unsaid = unsaid;
        self
    }

    /// The same, asked only where an earlier key has one of some words.
    pub const fn when(mut self, key: &'static str, words: &'static [&'static str]) -> Self {
        self.when = Some((key, words));
        self
    }

    /// The same, given by the run where the piece is one of a run.
    pub const fn from_run(mut self) -> Self {
        self.is_from_run = true;
        self
    }

    /// Whether it is asked, by what is said of the keys before it; an empty word is one that is not said.
    pub fn is_asked(&self, keys: &[Self], said: impl Fn(&str) -> String) -> bool {
        let Some((on, words)) = self.when else { return true };
        let word = said(on);
        let on = keys.iter().find(|key| key.name == on);
        let unsaid = match on.map(|key| (key.unsaid, key.sort)) {
            Some((Unsaid::Word(word), _)) => word,
            Some((_, Sort::Flag(true))) => "true",
            Some((_, Sort::Flag(false))) => "false",
            _ => "",
        };
        let word = if word.is_empty() { unsaid } else { word.as_str() };
        words.contains(&word)
    }

    /// Whether it is measured, and so has a letter in the figure.
    pub const fn is_measured(&self) -> bool {
        !self.how.is_empty()
    }
}

/// How a piece of a kind is worked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Work {
    /// Stapled to a board or a frame.
    Stapled,
    /// Sewn and filled.
    Sewn,
    /// Cut to measure and nothing more.
    Cut,
}

/// What holds for every piece of a kind.
#[derive(Clone, Copy, Debug)]
pub struct Nature {
    /// How it is worked.
    pub work: Work,
    /// An old cover comes off, unless said otherwise.
    pub had_cover: bool,
    /// Takes a foam.
    pub takes_foam: bool,
    /// Takes a board.
    pub takes_board: bool,
    /// As thick as its foam, so that its finished size names the thickness.
    pub is_block: bool,
    /// How foam ends at stapled edges, unless said otherwise.
    pub foam_edge: FoamEdge,
}

impl Nature {
    /// A board with foam and cloth.
    pub const BOARD: Self = Self {
        work: Work::Stapled,
        had_cover: true,
        takes_foam: true,
        takes_board: true,
        is_block: false,
        foam_edge: FoamEdge::Square,
    };

    /// A cushion sewn round its foam.
    pub const CUSHION: Self = Self { work: Work::Sewn, takes_board: false, ..Self::BOARD };

    /// A cushion sewn round what is bought made.
    pub const FILLED: Self = Self { had_cover: false, takes_foam: false, ..Self::CUSHION };
}

/// A kind of piece: its name, its keys in the order in which they are asked, what holds for all of it.
#[derive(Clone, Copy, Debug)]
pub struct Table {
    /// In the job file.
    pub name: &'static str,
    /// What is asked.
    pub keys: &'static [Key],
    /// What holds for all pieces of the kind.
    pub nature: Nature,
    /// From what was read to the kind; faults at keys of the table.
    pub read: fn(&mut Values, &mut Vec<Fault>) -> Kind,
}

impl Table {
    /// The keys that are asked, by what is said of others.
    pub fn asked(&self, said: impl Fn(&str) -> String) -> Vec<&'static Key> {
        self.keys.iter().filter(|key| key.is_asked(self.keys, &said)).collect()
    }
}

/// The words of a choice, for a key.
pub const fn words<T, const N: usize>(choice: &[(&'static str, T); N]) -> [&'static str; N] {
    let mut words = [""; N];
    let mut i = 0;
    while i < N {
        words[i] = choice[i].0;
        i += 1;
    }
    words
}

/// Keys after one another.
pub const fn joined<const A: usize, const B: usize, const N: usize>(
    first: [Key; A],
    more: [Key; B],
) -> [Key; N] {
    assert!(A + B == N);
    let mut all = [first[0]; N];
    let mut i = 0;
    while i < N {
        all[i] = if i < A { first[i] } else { more[i - A] };
        i += 1;
    }
    all
}
