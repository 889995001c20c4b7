//! Setting the pack: typst templates with the plan's data, to PDF.
//!
//! Templates see `data.json` and the drawings as files and nothing else. A shop replaces any of
//! them by handing in a text of the same name.

use serde_json::Value;
use std::collections::BTreeMap;
use std::fmt;
use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration, Smart};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World, WorldExt};
use typst_layout::PagedDocument;
use typst_pdf::PdfOptions;

/// Built-in templates by file name; `pack.typ`, `comparison.typ`, `pages.typ`
/// and `survey.typ` are set and take in the others.
pub const TEMPLATES: [(&str, &str); 15] = [
    ("pack.typ", include_str!("../templates/pack.typ")),
    ("style.typ", include_str!("../templates/style.typ")),
    ("quote.typ", include_str!("../templates/quote.typ")),
    ("shopping.typ", include_str!("../templates/shopping.typ")),
    ("cutting.typ", include_str!("../templates/cutting.typ")),
    ("sheets.typ", include_str!("../templates/sheets.typ")),
    ("tags.typ", include_str!("../templates/tags.typ")),
    ("bench.typ", include_str!("../templates/bench.typ")),
    ("fitting.typ", include_str!("../templates/fitting.typ")),
    ("cost.typ", include_str!("../templates/cost.typ")),
    ("comparison.typ", include_str!("../templates/comparison.typ")),
    ("pages.typ", include_str!("../templates/pages.typ")),
    ("survey.typ", include_str!("../templates/survey.typ")),
    ("change.typ", include_str!("../templates/change.typ")),
    ("care.typ", include_str!("../templates/care.typ")),
];

const FONTS: [&[u8]; 2] =
    [include_bytes!("../fonts/Inter-Regular.otf"), include_bytes!("../fonts/Inter-SemiBold.otf")];

/// A template that cannot be set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TemplateError {
    /// What is wrong, each with file and line where they are known.
    pub problems: Vec<String>,
}

impl fmt::Display for TemplateError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.problems.join("\n"))
    }
}

struct Desk {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
    main: FileId,
    files: BTreeMap<String, Bytes>,
}

/// Sets the document that starts at the template `main`.
///
/// # Errors
/// What the templates did wrong.
pub fn set(
    main: &str,
    data: &Value,
    drawings: &BTreeMap<String, String>,
    templates: &BTreeMap<String, String>,
) -> Result<Vec<u8>, TemplateError> {
    let mut files: BTreeMap<String, Bytes> = BTreeMap::new();
    for (name, text) in TEMPLATES {
        let text = templates.get(name).map_or(text, String::as_str);
        files.insert(name.into(), Bytes::from_string(text.to_string()));
    }
    for (name, text) in drawings {
        files.insert(name.clone(), Bytes::from_string(text.clone()));
    }
    files.insert("data.json".into(), Bytes::from_string(data.to_string()));
    let fonts: Vec<Font> = FONTS.iter().flat_map(|bytes| Font::iter(Bytes::new(*bytes))).collect();
    let main = file_id(main).ok_or_else(|| TemplateError { problems: vec![main.into()] })?;
    let desk = Desk {
        library: LazyHash::new(Library::default()),
        book: LazyHash::new(FontBook::from_fonts(&fonts)),
        fonts,
        main,
        files,
    };
    let wrong = |problems: &[SourceDiagnostic]| TemplateError {
        problems: problems.iter().map(|p| desk.problem(p)).collect(),
    };
    let document: PagedDocument = typst::compile(&desk).output.map_err(|e| wrong(&e))?;
    let options = PdfOptions {
        creator: Smart::Custom(Some("Clothwright".into())),
        tagged: false,
        ..PdfOptions::default()
    };
    typst_pdf::pdf(&document, &options).map_err(|e| wrong(&e))
}

fn file_id(name: &str) -> Option<FileId> {
    Some(RootedPath::new(VirtualRoot::Project, VirtualPath::new(name).ok()?).intern())
}

impl Desk {
    fn name(id: FileId) -> String {
        id.vpath().get_without_slash().to_string()
    }

    fn problem(&self, problem: &SourceDiagnostic) -> String {
        let place = problem.span.id().map(|id| {
            let line = self.range(problem.span).and_then(|range| {
                let bytes = self.files.get(&Self::name(id))?;
                Some(bytes.iter().take(range.start).filter(|b| **b == b'\n').count() + 1)
            });
            match line {
                Some(line) => format!("{}:{line}: ", Self::name(id)),
                None => format!("{}: ", Self::name(id)),
            }
        });
        format!("{}{}", place.unwrap_or_default(), problem.message)
    }
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &self.book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let bytes = self.file(id)?;
        let text = std::str::from_utf8(&bytes).map_err(|_| FileError::InvalidUtf8)?;
        Ok(Source::new(id, text.into()))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let name = Self::name(id);
        self.files.get(&name).cloned().ok_or_else(|| FileError::NotFound(name.into()))
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.fonts.get(index).cloned()
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}
