//! Drawings for a page on a screen.

use crate::drawing::Drawing;
pub use crate::lay_drawing::Handles;
use crate::{figure, lay_drawing, sheet_drawing, svg};
use geometry::Length;
use trade::job::Job;
use trade::lays::{ClothLay, SheetLay};
use trade::piece::Piece;
use trade::plan::Plan;

/// The finished piece with its measures lettered, as SVG to set in a page; empty if there is nothing to
/// draw.
pub fn piece(job: &Job, piece: &Piece) -> String {
    let thickness = (
        job.foam_of(piece).map_or(Length::ZERO, |f| f.thickness),
        job.board_of(piece).map_or(Length::ZERO, |b| b.thickness),
    );
    let kind = trade::develop::with_its_width(piece);
    let drawing = figure::draw(&kind, thickness, &job.style, (96.0, 62.0));
    let label = format!("{}, finished, with its measures lettered", kind.name());
    drawing.map(|d| svg::inline(&d, &label)).unwrap_or_default()
}

/// The finished piece in the page's colours, each measure a group of its own.
/// Empty if there is nothing to draw.
pub fn touched(job: &Job, piece: &Piece, label: &str) -> String {
    let thickness = (
        job.foam_of(piece).map_or(Length::ZERO, |f| f.thickness),
        job.board_of(piece).map_or(Length::ZERO, |b| b.thickness),
    );
    let kind = trade::develop::with_its_width(piece);
    let drawn = figure::apart(&kind, thickness, &job.style, (96.0, 62.0));
    drawn.map(|(d, arrows)| crate::touched::picture(&d, &arrows, label)).unwrap_or_default()
}

/// A kind's small picture without its measures, for a row of a list.
pub fn icon(job: &Job, piece: &Piece) -> String {
    let thickness = (
        job.foam_of(piece).map_or(Length::ZERO, |f| f.thickness),
        job.board_of(piece).map_or(Length::ZERO, |b| b.thickness),
    );
    let kind = trade::develop::with_its_width(piece);
    let drawn = figure::bare(&kind, thickness, &job.style, (20.0, 16.0));
    drawn.map(|d| crate::touched::picture(&d, &[], "")).unwrap_or_default()
}

/// Every strip of a lay, drawn in one row each, as SVG files.
pub fn lay(plan: &Plan, lay: &ClothLay) -> Vec<String> {
    lay_drawing::screen(plan, lay).iter().map(svg::write).collect()
}

/// Every strip of a lay as data for a page that draws it itself.
pub fn strips(plan: &Plan, lay: &ClothLay) -> Vec<serde_json::Value> {
    crate::cloth_on_screen::strips(plan, lay)
}

/// Every strip of a lay as SVG to set in a page, with the size of its drawing and where its parts are
/// in it.
pub fn lay_to_hold(plan: &Plan, lay: &ClothLay) -> Vec<(String, (f64, f64), Handles)> {
    let name = &plan.job.cloths[lay.cloth].name;
    let drawn = lay_drawing::screen(plan, lay);
    drawn
        .iter()
        .zip(&lay.answer.lay.strips)
        .map(|(drawing, strip)| {
            let svg = svg::inline(drawing, &format!("parts laid on {name}"));
            (svg, (drawing.width, drawing.height), lay_drawing::handles(plan, lay, strip))
        })
        .collect()
}

/// Every sheet of foam or board as an SVG file.
pub fn sheets(plan: &Plan, lay: &SheetLay) -> Vec<String> {
    let drawn = |sheet| sheet_drawing::draw(&plan.job.style, lay, sheet, 128.0, 84.0).1;
    lay.cutting.sheets.iter().map(|sheet| svg::write(&drawn(sheet))).collect()
}

/// Pictures of the parts and sketches of a developed piece, with their titles.
pub fn bench(plan: &Plan, index: usize) -> Vec<(String, String)> {
    crate::bench_view::drawings(plan, index)
        .into_iter()
        .map(|(title, drawing): (String, Drawing)| {
            let svg = svg::inline(&drawing, &title);
            (title, svg)
        })
        .collect()
}
