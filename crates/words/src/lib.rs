//! Values put into words: message files by language, numbers and lengths as they are written there.
//!
//! A message is named after what it says; `messages/<language>/*.ftl` hold them, in the format of the Fluent
//! project. What a language does not say itself it takes from English.

mod files;
mod voice;

pub use files::LANGUAGES;
pub use voice::{Voice, Words, english, of};
