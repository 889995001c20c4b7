//! Reading tables strictly: every key asked for once, every fault kept with its place, every key
//! not asked for a fault with a suggestion.

use super::Placed;
use super::place::span_of;
use geometry::{Length, TapeError, Unit, read_length};
use rust_decimal::Decimal;
use serde_spanned::Spanned;
use std::cell::RefCell;
use std::ops::Range;
use toml::de::{DeTable, DeValue};
use trade::fault::Fault;
use trade::working::Style;

/// Nothing upholstered is longer.
const LONGEST: Length = Length::from_nm(100_000_000_000);

/// Faults of one file.
#[derive(Default)]
pub struct File {
    faults: RefCell<Vec<Placed>>,
    asked: RefCell<Vec<String>>,
}

impl File {
    /// Keeps a fault.
    pub fn fault(&self, fault: Fault, span: Range<usize>) {
        // The unit is known once all is read.
        let style = Style::usual(Unit::Millimetre);
        self.faults.borrow_mut().push(Placed { fault, span, style });
    }

    /// How many so far.
    pub fn count(&self) -> usize {
        self.faults.borrow().len()
    }

    /// Everything kept.
    pub fn into_parts(self) -> (Vec<Placed>, Vec<String>) {
        (self.faults.into_inner(), self.asked.into_inner())
    }
}

/// A table being read.
pub struct Table<'a> {
    file: &'a File,
    table: &'a DeTable<'a>,
    span: Range<usize>,
    path: String,
    used: Vec<&'static str>,
    /// Lengths read, as typed.
    pub typed: Vec<(String, String)>,
}

/// Which lengths a key takes.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Sort {
    /// Above zero.
    Positive,
    /// Zero allowed.
    OrZero,
    /// Above zero, of a spool or reel: as long as may be.
    Supply,
}

impl<'a> Table<'a> {
    /// The whole file.
    pub fn root(file: &'a File, table: &'a DeTable<'a>) -> Self {
        Self { file, table, span: 0..0, path: String::new(), used: Vec::new(), typed: Vec::new() }
    }

    fn inner(&self, table: &'a DeTable<'a>, span: Range<usize>, path: String) -> Self {
        Table { file: self.file, table, span, path, used: Vec::new(), typed: Vec::new() }
    }

    /// Key of a field, for faults and the reference page.
    pub fn key(&self, key: &str) -> String {
        if self.path.is_empty() { key.into() } else { format!("{}.{key}", self.path) }
    }

    /// The faults so far in the file.
    pub fn faults(&self) -> usize {
        self.file.count()
    }

    /// Keeps a fault at a field, or at the table if the field is not there.
    pub fn wrong(
        &self,
        key: &str,
        code: &'static str,
        what: impl Into<String>,
        remedy: impl Into<String>,
    ) {
        let span = self.table.get(key).map_or(self.span.clone(), Spanned::span);
        self.file.fault(Fault::typed(code, self.key(key), what, remedy), span);
    }

    /// Keeps a fault at a key below this table, with its place in the file.
    pub fn fault(&self, fault: Fault) {
        let span = span_of(self.table, &fault.at, &[]);
        let span = if span.is_empty() { self.span.clone() } else { span };
        let at = self.key(&fault.at);
        self.file.fault(Fault { at, ..fault }, span);
    }

    fn get(&mut self, key: &'static str) -> Option<&'a Spanned<DeValue<'a>>> {
        self.used.push(key);
        let generic: Vec<&str> = self
            .path
            .split('.')
            .filter(|part| part.parse::<usize>().is_err() && !part.is_empty())
            .collect();
        self.file
            .asked
            .borrow_mut()
            .push(generic.into_iter().chain([key]).collect::<Vec<_>>().join("."));
        self.table.get(key)
    }

    /// Every key that is there.
    pub fn keys(&self) -> Vec<String> {
        self.table.keys().map(|key| key.get_ref().to_string()).collect()
    }

