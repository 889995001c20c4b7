//! What must be bought and what must be in the building.

use super::laid_parts;
use geometry::Length;
use serde_json::{Value, json};
use trade::message::{Message, message};
use trade::plan::Plan;
use trade::take_off::{Line, Source};

/// So many lines stand on the front sheet; the rest on the orders.
const MOST_ON_FRONT: usize = 9;

/// That a cloth is to come from one lot, and in which lengths.
fn lot(plan: &Plan, line: &Line) -> Option<Message> {
    let Source::Cloth(cloth) = line.source else { return None };
    let unit = plan.job.cloths[cloth].unit;
    let lay = plan.lays.cloths.iter().find(|lay| lay.cloth == cloth)?;
    let lengths = lay.lengths();
    Some(match lengths.len() {
        0 | 1 => message("one-lot-one-length"),
        n => {
            let each: Vec<String> = lengths.iter().map(|length| length.show(unit)).collect();
            message("one-lot-lengths").count("count", n).text("list", each.join(", "))
        }
    })
}

/// How much of a line is bought: cloth as it is told everywhere else.
fn quantity(plan: &Plan, line: &Line) -> String {
    if let Source::Cloth(cloth) = line.source {
        let lay = plan.lays.cloths.iter().find(|lay| lay.cloth == cloth);
        if let Some(lay) = lay {
            return lay.purchase.show(plan.job.cloths[cloth].unit);
        }
    }
    let unit = words::of(&plan.job).say(&line.unit);
    format!("{} {unit}", line.quantity.normalize())
}

/// A sheet for each supplier, those without one last.
pub fn orders(plan: &Plan) -> Vec<Value> {
    let voice = words::of(&plan.job);
    let mut suppliers: Vec<&Message> = Vec::new();
    for line in &plan.take_off.lines {
        if !suppliers.contains(&&line.supplier) {
            suppliers.push(&line.supplier);
        }
    }
    suppliers.sort_by_key(|supplier| supplier.is_empty());
    let order = |(i, supplier): (usize, &Message)| {
        let of = || plan.take_off.lines.iter().filter(|l| l.supplier == *supplier);
        let lines: Vec<Value> = of()
            .map(|l| {
                json!({
                    "item": voice.say(&l.item), "quantity": quantity(plan, l), "why": voice.say(&l.why),
                    "is_cloth": matches!(l.source, Source::Cloth(_)),
                    "lot": lot(plan, l).map_or(String::new(), |lot| voice.say(&lot)),
                })
            })
            .collect();
        let name = match supplier.is_empty() {
            true => voice.word("supplier-any"),
            false => voice.say(supplier),
        };
        let number = plan.job.number.as_str();
        let number =
            if number.is_empty() { (i + 1).to_string() } else { format!("{number}/{}", i + 1) };
        let has_cloth = of().any(|l| matches!(l.source, Source::Cloth(_)));
        json!({ "supplier": name, "number": number, "lines": lines, "has_cloth": has_cloth })
    };
    suppliers.into_iter().enumerate().map(order).collect()
}

/// What must be in the building before work begins, cloth first; and how many lines more there are.
pub fn building(plan: &Plan) -> (Vec<Value>, usize) {
    let voice = words::of(&plan.job);
    let line = |item: String, quantity: String, is_cloth: bool| json!({ "item": item, "quantity": quantity, "is_cloth": is_cloth });
    let mut lines: Vec<Value> = Vec::new();
    for lay in &plan.lays.cloths {
        let cloth = &plan.job.cloths[lay.cloth];
        if lay.purchase > Length::ZERO {
            lines.push(line(cloth.name.clone(), lay.purchase.show(cloth.unit), true));
        }
        for strip in &lay.answer.lay.strips {
            if let lay::Stock::OnHand(i) = strip.stock {
                let hand = &lay.instance.on_hand[i];
                let text = message("on-hand-piece").text("cloth", &cloth.name);
                let name = voice.say(&text.text("name", &hand.name));
                lines.push(line(name, hand.length.show(cloth.unit), false));
            }
        }
    }
    let rest = plan.take_off.lines.iter().filter(|l| !matches!(l.source, Source::Cloth(_)));
    lines.extend(rest.map(|l| line(voice.say(&l.item), quantity(plan, l), false)));
    let more = lines.len().saturating_sub(MOST_ON_FRONT);
    lines.truncate(MOST_ON_FRONT);
    (lines, more)
}

/// What the care sheet names: cloths, foams and boards that something is cut from.
pub fn materials(plan: &Plan) -> Vec<Value> {
    let job = &plan.job;
    let cloths = plan.lays.cloths.iter().map(|lay| {
        let cloth = &job.cloths[lay.cloth];
        json!({ "name": cloth.name, "supplier": cloth.supplier, "kind": "cloth" })
    });
    let sheets = plan.lays.sheets.iter().map(|lay| {
        let goods = job.goods(lay.stuff, lay.material);
        json!({ "name": goods.name, "supplier": goods.supplier, "kind": "sheet" })
    });
    cloths.chain(sheets).collect()
}

/// Every cloth part with how its size came about.
pub fn part_list(plan: &Plan) -> Vec<Value> {
    let voice = words::of(&plan.job);
    let style = &plan.job.style;
    laid_parts(plan)
        .map(|(lay, laid)| {
            let each = |w: &trade::working::Working| json!([voice.say(&w.what), voice.working(w)]);
            json!({
                "id": laid.part.id, "name": super::part_name(&voice, &laid.part), "count": laid.part.count,
                "piece": plan.developed[laid.developed].label,
                "size": format!("{} {}", laid.part.printed(style), style.unit.sign()),
                "cloth": plan.job.cloths[lay.cloth].name, "outline": voice.say(&laid.part.outline_told(style)),
                "workings": laid.part.workings.iter().map(each).collect::<Vec<_>>(),
            })
        })
        .collect()
}
