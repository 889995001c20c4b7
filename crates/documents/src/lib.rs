//! A plan drawn: one drawing vocabulary ([`drawing`]), written as SVG by hand and as PDF through
//! templates that a shop may replace ([`pdf`]).
//!
//! Reads no file and no clock: templates that replace the built-in ones are handed in.

mod bench_view;
mod cloth_on_screen;
mod cloth_view;
mod comparison;
pub mod drawing;
mod dxf;
mod edge;
mod figure;
pub mod full_size;
mod invoice;
mod label;
mod lay_drawing;
mod lay_labels;
mod letters;
mod papers;
mod part_drawing;
pub mod pdf;
pub mod photo_sheets;
pub mod screen;
mod sections;
mod sheet_drawing;
mod sketch;
mod solid;
mod survey;
pub mod svg;
mod touched;
mod view;

pub use cloth_view::{CutRow, cut_rows, way};
pub use invoice::{Change, change_note, invoice};
pub use papers::{Paper, Papers};
pub use sections::{OnMotif, Section, on_motif, sections};

use pdf::Matter;
use std::collections::BTreeMap;
use trade::compare::Table;
use trade::hints::Hint;
use trade::job::Job;
use trade::plan::Plan;

/// A file to be written.
#[derive(Clone, Debug, PartialEq)]
pub struct File {
    /// Path within the pack, `/` between folders.
    pub path: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// The workshop's papers, from the front sheet to the glossary, as one PDF; nothing of costs.
///
/// # Errors
/// A template that cannot be set, with its name, line and what is wrong; never for built-in ones.
pub fn job_pack(
    plan: &Plan,
    hints: &[Hint],
    templates: &BTreeMap<String, String>,
) -> Result<Vec<u8>, pdf::TemplateError> {
    Papers::of(plan, hints).set(Paper::Workshop, templates)?.pdf()
}

/// Cloths, widths and directions compared, as a PDF with a table and a plot for each cloth.
///
/// # Errors
/// A template that cannot be set; never for built-in ones.
pub fn comparison(
    job: &Job,
    tables: &[Table],
    templates: &BTreeMap<String, String>,
) -> Result<Vec<u8>, pdf::TemplateError> {
    let data = comparison::view(job, tables);
    pdf::set("comparison.typ", &Matter { data, ..Matter::default() }, templates)?.pdf()
}

/// Every cloth lay at true scale in millimetres: drawn for people, and in layers for a cutter, as SVG and
/// as DXF.
pub fn lay_files(plan: &Plan) -> Vec<File> {
    let names = file_names(plan.job.cloths.iter().map(|cloth| cloth.name.as_str()));
    let mut files = Vec::new();
    let mut add = |path: String, text: String| files.push(File { path, bytes: text.into_bytes() });
    for lay in &plan.lays.cloths {
        let name = &names[lay.cloth];
        for (i, text) in dxf::lays(plan, lay).into_iter().enumerate() {
            add(format!("lays/{name}-{}.dxf", i + 1), text);
        }
        for (i, drawing) in lay_drawing::true_scale(plan, lay).into_iter().enumerate() {
            add(format!("lays/{name}-{}.svg", i + 1), svg::write(&drawing));
        }
        for (i, layers) in lay_drawing::layers(plan, lay).iter().enumerate() {
            add(format!("lays/{name}-{}-cutter.svg", i + 1), svg::write_layers(layers));
        }
    }
    files
}

/// Every part at full size in millimetres, as SVG with layers and as DXF.
pub fn part_files(plan: &Plan) -> Vec<File> {
    let mut files = Vec::new();
    for part in plan.developed.iter().flat_map(|d| &d.parts) {
        let svg = svg::write_layers(&part_drawing::layers(part));
        files.push(File { path: format!("parts/{}.svg", part.id), bytes: svg.into_bytes() });
        let dxf = dxf::part(part);
        files.push(File { path: format!("parts/{}.dxf", part.id), bytes: dxf.into_bytes() });
    }
    files
}

/// Full-size templates of the parts wanted: sheets of an office printer, as one PDF.
///
/// # Errors
/// A template that cannot be set; never for the built-in one.
pub fn template_sheets(
    plan: &Plan,
    wanted: &[full_size::Wanted],
    paper: full_size::Paper,
) -> Result<Vec<u8>, pdf::TemplateError> {
    let pages = wanted.iter().flat_map(|w| full_size::sheets(plan, w, paper)).collect();
    paged(pages)
}

/// Sheets for measuring: each kind of piece in a job drawn once, with its measures lettered and room to
/// write them down.
///
/// # Errors
/// A template that cannot be set; never for the built-in one.
pub fn survey(job: &Job) -> Result<File, pdf::TemplateError> {
    let bytes = pdf::set("survey.typ", &survey::view(job), &BTreeMap::new())?.pdf()?;
    Ok(File { path: "survey.pdf".into(), bytes })
}

/// Drawings as the pages of a PDF, each page as large as its drawing.
///
/// # Errors
/// A template that cannot be set; never for the built-in one.
pub fn paged(pages: Vec<drawing::Drawing>) -> Result<Vec<u8>, pdf::TemplateError> {
    let mut sheets = view::Sheets::default();
    let pages: Vec<serde_json::Value> = pages.iter().map(|d| sheets.add(d)).collect();
    let data = serde_json::json!({ "pages": pages });
    pdf::set("pages.typ", &sheets.matter(data), &BTreeMap::new())?.pdf()
}

/// What is written on the plan of a length of cloth, for a check of it.
pub fn plan_texts(plan: &Plan, lay: &trade::lays::ClothLay, strip: &lay::Strip) -> Vec<String> {
    let sections = sections::sections(plan, lay, strip);
    let (_, rows) = lay_drawing::rows(plan, lay, strip, &sections);
    let texts = rows.into_iter().flat_map(|row| row.drawing.items);
    texts
        .filter_map(|item| match item {
            drawing::Item::Text { text, .. } => Some(text),
            _ => None,
        })
        .collect()
}

/// The box round a line of writing in a drawing: upper left and lower right corner, mm.
pub fn written(
    at: geometry::Point,
    size: f64,
    anchor: drawing::Anchor,
    turn: f64,
    bold: bool,
    text: &str,
) -> (geometry::Point, geometry::Point) {
    use geometry::Point;
    let (low, high) = label::text_frame(at, size, anchor, text, bold);
    // Upright, or turned a quarter to the left.
    let turned = |p: Point| match turn == 0.0 {
        true => p,
        false => Point::new(at.x + (p.y - at.y), at.y - (p.x - at.x)),
    };
    let (a, b) = (turned(low), turned(high));
    (Point::new(a.x.min(b.x), a.y.min(b.y)), Point::new(a.x.max(b.x), a.y.max(b.y)))
}

/// The longest name of a file, in letters.
const LONGEST_NAME: usize = 40;

/// Names as parts of file names, each its own: letters and digits of any script, hyphens between.
fn file_names<'a>(names: impl Iterator<Item = &'a str>) -> Vec<String> {
    let mut taken: Vec<String> = Vec::new();
    for name in names {
        let plain = plain(name);
        let numbered = (2..).map(|n| format!("{plain}-no{n}"));
        let free = std::iter::once(plain.clone()).chain(numbered).find(|n| !taken.contains(n));
        taken.push(free.unwrap_or(plain));
    }
    taken
}

