//! What is said to a person, as a value: which sentence, and what goes into it. The words are put to it
//! at the edge, in the language that is asked for.

use geometry::Length;
use rust_decimal::Decimal;

/// A sentence or a name, not yet in words.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Message {
    /// Its name in the message files; empty for what a person has typed.
    pub id: &'static str,
    /// The part of it that is meant, if not the whole: `do` is the remedy of a fault.
    pub part: Option<&'static str>,
    /// What goes into it, by name.
    pub args: Vec<(&'static str, Arg)>,
}

/// What goes into a sentence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Arg {
    /// As a person has typed it.
    Text(String),
    /// A whole number: the sentence may turn on it.
    Count(i64),
    /// Yes or no: the sentence may turn on it.
    Flag(bool),
    /// A length, exact, with its unit.
    Length(Length),
    /// A length, exact, without its unit.
    Number(Length),
    /// To the nearest mark of the bench, with its unit.
    Chalk(Length),
    /// To the nearest mark of the bench, without its unit.
    ChalkNumber(Length),
    /// Up to the next mark of the bench, with its unit.
    Cut(Length),
    /// Up to the next mark of the bench, without its unit.
    CutNumber(Length),
    /// A length in the unit that a cloth is sold by.
    Sold(Length, geometry::Unit),
    /// Money, without its currency.
    Money(Decimal),
    /// Any number, as short as it can be written.
    Decimal(Decimal),
    /// Another sentence or name.
    Message(Box<Message>),
    /// Several, one after another.
    List(Vec<Message>, Between),
}

/// What stands between several.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Between {
    /// `a, b, c`.
    Comma,
    /// `a; b; c`.
    Semicolon,
    /// `a b c`: whole sentences.
    Space,
    /// `a or b or c`.
    Or,
}

/// A sentence by its name.
pub const fn message(id: &'static str) -> Message {
    Message { id, part: None, args: Vec::new() }
}

impl Message {
    /// What a person has typed.
    pub fn typed(text: impl Into<String>) -> Self {
        Self { args: vec![("", Arg::Text(text.into()))], ..Self::default() }
    }

    /// Nothing at all.
    pub const fn nothing() -> Self {
        message("")
    }

    /// Whether there is nothing to say.
    pub fn is_empty(&self) -> bool {
        self.id.is_empty() && self.args.is_empty()
    }

    /// Whether it is the sentence of this name.
    pub fn is(&self, id: &str) -> bool {
        self.id == id
    }

    /// What a person has typed, if it is that.
    pub fn as_typed(&self) -> Option<&str> {
        match &self.args[..] {
            [("", Arg::Text(text))] if self.id.is_empty() => Some(text),
            _ => None,
        }
    }

    /// A part of it: a remedy, a short form.
    #[must_use]
    pub const fn part(mut self, part: &'static str) -> Self {
        self.part = Some(part);
        self
    }

    /// With one more thing in it.
    #[must_use]
    pub fn with(mut self, name: &'static str, arg: Arg) -> Self {
        self.args.push((name, arg));
        self
    }

    /// With what a person has typed.
    #[must_use]
    pub fn text(self, name: &'static str, text: impl Into<String>) -> Self {
        self.with(name, Arg::Text(text.into()))
    }

    /// With a whole number.
    #[must_use]
    pub fn count(self, name: &'static str, count: impl TryInto<i64>) -> Self {
        self.with(name, Arg::Count(count.try_into().unwrap_or(i64::MAX)))
    }

    /// With yes or no: the sentence may turn on it.
    #[must_use]
    pub fn flag(self, name: &'static str, is: bool) -> Self {
        self.with(name, Arg::Flag(is))
    }

    /// With a length, exact, and its unit.
    #[must_use]
    pub fn length(self, name: &'static str, length: Length) -> Self {
        self.with(name, Arg::Length(length))
    }

    /// With a length, exact, without its unit.
    #[must_use]
    pub fn number(self, name: &'static str, length: Length) -> Self {
        self.with(name, Arg::Number(length))
    }

    /// With a length to the nearest mark, and its unit.
    #[must_use]
    pub fn chalk(self, name: &'static str, length: Length) -> Self {
        self.with(name, Arg::Chalk(length))
    }

    /// With a length to the nearest mark, without its unit.
    #[must_use]
    pub fn chalk_number(self, name: &'static str, length: Length) -> Self {
        self.with(name, Arg::ChalkNumber(length))
    }

    /// With a length up to the next mark, and its unit.
    #[must_use]
    pub fn cut(self, name: &'static str, length: Length) -> Self {
        self.with(name, Arg::Cut(length))
    }

    /// With a length up to the next mark, without its unit.
    #[must_use]
    pub fn cut_number(self, name: &'static str, length: Length) -> Self {
        self.with(name, Arg::CutNumber(length))
    }

    /// With a length in the unit of a cloth.
    #[must_use]
    pub fn sold(self, name: &'static str, length: Length, unit: geometry::Unit) -> Self {
        self.with(name, Arg::Sold(length, unit))
    }

    /// With money.
    #[must_use]
    pub fn money(self, name: &'static str, amount: Decimal) -> Self {
        self.with(name, Arg::Money(amount))
    }

    /// With any number.
    #[must_use]
    pub fn decimal(self, name: &'static str, number: Decimal) -> Self {
        self.with(name, Arg::Decimal(number))
    }

    /// With another sentence or name in it.
    #[must_use]
    pub fn said(self, name: &'static str, message: Self) -> Self {
        self.with(name, Arg::Message(Box::new(message)))
    }

    /// With several in it.
    #[must_use]
    pub fn list(self, name: &'static str, all: Vec<Self>, between: Between) -> Self {
        self.with(name, Arg::List(all, between))
    }
}
