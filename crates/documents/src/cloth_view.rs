//! A cloth's lay as data for the cutting plan.

use crate::lay_drawing;
use crate::view::{Sheets, part_name};
use geometry::Length;
use lay::{Pattern, Placement, Reason, Stock, Strip};
use serde_json::{Value, json};
use trade::lays::{ClothLay, told};
use trade::material::Direction;
use trade::plan::Plan;
use trade::remnants;
use trade::working::Style;
use words::Voice;

/// Words for the way parts lie.
pub const fn way(direction: Direction) -> &'static str {
    match direction {
        Direction::UpTheRoll => "up the roll",
        Direction::Railroaded => "railroaded",
        Direction::Either => "each part whichever way",
    }
}

pub fn cloth(plan: &Plan, lay: &ClothLay, sheets: &mut Sheets) -> Value {
    let cloth = &plan.job.cloths[lay.cloth];
    let style = &plan.job.style;
    let voice = words::of(&plan.job);
    let strips: Vec<Value> =
        lay.answer.lay.strips.iter().map(|s| strip(plan, lay, s, sheets)).collect();
    let compared: Vec<Value> = lay
        .compared
        .iter()
        .map(|c| {
            json!([
                way(c.direction),
                c.length.map_or("does not fit".to_string(), |l| style.chalk(l)),
                c.length.map_or(String::new(), |_| c.purchase.show(cloth.unit)),
            ])
        })
        .collect();
    let pattern = cloth.pattern.as_ref().map(|p| repeat(p, style));
    json!({
        "name": cloth.name, "width": style.show(cloth.width),
        "pattern": pattern, "one_way": cloth.one_way, "direction": way(lay.direction),
        "used": style.cut(lay.answer.lay.new_length()), "buy": lay.purchase.show(cloth.unit),
        "buys": lay.purchase > Length::ZERO,
        "least": style.chalk(lay.answer.bound.length), "proven": lay.answer.proven,
        "least_buy": lay.least_purchase.show(cloth.unit),
        "why": reason(lay, &lay.answer.bound.reason, &voice),
        "forgives": style.show(lay.forgives.round_down(style.mark)),
        "forgives_nothing": lay.forgives.round_down(style.mark) == Length::ZERO,
        "compared": compared,
        "claim": voice.say(&told::claim(&plan.job, lay)),
        "own": told::own_cloth_says(&plan.job, lay).map(|own| voice.say(&own)),
        "strips": strips,
    })
}

/// A pattern's repeats in words.
pub fn repeat(pattern: &Pattern, style: &Style) -> String {
    let repeat = |l: Option<Length>| l.map_or("none".to_string(), |l| style.show(l));
    let drop = if pattern.drop == lay::Drop::Half { ", half-drop" } else { "" };
    format!("repeat {} along, {} across{drop}", repeat(pattern.length), repeat(pattern.width))
}

/// Why no lay can be shorter, in words.
pub fn reason(lay: &ClothLay, reason: &Reason, voice: &Voice) -> String {
    let style = voice.style();
    let name = |item: usize| {
        let part = &lay.parts[item].part;
        format!("{} {}", part.id, voice.say(&part.name))
    };
    let names = |items: &[usize]| {
        let mut list: Vec<String> = items.iter().take(4).map(|&i| name(i)).collect();
        if items.len() > 4 {
            list.push(format!("{} more", items.len() - 4));
        }
        list.join(", ")
    };
    match reason {
        Reason::Area => "all parts together cover as much".into(),
        Reason::Longest { item } => format!("{} alone is as long", name(*item)),
        Reason::Widths => "wide parts leave too little beside them".into(),
        Reason::Follow { items } => {
            format!("{} follow one another, however closely they nest", names(items))
        }
        Reason::Beside { items } => {
            format!("{} end no lower, however they lie beside one another", names(items))
        }
        Reason::Columns => "not even cut into strips would they fit in less".into(),
        Reason::Otherwise => "laid another way, less may do".into(),
        Reason::Tried => "every shorter lay has been tried".into(),
        Reason::Kept => "what is pinned in place ends there".into(),
        Reason::OnHand => "what is on hand may hold everything".into(),
        Reason::Abreast { alone, beside, abreast, repeats } => {
            let mut text = Vec::new();
            if !alone.is_empty() {
                let sum = too_wide(lay, alone, beside).map(|(a, b, usable)| {
                    let number = |length| style.number(length);
                    format!(": {} + {} > {}", number(a), number(b), number(usable))
                });
                let sum = sum.unwrap_or_default();
                text.push(format!("nothing else of these fits beside {}{sum}", names(alone)));
            }
            if !beside.is_empty() {
                text.push(format!("{} lie at most {abreast} abreast", names(beside)));
            }
            if *repeats {
                text.push("each starts on a whole repeat".into());
            }
            text.join("; ")
        }
    }
}

/// The widths of the narrowest part that lies alone and of the narrowest other, and the usable width they
/// exceed; `None` if it takes more than their widths to see that they do not lie side by side.
fn too_wide(lay: &ClothLay, alone: &[usize], beside: &[usize]) -> Option<(Length, Length, Length)> {
    let across = |item: usize| {
        let item = &lay.instance.items[item];
        item.turns.iter().map(|&turn| item.shape.turned(turn).bounds().width()).min()
    };
    let first = alone.iter().copied().min_by_key(|&item| across(item))?;
    let again = lay.instance.items[first].count > 1;
    let others = alone.iter().chain(beside).copied().filter(|&item| again || item != first);
    let (a, b) = (across(first)?, others.filter_map(across).min()?);
    let usable = lay.instance.buying.right - lay.instance.buying.left;
    (a + b > usable).then_some((a, b, usable))
}

