//! Setting the pack: typst templates with the plan's data, to PDF.
//!
//! Templates see `data.json` and the drawings as files and nothing else. A shop replaces any of
//! them by handing in a text of the same name.

use crate::drawing::Drawing;
use crate::letters::FONTS;
use crate::svg;
use serde_json::Value;
use std::collections::BTreeMap;
use std::fmt;
use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration, Smart};
use typst::layout::{Frame, FrameItem, Point as Place};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World, WorldExt};
use typst_layout::PagedDocument;
use typst_pdf::PdfOptions;

/// Built-in templates by file name: those of papers, and what they share.
pub const TEMPLATES: [(&str, &str); 22] = [
    ("style.typ", include_str!("../templates/style.typ")),
    ("quote.typ", include_str!("../templates/quote.typ")),
    ("workshop.typ", include_str!("../templates/workshop.typ")),
    ("front.typ", include_str!("../templates/front.typ")),
    ("cutting.typ", include_str!("../templates/cutting.typ")),
    ("sheets.typ", include_str!("../templates/sheets.typ")),
    ("bench.typ", include_str!("../templates/bench.typ")),
    ("fitting.typ", include_str!("../templates/fitting.typ")),
    ("tags.typ", include_str!("../templates/tags.typ")),
    ("glossary.typ", include_str!("../templates/glossary.typ")),
    ("order.typ", include_str!("../templates/order.typ")),
    ("office.typ", include_str!("../templates/office.typ")),
    ("workings.typ", include_str!("../templates/workings.typ")),
    ("care.typ", include_str!("../templates/care.typ")),
    ("change.typ", include_str!("../templates/change.typ")),
    ("delivery.typ", include_str!("../templates/delivery.typ")),
    ("receipt.typ", include_str!("../templates/receipt.typ")),
    ("invoice.typ", include_str!("../templates/invoice.typ")),
    ("note.typ", include_str!("../templates/note.typ")),
    ("comparison.typ", include_str!("../templates/comparison.typ")),
    ("pages.typ", include_str!("../templates/pages.typ")),
    ("survey.typ", include_str!("../templates/survey.typ")),
];

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

/// What a template is set from.
#[derive(Clone, Debug, Default)]
pub struct Matter {
    /// Seen by the templates as `data.json`.
    pub data: Value,
    /// Drawings by file name.
    pub drawings: BTreeMap<String, Drawing>,
    /// Pictures by file name: a letterhead's sign, photographs.
    pub pictures: BTreeMap<String, Vec<u8>>,
}

/// A document that has been set.
pub struct Document(PagedDocument);

/// A page of a document, as a check of it needs it. Millimetres from the upper left corner.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sheet {
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
    /// Every run of text.
    pub texts: Vec<Run>,
    /// Every drawing: its file name, its upper left corner, its width.
    pub drawings: Vec<(String, (f64, f64), f64)>,
}

/// A run of text on a page.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// What it says.
    pub text: String,
    /// Height of the type in points.
    pub size: f64,
    /// Upper left corner of what is inked, mm.
    pub low: (f64, f64),
    /// Lower right corner, mm.
    pub high: (f64, f64),
}

/// Sets the document that starts at the template `main`.
///
/// # Errors
/// What the templates did wrong.
pub fn set(
    main: &str,
    matter: &Matter,
    templates: &BTreeMap<String, String>,
) -> Result<Document, TemplateError> {
    let mut files: BTreeMap<String, Bytes> = BTreeMap::new();
    for (name, text) in TEMPLATES {
        let text = templates.get(name).map_or(text, String::as_str);
        files.insert(name.into(), Bytes::from_string(text.to_string()));
    }
    for (name, drawing) in &matter.drawings {
        files.insert(name.clone(), Bytes::from_string(svg::write(drawing)));
    }
    for (name, bytes) in &matter.pictures {
        files.insert(name.clone(), Bytes::new(bytes.clone()));
    }
    files.insert("data.json".into(), Bytes::from_string(matter.data.to_string()));
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
    typst::compile(&desk).output.map(Document).map_err(|e| wrong(&e))
}

impl Document {
    /// As a PDF.
    ///
    /// # Errors
    /// What the writer could not do.
    pub fn pdf(&self) -> Result<Vec<u8>, TemplateError> {
        let options = PdfOptions {
            creator: Smart::Custom(Some("Clothwright".into())),
            tagged: false,
            ..PdfOptions::default()
        };
        typst_pdf::pdf(&self.0, &options).map_err(|problems| TemplateError {
            problems: problems.iter().map(|p| p.message.to_string()).collect(),
        })
    }

    /// Its pages, with what is written on them.
    pub fn pages(&self) -> Vec<Sheet> {
        let page = |page: &typst_layout::Page| {
            let size = page.frame.size();
            let mut sheet =
                Sheet { width: size.x.to_mm(), height: size.y.to_mm(), ..Sheet::default() };
            gather(&page.frame, Place::zero(), &mut sheet);
            sheet
        };
        self.0.pages().iter().map(page).collect()
    }
}

/// Everything written in a frame, wherever it lies in others.
fn gather(frame: &Frame, at: Place, sheet: &mut Sheet) {
    for (place, item) in frame.items() {
        let at = at + *place;
        match item {
            FrameItem::Group(group) => {
                let moved = Place::new(group.transform.tx, group.transform.ty);
                gather(&group.frame, at + moved, sheet);
            }
            FrameItem::Text(text) if !text.text.trim().is_empty() => {
                let ink = text.bbox();
                let corner = |p: Place| ((at.x + p.x).to_mm(), (at.y + p.y).to_mm());
                let (a, b) = (corner(ink.min), corner(ink.max));
                sheet.texts.push(Run {
                    text: text.text.to_string(),
                    size: text.size.to_pt(),
                    low: (a.0.min(b.0), a.1.min(b.1)),
                    high: (a.0.max(b.0), a.1.max(b.1)),
                });
            }
            FrameItem::Image(image, size, _) => {
                let name = image.alt().unwrap_or_default().to_string();
                sheet.drawings.push((name, (at.x.to_mm(), at.y.to_mm()), size.x.to_mm()));
            }
            _ => {}
        }
    }
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
