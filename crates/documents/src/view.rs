//! What the templates see: every number already written as a person reads it.

use crate::drawing::Drawing;
use crate::{bench_view, cloth_view, sheet_drawing, svg};
use geometry::Length;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use trade::hints::Hint;
use trade::kinds::Extent;
use trade::lays::{ClothLay, told};
use trade::message::Message;
use trade::money;
use trade::part::{Developed, Part, Stuff};
use trade::piece::{Fixing, Piece};
use trade::plan::Plan;
use trade::price::{NO_RATE, Price};
use trade::rates::Rates;
use trade::take_off::{self, Source};
use words::Voice;

/// Drawings by file name, as they are drawn.
#[derive(Default)]
pub(crate) struct Sheets {
    pub files: BTreeMap<String, String>,
}

impl Sheets {
    pub fn add(&mut self, drawing: &Drawing) -> Value {
        let name = format!("drawing-{}.svg", self.files.len() + 1);
        self.files.insert(name.clone(), svg::write(drawing));
        json!({ "file": name, "width": drawing.width, "height": drawing.height })
    }
}

/// Data and drawings of a plan.
pub fn view(plan: &Plan, hints: &[Hint]) -> (Value, BTreeMap<String, String>) {
    let mut sheets = Sheets::default();
    let job = &plan.job;
    let voice = words::of(job);
    let data = json!({
        "job": {
            "name": job.name, "number": job.number, "date": job.date, "valid_until": job.valid_until,
            "due": job.due, "currency": job.currency, "assumptions": assumptions(plan),
            "place": job.place_kind, "paper": if job.letter_paper { "us-letter" } else { "a4" },
            "unit": job.style.unit.sign(),
        },
        "customer": { "name": job.customer.name, "address": job.customer.address, "contact": job.customer.contact },
        "shop": { "name": job.shop.name, "address": job.shop.address, "terms": job.shop.terms },
        "pieces": pieces(plan),
        "price": price(plan, &plan.price),
        "choices": choices(plan),
        "shopping": shopping(plan),
        "cloths": plan.lays.cloths.iter().map(|lay| cloth_view::cloth(plan, lay, &mut sheets)).collect::<Vec<_>>(),
        "sheets": sheet_plans(plan, &mut sheets),
        "parts": part_list(plan),
        "tags": tags(plan),
        "bench": bench_view::bench(plan, &mut sheets),
        "fitting": fitting(plan),
        "labour": labour(plan),
        "warnings": plan.warnings().iter().map(|w| json!({ "about": w.about, "what": voice.say(&w.what), "remedy": voice.say(&w.remedy) })).collect::<Vec<_>>(),
        "near_misses": hints.iter().map(|h| json!({
            "what": voice.say(&h.what), "gives_up": voice.say(&h.gives_up), "saves": amount(plan, h.saves),
            "cloths": voice.say(&h.effect(job)),
        })).collect::<Vec<_>>(),
        "evidence": evidence(&job.place_kind),
        "materials": materials(plan),
    });
    (data, sheets.files)
}

/// What the quote takes for granted: as the job has it, and as its lays show.
fn assumptions(plan: &Plan) -> Vec<String> {
    let voice = words::of(&plan.job);
    let told = plan.lays.cloths.iter().flat_map(|lay| told::assumed(&plan.job, lay));
    let told = told.map(|assumed| voice.say(&assumed));
    let sentence = |text: String| {
        let mut letters = text.chars();
        let first: String = letters.next().map(char::to_uppercase).into_iter().flatten().collect();
        format!("{first}{}.", letters.as_str().trim_end_matches('.'))
    };
    plan.job.assumptions.iter().cloned().chain(told.map(sentence)).collect()
}

/// What the care sheet names: cloths, foams and boards that something is cut from.
fn materials(plan: &Plan) -> Vec<Value> {
    let job = &plan.job;
    let cloths = plan.lays.cloths.iter().map(|lay| {
        let cloth = &job.cloths[lay.cloth];
        json!({ "name": cloth.name, "supplier": cloth.supplier, "kind": "cloth" })
    });
    let sheets = plan.lays.sheets.iter().map(|lay| {
        let goods = match lay.stuff {
            Stuff::Foam => &job.foams[lay.material],
            _ => &job.boards[lay.material],
        };
        json!({ "name": goods.name, "supplier": goods.supplier, "kind": "sheet" })
    });
    cloths.chain(sheets).collect()
}

