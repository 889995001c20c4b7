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
mod lay_drawing;
mod part_drawing;
pub mod pdf;
mod sheet_drawing;
mod sketch;
mod solid;
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

/// Every cloth lay at true scale in millimetres, as SVG and as DXF.
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
    files
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

/// Names of the built-in templates.
pub fn template_names() -> impl Iterator<Item = &'static str> {
    pdf::TEMPLATES.iter().map(|t| t.0)
}

/// Text of a built-in template, to start one's own from.
pub fn template(name: &str) -> Option<&'static str> {
    pdf::TEMPLATES.iter().find(|t| t.0 == name).map(|t| t.1)
}
