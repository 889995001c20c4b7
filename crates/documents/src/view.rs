//! What the templates see: every number already written as a person reads it.

mod glossary;
mod goods;
mod handing;
mod quote;

use crate::drawing::Drawing;
use crate::pdf::Matter;
use crate::{bench_view, cloth_view, sheet_drawing};
pub(crate) use quote::sentence;
use rust_decimal::Decimal;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use trade::hints::Hint;
use trade::kinds::Extent;
use trade::lays::ClothLay;
use trade::message::message;
use trade::money;
use trade::part::{Developed, Part, Stuff};
use trade::piece::Piece;
use trade::plan::Plan;
use words::Voice;

/// Drawings by file name, as they are drawn.
#[derive(Default)]
pub(crate) struct Sheets {
    files: BTreeMap<String, Drawing>,
}

impl Sheets {
    pub fn add(&mut self, drawing: &Drawing) -> Value {
        let name = format!("drawing-{}.svg", self.files.len() + 1);
        self.files.insert(name.clone(), drawing.clone());
        json!({ "file": name, "width": drawing.width, "height": drawing.height })
    }

    /// With the data that names them.
    pub fn matter(self, data: Value) -> Matter {
        Matter { data, drawings: self.files, pictures: BTreeMap::new() }
    }
}

/// Data and drawings of a plan.
pub fn view(plan: &Plan, hints: &[Hint]) -> Matter {
    let mut sheets = Sheets::default();
    let job = &plan.job;
    let voice = words::of(job);
    let (building, more_goods) = goods::building(plan);
    let data = json!({
        "version": 2, "words": voice.papers(), "lang": voice.tag(),
        "job": {
            "name": job.name, "number": job.number, "currency": job.currency,
            "date_long": date(&voice, &job.date), "valid_long": date(&voice, &job.valid_until),
            "due_long": date(&voice, &job.due), "assumptions": quote::assumptions(plan),
            "place": job.place.map_or("", |place| place.name), "paper": if job.letter_paper { "us-letter" } else { "a4" },
            "unit": job.style.unit.sign(),
        },
        "customer": { "name": job.customer.name, "address": job.customer.address, "contact": job.customer.contact },
        "shop": {
            "name": job.shop.name, "address": job.shop.address, "phone": job.shop.phone, "mail": job.shop.mail,
            "tax_number": job.shop.tax_number, "terms": job.shop.terms, "conditions": job.shop.conditions,
            "logo": Value::Null,
        },
        "count": plan.developed.iter().map(|d| d.count).sum::<usize>(),
        "pieces": quote::pieces(plan, &mut sheets), "not_included": quote::not_included(plan),
        "price": quote::price(plan, &plan.price), "choices": quote::choices(plan), "swatches": quote::swatches(plan),
        "front": handing::front(plan, &mut sheets), "building": building, "more_goods": more_goods,
        "watch": handing::watch(plan), "orders": goods::orders(plan),
        "cloths": plan.lays.cloths.iter().map(|lay| cloth_view::cloth(plan, lay, &mut sheets)).collect::<Vec<_>>(),
        "sheets": sheet_plans(plan, &mut sheets),
        "parts": goods::part_list(plan),
        "tags": handing::tags(plan), "kept": handing::kept(plan),
        "bench": bench_view::bench(plan, &mut sheets),
        "fitting": handing::fitting(plan), "take_along": handing::take_along(plan),
        "glossary": glossary::words(&voice, &mut sheets), "marks": glossary::marks(&voice, &mut sheets),
        "hours": hours_by_piece(plan),
        "warnings": plan.warnings().iter().map(|w| json!({ "about": w.about, "what": voice.say(&w.what), "remedy": voice.say(&w.remedy) })).collect::<Vec<_>>(),
        "near_misses": hints.iter().map(|h| json!({
            "what": voice.say(&h.what), "gives_up": voice.say(&h.gives_up), "saves": amount(plan, h.saves),
            "cloths": voice.say(&h.effect(job)),
        })).collect::<Vec<_>>(),
        "evidence": handing::evidence(plan),
        "materials": goods::materials(plan),
    });
    sheets.matter(data)
}

fn amount(plan: &Plan, amount: rust_decimal::Decimal) -> String {
    format!("{} {}", plan.job.currency, grouped(&money::show(amount)))
}

/// `3329.38` as `3,329.38`.
pub(crate) fn grouped(text: &str) -> String {
    let (minus, rest) = text.strip_prefix('-').map_or(("", text), |r| ("-", r));
    let (whole, part) = rest.split_once('.').unwrap_or((rest, ""));
    let mut out = String::new();
    for (i, c) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(c);
    }
    if part.is_empty() { format!("{minus}{out}") } else { format!("{minus}{out}.{part}") }
}

/// How large a piece is when it is done, and what is cut out of it.
pub(crate) fn finished(plan: &Plan, piece: &Piece, made: &Developed) -> String {
    let style = &plan.job.style;
    let foam = plan.job.foam_of(piece).map(|foam| foam.thickness);
    let voice = words::of(&plan.job);
    let mut text = match piece.kind.of().extent(made.finished, foam) {
        Extent::Sizes(sizes) => match &sizes[..] {
            [first @ .., last] => {
                let first = first.iter().map(|size| style.chalk_number(*size));
                first.chain([style.chalk(*last)]).collect::<Vec<_>>().join(" × ")
            }
            [] => String::new(),
        },
        Extent::Cuts(n) => voice.say(&message("extent-cuts").count("count", n)),
        Extent::Runs(n, length) => {
            voice.say(&message("extent-runs").count("count", n).chalk("length", length))
        }
    };
    if !made.cut_outs.is_empty() {
        let what: Vec<&str> = made.cut_outs.iter().map(|c| c.what.as_str()).collect();
        text += &voice.say(&message("extent-opening").text("what", what.join(", ")));
    }
    text
}