fn amount(plan: &Plan, amount: rust_decimal::Decimal) -> String {
    format!("{} {}", plan.job.currency, grouped(&money::show(amount)))
}

/// `3329.38` as `3,329.38`.
fn grouped(text: &str) -> String {
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
    let s = |n: usize| if n == 1 { "" } else { "s" };
    let mut text = match piece.kind.of().extent(made.finished, foam) {
        Extent::Sizes(sizes) => match &sizes[..] {
            [first @ .., last] => {
                let first = first.iter().map(|size| style.chalk_number(*size));
                first.chain([style.chalk(*last)]).collect::<Vec<_>>().join(" × ")
            }
            [] => String::new(),
        },
        Extent::Cuts(n) => format!("{n} cut{}", s(n)),
        Extent::Runs(n, length) => format!("{n} run{}, {} in all", s(n), style.chalk(length)),
    };
    if !made.cut_outs.is_empty() {
        let what: Vec<&str> = made.cut_outs.iter().map(|c| c.what.as_str()).collect();
        text += &format!(", opening for {}", what.join(", "));
    }
    text
}

/// The lines of the survey as the customer sees them.
fn pieces(plan: &Plan) -> Vec<Value> {
    plan.job
        .pieces
        .iter()
        .enumerate()
        .map(|(i, piece)| {
            let made: Vec<&Developed> = plan.developed.iter().filter(|d| d.piece == i).collect();
            let size = made.first().map(|d| finished(plan, piece, d));
            let count: usize = made.iter().map(|d| d.count).sum();
            json!({
                "number": i + 1, "name": piece.name, "place": piece.place, "kind": piece.kind.name(),
                "count": count, "size": size.unwrap_or_default(),
                "cloth": piece.cloth.as_deref().map(|name| {
                    let own = plan.job.cloth(name).is_some_and(|c| c.customers_own);
                    if own { format!("{name} (yours)") } else { name.to_string() }
                }),
                "found": piece.found, "note": piece.note,
            })
        })
        .collect()
}

fn price(plan: &Plan, price: &Price) -> Value {
    let show = |a| amount(plan, a);
    let voice = words::of(&plan.job);
    json!({
        "groups": price.groups().iter().map(|(g, a)| json!([voice.say(&g.name()), show(*a)])).collect::<Vec<_>>(),
        "lines": price.lines.iter().map(|l| json!({
            "group": voice.say(&l.group.name()), "class": l.class.name(),
            "what": voice.say(&l.what), "why": voice.say(&l.why),
            "cost": l.cost.map(&show), "amount": show(l.amount),
        })).collect::<Vec<_>>(),
        "net": price.whole().map_or_else(|| voice.word(NO_RATE), |_| show(price.net)),
        "taxes": price.taxes.iter().filter(|_| price.whole().is_some()).map(|(rate, on, tax)| json!([
            format!("{} {} % of {}", plan.job.rates.tax.name, rate.normalize(), show(*on)), show(*tax)
        ])).collect::<Vec<_>>(),
        "rounding": price
            .whole()
            .filter(|_| !price.rounding.is_zero())
            .map(|_| show(price.rounding)),
        "total": price.whole().map_or_else(|| voice.word(NO_RATE), show),
        "deposit": price.first().map(show),
        "has_deposit": price.first().is_some_and(|deposit| !deposit.is_zero()),
        "deposit_why": voice.say(&price.deposit_why),
        "balance": show(price.total - price.deposit),
        "material_cost": show(price.material_cost),
        "contribution": show(price.contribution),
        "per_hour": (!price.hours.is_zero()).then(|| show(price.contribution / price.hours)),
        "hours": hours(price.hours * rust_decimal::Decimal::from(60)),
        "spread": spread(&plan.job.rates),
    })
}

/// How far hours may be off: from records, if there are any.
fn spread(rates: &Rates) -> String {
    let percent = rates.spread_percent.normalize();
    match rates.spread_jobs {
        0 => format!("Allow ± {percent} %: no records yet"),
        1 => format!("In one job real hours were within ± {percent} %"),
        n => format!("In {n} jobs real hours were within ± {percent} %"),
    }
}

