//! What the bench sheets show: figure, measures, parts, sketches, steps.

use crate::drawing::Drawing;
use crate::label::PT;
use crate::view::{Sheets, hours, laid_parts, part_name, sentence};
use crate::{cloth_view, edge, figure, part_drawing, sketch};
use geometry::Length;
use serde_json::{Value, json};
use trade::bench::{Step, cautions};
use trade::kinds::{Extent, Kind};
use trade::message::message;
use trade::part::{Meaning, Part, Stuff};
use trade::piece::Piece;
use trade::plan::Plan;
use trade::{develop, method, take_off};

/// Width of the column of pictures, and the height that pictures may take, mm.
const COLUMN: f64 = 88.0;
const TALLEST: f64 = 176.0;

/// Between two pictures side by side.
const GAP: f64 = 2.2;

/// A plain rectangle, whose two numbers say it all.
fn is_strip(part: &Part) -> bool {
    let plain = |m: Meaning| matches!(m, Meaning::Stitch | Meaning::Notch | Meaning::Centre);
    part.outline.outer.flatten().is_upright_rectangle()
        && part.marks.iter().all(|m| plain(m.meaning))
}

/// Cloth parts as they are laid (welt strips may have been cut in two); of a mirrored pair the left one.
fn cloth_parts(plan: &Plan, index: usize) -> Vec<&Part> {
    let as_laid = |part: &str| {
        let laid =
            laid_parts(plan).map(|(_, l)| l).find(|l| l.developed == index && l.part.id == part);
        laid.map(|l| &l.part)
    };
    plan.developed[index]
        .parts
        .iter()
        .filter(|p| p.stuff == Stuff::Cloth && !plan.developed[index].is_twin(p))
        .map(|p| as_laid(p.id.as_str()).unwrap_or(p))
        .collect()
}

/// A picture of the bench sheet.
pub struct Picture {
    title: String,
    scale: Option<f64>,
    drawing: Drawing,
}

/// Pictures in the order of the steps: covers, board and foam, section, corners and what else is folded.
fn pictures(plan: &Plan, index: usize) -> Vec<Picture> {
    let style = &plan.job.style;
    let voice = words::of(&plan.job);
    let made = &plan.developed[index];
    let piece = &plan.job.pieces[made.piece];
    let cloth = cloth_parts(plan, index);
    let shaped: Vec<&&Part> = cloth.iter().filter(|p| !is_strip(p)).collect();
    let mut pictures = Vec::new();
    let half = COLUMN / 2.0 - GAP;
    for (i, part) in shaped.iter().enumerate() {
        let (w, h) = match (i, shaped.len()) {
            (0, 1) => (COLUMN, 84.0),
            (0, 2 | 3) => (COLUMN, 60.0),
            _ => (half, 42.0),
        };
        let (one_in, drawing) = part_drawing::draw(style, part, w, h);
        let paired = part.hand == Some("left") && made.parts.iter().any(|p| made.is_twin(p));
        let id = if paired { "picture-of-left" } else { "picture-of" };
        let title = message(id).text("tag", &part.id).text("name", part_name(&voice, part));
        pictures.push(Picture { title: voice.say(&title), scale: Some(one_in), drawing });
    }
    let mut add = |id: &str, drawing: Option<Drawing>| {
        let title = voice.word(id);
        pictures.extend(drawing.map(|drawing| Picture { title, scale: None, drawing }));
    };
    add("picture-board-foam", edge::board_and_foam(plan, made, half));
    add("picture-edge", edge::covered(plan, piece, made, half));
    if matches!(piece.kind, Kind::CutPieces(_)) {
        let none = (Length::ZERO, Length::ZERO);
        add("picture-cuts", figure::draw(&piece.kind, none, style, (COLUMN, 92.0)));
    }
    for (title, drawing) in sketch::sketches(style, piece, made) {
        pictures.push(Picture { title, scale: None, drawing });
    }
    pictures
}

/// Pictures of a developed piece, with titles.
pub fn drawings(plan: &Plan, index: usize) -> Vec<(String, Drawing)> {
    pictures(plan, index).into_iter().map(|picture| (picture.title, picture.drawing)).collect()
}

