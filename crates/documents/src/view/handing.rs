//! Front sheet, tags, fitting: what goes with the work from the bench to its place.

use super::{Sheets, laid_parts, part_name};
use crate::sections;
use geometry::Length;
use serde_json::{Value, json};
use trade::kinds::Kind;
use trade::message::message;
use trade::part::{Developed, Part, Stuff};
use trade::piece::Fixing;
use trade::plan::Plan;
use trade::remnants;
use trade::take_off;

/// Past this nobody pins tags by hand.
const MOST_TAGS: usize = 400;

/// Past this a piece's screws are one line.
const MOST_SCREWS: usize = 60;

/// A part narrower than this is a strip: 8 in.
const NARROW: Length = Length::from_inch_64ths(8 * 64);

/// So many warnings stand on the front sheet; the others on their bench sheets.
const MOST_WARNINGS: usize = 5;

/// A line for each developed piece: what is done of it.
pub fn front(plan: &Plan, sheets: &mut Sheets) -> Vec<Value> {
    plan.developed
        .iter()
        .enumerate()
        .map(|(index, made)| {
            let piece = &plan.job.pieces[made.piece];
            let q = &made.quantities;
            let is_sewn = piece.kind.is_sewn()
                || q.welt > Length::ZERO
                || q.seam > Length::ZERO
                || !made.widths.is_empty();
            let has_foam = plan.job.foam_of(piece).is_some();
            let has_cloth = made.parts.iter().any(|p| p.stuff == Stuff::Cloth);
            let is_covered = q.staple_line > Length::ZERO && !piece.kind.is_sewn();
            json!({
                "number": plan.job.pieces[made.piece].number, "index": index, "name": made.label, "count": made.count,
                "cloth": piece.cloth, "place": piece.place,
                "figure": super::quote::small(plan, piece, sheets),
                "stages": [piece.strip, has_foam, has_cloth, is_sewn, is_covered, true, true],
            })
        })
        .collect()
}

/// What to watch on this job, from its warnings: the same one of several pieces once.
pub fn watch(plan: &Plan) -> Vec<Value> {
    let voice = words::of(&plan.job);
    let mut all: Vec<(Vec<String>, String)> = Vec::new();
    for warning in plan.warnings() {
        let text = voice.say(&warning.what);
        match all.iter_mut().find(|(_, said)| *said == text) {
            Some((about, _)) => about.push(warning.about.clone()),
            None => all.push((vec![warning.about.clone()], text)),
        }
    }
    let many = all.len() > MOST_WARNINGS;
    all.truncate(if many { MOST_WARNINGS - 1 } else { MOST_WARNINGS });
    let mut lines: Vec<Value> = all
        .into_iter()
        .map(|(about, text)| json!([about.join(", "), super::quote::sentence(&text)]))
        .collect();
    if many {
        lines.push(json!([voice.word("watch-more"), voice.word("watch-more-where")]));
    }
    lines
}

/// Tags to pin on: one for each cover, one for each piece's lot of equal strips; one for each board.
pub fn tags(plan: &Plan) -> Vec<Value> {
    let voice = words::of(&plan.job);
    let style = &plan.job.style;
    let mut tags = Vec::new();
    let tag = |part: &Part, made: &Developed, which: String, arrow: bool| {
        let piece = &plan.job.pieces[made.piece];
        json!({
            "id": part.id, "which": which, "piece": made.label, "name": part_name(&voice, part),
            "place": piece.place, "material": part.material, "size": part.printed(style), "arrow": arrow,
        })
    };
    for (_, laid) in laid_parts(plan) {
        let (part, made) = (&laid.part, &plan.developed[laid.developed]);
        // Strips of a sewn piece stay together.
        let is_strip = made.parts.len() > 2 && part.size().0.min(part.size().1) < NARROW;
        if part.is_small() || is_strip {
            let lots = made.count.max(1);
            let each = part.count.div_ceil(lots);
            for n in 1..=lots {
                let which = message("tag-lot").count("each", each).count("n", n).count("of", lots);
                tags.push(tag(part, made, voice.say(&which), false));
            }
            continue;
        }
        let arrow = crate::lay_labels::has_top(part);
        for n in 1..=part.count {
            let which = message("tag-one").count("n", n).count("of", part.count);
            let which = match part.hand {
                Some(hand) => voice.say(&message("tag-hand").text("hand", hand)),
                None => voice.say(&which),
            };
            tags.push(tag(part, made, which, arrow));
        }
    }
    for made in &plan.developed {
        for part in made.parts.iter().filter(|p| p.stuff == Stuff::Board) {
            let which = message("tag-board").count("count", part.count);
            tags.push(tag(part, made, voice.say(&which), true));
        }
    }
    tags.truncate(MOST_TAGS);
    tags
}

