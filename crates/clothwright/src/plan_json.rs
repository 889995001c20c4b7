//! The plan file, format `clothwright-plan/1`: its own types, so that the core may change freely.
//!
//! Lengths in millimetres, money as decimal strings, cloth face up, x from the left selvedge, y along
//! the roll from the cut end. A placement turns the part counter-clockwise about its own origin, then
//! moves it. `schema/plan.schema.json` describes it.

use crate::job_file::{self, Placed};
use geometry::{Length, Polygon, Spot};
use lay::{Rule, Stock, Strip};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use serde::Serialize;
use trade::hints::Hint;
use trade::lays::{ClothLay, SheetLay};
use trade::money;
use trade::part::{Part, Stuff};
use trade::plan::Plan;
use trade::price::Price;
use trade::remnants;

type Pair = [f64; 2];

#[derive(Serialize)]
struct File {
    format: &'static str,
    job: JobHeader,
    seed: u64,
    parts: Vec<PartEntry>,
    lays: Vec<LayEntry>,
    take_off: Vec<TakeOffEntry>,
    labour: Vec<LabourEntry>,
    price: PriceEntry,
    options: Vec<OptionEntry>,
    near_misses: Vec<NearMiss>,
    warnings: Vec<Warning>,
}

#[derive(Serialize)]
struct JobHeader {
    name: String,
    unit: &'static str,
    number: String,
    date: String,
}

#[derive(Serialize)]
struct PartEntry {
    id: String,
    piece: String,
    name: String,
    material: String,
    kind: &'static str,
    hand: Option<&'static str>,
    count: usize,
    outline_mm: Vec<Pair>,
    holes_mm: Vec<Vec<Pair>>,
    turns_deg: Vec<f64>,
    rule: &'static str,
    anchor_mm: Option<Pair>,
    group: Option<usize>,
    workings: Vec<String>,
}

#[derive(Serialize)]
struct Quantity {
    quantity: f64,
    unit: &'static str,
}

#[derive(Serialize)]
struct Repeat {
    length_mm: Option<f64>,
    width_mm: Option<f64>,
    drop: &'static str,
    origin_mm: Pair,
}

#[derive(Serialize)]
struct LayEntry {
    material: String,
    kind: &'static str,
    stock: String,
    width_mm: f64,
    usable_mm: Pair,
    length_mm: f64,
    stock_length_mm: Option<f64>,
    least_possible_mm: f64,
    buy: Quantity,
    least_buy: Quantity,
    proven: bool,
    density: f64,
    forgives_mm: f64,
    flaws_mm: Vec<[f64; 4]>,
    repeat: Option<Repeat>,
    placements: Vec<PlacementEntry>,
    kept: Vec<KeptEntry>,
    straight_cuts: usize,
}

/// A rectangle left and worth keeping.
#[derive(Serialize)]
struct KeptEntry {
    id: String,
    x_mm: f64,
    y_mm: f64,
    width_mm: f64,
    length_mm: f64,
}

#[derive(Serialize)]
struct PlacementEntry {
    part: String,
    copy: usize,
    x_mm: f64,
    y_mm: f64,
    turn_deg: f64,
    outline_mm: Vec<Pair>,
}

#[derive(Serialize)]
struct TakeOffEntry {
    item: String,
    quantity: f64,
    unit: String,
    why: String,
    supplier: String,
    cost: String,
}

#[derive(Serialize)]
struct LabourEntry {
    piece: String,
    step: String,
    minutes: f64,
    class: &'static str,
}

#[derive(Serialize)]
struct PriceEntry {
    currency: String,
    lines: Vec<PriceLine>,
    net: String,
    tax: String,
    total: Option<String>,
    deposit: Option<String>,
}

#[derive(Serialize)]
struct PriceLine {
    group: String,
    class: &'static str,
    what: String,
    why: String,
    cost: Option<String>,
    amount: String,
}

#[derive(Serialize)]
struct OptionEntry {
    name: String,
    price: PriceEntry,
}

#[derive(Serialize)]
struct NearMiss {
    what: String,
    cloths: Vec<NearMissCloth>,
    sheets: Vec<NearMissSheets>,
    /// Customer's own cloths that are enough then.
    enough: Vec<String>,
    saves: String,
    gives_up: String,
}

