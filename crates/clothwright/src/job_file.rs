//! The job file: TOML text to a [`Job`], with every fault found in one pass and its place in the
//! file. What is measured of a piece is read by the table of its kind; `docs/job-file.md` lists all keys.

mod by_table;
mod materials;
mod pieces;
mod place;
mod reader;
mod settings;

use codespan_reporting::diagnostic::{Diagnostic, Label};
use codespan_reporting::files::SimpleFile;
use codespan_reporting::term::{self, Config};
use reader::{File, Table};
use std::ops::Range;
use trade::fault::Fault;
use trade::job::Job;
use trade::working::Style;

/// Larger files are refused: no tape fills them.
pub const MOST_BYTES: usize = 4 * 1024 * 1024;

/// Most entries of a list of a job: the same for a file, a page and the store.
pub fn most_of(list: &str) -> usize {
    match list {
        "piece" => 1000,
        _ => 200,
    }
}

/// A job as read, and what is wrong with it.
pub struct Read {
    /// The job; pieces with faults are left out.
    pub job: Job,
    /// For each piece of `job`, its number in the file.
    pub numbers: Vec<usize>,
    /// What is wrong.
    pub faults: Vec<Placed>,
    /// Keys that were asked for, for the test that holds the reference page complete.
    pub asked: Vec<String>,
}

/// A fault and where it is in the file.
#[derive(Clone, Debug)]
pub struct Placed {
    /// What is wrong.
    pub fault: Fault,
    /// Bytes of the file.
    pub span: Range<usize>,
    /// How the job writes lengths.
    pub style: Style,
}

impl Placed {
    /// What is wrong, in words.
    pub fn what(&self) -> String {
        words::english().voice(self.style).say(&self.fault.what)
    }

    /// What to do, in words.
    pub fn remedy(&self) -> String {
        words::english().voice(self.style).say(&self.fault.remedy)
    }
}

/// Reads a job file.
pub fn read(text: &str) -> Read {
    let (document, errors) = toml::de::DeTable::parse_recoverable(text);
    let file = File::default();
    for error in errors {
        let span = error.span().unwrap_or(0..0);
        let what = error.message().to_string();
        file.fault(
            Fault::typed(
                "not-toml",
                "",
                what,
                "put lengths and words in quotes; docs/first-job.toml shows how a job file is written",
            ),
            span,
        );
    }
    let root = Table::root(&file, document.get_ref());
    let (job, numbers) = settings::job(root);
    let (mut faults, asked) = file.into_parts();
    faults.iter_mut().for_each(|placed| placed.style = job.style);
    Read { job, numbers, faults, asked }
}

/// Gives core faults their place in the file, by the key they name.
pub fn place(text: &str, faults: Vec<Fault>, read: &Read) -> Vec<Placed> {
    let (document, _) = toml::de::DeTable::parse_recoverable(text);
    faults
        .into_iter()
        .map(|fault| {
            let span = place::span_of(document.get_ref(), &fault.at, &read.numbers);
            Placed { fault, span, style: read.job.style }
        })
        .collect()
}

/// Faults as text for a terminal: file, line, what is wrong and what to do, with the line shown.
pub fn show(name: &str, text: &str, faults: &[Placed]) -> String {
    let file = SimpleFile::new(name, text);
    let mut out = String::new();
    for placed in faults {
        let fault = &placed.fault;
        let about =
            if fault.about.is_empty() { String::new() } else { format!("{}: ", fault.about) };
        let what = placed.what();
        let what = if what.starts_with(&fault.about) { what } else { format!("{about}{what}") };
        let diagnostic = Diagnostic::error()
            .with_code(fault.code)
            .with_message(what)
            .with_labels(vec![Label::primary((), placed.span.clone())])
            .with_notes(vec![format!("do: {}", placed.remedy())]);
        let config = Config { start_context_lines: 0, end_context_lines: 0, ..Config::default() };
        if let Ok(text) = term::emit_into_string(&config, &file, &diagnostic) {
            out.push_str(&text);
        }
    }
    out
}

/// Line of a byte, from 1.
pub fn line(text: &str, at: usize) -> usize {
    text.as_bytes().iter().take(at).filter(|b| **b == b'\n').count() + 1
}
