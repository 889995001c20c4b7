//! Sentences in one language, with lengths in one job's style.

use crate::files;
use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};
use geometry::Length;
use std::collections::BTreeMap;
use std::sync::OnceLock;
use trade::job::Job;
use trade::message::{Arg, Between, Message};
use trade::money;
use trade::working::{Style, Working};
use unic_langid::LanguageIdentifier;

/// All messages of one language.
pub struct Words {
    bundle: FluentBundle<FluentResource>,
    has_comma: bool,
    /// The language's tag.
    tag: String,
    /// Names of the messages that templates of papers ask for.
    papers: Vec<String>,
}

impl Words {
    /// The messages of a language; what it does not say is English.
    pub fn new(language: &str) -> Self {
        let tag: LanguageIdentifier = language.parse().unwrap_or_default();
        let has_comma = tag.language.as_str() == "de";
        let mut bundle = FluentBundle::new_concurrent(vec![tag]);
        // Marks for mixed directions of writing would stand in plain files and PDF text.
        bundle.set_use_isolating(false);
        for text in files::of(language) {
            // A file that cannot be read whole is read as far as it can; tests read all of them.
            let resource = FluentResource::try_new(text.into()).unwrap_or_else(|(part, _)| part);
            bundle.add_resource_overriding(resource);
        }
        Self { bundle, has_comma, tag: language.to_string(), papers: files::paper_words() }
    }

    /// Speaks, with lengths in a style.
    pub const fn voice(&self, style: Style) -> Voice<'_> {
        Voice { words: self, style }
    }
}

/// English, for where no job says otherwise.
pub fn english() -> &'static Words {
    static ENGLISH: OnceLock<Words> = OnceLock::new();
    ENGLISH.get_or_init(|| Words::new("en"))
}

/// The voice of a job: its language, and lengths as it writes them.
pub fn of(job: &Job) -> Voice<'static> {
    english().voice(job.style)
}

/// Puts messages into words.
#[derive(Clone, Copy)]
pub struct Voice<'w> {
    words: &'w Words,
    style: Style,
}

impl Voice<'_> {
    /// A message in words.
    pub fn say(&self, message: &Message) -> String {
        if message.id.is_empty() {
            return message.as_typed().unwrap_or_default().to_string();
        }
        let mut args = FluentArgs::new();
        for (name, arg) in &message.args {
            args.set(*name, self.value(arg));
        }
        self.write(message.id, message.part, &args).unwrap_or_else(|| message.id.to_string())
    }

    /// A message that nothing goes into.
    pub fn word(&self, id: &str) -> String {
        self.write(id, None, &FluentArgs::new()).unwrap_or_else(|| id.to_string())
    }

    fn write(&self, id: &str, part: Option<&str>, args: &FluentArgs) -> Option<String> {
        let found = self.words.bundle.get_message(id);
        debug_assert!(found.is_some(), "no message `{id}`");
        let found = found?;
        let pattern = match part {
            None => found.value(),
            Some(part) => found.get_attribute(part).map(|attribute| attribute.value()),
        };
        debug_assert!(pattern.is_some(), "no `{part:?}` of `{id}`");
        let mut errors = Vec::new();
        let text = self.words.bundle.format_pattern(pattern?, Some(args), &mut errors);
        debug_assert!(errors.is_empty(), "`{id}`: {errors:?}");
        Some(text.into_owned())
    }

    fn value(&self, arg: &Arg) -> FluentValue<'static> {
        let style = &self.style;
        let text = match arg {
            Arg::Count(count) => return FluentValue::from(*count),
            Arg::Flag(is) => return if *is { "yes".into() } else { "no".into() },
            Arg::Text(text) => return text.clone().into(),
            Arg::Message(message) => return self.say(message).into(),
            Arg::List(all, between) => return self.join(all, *between).into(),
            Arg::Length(length) => style.show(*length),
            Arg::Number(length) => style.number(*length),
            Arg::Chalk(length) => style.chalk(*length),
            Arg::ChalkNumber(length) => style.chalk_number(*length),
            Arg::Cut(length) => style.cut(*length),
            Arg::CutNumber(length) => style.cut_number(*length),
            Arg::Sold(length, unit) => length.show(*unit),
            Arg::Money(amount) => money::show(*amount),
            Arg::Decimal(number) => number.normalize().to_string(),
        };
        self.decimal(text).into()
    }

    /// With the decimal sign of the language.
    fn decimal(&self, text: String) -> String {
        if self.words.has_comma { text.replace('.', ",") } else { text }
    }

    /// Several, one after another.
    pub fn join(&self, all: &[Message], between: Between) -> String {
        let between = match between {
            Between::Comma => ", ",
            Between::Semicolon => "; ",
            Between::Space => " ",
            Between::Or => return self.joined(all, &format!(" {} ", self.word("or"))),
        };
        self.joined(all, between)
    }

    fn joined(&self, all: &[Message], between: &str) -> String {
        all.iter().map(|one| self.say(one)).collect::<Vec<_>>().join(between)
    }

    /// The language's tag: `en`.
    pub fn tag(&self) -> &str {
        self.words.tag.split('-').next().unwrap_or("en")
    }

    /// All that stands printed on the papers, by name.
    pub fn papers(&self) -> BTreeMap<&str, String> {
        self.words.papers.iter().map(|id| (id.as_str(), self.word(id))).collect()
    }

    /// A length with its unit.
    pub fn length(&self, length: Length) -> String {
        self.decimal(self.style.show(length))
    }

    /// How lengths are written.
    pub const fn style(&self) -> &Style {
        &self.style
    }

    /// How a number came about, written out.
    pub fn working(&self, working: &Working) -> String {
        // A sum is written out exactly, whatever the unit.
        let exact = Style { is_converted: false, ..self.style };
        self.decimal(working.sentence(&exact))
    }
}