    /// Whether a key is there.
    pub fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    fn missing(&self, key: &str, what: &str) {
        self.wrong(key, "missing", format!("`{key}` is missing"), format!("add `{key} = {what}`"));
    }

    /// Text that must be there.
    pub fn text(&mut self, key: &'static str) -> String {
        match self.opt_text(key) {
            Some(text) if !text.trim().is_empty() => text,
            Some(_) => {
                self.wrong(
                    key,
                    "empty",
                    format!("`{key}` is empty"),
                    "write something a person can recognise",
                );
                String::new()
            }
            None => {
                if !self.has(key) {
                    self.missing(key, "\"...\"");
                }
                String::new()
            }
        }
    }

    /// Text if it is there.
    pub fn opt_text(&mut self, key: &'static str) -> Option<String> {
        match self.get(key)?.get_ref() {
            DeValue::String(text) => Some(text.to_string()),
            _ => {
                self.wrong(key, "not-text", format!("`{key}` must be text"), "put it in quotes");
                None
            }
        }
    }

    /// Text or nothing.
    pub fn text_or_empty(&mut self, key: &'static str) -> String {
        self.opt_text(key).unwrap_or_default()
    }

    /// A list of texts.
    pub fn texts(&mut self, key: &'static str) -> Vec<String> {
        let Some(value) = self.get(key) else { return Vec::new() };
        let DeValue::Array(array) = value.get_ref() else {
            self.wrong(
                key,
                "not-a-list",
                format!("`{key}` must be a list of texts"),
                "write [\"...\", \"...\"]",
            );
            return Vec::new();
        };
        array.iter().filter_map(|v| v.get_ref().as_str().map(str::to_string)).collect()
    }

    /// A date, as typed or as a TOML date.
    pub fn date(&mut self, key: &'static str) -> String {
        match self.get(key).map(Spanned::get_ref) {
            None => String::new(),
            Some(DeValue::Datetime(date)) => date.to_string(),
            Some(DeValue::String(text)) => text.to_string(),
            Some(_) => {
                self.wrong(
                    key,
                    "not-a-date",
                    format!("`{key}` must be a date"),
                    "write 2026-11-25",
                );
                String::new()
            }
        }
    }

    /// Yes or no.
    pub fn flag(&mut self, key: &'static str, otherwise: bool) -> bool {
        match self.get(key).map(Spanned::get_ref) {
            None => otherwise,
            Some(DeValue::Boolean(value)) => *value,
            Some(_) => {
                self.wrong(
                    key,
                    "not-yes-or-no",
                    format!("`{key}` must be true or false"),
                    "write true or false, without quotes",
                );
                otherwise
            }
        }
    }

    /// A whole number from `low` to `high`.
    pub fn count(&mut self, key: &'static str, low: usize, high: usize) -> Option<usize> {
        let value = self.get(key)?;
        let number = match value.get_ref() {
            DeValue::Integer(n) if n.radix() == 10 => {
                n.as_str().replace('_', "").parse::<i128>().ok()
            }
            _ => None,
        };
        let counted = number.and_then(|n| usize::try_from(n).ok());
        let counted = counted.filter(|n| (low..=high).contains(n));
        if counted.is_none() {
            let remedy = match value.get_ref() {
                DeValue::Integer(_) => format!("write a number from {low} to {high}"),
                DeValue::Float(_) => "write a whole number".into(),
                _ => "write digits only, without quotes".into(),
            };
            self.wrong(
                key,
                "not-a-count",
                format!("`{key}` must be a whole number from {low} to {high}"),
                remedy,
            );
        }
        counted
    }

    /// A count that must be there.
    pub fn counted(&mut self, key: &'static str, low: usize, high: usize) -> usize {
        if !self.has(key) {
            self.get(key);
            self.missing(key, "2");
            return low;
        }
        self.count(key, low, high).unwrap_or(low)
    }