fn choices(plan: &Plan) -> Vec<Value> {
    plan.choices
        .iter()
        .map(|(choice, other)| {
            let difference = other.price.whole().zip(plan.price.whole()).map(|(a, b)| a - b);
            let signed = |difference: rust_decimal::Decimal| {
                let sign = if difference.is_sign_negative() { "" } else { "+" };
                format!("{sign}{}", grouped(&money::show(difference)))
            };
            let swap: Vec<String> = choice.swap.iter().map(|(from, to)| format!("{to} instead of {from}")).collect();
            let buys: Vec<String> = other
                .lays
                .cloths
                .iter()
                .filter(|lay| lay.purchase > Length::ZERO)
                .map(|lay| {
                    let cloth = &other.job.cloths[lay.cloth];
                    format!("{} {}", cloth.name, lay.purchase.show(cloth.unit))
                })
                .collect();
            json!({
                "name": choice.name, "swap": swap.join("; "), "total": other.price.whole().map_or_else(|| words::of(&plan.job).word(NO_RATE), |total| amount(plan, total)),
                "difference": difference.map_or("—".to_string(), signed),
                "deposit": other.price.first().map_or(String::new(), |deposit| amount(plan, deposit)), "buys": buys.join("; "),
            })
        })
        .collect()
}

/// That a cloth is to come from one lot, and in which lengths.
fn lot(plan: &Plan, line: &take_off::Line) -> Option<String> {
    let Source::Cloth(cloth) = line.source else { return None };
    let unit = plan.job.cloths[cloth].unit;
    let lay = plan.lays.cloths.iter().find(|lay| lay.cloth == cloth)?;
    let lengths = lay.lengths();
    Some(match lengths.len() {
        0 | 1 => "one lot, one length".into(),
        n => {
            let each: Vec<String> = lengths.iter().map(|length| length.show(unit)).collect();
            format!("one lot, {n} lengths: {}", each.join(", "))
        }
    })
}