#[derive(Serialize)]
struct NearMissCloth {
    material: String,
    buy_mm: f64,
    instead_of_mm: f64,
}

#[derive(Serialize)]
struct NearMissSheets {
    material: String,
    sheets: usize,
    instead_of: usize,
}

#[derive(Serialize)]
struct Warning {
    code: &'static str,
    #[serde(rename = "where")]
    place: String,
    message: String,
    remedy: String,
}

/// The plan file's text.
pub fn write(plan: &Plan, hints: &[Hint]) -> String {
    let mut parts = Vec::new();
    let mut lays = Vec::new();
    for lay in &plan.lays.cloths {
        parts.extend(lay.parts.iter().zip(&lay.instance.items).map(|(laid, item)| {
            let mut entry = part_entry(plan, laid.developed, &laid.part);
            entry.turns_deg.clone_from(&item.turns);
            let pair = |spot: Spot| [mm(spot.x), mm(spot.y)];
            (entry.rule, entry.anchor_mm, entry.group) = match item.rule {
                Rule::Free => ("free", None, None),
                Rule::Centred(anchor) => ("centred", Some(pair(anchor)), None),
                Rule::Matched { group, anchor } => ("matched", Some(pair(anchor)), Some(group)),
            };
            entry
        }));
        lays.extend(lay.answer.lay.strips.iter().map(|strip| cloth_entry(plan, lay, strip)));
    }
    for lay in &plan.lays.sheets {
        parts.extend(lay.parts.iter().zip(&lay.swapped).map(|(laid, &swapped)| {
            let mut entry = part_entry(plan, laid.developed, &laid.part);
            entry.turns_deg = match (lay_grain(plan, lay), swapped) {
                // With the grain, whichever of its sides is the longer.
                (true, false) => vec![0.0],
                (true, true) => vec![90.0],
                (false, _) => vec![0.0, 90.0],
            };
            entry
        }));
        lays.extend(sheet_entries(plan, lay));
    }
    let voice = words::of(&plan.job);
    let file = File {
        format: "clothwright-plan/1",
        job: JobHeader {
            name: plan.job.name.clone(),
            unit: plan.job.style.unit.sign(),
            number: plan.job.number.clone(),
            date: plan.job.date.clone(),
        },
        seed: plan.seed,
        parts,
        lays,
        take_off: plan
            .take_off
            .lines
            .iter()
            .map(|l| TakeOffEntry {
                item: voice.say(&l.item),
                quantity: number(l.quantity),
                unit: voice.say(&l.unit),
                why: voice.say(&l.why),
                supplier: voice.say(&l.supplier),
                cost: money::show(l.cost),
            })
            .collect(),
        labour: plan
            .labour
            .iter()
            .map(|t| LabourEntry {
                piece: t.piece.clone(),
                step: voice.say(&t.step),
                minutes: number(t.minutes),
                class: t.class.name(),
            })
            .collect(),
        price: price_entry(plan, &plan.price),
        options: plan
            .choices
            .iter()
            .map(|(choice, other)| OptionEntry {
                name: choice.name.clone(),
                price: price_entry(other, &other.price),
            })
            .collect(),
        near_misses: hints
            .iter()
            .map(|h| NearMiss {
                what: voice.say(&h.what),
                cloths: h
                    .cloths
                    .iter()
                    .map(|(name, before, after)| NearMissCloth {
                        material: name.clone(),
                        buy_mm: after.mm(),
                        instead_of_mm: before.mm(),
                    })
                    .collect(),
                sheets: h
                    .sheets
                    .iter()
                    .map(|(name, before, after)| NearMissSheets {
                        material: name.clone(),
                        sheets: *after,
                        instead_of: *before,
                    })
                    .collect(),
                enough: h.enough.clone(),
                saves: money::show(h.saves),
                gives_up: voice.say(&h.gives_up),
            })
            .collect(),
        warnings: plan
            .warnings()
            .into_iter()
            .map(|w| Warning {
                code: w.code,
                place: w.about.clone(),
                message: voice.say(&w.what),
                remedy: voice.say(&w.remedy),
            })
            .collect(),
    };
    let mut text = serde_json::to_string_pretty(&file).unwrap_or_default();
    text.push('\n');
    text
}

