//! A lay as data for a screen that draws it itself: at any size, turned as the screen stands, its labels
//! never smaller than they can be read. Places in millimetres of cloth, face up: across from the left
//! selvedge, along from the cut end.

use crate::lay_drawing::{cloth_width, placed, shown_length};
use crate::lay_labels::{as_it_lies, has_top};
use crate::sections;
use geometry::Path;
use lay::{Stock, Strip};
use serde_json::{Value, json};
use trade::lays::ClothLay;
use trade::plan::Plan;
use trade::remnants;

/// Every strip of a lay.
pub fn strips(plan: &Plan, lay: &ClothLay) -> Vec<Value> {
    lay.answer.lay.strips.iter().enumerate().map(|(s, strip)| one(plan, lay, s, strip)).collect()
}

fn tenth(mm: f64) -> f64 {
    (mm * 10.0).round() / 10.0
}

fn one(plan: &Plan, lay: &ClothLay, number: usize, strip: &Strip) -> Value {
    let (left, right) = lay.instance.usable(strip.stock);
    let name = match strip.stock {
        Stock::OnHand(i) => lay.instance.on_hand[i].name.clone(),
        Stock::New(_) => String::new(),
    };
    let style = &plan.job.style;
    let kept = remnants::kept(lay).into_iter().filter(|kept| kept.strip == number).map(|kept| {
        let (low, high) = (kept.place.low.point(), kept.place.high.point());
        json!({
            "name": kept.id,
            "size": format!("{} × {}", style.chalk_number(kept.place.height()), style.chalk_number(kept.place.width())),
            "box": [tenth(low.x), tenth(low.y), tenth(high.x), tenth(high.y)],
        })
    });
    let flaws = lay.instance.flaws(strip.stock).iter().map(|flaw| {
        let (low, high) = (flaw.low.point(), flaw.high.point());
        json!([tenth(low.x), tenth(low.y), tenth(high.x), tenth(high.y)])
    });
    json!({
        "name": name,
        "wide": cloth_width(plan, lay, strip).mm(),
        "long": shown_length(lay, strip).mm(),
        "usable": [left.mm(), right.mm()],
        "parts": parts(plan, lay, strip),
        "kept": kept.collect::<Vec<_>>(),
        "flaws": flaws.collect::<Vec<_>>(),
        "motifs": motifs(lay, strip),
        "step": if style.unit.is_binary() { 914.4 } else { 1000.0 },
        "unit": if style.unit.is_binary() { "yd" } else { "m" },
    })
}

fn motifs(lay: &ClothLay, strip: &Strip) -> Value {
    let Some(pattern) = &lay.instance.pattern else { return Value::Null };
    let Some(along) = pattern.length else { return Value::Null };
    let first = lay.instance.motif(strip.stock).point();
    json!({
        "first": [tenth(first.x), tenth(first.y)],
        "along": along.mm(),
        "across": pattern.width.map(geometry::Length::mm),
        "half": pattern.drop == lay::Drop::Half,
    })
}

/// Parts in the order in which they are cut.
fn parts(plan: &Plan, lay: &ClothLay, strip: &Strip) -> Vec<Value> {
    let voice = words::of(&plan.job);
    let style = &plan.job.style;
    let order = sections::sections(plan, lay, strip)
        .into_iter()
        .flat_map(|section| section.groups.into_iter().flatten());
    order
        .enumerate()
        .map(|(n, index)| {
            let placement = &strip.placements[index];
            let part = &lay.parts[placement.item].part;
            let (along, across) = as_it_lies(part, placement.turn, style);
            let outline = placed(lay, placement);
            json!({
                "order": n + 1,
                "tag": part.id,
                "name": name(plan, &part.id, voice.say(&part.name)),
                "size": format!("{} × {}", style.number(along), style.number(across)),
                "top": has_top(part).then_some(placement.turn),
                "pinned": lay.instance.pinned(strip.stock, placement),
                "points": points(&outline),
            })
        })
        .collect()
}

/// The piece's name, and which of its parts it is if that does not go without saying.
fn name(plan: &Plan, tag: &str, part: String) -> String {
    let digits = tag.find(|c: char| !c.is_ascii_digit()).unwrap_or(tag.len());
    let number = tag[..digits].parse::<usize>().ok();
    match plan.job.pieces.iter().find(|piece| Some(piece.number) == number) {
        Some(piece) if tag.ends_with('A') => piece.name.clone(),
        Some(piece) => format!("{}, {part}", piece.name),
        None => part,
    }
}

fn points(outline: &Path) -> Vec<[f64; 2]> {
    let flat = outline.flatten();
    flat.points().iter().map(|p| [tenth(p.point().x), tenth(p.point().y)]).collect()
}