/// Lines by supplier, in the order suppliers first occur.
fn shopping(plan: &Plan) -> Vec<Value> {
    let voice = words::of(&plan.job);
    let mut suppliers: Vec<&Message> = Vec::new();
    for line in &plan.take_off.lines {
        if !suppliers.contains(&&line.supplier) {
            suppliers.push(&line.supplier);
        }
    }
    suppliers
        .into_iter()
        .map(|supplier| {
            let lines: Vec<Value> = plan
                .take_off
                .lines
                .iter()
                .filter(|l| l.supplier == *supplier)
                .map(|l| {
                    json!({
                        "item": voice.say(&l.item), "quantity": l.quantity.normalize().to_string(),
                        "unit": voice.say(&l.unit), "why": voice.say(&l.why),
                        "lot": lot(plan, l),
                    })
                })
                .collect();
            let from = match supplier.is_empty() {
                true => "from stock or any supplier".to_string(),
                false => voice.say(supplier),
            };
            json!({ "supplier": from, "lines": lines })
        })
        .collect()
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
                    let (one_in, drawing) = sheet_drawing::draw(style, lay, sheet, 128.0, 84.0);
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
                        "size": format!("{} {}", laid.part.printed(style), style.unit.sign()),
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

fn part_list(plan: &Plan) -> Vec<Value> {
    let voice = words::of(&plan.job);
    let style = &plan.job.style;
    laid_parts(plan)
        .map(|(lay, laid)| {
            json!({
                "id": laid.part.id, "name": part_name(&voice, &laid.part), "count": laid.part.count,
                "piece": plan.developed[laid.developed].label,
                "size": format!("{} {}", laid.part.printed(style), style.unit.sign()),
                "cloth": plan.job.cloths[lay.cloth].name, "outline": voice.say(&laid.part.outline_told(style)),
                "workings": laid.part.workings.iter().map(|w| json!([voice.say(&w.what), voice.working(w)])).collect::<Vec<_>>(),
            })
        })
        .collect()
}

fn tags(plan: &Plan) -> Vec<Value> {
    laid_parts(plan)
        .flat_map(|(lay, laid)| {
            let piece = &plan.job.pieces[plan.developed[laid.developed].piece];
            let cloth = &plan.job.cloths[lay.cloth].name;
            (1..=laid.part.count).map(move |n| {
                json!({
                    "id": laid.part.id, "name": words::of(&plan.job).say(&laid.part.name), "hand": laid.part.hand, "n": n, "of": laid.part.count,
                    "piece": plan.developed[laid.developed].label, "place": piece.place, "cloth": cloth,
                })
            })
        })
        // Past this nobody pins tags by hand; the cutting list holds all.
        .take(400)
        .collect()
}

fn fitting(plan: &Plan) -> Vec<Value> {
    let voice = words::of(&plan.job);
    let style = &plan.job.style;
    plan.developed
        .iter()
        .zip(&plan.take_off.weights)
        .map(|(made, weight)| {
            let piece = &plan.job.pieces[made.piece];
            let how = match &piece.fixing {
                None => "—".into(),
                Some(Fixing::Screws { count, through_face, .. }) => format!(
                    "{count} screws {}, {}",
                    take_off::screw_size(&plan.job, made).map_or(String::new(), |size| voice.say(&size)),
                    if *through_face { "through the face, capped" } else { "from behind" }
                ),
                Some(Fixing::Clips(count)) => format!("{count} clips"),
                Some(Fixing::Cleat) => "cleat".into(),
                Some(Fixing::Loose) => "laid in".into(),
            };
            json!({
                "label": made.label, "count": made.count, "place": piece.place, "how": how,
                "size": format!("{} × {}", style.chalk_number(made.finished.0), style.chalk(made.finished.1)),
                "weight": weight.piece.map_or("not known".to_string(), |kg| heavy(plan, kg)),
                "each": weight.each.map_or(String::new(), |kg| heavy(plan, kg)),
                "screws": screws(plan, made),
                "holes": made.cut_outs.iter().map(|c| c.what.clone()).collect::<Vec<_>>().join(", "),
            })
        })
        .collect()
}

/// A line for every screw hole: where it is, if that was measured, and what goes back into it.
fn screws(plan: &Plan, made: &Developed) -> Vec<Value> {
    let style = &plan.job.style;
    let Some(Fixing::Screws { count, through_face, holes, .. }) =
        &plan.job.pieces[made.piece].fixing
    else {
        return Vec::new();
    };
    let cap = if *through_face { ", with its cap" } else { ", from behind" };
    let size = take_off::screw_size(&plan.job, made);
    let screw = size.map_or(String::new(), |size| words::of(&plan.job).say(&size)) + cap;
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

/// Past this a piece's screws are one line.
const MOST_SCREWS: usize = 60;

/// A weight as the job's trade writes it. Source: 1 lb = 0.453 592 37 kg, NIST SP 811.
fn heavy(plan: &Plan, kg: f64) -> String {
    if plan.job.style.unit.is_binary() {
        format!("{:.1} lb", kg / 0.453_592_37)
    } else {
        format!("{kg:.1} kg")
    }
}

fn labour(plan: &Plan) -> Vec<Value> {
    plan.labour
        .iter()
        .map(|t| json!({ "piece": t.piece, "step": words::of(&plan.job).say(&t.step), "time": hours(t.minutes), "whole": t.developed.is_none(), "night": t.night }))
        .collect()
}

/// Minutes as `3 h 20`.
pub(crate) fn hours(minutes: rust_decimal::Decimal) -> String {
    use rust_decimal::prelude::ToPrimitive;
    let whole = minutes.round().to_i64().unwrap_or(0);
    if whole < 60 { format!("{whole} min") } else { format!("{} h {:02}", whole / 60, whole % 60) }
}

/// What papers are usually asked for in a kind of place: prompts only, never a claim.
///
/// Source: the rules themselves are named so that they can be looked up; which apply is for the
/// local authority and the customer to say.
fn evidence(place: &str) -> Vec<&'static str> {
    let place = place.to_lowercase();
    let any = |words: &[&str]| words.iter().any(|w| place.contains(w));
    let mut prompts = vec!["Cloth: fibre, cleaning code, supplier's test certificate"];
    if any(&[
        "restaurant",
        "café",
        "cafe",
        "office",
        "hotel",
        "bar",
        "contract",
        "school",
        "waiting",
    ]) {
        prompts.push("Public seating: ignition test of cloth with filling as the local code asks");
        prompts.push("Abrasion grade of the cloth for public use (the maker's figure)");
    }
    if any(&["wall", "office"]) {
        prompts.push("Wall panels: surface-flame class of cloth and core");
    }
    if any(&["boat", "ship", "vessel", "yacht"]) {
        prompts.push("Passenger vessels: marine fire-test certificate of the seating");
    }
    if any(&["vehicle", "car", "bus", "van", "coach"]) {
        prompts
            .push("Road vehicles: interior burn rate of every layer; seat air-bag seams untouched");
    }
    if any(&["home", "domestic", "house", "flat"]) {
        prompts.push(
            "Domestic furniture: match and cigarette tests or labels where the law asks for them",
        );
    }
    prompts.push("Foam: density, firmness, fire certificate, date");
    prompts
}
