//! What was read of a piece by the table of its kind.

use super::table::{Key, Sort, Unsaid};
use geometry::Length;
use rust_decimal::Decimal;
use std::collections::{BTreeMap, BTreeSet};

/// The value of one key.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// Of any sort of length.
    Length(Length),
    /// In the order in which they were given.
    Lengths(Vec<Length>),
    /// A whole number.
    Count(usize),
    /// Degrees.
    Number(Decimal),
    /// Yes or no.
    Flag(bool),
    /// One of the words of its key.
    Word(&'static str),
    /// For people.
    Text(String),
    /// A side, counted from 0.
    Side(usize),
    /// Of a table.
    Table(Values),
    /// Of tables.
    Tables(Vec<Values>),
    /// Of sides, each by its name.
    Sides(Vec<(String, Values)>),
}

/// What was read: the value of each key that was said, and how it was typed.
///
/// Asking for a key that is not in the table is a mistake in the program; the tests catch it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Values {
    values: BTreeMap<&'static str, Value>,
    there: BTreeSet<&'static str>,
    typed: Vec<(String, String)>,
    /// Metric: bare numbers were millimetres or centimetres.
    pub is_metric: bool,
    /// One of a run along a wall, which gives its width.
    pub is_in_run: bool,
}

impl Values {
    /// Nothing said yet.
    pub fn new(is_metric: bool, is_in_run: bool) -> Self {
        Self { is_metric, is_in_run, ..Self::default() }
    }

    /// Notes that a key is there, readable or not.
    pub fn see(&mut self, key: &'static str) {
        self.there.insert(key);
    }

    /// Keeps a value.
    pub fn keep(&mut self, key: &'static str, value: Value) {
        self.values.insert(key, value);
    }

    /// Keeps how a measure was typed, under the name people know it by.
    pub fn note(&mut self, name: impl Into<String>, text: impl ToString) {
        let (name, text) = (name.into(), text.to_string());
        match self.typed.iter_mut().find(|(n, _)| *n == name) {
            Some(found) => found.1 = text,
            None => self.typed.push((name, text)),
        }
    }

    /// Each measure as it was typed.
    pub fn typed(&self) -> &[(String, String)] {
        &self.typed
    }

    /// Whether a key is there, readable or not.
    pub fn has(&self, key: &str) -> bool {
        self.there.contains(key)
    }

    /// What a form would say of a key on which others hang; empty for what was not said.
    pub fn said(&self, key: &str) -> String {
        match self.values.get(key) {
            Some(Value::Word(word)) => (*word).to_string(),
            Some(Value::Flag(is)) => is.to_string(),
            _ => String::new(),
        }
    }

    /// A length; zero if it was not said.
    pub fn length(&self, key: &str) -> Length {
        self.opt_length(key).unwrap_or(Length::ZERO)
    }

    /// A length, if it was said.
    pub fn opt_length(&self, key: &str) -> Option<Length> {
        match self.values.get(key) {
            Some(Value::Length(length)) => Some(*length),
            _ => None,
        }
    }

    /// Lengths; none if they were not said.
    pub fn lengths(&self, key: &str) -> Vec<Length> {
        match self.values.get(key) {
            Some(Value::Lengths(all)) => all.clone(),
            _ => Vec::new(),
        }
    }

    /// A whole number, if it was said.
    pub fn opt_count(&self, key: &str) -> Option<usize> {
        match self.values.get(key) {
            Some(Value::Count(count)) => Some(*count),
            _ => None,
        }
    }

    /// A whole number; one if it was not said, so that nothing is divided by zero.
    pub fn count(&self, key: &str) -> usize {
        self.opt_count(key).unwrap_or(1)
    }

    /// A number, if it was said.
    pub fn number(&self, key: &str) -> Option<Decimal> {
        match self.values.get(key) {
            Some(Value::Number(number)) => Some(*number),
            _ => None,
        }
    }

    /// Yes or no.
    pub fn flag(&self, key: &str) -> bool {
        matches!(self.values.get(key), Some(Value::Flag(true)))
    }

    /// A word, if there is one.
    pub fn opt_word(&self, key: &str) -> Option<&'static str> {
        match self.values.get(key) {
            Some(Value::Word(word)) => Some(word),
            _ => None,
        }
    }

    /// Whether a key has a word.
    pub fn is(&self, key: &str, word: &str) -> bool {
        self.opt_word(key) == Some(word)
    }

    /// What the word of a key stands for, if there is one.
    pub fn choice<T: Copy>(&self, key: &str, words: &[(&'static str, T)]) -> Option<T> {
        let word = self.opt_word(key)?;
        words.iter().find(|(w, _)| *w == word).map(|(_, what)| *what)
    }

    /// Text, if it was said.
    pub fn text(&self, key: &str) -> Option<&str> {
        match self.values.get(key) {
            Some(Value::Text(text)) => Some(text),
            _ => None,
        }
    }

    /// A side, counted from 0.
    pub fn side(&self, key: &str) -> Option<usize> {
        match self.values.get(key) {
            Some(Value::Side(side)) => Some(*side),
            _ => None,
        }
    }

    /// What was said in a table.
    pub fn table(&self, key: &str) -> Option<&Self> {
        match self.values.get(key) {
            Some(Value::Table(inner)) => Some(inner),
            _ => None,
        }
    }

    /// What was said in each of some tables.
    pub fn tables(&self, key: &str) -> &[Self] {
        match self.values.get(key) {
            Some(Value::Tables(all)) => all,
            _ => &[],
        }
    }

    /// What was said of each of some sides.
    pub fn sides(&self, key: &str) -> &[(String, Self)] {
        match self.values.get(key) {
            Some(Value::Sides(all)) => all,
            _ => &[],
        }
    }
}

impl Key {
    /// The value that holds when nothing is said, if there is one.
    pub fn usual(&self) -> Option<Value> {
        match (self.unsaid, self.sort) {
            (Unsaid::Zero, _) => Some(Value::Length(Length::ZERO)),
            (Unsaid::Word(text), Sort::Text) => Some(Value::Text(text.into())),
            (Unsaid::Word(word), _) => Some(Value::Word(word)),
            (Unsaid::Count(count), _) => Some(Value::Count(count)),
            (Unsaid::Nothing | Unsaid::Fault, Sort::Flag(is)) => Some(Value::Flag(is)),
            (Unsaid::Nothing | Unsaid::Fault, _) => None,
        }
    }
}
