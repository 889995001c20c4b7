//! What the bench sheets show: figure, measures, parts, sketches, steps.

use crate::drawing::Drawing;
use crate::view::{Sheets, hours, laid_parts, part_name};
use crate::{cloth_view, figure, part_drawing, sketch};
use geometry::Length;
use serde_json::{Value, json};
use trade::part::{Meaning, Part, Stuff};
use trade::plan::Plan;
use trade::{develop, method};

/// Further parts stand in the cutting list only.
const MOST_PICTURES: usize = 11;

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

/// Parts with their scale, and sketches: title and drawing.
fn pictures(plan: &Plan, index: usize) -> Vec<(String, Option<f64>, Drawing)> {
    let style = &plan.job.style;
    let made = &plan.developed[index];
    let cloth = cloth_parts(plan, index);
    let mut pictures = Vec::new();
    for (i, part) in cloth.iter().take(MOST_PICTURES + 1).enumerate() {
        let (w, h) = match (i, is_strip(part)) {
            (_, true) => {
                let (w, h) = part.size();
                let slim = w > h * 3 || h > w * 3;
                if slim { (56.0, 24.0) } else { (46.0, 38.0) }
            }
            (0, false) if cloth.len() == 1 => (112.0, 84.0),
            (0, false) => (86.0, 62.0),
            _ => (66.0, 50.0),
        };
        let (one_in, drawing) = part_drawing::draw(style, part, w, h);
        let paired = made.parts.iter().any(|p| made.is_twin(p));
        let mirror = if part.hand == Some("left") && paired {
            "; the right one is its mirror image"
        } else {
            ""
        };
        let title = format!(
            "{} {} (× {}{mirror})",
            part.id,
            part_name(&words::of(&plan.job), part),
            part.count
        );
        pictures.push((title, Some(one_in), drawing));
    }
    for (title, drawing) in sketch::sketches(style, &plan.job.pieces[made.piece], made) {
        pictures.push((title, None, drawing));
    }
    pictures
}

/// Pictures of a developed piece, with titles.
pub fn drawings(plan: &Plan, index: usize) -> Vec<(String, Drawing)> {
    pictures(plan, index).into_iter().map(|(title, _, drawing)| (title, drawing)).collect()
}

pub fn bench(plan: &Plan, sheets: &mut Sheets) -> Vec<Value> {
    let voice = words::of(&plan.job);
    let style = &plan.job.style;
    plan.developed
        .iter()
        .enumerate()
        .map(|(index, made)| {
            let piece = &plan.job.pieces[made.piece];
            let cloth = cloth_parts(plan, index);
            let mut legend: Vec<Value> = Vec::new();
            for part in cloth.iter().take(MOST_PICTURES + 1) {
                for (word, sample) in part_drawing::legend(part) {
                    if !legend.iter().any(|l| l["word"] == word) {
                        legend.push(json!({ "word": word, "drawing": sheets.add(&sample) }));
                    }
                }
            }
            let pictures: Vec<Value> = pictures(plan, index)
                .into_iter()
                .map(|(title, scale, drawing)| {
                    json!({ "title": title, "scale": scale.map(cloth_view::scale), "drawing": sheets.add(&drawing) })
                })
                .collect();
            let thickness = (
                plan.job.foam_of(piece).map_or(Length::ZERO, |f| f.thickness),
                plan.job.board_of(piece).map_or(Length::ZERO, |b| b.thickness),
            );
            let figure = figure::draw(&develop::with_its_width(piece), thickness, style, (76.0, 46.0)).map(|d| sheets.add(&d));
            let letters = piece.kind.letters();
            // In the order of measuring; what has no letter after it.
            let mut typed: Vec<&(String, String)> = piece.typed.iter().collect();
            let place = |key: &str| letters.iter().position(|(_, m)| m.name == key);
            typed.sort_by_key(|(key, _)| place(key).unwrap_or(usize::MAX));
            let measured: Vec<Value> = typed
                .into_iter()
                .map(|(key, value)| {
                    let letter = letters.iter().find(|(_, m)| m.name == key);
                    json!([letter.map_or(String::new(), |l| l.0.to_string()), key, value])
                })
                .collect();
            let workings: Vec<Value> = made
                .workings
                .iter()
                .chain(cloth.iter().flat_map(|p| &p.workings))
                .map(|w| json!([voice.say(&w.what), voice.working(w)]))
                .collect();
            let mut unique: Vec<Value> = Vec::new();
            for working in workings {
                if !unique.contains(&working) {
                    unique.push(working);
                }
            }
            let minutes: rust_decimal::Decimal =
                plan.labour.iter().filter(|t| t.developed == Some(index)).map(|t| t.minutes).sum();
            json!({
                "label": made.label, "number": made.piece + 1, "kind": piece.kind.name(), "count": made.count,
                "place": piece.place, "note": piece.note, "cloth": piece.cloth, "foam": piece.foam, "board": piece.board,
                "finished": (!piece.kind.is_cut_only()).then(|| format!("{} × {}", style.chalk_number(made.finished.0), style.chalk(made.finished.1))),
                "measured": measured, "figure": figure,
                "pictures": pictures, "legend": legend, "workings": unique,
                "steps": method::steps(&plan.job, made).iter().map(|s| json!({
                    "title": voice.say(&s.title()), "text": voice.say(&s.text),
                    "cautions": s.cautions.iter().map(|c| voice.say(c)).collect::<Vec<_>>(),
                })).collect::<Vec<_>>(),
                "hours": hours(minutes),
                "turn_under": (made.quantities.staple_line > Length::ZERO)
                    .then(|| style.show(develop::allowances(&plan.job, made).turn_under)),
                "warnings": made.warnings.iter()
                    .chain(plan.take_off.warnings.iter().filter(|w| w.about == made.label))
                    .map(|w| json!([voice.say(&w.what), voice.say(&w.remedy)])).collect::<Vec<_>>(),
            })
        })
        .collect()
}