    /// A decimal number within a range.
    pub fn decimal(&mut self, key: &'static str, low: i64, high: i64) -> Option<Decimal> {
        let value = self.get(key)?;
        let text = match value.get_ref() {
            DeValue::Integer(n) if n.radix() == 10 => n.as_str().to_string(),
            DeValue::Float(n) => n.as_str().to_string(),
            DeValue::String(text) => text.trim().to_string(),
            _ => String::new(),
        };
        match text.replace('_', "").parse::<Decimal>() {
            Ok(n) if Decimal::from(low) <= n && n <= Decimal::from(high) => Some(n),
            Ok(n) => {
                self.wrong(
                    key,
                    "out-of-range",
                    format!("`{key}` is {n}, outside {low} to {high}"),
                    "check the number",
                );
                None
            }
            Err(_) => {
                self.wrong(
                    key,
                    "not-a-number",
                    format!("`{key}` is not a number"),
                    "write 12.50: a point for decimals, no currency sign",
                );
                None
            }
        }
    }

    /// A number with whatever unit follows it, as typed.
    pub fn decimal_text(&mut self, key: &'static str) -> Option<String> {
        let text = typed(self.get(key)?.get_ref());
        if text.is_none() {
            self.wrong(
                key,
                "not-a-number",
                format!("`{key}` is not a number"),
                "write a number, in quotes if a unit follows",
            );
        }
        text
    }

    /// A percentage that stays below `limit`.
    pub fn percent(&mut self, key: &'static str, limit: i64) -> Option<Decimal> {
        self.decimal(key, 0, limit)
    }

    /// A length, if it is there. Nought after a fault.
    pub fn opt_length(&mut self, key: &'static str, unit: Unit, sort: Sort) -> Option<Length> {
        let value = self.get(key)?;
        let text = typed(value.get_ref());
        if let Some(text) = &text {
            self.typed.push((key.replace('_', " "), with_unit(text, value.get_ref(), unit)));
        }
        let read = read_value(value, unit, sort, key);
        match read {
            Ok(length) => Some(length),
            Err((code, what, remedy)) => {
                self.wrong(key, code, what, remedy);
                Some(Length::ZERO)
            }
        }
    }

    /// A length that must be there. Nought after a fault.
    pub fn length(&mut self, key: &'static str, unit: Unit) -> Length {
        match self.opt_length(key, unit, Sort::Positive) {
            Some(length) => length,
            None => {
                self.missing(key, "\"74 1/2\"");
                Length::ZERO
            }
        }
    }

    /// A length, or another.
    pub fn length_or(&mut self, key: &'static str, unit: Unit, otherwise: Length) -> Length {
        self.opt_length(key, unit, Sort::OrZero).unwrap_or(otherwise)
    }

    /// A length that may lie left of or below where it is measured from; a leading minus says so.
    pub fn signed_length(&mut self, key: &'static str, unit: Unit) -> Option<Length> {
        let value = self.get(key)?;
        let text = typed(value.get_ref()).unwrap_or_default();
        let (minus, rest) = match text.trim().strip_prefix('-') {
            Some(rest) => (true, rest.to_string()),
            None => (false, text.clone()),
        };
        match read_length(&rest, unit) {
            Ok(length) if length <= LONGEST => Some(if minus { -length } else { length }),
            Ok(_) => {
                self.wrong(
                    key,
                    "absurd-length",
                    format!("`{key}` is over 100 m"),
                    "check the unit",
                );
                Some(Length::ZERO)
            }
            Err(error) => {
                self.wrong(key, "not-a-length", format!("`{key}`: {error}"), error.remedy());
                Some(Length::ZERO)
            }
        }
    }