/// Labels of what is kept.
pub fn kept(plan: &Plan) -> Vec<Value> {
    let style = &plan.job.style;
    let mut all = Vec::new();
    for lay in &plan.lays.cloths {
        for kept in remnants::kept(lay) {
            let strip = &lay.answer.lay.strips[kept.strip];
            let from = style.place(Length::from_nm(kept.place.low.y));
            let sections = sections::sections(plan, lay, strip);
            let section = sections.iter().rposition(|s| s.from <= from).unwrap_or(0);
            let size = |l: Length| style.number(l.round_down(style.mark));
            all.push(json!({
                "id": kept.id, "cloth": plan.job.cloths[lay.cloth].name, "section": format!("S{}", section + 1),
                "size": format!("{} × {} {}", size(kept.place.height()), size(kept.place.width()), style.unit.sign()),
            }));
        }
    }
    all
}

/// What is taken along to fit the work.
pub fn take_along(plan: &Plan) -> String {
    let voice = words::of(&plan.job);
    let any = |wanted: &dyn Fn(&Fixing) -> bool| {
        plan.job.pieces.iter().any(|p| p.fixing.as_ref().is_some_and(wanted))
    };
    let mut all = vec!["take-level"];
    if any(&|f| matches!(f, Fixing::Screws { .. })) {
        all.push("take-screws");
    }
    if any(&|f| matches!(f, Fixing::Screws { through_face: true, .. })) {
        all.push("take-caps");
    }
    if any(&|f| matches!(f, Fixing::Cleat)) {
        all.push("take-cleats");
    }
    if any(&|f| matches!(f, Fixing::Clips(_))) {
        all.push("take-clips");
    }
    all.push("take-rest");
    let list: Vec<String> = all.into_iter().map(|id| voice.word(id)).collect();
    super::quote::sentence(&list.join(", "))
}

/// Pieces that are fixed, hung or dropped in somewhere; cushions are only handed over.
pub fn fitting(plan: &Plan) -> Vec<Value> {
    let voice = words::of(&plan.job);
    let style = &plan.job.style;
    plan.developed
        .iter()
        .zip(&plan.take_off.weights)
        .filter_map(|(made, weight)| {
            let piece = &plan.job.pieces[made.piece];
            let how = match piece.fixing.as_ref()? {
                Fixing::Screws { count, through_face, .. } => {
                    let size = take_off::screw_size(&plan.job, made);
                    let way = if *through_face { "screws-through-face" } else { "screws-from-behind" };
                    message("fitting-screws")
                        .count("count", *count)
                        .said("size", size.unwrap_or_default())
                        .said("way", message(way))
                }
                Fixing::Clips(count) => message("fitting-clips").count("count", *count),
                Fixing::Cleat => message("fitting-cleat"),
                Fixing::Loose => message("fitting-loose"),
            };
            let unknown = || voice.word("weight-unknown");
            Some(json!({
                "label": made.label, "count": made.count, "place": piece.place, "how": voice.say(&how),
                "size": format!("{} × {}", style.chalk_number(made.finished.0), style.chalk(made.finished.1)),
                "weight": weight.piece.map_or_else(unknown, |kg| heavy(plan, kg)),
                "each": weight.each.map_or(String::new(), |kg| heavy(plan, kg)),
                "screws": screws(plan, made),
                "holes": made.cut_outs.iter().map(|c| c.what.clone()).collect::<Vec<_>>().join(", "),
            }))
        })
        .collect()
}

/// A line for every screw hole: where it is, if that was measured, and what goes back into it.
fn screws(plan: &Plan, made: &Developed) -> Vec<Value> {
    let style = &plan.job.style;
    let Some(Fixing::Screws { count, holes, .. }) = &plan.job.pieces[made.piece].fixing else {
        return Vec::new();
    };
    let size = take_off::screw_size(&plan.job, made).unwrap_or_default();
    let screw = words::of(&plan.job).say(&size);
    (0..(*count).min(MOST_SCREWS))
        .map(|i| {
            let (x, y) = match holes.get(i) {
                Some((x, y)) => (style.chalk_number(*x), style.chalk_number(*y)),
                None => (String::new(), String::new()),
            };
            json!({ "hole": format!("H{}", i + 1), "x": x, "y": y, "screw": screw })
        })
        .collect()
}

/// A weight as the job's trade writes it. Source: 1 lb = 0.453 592 37 kg, NIST SP 811.
fn heavy(plan: &Plan, kg: f64) -> String {
    if plan.job.style.unit.is_binary() {
        format!("{:.1} lb", kg / 0.453_592_37)
    } else {
        format!("{kg:.1} kg")
    }
}

/// What papers are usually asked for in a kind of place: prompts only, never a claim. Wall panels are
/// asked for their own.
pub fn evidence(plan: &Plan) -> Vec<String> {
    let job = &plan.job;
    let mut prompts = vec!["evidence-cloth"];
    prompts.extend(job.place.map(|place| place.asked_for(&job.country)).unwrap_or_default());
    if job.pieces.iter().any(|piece| matches!(piece.kind, Kind::WallGrid(_))) {
        prompts.push("evidence-wall");
    }
    prompts.extend(["evidence-foam", "evidence-ask"]);
    let voice = words::of(job);
    prompts.into_iter().map(|id| voice.word(id)).collect()
}
