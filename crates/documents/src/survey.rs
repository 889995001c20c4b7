//! What the survey sheets show: a block for each kind of piece.

use crate::figure;
use crate::pdf::Matter;
use crate::view::Sheets;
use geometry::Length;
use serde_json::{Value, json};
use trade::job::Job;

/// A block for each piece of a job of examples, drawn with its measures.
pub fn view(job: &Job) -> Matter {
    let mut sheets = Sheets::default();
    let voice = words::of(job);
    let covered = [voice.word("survey-bare-board"), voice.word("survey-old-cover")];
    let sewn = [voice.word("survey-filling"), voice.word("survey-old-cover")];
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
                .map(|(letter, key)| {
                    // The radius of each of four corners.
                    let cells = if key.name == "radius" { 4 } else { 1 };
                    json!([letter, key.name.replace('_', " "), key.how, cells])
                })
                .collect();
            json!({
                "title": piece.name, "measures": measures,
                "measured_on": if piece.kind.is_sewn() { sewn.clone() } else { covered.clone() },
                "drawing": drawing.map(|d| sheets.add(&d)),
            })
        })
        .collect();
    let paper = if job.letter_paper { "us-letter" } else { "a4" };
    sheets.matter(json!({ "words": voice.papers(), "kinds": kinds, "job": { "name": voice.word("survey-sheets"), "number": "", "paper": paper } }))
}
