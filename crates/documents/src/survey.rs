//! What the survey sheets show: a block for each kind of piece.

use crate::figure;
use crate::view::Sheets;
use geometry::Length;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use trade::job::Job;

/// A block for each piece of a job of examples, drawn with its measures.
pub fn view(job: &Job) -> (Value, BTreeMap<String, String>) {
    let mut sheets = Sheets::default();
    let kinds: Vec<Value> = job
        .pieces
        .iter()
        .map(|piece| {
            let thickness = (
                job.foam_of(piece).map_or(Length::ZERO, |f| f.thickness),
                job.board_of(piece).map_or(Length::ZERO, |b| b.thickness),
            );
            let drawing = figure::draw(&piece.kind, thickness, &job.style, (82.0, 52.0));
            let measures: Vec<Value> = piece
                .kind
                .letters()
                .into_iter()
                .map(|(letter, key)| json!([letter, key.name.replace('_', " "), key.how]))
                .collect();
            json!({
                "kind": piece.kind.name(), "example": piece.name, "measures": measures,
                "drawing": drawing.map(|d| sheets.add(&d)),
            })
        })
        .collect();
    let paper = if job.letter_paper { "us-letter" } else { "a4" };
    (json!({ "kinds": kinds, "paper": paper }), sheets.files)
}