/// Rows of pictures, two side by side where they fit; the last give way where the column is full.
fn in_rows(pictures: Vec<Picture>, tallest: f64) -> Vec<Vec<Picture>> {
    let caption = 14.0 * PT;
    let width = |p: &Picture| {
        p.drawing.width.max(crate::letters::width(&p.title, 9.5 * PT, true) + 14.0 * PT)
    };
    let mut rows: Vec<Vec<Picture>> = Vec::new();
    for picture in pictures {
        let fits = |row: &Vec<Picture>| {
            row.iter().map(|p| width(p) + GAP).sum::<f64>() + width(&picture) <= COLUMN
        };
        match rows.last_mut().filter(|row| fits(row)) {
            Some(row) => row.push(picture),
            None => rows.push(vec![picture]),
        }
    }
    let mut used = 0.0;
    let tall = |row: &Vec<Picture>| {
        row.iter().map(|p| p.drawing.height).fold(0.0, f64::max) + caption + GAP
    };
    rows.retain(|row| {
        let fits = used == 0.0 || used + tall(row) <= tallest;
        if fits {
            used += tall(row);
        }
        fits
    });
    rows
}

/// Cautions of all steps: the usual ones in one line, and those out of the ordinary.
fn told_cautions(steps: &[Step]) -> (Vec<&'static str>, Vec<&'static str>) {
    let mut ids: Vec<&'static str> = Vec::new();
    for caution in steps.iter().flat_map(|s| &s.cautions) {
        if !ids.contains(&caution.id) {
            ids.push(caution.id);
        }
    }
    let rare = [cautions::OVERHEAD, cautions::POWER, cautions::LIFT, cautions::CORD];
    ids.into_iter().partition(|id| !rare.contains(id))
}

/// Name and value of what is asked for first.
fn facts(plan: &Plan, piece: &Piece, index: usize) -> Vec<(String, String)> {
    let voice = words::of(&plan.job);
    let style = &plan.job.style;
    let made = &plan.developed[index];
    let a = develop::allowances(&plan.job, made);
    let is_stapled = made.quantities.staple_line > Length::ZERO;
    let mut all = Vec::new();
    let mut add = |id: &str, value: Option<String>| {
        all.extend(value.filter(|v| !v.is_empty()).map(|value| (voice.word(id), value)));
    };
    add("fact-cloth", piece.cloth.clone());
    add("fact-foam", piece.foam.clone());
    add("fact-board", piece.board.clone());
    add("fact-turn-under", is_stapled.then(|| style.show(a.turn_under)));
    add("fact-seam", (made.quantities.seam > Length::ZERO).then(|| style.show(a.seam)));
    let legs = take_off::legs(&plan.job, made).filter(|_| is_stapled);
    let edges = legs.and_then(|legs| {
        take_off::sold::named(take_off::sold::Sold::Staples, style, legs.edges.0, legs.edges.1)
    });
    add("fact-staples", edges.map(|legs| voice.say(&message("fact-legs").said("legs", legs))));
    let has_size = matches!(piece.kind.of().extent(made.finished, None), Extent::Sizes(_));
    let finished = (has_size && !piece.kind.is_cut_only()).then(|| {
        let (w, h) = made.finished;
        format!("{} × {}", style.chalk_number(w), style.chalk(h))
    });
    add("fact-finished", finished);
    all
}

/// A cut's number on the picture of a chair: its place in the list.
fn cut_number(piece: &Piece, part: &Part) -> Option<usize> {
    let Kind::CutPieces(chair) = &piece.kind else { return None };
    let name = part.name.as_typed()?;
    chair.cuts.iter().position(|cut| cut.name == name).map(|i| i + 1)
}

/// Each measure as it was typed, with its letter, in the order of measuring.
fn measured(piece: &Piece) -> Vec<Value> {
    let letters = piece.kind.letters();
    // What has no letter comes last.
    let mut typed: Vec<&(String, String)> = piece.typed.iter().collect();
    let place = |key: &str| letters.iter().position(|(_, m)| m.name == key);
    typed.sort_by_key(|(key, _)| place(key).unwrap_or(usize::MAX));
    let line = |(key, value): &(String, String)| {
        let letter = letters.iter().find(|(_, m)| m.name == key);
        json!([letter.map_or(String::new(), |l| l.0.to_string()), key.replace('_', " "), value])
    };
    typed.into_iter().map(line).collect()
}

