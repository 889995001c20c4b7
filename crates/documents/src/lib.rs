//! A plan drawn: one drawing vocabulary ([`drawing`]), written as SVG by hand and as PDF through
//! templates that a shop may replace ([`pdf`]).
//!
//! Reads no file and no clock: templates that replace the built-in ones are handed in.

mod bench_view;
mod cloth_view;
mod comparison;
pub mod drawing;
mod dxf;
mod figure;
pub mod full_size;
mod lay_drawing;
mod part_drawing;
pub mod pdf;
pub mod screen;
mod sheet_drawing;
mod sketch;
mod solid;
mod survey;
pub mod svg;
mod view;

pub use cloth_view::way;

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

/// The job pack as one PDF. `templates` replaces built-in templates by file name.
///
/// # Errors
/// A template that cannot be set, with its name, line and what is wrong; never for built-in ones.
pub fn job_pack(
    plan: &Plan,
    hints: &[Hint],
    templates: &BTreeMap<String, String>,
) -> Result<Vec<u8>, pdf::TemplateError> {
    let (data, drawings) = view::view(plan, hints);
    pdf::set("pack.typ", &data, &drawings, templates)
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
    pdf::set("comparison.typ", &comparison::view(job, tables), &BTreeMap::new(), templates)
}

/// Every cloth lay at true scale in millimetres: drawn for people, and in layers for a cutter, as SVG and
/// as DXF.
pub fn lay_files(plan: &Plan) -> Vec<File> {
    let mut files = Vec::new();
    for lay in &plan.lays.cloths {
        let name = plain(&plan.job.cloths[lay.cloth].name);
        for (i, text) in dxf::lays(plan, lay).into_iter().enumerate() {
            let path = format!("lays/{name}-{}.dxf", i + 1);
            files.push(File { path, bytes: text.into_bytes() });
        }
        for (i, drawing) in lay_drawing::true_scale(plan, lay).into_iter().enumerate() {
            files.push(File {
                path: format!("lays/{name}-{}.svg", i + 1),
                bytes: svg::write(&drawing).into_bytes(),
            });
        }
    }
    for lay in &plan.lays.cloths {
        let name = plain(&plan.job.cloths[lay.cloth].name);
        for (i, layers) in lay_drawing::layers(plan, lay).iter().enumerate() {
            let path = format!("lays/{name}-{}-cutter.svg", i + 1);
            files.push(File { path, bytes: svg::write_layers(layers).into_bytes() });
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
    let (data, drawings) = survey::view(job);
    let bytes = pdf::set("survey.typ", &data, &drawings, &BTreeMap::new())?;
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
    pdf::set("pages.typ", &data, &sheets.files, &BTreeMap::new())
}

/// A name as part of a file name: letters and digits, hyphens between.
fn plain(name: &str) -> String {
    let words: Vec<String> = name
        .split(|c: char| !c.is_ascii_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    if words.is_empty() { "cloth".into() } else { words.join("-") }
}

/// Names of the built-in page designs.
pub fn page_design_names() -> impl Iterator<Item = &'static str> {
    pdf::TEMPLATES.iter().map(|t| t.0)
}

/// Text of a built-in template, to start one's own from.
pub fn page_design(name: &str) -> Option<&'static str> {
    pdf::TEMPLATES.iter().find(|t| t.0 == name).map(|t| t.1)
}