    /// A list of lengths.
    pub fn lengths(&mut self, key: &'static str, unit: Unit, sort: Sort) -> Vec<Length> {
        let Some(value) = self.get(key) else { return Vec::new() };
        let DeValue::Array(array) = value.get_ref() else {
            self.wrong(
                key,
                "not-a-list",
                format!("`{key}` must be a list of lengths"),
                "write [\"30\", \"24 1/2\"]",
            );
            return Vec::new();
        };
        let mut all = Vec::new();
        for (i, value) in array.iter().enumerate() {
            match read_value(value, unit, sort, key) {
                Ok(length) => all.push(length),
                Err((code, what, remedy)) => {
                    self.file.fault(
                        Fault::typed(code, format!("{}.{i}", self.key(key)), what, remedy),
                        value.span(),
                    );
                    all.push(Length::ZERO);
                }
            }
        }
        let texts: Vec<String> = array.iter().filter_map(|v| typed(v.get_ref())).collect();
        self.typed.push((key.replace('_', " "), texts.join(", ")));
        all
    }

    /// One of several words.
    pub fn choice<T: Copy>(&mut self, key: &'static str, words: &[(&'static str, T)]) -> Option<T> {
        let all = || words.iter().map(|w| format!("\"{}\"", w.0)).collect::<Vec<_>>().join(", ");
        let text = match self.get(key)?.get_ref() {
            DeValue::String(text) => text.to_string(),
            _ => {
                let what = format!("`{key}` must be one of some words");
                self.wrong(key, "not-text", what, format!("one of {}", all()));
                return None;
            }
        };
        let found = words.iter().find(|w| w.0 == text);
        if found.is_none() {
            let all: Vec<&str> = words.iter().map(|w| w.0).collect();
            let near = nearest(&text, all.iter().copied());
            let remedy = match near {
                Some(near) => format!("did you mean \"{near}\"? Known: {}", all.join(", ")),
                None => format!("known: {}", all.join(", ")),
            };
            self.wrong(key, "unknown-word", format!("`{key} = \"{text}\"` is not known"), remedy);
        }
        found.map(|w| w.1)
    }

    /// A table under a key.
    pub fn table(&mut self, key: &'static str) -> Option<Table<'a>> {
        let value = self.get(key)?;
        match value.get_ref() {
            DeValue::Table(table) => Some(self.inner(table, value.span(), self.key(key))),
            _ => {
                self.wrong(
                    key,
                    "not-a-table",
                    format!("`{key}` must be a table"),
                    format!("write [{key}] or {key} = {{ ... }}"),
                );
                None
            }
        }
    }

    /// Tables under a key.
    pub fn tables(&mut self, key: &'static str) -> Vec<Table<'a>> {
        let Some(value) = self.get(key) else { return Vec::new() };
        let DeValue::Array(array) = value.get_ref() else {
            self.wrong(
                key,
                "not-a-list",
                format!("`{key}` must be a list of tables"),
                format!("write [[{key}]] over each"),
            );
            return Vec::new();
        };
        let mut all = Vec::new();
        for (i, value) in array.iter().enumerate() {
            match value.get_ref() {
                DeValue::Table(table) => {
                    all.push(self.inner(table, value.span(), format!("{}.{i}", self.key(key))));
                }
                _ => self.wrong(
                    key,
                    "not-a-table",
                    format!("`{key}` must hold tables"),
                    "write { ... }",
                ),
            }
        }
        all
    }

    /// Names and texts of a free table: what is swapped for what.
    pub fn pairs(&mut self, key: &'static str) -> Vec<(String, String)> {
        let Some(table) = self.table(key) else { return Vec::new() };
        let mut all = Vec::new();
        for (name, value) in table.table {
            match value.get_ref().as_str() {
                Some(text) => all.push((name.get_ref().to_string(), text.to_string())),
                None => self.wrong(
                    key,
                    "not-text",
                    "both names must be text",
                    "write { \"Old cloth\" = \"New cloth\" }",
                ),
            }
        }
        all
    }

    /// Numbered or named tables under a key, for sides.
    pub fn named_tables(&mut self, key: &'static str) -> Vec<(String, Table<'a>)> {
        let Some(table) = self.table(key) else { return Vec::new() };
        let mut all = Vec::new();
        for (name, value) in table.table {
            let name = name.get_ref().to_string();
            match value.get_ref() {
                DeValue::Table(inner) => {
                    let path = self.key(key);
                    all.push((name, self.inner(inner, value.span(), path)));
                }
                _ => self.wrong(
                    key,
                    "not-a-table",
                    format!("`{key}.{name}` must be a table"),
                    "write { edge = \"lip\", ... }",
                ),
            }
        }
        all
    }

    /// Every key not asked for is a fault; what was typed.
    pub fn finish(self) -> Vec<(String, String)> {
        self.refuse_unknown();
        self.typed
    }

    /// Every key not asked for is a fault.
    pub fn refuse_unknown(&self) {
        for key in self.table.keys() {
            let name: &str = key.get_ref();
            if self.used.contains(&name) {
                continue;
            }
            let remedy = match nearest(name, self.used.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None if self.path.starts_with("piece") => {
                    "take it out; docs/job-file.md lists the keys of this kind and shape".into()
                }
                None => "take it out, or see docs/job-file.md for the keys".into(),
            };
            let place = if self.path.is_empty() {
                String::new()
            } else {
                format!(" in `{}`", plain(&self.path))
            };
            self.file.fault(
                Fault::typed(
                    "unknown-key",
                    self.key(name),
                    format!("there is no key `{name}`{place}"),
                    remedy,
                ),
                key.span(),
            );
        }
    }
}

/// A path without its numbers.
fn plain(path: &str) -> String {
    path.split('.').filter(|p| p.parse::<usize>().is_err()).collect::<Vec<_>>().join(".")
}

/// What was typed, if it can be a length at all.
fn typed(value: &DeValue) -> Option<String> {
    match value {
        DeValue::String(text) => Some(text.trim().to_string()),
        DeValue::Integer(n) => Some(n.as_str().to_string()),
        DeValue::Float(n) => Some(n.as_str().to_string()),
        _ => None,
    }
}

/// A bare number shows the job's unit.
fn with_unit(text: &str, value: &DeValue, unit: Unit) -> String {
    let bare = !matches!(value, DeValue::String(_))
        || !text.chars().any(|c| c.is_alphabetic() || c == '"' || c == '\'');
    if bare { format!("{text} {}", unit.sign()) } else { text.to_string() }
}

type Wrong = (&'static str, String, String);

fn read_value(
    value: &Spanned<DeValue>,
    unit: Unit,
    sort: Sort,
    key: &str,
) -> Result<Length, Wrong> {
    let Some(text) = typed(value.get_ref()) else {
        return Err((
            "not-a-length",
            format!("`{key}` is not a length"),
            TapeError::Empty.remedy().into(),
        ));
    };
    let length = read_length(&text, unit).map_err(|error| {
        ("not-a-length", format!("`{key} = {text}`: {error}"), error.remedy().into())
    })?;
    if length > LONGEST && sort != Sort::Supply {
        return Err((
            "absurd-length",
            format!("`{key}` is {}, over 100 m", length.show(Unit::Metre)),
            "check the unit: bare numbers are in the job's unit".into(),
        ));
    }
    if sort != Sort::OrZero && length == Length::ZERO {
        return Err((
            "zero-length",
            format!("`{key}` is zero"),
            "measure again and enter a length above 0".into(),
        ));
    }
    Ok(length)
}

/// The nearest of some words, if it is near enough to be meant.
fn nearest<'w>(word: &str, words: impl Iterator<Item = &'w str>) -> Option<&'w str> {
    words
        .map(|w| (strsim::damerau_levenshtein(word, w), w))
        .filter(|(distance, w)| *distance <= 1 + w.len() / 4)
        .min()
        .map(|(_, w)| w)
}