/// How the sizes of a piece came about, each once.
fn workings(plan: &Plan, index: usize, cloth: &[&Part]) -> Vec<Value> {
    let voice = words::of(&plan.job);
    let own = plan.developed[index].workings.iter();
    let mut unique: Vec<Value> = Vec::new();
    for working in own.chain(cloth.iter().flat_map(|p| &p.workings)) {
        let told = json!([voice.say(&working.what), voice.working(working)]);
        if !unique.contains(&told) {
            unique.push(told);
        }
    }
    unique
}

fn legend(cloth: &[&Part], sheets: &mut Sheets, voice: &words::Voice) -> Vec<Value> {
    let mut legend: Vec<Value> = Vec::new();
    for part in cloth.iter().filter(|p| !is_strip(p)) {
        for (id, sample) in part_drawing::legend(part) {
            let word = voice.word(id);
            if !legend.iter().any(|l| l["word"] == word) {
                legend.push(json!({ "word": word, "drawing": sheets.add(&sample) }));
            }
        }
    }
    legend
}

pub fn bench(plan: &Plan, sheets: &mut Sheets) -> Vec<Value> {
    (0..plan.developed.len()).map(|index| one(plan, index, sheets)).collect()
}

fn one(plan: &Plan, index: usize, sheets: &mut Sheets) -> Value {
    let voice = words::of(&plan.job);
    let style = &plan.job.style;
    let made = &plan.developed[index];
    let piece = &plan.job.pieces[made.piece];
    let cloth = cloth_parts(plan, index);
    let steps = method::steps(&plan.job, made);
    let (usual, here) = told_cautions(&steps);
    let mut here: Vec<String> = here.into_iter().map(|id| voice.word(id)).collect();
    if !made.cut_outs.is_empty() {
        here.push(voice.word("caution-mirrored"));
    }
    let parts: Vec<Value> = cloth
        .iter()
        .map(|p| {
            // A mirrored pair stands in one line.
            let twin = made
                .parts
                .iter()
                .find(|t| p.hand == Some("left") && t.name == p.name && made.is_twin(t));
            let name = match twin {
                Some(_) => voice.say(&message("left-and-right").said("name", p.name.clone())),
                None => part_name(&voice, p),
            };
            let (id, count) = match twin {
                Some(twin) => (format!("{}, {}", p.id, twin.id), p.count + twin.count),
                None => (p.id.clone(), p.count),
            };
            let name = match cut_number(piece, p) {
                Some(number) => format!("{number}  {name}"),
                None => name,
            };
            json!({ "id": id, "name": name, "count": count, "size": p.printed(style) })
        })
        .collect();
    let rows = in_rows(pictures(plan, index), TALLEST - 5.0 * parts.len() as f64);
    let pictures: Vec<Vec<Value>> = rows
        .into_iter()
        .map(|row| {
            let one = |p: Picture| {
                json!({ "title": p.title, "scale": p.scale.map(cloth_view::scale), "drawing": sheets.add(&p.drawing) })
            };
            row.into_iter().map(one).collect()
        })
        .collect();
    let minutes: rust_decimal::Decimal =
        plan.labour.iter().filter(|t| t.developed == Some(index)).map(|t| t.minutes).sum();
    // Which staples and screws hold stands in the steps.
    let told = |w: &&trade::fault::Fault| {
        w.about == made.label && !["staple-too-short", "screw-too-short"].contains(&w.code)
    };
    let own = plan.take_off.warnings.iter().filter(told);
    let warnings: Vec<Value> = made
        .warnings
        .iter()
        .chain(own)
        .map(|w| json!([sentence(&voice.say(&w.what)).trim_end_matches('.'), voice.say(&w.remedy)]))
        .collect();
    json!({
        "label": made.label, "number": plan.job.pieces[made.piece].number, "index": index, "kind": piece.kind.name(), "count": made.count,
        "place": piece.place, "note": piece.note, "code": Value::Null,
        "facts": facts(plan, piece, index),
        "usual": usual.into_iter().map(|id| voice.word(id)).collect::<Vec<_>>(), "here": here, "warnings": warnings,
        "measured": measured(piece), "pictures": pictures, "parts": parts,
        "legend": legend(&cloth, sheets, &voice), "workings": workings(plan, index, &cloth),
        "steps": steps.iter().map(|s| json!({
            "title": voice.say(&s.title()), "text": voice.say(&s.text),
        })).collect::<Vec<_>>(),
        "hours": hours(minutes),
    })
}