pub(crate) fn part_name(voice: &Voice, part: &Part) -> String {
    let name = voice.say(&part.name);
    part.hand.map_or(name.clone(), |hand| format!("{name}, {hand}"))
}

fn sheet_plans(plan: &Plan, sheets: &mut Sheets) -> Vec<Value> {
    let style = &plan.job.style;
    plan.lays
        .sheets
        .iter()
        .map(|lay| {
            let goods = match lay.stuff {
                Stuff::Foam => &plan.job.foams[lay.material],
                _ => &plan.job.boards[lay.material],
            };
            // Sheets cut alike are drawn once.
            let mut drawn: Vec<(&lay::sheets::CutSheet, usize)> = Vec::new();
            for sheet in &lay.cutting.sheets {
                let alike = |other: &lay::sheets::CutSheet| {
                    other.sheet == sheet.sheet
                        && other.cuts.len() == sheet.cuts.len()
                        && other.cuts.iter().zip(&sheet.cuts).all(|(a, b)| (a.part, a.x, a.y, a.turned) == (b.part, b.x, b.y, b.turned))
                };
                match drawn.iter_mut().find(|d| alike(d.0)) {
                    Some(found) => found.1 += 1,
                    None => drawn.push((sheet, 1)),
                }
            }
            let plans: Vec<Value> = drawn
                .into_iter()
                .map(|(sheet, count)| {
                    let (one_in, drawing) = sheet_drawing::draw(style, lay, sheet, 92.0, 49.0);
                    let kind = &lay.sheets[sheet.sheet];
                    json!({
                        "count": count, "scale": cloth_view::scale(one_in), "drawing": sheets.add(&drawing),
                        "size": format!("{} × {}", style.number(kind.width), style.show(kind.height)),
                        "offcut": kind.on_hand.is_some(),
                    })
                })
                .collect();
            let parts: Vec<Value> = lay
                .parts
                .iter()
                .map(|laid| {
                    json!({
                        "id": laid.part.id, "count": laid.part.count, "piece": plan.developed[laid.developed].label,
                        "size": laid.part.printed(style),
                        "shaped": laid.part.outline.outer.nodes.len() != 4,
                        "holes": laid.part.outline.holes.len(),
                    })
                })
                .collect();
            json!({
                "name": goods.name, "stuff": if lay.stuff == Stuff::Foam { "foam" } else { "board" },
                "thickness": style.show(goods.thickness), "kerf": style.show(goods.kerf), "grain": goods.grain,
                "firmness": goods.firmness, "plans": plans, "parts": parts,
            })
        })
        .collect()
}

/// Every cloth part as it is laid, with the lay's own pieced parts.
pub(crate) fn laid_parts(plan: &Plan) -> impl Iterator<Item = (&ClothLay, &trade::lays::LaidPart)> {
    plan.lays.cloths.iter().flat_map(|lay| lay.parts.iter().map(move |part| (lay, part)))
}

/// Minutes as `3 h 20`.
pub(crate) fn hours(minutes: Decimal) -> String {
    use rust_decimal::prelude::ToPrimitive;
    let whole = minutes.round().to_i64().unwrap_or(0);
    if whole < 60 { format!("{whole} min") } else { format!("{} h {:02}", whole / 60, whole % 60) }
}

/// Hours of each piece, and of work that belongs to none.
fn hours_by_piece(plan: &Plan) -> Vec<Value> {
    let voice = words::of(&plan.job);
    let minutes =
        |tasks: &[&trade::labour::Task]| -> Decimal { tasks.iter().map(|t| t.minutes).sum() };
    let line = |number: String, piece: &str, count: usize, tasks: Vec<&trade::labour::Task>| {
        let steps: Vec<String> = tasks
            .iter()
            .map(|t| {
                let night = if t.night { voice.word("outside-hours") } else { String::new() };
                format!("{}{night} {}", voice.say(&t.step), hours(t.minutes))
            })
            .collect();
        let all = minutes(&tasks);
        json!({
            "number": number, "piece": piece, "all": hours(all), "steps": steps.join(", "),
            "each": if count > 1 { hours(all / Decimal::from(count)) } else { String::new() },
        })
    };
    let mut lines: Vec<Value> = Vec::new();
    for (i, made) in plan.developed.iter().enumerate() {
        let tasks: Vec<_> = plan.labour.iter().filter(|t| t.developed == Some(i)).collect();
        if !tasks.is_empty() {
            lines.push(line(
                plan.job.pieces[made.piece].number.to_string(),
                &made.label,
                made.count,
                tasks,
            ));
        }
    }
    for task in plan.labour.iter().filter(|t| t.developed.is_none()) {
        let whole = voice.say(&task.step);
        let name = if task.piece.is_empty() { &whole } else { &task.piece };
        lines.push(line(String::new(), name, 1, vec![task]));
    }
    lines
}

/// A date written out: `25 November 2026`; what is no date stays as it is.
pub(crate) fn date(voice: &Voice, text: &str) -> String {
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts[..] else { return text.to_string() };
    let (Ok(month), Ok(day)) = (month.parse::<usize>(), day.parse::<usize>()) else {
        return text.to_string();
    };
    let months = voice.word("months");
    let Some(name) = months.split(' ').nth(month.wrapping_sub(1)) else { return text.to_string() };
    voice.say(&message("date-long").count("day", day).text("month", name).text("year", year))
}