fn strip(plan: &Plan, lay: &ClothLay, strip: &Strip, sheets: &mut Sheets) -> Value {
    let style = &plan.job.style;
    let (one_in, drawings) = lay_drawing::rows(plan, lay, strip);
    let rows: Vec<Value> = drawings.iter().map(|d| sheets.add(d)).collect();
    let face_down = plan.job.cloths[lay.cloth].chalk_back;
    let width = lay_drawing::cloth_width(plan, lay, strip).nm();
    let dash =
        |(near, far): (Length, Length)| format!("{} – {}", style.number(near), style.number(far));
    let cuts: Vec<Value> = cut_rows(plan, lay, strip)
        .into_iter()
        .enumerate()
        .map(|(i, row)| {
            let laid = &lay.parts[row.item];
            json!({
                "order": i + 1, "id": laid.part.id, "name": part_name(&words::of(&plan.job), &laid.part),
                "piece": plan.developed[laid.developed].label,
                "from_end": dash(row.from_end), "from_left": dash(row.from_side),
                "size": laid.part.printed(style), "top": top_of(row.turn),
                "outline": words::of(&plan.job).say(&laid.part.outline_told(style)),
            })
        })
        .collect();
    let flaws = lay.instance.flaws(strip.stock).len();
    let title = match strip.stock {
        Stock::New(0) => "new cloth".to_string(),
        Stock::New(i) => format!("new cloth, length {}", i + 1),
        Stock::OnHand(i) => {
            let hand = &lay.instance.on_hand[i];
            format!("{} ({})", hand.name, style.show(hand.length))
        }
    };
    let length = |l: Length| style.number(style.place(l));
    let remnants = remnants::kept(lay);
    let here = || remnants.iter().filter(|k| lay.answer.lay.strips[k.strip].stock == strip.stock);
    // A cut right across must not go through what is to be kept.
    let through = |y: i64| here().any(|k| k.place.low.y < y && y < k.place.high.y);
    let across: Vec<String> = lay::cross_cuts(&lay.instance, strip)
        .into_iter()
        .filter(|y| !through(y.nm()))
        .map(length)
        .collect();
    let kept: Vec<String> = here()
        .map(|k| {
            let at = |nm: i64| length(Length::from_nm(nm));
            let (edge, a, b) = if face_down {
                ("right", width - k.place.high.x, width - k.place.low.x)
            } else {
                ("left", k.place.low.x, k.place.high.x)
            };
            format!(
                "{} {} × {} (from cut end {} to {}, from {edge} selvedge {} to {})",
                k.id,
                length(k.place.width()),
                length(k.place.height()),
                at(k.place.low.y),
                at(k.place.high.y),
                at(a),
                at(b)
            )
        })
        .collect();
    let lines = lay::cuts(&lay.instance, strip).lines;
    let pinned: Vec<&str> = strip
        .placements
        .iter()
        .filter(|p| lay.instance.pinned(strip.stock, p))
        .map(|p| lay.parts[p.item].part.id.as_str())
        .collect();
    let (left, right) = lay.instance.usable(strip.stock);
    json!({ "usable": style.show(right - left), "face_down": face_down, "across": across, "lines": lines, "kept": kept, "pinned": pinned.join(", "), "title": title, "flaws": flaws, "scale": scale(one_in), "rows": rows, "cuts": cuts, "used": style.chalk(strip.length) })
}

/// One cut as the order of cuts prints it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutRow {
    /// Index of the part in its lay.
    pub item: usize,
    /// Degrees it is turned on the roll.
    pub turn: f64,
    /// Near and far mark from the cut end.
    pub from_end: (Length, Length),
    /// Near and far mark from the selvedge that is counted from.
    pub from_side: (Length, Length),
}

/// The cuts of a length in their order; far mark less near mark is the part's printed size.
pub fn cut_rows(plan: &Plan, lay: &ClothLay, strip: &Strip) -> Vec<CutRow> {
    let style = &plan.job.style;
    let face_down = plan.job.cloths[lay.cloth].chalk_back;
    let width = lay_drawing::cloth_width(plan, lay, strip).nm();
    let stretch =
        |low: i64, high: i64| style.stretch(Length::from_nm(low), Length::from_nm(high - low));
    let row = |p: &Placement| {
        let bounds = lay.instance.items[p.item].shape.turned(p.turn).bounds().moved(p.at);
        let (low, high) = match face_down {
            true => (width - bounds.high.x, width - bounds.low.x),
            false => (bounds.low.x, bounds.high.x),
        };
        CutRow {
            item: p.item,
            turn: p.turn,
            from_end: stretch(bounds.low.y, bounds.high.y),
            from_side: stretch(low, high),
        }
    };
    strip.placements.iter().map(row).collect()
}

/// Where a part's top lies on the roll.
fn top_of(turn: f64) -> &'static str {
    match turn {
        0.0 => "roll end",
        90.0 => "left selvedge",
        180.0 => "cut end",
        270.0 => "right selvedge",
        _ => "slanted",
    }
}

pub fn scale(one_in: f64) -> String {
    if one_in == one_in.trunc() { format!("1 : {one_in:.0}") } else { format!("1 : {one_in}") }
}