fn plain(name: &str) -> String {
    let lower = name.to_lowercase();
    let words: Vec<&str> =
        lower.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let short: String = words.join("-").chars().take(LONGEST_NAME).collect();
    if short.is_empty() { "cloth".into() } else { short }
}

/// Names of the built-in page designs.
pub fn page_design_names() -> impl Iterator<Item = &'static str> {
    pdf::TEMPLATES.iter().map(|t| t.0)
}

/// Text of a built-in template, to start one's own from.
pub fn page_design(name: &str) -> Option<&'static str> {
    pdf::TEMPLATES.iter().find(|t| t.0 == name).map(|t| t.1)
}

#[cfg(test)]
mod tests {
    use super::file_names;

    #[test]
    fn every_cloth_has_files_of_its_own() {
        let names =
            ["Grün", "Gr-n", "gr n", "布 蕨", "布 石", "***", "", "Fern/../etc", "\u{1b}[31m"];
        let files = file_names(names.into_iter());
        for (i, name) in files.iter().enumerate() {
            assert!(!files[..i].contains(name), "{name}");
            assert!(name.chars().all(|c| c.is_alphanumeric() || c == '-') && !name.is_empty());
        }
        assert_eq!(files[0], "grün");
        assert_eq!(&files[1..3], ["gr-n", "gr-n-no2"]);
        let long = "x".repeat(3000);
        assert!(file_names([long.as_str()].into_iter())[0].len() < 50);
    }
}