/// Faults of a job file as one JSON list.
pub fn faults(name: &str, text: &str, faults: &[Placed]) -> String {
    let list: Vec<serde_json::Value> = faults
        .iter()
        .map(|p| {
            serde_json::json!({
                "file": name,
                "line": job_file::line(text, p.span.start),
                "code": p.fault.code,
                "about": p.fault.about,
                "what": p.what(),
                "remedy": p.remedy(),
            })
        })
        .collect();
    serde_json::to_string_pretty(&list).unwrap_or_default()
}

const fn mm(nm: i64) -> f64 {
    nm as f64 / 1e6
}

fn number(amount: Decimal) -> f64 {
    amount.to_f64().unwrap_or_default()
}

fn pairs(polygon: &Polygon) -> Vec<Pair> {
    polygon.points().iter().map(|p| [mm(p.x), mm(p.y)]).collect()
}

fn part_entry(plan: &Plan, developed: usize, part: &Part) -> PartEntry {
    PartEntry {
        id: part.id.clone(),
        piece: plan.developed[developed].label.clone(),
        name: words::of(&plan.job).say(&part.name),
        material: part.material.clone(),
        kind: match part.stuff {
            Stuff::Cloth => "cloth",
            Stuff::Foam => "foam",
            Stuff::Board => "board",
        },
        hand: part.hand,
        count: part.count,
        outline_mm: pairs(&part.outline.outer.flatten()),
        holes_mm: part.outline.holes.iter().map(|hole| pairs(&hole.flatten())).collect(),
        turns_deg: vec![0.0],
        rule: "free",
        anchor_mm: None,
        group: None,
        workings: part
            .workings
            .iter()
            .map(|w| {
                let voice = words::of(&plan.job);
                format!("{}: {}", voice.say(&w.what), voice.working(w))
            })
            .collect(),
    }
}

fn cloth_entry(plan: &Plan, lay: &ClothLay, strip: &Strip) -> LayEntry {
    let cloth = &plan.job.cloths[lay.cloth];
    let (left, right) = lay.instance.usable(strip.stock);
    let quantity =
        |length: Length| Quantity { quantity: length.in_unit(cloth.unit), unit: cloth.unit.sign() };
    let area: f64 =
        strip.placements.iter().map(|p| lay.instance.items[p.item].shape.area_mm2()).sum();
    let new = matches!(strip.stock, Stock::New(_));
    let (stock, width, stock_length) = match strip.stock {
        Stock::New(_) => ("new".to_string(), cloth.width, None),
        Stock::OnHand(i) => {
            let remnant = &cloth.on_hand[i];
            (
                format!("remnant:{}", remnant.id),
                remnant.width.unwrap_or(cloth.width),
                Some(remnant.length.mm()),
            )
        }
    };
    let flaws = lay.instance.flaws(strip.stock).iter();
    let flaws = flaws.map(|f| [mm(f.low.x), mm(f.low.y), mm(f.high.x), mm(f.high.y)]).collect();
    let motif = lay.instance.motif(strip.stock);
    let least = lay.least_of(strip);
    LayEntry {
        material: cloth.name.clone(),
        kind: "cloth",
        stock,
        width_mm: width.mm(),
        usable_mm: [left.mm(), right.mm()],
        length_mm: strip.length.mm(),
        stock_length_mm: stock_length,
        least_possible_mm: least.mm(),
        buy: quantity(if new { lay.instance.buying.purchase(strip.length) } else { Length::ZERO }),
        least_buy: quantity(lay.instance.buying.purchase(least)),
        proven: !new || lay.answer.proven,
        density: area / (strip.length.mm() * (right - left).mm()),
        forgives_mm: lay.forgives.mm(),
        flaws_mm: flaws,
        repeat: cloth.pattern.as_ref().map(|p| Repeat {
            length_mm: p.length.map(Length::mm),
            width_mm: p.width.map(Length::mm),
            drop: if p.staggered() { "half" } else { "straight" },
            origin_mm: [mm(motif.x), mm(motif.y)],
        }),
        placements: strip
            .placements
            .iter()
            .map(|p| PlacementEntry {
                part: lay.parts[p.item].part.id.clone(),
                copy: p.copy,
                x_mm: mm(p.at.x),
                y_mm: mm(p.at.y),
                turn_deg: p.turn,
                outline_mm: pairs(&lay.instance.items[p.item].shape.turned(p.turn).moved(p.at)),
            })
            .collect(),
        kept: remnants::kept(lay)
            .into_iter()
            .filter(|k| lay.answer.lay.strips[k.strip].stock == strip.stock)
            .map(|k| KeptEntry {
                id: k.id,
                x_mm: mm(k.place.low.x),
                y_mm: mm(k.place.low.y),
                width_mm: k.place.width().mm(),
                length_mm: k.place.height().mm(),
            })
            .collect(),
        straight_cuts: lay::cuts(&lay.instance, strip).lines,
    }
}

