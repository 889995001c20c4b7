//! Faults and warnings: what is wrong, where, and what to do about it, kept apart.

use crate::message::Message;

/// Something in the job that stops it, or that the person should know.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// A short fixed name, such as `radius-too-large`.
    pub code: &'static str,
    /// The key in the job file it is about, such as `piece.2.corner.0.radius`; arrays count from 0.
    pub at: String,
    /// The piece, material or document it is about, for people.
    pub about: String,
    /// What is wrong.
    pub what: Message,
    /// What to do.
    pub remedy: Message,
}

impl Fault {
    /// A fault at a key.
    pub fn new(code: &'static str, at: impl Into<String>, what: Message, remedy: Message) -> Self {
        Self { code, at: at.into(), about: String::new(), what, remedy }
    }

    /// The same where it is found at the edge and is in words already.
    pub fn typed(
        code: &'static str,
        at: impl Into<String>,
        what: impl Into<String>,
        remedy: impl Into<String>,
    ) -> Self {
        Self::new(code, at, Message::typed(what), Message::typed(remedy))
    }

    /// The same, naming what it is about.
    #[must_use]
    pub fn about(mut self, about: impl Into<String>) -> Self {
        self.about = about.into();
        self
    }
}