fn lay_grain(plan: &Plan, lay: &SheetLay) -> bool {
    lay.stuff == Stuff::Board && plan.job.boards[lay.material].grain
}

fn sheet_entries(plan: &Plan, lay: &SheetLay) -> Vec<LayEntry> {
    let (goods, kind) = match lay.stuff {
        Stuff::Foam => (&plan.job.foams[lay.material], "foam"),
        _ => (&plan.job.boards[lay.material], "board"),
    };
    lay.cutting
        .sheets
        .iter()
        .map(|sheet| {
            let size = &lay.sheets[sheet.sheet];
            let offcut = size.on_hand.is_some();
            let placements: Vec<PlacementEntry> = sheet
                .cuts
                .iter()
                .map(|cut| {
                    let part = &lay.parts[cut.part].part;
                    let turn = if lay.swapped[cut.part] == cut.turned { 0.0 } else { 90.0 };
                    let turned = part.outline.outer.flatten().turned(turn);
                    let low = turned.bounds().low;
                    let at = Spot::new(cut.x.nm() - low.x, cut.y.nm() - low.y);
                    PlacementEntry {
                        part: part.id.clone(),
                        copy: cut.copy,
                        x_mm: mm(at.x),
                        y_mm: mm(at.y),
                        turn_deg: turn,
                        outline_mm: pairs(&turned.moved(at)),
                    }
                })
                .collect();
            let area: f64 =
                sheet.cuts.iter().map(|c| lay.parts[c.part].part.outline.outer.area()).sum();
            let one = |n: f64| Quantity { quantity: n, unit: "sheet" };
            LayEntry {
                material: goods.name.clone(),
                kind,
                stock: if offcut { "remnant:offcut".into() } else { "new".into() },
                width_mm: size.width.mm(),
                usable_mm: [0.0, size.width.mm()],
                length_mm: size.height.mm(),
                stock_length_mm: Some(size.height.mm()),
                least_possible_mm: 0.0,
                buy: one(if offcut { 0.0 } else { 1.0 }),
                least_buy: one(if offcut || !lay.cutting.proven { 0.0 } else { 1.0 }),
                proven: lay.cutting.proven,
                density: area / (size.width.mm() * size.height.mm()),
                forgives_mm: 0.0,
                flaws_mm: Vec::new(),
                repeat: None,
                placements,
                kept: Vec::new(),
                straight_cuts: 0,
            }
        })
        .collect()
}

fn price_entry(plan: &Plan, price: &Price) -> PriceEntry {
    let voice = words::of(&plan.job);
    PriceEntry {
        currency: plan.job.currency.clone(),
        lines: price
            .lines
            .iter()
            .map(|l| PriceLine {
                group: voice.say(&l.group.name()),
                class: l.class.name(),
                what: voice.say(&l.what),
                why: voice.say(&l.why),
                cost: l.cost.map(money::show),
                amount: money::show(l.amount),
            })
            .collect(),
        net: money::show(price.net),
        tax: money::show(price.tax),
        total: price.whole().map(money::show),
        deposit: price.first().map(money::show),
    }
}
